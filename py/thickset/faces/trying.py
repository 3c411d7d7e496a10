"""The test piece of a pass: how many to have ready, what came out, what the caliper says."""

from __future__ import annotations

from fractions import Fraction

from thickset.faces import words
from thickset.faces.act import event
from thickset.faces.asks import ask_button
from thickset.faces.figures import figure
from thickset.faces.markup import EMPTY, Markup, el
from thickset.faces.surprises import reading_field
from thickset.ground.job import Job
from thickset.ground.lengths import show
from thickset.planning.model import Pass
from thickset.planning.run_state import State
from thickset.planning.step import Step


def piece_first(state: State, step: Step, one: Pass) -> Markup:
    """What to run first and the answers to what came out: one tap when it is right.

    >>> from thickset.planning.follow import begin
    >>> from thickset.planning.step import next_step
    >>> from thickset.ground.example import small_job
    >>> state = begin(small_job())
    >>> "It measures 23 mm" in piece_first(state, next_step(state), state.rest[0])
    True
    """
    job = state.job
    scale = step.scale if step.scale is not None else one.setting
    shared = {"did": "test", "setting": show(one.setting, job.units), "scale": show(scale, job.units)}
    least = words.length(step.test_piece_least, job.units)
    wanted = show(one.setting, job.units)
    last = state.trials[-1] if state.trials else None
    return el(
        "div",
        el("h3", "Test piece first"),
        el("p", _enough(step.test_pieces), " At least ", figure(least), " thick."),
        ask_button("scale.pieces_that_suffice", label="Why so many test pieces?"),
        _aim(step, job),
        el("p", "Run it and measure what comes out.", class_="asks"),
        el(
            "button",
            "It measures ",
            figure(words.length(one.setting, job.units)),
            type="button",
            class_="strong huge",
            data_event=event(**shared, thickness=wanted),
        ),
        _entry("It measures something else", shared, one.setting),
        el(
            "button",
            "Feed the boards at this setting all the same",
            type="button",
            data_event=event(did="feed", setting=shared["setting"], scale=show(last.scale, job.units)),
        )
        if last and last.verdict != "right"
        else None,
        class_="test-piece",
    )


def _enough(pieces: int) -> str:
    if not pieces:
        return "This planer repeats too badly for the tolerance: no number of test pieces is sure to do."
    if pieces == 1:
        return "One piece is enough 99 times in 100."
    return f"Have {pieces} pieces ready: enough 99 times in 100."


def _aim(step: Step, job: Job) -> Markup | None:
    if not step.aim:
        return None
    proud = figure(words.length(step.aim, job.units))
    return el("p", "Nothing is known of the scale yet, so the first try is kept ", proud, " proud.")


def verdict(state: State) -> Markup:
    """What the last test piece of this pass says, and what to do about it; nothing when there was none.

    >>> from thickset.planning.follow import begin
    >>> from thickset.ground.example import small_job
    >>> verdict(begin(small_job())) == ""
    True
    """
    if not state.trials:
        return EMPTY
    last, units = state.trials[-1], state.job.units
    off = abs(last.thickness - last.wanted)
    if last.verdict == "thick":
        text: tuple[str | Markup, ...] = (
            "Too thick by ",
            figure(words.length(off, units)),
            ". Close the planer and run the same piece again.",
        )
    elif last.verdict == "thin":
        text = (
            "Too thin by ",
            figure(words.length(off, units)),
            ". It cost a test piece, not a board. Open the planer and run a fresh piece.",
        )
    else:
        text = ("Right.",)
    return el("p", *text, class_="verdict", role="status")


def _entry(label: str, shared: dict[str, str], near: Fraction) -> Markup:
    """A field that adds its thickness to an event; the pad starts near what is wanted [mm]."""
    return el(
        "div",
        reading_field(label, "thickness", near),
        el("button", "Enter", type="button", data_add=True),
        class_="measure",
        data_measure=event(**shared),
    )
