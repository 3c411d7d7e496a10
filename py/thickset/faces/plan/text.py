"""The plan as plain text, 80 columns, for a terminal or a note pinned to the wall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from thickset.faces.plan import summary
from thickset.faces.plan.boards import best_targets, not_short, outcome_words
from thickset.faces.plan.cautions import CAUTIONS, HEADING, handling
from thickset.faces.plan.moisture import AGAIN, REST, change_to_tell, today_words
from thickset.faces.plan.order import Group, Station, stations
from thickset.faces.plan.schedule import HOW_WORDS
from thickset.faces.words import words
from thickset.faces.words.lines import COLUMNS, wrapped
from thickset.ground.job.job import Job
from thickset.planning.passes.model import Plan, Rest
from thickset.planning.stock.leaving import butted_if_wanted


def text(plan: Plan) -> str:
    """The whole plan as text; every line ends within 80 columns.

    >>> from thickset.faces.words.example import lot
    >>> print("\\n".join(text(lot("7/8")).splitlines()[:2]))
    3 passes, about 3 1/2 min
    Settings 13/16, 25/32, 3/4 in.
    """
    parts = [_top(plan), _list("Know before the first cut", [note.text for note in plan.notes])]
    if plan.passes:
        parts += [_list(HEADING, CAUTIONS), _list("Mark the boards", handling(plan.job))]
    told = [
        "\n".join(_pass(station, plan, butted))
        for station, butted in zip(stations(plan), butted_if_wanted(plan), strict=True)
    ]
    if plan.rest:
        told.insert(plan.rest.after, _rest(plan.rest, plan.job))
    parts += told
    parts += [_boards(plan), _targets(plan)]
    return "\n\n".join(part for part in parts if part) + "\n"


def _top(plan: Plan) -> str:
    title = [plan.job.title, "=" * min(len(plan.job.title), COLUMNS)] if plan.job.title else []
    begun = [summary.BEGUN] if plan.job.run else []
    return "\n".join([*title, *(_wrapped(line) for line in (*begun, summary.headline(plan), *summary.lines(plan)))])


def _list(heading: str, lines: Sequence[str]) -> str:
    return "\n".join([heading, *(_wrapped(line, "  - ") for line in lines)]) if lines else ""


def _wrapped(line: str, lead: str = "") -> str:
    return wrapped(line, lead, " " * len(lead))


def _pass(station: Station, plan: Plan, butted: Sequence[Sequence[int]]) -> Iterator[str]:
    one, job = station.one, plan.job
    head = f"Pass {one.number} of {len(plan.passes)}:  {words.set_to(station.way, job)}  ({one.stage}, {words.minutes(one.minutes)})"
    yield wrapped(head, rest="  ")
    moved = change_to_tell(plan) if one.number == len(plan.passes) else None
    if moved:
        yield _wrapped(today_words(moved, job), "  ")
    yield _wrapped(handle(station, job), "  ")
    feed, deepest = words.feed(one.feed, job.units), words.length(station.deepest, job.units)
    yield f"  Feed {feed}, deepest cut {deepest}"
    if one.for_scale:
        yield _wrapped(words.FIRST_PIECE, "  ")
    else:
        yield "  Run a test piece first." if one.checked else "  No test piece."
    for line in words.butted(butted, len(one.fed), job):
        yield _wrapped(line, "  ")
    for group in station.groups:
        yield _wrapped(f"{_how(group)}: {_named(group.boards, job)}", "  * ")
    for name, places in (("Wait", station.waiting), ("Stay out", station.out)):
        if places:
            yield _wrapped(f"{name}: {_side_by_side(words.others(places, job))}", "    ")


def _rest(rest: Rest, job: Job) -> str:
    stop = words.setting(rest.stop, job.units)
    return "\n".join(
        [f"Let the boards rest at {stop}, measure again.", *(_wrapped(line, "  ") for line in (REST, AGAIN))]
    )


def handle(station: Station, job: Job) -> str:
    """What to do with the handle before a pass, in a sentence.

    >>> from thickset.faces.words.example import lot
    >>> plan = lot("7/8")
    >>> [handle(station, plan.job) for station in stations(plan)][1:]
    ['Table up 1/2 turn, 1/32 in closer.', 'Table up 1/2 turn, 1/32 in closer.']
    """
    if station.closer is None:
        return "Set by the scale."
    way = words.direction(job.planer.moves, closer=station.closer > 0).capitalize()
    moved = f"{words.length(abs(station.closer), job.units)} {'closer' if station.closer > 0 else 'wider'}"
    turns = station.one.turns
    return f"{way} {words.turns(turns)}, {moved}." if turns is not None else f"{way}, {moved}."


def _how(group: Group) -> str:
    return f"{HOW_WORDS[group.how]}, face {group.placement.up} up, end {group.placement.leads} first"


def _named(places: Sequence[int], job: Job) -> str:
    if len(places) == len(job.boards) == 1:
        return words.all_of(job.boards[0].count)
    return _side_by_side(words.stretches(places, job))


def _side_by_side(said: Sequence[str]) -> str:
    return ("  " if max(map(len, said)) < 4 else ", ").join(said)


def _boards(plan: Plan) -> str:
    lines = ["The boards"]
    for outcome in plan.outcomes:
        said = [part for part in outcome_words(outcome, plan.job) if part]
        lines.append(_wrapped(f"{words.board(plan.job.boards[outcome.board])}: {'; '.join(said)}", "  "))
    return "\n".join(lines)


def _targets(plan: Plan) -> str:
    if not plan.targets:
        return ""
    lines = ["Another target?", *(_wrapped(line, "  ") for line in best_targets(plan))]
    for row in plan.targets:
        planned = " (as planned)" if row.target == plan.job.target else ""
        target = words.setting(row.target, plan.job.units)
        whole, both = f"{not_short(row, plan):,} not short", f"{row.both_faces:,} planed on both faces"
        lines.append(f"  {target}{planned}: of {plan.pieces:,} boards {whole}, {both}")
    return "\n".join(lines)
