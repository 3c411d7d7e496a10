"""Why the shavings of a plan come to so much, fill so many bags, and when these are emptied."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from thickset.planning.figures.shavings import Shavings, shavings
from thickset.planning.passes.model import Plan
from thickset.planning.passes.rules import PRACTICE, Rule
from thickset.planning.why.formulas import DIGITS
from thickset.planning.why.passes import ruled
from thickset.planning.why.reason import Quantity, Reason
from thickset.trade.formula import Worked, number

TOGETHER = Rule(
    "What comes off in all passes, added up.",
    "sum",
    "derived",
    "As good as the readings: each stands for an equal share of its board.",
)
FILLED = Rule(
    "Loose shavings over what one holds.",
    "quotient; loose shavings by 4 : 1, Briggs, Forest Products Measurements, Table 7-1, after Dobie & Wright 1972",
    "read",
    "Shavings as they fall. Pressed or settled ones take less room.",
)
EMPTIED = Rule(
    "Emptied before the pass whose shavings it could not hold on top of what is in it. A pass that alone makes more than it holds fills "
    "it while it runs.",
    PRACTICE,
    "common practice",
    "One that is empty at the start.",
)


def shavings_reasons(plan: Plan, what: str = "") -> Iterator[Reason]:
    """The reasons for all shavings together and the bags that they fill [L, 1].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [one.at for one in shavings_reasons(make_plan(small_job()))]
    ['shavings.solid', 'shavings.loose', 'shavings.bags', 'shavings.empty']
    """
    if what and not what.startswith("shavings"):
        return
    found = shavings(plan)
    when = found.when
    if when is None:
        return
    solid, loose = (_volumes(each) for each in (found.solid, found.loose))
    yield _together("shavings.solid", "Solid wood that comes off", solid)
    yield _together("shavings.loose", "Loose shavings", loose)
    yield _bags(found, when.filled)
    told = [*(f"after pass {n}" for n in when.after), *(f"while pass {n} runs" for n in when.during)]
    result = Quantity("", "to empty", ", ".join(told) or "not before the end", "word")
    yield ruled("shavings.empty", "When to empty the bag", result, EMPTIED, (*loose, _holds(found)))


def _bags(found: Shavings, filled: float) -> Reason:
    put_in = (_liters("V", "loose shavings", found.total[1]), _holds(found))
    result = Quantity("n", "bags filled", _told(filled), "given")
    return ruled("shavings.bags", "Bags that the shavings fill", result, FILLED, put_in, (("n", "V / B"),))


def _holds(found: Shavings) -> Quantity:
    return _liters("B", "what a bag or drum holds", found.bag)


def _volumes(found: tuple[Worked, ...]) -> tuple[Quantity, ...]:
    return tuple(_liters(f"V{n}", f"pass {n}", number(each)) for n, each in enumerate(found, 1))


def _together(at: str, title: str, volumes: tuple[Quantity, ...]) -> Reason:
    result = _liters("V", "together", float(sum(each.number for each in volumes)))
    steps = (("V", " + ".join(each.symbol for each in volumes)),)
    return ruled(at, title, result, TOGETHER, volumes, steps)


def _liters(symbol: str, words: str, value: float) -> Quantity:
    return Quantity(symbol, words, _told(value), "given", "L")


def _told(value: float) -> Fraction:
    return Fraction(f"{value:.{DIGITS}g}")
