"""Reads one entry of a job document, by its kind; a ValueError shows what was typed and how to write it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any

from thickset.ground.job.fields import Field
from thickset.ground.notation import lengths, numbers, slips, units
from thickset.ground.notation.lengths import Units, shown
from thickset.ground.notation.places import Place, read_place
from thickset.ground.woods import species

LONGEST_NAME = 60
MOST_ALIKE = 100_000
MOST_FEEDS = 40

_TEMPERATURE = re.compile(r"([-−]?)\s*([\d.,]+)\s*°?\s*([FfCc])\Z")
_PER = re.compile(
    r"\s*(?:/|\b(?:an?|per)\b)\s*(?:(board (?:foot|feet)|bd\.? ?ft\.?|bf)|(m3|m³|cubic met(?:er|re)s?))\Z",
    re.IGNORECASE,
)
_BOARD_FEET_OF_CUBIC_METER = Fraction(10**9) / (144 * lengths.INCH**3)
_RANGE = re.compile(r"\s+to\s+|\s*\.\.+\s*|(?<=\S)\s*(?:[–—]|-(?!\s*\d+\s*/\s*\d))\s*")
_PER_MINUTE = re.compile(r"\s*(?:(?<=[\d\s])(?:(?<=\s)1|r|u)?\s*/\s*min|min\s*(?:\^?-\s*1|⁻¹))\.?\s*\Z", re.IGNORECASE)

SLOWEST_FEED, SLOWEST_HEAD = Fraction(1, 2), 100
"""No planer feeds [m/min] or turns [rpm] more slowly: a slip of the hand. Common practice, no source."""


def show_feed(feed: Fraction, unit: Units) -> str:
    """A feed [m/min] in the words of a job in `unit`, the other beside it.

    >>> show_feed(Fraction("6.096"), "in"), show_feed(Fraction(6), "mm")
    ('20 ft/min (6.1 m/min)', '6 m/min (19.7 ft/min)')
    """
    feet = f"{numbers.rounded(feed / units.factor('ft', 'mm') * 1000, 1)} ft/min"
    metres = f"{numbers.rounded(feed, 1)} m/min"
    return f"{feet} ({metres})" if unit == "in" else f"{metres} ({feet})"


_WRITTEN: dict[str, dict[Units, str] | str] = {
    "text": "Write a few words.",
    "length": lengths.HOW_TO_WRITE,
    "feed": {"in": "Write it with its unit, like 20 ft/min.", "mm": "Write it with its unit, like 6 m/min."},
    "feeds": {
        "in": "Write it with its unit, like 20 ft/min, or a range like 10 to 25 ft/min.",
        "mm": "Write it with its unit, like 6 m/min, or a range like 3 to 8 m/min.",
    },
    "speed": "Write it like 5000 rpm.",
    "density": {"in": "Write it like 42 lb/ft3 or 672 kg/m3.", "mm": "Write it like 672 kg/m3."},
    "whole": "Write a whole number from 1.",
    "tally": "Write a whole number from 0.",
    "number": "Write a number like 10 or 12.5.",
    "species": "Choose a wood of the list.",
    "signed": "Write a number like 0.12 or -0.12.",
    "percent": "Write per cent, like 9.",
    "temperature": {"in": "Write it with its unit, like 70 F.", "mm": "Write it with its unit, like 21 C."},
    "volume": {"in": "Write it with its unit, like 30 gal.", "mm": "Write it with its unit, like 100 L."},
    "flow": {"in": "Write it with its unit, like 800 cfm.", "mm": "Write it with its unit, like 1350 m3/h."},
    "level": "Write it in dBA, like 102.",
    "price": {
        "in": "Write it like 6.50, or with what it buys: 6.50 per board foot.",
        "mm": "Write it like 2800, or with what it buys: 2800 per m3.",
    },
    "place": "Write end 1, middle or end 2, then left, center or right, like middle left.",
}


def how_to_write(one: Field, unit: Units) -> str:
    """What helps who cannot be read, in the units of the job.

    >>> from thickset.ground.job.fields import FIELDS
    >>> how_to_write(FIELDS["cutting.ends"], "mm"), how_to_write(FIELDS["planer.known_cut.feed"], "mm")
    ('Write alone, butted or guarded.', 'Write it with its unit, like 6 m/min.')
    """
    if one.kind != "choice":
        written = _WRITTEN[one.kind]
        return written if isinstance(written, str) else written[unit]
    *others, last = one.words
    return f"Write {', '.join(others)} or {last}."


_Read = Callable[[Any, Field, Units], tuple[Any, str]]


def read(given: object, one: Field, unit: Units) -> tuple[Any, str]:
    """An entry by its kind, and how it was understood. No expression ever sees a text longer than a person writes.

    >>> from thickset.ground.job.fields import FIELDS
    >>> read("70 F", FIELDS["service.temperature"], "in")[1]
    '21.1 C'
    """
    if isinstance(given, str) and len(given) > numbers.LONGEST and one.kind not in ("text", "species"):
        raise ValueError(
            f"{shown(given)} cannot be read: it is {len(given):,} characters long. {how_to_write(one, unit)}"
        )
    return READERS[one.kind](given, one, unit)


def _text(given: object, one: Field, unit: Units) -> tuple[str, str]:
    text = " ".join(str(given).split()) if isinstance(given, str | int) and not isinstance(given, bool) else None
    if text is None or not text.isprintable():
        raise ValueError(f"{shown(str(given))} is no plain text. {how_to_write(one, unit)}")
    if len(text) > LONGEST_NAME:
        raise ValueError(f"{shown(text)} is {len(text):,} characters long. Keep it to {LONGEST_NAME}.")
    return text, ""


def _length(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    if one.below:
        size, sign = _without_sign(given)
        length, words = _length(size, replace(one, below=False), unit)
        return sign * length, words if sign > 0 else ""
    if isinstance(given, str):
        return _typed_length(given, one.bare, one.zero, unit)
    number = _plain(given, one, unit)
    if number == 0 and not one.zero:
        raise ValueError(f"'0' cannot be read: a length is above zero. {lengths.HOW_TO_WRITE[unit]}")
    try:
        length = lengths.in_a_shop(number * (lengths.INCH if unit == "in" else 1))
    except numbers.NumberError as error:
        raise ValueError(f"{shown(str(given))} cannot be read: {error}. {lengths.HOW_TO_WRITE[unit]}") from error
    if one.bare:
        slips.check_size(str(given), length, one.bare, unit)
    return length, lengths.both(length, unit)


@lru_cache(maxsize=16384)
def _typed_length(given: str, bare: tuple[str, str] | None, zero: bool, unit: Units) -> tuple[Fraction, str]:
    """A length as text. Readings of a lot are much alike, and come again with every key that is typed."""
    length = lengths.read(given, unit, zero)
    if bare:
        slips.check_thousands(given, length, bare)
        if not lengths.has_unit(given):
            slips.check_size(given.strip(), length, bare, unit)
    return length, lengths.both(length, unit)


def _measure(given: object, one: Field, to: str, unit: Units) -> tuple[Fraction, str]:
    """A number and its unit, for whatever is no length."""
    how = how_to_write(one, unit)
    if not isinstance(given, str):
        return _plain(given, one, unit), ""
    if one.kind not in ("feed", "feeds"):
        slips.check_two_ways(given)
    text = numbers.spelled_out(given).strip()
    cut = next((n for n, char in enumerate(text) if char.isalpha()), len(text))
    try:
        number = text[:cut] if len(text) <= numbers.LONGEST else text
        if text.strip() and not number.strip():
            raise numbers.NumberError("it has no number")
        value = numbers.read(number)
        named = text[cut:].strip().removesuffix(".")
        if value == 0:
            raise numbers.NumberError("it must be above zero")
        return value * (units.factor(named, to) if named else 1), named
    except (numbers.NumberError, units.UnitError) as error:
        raise ValueError(f"{shown(given)} cannot be read: {error}. {how}") from error


def _feed(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    feed, named = _measure(given, one, "m/min", unit)
    if not named:
        raise ValueError(f"{shown(str(given))} names no unit. {how_to_write(one, unit)}")
    if feed < SLOWEST_FEED:
        raise ValueError(
            f"{shown(str(given))} is read as {show_feed(feed, unit)}, and no planer feeds so slowly. {how_to_write(one, unit)}"
        )
    return feed, show_feed(feed, unit)


def _feeds(given: object, one: Field, unit: Units) -> tuple[tuple[Fraction, ...], str]:
    """One feed, or all of a range in steps that a person sets by hand; both ends belong to it."""
    ends = _RANGE.split(given.strip(), maxsplit=1) if isinstance(given, str) else [given]
    if len(ends) == 1:
        feed, words = _feed(given, one, unit)
        return (feed,), words
    last, named = _measure(ends[1], one, "m/min", unit)
    first, first_named = _measure(ends[0], one, "m/min", unit)
    if not named:
        raise ValueError(f"{shown(str(given))} names no unit. {how_to_write(one, unit)}")
    if not first_named:
        first *= units.factor(named, "m/min")
    if not 0 < first < last:
        raise ValueError(
            f"{shown(str(given))}: a range goes from a slower feed to a faster one. {how_to_write(one, unit)}"
        )
    feet = units.factor("ft/min", "m/min")
    step, said = (feet, "1 ft/min") if named.casefold().startswith("f") else (Fraction(1, 2), "0.5 m/min")
    count = -((first - last) // step)
    if count >= MOST_FEEDS:
        raise ValueError(
            f"{shown(str(given))} is more than {MOST_FEEDS} feeds in steps of {said}. Give a narrower range."
        )
    feeds = (*(first + n * step for n in range(count)), last)
    ends_said = (show_feed(end, unit).partition(" (")[0] for end in (first, last))
    return feeds, f"{' to '.join(ends_said)} in steps of {said}"


def _speed(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    text = _PER_MINUTE.sub(" rpm", given) if isinstance(given, str) else given
    speed, _named = _measure(text, one, "rpm", unit)
    if speed == 0:
        raise ValueError("'0' cannot be read: it must be above zero. Write it like 5000 rpm.")
    if speed < SLOWEST_HEAD:
        raise ValueError(
            f"{shown(str(given))} is read as {numbers.rounded(speed, 1)} rpm, and no head turns so slowly. "
            "Write it like 5000 rpm."
        )
    return speed, f"{numbers.rounded(speed, 0)} rpm"


def _density(given: object, one: Field, unit: Units) -> tuple[species.Species, str]:
    density, _named = _measure(given, one, "kg/m**3", unit)
    wood = species.by_density(density)
    return wood, wood.name


def _whole(given: object, one: Field, unit: Units) -> tuple[int, str]:
    if isinstance(given, str):
        slips.check_two_ways(given)
    number = _number(given, one, unit)[0]
    least = 0 if one.kind == "tally" else 1
    if number.denominator != 1 or not least <= number <= MOST_ALIKE:
        raise ValueError(
            f"{shown(str(given))} is no whole number from {least} to {MOST_ALIKE:,}. {how_to_write(one, unit)}"
        )
    return int(number), ""


def _number(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    if not isinstance(given, str):
        return _plain(given, one, unit), ""
    try:
        return numbers.read(given), ""
    except numbers.NumberError as error:
        raise ValueError(f"{shown(given)} cannot be read: {error}. {how_to_write(one, unit)}") from error


def _species(given: object, one: Field, unit: Units) -> tuple[species.Species, str]:
    if not isinstance(given, str):
        raise ValueError(f"{shown(str(given))} is no name. {how_to_write(one, unit)}")
    wood = species.require(given)
    return wood, wood.name


def _choice(given: object, one: Field, unit: Units) -> tuple[str, str]:
    if given not in one.words:
        *others, last = one.words
        none = f"neither {others[0]} nor {last}" if len(others) == 1 else f"none of {', '.join(one.words)}"
        raise ValueError(f"{shown(str(given))} is {none}. {how_to_write(one, unit)}")
    return str(given), ""


def _signed(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    """A number that may be below zero."""
    size, sign = _without_sign(given)
    return sign * _number(size, one, unit)[0], ""


def _without_sign(given: object) -> tuple[object, int]:
    """What was given without the sign before it, and 1 or -1 for that."""
    if isinstance(given, str):
        text = numbers.spelled_out(given).strip()
        signed = text.startswith(("-", "+"))
        return (text[1:].strip() if signed else given), (-1 if text.startswith("-") else 1)
    if isinstance(given, int | float | Decimal) and not isinstance(given, bool) and given < 0:
        return -given, -1
    return given, 1


def _percent(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    text = given.strip().removesuffix("%").strip() if isinstance(given, str) else given
    number, _ = _number(text, one, unit)
    if one.most is not None and number > one.most:
        raise ValueError(f"{shown(str(given))} is more than {one.most} %. {how_to_write(one, unit)}")
    return number, ""


def _temperature(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    """A temperature [C]."""
    how = how_to_write(one, unit)
    found = _TEMPERATURE.match(given.strip()) if isinstance(given, str) else None
    if not found:
        raise ValueError(f"{shown(str(given))} names no temperature with its unit. {how}")
    sign, digits, scale = found.groups()
    value = _number(digits, one, unit)[0] * (-1 if sign else 1)
    celsius = (value - 32) * Fraction(5, 9) if scale in "fF" else value
    if not (30 <= celsius * Fraction(9, 5) + 32 <= 130 or -1 <= celsius <= 54):
        raise ValueError(f"{shown(str(given))} is outside 30 to 130 F (-1 to 54 C), where the formula holds. {how}")
    return celsius, f"{numbers.rounded(celsius, 1)} C" if celsius >= 0 else ""


def _volume(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    volume, named = _measure(given, one, "L", unit)
    if not named or volume == 0:
        raise ValueError(f"{shown(str(given))} is no volume with its unit. {how_to_write(one, unit)}")
    return volume, f"{numbers.rounded(volume, 0)} L"


def _flow(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    flow, named = _measure(given, one, "m**3/h", unit)
    if not named or flow == 0:
        raise ValueError(f"{shown(str(given))} is no flow with its unit. {how_to_write(one, unit)}")
    return flow, f"{numbers.rounded(flow, 0)} m3/h"


def _level(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    text = given.strip().removesuffix("dBA").removesuffix("dB(A)").strip() if isinstance(given, str) else given
    level, _ = _number(text, one, unit)
    if not 70 <= level <= 140:
        raise ValueError(f"{shown(str(given))} is outside 70 to 140 dBA. {how_to_write(one, unit)}")
    return level, ""


def _price(given: object, one: Field, unit: Units) -> tuple[Fraction, str]:
    """Money a board foot in a job in inches, a cubic meter in one in mm, whichever it was said for."""
    found = _PER.search(given) if isinstance(given, str) else None
    price = _number(given[: found.start()] if found and isinstance(given, str) else given, one, unit)[0]
    if not found or bool(found[1]) == (unit == "in"):
        return price, ""
    if unit == "in":
        price /= _BOARD_FEET_OF_CUBIC_METER
        return price, f"{numbers.rounded(price, 2)} a board foot"
    price *= _BOARD_FEET_OF_CUBIC_METER
    return price, f"{numbers.rounded(price, 0)} a cubic meter"


def _place(given: object, one: Field, unit: Units) -> tuple[Place, str]:
    try:
        place = read_place(given if isinstance(given, str) else "")
    except ValueError as error:
        raise ValueError(f"{shown(str(given))} is no spot of a board. {how_to_write(one, unit)}") from error
    return place, ""


def _plain(given: object, one: Field, unit: Units) -> Fraction:
    how = how_to_write(one, unit)
    if isinstance(given, bool) or not isinstance(given, int | float | Decimal):
        raise ValueError(f"{shown(str(given))} cannot be read: it is no number. {how}")
    try:
        return numbers.exact(given)
    except numbers.NumberError as error:
        raise ValueError(f"{shown(str(given))} cannot be read: {error}. {how}") from error


READERS: dict[str, _Read] = {
    "text": _text,
    "length": _length,
    "feed": _feed,
    "feeds": _feeds,
    "speed": _speed,
    "density": _density,
    "whole": _whole,
    "tally": _whole,
    "number": _number,
    "species": _species,
    "choice": _choice,
    "signed": _signed,
    "percent": _percent,
    "temperature": _temperature,
    "volume": _volume,
    "flow": _flow,
    "level": _level,
    "place": _place,
    "price": _price,
}
