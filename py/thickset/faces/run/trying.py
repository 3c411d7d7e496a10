"""The test piece of a pass: how many to have ready, what came out, what the caliper says."""

from __future__ import annotations

from fractions import Fraction

from thickset.faces.run.feeding import waits
from thickset.faces.run.surprises import reading_field
from thickset.faces.words import words
from thickset.faces.words.event_button import event
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.notation.lengths import show
from thickset.planning.passes.model import Pass
from thickset.planning.run.next_step import Step
from thickset.planning.run.state import State


def piece_first(state: State, step: Step, one: Pass) -> Markup:
    """What to run first and the answers to what came out: one tap when it is as it was set, proud too; after a try the answers come first.

    >>> from thickset.planning.run.follow import begin
    >>> from thickset.planning.run.next_step import next_step
    >>> from thickset.ground.job.example import small_job
    >>> state = begin(small_job())
    >>> "The scrap measures 23 mm" in piece_first(state, next_step(state), state.rest[0])
    True
    """
    if step.first_board is not None:
        return _first_piece(state, step, one, step.first_board)
    job = state.job
    scale = step.scale if step.scale is not None else one.setting
    shared = {"did": "test", "setting": show(one.setting, job.units), "scale": show(scale, job.units)}
    least = words.length(step.test_piece_least, job.units)
    expected = one.setting + step.aim
    last = state.tries[-1] if state.tries and not state.set_anew else None
    pieces: list[Markup | None] = [
        el(
            "div",
            el("h3", "Test piece first"),
            ask_button("scale.pieces_that_suffice", label="Why so many test pieces?"),
            class_="with-ask",
        ),
        el("p", *_enough(step.test_pieces, figure(least), again=bool(last and last.verdict == "thick"))),
        _aim(state, step),
        _knocked(state),
    ]
    return el(
        "div",
        *([] if last else pieces),
        el(
            "button",
            "It measures ",
            figure(words.length(expected, job.units)),
            type="button",
            class_="strong huge",
            data_event=event(**shared, thickness=show(expected, job.units)),
        ),
        _entry("It measures something else", shared, expected),
        *(pieces if last else []),
        el(
            "button",
            "Feed the boards all the same",
            type="button",
            data_event=event(did="feed", setting=shared["setting"], scale=show(last.scale, job.units)),
        )
        if last and last.verdict != "right" and step.remaining
        else None,
        class_="test-piece",
    )


def _first_piece(state: State, step: Step, one: Pass, board: int) -> Markup:
    """The one piece that tells of the scale: a scrap, or the thickest board alone."""
    job = state.job
    scale = step.scale if step.scale is not None else one.setting
    shared = {"did": "test", "setting": show(one.setting, job.units), "scale": show(scale, job.units)}
    thick, name = figure(words.length(step.test_piece_least, job.units)), job.boards[board].name
    expected = one.setting + step.aim
    wanted = figure(words.length(expected, job.units))
    waiting = [piece.board for piece in state.pieces if piece.board not in step.remaining]
    return el(
        "div",
        el(
            "div",
            el("h3", "Measure the first piece"),
            ask_button(f"passes[{one.number - 1}].checked", label="Why is the first piece measured?"),
            class_="with-ask",
        ),
        el("p", "Run one scrap as thick as the lot, ", thick, ". If the knives do not touch it, take a thicker one."),
        el(
            "button",
            "The scrap measures ",
            wanted,
            type="button",
            class_="strong huge",
            data_event=event(**shared, thickness=show(expected, job.units)),
        ),
        _entry("The scrap measures something else", shared, expected),
        el(
            "details",
            el("summary", "No scrap at hand"),
            el("p", alone(board, state)),
            waits(waiting, state) if waiting and step.remaining == (board,) and job.boards[board].count == 1 else None,
            *(
                [
                    el(
                        "button",
                        f"Board {name} measures ",
                        wanted,
                        type="button",
                        data_event=event(**shared, board=name, thickness=show(expected, job.units)),
                    ),
                    _entry(f"Board {name} measures something else", {**shared, "board": name}, expected),
                ]
                if job.boards[board].count == 1
                else [el("p", "Enter above what it measures, as the scrap. It goes on with the others.")]
            ),
        ),
        class_="test-piece",
    )


