"""The flat slab inside a rough board that is cupped, bowed or twisted.

The upper face is modelled from what straightedge and winding sticks show on it, the lower face
from the thicknesses. The slab is the largest gap between two parallel planes that both lie
in the wood, found by a small linear programme.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from thickset.planning.stock.gap import Point, widest_gap
from thickset.trade.limits import OutOfRangeError, above_zero, within

SPOTS_ALONG = 17
SPOTS_ACROSS = 9
"""Spots of a window at which its faces are taken [count]; what hides between them is told (see Slab.unsure)."""

PLACES_ALONG = 9
PLACES_ACROSS = 5
"""Places at which a part is tried on a board [count]."""


@dataclass(frozen=True)
class RoughBoard:
    """A board before jointing: length, width, thicknesses, cup, bow and twist [mm].

    thicknesses: rows from end 1 to end 2, each from edge to edge, evenly spaced; one row
    of one value is a board of even thickness. cup and bow: height of the middle of the
    upper face above its edges or ends, below zero where it is hollow; both over the whole
    width or length. twist: how much higher the far edge of the stick at end 2 stands, over
    the whole width.

    >>> RoughBoard(2000, 150, ((27.0,),), bow=6.0).length
    2000
    """

    length: float
    width: float
    thicknesses: tuple[tuple[float, ...], ...]
    cup: float = 0.0
    bow: float = 0.0
    twist: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a board that no one could measure."""
        above_zero("length", self.length, "mm")
        above_zero("width", self.width, "mm")
        if not self.thicknesses or len({len(row) for row in self.thicknesses}) != 1 or not self.thicknesses[0]:
            raise OutOfRangeError("thicknesses", "must be rows of one length, one value at least")
        for row in self.thicknesses:
            for value in row:
                above_zero("thicknesses", value, "mm")
        within("cup", self.cup, -self.width / 2, self.width / 2, "mm", "check the unit")
        within("bow", self.bow, -self.length / 2, self.length / 2, "mm", "check the unit")
        within("twist", self.twist, -self.width, self.width, "mm", "check the unit")


class Touch(NamedTuple):
    """A spot of a face that holds a plane of the slab: its weight [1], where it is, how high [mm].

    >>> Touch(0.5, 0, 0, 27).weight
    0.5
    """

    weight: float
    from_end_1: float
    from_edge: float
    height: float


class Slab(NamedTuple):
    """The flat slab: its thickness, where its window begins and how large it is [mm].

    `lost` is what the board's shape takes: its thin spot there less the slab [mm]. `upper` and `lower` are the spots that
    hold it: what the upper ones weigh together less the lower ones is the slab. `tried`: places looked at [count]. `unsure`: how much
    thinner [mm] it may be, for what stands out between the spots that were looked at.

    >>> Slab(20.0, 3.0, 0, 0, 600, 90).thickness
    20.0
    """

    thickness: float
    lost: float
    from_end_1: float
    from_edge: float
    length: float
    width: float
    upper: tuple[Touch, ...] = ()
    lower: tuple[Touch, ...] = ()
    tried: int = 1
    unsure: float = 0.0


def whole_slab(board: RoughBoard) -> Slab:
    """Thickest flat slab over the whole board [mm].

    >>> whole_slab(RoughBoard(2000, 150, ((27.0,),), bow=6.0)).thickness
    21.0
    """
    return slab_of(board, 0.0, 0.0, board.length, board.width)


