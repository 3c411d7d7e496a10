"""Lengths as people write and read them, exact in millimetres.

Inside, a length is a `Fraction` in mm. It is shown so that reading it back gives the same length.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from thickset.ground.notation import numbers, units

Units = Literal["in", "mm"]
UNITS: tuple[Units, ...] = ("in", "mm")

INCH = Fraction(254, 10)
"""One inch [mm], exact (NIST SP 811)."""

FINEST_MARK = 64
"""Parts of an inch that a shop's rule shows; finer values are shown in decimals."""

LEAST, LONGEST = Fraction(1, 10_000), Fraction(100_000)
"""No length of a shop is less or more [mm]: a slip of the hand or of the unit, whatever unit was written."""

HOW_TO_WRITE: dict[Units, str] = {
    "in": "Write it like 1 3/32 or 1.09375. Another unit needs its name.",
    "mm": "Write it like 27.8. Another unit needs its name.",
}

_NUMBER_AND_UNIT = re.compile(r"([\d\s.,/\-]*)(\D.*)?\Z", re.DOTALL)
_FEET_AND_INCHES = re.compile(
    r"([\d\s.,/\-]+)(?:(?:ft|feet|foot)(?:\.(?=\s))?|'|′|’)\s*(?:-\s*)?([\d.].*)\Z", re.DOTALL
)
_SIGNS = {'"': "in", "″": "in", "”": "in", "“": "in", "''": "in", "'": "ft", "′": "ft", "’": "ft"}


class LengthError(ValueError):
    """A length that cannot be read; the message shows what was typed and how to write it."""


@lru_cache(maxsize=8192)
def read(text: str, unit: Units, zero: bool = False) -> Fraction:
    """Read a length [mm]; without a unit of its own it is in `unit` [in or mm].

    Valid: 0.0001 mm to 100 m, and zero with `zero`.

    >>> read("1 1/16\\"", "mm") == read("1.0625", "in") == read("17/16 in", "mm")
    True
    >>> read("27,8", "mm"), read("2.5 cm", "in"), read("4 ft 1 1/2 in", "mm"), read("4'-1 1/2\\"", "mm")
    (Fraction(139, 5), Fraction(25, 1), Fraction(12573, 10), Fraction(12573, 10))
    >>> read("1 3", "in")
    Traceback (most recent call last):
    thickset.ground.notation.lengths.LengthError: '1 3' cannot be read: it is no number. Write it like 1 3/32 or 1.09375. Another unit needs its name.
    >>> read("2 kg", "in")
    Traceback (most recent call last):
    thickset.ground.notation.lengths.LengthError: '2 kg' cannot be read: kg is a weight, and this is to be a length. Write it like 1 3/32 or 1.09375. Another unit needs its name.
    """
    try:
        length = _read(text, unit)
        if length == 0 and not zero:
            raise numbers.NumberError("a length is above zero")
        return in_a_shop(length)
    except (numbers.NumberError, units.UnitError) as error:
        if not text.strip():
            raise LengthError(f"Nothing is entered. {HOW_TO_WRITE[unit]}") from error
        raise LengthError(f"{shown(text)} cannot be read: {error}. {HOW_TO_WRITE[unit]}") from error


def in_a_shop(length: Fraction) -> Fraction:
    """The length [mm] itself; a NumberError where nothing in a shop is so long or so short.

    >>> in_a_shop(Fraction(20))
    Fraction(20, 1)
    >>> in_a_shop(Fraction(10) ** 6)
    Traceback (most recent call last):
    thickset.ground.notation.numbers.NumberError: it is beyond any size in a shop
    """
    if length and not LEAST <= length <= LONGEST:
        raise numbers.NumberError("it is beyond any size in a shop")
    return length


def has_unit(text: str) -> bool:
    """Whether the text names its unit itself.

    >>> has_unit("27.8 mm"), has_unit("1 3/32")
    (True, False)
    """
    found = _NUMBER_AND_UNIT.match(numbers.spelled_out(text).strip())
    return bool(found and found[2])


def show(length: Fraction, unit: Units) -> str:
    """The length [mm] in words, exactly, with its unit.

    Inches as fractions to 1/64, else in decimals; mm in decimals. What has no short form in the wanted unit is shown
    in the other, or as a plain fraction: reading it back always gives the same length.

    >>> show(Fraction("27.78125"), "in"), show(Fraction("27.78125"), "mm"), show(Fraction("27.8"), "in")
    ('1 3/32 in', '27.78125 mm', '27.8 mm')
    """
    inches = length / INCH
    as_mm = numbers.decimal(length, 6)
    if FINEST_MARK % inches.denominator == 0:
        as_inches: str | None = numbers.mixed(inches)
    else:
        as_inches = numbers.decimal(inches, 6)
    preferred, other = (as_inches, as_mm) if unit == "in" else (as_mm, as_inches)
    if preferred is not None:
        return f"{preferred} {unit}"
    if other is not None:
        return f"{other} {'mm' if unit == 'in' else 'in'}"
    return f"{numbers.mixed(inches)} in" if inches.denominator <= 1024 else f"{_long(length)} mm"


