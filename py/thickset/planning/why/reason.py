"""What an answer to "why this number?" holds: the rule, the numbers put in, the steps, what else was possible."""

from __future__ import annotations

import operator
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple

Kind = Literal["length", "feed", "speed", "marks", "count", "seconds", "minutes", "turns", "share", "given", "word"]
Sign = Literal["≤", "≥", "<", ">"]
Value = Fraction | int | str | None

_HOLDS: dict[Sign, Callable[[Fraction, Fraction], bool]] = {
    "≤": operator.le,
    "≥": operator.ge,
    "<": operator.lt,
    ">": operator.gt,
}


class Quantity(NamedTuple):
    """A number with its name: lengths [mm], feeds [m/min], speeds [rpm], marks [marks/in], times [s, min].

    A `word` is a text, None stands for nothing given; what is `given` has its own unit, whatever the job's.

    >>> Quantity("T", "target", Fraction(20), "length").symbol
    'T'
    """

    symbol: str
    words: str
    value: Value
    kind: Kind
    unit: str = ""

    @property
    def number(self) -> Fraction:
        """The value as a number; a word or nothing has none."""
        if self.value is None or isinstance(self.value, str):
            raise TypeError(f"{self.symbol} is no number")
        return Fraction(self.value)


class Check(NamedTuple):
    """A limit that a rule sets: two quantities and how they must stand to each other.

    >>> Check(Quantity("c", "cut", 2, "length"), "≤", Quantity("C", "planned cut", 1, "length")).holds
    False
    """

    left: Quantity
    sign: Sign
    right: Quantity

    @property
    def holds(self) -> bool:
        """Whether they stand so."""
        return _HOLDS[self.sign](self.left.number, self.right.number)


class Choice(NamedTuple):
    """One of the ways that stood open: what it is, the limits it was held to, what it leads to, whether it was taken.

    >>> Choice("at 8 m/min", (), None, "this one", True).taken
    True
    """

    words: str
    checks: tuple[Check, ...]
    result: Quantity | None
    verdict: str
    taken: bool


@dataclass(frozen=True)
class Reason:
    """Why a number of a plan is what it is; `at` is its path in the plan document.

    `steps` are pairs of a symbol and an expression of earlier symbols; the last one gives the result, `between` holds what
    the ones before it come to. Without steps the choices decide, in their order.
    """

    at: str
    title: str
    result: Quantity
    rule: str
    put_in: tuple[Quantity, ...] = ()
    steps: tuple[tuple[str, str], ...] = ()
    checks: tuple[Check, ...] = ()
    choices: tuple[Choice, ...] = ()
    source: str = ""
    known: str = ""
    limits: str = ""
    between: tuple[Quantity, ...] = ()


def length(symbol: str, words: str, value: Fraction | None) -> Quantity:
    """A length [mm] by its symbol and name.

    >>> length("T", "target", Fraction(20)).kind
    'length'
    """
    return Quantity(symbol, words, value, "length")


def count(symbol: str, words: str, value: int) -> Quantity:
    """A count [1] by its symbol and name.

    >>> count("K", "passes", 3).value
    3
    """
    return Quantity(symbol, words, value, "count")
