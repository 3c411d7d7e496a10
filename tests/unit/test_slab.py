"""The flat slab inside a board: closed forms, and scipy's linear programmes."""

import itertools
import math
import random

import numpy as np
import pytest
from scipy.optimize import linprog
from thickset.planning.stock import slab
from thickset.planning.stock.gap import Point, widest_gap
from thickset.planning.stock.slab import RoughBoard, best_slab, slab_of, whole_slab
from thickset.trade.limits import OutOfRangeError

THICK = ((30.0,),)


def by_linprog(points):
    """The same gap by an independent solver, in the first form of the programme."""
    rows, limits = [], []
    for p in points:
        rows += [[-p.x, -p.y, -1, 0], [p.x, p.y, 1, 1]]
        limits += [-p.low, p.high]
    answer = linprog([0, 0, 0, -1], A_ub=np.array(rows), b_ub=limits, bounds=[(None, None)] * 4, method="highs")
    assert answer.status == 0
    return -answer.fun


@pytest.mark.parametrize("size", [1, 1e3, 1e5])
def test_the_slab_is_found_whatever_the_size_of_its_figures(size):
    rng = random.Random(7)
    for _ in range(20):
        tops = [(x, y, rng.random()) for x in (-1, -0.5, 0, 0.5, 1) for y in (-1, 0, 1)]
        points = [Point(x, y, size * (high - 2), size * high) for x, y, high in tops]
        assert widest_gap(points).width == pytest.approx(by_linprog(points), rel=1e-6)


def test_a_flat_board_is_its_own_slab():
    assert whole_slab(RoughBoard(1000, 150, THICK)).thickness == pytest.approx(30, abs=1e-12)


@pytest.mark.parametrize("bow", [-12.0, -1.0, 3.0, 25.0])
@pytest.mark.parametrize("part", [2000.0, 1000.0, 700.0, 150.0])
def test_a_bow_costs_the_sagitta_of_its_arc_over_the_part(bow, part):
    board = RoughBoard(2000, 150, THICK, bow=bow)
    radius = (2000**2 / 4 + bow**2) / (2 * abs(bow))
    sagitta = radius - math.sqrt(radius**2 - part**2 / 4)
    middle = slab_of(board, (2000 - part) / 2, 0, part, 150)
    assert middle.thickness == pytest.approx(30 - sagitta, abs=1e-9)
    assert middle.lost == pytest.approx(sagitta, abs=1e-9)
    off_middle = slab_of(board, 0, 0, part, 150)
    assert off_middle.thickness == pytest.approx(30 - sagitta, rel=2e-3)


@pytest.mark.parametrize("cup", [-4.0, 2.5])
@pytest.mark.parametrize("part", [180.0, 90.0, 60.0])
def test_a_cup_costs_the_sagitta_of_its_arc_over_the_part(cup, part):
    board = RoughBoard(900, 180, THICK, cup=cup)
    radius = (180**2 / 4 + cup**2) / (2 * abs(cup))
    sagitta = radius - math.sqrt(radius**2 - part**2 / 4)
    assert slab_of(board, 0, (180 - part) / 2, 900, part).thickness == pytest.approx(30 - sagitta, abs=1e-9)


@pytest.mark.parametrize("twist", [-9.0, 6.0])
@pytest.mark.parametrize(("along", "across"), [(1.0, 1.0), (0.5, 1.0), (0.25, 0.5)])
def test_a_twist_costs_half_its_wind_over_the_part(twist, along, across):
    board = RoughBoard(1600, 200, THICK, twist=twist)
    for x, y in itertools.product((0.0, 0.5, 1.0), repeat=2):
        start = (1600 * (1 - along) * x, 200 * (1 - across) * y)
        got = slab_of(board, *start, 1600 * along, 200 * across).thickness
        assert got == pytest.approx(30 - abs(twist) * along * across / 2, abs=1e-9)


def test_bow_and_cup_the_same_way_add_up():
    board = RoughBoard(1600, 200, THICK, bow=5, cup=2)
    assert whole_slab(board).thickness == pytest.approx(30 - 7, abs=1e-9)


def test_a_wedge_is_as_thick_as_its_thin_end():
    board = RoughBoard(1000, 100, ((30.0,), (24.0,)))
    assert whole_slab(board).thickness == pytest.approx(24, abs=1e-9)


@pytest.mark.parametrize(("twist", "slab"), [(6, 27), (-6, 24)])
def test_what_is_measured_on_the_upper_face_meets_the_thickness_below_it(twist, slab):
    # The corner at end 2, far from the edge that is measured from, is 6 mm thicker. Where the upper face stands 6 mm higher there,
    # the lower face is flat and the board is worth its thin spot; where it lies 6 mm lower, the lower face winds by 12.
    board = RoughBoard(1000, 100, ((27.0, 27.0), (27.0, 33.0)), twist=twist)
    assert whole_slab(board).thickness == pytest.approx(slab, abs=1e-9)


