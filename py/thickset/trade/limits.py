"""Range checks shared by the trade formulas: an error, never a number, when out of range."""

import math
from fractions import Fraction

Number = float | Fraction

LARGEST = 10**9
"""Nothing in a shop measures more, or less than one over it, in the units used here; a
slip of the keys or of units. So no formula can overflow."""


class OutOfRangeError(ValueError):
    """A value outside the range of a formula: which one, and what would be right."""

    def __init__(self, field: str, text: str) -> None:
        super().__init__(f"{field}: {text}")
        self.field = field
        self.text = text


def above_zero(field: str, value: Number, unit: str) -> None:
    """Refuse a value that is not a number above zero that a shop could meet [unit as named].

    field: its name; value: [unit]; unit: its name.

    >>> above_zero("feed", 4.9, "m/min")
    >>> above_zero("feed", 0, "m/min")
    Traceback (most recent call last):
    thickset.trade.limits.OutOfRangeError: feed: must be above 0 m/min, not 0
    """
    if not value > 0:
        raise OutOfRangeError(field, f"must be above 0 {unit}".rstrip() + f", not {_short(value)}")
    if value > LARGEST or value * LARGEST < 1:
        raise OutOfRangeError(field, f"is past all measure at {_short(value)}; check the number and its unit")


def within(field: str, value: Number, low: Number, high: Number, unit: str, cure: str = "") -> None:
    """Refuse a value outside low to high, both allowed [unit as named].

    field: its name; value, low, high: [unit]; unit: its name; cure: what to do.

    >>> within("humidity", 45, 0, 100, "%")
    >>> within("humidity", 110, 0, 100, "%", "enter relative humidity in per cent")
    Traceback (most recent call last):
    thickset.trade.limits.OutOfRangeError: humidity: must be 0 to 100 %, not 110; enter relative humidity in per cent
    """
    if not low <= value <= high:
        text = f"{_short(low)} or more" if high == math.inf else f"{_short(low)} to {_short(high)}"
        text = f"must be {text} {unit}".rstrip() + f", not {_short(value)}"
        raise OutOfRangeError(field, f"{text}; {cure}" if cure else text)
    if not -LARGEST <= value <= LARGEST:
        raise OutOfRangeError(field, f"is past all measure at {_short(value)}; check the number and its unit")


def whole_above_zero(field: str, value: int) -> None:
    """Refuse a count [pieces] that is not a whole number of at least one.

    field: its name; value: [pieces].

    >>> whole_above_zero("knives", 3)
    >>> whole_above_zero("knives", 0)
    Traceback (most recent call last):
    thickset.trade.limits.OutOfRangeError: knives: must be a whole number of 1 or more, not 0
    """
    if not 1 <= value <= LARGEST or value != int(value):
        raise OutOfRangeError(field, f"must be a whole number of 1 or more, not {_short(value)}")


def _short(value: Number) -> str:
    try:
        return f"{float(value):.6g}"
    except OverflowError:
        return "a number of hundreds of digits"
