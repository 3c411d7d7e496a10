"""Long boards: how far they hang over and sag; and boards butted end to end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from thickset.faces.words import digits, words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.job.job import Job
from thickset.ground.notation.lengths import INCH
from thickset.planning.figures.overhangs import hangings, longest
from thickset.planning.passes.model import Feeding, Plan
from thickset.planning.run.snipe import planned_feedings, sniped
from thickset.planning.stock.leaving import butted_savings, feeding_order
from thickset.trade.beam import SAG_ALLOWED, Overhang, wants_support


def support(plan: Plan) -> Markup:
    """Which boards want a stand or a helper, by the board that hangs over most.

    >>> from thickset.faces.words.example import lot
    >>> "Enter how far" in support(lot("7/8"))
    True
    """
    job = plan.job
    table = job.planer.table
    if table is None:
        most = max(board.length for board in job.boards)
        return el(
            "p",
            figure(
                f"The longest board is {words.length(most, job.units)}. Enter how far the planer's table reaches. Then the plan says "
                "how far each board hangs over and sags."
            ),
            class_="support",
        )
    found = hangings(job)
    farthest = longest(found)
    wanting = [one.board for one in found if wants_support(one.over)]
    need = (
        f"Hold up level: {words.listed(words.stretches(wanting, job))}. Use a roller stand, or a helper who carries and never pulls."
        if wanting
        else "No stand or helper is called for."
    )
    return el(
        "div",
        el("p", el("b", figure(need))),
        el("p", figure(hanging(farthest.over, f"Board {job.boards[farthest.board].name}", job))),
        el(
            "p",
            f"Worked at the target's thickness, under the board's own weight. A sag of {_sag(SAG_ALLOWED, job)} does no harm. "
            "A single board may sag a third more or less.",
            class_="hint",
        ),
        ask_button("support", "Why these figures?"),
        class_="support",
    )


def hanging(one: Overhang, name: str, job: Job) -> str:
    """How a board hangs over the ends of the table, in a sentence.

    >>> from thickset.faces.words.example import lot
    >>> hanging(Overhang(600.0, 1.4, False), "Board A", lot("1").job)[:40]
    'Board A hangs over by up to 23 5/8 in as'
    """
    if not one.length:
        return "No board reaches past the table."
    sag = "it sags too far for a free end" if one.sag is None else f"its end sags {_sag(one.sag, job)}"
    tips = ", and it tips: more than half of it is off the table." if one.tips else "."
    return f"{name} hangs over by up to {words.about(_exact(one.length), job.units)} as it enters and as it leaves. There {sag}{tips}"


def butting(plan: Plan) -> Markup:
    """Feeding boards end to end: the order, the minutes saved, which ends keep snipe, and the caution.

    >>> from thickset.faces.words.example import lot
    >>> "thrown" in butting(lot("7/8", "1"))
    True
    """
    job, ways = plan.job, planned_feedings(plan)
    if plan.pieces < 2 or not plan.passes:
        return el("p", "One board: there is nothing to butt.", class_="butting")
    order = feeding_order(plan)
    names = words.listed([words.board(job.boards[n]) for n in order[:12]])
    more = "" if len(order) <= 12 else ", and so on, thick to thin"
    savings = butted_savings(plan)
    butted = [one.number for one, saved in zip(plan.passes, savings, strict=True) if saved]
    return el(
        "div",
        el("p", figure(f"Order: {names}{more}. In each pass leave out those that wait.")),
        *(
            _butted(butted[0], sum(savings, Fraction(0)))
            if butted
            else [el("p", "No two boards come to a pass at one thickness. Feed each alone.")]
        ),
        *(_still_sniped(job, ways) if butted else ()),
        el(
            "p",
            "Only one behind the other, never side by side. A thinner piece between two thicker ones can be thrown, and the difference can be too small to see. "
            "Butt only boards that are at one thickness all over, the same as the board before. Feed the others alone. "
            "None may be shorter than the planer's shortest, the scrap that guards them neither. The machine's manual comes first.",
            class_="caution",
        ),
        class_="butting",
    )


def _butted(first: int, saved: Fraction) -> list[Markup]:
    return [
        el(
            "p",
            figure(
                f"From pass {first} on, butt boards that are planed to one thickness. A board that is still uneven, or thinner than the one before, goes alone."
            ),
        ),
        el("p", f"It saves {words.less(saved)} if the next board is picked up while the one before it runs."),
        ask_button("butting", "Why these minutes?"),
    ]


def _still_sniped(job: Job, ways: Sequence[Feeding]) -> Iterator[Markup]:
    if not (job.planer.snipe_lead or job.planer.snipe_trail):
        yield el("p", "No snipe is entered for this planer.", class_="hint")
        return
    kept = []
    for board, pieces in zip(job.boards, sniped(job, ways, "butted"), strict=True):
        for one in pieces:
            lost = one.lost(job)
            if ends := _ends(lost.end_1, lost.end_2, job):
                kept.append(f"board {board.name}{f' ({one.which})' if one.which else ''}: {ends}")
    if kept:
        yield el("p", figure(f"Snipe stays on {'; '.join(kept)}. Every other end is whole."))
        yield ask_button("butted", "Why this snipe?")


def _ends(end_1: Fraction, end_2: Fraction, job: Job) -> str:
    return words.listed(
        [
            f"{words.length(lost, job.units)} at end {n}"
            for n, lost in ((1, end_1), (2, end_2))
            if lost > job.cutting.trim
        ]
    )


def _sag(value: float, job: Job) -> str:
    """How far an end sags [mm], in the unit of the job."""
    return f"{digits.rounded(value)} mm" if job.units == "mm" else f"{digits.rounded(value / float(INCH))} in"


def _exact(value: float) -> Fraction:
    return Fraction(value).limit_denominator(10**4)
