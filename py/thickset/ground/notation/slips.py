"""Slips that a number's size gives away: the other unit, and a comma before thousands. Each is shown with its cure."""

from __future__ import annotations

import re
from fractions import Fraction

from thickset.ground.notation import numbers
from thickset.ground.notation.lengths import INCH, Units, shown

LEAST_OF_A_BOARD = 15
"""A width or length is never less [mm]; where less makes sense, three decimals do too."""

_THOUSANDS = re.compile(r"\s*([1-9]\d{0,2})[.,](\d{3})([^\d.,/].*)?\Z", re.DOTALL)


class SlipError(ValueError):
    """An entry whose size gives a slip away: the message asks about it, `cures` are the texts any of which settle it."""

    def __init__(self, text: str, *cures: str) -> None:
        super().__init__(text)
        self.cures = cures


def check_size(typed: str, length: Fraction, bare: tuple[str, str], unit: Units) -> None:
    """Raise SlipError where a length [mm] without a unit is of a size that the other unit would make usual.

    bare: the most inches and the least mm that are usual, as text.

    >>> check_size("27.8", 27 * INCH, ("8", "3"), "in")
    Traceback (most recent call last):
    thickset.ground.notation.slips.SlipError: '27.8' without a unit is read as 27.8 in, and that is out of the usual. Write 27.8 mm or 27.8 in.
    """
    if not length:
        return
    most, least = Fraction(bare[0]) * INCH, Fraction(bare[1])
    if (unit == "in" and length >= most) or (unit == "mm" and length < least):
        other, own = ("mm", "in") if unit == "in" else ("in", "mm")
        cures = f"{typed} {other}", f"{typed} {own}"
        asked = f"{shown(typed)} without a unit is read as {typed} {own}, and that is out of the usual."
        raise SlipError(f"{asked} Write {' or '.join(cures)}.", *cures)


def check_thousands(typed: str, length: Fraction, bare: tuple[str, str]) -> None:
    """Raise SlipError where a length [mm] is far too small for a board because its comma was meant for thousands.

    >>> check_thousands("1,250 mm", Fraction("1.25"), ("400", "60"))
    Traceback (most recent call last):
    thickset.ground.notation.slips.SlipError: '1,250 mm' is read as 1.25 mm, and that is out of the usual. Write 1250 mm, without a comma or point.
    """
    found, least = _THOUSANDS.match(typed), Fraction(bare[1])
    if found and least >= LEAST_OF_A_BOARD and length < least and length == Fraction(f"{found[1]}.{found[2]}"):
        asked = f"{shown(typed)} is read as {numbers.decimal(length, 3)} mm, and that is out of the usual."
        raise _thousands(asked, found)


def check_two_ways(typed: str) -> None:
    """Raise SlipError where three figures after a comma or point may be meant for thousands or for decimals.

    Valid: of what comes in hundreds.

    >>> check_two_ways("1,200 cfm")
    Traceback (most recent call last):
    thickset.ground.notation.slips.SlipError: '1,200 cfm' can be read in two ways. Write 1200 cfm, without a comma or point.
    """
    if found := _THOUSANDS.match(typed):
        raise _thousands(f"{shown(typed)} can be read in two ways.", found)


def _thousands(asked: str, found: re.Match[str]) -> SlipError:
    whole, decimals, named = found.groups()
    cure = f"{whole}{decimals}{(named or '').rstrip()}"
    return SlipError(f"{asked} Write {cure}, without a comma or point.", cure)
