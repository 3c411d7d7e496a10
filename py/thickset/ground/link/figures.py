"""Numbers of a job as they are written, taken apart so that they pack well and put together again to the letter.

Links of version 1 depend on everything here: it may not change.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

KINDS = (
    *("text", "mixed", "hyphen", "rule", "over", "point", "comma", "bare"),
    *("whole", "decimal", "numeral", "null", "true", "false", "list", "object", "usual"),
)
"""How a value may stand in a document. From `mixed` to `bare` it is a text that holds a number; the numbers of JSON
follow, then what else JSON has, and what is usual at a place. mixed: 1 3/32, hyphen: 1-3/32, rule: 1 2/4, over: 35/32, point: 27.80, comma: 27,8, bare: .75."""

KIND = {name: number for number, name in enumerate(KINDS)}

SUFFIXES = (
    *("", " mm", " in", " ft/min", " m/min", " rpm", " kg/m3", '"', "mm", "in", "rpm", "ft/min", "m/min", "kg/m3"),
    *(" cm", "cm", " m", "m", " ft", "ft", "'", "″", " ″", " in.", " inch", " inches", " fpm", " lb/ft3"),
)
_SUFFIX = {text: number for number, text in enumerate(SUFFIXES)}

MOST_HALVINGS = 10
_BINARY = {KIND[name] for name in ("mixed", "hyphen", "rule", "over")}
_NUMBER_AND_SUFFIX = re.compile(r"([0-9./,\- ]*[0-9])([^0-9]*|[^0-9]*m3|[^0-9]*ft3)\Z")
_WITH_WHOLE = re.compile(r"([0-9]{1,7})([ -])([0-9]{1,4})/([0-9]{1,4})\Z")
_FRACTION = re.compile(r"([0-9]{1,7})/([0-9]{1,4})\Z")
_DECIMAL = re.compile(r"([0-9]{0,7})([.,])([0-9]{1,12})\Z")


class Figure(NamedTuple):
    """A number as written: its kind, the unit behind it, how fine (halvings or decimal places), and how many of those."""

    kind: int
    suffix: int = 0
    fine: int = 0
    number: int = 0

    @property
    def value(self) -> Fraction:
        """What it comes to, in its own unit."""
        return Fraction(self.number, 2**self.fine if self.kind in _BINARY else 10**self.fine)


NOTHING = Figure(KIND["text"])


def take_apart(text: str) -> Figure | None:
    """The figure that a text holds, None where it is no figure that comes back to the letter.

    >>> take_apart("1 3/32").number, take_apart("27,80 mm"), take_apart("about 3")
    (35, Figure(kind=6, suffix=1, fine=2, number=2780), None)
    """
    found = _NUMBER_AND_SUFFIX.match(text) if len(text) <= 40 else None
    suffix = _SUFFIX.get(found[2]) if found else None
    if not found or suffix is None:
        return None
    for kind, fine, number in _readings(found[1]):
        figure = Figure(kind, suffix, fine, number)
        if put_together(figure) == text:
            return figure
    return None


def put_together(figure: Figure) -> str:
    """The text of a figure.

    >>> put_together(take_apart("35/32 in"))
    '35/32 in'
    """
    return _number(KINDS[figure.kind], figure.fine, figure.number) + SUFFIXES[figure.suffix]


def of_json(value: Decimal | float) -> Figure | str:
    """A number of JSON [as given] as a figure, or as its numeral where it is an odd one.

    >>> of_json(20), of_json(Decimal("27.8")), of_json(-3)
    (Figure(kind=8, suffix=0, fine=0, number=20), Figure(kind=9, suffix=0, fine=1, number=278), '-3')
    """
    numeral = str(value) if isinstance(value, int) else repr(float(value))
    if isinstance(value, Decimal) and Decimal(numeral) != value:
        numeral = str(value)
        if not numeral.isdecimal():
            raise ValueError("has more digits than a number keeps here; write it as a text")
    if len(numeral) > 400 or not numeral.strip("-").isascii() or "n" in numeral:
        raise ValueError("is too large or no number at all")
    if numeral.isdecimal():
        return Figure(KIND["whole"], number=int(numeral)) if len(numeral) < 16 else numeral
    found = _DECIMAL.match(numeral)
    if found and put_together(figure := Figure(KIND["decimal"], 0, len(found[3]), int(found[1] + found[3]))) == numeral:
        return figure
    return numeral


def _readings(text: str) -> list[tuple[int, int, int]]:
    """Each way that a number without its unit may be read: kind, fine, number."""
    if text.isdecimal():
        return [(KIND["mixed"], 0, int(text))] if len(text) < 16 else []
    if found := _WITH_WHOLE.match(text):
        whole, between, top, bottom = int(found[1]), found[2], int(found[3]), int(found[4])
        kinds: tuple[str, ...] = ("mixed", "rule") if between == " " else ("hyphen",)
    elif found := _FRACTION.match(text):
        whole, top, bottom = 0, int(found[1]), int(found[2])
        kinds = ("mixed", "rule", "over")
    elif found := _DECIMAL.match(text):
        kind = "bare" if not found[1] else "point" if found[2] == "." else "comma"
        return [(KIND[kind], len(found[3]), int(found[1] + found[3]))]
    else:
        return []
    fine = max(bottom.bit_length() - 1, 0)
    if bottom != 1 << fine or not 1 <= fine <= MOST_HALVINGS:
        return []
    # Only what is in lowest terms is mixed or hyphened: its last bit is not packed.
    return [(KIND[kind], fine, whole * bottom + top) for kind in kinds if top % 2 or kind in ("rule", "over")]


def _number(kind: str, fine: int, number: int) -> str:
    if kind in ("point", "comma", "bare", "decimal"):
        digits = str(number).zfill(fine + (kind != "bare"))
        return f"{digits[: len(digits) - fine]}{',' if kind == 'comma' else '.'}{digits[len(digits) - fine :]}"
    bottom = 1 << fine
    if kind == "over":
        return f"{number}/{bottom}"
    whole, top = divmod(number, bottom)
    if kind == "rule":
        return f"{whole} {top}/{bottom}" if whole else f"{top}/{bottom}"
    if not top:
        return str(whole)
    between = "-" if kind == "hyphen" else " "
    return f"{whole}{between}{top}/{bottom}" if whole else f"{top}/{bottom}"
