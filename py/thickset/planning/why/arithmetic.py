"""Works a written step of a formula out, so that what stands between what is put in and the result is told in numbers."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence

from thickset.trade.normal import deviations_for, share_under

_TOKEN = re.compile(r"\s*(\d+(?:\.\d+)?|[^\W\d_]+\d*′?|[+−×/^(),√])")
_FUNCTIONS: dict[str, Callable[..., float]] = {
    "√": math.sqrt,
    "acos": math.acos,
    "sin": math.sin,
    "cos": math.cos,
    "log10": math.log10,
    "max": max,
    "min": min,
    "floor": math.floor,
    "Φ": lambda deviations: share_under(deviations, 0.0, 1.0),
    "z": lambda share: deviations_for(1 - share),
}


def worked_steps(steps: Sequence[tuple[str, str]], known: Mapping[str, float]) -> Iterator[tuple[str, float]]:
    """What each step comes to, from inputs by their symbols [units of the formula].

    >>> list(worked_steps((("R", "D / 2"), ("h", "R − √(R^2 − (p / 2)^2)")), {"D": 10.0, "p": 6.0}))
    [('R', 5.0), ('h', 1.0)]
    """
    found = dict(known)
    for symbol, expression in steps:
        found[symbol] = _Reading(expression, found).value()
        yield symbol, found[symbol]


class _Reading:
    """Reads sums of products of powers, from the left."""

    def __init__(self, expression: str, known: Mapping[str, float]) -> None:
        self.rest: list[str] = _TOKEN.findall(expression)[::-1]
        self.known = known

    def value(self) -> float:
        total = self.product()
        while self.next() in ("+", "−"):
            total = total + self.product() if self.rest.pop() == "+" else total - self.product()
        return total

    def next(self) -> str:
        return self.rest[-1] if self.rest else ""

    def product(self) -> float:
        total = self.power()
        while self.next() in ("×", "/"):
            total = total * self.power() if self.rest.pop() == "×" else total / self.power()
        return total

    def power(self) -> float:
        if self.next() == "−":
            self.rest.pop()
            return -self.power()
        base = self.one()
        if self.next() != "^":
            return base
        self.rest.pop()
        return float(base ** self.power())

    def one(self) -> float:
        part = self.rest.pop()
        if part == "(":
            return self.arguments()[0]
        if self.next() == "(" and part in _FUNCTIONS:
            self.rest.pop()
            return _FUNCTIONS[part](*self.arguments())
        return math.pi if part == "π" else self.known[part] if part in self.known else float(part)

    def arguments(self) -> list[float]:
        found = [self.value()]
        while self.rest.pop() == ",":
            found.append(self.value())
        return found