def near(length: Fraction, unit: Units, digits: int = 2) -> str:
    """The length [mm] as one reads it: an exact fraction of an inch where there is one, else rounded decimals.

    >>> near(Fraction("27.78125"), "in"), near(Fraction("27.8"), "in"), near(Fraction("27.78125"), "mm")
    ('1 3/32 in', '1.094 in', '27.78 mm')
    """
    if unit == "in" and _is_on_mark(length):
        return f"{numbers.mixed(length / INCH)} in"
    return _rounded(length, unit, digits)


def alike(lengths: Sequence[Fraction], unit: Units) -> list[str]:
    """Lengths [mm] that are held against each other, in one form: as fractions of an inch where all are some.

    >>> alike([Fraction("1.5875"), Fraction("1.17")], "in"), alike([Fraction("1.5875"), Fraction("0.79375")], "in")
    (['0.063 in', '0.046 in'], ['1/16 in', '1/32 in'])
    """
    if unit == "in" and not all(map(_is_on_mark, lengths)):
        return [_rounded(length, unit, 2) for length in lengths]
    return [near(length, unit) for length in lengths]


def _is_on_mark(length: Fraction) -> bool:
    return FINEST_MARK % (length / INCH).denominator == 0


def _rounded(length: Fraction, unit: Units, digits: int) -> str:
    if unit == "mm":
        return f"{numbers.rounded(length, digits)} mm"
    return f"{numbers.rounded(length / INCH, digits + 1)} in"


@lru_cache(maxsize=2048)
def on_scale(length: Fraction, unit: Units) -> str:
    """A setting [mm] as it is set by a scale: exact where that is short, else rounded, with its mark in the other unit.

    >>> on_scale(Fraction("23.8125"), "in"), on_scale(Fraction(22), "in"), on_scale(Fraction("19.0627"), "in")
    ('15/16 in', '0.866 in (22 mm)', '0.7505 in')
    >>> on_scale(Fraction("22.225"), "mm"), on_scale(Fraction("26.9875"), "mm"), on_scale(Fraction("26.209375"), "mm")
    ('22.225 mm', '26.99 mm (1 1/16 in)', '26.21 mm')
    >>> on_scale(Fraction("26.365625"), "in")
    '1.038 in (26.37 mm)'
    """
    rounded = near(length, unit)
    if _is_short(length, unit):
        return rounded
    if unit == "in":
        exact = show(length, unit)
        return exact if exact.endswith("in") else f"{rounded} ({near(length, 'mm')})"
    if exact_mm := numbers.decimal(length, 3):
        return f"{exact_mm} mm"
    return f"{rounded} ({show(length, 'in')})" if FINEST_MARK % (length / INCH).denominator == 0 else rounded


def _is_short(length: Fraction, unit: Units) -> bool:
    """Whether `near` says the length [mm] exactly."""
    if unit == "mm":
        return (length * 100).denominator == 1
    inches = length / INCH
    return _is_on_mark(length) or (inches * 1000).denominator == 1


@lru_cache(maxsize=8192)
def both(length: Fraction, unit: Units) -> str:
    """The length [mm] as it was understood: exact in the wanted unit, the other beside it.

    >>> both(Fraction("27.78125"), "in"), both(Fraction("27.8"), "mm")
    ('1 3/32 in (27.78 mm)', '27.8 mm (1.094 in)')
    """
    other: Units = "mm" if unit == "in" else "in"
    exact = show(length, unit)
    if exact.endswith(other):
        return f"{near(length, unit)} ({exact})"
    return f"{exact} ({near(length, other)})"


def shown(text: str) -> str:
    """What was typed, quoted, shortened when long.

    >>> shown("1/0"), shown("9" * 5000)
    ("'1/0'", "'999999999999999999999999...'")
    """
    flat = " ".join("".join(char if char.isprintable() else " " for char in text[:80]).split())
    return f"'{flat[:24]}...'" if len(text) > 40 else f"'{flat}'"


def _read(text: str, unit: Units) -> Fraction:
    if len(text) > numbers.LONGEST:
        raise numbers.NumberError(f"it is {len(text):,} characters long")
    text = numbers.spelled_out(text).strip()
    if found := _FEET_AND_INCHES.match(text):
        feet, rest = found.groups()
        return numbers.read(feet) * 12 * INCH + _read(rest if has_unit(rest) else rest + " in", "in")
    found = _NUMBER_AND_UNIT.match(text)
    if not found:
        raise numbers.NumberError("it is no number")
    number, named = found.groups()
    if not number.strip() and named:
        raise numbers.NumberError("it has no number")
    value = numbers.read(number)
    if not named:
        return value * (INCH if unit == "in" else 1)
    named = named.strip().rstrip(".")
    return value * units.factor(_SIGNS.get(named, named.lower()), "mm")


def _long(length: Fraction) -> str:
    return numbers.decimal(length, 30) or f"{length.numerator}/{length.denominator}"
