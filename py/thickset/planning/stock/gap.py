"""The widest gap between two parallel planes, one above all low points, one below all high.

A linear programme in four unknowns: slopes a and b, height c and gap t, with
low <= a x + b y + c and a x + b y + c + t <= high at every point; t is made largest. Solved
as its dual by the simplex method: weights on the high points and on the low points, each
adding up to 1, with one centre of gravity. Its basis has four columns only.
"""

from collections.abc import Sequence
from typing import NamedTuple

Column = tuple[float, float, float, float]

SMALL = 1e-11
"""Below this a reduced cost or a pivot counts as nothing, as a share of the largest figure [1]."""

LIGHT = 1e-9
"""A weight below this bears nothing [1]."""

MOST_STEPS = 5000


class Point(NamedTuple):
    """A spot of a board: place along and across, -1 to 1 [1], low and high face [mm]."""

    x: float
    y: float
    low: float
    high: float


class Gap(NamedTuple):
    """The widest gap [mm], and the points that hold its planes: weight [1] and place in the list [index].

    The weights of the high points add up to 1, those of the low points too, and both have one centre of gravity: so the
    heights weighed give the gap, and no other slope of the planes can make it wider.

    >>> Gap(8.0, ((1.0, 0),), ((1.0, 0),)).width
    8.0
    """

    width: float
    highs: tuple[tuple[float, int], ...]
    lows: tuple[tuple[float, int], ...]


def widest_gap(points: Sequence[Point]) -> Gap:
    """Widest gap between two parallel planes inside [mm]; below zero if they must cross.

    points: at least three that do not stand in one line, places from -1 to 1.

    The gap is that of two planes actually found, so it is never too wide.

    >>> corners = [Point(x, y, x * y, 10 + x * y) for x in (-1, 1) for y in (-1, 1)]
    >>> gap = widest_gap(corners)
    >>> gap.width, len(gap.highs), len(gap.lows)
    (8.0, 2, 2)
    """
    highs: list[Column] = [(1.0, 0.0, point.x, point.y) for point in points]
    lows: list[Column] = [(0.0, 1.0, -point.x, -point.y) for point in points]
    columns = highs + lows
    costs = [point.high for point in points] + [-point.low for point in points]
    least = SMALL * max(1.0, *map(abs, costs))
    basis = _first_basis(points)
    weights = [0.0] * 4
    standing_still = False
    for _ in range(MOST_STEPS):
        matrix = [[columns[j][i] for j in basis] for i in range(4)]
        weights = _solve(matrix, [1.0, 1.0, 0.0, 0.0])
        prices = _solve([list(columns[j]) for j in basis], [costs[j] for j in basis])
        entering = _entering(columns, costs, prices, least, first=standing_still)
        if entering is None:
            return Gap(_width(points, prices[2], prices[3]), *_held(basis, weights, len(points)))
        change = _solve(matrix, list(columns[entering]))
        leaving, step = _leaving(basis, weights, change)
        basis[leaving] = entering
        standing_still = step <= SMALL
    raise ArithmeticError("the programme for the slab did not end")


def _held(basis: list[int], weights: list[float], many: int) -> tuple[tuple[tuple[float, int], ...], ...]:
    """The points that bear weight, high and low, in their order."""
    bearing = sorted((j, weight) for j, weight in zip(basis, weights, strict=True) if weight > LIGHT)
    highs = tuple((weight, j) for j, weight in bearing if j < many)
    return highs, tuple((weight, j - many) for j, weight in bearing if j >= many)


def _width(points: Sequence[Point], a: float, b: float) -> float:
    """Gap between the best planes of given slopes."""
    return min(p.high - a * p.x - b * p.y for p in points) - max(p.low - a * p.x - b * p.y for p in points)


def _entering(
    columns: list[Column], costs: list[float], prices: list[float], least: float, *, first: bool
) -> int | None:
    """Column that lowers the cost most, by `least` or more; after a step of no length the first, so that none cycles."""
    best, lowest = None, -least
    p0, p1, p2, p3 = prices
    for j, (c0, c1, c2, c3) in enumerate(columns):
        reduced = costs[j] - p0 * c0 - p1 * c1 - p2 * c2 - p3 * c3
        if reduced < lowest:
            best, lowest = j, reduced
            if first:
                break
    return best


def _leaving(basis: list[int], weights: list[float], change: list[float]) -> tuple[int, float]:
    """Place in the basis that runs out first, the first column among equals, and the step."""
    steps = [(max(weights[i], 0.0) / change[i], basis[i], i) for i in range(4) if change[i] > SMALL]
    step, _, place = min(steps)
    return place, step


def _first_basis(points: Sequence[Point]) -> list[int]:
    """All weight on one point, high and low, and two more high points not in line with it."""
    one = points[0]
    far = max(range(len(points)), key=lambda i: (points[i].x - one.x) ** 2 + (points[i].y - one.y) ** 2)
    dx, dy = points[far].x - one.x, points[far].y - one.y
    aside = max(range(len(points)), key=lambda i: abs(dx * (points[i].y - one.y) - dy * (points[i].x - one.x)))
    return [0, far, aside, len(points)]


def _solve(matrix: list[list[float]], right: list[float]) -> list[float]:
    """Solve four equations by elimination with the largest pivot; the inputs stay."""
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    size = len(rows)
    for i in range(size):
        pivot = max(range(i, size), key=lambda k: abs(rows[k][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        for k in range(i + 1, size):
            factor = rows[k][i] / rows[i][i]
            if factor:
                rows[k] = [value - factor * other for value, other in zip(rows[k], rows[i], strict=True)]
    result = [0.0] * size
    for i in reversed(range(size)):
        known = sum(rows[i][k] * result[k] for k in range(i + 1, size))
        result[i] = (rows[i][size] - known) / rows[i][i]
    return result
