"""Why a number of the plan is what it is, for the page: one answer, or several folded under their titles."""

from __future__ import annotations

from collections.abc import Sequence

from thickset.faces.why import words as why_words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.ground.notation.lengths import Units
from thickset.planning.why.reason import Choice, Quantity, Reason


def why(reasons: Sequence[Reason], units: Units) -> Markup:
    """One reason whole; of several the first is open.

    >>> from thickset.faces.words.example import lot
    >>> from thickset.planning.why.ask import reasons
    >>> plan = lot("7/8")
    >>> why(reasons(plan, "passes[0].setting"), "in").count("<details"), why(reasons(plan, "passes[0]"), "in").count("<details")
    (0, 12)
    """
    if not reasons:
        return EMPTY
    if len(reasons) == 1:
        return el("div", el("h2", reasons[0].title), _answer(reasons[0], units), class_="why")
    return el("div", *(_folded(one, units, first=n == 0) for n, one in enumerate(reasons)), class_="why many")


def _folded(reason: Reason, units: Units, *, first: bool) -> Markup:
    result = figure(why_words.result(reason, units))
    head = el("summary", el("span", reason.title), " ", el("b", result))
    return el("details", head, _answer(reason, units), open=first, data_reason=reason.at)


def _answer(reason: Reason, units: Units) -> Markup:
    return el(
        "div",
        el("p", figure(why_words.result(reason, units)), class_="result"),
        el("p", reason.rule),
        _working(reason, units),
        _put_in(reason.put_in, units),
        _checks(reason, units),
        _choices(reason.choices, units),
        _source(reason),
        class_="answer",
    )


def _working(reason: Reason, units: Units) -> Markup | None:
    lines = why_words.worked(reason, units)
    return el("div", *(el("p", figure(line)) for line in lines), class_="working") if lines else None


def _put_in(quantities: Sequence[Quantity], units: Units) -> Markup | None:
    if not quantities:
        return None
    rows = (
        el(
            "tr",
            el("th", each.symbol, scope="row"),
            el("td", figure(why_words.said(each, units))),
            el("td", why_words.put_in(each)),
        )
        for each in quantities
    )
    return el("table", el("caption", "Numbers put in"), el("tbody", *rows))


def _checks(reason: Reason, units: Units) -> Markup | None:
    if not reason.checks:
        return None
    items = (
        el("li", figure(why_words.check(each, units)), data_holds="yes" if each.holds else "no")
        for each in reason.checks
    )
    return el("ul", *items, class_="limits")


def _choices(choices: Sequence[Choice], units: Units) -> Markup | None:
    if not choices:
        return None
    items = (
        el("li", figure(why_words.choice(each, units)), aria_current="true" if each.taken else None) for each in choices
    )
    return el("div", el("h3", "What else was possible"), el("ul", *items, class_="choices"))


def _source(reason: Reason) -> Markup | None:
    if not reason.source:
        return None
    return el(
        "div",
        el("p", el("b", "Source: "), why_words.source(reason)),
        el("p", el("b", "Holds: "), reason.limits) if reason.limits else None,
        class_="source",
    )
