"""A formula of the trade said once, on the function that computes it, so that a result can be asked why.

The result is always that of the function itself; a test works the written steps out and holds them to it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple, TypeVar

from thickset.trade.limits import OutOfRangeError

Function = TypeVar("Function", bound=Callable[..., object])


class Input(NamedTuple):
    """One input: the function's name for it, its symbol, its unit and what it is.

    >>> Input("feed", "v", "m/min", "feed").symbol
    'v'
    """

    name: str
    symbol: str
    unit: str
    words: str


@dataclass(frozen=True)
class Formula:
    """What a function computes: title, unit, inputs, steps, limits, source, how known.

    steps: pairs of symbol and expression; the last is the result. None where the function
    looks a table up or goes on until it is exact enough. in_inch: the same for lengths in
    inches and feeds in ft/min, where that changes them.

    >>> Formula(abs, "size", "mm", "Size without sign.", (), (), "", "", "derived").unit
    'mm'
    """

    function: Callable[..., object]
    title: str
    unit: str
    words: str
    inputs: tuple[Input, ...]
    steps: tuple[tuple[str, str], ...]
    limits: str
    source: str
    known: str
    in_inch: tuple[tuple[str, str], ...] = ()

    def steps_in(self, units: str) -> tuple[tuple[str, str], ...]:
        """The steps for a job in "in" or "mm"."""
        return self.in_inch if units == "in" and self.in_inch else self.steps


class Worked(NamedTuple):
    """A formula with numbers put in, each input beside its value; value in its unit.

    >>> Worked(None, (), 1.5).value
    1.5
    """

    formula: Formula | None
    put_in: tuple[tuple[Input, object], ...]
    value: object


FORMULAS: dict[Callable[..., object], Formula] = {}
"""Every formula of the modules that were imported, by its function."""


def formula(
    title: str, words: str, *, limits: str, source: str, known: str, steps: str = "", in_inch: str = "", **inputs: str
) -> Callable[[Function], Function]:
    """Writes a function's formula down and leaves the function as it is.

    title: of the result with its unit, "pitch [mm]"; inputs: "n [rpm] speed of the head" under the
    function's name for it, in its order; steps: "R = D / 2; h = 2 × R", the last the result.

    >>> @formula("twice [mm]", "Two times.", limits="any.", source="derived.", known="derived", steps="d = 2 × a", size="a [mm] size")
    ... def twice(size: float) -> float:
    ...     return 2 * size
    >>> worked(twice, size=1.5).value, FORMULAS.pop(twice).steps
    (3.0, (('d', '2 × a'),))
    """
    name, unit = title.removesuffix("]").rsplit(" [", 1)
    written = tuple(_input(each, text) for each, text in inputs.items())

    def write(function: Function) -> Function:
        FORMULAS[function] = Formula(
            function, name, unit, words, written, _pairs(steps), limits, source, known, _pairs(in_inch)
        )
        return function

    return write


def _pairs(steps: str) -> tuple[tuple[str, str], ...]:
    pairs = (step.split(" = ", 1) for step in steps.split("; ") if step)
    return tuple((symbol, expression) for symbol, expression in pairs)


def _input(name: str, text: str) -> Input:
    symbol, rest = text.split(" [", 1)
    unit, words = rest.split("] ", 1)
    return Input(name, symbol, unit, words)


def worked(function: Callable[..., object], **numbers: object) -> Worked:
    """A formula worked with numbers by name [its own units]; out of range is the function's error.

    >>> from thickset.trade.load import removal_rate
    >>> answer = worked(removal_rate, width=300.0, depth=1.5, feed=8.0)
    >>> answer.value, answer.formula.unit, answer.formula.steps
    (3600.0, 'cm3/min', (('Q', 'b × d × v'),))
    >>> [(each.symbol, value, each.unit) for each, value in answer.put_in]
    [('b', 300.0, 'mm'), ('d', 1.5, 'mm'), ('v', 8.0, 'm/min')]
    """
    put_in = tuple((each, numbers[each.name]) for each in FORMULAS[function].inputs if each.name in numbers)
    return Worked(FORMULAS[function], put_in, function(**numbers))


def within_range(function: Callable[..., object], **numbers: object) -> Worked | None:
    """A formula worked with numbers by name [its own units]; None where they are out of its range.

    >>> from thickset.trade.marks import wave_height
    >>> within_range(wave_height, pitch=200.0, diameter=100.0) is None
    True
    """
    try:
        return worked(function, **numbers)
    except OutOfRangeError:
        return None


def telling(one: Worked, more: Mapping[str, str]) -> Worked:
    """A worked formula with more words behind inputs, each by its name.

    >>> from thickset.trade.marks import pitch
    >>> answer = telling(worked(pitch, speed=5000.0, knives=1, feed=5.0), {"speed": "by its plate"})
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

    >>> from thickset.trade.marks import pitch
    >>> number(worked(pitch, speed=5000.0, knives=1, feed=5.0))
    1.0
    """
    if not isinstance(one.value, int | float | Fraction):
        raise TypeError("this formula gives no single number")
    return float(one.value)
