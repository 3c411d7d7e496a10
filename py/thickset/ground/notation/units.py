"""Units of measure. The only module that meets pint; everything else works on plain numbers in a stated unit."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache
from importlib import resources

import pint

_DEFINITIONS = resources.files("thickset.ground.notation").joinpath("units.txt").read_text(encoding="utf-8")
_REGISTRY: pint.UnitRegistry[Fraction] = pint.UnitRegistry(
    _DEFINITIONS.splitlines(), non_int_type=Fraction, cache_folder=None
)
_NAME = r"[A-Za-z]{1,12}(?:(?:\*\*|\^)?[23])?"
_UNIT = re.compile(rf"{_NAME}(?:\s*/\s*{_NAME})?")
_PER = re.compile(r"\s+per\s+", re.IGNORECASE)
_POWER = re.compile(r"(?:\*\*|\^)?([23])")
_NO_NUMBER = "nan"
"""What pint takes for a number that is none."""
LONGEST = 40
"""Characters of a unit, spaces and all."""
_DIMENSIONS = {
    "mm": "a length",
    "m/min": "a feed (length per minute)",
    "rpm": "a speed of rotation",
    "kg/m**3": "a density",
    "kg": "a weight",
    "s": "a time",
    "m**2": "an area",
    "m**3": "a volume",
    "m**3/h": "an airflow",
}


class UnitError(ValueError):
    """A unit that is unknown, or that measures something else."""


@lru_cache(maxsize=256)
def factor(unit: str, to: str) -> Fraction:
    """How many of `to` [1] make one `unit`, exactly.

    Valid: units of units.txt, of one dimension. Source: exact definitions, NIST SP 811.

    >>> factor("in", "mm")
    Fraction(127, 5)
    >>> factor("ft/min", "m/min") == factor("FT per min", "m/min")
    True
    >>> factor("kg", "mm")
    Traceback (most recent call last):
    thickset.ground.notation.units.UnitError: kg is a weight, and this is to be a length
    """
    plain = _PER.sub("/", unit[: LONGEST + 1].replace("²", "2").replace("³", "3").strip())
    if len(unit) > LONGEST or not _UNIT.fullmatch(plain):
        raise UnitError(f"{unit[:LONGEST]} is no unit")
    if _NO_NUMBER in plain.casefold().replace("/", " ").split():
        raise UnitError(f"{unit} is no unit known here")
    given = _known(_POWER.sub(r"**\1", plain)) or _known(_POWER.sub(r"**\1", plain.lower()))
    if given is None:
        raise UnitError(f"{unit} is no unit known here")
    wanted = _REGISTRY.Quantity(Fraction(1), to)
    if given.dimensionality != wanted.dimensionality:
        raise UnitError(f"{unit} is {_measures(given)}, and this is to be {_DIMENSIONS.get(to, to)}")
    return Fraction(given.to(wanted.units).magnitude)


def _known(name: str) -> pint.Quantity | None:  # type: ignore[type-arg]  # pint's stubs and run time differ here
    try:
        return _REGISTRY.Quantity(Fraction(1), name)
    except pint.UndefinedUnitError:
        return None


def _measures(quantity: pint.Quantity) -> str:  # type: ignore[type-arg]  # pint's stubs and run time differ here
    for unit, words in _DIMENSIONS.items():
        if quantity.dimensionality == _REGISTRY.Quantity(1, unit).dimensionality:
            return words
    return "something else"
