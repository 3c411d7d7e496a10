"""What becomes of each board, and which target would let more of them make it."""

from __future__ import annotations

from collections.abc import Iterator

from thickset.faces.words import words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.job.job import Job
from thickset.planning.passes.model import Outcome, Plan, TargetRow
from thickset.planning.passes.targets import none_short

MOST_ASKED = 60
"""Boards that each get a button; with more the page grows long and slow, and the pass cards answer."""


def boards(plan: Plan) -> Markup:
    """Each board with its outcome, in the order of the job.

    >>> from thickset.faces.words.example import lot
    >>> boards(lot("7/8 3/4", "23/32")).count("<li")
    2
    """
    asks = len(plan.outcomes) <= MOST_ASKED
    rows = (_row(outcome, plan.job, asks=asks) for outcome in plan.outcomes)
    return el("div", el("h2", "The boards"), el("ul", *rows, class_="outcomes"))


def _row(outcome: Outcome, job: Job, *, asks: bool) -> Markup:
    board = job.boards[outcome.board]
    said, more = outcome_words(outcome, job)
    return el(
        "li",
        el("bdi", board.name, el("small", f" ×{board.count}") if board.count > 1 else None),
        el("p", el("b", figure(said))),
        el("p", figure(more)) if more else None,
        ask_button(f"boards[{outcome.board}]", label=f"Why board {board.name}?") if asks else None,
        data_board=board.name,
        data_outcome=outcome.name,
    )


def outcome_words(outcome: Outcome, job: Job) -> tuple[str, str]:
    """A board's outcome in a few words, and what comes off it.

    >>> from thickset.faces.words.example import lot
    >>> plan = lot("7/8", "7/8 3/4", "7/8 23/32", "3/4", "23/32")
    >>> for outcome in plan.outcomes:
    ...     print(outcome_words(outcome, plan.job))
    ('planed on both faces', '3/32 in off B, 1/32 in off A')
    ('planed on face B only; face A stays as jointed', '1/8 in off B')
    ('1/32 in short at its thin spot: face B stays rough there', '1/8 in off B')
    ('not cut: it is at the target', '')
    ('not cut: 1/32 in short of the target at its thin spot', '')
    """
    off = {"B": outcome.taken_b, "A": outcome.taken_a}
    more = ", ".join(f"{words.length(much, job.units)} off {face}" for face, much in off.items() if much)
    short = words.length(outcome.short, job.units) if outcome.short else ""
    if outcome.name == "untouched":
        return f"not cut: {short} short of the target at its thin spot" if short else "not cut: it is at the target", ""
    if outcome.name == "short":
        board = job.boards[outcome.board]
        place = board.place(board.readings.index(board.thin))
        where = f" ({place.words})" if place else ""
        return f"{short} short at its thin spot{where}: face B stays rough there", more
    if outcome.name == "one face":
        return "planed on face B only; face A stays as jointed", more
    return "planed on both faces", more


def targets(plan: Plan) -> Markup:
    """Other targets and how many boards each would leave planed on both faces; nothing when all make it.

    >>> from thickset.faces.words.example import lot
    >>> targets(lot("7/8")) == "", "No thicker target" in targets(lot("7/8 3/4", "7/8"))
    (True, True)
    """
    if not plan.targets:
        return EMPTY
    heads = (el("th", said, scope="col") for said in ("Target", "Not short", "Planed on both faces"))
    return el(
        "div",
        el("div", el("h2", "Another target?"), ask_button("targets", label="Why these targets?"), class_="with-ask"),
        *(el("p", figure(line), class_="all") for line in best_targets(plan)),
        el("table", el("thead", el("tr", *heads)), el("tbody", *(_target(row, plan) for row in plan.targets))),
        class_="targets",
    )


def _target(row: TargetRow, plan: Plan) -> Markup:
    planned = row.target == plan.job.target
    return el(
        "tr",
        el("td", figure(words.setting(row.target, plan.job.units)), " (as planned)" if planned else None),
        el("td", f"{not_short(row, plan):,} of {plan.pieces:,}"),
        el("td", f"{row.both_faces:,} of {plan.pieces:,}"),
        aria_current="true" if planned else None,
    )


def not_short(row: TargetRow, plan: Plan) -> int:
    """How many boards [count] come out no thinner than a target.

    >>> from thickset.faces.words.example import lot
    >>> plan = lot("7/8 23/32", "7/8")
    >>> not_short(plan.targets[0], plan)
    1
    """
    return sum(board.count for board in plan.job.boards if board.thin >= row.target)


def best_targets(plan: Plan) -> Iterator[str]:
    """The thickest target at which no board comes out short, and the one that leaves all planed on both faces: two answers.

    >>> from thickset.faces.words.example import lot
    >>> list(best_targets(lot("7/8 23/32", "7/8")))
    ['At 23/32 in no board comes out short.', 'At 11/16 in both boards come out planed on both faces. No thicker target does it.']
    """
    saves = none_short(plan.job)
    if saves is not None:
        yield f"At {words.setting(saves, plan.job.units)} no board comes out short."
    row = plan.all_make()
    if row is None:
        yield "No target that this planer reaches leaves all boards planed on both faces."
        return
    come = "comes" if plan.pieces == 1 else "come"
    who, target = words.all_of(plan.pieces), words.setting(row.target, plan.job.units)
    yield f"At {target} {who} {come} out planed on both faces. No thicker target does it."
