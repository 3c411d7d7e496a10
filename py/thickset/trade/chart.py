"""Has the scale been knocked? The control chart of single values and their moving ranges.

A planer's scale strays a little from run to run, and now and then it is knocked. From how
much one run differs from the next follows how much they stray of themselves; what lies
further off than that was knocked. The handbook's limits hold for many values: of few they
are as much wider as keeps a false alarm as seldom.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from thickset.trade.formula import formula
from thickset.trade.limits import OutOfRangeError, above_zero, within
from thickset.trade.normal import student_within

MEAN_RANGE = 1.128
"""Mean range of two values of a normal law, in its spreads [1]; NIST/SEMATECH e-Handbook 6.3.2.2."""

SPREADS = 3
"""The limits stand so many spreads off the center [1]; as there."""

FALSE_ALARM = 0.0027
"""How often a value lies outside such limits with no knock: 1 of 370 [1]; the normal law beyond 3 spreads."""

FREEDOM_OF_A_RANGE = 0.6
"""What a moving range is worth in degrees of freedom [1]: its estimate varies by 0.826 / ranges (Cryer and Ryan 1990, from memory)."""

_HANDBOOK = "NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2, transcribed."


@formula(
    "spread by moving ranges [mm]",
    "The mean of how much each value differs from the one before, over the mean range of two.",
    ranges="R [mm] moving ranges",
    limits="At least one range, of values of one level.",
    source=_HANDBOOK,
    known="transcribed",
)
def spread_by_ranges(ranges: Sequence[float]) -> float:
    """What values stray by of themselves, from how much each differs from the one before.

    >>> round(spread_by_ranges([2.0, 2.3, 1.4]), 4)
    1.6844
    """
    if not ranges:
        raise OutOfRangeError("ranges", "at least one is wanted")
    return math.fsum(ranges) / len(ranges) / MEAN_RANGE


@formula(
    "limits of single values [mm]",
    "The mean, and three spreads by moving ranges to either side.",
    values="x [mm] values",
    limits="At least two values of one level, in the order they came.",
    source=_HANDBOOK,
    known="transcribed",
)
def individuals_limits(values: Sequence[float]) -> tuple[float, float, float]:
    """Lower limit, center and upper limit of a control chart of single values.

    >>> [round(limit, 4) for limit in individuals_limits([49.6, 47.6, 49.9, 51.3])]
    [44.5468, 49.6, 54.6532]
    """
    center = math.fsum(values) / max(1, len(values))
    half = SPREADS * spread_by_ranges([abs(b - a) for a, b in pairwise(values)])
    return center - half, center, center + half


@formula(
    "chance of so far off the chart [1]",
    "Student's t, with the freedom that the moving ranges are worth.",
    off="d [mm] off the mean of the values before",
    spread="s [mm] spread by moving ranges",
    values="m [1] what the mean before counts for, in values like this one",
    ranges="r [count] moving ranges",
    limits="The count m above zero, and at least one range. Of many values 3 spreads off have the chance of 0.27 %.",
    source="Student's t for one value more, derived. The freedom of ranges is from memory.",
    known="derived",
)
def chance_on_chart(off: float, spread: float, values: float, ranges: int) -> float:
    """Chance that a value of the same level lies so far off the mean of those before, or farther.

    >>> round(chance_on_chart(3.0, 1.0, 100000, 100000), 4)
    0.0027
    >>> chance_on_chart(0.3, 0.05, 12, 11) < FALSE_ALARM < chance_on_chart(0.3, 0.05, 3, 2)
    True
    """
    within("off", off, -25, 25, "mm")
    above_zero("values", values, "")
    if ranges < 1:
        raise OutOfRangeError("ranges", "at least one is wanted")
    if spread <= 0:
        return 1.0 if off == 0 else 0.0
    return 1 - student_within(abs(off) / spread / math.sqrt(1 + 1 / values), FREEDOM_OF_A_RANGE * ranges)
