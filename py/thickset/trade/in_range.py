"""Formulas of the trade worked with the numbers of a job, where these are in their range."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from thickset.trade.formula import Worked
from thickset.trade.limits import OutOfRangeError
from thickset.trade.registry import worked


def within_range(name: str, **numbers: object) -> Worked | None:
    """A formula worked with numbers [its own units]; None where they are out of its range.

    name: of the formula; numbers: its inputs by name. Valid: any numbers. Source: the formula itself.

    >>> within_range("wave_height", pitch=200.0, diameter=100.0) is None
    True
    """
    try:
        return worked(name, **numbers)
    except OutOfRangeError:
        return None


def telling(one: Worked, more: Mapping[str, str]) -> Worked:
    """A worked formula with more words behind inputs [its own unit], each by its name.

    one: the worked formula; more: words by input. Valid: any words. Source: none needed.

    >>> answer = telling(worked("pitch", speed=5000.0, knives=1, feed=5.0), {"speed": "by its plate"})
    >>> answer.put_in[0][0].words
    'speed of the head, by its plate'
    """
    put_in = (
        (each._replace(words=f"{each.words}, {more[each.name]}") if each.name in more else each, value)
        for each, value in one.put_in
    )
    return one._replace(put_in=tuple(put_in))


def number(one: Worked) -> float:
    """The value of a worked formula as a number [its own unit].

    one: the worked formula. Valid: formulas of one number. Source: the formula itself.

    >>> number(worked("pitch", speed=5000.0, knives=1, feed=5.0))
    1.0
    """
    if not isinstance(one.value, int | float | Fraction):
        raise TypeError("this formula gives no single number")
    return float(one.value)
