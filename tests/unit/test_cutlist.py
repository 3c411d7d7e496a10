"""The cutting plan: exact against an independent integer programme, and true to wood and saw."""

import random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from thickset.planning.stock import cutlist, filling
from thickset.planning.stock.cutlist import least_waste
from thickset.planning.stock.filling import Stock


def by_milp(stock, sizes, wanted, kerf):
    """Least missing length, then least length of boards, by scipy: one variable for each stretch and kind, one a board."""
    boards = [one for one in stock for _ in range(one.many)]
    stretches = [(n, room) for n, one in enumerate(boards) for room in one.stretches]
    kinds, big = len(sizes), sum(one.length for one in boards) + 1
    columns = len(stretches) * kinds + kinds + len(boards)
    at = {(s, k): s * kinds + k for s in range(len(stretches)) for k in range(kinds)}
    gone, used = len(stretches) * kinds, len(stretches) * kinds + kinds
    cost = np.zeros(columns)
    cost[gone:used] = [size * big for size in sizes]
    cost[used:] = [one.length for one in boards]
    rows, low, high = [], [], []
    for s, (n, room) in enumerate(stretches):
        row = np.zeros(columns)
        for k, size in enumerate(sizes):
            row[at[s, k]] = size + kerf
        row[used + n] = -(room + kerf)
        rows.append(row), low.append(-np.inf), high.append(0)
    for k, many in enumerate(wanted):
        row = np.zeros(columns)
        row[[at[s, k] for s in range(len(stretches))]] = 1
        row[gone + k] = 1
        rows.append(row), low.append(many), high.append(many)
    upper = np.concatenate([np.full(gone, np.inf), wanted, np.ones(len(boards))])
    for s, (n, _) in enumerate(stretches):
        for k in range(kinds):
            if boards[n].takes and not boards[n].takes[k]:
                upper[at[s, k]] = 0
    found = milp(
        cost,
        constraints=LinearConstraint(np.array(rows), low, high),
        integrality=np.ones(columns),
        bounds=Bounds(0, upper),
        options={"mip_rel_gap": 0},
    )
    assert found.status == 0
    missing = sum(round(found.x[gone + k]) * size for k, size in enumerate(sizes))
    return missing, sum(round(found.x[used + n]) * one.length for n, one in enumerate(boards))


def check(stock, sizes, wanted, kerf):
    """The layout can be sawn; its cost."""
    layout = least_waste(stock, sizes, wanted, kerf)
    made = [0] * len(sizes)
    taken = [0] * len(stock)
    for cut in layout.cuts:
        taken[cut.stock] += cut.many
        assert any(cut.parts)
        for parts, room in zip(cut.parts, stock[cut.stock].stretches, strict=True):
            assert sum(sizes[k] for k in parts) + kerf * max(len(parts) - 1, 0) <= room
            for k in parts:
                made[k] += cut.many
                assert not stock[cut.stock].takes or stock[cut.stock].takes[k]
    assert all(many <= one.many for many, one in zip(taken, stock, strict=True))
    assert [a + b for a, b in zip(made, layout.missing, strict=True)] == list(wanted)
    missing = sum(many * size for many, size in zip(layout.missing, sizes, strict=True))
    return layout, (missing, sum(stock[cut.stock].length * cut.many for cut in layout.cuts))


def by_chance(seed):
    chance = random.Random(seed)
    kerf = chance.choice([0, 2, 3, 8])
    stock = []
    for _ in range(chance.randint(1, 5)):
        length = chance.randint(30, 250)
        cut = chance.randint(5, length - 5)
        stretches = chance.choice([(length,), (length - 10,), (cut, length - cut - 4) if length - cut > 8 else (cut,)])
        stock.append(Stock(length, stretches, chance.randint(1, 3)))
    sizes = sorted({chance.randint(12, 110) for _ in range(chance.randint(1, 4))}, reverse=True)
    return stock, sizes, [chance.randint(1, 4) for _ in sizes], kerf


