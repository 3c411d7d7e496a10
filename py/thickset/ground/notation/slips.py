"""Slips that a number's size gives away: the other unit, and a comma before thousands. Each is shown with its cure."""

from __future__ import annotations

import re
from fractions import Fraction

from thickset.ground.notation import numbers
from thickset.ground.notation.lengths import INCH, Units, has_unit, near, shown

LEAST_OF_A_BOARD = 15
"""A width or length is never less [mm]; where less makes sense, three decimals do too."""

FAR_ABOVE, TIMES_ABOVE = INCH, 3
"""A reading further above the target than this [mm], and more than so many times the target, is asked about; the project's own
bound, no source: 8/4 stock for 3/4 in is under it."""

WIDEST_USUAL = 36 * INCH
"""A board wider than this [mm] is asked about where no planer's limit is entered; common practice, no source."""

_THOUSANDS = re.compile(r"\s*([1-9]\d{0,2})[.,](\d{3})([^\d.,/].*)?\Z", re.DOTALL)

_FRACTION = re.compile(r"([1-9]\d{0,3})\s*/\s*([1-9]\d{0,2})")
_DECIMAL = re.compile(r"\d{1,6}(?:[.,]\d{1,4})?")


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


def check_reading(typed: str, reading: Fraction, target: Fraction, unit: Units) -> None:
    """Raise SlipError where a reading [mm] without a unit is far above the target [mm]; the likely readings come first.

    >>> check_reading("27/8", 27 * INCH / 8, 3 * INCH / 4, "in")
    Traceback (most recent call last):
    thickset.ground.notation.slips.SlipError: '27/8' is read as 3 3/8 in, and that is 2 5/8 in above the target. Write 2 7/8 in, 27/32 in or 27/8 in.
    """
    if reading - target <= FAR_ABOVE or reading <= TIMES_ABOVE * target or has_unit(typed):
        return
    said = (
        f"{shown(typed)} is read as {near(reading, unit)}, and that is {near(reading - target, unit)} above the target."
    )
    raise _asked(said, typed, _likely(typed, target, target + FAR_ABOVE, unit), unit)


def check_width(typed: str, width: Fraction, unit: Units) -> None:
    """Raise SlipError where a width [mm] without a unit is more than nearly any planer takes; the likely width comes first.

    Valid: where the planer's own limit is not entered.

    >>> check_width("1500", Fraction(1500), "mm")
    Traceback (most recent call last):
    thickset.ground.notation.slips.SlipError: '1500' is read as 1500 mm, and hardly any planer is so wide. Write 150 mm or 1500 mm.
    """
    if width > WIDEST_USUAL and not has_unit(typed):
        said = f"{shown(typed)} is read as {near(width, unit)}, and hardly any planer is so wide."
        raise _asked(said, typed, _likely(typed, Fraction(LEAST_OF_A_BOARD), WIDEST_USUAL, unit), unit)


def _asked(said: str, typed: str, likely: list[str], unit: Units) -> SlipError:
    cures = [f"{one} {unit}" for one in [*likely, typed.strip()]]
    return SlipError(f"{said} Write {', '.join(cures[:-1])}{' or ' if likely else ''}{cures[-1]}.", *cures)


def _likely(typed: str, least: Fraction, most: Fraction, unit: Units) -> list[str]:
    """What may have been meant: a space left out, another denominator, a decimal point left out; the last two from `least` to `most` [mm]."""
    size = INCH if unit == "in" else Fraction(1)
    if found := _FRACTION.fullmatch(typed.strip()):
        over, under = found.groups()
        whole, rest = over[0], over[1:]
        spaced = [f"{whole} {rest}/{under}"] if rest and rest[0] != "0" and int(rest) < int(under) else []
        finer = [n for n in (8, 16, 32, 64) if n > int(under) and least <= int(over) * size / n <= most]
        return [*spaced, *(f"{over}/{n}" for n in finer[-1:])]
    if not _DECIMAL.fullmatch(typed.strip()):
        return []
    value = numbers.read(typed.strip())
    shifted = [value / tens for tens in (10, 100) if least <= value * size / tens <= most]
    return [text for one in shifted[:1] if (text := numbers.decimal(one, 6))]


def _thousands(asked: str, found: re.Match[str]) -> SlipError:
    whole, decimals, named = found.groups()
    cure = f"{whole}{decimals}{(named or '').rstrip()}"
    return SlipError(f"{asked} Write {cure}, without a comma or point.", cure)