def random_board(rng):
    rows, columns = rng.choice([(1, 1), (2, 1), (3, 1), (3, 3), (5, 2)])
    thick = tuple(tuple(rng.uniform(24, 30) for _ in range(columns)) for _ in range(rows))
    length, width = rng.uniform(300, 3000), rng.uniform(60, 400)
    return RoughBoard(length, width, thick, cup=rng.uniform(-4, 4), bow=rng.uniform(-12, 12), twist=rng.uniform(-9, 9))


@pytest.mark.parametrize("seed", range(25))
def test_a_crooked_board_against_an_independent_solver(seed, monkeypatch):
    rng = random.Random(seed)
    board = random_board(rng)
    seen = []
    monkeypatch.setattr(slab, "widest_gap", lambda points: seen.append(points) or widest_gap(points))
    part = board.length * rng.uniform(0.2, 1), board.width * rng.uniform(0.3, 1)
    got = slab_of(board, (board.length - part[0]) * rng.random(), (board.width - part[1]) * rng.random(), *part)
    assert got.thickness == pytest.approx(by_linprog(seen[0]), abs=1e-7)


@pytest.mark.parametrize("seed", range(40))
def test_any_points_against_an_independent_solver(seed):
    rng = random.Random(seed)
    steps = rng.choice([1, 2, 8])  # coarse heights stand at equal heights often, which is where a solver may cycle
    places = [(x, y) for x in np.linspace(-1, 1, rng.randint(2, 7)) for y in np.linspace(-1, 1, rng.randint(2, 5))]
    points = []
    for x, y in places:
        low = rng.randint(0, 4 * steps) / steps
        points.append(Point(float(x), float(y), low, low + rng.randint(-2 * steps, 8 * steps) / steps))
    gap = widest_gap(points)
    assert gap.width == pytest.approx(by_linprog(points), abs=1e-8)
    # What holds the planes proves that none are farther apart: weights of one sum and one centre, which weigh the gap.
    for held in (gap.highs, gap.lows):
        assert sum(weight for weight, _ in held) == pytest.approx(1)
    for axis in ("x", "y"):
        centers = [sum(weight * getattr(points[n], axis) for weight, n in held) for held in (gap.highs, gap.lows)]
        assert centers[0] == pytest.approx(centers[1], abs=1e-9)
    weighed = sum(w * points[n].high for w, n in gap.highs) - sum(w * points[n].low for w, n in gap.lows)
    assert weighed == pytest.approx(gap.width, abs=1e-8)


@pytest.mark.parametrize("seed", range(15))
def test_a_part_of_a_part_is_no_thinner(seed):
    rng = random.Random(100 + seed)
    board = random_board(rng)
    whole = whole_slab(board)
    half = slab_of(board, board.length / 4, 0, board.length / 2, board.width)
    # The spots of a part are not all spots of the whole; the arc between them is allowed for.
    assert half.thickness >= whole.thickness - 0.004 * (abs(board.bow) + abs(board.cup) + abs(board.twist))


def test_the_best_place_for_a_part_avoids_the_thin_end():
    board = RoughBoard(2000, 150, ((22.0,), (28.0,), (28.0,)))
    found = best_slab(board, 600, 150)
    assert found.from_end_1 >= 1000
    assert found.thickness == pytest.approx(28)


def test_a_board_that_holds_no_slab_says_so_by_a_figure_below_zero():
    assert whole_slab(RoughBoard(1000, 200, ((5.0,),), twist=30)).thickness == pytest.approx(-10)


@pytest.mark.parametrize(
    ("field", "build"),
    [
        ("thicknesses", lambda: RoughBoard(1000, 100, ())),
        ("thicknesses", lambda: RoughBoard(1000, 100, ((20.0, 21.0), (20.0,)))),
        ("thicknesses", lambda: RoughBoard(1000, 100, ((0.0,),))),
        ("length", lambda: RoughBoard(0, 100, THICK)),
        ("cup", lambda: RoughBoard(1000, 100, THICK, cup=90)),
        ("twist", lambda: RoughBoard(1000, 100, THICK, twist=math.nan)),
        ("from_end_1", lambda: slab_of(RoughBoard(1000, 100, THICK), 600, 0, 500, 100)),
        ("length", lambda: best_slab(RoughBoard(1000, 100, THICK), 1200, 100)),
        ("width", lambda: best_slab(RoughBoard(1000, 100, THICK), 500, 120)),
    ],
)
def test_a_board_nobody_could_have_is_an_error_at_its_field(field, build):
    with pytest.raises(OutOfRangeError) as caught:
        build()
    assert caught.value.field == field


@pytest.mark.parametrize(("cup", "bow", "twist"), [(-3, -18, 4), (3, 18, -4), (2, -9, 0), (-4, 14, 6)])
def test_between_the_spots_looked_at_no_more_is_lost_than_is_told(monkeypatch, cup, bow, twist):
    board = RoughBoard(2400, 300, ((28.0, 27.2, 29.0), (27.5, 26.8, 28.1), (28.3, 27.7, 28.0)), cup, bow, twist)
    told = whole_slab(board)
    monkeypatch.setattr(slab, "SPOTS_ALONG", 97)
    monkeypatch.setattr(slab, "SPOTS_ACROSS", 33)
    closer = whole_slab(board)
    assert 0 <= told.thickness - closer.thickness <= told.unsure
    assert 0.01 < told.unsure < 0.2