def alone(board: int, state: State) -> str:
    """What goes first where no scrap is at hand: the thickest board [index] of the pass.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> alone(0, begin(small_job()))
    'Feed board A alone, the thickest, face B up, end 1 first. Measure it where the knives cut. What it says guards the others, not itself.'
    """
    one = state.job.boards[board]
    lies = next(piece.next_placement() for piece in state.pieces if piece.board == board)
    which = f"board {one.name}" if one.count == 1 else f"one of {words.board(one)}"
    way = f"face {lies.up} up, end {lies.leads} first"
    return f"Feed {which} alone, the thickest, {way}. Measure it where the knives cut. What it says guards the others, not itself."


def _enough(pieces: int, least: Markup, *, again: bool) -> list[str | Markup]:
    """How many pieces to have ready, and how thick; `again`: the one that came out thick goes in once more."""
    thick: list[str | Markup] = [" At least ", least, " thick."]
    if not pieces:
        return [
            "The settings of this planer stray more than the tolerance allows. No number of test pieces is sure to be enough: widen the tolerance, or mend the play.",
            *thick,
        ]
    if again and pieces == 1:
        return ["The same piece is enough 99 times in 100."]
    if again:
        return [f"With {pieces - 1} more ready it is enough 99 times in 100. Those at least ", least, " thick."]
    if pieces == 1:
        return ["One piece is enough 99 times in 100.", *thick]
    return [f"Have {pieces} pieces ready: enough 99 times in 100.", *thick]


def _aim(state: State, step: Step) -> Markup | None:
    if not step.aim:
        return None
    known = state.offs or state.job.planer.record
    why = "The scale is not known well enough yet" if known else "Nothing is known of the scale yet"
    proud = figure(words.length(step.aim, state.job.units))
    return el("p", f"{why}, so the first try is kept ", proud, " proud.")


def _knocked(state: State) -> Markup | None:
    """Before the first test piece of a run is read: that the scale was knocked not long ago, and what is known of it since."""
    record = state.job.planer.record
    if record is None or not record.since_knock or state.read:
        return None
    since = (
        "the last run or scrap alone" if record.since_knock == 1 else f"the last {record.since_knock} runs and scraps"
    )
    return el("p", f"The scale was knocked not long ago. What is known of it rests on {since}.", class_="knocked")


def verdict(state: State, step: Step) -> Markup:
    """What the last test piece of this pass says, and how far the planer moves for it; nothing when there was none.

    The one figure is that of the correction: what a piece was off by is partly chance where the scale is well known.

    >>> from thickset.planning.run.follow import begin
    >>> from thickset.planning.run.next_step import next_step
    >>> from thickset.ground.job.example import small_job
    >>> state = begin(small_job())
    >>> verdict(state, next_step(state)) == ""
    True
    """
    if not state.tries:
        return EMPTY
    last = state.tries[-1]
    moved = (step.scale if step.scale is not None else last.scale) - last.scale
    by = [" by ", figure(words.length(abs(moved), state.job.units))] if moved else []
    if state.set_anew:
        way = "Close" if moved < 0 else "Open"
        text: tuple[str | Markup, ...] = (f"The boards came out too {last.verdict}. {way} the planer", *by, ".")
    elif last.verdict == "thick":
        text = ("Too thick. Close the planer", *by, " and run the same piece again.")
    elif last.verdict == "thin":
        text = ("Too thin. It cost a test piece, not a board. Open the planer", *by, " and run a fresh piece.")
    else:
        text = ("Right.",)
    return el("p", *text, class_="verdict", role="status")


def _entry(label: str, shared: dict[str, str], near: Fraction) -> Markup:
    """A field that adds its thickness to an event; the pad starts near what is expected [mm]."""
    return el(
        "div",
        reading_field(label, "thickness", near),
        el("button", "Enter", type="button", data_add=True),
        class_="measure",
        data_measure=event(**shared),
    )
