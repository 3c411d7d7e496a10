"""After the run: what the boards measure, which ends to cut off, what to do with short ones, what was learned."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from fractions import Fraction

from thickset.faces.words import words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.job.job import Job, Record
from thickset.ground.notation.lengths import near
from thickset.planning.passes.model import Feeding, Plan
from thickset.planning.run.follow import follow
from thickset.planning.run.report import Final, finals_of, learned, taken_out, target_of
from thickset.planning.run.snipe import Lost, feedings_of, sniped
from thickset.planning.stock.rescue import narrower_part, parts_of, shorter_part

WHY_RECORD = el("p", ask_button("record", "Why these figures?", "Why these figures of the planer?"))


def after(plan: Plan) -> Markup:
    """The report of a run, as far as boards were measured after it.

    >>> from thickset.faces.words.example import lot
    >>> "Once the run has begun" in after(lot("7/8"))
    True
    """
    job = plan.job
    if not job.run:
        return el(
            "p",
            "Once the run has begun: what the boards measure, which ends to cut off, what was learned.",
            class_="hint",
        )
    made, planer = finals_of(job), job.planer
    return el(
        "div",
        *(el("p", figure(line)) for line in summary(job)),
        el("button", "Enter what came out", type="button", class_="strong", data_do="enter-finals"),
        el("ul", *(el("li", figure(_line(one, job))) for one in made.finals), class_="finals") if made.finals else None,
        ask_button("after", "Why these figures?") if made.finals else None,
        ask_button("rescue", "Why these parts?") if any(parts_of(one, job) for one in made.finals) else None,
        el("h2", "Cut off"),
        el("ul", *(el("li", figure(line)) for line in cut_off(job, feedings_of(plan))), class_="cut-off"),
        ask_button("ends", "Why cut off so much?")
        if planer.snipe_lead or planer.snipe_trail or job.cutting.trim
        else None,
        el("button", "Print the report", type="button", data_do="print-report"),
        _taught(job),
        class_="after",
    )


def report(plan: Plan) -> Markup:
    """A page to print and keep: what was wanted, what each board measures, what to cut off; room for a date and a name.

    >>> from thickset.faces.words.example import lot
    >>> report(lot("7/8", "1")).count("<tr")
    3
    """
    job = plan.job
    measured = {one.board: one for one in finals_of(job).finals}
    kept, gone = sniped(job, feedings_of(plan), job.cutting.ends), taken_out(job)
    rows = (
        el(
            "tr",
            el("td", words.board(board)),
            el(
                "td",
                ", ".join(_fine(value, job) for value in measured[n].readings) if n in measured else "not measured",
            ),
            el("td", figure(_line(measured[n], job).partition(": ")[2]) if n in measured else ""),
            el(
                "td",
                "taken out"
                if n in gone
                else figure("; ".join(f"{one.which} {_both(one.lost(job), job)}".strip() for one in kept[n])),
            ),
        )
        for n, board in enumerate(job.boards)
    )
    heads = ("Board", "Readings after the last pass", "Outcome", "Cut off at end 1, end 2")
    return el(
        "div",
        el("h1", f"{job.title or 'Lot'}: report"),
        el("p", "Date ______________  Name ______________"),
        el("p", figure(f"Target {words.setting(job.target, job.units)}, tolerance {_fine(job.tolerance, job)}.")),
        *(el("p", figure(line)) for line in summary(job)),
        el("table", el("thead", el("tr", *(el("th", head, scope="col") for head in heads))), el("tbody", *rows)),
        class_="sheet report",
    )


def summary(job: Job) -> Iterator[str]:
    """Spread, worst board, boards out of tolerance.

    >>> from thickset.faces.words.example import lot
    >>> next(summary(lot("7/8").job))
    'No board was measured after its last pass. Measure each at both ends and the middle.'
    """
    made = finals_of(job)
    if made.worst is None:
        yield "No board was measured after its last pass. Measure each at both ends and the middle."
        return
    out = [words.board(job.boards[one.board]) for one in made.finals if not one.good]
    unsure = [words.board(job.boards[one.board]) for one in made.finals if one.good and not one.sure]
    gone = taken_out(job) - {one.board for one in made.finals}
    boards = sum(board.count for n, board in enumerate(job.boards) if n not in gone)
    spread, worst = _fine(made.spread, job), job.boards[made.worst].name
    yield f"{len(made.finals)} of {boards} measured; spread {spread}, worst board {worst}."
    tolerance = _fine(job.tolerance, job)
    if out:
        yield f"Out of tolerance ({tolerance}): {words.listed(out)}."
    if unsure:
        gauge = near(job.practice.gauge, job.units, 3)
        yield f"This gauge cannot tell whether they are within the tolerance of {tolerance}: {words.listed(unsure)}. It may be off by {gauge}."
    elif not out:
        yield f"All of them are within the tolerance of {tolerance}."


def cut_off(job: Job, feedings: Sequence[Feeding], left: Collection[int] | None = None) -> Iterator[str]:
    """What to cut off each board's ends, boards that lose the same together; `left`: the boards [index] that are in the lot still.

    >>> from thickset.faces.words.example import lot
    >>> plan = lot("7/8")
    >>> list(cut_off(plan.job, feedings_of(plan)))
    ['Nothing: no snipe and no trim is entered.']
    """
    alike: dict[Lost, list[str]] = {}
    gone = taken_out(job) if left is None else frozenset(range(len(job.boards))) - frozenset(left)
    for n, (board, pieces) in enumerate(zip(job.boards, sniped(job, feedings, job.cutting.ends), strict=True)):
        for one in pieces if n not in gone else ():
            lost = one.lost(job)
            if lost.end_1 or lost.end_2:
                alike.setdefault(lost, []).append(f"{board.name} ({one.which})" if one.which else board.name)
    for lost, names in alike.items():
        off = [words.length(end, job.units) if end else "nothing" for end in (lost.end_1, lost.end_2)]
        ends = f"{off[0]} at end 1, {off[1]} at end 2"
        yield f"Board{'s' if len(names) > 1 else ''} {words.listed(names)}: {ends}"
    if alike:
        return
    if not job.planer.snipe_lead and not job.planer.snipe_trail:
        yield "Nothing: no snipe and no trim is entered."
    elif job.cutting.ends == "guarded":
        yield "Nothing: the scrap pieces before and behind take the snipe."
    else:
        yield "Nothing: no snipe stays on an end."


def _both(lost: Lost, job: Job) -> str:
    return f"{words.length(lost.end_1, job.units)}, {words.length(lost.end_2, job.units)}"


def _line(one: Final, job: Job) -> str:
    name = f"Board {job.boards[one.board].name}"
    if one.sure:
        return f"{name}: right"
    off = _fine(abs(one.off), job)
    if one.good:
        side = "thick" if one.off > 0 else "thin"
        return f"{name}: {off} too {side} as measured; this gauge cannot tell whether that is within the tolerance"
    if one.off > 0:
        return f"{name}: {off} too thick; feed it once more"
    thin = words.length(min(one.readings), job.units)
    others = [
        f"or a {how} one from {words.about(part[0], job.units) if part[0] else 0} to {words.about(part[1], job.units)} from {edge}"
        for how, part, edge in (
            ("shorter", shorter_part(one, job), "end 1"),
            ("narrower", narrower_part(one, job), "its left edge, seen from end 1"),
        )
        if part
    ]
    thick = max(one.readings) - target_of(job)
    also = [f"elsewhere {_fine(thick, job)} too thick"] if thick > job.tolerance else []
    said = [f"{name}: {off} too thin{_thinnest(one)}", *also]
    return ", ".join([f"{', '.join(said)}; it makes a part of {thin}", *others])


def _thinnest(one: Final) -> str:
    at = one.readings.index(min(one.readings))
    place = one.places[at] if at < len(one.places) else None
    return f" at {place.words}" if place else ""


def _taught(job: Job) -> Markup:
    record = learned(job)
    now = job.planer.record
    said: list[Markup | None] = []
    if now:
        said = [
            *(el("p", figure(line), class_="hint") for line in _record(now, "So far", job)),
            WHY_RECORD if record is None else None,
            el("button", "The knives were changed", type="button", data_do="new-knives"),
        ]
    state = follow(job)
    if record is None:
        return el(
            "div",
            el("h2", "What this run taught"),
            *said,
            el(
                "p",
                "Nothing yet. The run is not through, nothing was measured in it, and too few boards were ticked off to time it.",
            ),
        )
    to_go = len(state.rest)
    begun = f"The run is not through: {_passes(len(state.done))} done, {to_go} to go. Start from it once, best when it is through."
    return el(
        "div",
        el("h2", "What this run taught"),
        *said,
        *(el("p", figure(line)) for line in _record(record, "With this run", job)),
        WHY_RECORD,
        None if state.is_through() else el("p", figure(begun), class_="hint"),
        el("button", "Start the next lot from this", type="button", data_do="learn"),
        el(
            "p",
            "The next lot begins with this only when you tap here. A planer that is kept under this name has it in its book once the run is through; there it can be taken back.",
            class_="hint",
        ),
    )


def _record(record: Record, when: str, job: Job) -> Iterator[str]:
    """What a record says, each with how many runs it rests on."""
    far = f"{_far(record.fed, job)} were fed since the knives were changed"
    if record.knows_scale:
        side = "more" if record.offset > 0 else "less"
        runs = "1 run or scrap" if record.runs == 1 else f"{record.runs} runs and scraps"
        yield (
            f"{when} ({runs}): the planer opens {_fine(abs(record.offset), job)} {side} than its scale reads, settings repeat to "
            f"{_fine(record.spread, job)}, and {far}."
        )
    else:
        yield f"{when}: {far}."
    known = (("setting the planer takes", record.set_seconds), ("handling a board takes", record.handle_seconds))
    times = [f"{said} {round(value)} s" for said, value in known if value is not None]
    if times:
        yield f"{when} ({_runs(record.timed)} timed by its taps): {words.listed(times)}."
    if record.lead is not None and record.trail is not None:
        lead, trail = (words.length(one, job.units) for one in (record.lead, record.trail))
        yield f"{when} ({_runs(record.sniped)} with snipe measured): at most {lead} at the end that leads, {trail} at the other."


def _runs(count: int) -> str:
    return "1 run" if count == 1 else f"{count} runs"


def _passes(count: int) -> str:
    return "1 pass" if count == 1 else f"{count} passes"


def _far(meters: Fraction, job: Job) -> str:
    return f"{round(meters / Fraction('0.3048')):,} ft" if job.units == "in" else f"{round(meters):,} m"


def _fine(value: Fraction, job: Job) -> str:
    mm = float(value)
    return f"{mm / 25.4:.3f} in" if job.units == "in" else f"{mm:.2f} mm"