def slab_of(board: RoughBoard, from_end_1: float, from_edge: float, length: float, width: float) -> Slab:
    """Thickest flat slab over a part of the board cut out of it first [mm].

    from_end_1, from_edge: where the part begins [mm]; length, width: of the part [mm].

    Valid: a part inside the board; slopes so small that thickness along and square to the
    faces is the same (a slope of 1 in 50 errs by 0.02 %).

    >>> round(slab_of(RoughBoard(2000, 150, ((27.0,),), bow=6.0), 500, 0, 1000, 150).thickness, 4)
    25.5
    """
    above_zero("length", length, "mm")
    above_zero("width", width, "mm")
    within("from_end_1", from_end_1, 0, board.length - length + 1e-9, "mm", "the part must lie inside the board")
    within("from_edge", from_edge, 0, board.width - width + 1e-9, "mm", "the part must lie inside the board")
    rows, columns = len(board.thicknesses), len(board.thicknesses[0])
    along = list(_spots(from_end_1, length, SPOTS_ALONG, board.length, rows))
    across = list(_spots(from_edge, width, SPOTS_ACROSS, board.width, columns))
    # The programme sees each direction run from -1 to 1, so that its figures are of one size.
    points, spots = [], []
    thin = math.inf
    for x in along:
        for y in across:
            high, thick = _upper_face(board, x, y), _thickness(board, x, y)
            thin = min(thin, thick)
            spots.append((x, y))
            points.append(Point(_unit(x, from_end_1, length), _unit(y, from_edge, width), high - thick, high))
    gap = widest_gap(points)
    upper = tuple(Touch(weight, *spots[n], points[n].high) for weight, n in gap.highs)
    lower = tuple(Touch(weight, *spots[n], points[n].low) for weight, n in gap.lows)
    unsure = _hidden(board.bow, board.length, along) + _hidden(board.cup, board.width, across)
    return Slab(gap.width, thin - gap.width, from_end_1, from_edge, length, width, upper, lower, unsure=unsure)


def best_slab(board: RoughBoard, length: float, width: float) -> Slab:
    """Where on the board a part of a length and width comes out thickest [mm].

    length, width: of the part, with what its cuts need [mm].

    Valid: a part no larger than the board; tried at 9 places along and 5 across.

    >>> best_slab(RoughBoard(2000, 150, ((27.0,), (27.0,), (29.0,))), 600, 150).from_end_1
    1400.0
    """
    within("length", length, 0, board.length, "mm", "the part is longer than the board")
    within("width", width, 0, board.width, "mm", "the part is wider than the board")
    starts = [
        ((board.length - length) * i / (PLACES_ALONG - 1), (board.width - width) * j / (PLACES_ACROSS - 1))
        for i in range(PLACES_ALONG if length < board.length else 1)
        for j in range(PLACES_ACROSS if width < board.width else 1)
    ]
    slabs = [slab_of(board, x, y, length, width) for x, y in starts]
    thickest = max(slab.thickness for slab in slabs)
    return next(slab for slab in slabs if slab.thickness > thickest - 1e-9)._replace(tried=len(slabs))


def _spots(start: float, size: float, count: int, whole: float, nodes: int) -> Iterator[float]:
    """Even spots over a window, and those inside it where thickness was measured."""
    even = {start + size * i / (count - 1) for i in range(count)}
    measured = (whole * i / (nodes - 1) for i in range(nodes)) if nodes > 1 else iter(())
    return iter(sorted(even | {spot for spot in measured if start < spot < start + size}))


def _hidden(middle: float, chord: float, spots: Sequence[float]) -> float:
    """How far an arc stands off the straight line between neighboring spots, at the most [mm].

    A hollow upper face dips under it, the lower face of a crowned one bulges over it; thickness and twist run straight there.
    """
    return max(
        abs(_arc(middle, chord, (one + other) / 2) - (_arc(middle, chord, one) + _arc(middle, chord, other)) / 2)
        for one, other in pairwise(spots)
    )


def _unit(value: float, start: float, size: float) -> float:
    return 2 * (value - start) / size - 1


def _upper_face(board: RoughBoard, x: float, y: float) -> float:
    wind = board.twist * (x / board.length) * (y / board.width)
    return _arc(board.bow, board.length, x) + _arc(board.cup, board.width, y) + wind


def _arc(middle: float, chord: float, at: float) -> float:
    """Height of a circular arc above its chord, `middle` being its height half way."""
    if middle == 0:
        return 0.0
    rise = abs(middle)
    radius = (chord * chord / 4 + rise * rise) / (2 * rise)
    off = at - chord / 2
    return math.copysign(rise - off * off / (radius + math.sqrt(radius * radius - off * off)), middle)


def _thickness(board: RoughBoard, x: float, y: float) -> float:
    rows = [_between(row, y / board.width) for row in board.thicknesses]
    return _between(rows, x / board.length)


def _between(values: Sequence[float], share: float) -> float:
    """Value at a share of the way along evenly spaced values."""
    place = min(max(share, 0.0), 1.0) * (len(values) - 1)
    before = min(int(place), len(values) - 2) if len(values) > 1 else 0
    if len(values) == 1:
        return values[0]
    return values[before] + (values[before + 1] - values[before]) * (place - before)
