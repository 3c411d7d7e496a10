"""The turns of a board, against real rotation matrices.

Axes of the planer: x along the feed, y across it, z up. Axes of the board, as it first lies: x from end 2 to end 1
(so that end 1 leads), y across its width, z from face A to face B (so that face B is up).
"""

import itertools

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation
from thickset.planning.passes.turns import FIRST_PLACEMENT, Placement, Turn

FEED, ACROSS, UP = np.eye(3)
AXES = {None: FEED, "length": FEED, "width": ACROSS, "vertical": UP}
TURNS = list(Turn)
PLACEMENTS = [
    Placement("B", 1),
    Placement("B", 2),
    Placement("A", 1),
    Placement("A", 2),
]


def matrix(turn: Turn) -> NDArray[np.float64]:
    half_turn = 0.0 if turn.axis is None else np.pi
    return Rotation.from_rotvec(half_turn * AXES[turn.axis]).as_matrix()


def seen(rotation: NDArray[np.float64]) -> Placement:
    """Side up and end leading of a board that has been rotated."""
    return Placement(
        up="B" if (rotation @ UP)[2] > 0 else "A",
        leads=1 if (rotation @ FEED)[0] > 0 else 2,
    )


def run_of_grain(rotation: NDArray[np.float64], slope: float) -> float:
    """Rise of the fibres per length towards the leading end, as the planer meets them. A fibre has no direction."""
    along, _, rise = rotation @ np.array([np.cos(slope), 0.0, np.sin(slope)])
    return float(rise / along)


def which(rotation: NDArray[np.float64]) -> Turn:
    (found,) = [turn for turn in Turn if np.allclose(matrix(turn), rotation)]
    return found


def test_four_turns_and_four_placements() -> None:
    assert len(TURNS) == 4
    for one, other in itertools.combinations(TURNS, 2):
        assert not np.allclose(matrix(one), matrix(other))
    assert {seen(matrix(turn)) for turn in TURNS} == set(PLACEMENTS)


def test_no_other_rotation_puts_the_board_flat_and_in_line() -> None:
    """Of the 24 rotations of a cube, only four keep each axis of the board on itself."""
    in_line = [r for r in Rotation.create_group("O").as_matrix() if np.allclose(abs(r), np.eye(3))]
    assert len(in_line) == 4
    assert {which(r) for r in in_line} == set(Turn)


@pytest.mark.parametrize("turn", TURNS)
def test_a_turn_swaps_what_its_matrix_swaps(turn: Turn) -> None:
    after = seen(matrix(turn))
    assert turn.swaps_faces == (after.up != "B")
    assert turn.swaps_ends == (after.leads != 1)
    assert FIRST_PLACEMENT.turned(turn) == after


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("slope_degrees", [-40, -7, -0.5, 0.5, 3, 12, 45])
def test_a_turn_keeps_the_grain_when_its_matrix_does(turn: Turn, slope_degrees: float) -> None:
    slope = np.radians(slope_degrees)
    before = run_of_grain(np.eye(3), slope)
    after = run_of_grain(matrix(turn), slope)
    assert after == pytest.approx(before if turn.keeps_grain else -before)


def test_only_end_for_end_keeps_the_grain_with_the_other_side_up() -> None:
    slope = np.radians(5)
    level = run_of_grain(np.eye(3), slope)
    by_matrix = [
        turn
        for turn in Turn
        if seen(matrix(turn)).up != "B" and run_of_grain(matrix(turn), slope) == pytest.approx(level)
    ]
    assert by_matrix == [Turn.FLIPPED]
    assert [turn for turn in Turn if turn.swaps_faces and turn.keeps_grain] == [Turn.FLIPPED]


@pytest.mark.parametrize(("first", "second"), list(itertools.product(TURNS, TURNS)))
def test_composition_is_that_of_the_matrices(first: Turn, second: Turn) -> None:
    assert first.then(second) is which(matrix(second) @ matrix(first))


def test_a_group_of_four_each_its_own_inverse() -> None:
    for a in TURNS:
        assert a.then(Turn.AS_IT_LIES) is a
        assert Turn.AS_IT_LIES.then(a) is a
        assert a.then(a) is Turn.AS_IT_LIES
        assert {a.then(b) for b in TURNS} == set(TURNS)
        for b in TURNS:
            assert a.then(b) is b.then(a)
            for c in TURNS:
                assert a.then(b).then(c) is a.then(b.then(c))


@pytest.mark.parametrize(("start", "goal"), list(itertools.product(PLACEMENTS, PLACEMENTS)))
def test_a_turn_leads_from_any_placement_to_any_other(start: Placement, goal: Placement) -> None:
    assert start.turned(start.turn_to(goal)) == goal


@pytest.mark.parametrize("start", PLACEMENTS)
@pytest.mark.parametrize(("first", "second"), list(itertools.product(TURNS, TURNS)))
def test_turning_twice_is_turning_by_the_composition(start: Placement, first: Turn, second: Turn) -> None:
    assert start.turned(first).turned(second) == start.turned(first.then(second))