@pytest.mark.parametrize("seed", range(60))
def test_no_layout_wastes_less_says_an_integer_programme(seed):
    layout, cost = check(*by_chance(seed))
    assert layout.proved
    assert cost == by_milp(*by_chance(seed))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(100))
def test_no_layout_wastes_less_where_some_boards_are_too_narrow_for_some_parts(seed):
    stock, sizes, wanted, kerf = by_chance(seed)
    chance = random.Random(seed)
    stock = [one._replace(takes=tuple(chance.random() < 0.6 for _ in sizes)) for one in stock]
    layout, cost = check(stock, sizes, wanted, kerf)
    assert layout.proved
    assert cost == by_milp(stock, sizes, wanted, kerf)


def test_a_fuller_board_is_not_taken_where_the_part_left_over_is_too_wide_for_the_other():
    # Only the first board takes the 40; the fill of 50 and 45 is fuller than that of 50 and 40, and would lose it.
    stock = [Stock(110, (110,), 1, (True, True, True)), Stock(47, (47,), 1, (True, True, False))]
    layout, cost = check(stock, [50, 45, 40], [1, 1, 1], 2)
    assert cost == (0, 157)
    assert {cut.stock: cut.parts for cut in layout.cuts} == {0: ((0, 2),), 1: ((1,),)}


@pytest.mark.slow
def test_a_shop_s_lot_is_proved():
    # 14 boards, 30 parts of 5 lengths, in sixty-fourths of an inch.
    stock = [Stock(64 * 96, (64 * 90,), 6), Stock(64 * 74, (64 * 30, 64 * 38), 4), Stock(64 * 61, (64 * 55,), 4)]
    sizes = [64 * 34, 64 * 29 + 16, 64 * 22, 64 * 17 + 32, 64 * 11]
    wanted = [6, 6, 6, 6, 6]
    layout, cost = check(stock, sizes, wanted, 8)
    assert layout.proved
    assert cost == by_milp(stock, sizes, wanted, 8)


def test_a_part_that_just_fits_needs_no_kerf_and_one_unit_more_does_not_fit():
    assert check([Stock(62, (62,), 1)], [30], [2], 2)[1] == (0, 62)
    assert check([Stock(61, (61,), 1)], [30], [2], 2)[1] == (30, 61)


def unlike(seed, boards, kinds, share):
    """Boards of all lengths with up to two defects, in mm, and parts for a share of their wood."""
    chance = random.Random(seed)
    stock = []
    for _ in range(boards):
        length = chance.randint(900, 2600)
        at, end = chance.randint(20, 60), length - chance.randint(20, 60)
        stretches = []
        for _ in range(chance.choice([0, 0, 1, 1, 2])):
            if end - at > 120:
                defect = chance.randint(at + 50, end - 50)
                stretches.append(defect - at)
                at = defect + chance.randint(10, 60)
        stretches.append(max(end - at, 1))
        stock.append(Stock(length, tuple(stretches), 1))
    sizes = sorted({chance.randint(180, 900) for _ in range(kinds)}, reverse=True)
    wanted = [1] * len(sizes)
    while sum(map(int.__mul__, wanted, sizes)) < share * sum(one.length for one in stock):
        wanted[chance.randrange(len(sizes))] += 1
    return stock, sizes, wanted, 3


@pytest.mark.slow
@pytest.mark.parametrize("share", [0.5, 0.7, 1.0])
@pytest.mark.parametrize(("seed", "boards"), [(0, 12), (1, 12), (2, 12), (0, 15), (1, 15), (2, 15)])
def test_a_dozen_and_more_unlike_boards_are_proved(seed, boards, share):
    lot = unlike(seed, boards, 4, share)
    layout, cost = check(*lot)
    assert layout.proved
    assert cost == by_milp(*lot)


def test_a_large_lot_of_boards_alike_is_proved():
    layout, cost = check([Stock(2400, (2300,), 300)], [700, 450], [400, 300], 3)
    assert layout.proved
    assert cost == (0, 194 * 2400)


