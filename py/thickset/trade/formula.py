"""A formula of the trade in words and symbols, so that a result can be asked why.

The result is always that of the function itself; a test works the written steps out and
holds them to it, and holds source and limits to the function's own text.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple


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
    looks a table up or goes on until it is exact enough.

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


class Worked(NamedTuple):
    """A formula with numbers put in, each input beside its value; value in its unit.

    >>> Worked(None, (), 1.5).value
    1.5
    """

    formula: Formula | None
    put_in: tuple[tuple[Input, object], ...]
    value: object


def inputs(*lines: str) -> tuple[Input, ...]:
    """Inputs from lines such as "feed: v [m/min] feed" [unit as written].

    lines: name, symbol, unit in brackets, words.

    Valid: lines of that form. Source: none needed.

    >>> inputs("feed: v [m/min] feed")
    (Input(name='feed', symbol='v', unit='m/min', words='feed'),)
    """
    found = []
    for line in lines:
        name, rest = line.split(": ", 1)
        symbol, rest = rest.split(" [", 1)
        unit, words = rest.split("] ", 1)
        found.append(Input(name, symbol, unit, words))
    return tuple(found)
