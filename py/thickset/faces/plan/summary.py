"""The plan at one glance: passes, minutes, the first setting and what decides it, how many boards make it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from thickset.faces.plan.moisture import stage_words
from thickset.faces.words import words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import Markup, el
from thickset.ground.job.job import Job
from thickset.planning.passes.model import Plan
from thickset.planning.passes.scale import ScaleSetting, scale_settings

MOST_SETTINGS = 10
"""Settings that are read in one row [count]."""

BEGUN = "The run has begun. This is the plan from before its first cut. What comes next stands under Run."
"""Said wherever a plan stands, on the screen, on paper or as text, whose run may have gone another way since."""


def summary(plan: Plan) -> Markup:
    """The one-glance answer.

    >>> from thickset.faces.words.example import lot
    >>> summary(lot("7/8"))[:56]
    '<div class="summary"><p class="headline">3 passes, about'
    """
    return el(
        "div",
        el("p", figure(headline(plan)), class_="headline"),
        el("p", figure(making_it(plan))),
        *((el("p", figure(line), class_="decides") for line in _deciding(plan)) if plan.passes else ()),
        el("p", BEGUN, class_="begun") if plan.job.run else None,
        class_="summary",
    )


def headline(plan: Plan) -> str:
    """The plan in a few words.

    >>> from thickset.faces.words.example import lot
    >>> headline(lot("7/8", "13/16")), headline(lot("3/4"))
    ('3 passes, about 4 min', 'Nothing to cut')
    """
    if not plan.passes:
        return "Nothing to cut"
    return f"{words.passes(len(plan.passes))}, about {words.minutes(plan.minutes)}"


def _deciding(plan: Plan) -> Iterator[str]:
    """What the settings hang on; they stand below, each with its pass."""
    yield f"Thickest: {_deciding_spot(plan)}."
    if plan.rest:
        yield stage_words(plan)


def lines(plan: Plan) -> Iterator[str]:
    """The sentences under the headline, where no schedule stands beside them.

    >>> from thickset.faces.words.example import lot
    >>> next(lines(lot("15/16")))
    'Settings 7/8, 13/16, 25/32, 3/4 in.'
    """
    if plan.passes:
        yield _settings(plan)
        yield thick_spot(plan)
    if plan.rest:
        yield stage_words(plan)
    yield making_it(plan)


def _settings(plan: Plan) -> str:
    """All settings in a row; of many only the first and the last."""
    units = plan.job.units
    ways = scale_settings(plan)
    if not all(way.is_bare for way in ways):
        return _on_scale(ways, plan.job)
    said = [words.setting(one.setting, units) for one in plan.passes]
    if len(said) > MOST_SETTINGS:
        return f"First setting {said[0]}, down to {said[-1]}."
    return f"Setting{'' if len(said) == 1 else 's'} {_row(said, units)}."


def _on_scale(ways: Sequence[ScaleSetting], job: Job) -> str:
    """What the scale reads for each setting in a row, and what it then opens to."""
    if len(ways) == 1 or len(ways) > MOST_SETTINGS or ways[0].aim:
        said = words.set_to(ways[0], job)
        return f"{said.capitalize()}." if len(ways) == 1 else f"First {said}; last {words.set_to(ways[-1], job)}."
    read = [words.length(way.scale, job.units) for way in ways]
    opens = [words.setting(way.opens, job.units) for way in ways]
    return f"Scale at {_row(read, job.units)}: it opens to {_row(opens, job.units)}."


def _row(said: Sequence[str], units: str) -> str:
    return ", ".join([*(one.removesuffix(f" {units}") for one in said[:-1]), said[-1]])


def thick_spot(plan: Plan) -> str:
    """Which board and reading decide the first setting.

    >>> from thickset.faces.words.example import lot
    >>> thick_spot(lot("7/8", "29/32 15/16"))
    'The thickest spot decides the first setting: board B, reading 2, 15/16 in.'
    """
    return f"The thickest spot decides the first setting: {_deciding_spot(plan)}."


def _deciding_spot(plan: Plan) -> str:
    job, decides = plan.job, plan.decides
    board = job.boards[decides.board]
    where = [f"board {board.name}"] if len(job.boards) > 1 else []
    place = board.place(decides.reading)
    if place:
        where.append(place.words)
    elif len(board.readings) > 1 and (where or board.count == 1):
        where.append(f"reading {decides.reading + 1}")
    return ", ".join([*where, words.setting(decides.thickness, job.units)])


def making_it(plan: Plan) -> str:
    """How many boards come out planed on both faces, and what becomes of the others.

    >>> from thickset.faces.words.example import lot
    >>> making_it(lot("7/8", "7/8")), making_it(lot("7/8", "7/8 11/16"))
    ('Both boards will be planed on both faces.', '1 of 2 boards will be planed on both faces; 1 too thin.')
    """
    boards = plan.job.boards
    count = {"both faces": 0, "one face": 0, "short": 0, "untouched": 0}
    for outcome in plan.outcomes:
        count[outcome.name] += boards[outcome.board].count
    made, pieces = count["both faces"], plan.pieces
    if not plan.passes:
        below = sum(boards[outcome.board].count for outcome in plan.outcomes if outcome.short > 0)
        target = words.setting(plan.job.target, plan.job.units)
        short = f"; {below:,} too thin somewhere" if below else ""
        return f"No board is above the target of {target}{short}."
    if made == pieces:
        return f"{words.all_of(pieces).capitalize()} will be planed on both faces."
    of = f"{made:,} of {words.boards(pieces)}" if made else "No board"
    said = f"{of} will be planed on both faces"
    others = [
        f"{count[name]:,} {words_for}"
        for name, words_for in (("one face", "on one face only"), ("short", "too thin"), ("untouched", "not cut"))
        if count[name]
    ]
    return f"{said}; {', '.join(others)}."
