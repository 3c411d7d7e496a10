"""Where the minutes go: the plan beside two ways of planing by habit, drawn to one scale, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from thickset.faces.words import words
from thickset.faces.words.markup import EMPTY, Markup, el, join, number
from thickset.faces.words.why_button import ask_button
from thickset.planning.passes.costs import Cost, cost_of
from thickset.planning.passes.habits import (
    Shares,
    all_at_every_setting,
    board_by_board,
    shares_of,
)
from thickset.planning.passes.model import Plan

KINDS = ("setting the planer", "handling boards", "feeding", "measuring test pieces")
WIDTH = 360.0
BAR = 22.0
ROW = 52.0

Row = tuple[str, Shares, int]


def minutes(plan: Plan) -> Markup:
    """The picture of the minutes, the same in words, and the cost where rates are given.

    >>> from thickset.faces.words.example import lot
    >>> minutes(lot("1", "7/8")).count("<svg")
    5
    """
    if not plan.passes:
        return EMPTY
    rows = list(_rows(plan))
    return el(
        "div",
        *(el("p", line, class_="gain") for line in gains(rows)),
        _picture(rows),
        _legend(),
        _table(rows),
        _costs(cost_of(plan.job, plan.minutes)),
        ask_button("minutes", "Why these minutes?"),
        ask_button("time", "Why these by habit?") if len(rows) > 1 else None,
        el(
            "p",
            "By habit means down in even steps of the planned cut, with the same light last cuts, feeds and seconds. All boards through: "
            "every board is fed at every setting. One by one: each board goes to the target by itself.",
            class_="hint",
        ),
        class_="minutes",
    )


def gains(rows: list[Row]) -> Iterator[str]:
    """What the plan saves against each habit, in a sentence.

    >>> rows = [("This plan", Shares(Fraction(6)), 4), ("All boards through", Shares(Fraction(10)), 5)]
    >>> list(gains(rows))
    ['This plan saves 4 min against all boards through every time: 6 min, not 10 min.']
    """
    mine = rows[0][1].total
    for said, (_, shares, _) in zip(_AGAINST, rows[1:], strict=False):
        theirs = shares.total
        much, both = words.less(abs(theirs - mine)), f"{words.minutes(mine)}, not {words.minutes(theirs)}"
        way = f"saves {much} against" if theirs >= mine else f"takes {much} more than"
        yield f"This plan {way} {said}: {both}."


_AGAINST = ("all boards through every time", "board by board")


def _rows(plan: Plan) -> Iterator[Row]:
    yield "This plan", shares_of(plan), len(plan.passes)
    everything, one_by_one = all_at_every_setting(plan.job), board_by_board(plan.job)
    if everything and one_by_one:
        yield "All boards through", everything.shares, everything.settings
        yield "One by one", one_by_one.shares, one_by_one.settings


def _picture(rows: list[Row]) -> Markup:
    longest = max(float(shares.total) for _, shares, _ in rows) or 1.0
    parts = []
    for n, (name, shares, _) in enumerate(rows):
        top = n * ROW
        parts.append(_text(f"{name}: {words.minutes(shares.total)}", 0, top + 15))
        x = 0.0
        for kind, part in enumerate(shares):
            wide = float(part) / longest * (WIDTH - 2)
            if part:
                parts.append(_piece(kind, x + 1, top + 22, wide, BAR))
            x += wide
    return el(
        "svg",
        el("title", "; ".join(f"{name}: {words.minutes(shares.total)}" for name, shares, _ in rows)),
        _patterns(),
        el("g", *parts, stroke="currentColor", fill="none"),
        viewBox=f"0 0 {number(WIDTH)} {number(len(rows) * ROW)}",
        role="img",
        class_="bars",
    )


def _piece(kind: int, x: float, y: float, wide: float, high: float) -> Markup:
    """A stretch of a bar in the sign of its kind: solid, hatched, open, dotted."""
    fill = ("currentColor", "url(#time-hatch)", "none", "url(#time-dots)")[kind]
    return el("rect", x=x, y=y, width=max(wide, 0.0), height=high, fill=fill, stroke_width=1.2)


def _patterns() -> Markup:
    hatch = el("path", d="M-1,1L1,-1M0,6L6,0M5,7L7,5", stroke="currentColor", stroke_width=1.2)
    dots = el("path", d="M2,2h0M5,5h0", stroke="currentColor", stroke_width=2, stroke_linecap="round")
    return el("defs", *(_pattern(name, drawn) for name, drawn in (("time-hatch", hatch), ("time-dots", dots))))


def _pattern(name: str, drawn: Markup) -> Markup:
    return el("pattern", drawn, id=name, width=6, height=6, patternUnits="userSpaceOnUse")


def _legend() -> Markup:
    signs = []
    for kind, said in enumerate(KINDS):
        sign = el("g", _piece(kind, 2, 3, 16, 14), stroke="currentColor", fill="none")
        signs.append(el("li", el("svg", sign, viewBox="0 0 20 20", width=20, height=20, aria_hidden="true"), said))
    return el("ul", *signs, class_="legend")


def _table(rows: list[Row]) -> Markup:
    head = el("tr", el("td"), *(el("th", name, scope="col") for name, _, _ in rows))
    lines = [("settings", [str(count) for _, _, count in rows])]
    lines += [(kind, [words.minutes(shares[n]) for _, shares, _ in rows]) for n, kind in enumerate(KINDS)]
    body = (el("tr", el("th", kind, scope="row"), *(el("td", cell) for cell in cells)) for kind, cells in lines)
    return el(
        "details",
        el("summary", "The same in words"),
        el("div", el("table", el("thead", head), el("tbody", *body)), class_="wide-table"),
        class_="in-words",
    )


def _costs(cost: Cost) -> Markup:
    known = [
        f"{said} {money(value)}"
        for said, value in (("people", cost.people), ("planer", cost.machine), ("wood", cost.wood))
        if value is not None
    ]
    if not known:
        return EMPTY
    return join(
        [
            el("p", el("b", f"Cost: {money(cost.total)}"), f" ({', '.join(known)})", class_="cost"),
            ask_button("cost", "Why this cost?"),
        ]
    )


def money(value: Fraction) -> str:
    """An amount [money], whatever it is counted in.

    >>> money(Fraction("1234.5"))
    '1,234.50'
    """
    return f"{float(value):,.2f}"


def _text(said: str, x: float, y: float) -> Markup:
    return el("text", join([said]), x=x, y=y, font_size=14, font_weight=600, fill="currentColor", stroke="none")
