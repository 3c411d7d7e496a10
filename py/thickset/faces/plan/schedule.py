"""The pass schedule: a row a pass, read at a glance, that unfolds to all that is known of the pass."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from thickset.faces.picture.handle import dial, lying
from thickset.faces.plan.cautions import CAUTIONS, HEADING, LINE, handling
from thickset.faces.plan.moisture import AGAIN, REST, today_at_last
from thickset.faces.plan.order import Group, How, Station, stations
from thickset.faces.words import words
from thickset.faces.words.figures import figure, in_a_line, set_to, tags
from thickset.faces.words.markup import EMPTY, Markup, el, join, text
from thickset.faces.words.short_names import short_names
from thickset.faces.words.signs import sign
from thickset.faces.words.why_button import ask_button
from thickset.ground.job.job import Job
from thickset.planning.passes.model import Plan, Rest
from thickset.planning.stock.leaving import butted_if_wanted

HOW_WORDS: dict[How, str] = {
    "again": "Same way as before",
    "turned": "Flip end over end",
    "first": "First time in",
}


def schedule(plan: Plan) -> Markup:
    """The passes of a plan as an ordered list, what its signs mean, and the cautions; nothing when there are none.

    >>> from thickset.faces.words.example import lot
    >>> 'data-pass="3" data-setting-mm="19.05"' in schedule(lot("7/8", "13/16"))
    True
    """
    if not plan.passes:
        return EMPTY
    rows = [_row(station, plan, butted) for station, butted in zip(stations(plan), butted_if_wanted(plan), strict=True)]
    if plan.rest:
        rows.insert(plan.rest.after, _rest(plan.rest, plan.job))
    return el(
        "div",
        el("h2", "The passes", class_="unseen"),
        el("ol", *rows, class_="passes"),
        el("div", el("p", KEY, class_="signs-mean"), ask_button("plan", label="Why these passes?"), class_="with-ask"),
        _cautions(plan.job),
        class_="schedule",
    )


FEW, LETTERS = 5, 4
"""Boards that stand beside the dial whatever their names, and characters of a name of which many do."""

KEY = "Thick line: face A. Number: the end that goes in first. Bent arrow: flip it end over end before it goes in."


def _cautions(job: Job) -> Markup:
    return el(
        "details",
        el("summary", sign("caution"), el("span", el("b", f"{HEADING}: "), LINE)),
        el("ul", *(el("li", one) for one in CAUTIONS)),
        el("p", " ".join(handling(job)), class_="marking"),
        class_="cautions",
    )


def _row(station: Station, plan: Plan, butted: Sequence[Sequence[int]]) -> Markup:
    one, job = station.one, plan.job
    return el(
        "li",
        el(
            "details",
            el(
                "summary",
                el(
                    "span",
                    el("span", "Pass ", class_="unseen"),
                    el("b", one.number),
                    sign("piece") if one.checked else None,
                    class_="pass-number",
                ),
                el("span", *set_to(station.way, job), class_="pass-setting"),
                dial(one.turns, by_scale=station.closer is None),
                el("span", *(_group(group, job) for group in station.groups), class_=_room(station, job)),
            ),
            _more(station, plan, butted),
        ),
        el("p", words.FIRST_PIECE, class_="first-piece") if one.for_scale else None,
        today_at_last(plan) if one.number == len(plan.passes) else None,
        class_="pass",
        data_pass=one.number,
        data_setting_mm=plain(float(one.setting)),
        data_scale_mm=None if station.way.is_bare else plain(float(station.way.scale)),
        data_stage=one.stage,
    )


def _room(station: Station, job: Job) -> str:
    """Many boards with more than letters for names take the whole row."""
    short = short_names(job)
    fed = [short[n] for group in station.groups for n in group.boards]
    return "goes-in wide" if len(fed) > FEW and max(map(len, fed)) > LETTERS else "goes-in"


def _more(station: Station, plan: Plan, butted: Sequence[Sequence[int]]) -> Markup:
    """What a row unfolds to."""
    one, job = station.one, plan.job
    return el(
        "div",
        _handle(station, job),
        _facts(station, job),
        *_named(station, job),
        *(el("p", line, class_="butt") for line in words.butted(butted, len(one.fed), job)),
        *_staying(station, job),
        ask_button(f"passes[{one.number - 1}]", label=f"Why pass {one.number}?"),
        class_="pass-more",
    )


def _named(station: Station, job: Job) -> Iterator[Markup]:
    """The boards of each group in full, where a tag cuts a name short."""
    short = short_names(job)
    for group in station.groups:
        if any(short[n] != job.boards[n].name for n in group.boards):
            said = ", ".join(words.stretches(group.boards, job))
            yield el("p", el("b", f"{HOW_WORDS[group.how]}: "), said, class_="by-name")


def _rest(rest: Rest, job: Job) -> Markup:
    """Between the two stages: what is done until the boards come back to the planer."""
    return el(
        "li",
        el(
            "div",
            el("h3", "Let the boards rest, measure again"),
            ask_button("rest", label="Why a rest here?"),
            class_="pass-head",
        ),
        el("p", "The first stage stops here, at ", figure(words.setting(rest.stop, job.units)), ". ", REST),
        el("p", AGAIN),
        class_="pass rest",
        data_rest=plain(float(rest.stop)),
    )


def plain(value: float) -> str:
    """A number [as given] in its shortest decimals that read back the same.

    >>> plain(22.0), plain(26.19375)
    ('22', '26.19375')
    """
    return repr(value).removesuffix(".0")


def _handle(station: Station, job: Job) -> Markup:
    """What to do with the handle; the first setting is set by the scale."""
    if station.closer is None:
        return el("p", "set by the scale", class_="pass-handle")
    way = words.direction(job.planer.moves, closer=station.closer > 0).capitalize()
    moved = words.length(abs(station.closer), job.units)
    change = el("small", figure(f"{moved} {'closer' if station.closer > 0 else 'wider'}"))
    turns = el("b", figure(words.turns(station.one.turns))) if station.one.turns is not None else None
    return el("p", el("span", way, " " if turns else None, turns), " ", change, class_="pass-handle")


def _facts(station: Station, job: Job) -> Markup:
    one = station.one
    return el(
        "dl",
        _fact("Feed", figure(words.feed(one.feed, job.units))),
        _marks(float(one.marks), job) if one.marks else None,
        _fact("Deepest cut", figure(words.length(station.deepest, job.units))),
        _fact("Takes", join([figure(words.minutes(one.minutes)), f", {one.stage}"])),
        _fact("Test piece", el("b", "run first"), "checked") if one.checked else _fact("Test piece", text("none")),
        class_="facts",
    )


def _marks(marks: float, job: Job) -> Markup:
    """How close the knife marks stand, as the handbooks of the job's units say it."""
    if job.units == "in":
        return _fact("Marks", text(f"{marks:.0f} per inch"))
    return _fact("Pitch", text(f"{25.4 / marks:.1f} mm ({marks:.0f} per inch)"))


def _fact(name: str, value: Markup, kind: str | None = None) -> Markup:
    return el("div", el("dt", name), " ", el("dd", value), class_=kind)


def _group(group: Group, job: Job) -> Markup:
    up, leads = group.placement.up, group.placement.leads
    return el(
        "span",
        lying(group.placement, turned=group.how == "turned"),
        el("span", f"{HOW_WORDS[group.how]}, face {up} up, end {leads} first: ", class_="unseen"),
        in_a_line(tags(group.boards, job)),
        data_how=group.how,
        data_up=up,
        data_leads=leads,
    )


def _staying(station: Station, job: Job) -> list[Markup]:
    return [
        el("div", el("p", name), tags(places, job, others=True), class_="staying", data_how=how)
        for how, name, places in (("wait", "Wait", station.waiting), ("out", "Stay out", station.out))
        if places
    ]
