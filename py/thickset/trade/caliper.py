"""What the caliper says about the scale: how far off it is and how well settings repeat.

The model: a setting opens to scale + offset + e, with e normal about zero. `off` is what a
measured piece was thicker than the scale said. Before any reading the offset and the spread
are believed as in the planer's record, weighted as so many readings (a normal-inverse-gamma
prior); each reading updates both in closed form. The caliper's own error counts in the
spread, so the spread is that of settings as measured.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from thickset.trade.formula import formula
from thickset.trade.limits import above_zero, within
from thickset.trade.normal import student_width, student_within


class Belief(NamedTuple):
    """Offset and spread believed [mm], each with the readings it rests on [count].

    Valid: spread and both counts above zero. Source: the readings, and the prior.

    >>> round(Belief(0.1, 4.0, 0.04, 5.0).offset_uncertainty, 3)
    0.02
    """

    offset: float
    offset_readings: float
    spread: float
    spread_readings: float

    @property
    def offset_uncertainty(self) -> float:
        """Standard uncertainty of the offset [mm]."""
        return self.spread / math.sqrt(self.offset_readings)

    @property
    def next_spread(self) -> float:
        """Scale of the spread of the next setting about what is wanted [mm]."""
        return self.spread * math.sqrt(1 + 1 / self.offset_readings)


UNKNOWN_OFFSET = 0.4
UNKNOWN_SPREAD = 0.05
UNKNOWN_WORTH = 4.0
"""A planer without a record: scale off by 0.4 mm (1/64 in) or so, settings repeating to
0.05 mm (0.002 in), the latter worth 4 readings [mm, mm, count]; common practice, no source."""


@formula(
    "planer without a record [mm]",
    "What is believed before any reading.",
    offset_uncertainty="u [mm] how far off the scale may be",
    spread="s [mm] spread of settings",
    worth="n [count] readings the spread is worth",
    limits="All above zero.",
    source="a stated prior; the defaults are common practice, no source.",
    known="common practice",
)
def unknown_planer(
    offset_uncertainty: float = UNKNOWN_OFFSET, spread: float = UNKNOWN_SPREAD, worth: float = UNKNOWN_WORTH
) -> Belief:
    """What to believe of a planer before any reading.

    >>> round(unknown_planer().offset_uncertainty, 3)
    0.4
    """
    above_zero("offset_uncertainty", offset_uncertainty, "mm")
    above_zero("spread", spread, "mm")
    above_zero("worth", worth, "readings")
    return Belief(0.0, (spread / offset_uncertainty) ** 2, spread, worth)


@formula(
    "what readings say [mm]",
    "Prior and readings weighted by how many each counts for.",
    belief="belief [mm and count] belief before",
    off="off [mm] how far pieces were off the scale",
    limits="Readings of one planer with the scale untouched, from one run.",
    source="conjugate update of the normal law with unknown mean and spread, derived.",
    known="derived",
)
def update(belief: Belief, off: Sequence[float]) -> Belief:
    """What to believe after readings of how far pieces were off the scale.

    >>> after = update(unknown_planer(), [0.21, 0.19, 0.20])
    >>> round(after.offset, 3), round(after.offset_uncertainty, 3), round(after.spread, 3)
    (0.199, 0.023, 0.039)
    """
    for value in off:
        within("off", value, -25, 25, "mm", "check the reading and its unit")
        offset, readings, spread, known = belief
        worth, freedom = readings + 1, known + 1
        squares = known * spread * spread + readings / worth * (value - offset) ** 2
        belief = Belief((readings * offset + value) / worth, worth, math.sqrt(squares / freedom), freedom)
    return belief


SCALE_MOVED = 0.001
"""A reading less likely than this by the readings before it says that the scale was moved [1]; a choice, not a measurement."""


@formula(
    "chance of a reading so far off [1]",
    "Student's t for the next reading.",
    belief="belief [mm] belief before",
    off="off [mm] how far the piece was off the scale",
    limits="Off within 25 mm.",
    source="Student's t for the next reading, derived.",
    known="derived",
)
def chance_so_far_off(belief: Belief, off: float) -> float:
    """Chance that a reading is as far from what is believed as this one, or farther.

    >>> round(chance_so_far_off(Belief(0.0, 13, 0.03, 17), 0.05), 2)
    0.13
    >>> chance_so_far_off(Belief(0.0, 13, 0.03, 17), 0.5) < SCALE_MOVED
    True
    """
    within("off", off, -25, 25, "mm", "check the reading and its unit")
    return 1 - student_within(abs(off - belief.offset) / belief.next_spread, belief.spread_readings)


@formula(
    "scale that was moved [mm]",
    "Off by anything again, with the spread believed before.",
    belief="belief [mm] belief before",
    limits="Any belief.",
    source="the offset of a planer without a record, with the spread believed; common practice, no source.",
    known="common practice",
)
def scale_moved(belief: Belief) -> Belief:
    """What to believe once the scale was moved: it may be off by anything again, settings repeat as before.

    >>> after = update(scale_moved(Belief(0.0, 13, 0.03, 17)), [0.5])
    >>> round(after.offset, 3), round(after.spread, 3)
    (0.497, 0.03)
    """
    return Belief(belief.offset, (belief.spread / UNKNOWN_OFFSET) ** 2, belief.spread, belief.spread_readings)


@formula(
    "reading of the scale [mm]",
    "What is wanted less what the scale is off by.",
    belief="belief [mm] belief",
    wanted="T [mm] opening wanted",
    limits="Wanted above zero.",
    source="wanted less the offset, derived.",
    known="derived",
)
def scale_for(belief: Belief, wanted: float) -> float:
    """What the scale must read to open to a wanted thickness.

    >>> scale_for(Belief(0.25, 3, 0.05, 5), 20.0)
    19.75
    """
    above_zero("wanted", wanted, "mm")
    return wanted - belief.offset


@formula(
    "chance to land in tolerance [1]",
    "Student's t for the next setting.",
    belief="belief [mm] belief",
    tolerance="t [mm] tolerance",
    aim="a [mm] aim above target",
    limits="Tolerance above zero.",
    source="Student's t for the next reading, derived.",
    known="derived",
)
def hit_chance(belief: Belief, tolerance: float, aim: float = 0.0) -> float:
    """Chance that the next setting lands within the tolerance of the target.

    >>> round(hit_chance(Belief(0.2, 3, 0.05, 7), 0.13), 3)
    0.941
    """
    above_zero("tolerance", tolerance, "mm")
    return _share_below(belief, tolerance - aim) - _share_below(belief, -tolerance - aim)


@formula(
    "interval of the offset [mm]",
    "Student's t for the offset.",
    belief="belief [mm] belief",
    chance="c [1] chance",
    limits="Chance up to 0.999999.",
    source="Student's t for the offset, derived.",
    known="derived",
)
def offset_interval(belief: Belief, chance: float = 0.95) -> tuple[float, float]:
    """Interval that holds the offset with a chance.

    >>> low, high = offset_interval(Belief(0.2, 4, 0.04, 6))
    >>> round(low, 3), round(high, 3)
    (0.151, 0.249)
    """
    half = student_width(chance, belief.spread_readings) * belief.offset_uncertainty
    return belief.offset - half, belief.offset + half


def _share_below(belief: Belief, error: float) -> float:
    half = student_within(abs(error) / belief.next_spread, belief.spread_readings) / 2
    return 0.5 + half if error >= 0 else 0.5 - half
