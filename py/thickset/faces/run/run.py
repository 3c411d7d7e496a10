"""The run screen: one pass at a time, read at arm's length and worked with one hand.

Every button carries the event that it adds to the run, so that the page only has to add it and ask again.
"""

from __future__ import annotations

from fractions import Fraction

from thickset.faces.picture.handle import dial
from thickset.faces.plan.moisture import today_in_run
from thickset.faces.run.beginning import before_the_first_feed, cautions_at_hand, first_opening_in_short
from thickset.faces.run.ending import ended, scale_says, under_target
from thickset.faces.run.feeding import carts, feeding
from thickset.faces.run.resting import resting
from thickset.faces.run.standing import standing
from thickset.faces.run.surprises import surprises
from thickset.faces.run.taking_back import undo
from thickset.faces.run.trying import piece_first, verdict
from thickset.faces.words import words
from thickset.faces.words.figures import figure, reading, setting
from thickset.faces.words.markup import EMPTY, Markup, el, join
from thickset.ground.job.job import Job
from thickset.planning.passes.model import Pass
from thickset.planning.passes.scale import ScaleSetting, set_by_scale
from thickset.planning.run.next_step import Step, next_step
from thickset.planning.run.state import State

SLACK = "Open it a turn further, then close it to the reading: that takes up the slack of the screw."


def run(state: State) -> Markup:
    """What is to be done next, with the buttons to say that it is done.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> html = run(begin(small_job()))
    >>> "Set the planer" in html, "Measure the first piece" in html
    (True, True)
    """
    step = next_step(state)
    return join(
        [
            EMPTY if state.job.run or not step.one else before_the_first_feed(state),
            _said(state),
            under_target(state),
            *(_at_work(state, step, step.one) if step.one else resting(state) if state.awaited else ended(state, step)),
            scale_says(state),
            cautions_at_hand(state.job) if step.one else EMPTY,
            surprises(state) if step.one else EMPTY,
            el("div", undo(state), class_="run-undo"),
        ]
    )


def _at_work(state: State, step: Step, one: Pass) -> list[Markup]:
    passes = len(state.done) + len(state.rest)
    infeed, outfeed = carts(len(state.done))
    return [
        el(
            "div",
            el(
                "h2",
                f"Pass {one.number}",
                el("small", f" of {passes}{' before the rest' if state.proud else ''}, {one.stage}"),
            ),
            el("p", f"Infeed: cart {infeed}. Outfeed: cart {outfeed}.", class_="carts"),
            class_="run-head",
        ),
        verdict(state, step) if step.kind == "test" else EMPTY,
        _set(state, step, one),
        today_in_run(state.job) if one.setting == state.goal and not state.proud else EMPTY,
        piece_first(state, step, one) if step.kind == "test" else feeding(state, step, one.setting),
        _then(state, step),
        standing(state),
    ]


def _set(state: State, step: Step, one: Pass) -> Markup:
    job = state.job
    way = step.way or ScaleSetting(one.setting, one.setting)
    return el(
        "div",
        el("p", "Set the planer to" if way.is_bare else "Set the planer so that its scale reads", class_="asks"),
        el("p", *(setting(way.setting, job) if way.is_bare else reading(way.scale, job)), class_="setting"),
        dial(_dialled(step), by_scale=not step.turns),
        el(
            "div",
            el("p", "Feed ", el("b", figure(words.feed(one.feed, job.units))), class_="feed-at"),
            None if way.is_bare else el("p", "Opens to ", figure(words.setting(way.opens, job.units)), class_="opens"),
            _handle(step, job),
            el("p", figure(unsure), class_="unsure") if (unsure := first_opening_in_short(state)) else None,
            class_="set-more",
        ),
        class_="set",
    )


def _is_planned(step: Step) -> bool:
    """Whether the scale goes to a setting of the plan; else to a correction, which a hand can only judge."""
    return step.one is not None and step.scale == step.one.setting


def _dialled(step: Step) -> Fraction | None:
    """What the dial draws: what is said beside it."""
    if not step.turns or _is_planned(step):
        return step.turns or None
    return words.judged_turns(step.turns) or None


def _handle(step: Step, job: Job) -> Markup:
    """How far the handle turns, where one turn is known, and how an opening is come back to from the safe direction."""
    slack = el("p", SLACK, class_="slack") if step.opens else None
    if not step.turns:
        return join([slack]) if slack else EMPTY
    said_turns = words.turns(step.turns) if _is_planned(step) else words.handle(step.turns)
    way = words.direction(job.planer.moves, closer=not step.opens)
    return join([el("p", "From here: ", el("b", figure(said_turns)), f", {way}", class_="handle"), slack])


def _then(state: State, step: Step) -> Markup:
    one = step.following
    if one is None and state.proud:
        return el("p", "Then the boards rest and are measured again.", class_="then")
    if one is None:
        last = state.rest[0].setting == state.goal
        return el("p", "This is the last pass." if last else "Then the rest is planned anew.", class_="then")
    test = ", test piece first" if one.checked else ""
    way = set_by_scale(state.job, state.belief, one.setting)
    return el("p", f"Then pass {one.number}: ", figure(words.set_to(way, state.job)), test, class_="then")


def _said(state: State) -> Markup:
    if not state.said:
        return EMPTY
    return el("div", *(el("p", line) for line in state.said), class_="said", role="status")
