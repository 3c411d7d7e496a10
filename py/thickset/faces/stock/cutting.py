"""How long to leave the parts, and the cutting plan: in words, and drawn to scale."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from thickset.faces.words import words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import Markup, el, join, number
from thickset.faces.words.why_button import ask_button
from thickset.ground.job.job import Job
from thickset.planning.passes.model import Plan
from thickset.planning.stock.leaving import Rough, rough_lengths
from thickset.planning.stock.parts import CuttingPlan, Sawn, cutting_plan, too_wide

WIDTH = 360.0
BAR = 26.0
ROW = 50.0
MOST_DRAWN = 30
NOTHING_YET = (
    "Enter the finished length of a part. Then it stands here how long to leave it and where to cut each board."
)


def cutting(plan: Plan, made: CuttingPlan | None = None) -> Markup:
    """Rough lengths and the cutting plan of the parts that a job names, or what is still to enter; `made`: where it is made already.

    >>> from thickset.faces.words.example import lot
    >>> cutting(lot("7/8"))
    '<p class="hint">Enter the finished length of a part. Then it stands here how long to leave it and where to cut each board.</p>'
    """
    if not plan.job.parts:
        return el("p", NOTHING_YET, class_="hint")
    made = made or cutting_plan(plan)
    return el(
        "div",
        _rough(plan.job),
        el("h2", "What comes out of each board"),
        *(el("p", figure(line)) for line in outcome(made, plan)),
        _picture(made, plan) if made.sawn else None,
        el("ol", *(el("li", figure(line)) for line in cuts(made, plan)), class_="cuts") if made.sawn else None,
        ask_button("parts", "Why these figures?"),
        class_="cutting",
    )


def outcome(made: CuttingPlan, plan: Plan) -> Iterator[str]:
    """What the cutting plan makes and what it leaves, in sentences.

    >>> from thickset.faces.words.example import lot
    >>> list(outcome(cutting_plan(lot("7/8")), lot("7/8")))
    ['No part comes out of these boards.']
    """
    job = plan.job
    boards = sum(one.count for one in made.sawn)
    missing = [f"{gone} of {part.name}" for part, gone in zip(job.parts, made.missing, strict=True) if gone]
    for k in too_wide(plan):
        part = job.parts[k]
        if part.width is not None:
            yield f"{part.name} is {words.length(part.width, job.units)} wide, and no board that reaches the target is."
    if not made.sawn:
        yield "No part comes out of these boards."
        return
    all_made = "All parts come" if not missing else "The parts come"
    yield f"{all_made} out of {words.boards(boards)}; {round(float(made.waste) * 100)} % of their length is waste."
    if missing:
        yield f"Cannot be made: {words.listed(missing)}."
    if made.left_out:
        yield f"Left out because they are short of the target: {words.listed(words.stretches(made.left_out, job))}."
    yield (
        "Parts are cut one behind the other, not side by side. "
        + (
            "No other such way wastes less."
            if made.proved
            else "Not every such way was tried. Another may waste a little less."
        )
    )


def cuts(made: CuttingPlan, plan: Plan) -> Iterator[str]:
    """Where to cut each board, measured from end 1.

    >>> from thickset.faces.words.example import lot
    >>> list(cuts(cutting_plan(lot("7/8")), lot("7/8")))
    []
    """
    job = plan.job
    for one in made.sawn:
        spots = (
            f"{job.parts[p.part].name} {_bare(p.start, job)} to {words.length(p.end, job.units)}" for p in one.parts
        )
        yield f"{_name(one, job)}: {', '.join(spots)}"


def _rough(job: Job) -> Markup:
    alone, butted, guarded = (rough_lengths(job, ends) for ends in ("alone", "butted", "guarded"))
    snipe = job.planer.snipe_lead or job.planer.snipe_trail
    rows = (
        el(
            "tr",
            el("th", one.part.name, scope="row"),
            el("td", figure(_length(one, job))),
            el("td", figure(_length(two, job))),
        )
        for one, two in zip(alone, butted, strict=True)
    )
    held = [one for one in (*alone, *guarded) if one.held]
    return el(
        "div",
        el("h2", "How long to leave them"),
        el(
            "table",
            el(
                "thead",
                el("tr", *(el("th", said, scope="col") for said in ("Part", "Fed alone", "Butted, or guarded"))),
            ),
            el("tbody", *rows),
        ),
        el(
            "p",
            "Butted end to end, only the first and the last piece are sniped. Leave those as long as if fed alone, or guard them with scrap of the same thickness, no shorter than the planer takes, before and behind.",
            class_="hint",
        ),
        None
        if snipe
        else el(
            "p", "No snipe is entered for this planer. Measure it on a scrap and enter it under Planer.", class_="hint"
        ),
        el(
            "p",
            f"The planer takes none under {words.length(job.planer.shortest, job.units)}. Leave several short ones in one until they are planed.",
            class_="hint",
        )
        if held and job.planer.shortest
        else None,
    )


def _length(one: Rough, job: Job) -> str:
    said = words.length(one.length, job.units)
    return f"{said} ({one.parts_in_one} in one)" if one.parts_in_one > 1 else said


def _picture(made: CuttingPlan, plan: Plan) -> Markup:
    """Boards to one scale: parts with their names, what ends and defects take hatched, what is left over open."""
    job = plan.job
    longest = float(max(job.boards[one.board].length for one in made.sawn))
    drawn = made.sawn[:MOST_DRAWN]
    parts = [mark for n, one in enumerate(drawn) for mark in _board(one, job, n * ROW, (WIDTH - 2) / longest)]
    hatch = el("path", d="M-1,1L1,-1M0,6L6,0M5,7L7,5", stroke="currentColor", stroke_width=1)
    return el(
        "svg",
        el(
            "title",
            f"Cutting plan of {words.boards(sum(one.count for one in made.sawn))}, to scale; the same in words below",
        ),
        el("defs", el("pattern", hatch, id="cut-hatch", width=6, height=6, patternUnits="userSpaceOnUse")),
        el("g", *parts, stroke="currentColor", fill="none"),
        viewBox=f"0 0 {number(WIDTH)} {number(len(drawn) * ROW)}",
        role="img",
        class_="bars",
    )


def _board(one: Sawn, job: Job, top: float, scale: float) -> Iterator[Markup]:
    board = job.boards[one.board]
    y = top + 18

    def stretch(start: Fraction, end: Fraction, **how: str) -> Markup:
        return el("rect", x=1 + float(start) * scale, y=y, width=float(end - start) * scale, height=BAR, **how)

    yield _text(f"{_name(one, job)}, {words.length(board.length, job.units)}", 0, top + 13)
    yield stretch(Fraction(0), board.length, class_="whole")
    gone = [(Fraction(0), one.lost.end_1), (board.length - one.lost.end_2, board.length)]
    gone += [(defect.start, min(defect.end, board.length)) for defect in board.defects]
    yield from (stretch(start, end, fill="url(#cut-hatch)") for start, end in gone if end > start)
    for placed in one.parts:
        yield stretch(placed.start, placed.end, class_="part", stroke_width="2.2")
        name = job.parts[placed.part].name
        wide = float(placed.end - placed.start) * scale
        if wide > 14:
            yield _text(name[: int((wide - 4) // 7)], 1 + float(placed.start) * scale + 4, y + 17, "label")


def _name(one: Sawn, job: Job) -> str:
    name = job.boards[one.board].name
    name = f"{name} ({one.which})" if one.which else name
    return f"{name} ×{one.count}" if one.count > 1 else name


def _bare(length: Fraction, job: Job) -> str:
    return words.length(length, job.units).removesuffix(f" {job.units}")


def _text(said: str, x: float, y: float, kind: str = "name") -> Markup:
    return el("text", join([said]), x=x, y=y, font_size=12, class_=kind, fill="currentColor", stroke="none")
