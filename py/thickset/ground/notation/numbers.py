"""Numbers as people write them in a shop: 1 3/32, 1-3/32, 35/32, .75, 27,8, ½. Exact."""

from __future__ import annotations

import re
import unicodedata
from decimal import Decimal
from fractions import Fraction

LONGEST = 60
"""Characters of one entry; a longer one is a slip of the hand or of a scanner."""

LARGEST = 10**7
"""Every number of a job is smaller, whatever its unit."""


class NumberError(ValueError):
    """Text that is no number; the message says what is wrong with it."""


_FRACTION_SIGNS = {
    char: f" {plain.replace('⁄', '/')}"
    for char in map(chr, (*range(0xBC, 0xBF), *range(0x2150, 0x215F)))
    if "⁄" in (plain := unicodedata.normalize("NFKC", char))
}
"""¼, ½, ⅞ and their like; a raised ² or ³ belongs to a unit."""

_MIXED = re.compile(r"(\d{1,7})(?:\s+|\s*-\s*)(\d{1,7})\s*/\s*(\d{1,7})\Z")
_FRACTION = re.compile(r"(\d{1,7})\s*/\s*(\d{1,7})\Z")
_DECIMAL = re.compile(r"(\d{1,20})?(?:[.,](\d{0,20}))?\Z")


def read(text: str) -> Fraction:
    """Read a number [1] exactly.

    Valid: not negative, under ten million, 60 characters; comma or point before the decimals.

    >>> read("1 3/32") == read("1-3/32") == read("35/32") == read("1.09375")
    True
    >>> read("1 ½"), read(".75"), read("27,8")
    (Fraction(3, 2), Fraction(3, 4), Fraction(139, 5))
    >>> read("1/0")
    Traceback (most recent call last):
    thickset.ground.notation.numbers.NumberError: the lower number of a fraction is above zero
    """
    if len(text) > LONGEST:
        raise NumberError(f"it is {len(text)} characters long")
    plain = spelled_out(text).strip()
    if not plain:
        raise NumberError("nothing is entered")
    if found := _MIXED.match(plain):
        whole, top, bottom = map(int, found.groups())
        return whole + _ratio(top, bottom)
    if found := _FRACTION.match(plain):
        return _ratio(*map(int, found.groups()))
    found = _DECIMAL.match(plain)
    if not found or not (found[1] or found[2]):
        raise NumberError("it is no number")
    return _within(Fraction(f"{found[1] or 0}.{found[2] or 0}"))


def exact(value: Decimal | float) -> Fraction:
    """A number of a document as an exact fraction [1].

    Valid: finite, not negative, under ten million. A float is taken by its shortest decimals, as it is written.

    >>> exact(27.8)
    Fraction(139, 5)
    """
    number = Decimal(str(value))
    if not number.is_finite() or number.adjusted() > 7 or (number and number.adjusted() < -20):
        raise NumberError("it is beyond any size in a shop")
    if number < 0:
        raise NumberError("it is below zero")
    return _within(Fraction(number))


def decimal(value: Fraction, digits: int) -> str | None:
    """The number in decimals if it ends within so many `digits` [count], else None.

    >>> decimal(Fraction(35, 32), 8), decimal(Fraction(1, 3), 8), decimal(Fraction(25), 2), decimal(Fraction(-1, 4), 2)
    ('1.09375', None, '25', '−0.25')
    """
    if value < 0:
        positive = decimal(-value, digits)
        return positive and f"−{positive}"
    scaled = value * 10**digits
    if scaled.denominator != 1:
        return None
    whole, rest = divmod(scaled.numerator, 10**digits)
    return f"{whole}.{rest:0{digits}d}".rstrip("0").rstrip(".") if digits else str(whole)


def mixed(value: Fraction) -> str:
    """The number [as given] as whole and fraction.

    >>> mixed(Fraction(35, 32)), mixed(Fraction(3, 4)), mixed(Fraction(2)), mixed(Fraction(-5, 4))
    ('1 3/32', '3/4', '2', '−1 1/4')
    """
    if value < 0:
        return f"−{mixed(-value)}"
    whole, rest = divmod(value.numerator, value.denominator)
    if not rest:
        return str(whole)
    part = f"{rest}/{value.denominator}"
    return f"{whole} {part}" if whole else part


def rounded(value: Fraction, digits: int) -> str:
    """The number to so many decimals [count], half away from zero, without idle zeros.

    >>> rounded(Fraction(2778125, 100000), 2), rounded(Fraction(1, 2), 0), rounded(Fraction(-7, 4), 1), rounded(Fraction(-1, 4), 0)
    ('27.78', '1', '−1.8', '0')
    """
    scaled = (abs(value) * 10**digits + Fraction(1, 2)).__floor__()
    return decimal(Fraction(scaled if value >= 0 else -scaled, 10**digits), digits) or "0"


def spelled_out(text: str) -> str:
    """The text in the plain signs of a keyboard: ½ as 1/2 with a space before it, a long dash as -.

    >>> spelled_out("1½ ″"), spelled_out("672 kg/m³")
    ('1 1/2 ″', '672 kg/m³')
    """
    if text.isascii():
        return text
    signs = text.replace("⁄", "/").replace("−", "-").replace("–", "-").replace("—", "-")
    return "".join(_FRACTION_SIGNS.get(char, char) for char in signs)


def _ratio(top: int, bottom: int) -> Fraction:
    if bottom == 0:
        raise NumberError("the lower number of a fraction is above zero")
    if bottom > 1024:
        raise NumberError("the lower number of a fraction is at most 1024")
    return _within(Fraction(top, bottom))


def _within(value: Fraction) -> Fraction:
    if value >= LARGEST:
        raise NumberError("it is beyond any size in a shop")
    return value
