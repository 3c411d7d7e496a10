"""A reason in words: its numbers exactly, in the units of the job, and its formula with the numbers in it."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from thickset.faces.words.digits import rounded
from thickset.faces.words.lines import wrapped
from thickset.ground.notation import numbers
from thickset.ground.notation.lengths import FINEST_MARK, INCH, Units, near
from thickset.planning.why.reason import Check, Choice, Quantity, Reason
from thickset.trade.chips import M3H_PER_CFM

FOOT = 12 * INCH / 1000
"""One foot [m], exact."""

LITERS_PER_FT3 = 28.316846592
"""One cubic foot [L], exact."""

COLUMNS = 80

FIGURES = {"minutes": 2, "seconds": 1}
"""Decimals of a figure that is no finer than its use."""

LONGEST_PART = 1024
"""Lower number of a fraction that one still works with by hand."""

_IN_INCH = {
    "mm": (25.4, "in"),
    "m/min": (0.3048, "ft/min"),
    "L": (LITERS_PER_FT3, "ft³"),
    "m3/h": (M3H_PER_CFM, "cfm"),
    "m/s": (0.00508, "ft/min"),
    "cm3/min": (16.387064, "in³/min"),
    "kg/m3": (16.018463374, "lb/ft³"),
}
"""How much of the unit of a formula one of the unit in which a job in inches shows it is; exact, and cfm to 9 figures."""

_IN_BOTH = {"rad": (math.pi / 180, "degrees")}

_UNITS = {"marks": "marks/in", "speed": "rpm", "seconds": "s", "minutes": "min"}
_SYMBOL = re.compile(r"[A-Za-z]+[0-9]*′?")
KNOWN = {
    "read": "Read in the source itself",
    "transcribed": "Read in a copy that names the source",
    "memory": "Remembered from the source, not looked up again",
    "derived": "Worked out: anyone can do it again",
    "common practice": "Common practice of the trade; no source",
}
"""How a figure is known, in words; the only place where it is said."""

_MARKED = re.compile(
    r",? (?:both )?read(?= on|$|;)|,? transcribed|,? derived|,? from memory(?:, (?:high|medium-high|medium|low|LOW accuracy))?"
    r"| \((?:read|derived|transcribed)\)"
)
_HOW = re.compile(r", (read|transcribed|derived|(?:from )?memory)(?:, LOW accuracy)?(?=\)|;|$)")
"""How a number that was put in is known: said with the source, not beside the number."""

_BARE = re.compile(r"(-?[\d.,]*\d)(?: to (-?[\d.,]*\d))? mm\b(?!/)")
_BROKEN = {"≤": "is over", "<": "is not under", "≥": "is under", ">": "is not over"}
"""How a limit is said that does not hold."""
_FUNCTIONS = {"floor", "max", "min"}


def said(quantity: Quantity, units: Units) -> str:
    """A quantity with its unit, exactly where that can be written short, else "about".

    >>> said(Quantity("S", "setting", Fraction("26.19375"), "length"), "in")
    '1 1/32 in'
    >>> said(Quantity("v", "feed", Fraction("8.5344"), "feed"), "in")
    '28 ft/min'
    >>> said(Quantity("L", "load", Fraction(10, 63), "share"), "mm"), said(Quantity("L", "load", None, "share"), "mm")
    ('10/63', 'none')
    >>> said(Quantity("c", "to handle a board", Fraction(215, 64), "seconds"), "in")
    'about 3.4 s'
    >>> said(Quantity("H", "thick spot", Fraction("27.1"), "length"), "in")
    'about 1.0669 in'
    """
    if quantity.value is None:
        return "none"
    if isinstance(quantity.value, str):
        return _BARE.sub(_beside, quantity.value) if units == "in" else quantity.value
    value, unit = in_units(quantity, units)
    text = _exactly(value, quantity, units) or f"about {numbers.rounded(value, FIGURES.get(quantity.kind, 4))}"
    per, other = (_IN_INCH.get(unit) if units == "in" and quantity.kind == "given" else None) or (0.0, "")
    if per and not value:
        return f"0 {other}"
    beside = f" ({rounded(float(value) / per, 4)} {other})" if per else ""
    return f"{text} {unit}{beside}".rstrip()


def _beside(found: re.Match[str]) -> str:
    """Millimeters that a text tells, with the inches that they are."""
    ends = [float(one.replace(",", "")) / float(INCH) for one in found.groups() if one]
    return (
        f"{found[0]} ({' to '.join(rounded(abs(one), 3) if one >= 0 else f'-{rounded(-one, 3)}' for one in ends)} in)"
    )


def in_units(quantity: Quantity, units: Units) -> tuple[Fraction, str]:
    """The number of a quantity [its own unit] in the job's unit, and that unit's name.

    >>> in_units(Quantity("T", "target", Fraction("25.4"), "length"), "in")
    (Fraction(1, 1), 'in')
    """
    value = quantity.number
    if quantity.kind == "length":
        return (value / INCH, "in") if units == "in" else (value, "mm")
    if quantity.kind == "feed":
        return (value / FOOT, "ft/min") if units == "in" else (value, "m/min")
    if quantity.kind == "turns":
        return value, "turn" if abs(value) <= 1 else "turns"
    return value, quantity.unit or _UNITS.get(quantity.kind, "")


def _exactly(value: Fraction, quantity: Quantity, units: Units) -> str | None:
    sign = "−" if value < 0 else ""
    value = abs(value)
    if quantity.kind == "length" and units == "in" and FINEST_MARK % value.denominator == 0:
        return sign + numbers.mixed(value)
    if quantity.kind == "given":
        return sign + rounded(float(value), 6)
    if quantity.kind == "turns" and FINEST_MARK % value.denominator == 0:
        return sign + numbers.mixed(value)
    short = numbers.decimal(value, 5)
    ruled = quantity.kind == "length" and units == "in"  # and no rule has other parts of an inch than those above
    by_hand = quantity.kind not in ("minutes", "seconds") and not ruled
    if short is None and value.denominator <= LONGEST_PART and by_hand:
        short = numbers.mixed(value)
    return sign + short if short is not None else None


def result(reason: Reason, units: Units) -> str:
    """What came out, as one says it: rounded where the exact number is long.

    >>> result(Reason("", "", Quantity("t", "minutes", Fraction(487, 840), "minutes"), ""), "in")
    '0.58 min'
    >>> result(Reason("", "", Quantity("w", "", Fraction(3048, 10), "given", "mm"), ""), "in")
    '304.8 mm (12 in)'
    """
    quantity = reason.result
    if (
        quantity.value is None
        or isinstance(quantity.value, str)
        or quantity.kind in ("length", "turns", "feed", "count")
    ):
        return said(quantity, units)
    value, unit = in_units(quantity, units)
    if quantity.kind != "given":
        return f"{numbers.rounded(value, 2)} {unit}".rstrip()
    text = f"{rounded(float(value), 4)} {unit}".rstrip()
    per, other = _IN_BOTH.get(unit) or (_IN_INCH.get(unit) if units == "in" else None) or (0.0, "")
    return f"{text} ({rounded(float(value) / per, 4)} {other})" if per else text


def worked(reason: Reason, units: Units) -> list[str]:
    """The steps of a reason, with symbols and then with the numbers put in.

    >>> put_in = (Quantity("T", "target", Fraction(20), "length"), Quantity("f", "finish cut", Fraction("0.8"), "length"))
    >>> worked(Reason("", "", Quantity("S", "setting", Fraction("21.6"), "length"), "", put_in, (("S", "T + 2 × f"),)), "mm")
    ['S = T + 2 × f', 'S = 20 + 2 × 0.8', 'S = 21.6 mm']
    """
    lines = []
    known = {each.symbol: each for each in (*reason.put_in, *reason.between)}
    outcomes = [*(said(each, units) for each in reason.between), result(reason, units)]
    for (symbol, expression), outcome in zip(reason.steps, outcomes, strict=False):
        lead = f"{symbol} = " if symbol else ""
        numbers_in = numbers_for(expression, known, units)
        lines += [f"{lead}{line}" for line in dict.fromkeys((expression, numbers_in))]
        if outcome != symbol:
            lines.append(f"{lead}{outcome}")
    return lines


def numbers_for(expression: str, known: Mapping[str, Quantity], units: Units) -> str:
    """An expression with numbers in place of its symbols.

    >>> numbers_for("n × q", {"n": Quantity("n", "steps", 3, "count")}, "mm")
    '3 × q'
    """
    return _SYMBOL.sub(lambda found: _put(found[0], known, expression, units), expression)


def _put(symbol: str, known: Mapping[str, Quantity], expression: str, units: Units) -> str:
    quantity = known.get(symbol)
    if symbol in _FUNCTIONS or quantity is None or isinstance(quantity.value, str) or quantity.value is None:
        return symbol
    value, _ = in_units(quantity, units)
    text = _exactly(value, quantity, units) or numbers.rounded(value, 4)
    return f"({text})" if "/" in text and ("×" in expression or " / " in expression) else text


def check(one: Check, units: Units) -> str:
    """A limit in words.

    >>> check(Check(Quantity("c", "cut", Fraction(1), "length"), "≤", Quantity("C", "planned cut", Fraction("1.5"), "length")), "mm")
    'cut 1 mm ≤ 1.5 mm, planned cut'
    >>> check(Check(Quantity("c", "cut", Fraction(2), "length"), "≤", Quantity("C", "planned cut", Fraction("1.5"), "length")), "mm")
    'cut 2 mm is over 1.5 mm, planned cut'
    """
    right = ", ".join(part for part in (_short(one.right, units), one.right.words) if part)
    return f"{one.left.words} {_short(one.left, units)} {one.sign if one.holds else _BROKEN[one.sign]} {right}"


def _short(quantity: Quantity, units: Units) -> str:
    """A quantity of a limit; rounded where the exact number is long."""
    if quantity.kind == "length":
        return near(quantity.number, units, 3)
    if quantity.kind in ("share", "marks", "minutes"):
        value, unit = in_units(quantity, units)
        return f"{numbers.rounded(value, FIGURES.get(quantity.kind, 3))} {unit if quantity.kind == 'minutes' else ''}".rstrip()
    return said(quantity, units)


def choice(one: Choice, units: Units) -> str:
    """One of the ways that stood open, in words.

    >>> choice(Choice("one step lower", (), Quantity("t", "whole plan", Fraction(5), "minutes"), "longer by 9 s", False), "mm")
    'one step lower; whole plan 5 min: longer by 9 s'
    """
    shown = f"{one.result.words} {_short(one.result, units)}" if one.result is not None else ""
    what = "; ".join(part for part in (one.words, shown) if part)
    return "; ".join([f"{what}: {one.verdict}", *(check(each, units) for each in one.checks)])


def document(reason: Reason, units: Units) -> dict[str, Any]:
    """A reason as JSON values, all of it texts that a person can work from.

    >>> put_in = (Quantity("T", "target", Fraction(20), "length"),)
    >>> made = document(Reason("passes[2].setting_mm", "Setting", Quantity("S", "setting", Fraction(20), "length"), "", put_in), "mm")
    >>> made["put_in"]
    [{'symbol': 'T', 'words': 'target', 'text': '20 mm', 'exact': '20'}]
    """
    return {
        "at": reason.at,
        "title": reason.title,
        "result": result(reason, units),
        "rule": reason.rule,
        "formula": [f"{symbol} = {expression}" if symbol else expression for symbol, expression in reason.steps],
        "put_in": [_put_in(each, units) for each in reason.put_in],
        "working": worked(reason, units),
        "checks": [{"text": check(each, units), "holds": each.holds} for each in reason.checks],
        "choices": [{"text": choice(each, units), "taken": each.taken} for each in reason.choices],
        "source": reason.source,
        "known": reason.known,
        "limits": reason.limits,
    }


def _put_in(quantity: Quantity, units: Units) -> dict[str, str]:
    told = {"symbol": quantity.symbol, "words": put_in(quantity), "text": said(quantity, units)}
    if quantity.value is not None and not isinstance(quantity.value, str):
        told["exact"] = str(in_units(quantity, units)[0])
    if found := _HOW.search(quantity.words):
        told["known"] = found[1].removeprefix("from ")
    return told


def put_in(quantity: Quantity) -> str:
    """What a number that was put in is; how it is known stands with the source.

    >>> put_in(Quantity("G", "specific gravity (Ash, white, Wood Handbook, transcribed)", 1, "share"))
    'specific gravity (Ash, white, Wood Handbook)'
    """
    return _HOW.sub("", quantity.words)


def source(reason: Reason) -> str:
    """Where a rule or formula and the numbers put in come from, and how that is known.

    >>> source(Reason("", "", Quantity("", "", 1, "count"), "", source="Q = b d v, derived.", known="derived"))
    'Q = b d v. Worked out: anyone can do it again.'
    """
    text = _MARKED.sub("", reason.source.rstrip(".")).rstrip(" ;,")
    known = KNOWN.get(reason.known, reason.known)
    said = [f"{text}. {known}." if text and reason.known != "common practice" else f"{known}."]
    how: dict[str, list[str]] = {}
    for each in reason.put_in:
        if found := _HOW.search(each.words):
            how.setdefault(found[1].removeprefix("from "), []).append(each.symbol)
    said += [f"{' and '.join(symbols)}: {KNOWN[one][0].lower()}{KNOWN[one][1:]}." for one, symbols in how.items()]
    return " ".join(said)


def text(reasons: Iterable[Reason], units: Units) -> str:
    """Reasons as plain text, 80 columns.

    >>> text([Reason("", "Setting", Quantity("S", "setting", Fraction(20), "length"), "The target.")], "mm")
    'Setting: 20 mm\\n  The target.\\n'
    """
    return "\n".join("".join(f"{_wrapped(line)}\n" for line in _lines(reason, units)) for reason in reasons)


def _wrapped(line: str) -> str:
    return wrapped(line, rest="    ")


def _lines(reason: Reason, units: Units) -> list[str]:
    found = [f"{reason.title}: {result(reason, units)}", f"  {reason.rule}"]
    found += [f"  {each.symbol} = {said(each, units)}  {put_in(each)}" for each in reason.put_in]
    found += [f"  {line}" for line in worked(reason, units)]
    found += [f"  {check(each, units)}{': holds' if each.holds else ''}" for each in reason.checks]
    found += [f"  {choice(each, units)}" for each in reason.choices]
    if reason.source:
        found.append(f"  Source: {source(reason)}")
    if reason.limits:
        found.append(f"  Holds: {reason.limits}")
    return found