@pytest.mark.slow
def test_a_lot_that_is_too_large_says_that_it_is_not_proved():
    layout, (missing, used) = check(*unlike(2, 60, 8, 0.7))
    assert not layout.proved
    assert missing == 0
    assert used < sum(one.length for one in unlike(2, 60, 8, 0.7)[0])


def test_more_ways_to_fill_a_stretch_than_are_known_prove_nothing():
    sizes = [61, 59, 53, 47, 43, 41]
    layout, (missing, _) = check([Stock(2000, (2000,), 3)], sizes, [8] * 6, 1)
    assert not layout.proved
    assert missing == 0


def test_without_wood_all_is_missing():
    assert check([Stock(20, (20,), 2)], [30], [2], 2)[1] == (60, 0)


@pytest.fixture
def walks(monkeypatch):
    """Every walk, and what it looked at."""
    found = []

    class Watched(cutlist._Walk):
        def __init__(self, *given):
            self.traced = []
            super().__init__(*given)
            found.append(self)

        def _traced(self, layers, left):
            self.traced.append(len(layers))
            return super()._traced(layers, left)

    monkeypatch.setattr(cutlist, "_Walk", Watched)
    return found


def test_a_large_pile_is_no_more_work_than_its_parts(walks):
    """As many boards are walked as parts may come out of them, and each walk is traced back once, however often it got better."""
    stock = [Stock(100, (100,), 100_000), Stock(50, (50,), 100_000), Stock(134, (134,), 1)]
    layout = least_waste(stock, [90, 40], [6, 6], 2)
    assert layout.missing == (0, 0)
    [walk] = walks
    assert len(walk.boards) <= 12 + 12 + 1, "no layer for a board that no part comes out of"
    assert len(walk.traced) <= len(cutlist.WIDTHS)


def by_the_score(seed, boards, kinds, many=1):
    """Boards of all lengths, in mm, and a few to a score of parts of each kind."""
    chance = random.Random(seed)
    stock = [Stock(length, (length - 100,), many) for length in (chance.randint(1500, 3000) for _ in range(boards))]
    sizes = sorted((chance.randint(150, 1400) for _ in range(kinds)), reverse=True)
    return stock, sizes, [chance.randint(3, 20) for _ in sizes], 3


LARGE = {
    "100 boards, 30 kinds": by_the_score(2, 100, 30),
    "too little wood": by_the_score(1, 100, 30),
    "much too little wood": (*by_the_score(1, 1000, 200)[:2], [500] * 200, 3),
    "1000 boards, 10 kinds": by_the_score(1, 1000, 10),
    "5000 boards, 200 kinds": by_the_score(1, 5000, 200),
    "piles without end": by_the_score(1, 5000, 10, 100_000),
    "a score of parts in a stretch": ([Stock(100_000, (99_000,), 100)], [*range(349, 149, -1)], [50] * 200, 3),
    "parts without end": ([Stock(2000, (1900,), 100_000)], [700, 400], [100_000, 100_000], 3),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", LARGE)
def test_a_cutting_plan_has_a_budget_of_work_and_a_good_layout_within_it(name, walks, monkeypatch):
    """Counted in fills that are tried and kinds that are looked at, so that it is the same on every machine."""
    tried = [0]
    tries = filling._tries

    def counted(*given):
        for one in tries(*given):
            tried[0] += 1
            yield one

    monkeypatch.setattr(filling, "_tries", counted)
    stock, sizes, wanted, kerf = LARGE[name]
    layout, (missing, used) = check(stock, sizes, wanted, kerf)
    [walk] = walks
    assert walk.work <= cutlist.MOST_WORK + len(sizes) * cutlist.WIDTHS[-1]
    assert tried[0] * len(sizes) <= 2 * cutlist.MOST_WORK + filling.FIRST_WORK
    assert not layout.proved
    parts = sum(size * many for size, many in zip(sizes, wanted, strict=True)) - missing
    assert used < 1.14 * parts, "more than an eighth of the wood is waste"
    assert not missing or used > 0.97 * sum(one.length * one.many for one in stock)
