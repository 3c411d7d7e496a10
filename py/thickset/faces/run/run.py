"""The run screen: one pass at a time, read at arm's length and worked with one hand.

Every button carries the event that it adds to the run, so that the page only has to add it and ask again.
"""

from __future__ import annotations

from thickset.faces.picture.turning import turning
from thickset.faces.plan.cautions import MARKING
from thickset.faces.run.ending import ended, scale_says, under_target
from thickset.faces.run.resting import resting
from thickset.faces.run.surprises import surprises
from thickset.faces.run.trying import piece_first, verdict
from thickset.faces.words import words
from thickset.faces.words.event_button import event
from thickset.faces.words.figures import figure, reading, setting, tags
from thickset.faces.words.markup import EMPTY, Markup, el, join
from thickset.ground.job.job import Job
from thickset.ground.notation.lengths import show
from thickset.planning.passes.model import Pass
from thickset.planning.passes.scale import ScaleSetting, set_by_scale
from thickset.planning.passes.turns import Placement
from thickset.planning.run.next_step import Step, next_step
from thickset.planning.run.state import State
from thickset.planning.stock.leaving import butted_now

SLACK = "Open it a turn further, then close it to the reading: that takes up the slack of the screw."


def run(state: State) -> Markup:
    """What is to be done next, with the buttons to say that it is done.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> html = run(begin(small_job()))
    >>> "Set the planer" in html, "All through" in html
    (True, True)
    """
    step = next_step(state)
    return join(
        [
            _said(state),
            under_target(state),
            *(_at_work(state, step, step.one) if step.one else resting(state) if state.awaited else ended(state, step)),
            el("div", _undo(state), class_="run-foot"),
            surprises(state) if step.one else EMPTY,
            scale_says(state),
        ]
    )


def _at_work(state: State, step: Step, one: Pass) -> list[Markup]:
    passes = len(state.done) + len(state.rest)
    infeed, outfeed = _carts(len(state.done))
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
        EMPTY if state.done or state.fed or state.trials else el("p", MARKING[0], class_="marking"),
        piece_first(state, step, one) if step.kind == "test" else _boards(state, step, one),
        _then(state, step),
    ]


def _carts(done: int) -> tuple[int, int]:
    """The carts at infeed and outfeed: they change places after every pass."""
    return (1, 2) if done % 2 == 0 else (2, 1)


def _set(state: State, step: Step, one: Pass) -> Markup:
    job = state.job
    way = step.way or ScaleSetting(one.setting, one.setting)
    return el(
        "div",
        el("p", "Set the planer to" if way.is_bare else "Set the planer so that its scale reads", class_="asks"),
        el("p", *(setting(way.setting, job) if way.is_bare else reading(way.scale, job)), class_="setting"),
        el("p", "Feed ", el("b", figure(words.feed(one.feed, job.units))), class_="feed-at"),
        None if way.is_bare else el("p", "It then opens to ", figure(words.setting(way.opens, job.units)), "."),
        _handle(step, job),
        class_="set",
    )


def _handle(step: Step, job: Job) -> Markup:
    """How far the handle turns, where one turn is known, and how an opening is come back to from the safe direction."""
    slack = el("p", SLACK, class_="slack") if step.opens else None
    if not step.turns:
        return join([slack]) if slack else EMPTY
    planned = step.one is not None and step.scale == step.one.setting
    said_turns = words.turns(step.turns) if planned else words.handle(step.turns)
    way = words.direction(job.planer.moves, closer=not step.opens)
    return join([el("p", "From here: ", el("b", figure(said_turns)), f", {way}", class_="handle"), slack])


def _boards(state: State, step: Step, one: Pass) -> Markup:
    job = state.job
    scale = step.scale if step.scale is not None else one.setting
    shared = {"did": "feed", "setting": show(one.setting, job.units), "scale": show(scale, job.units)}
    pieces = {piece.board: piece for piece in state.pieces}
    groups: dict[tuple[Placement | None, Placement], list[int]] = {}
    for board in step.remaining:
        piece = pieces[board]
        groups.setdefault((state.went_in(board), piece.next_placement()), []).append(board)
    order = sorted(groups.items(), key=lambda item: item[0][0] is None or item[0][0] == item[0][1])
    count = sum(pieces[board].count for board in step.remaining)
    waiting = [
        piece.board for piece in state.pieces if piece.board not in step.remaining and piece.board not in state.fed
    ]
    return el(
        "div",
        el("h3", "Feed the boards"),
        *(el("p", line, class_="butt") for line in words.butted(butted_now(state), len(step.remaining), job)),
        _back_again(state),
        *(
            _group(before, after, boards, job, shared, first=n == 0)
            for n, ((before, after), boards) in enumerate(order)
        ),
        el("div", el("p", "Through already", class_="asks"), tags(state.fed, job), class_="through")
        if state.fed
        else None,
        _waits(waiting, state) if waiting else None,
        el(
            "button",
            "All through",
            el("small", words.boards(count)) if count > 1 else None,
            type="button",
            class_="strong huge",
            data_event=event(**shared),
        ),
        class_="feeding",
    )


def _back_again(state: State) -> Markup | None:
    """Boards that went through the pass in hand once, and so lie behind the planer."""
    back = [words.board(state.job.boards[n]) for n in state.back_again()]
    if not back:
        return None
    _, outfeed = _carts(len(state.done))
    lies, them = ("lies", "it") if len(back) == 1 else ("lie", "them")
    return el("p", f"{words.listed(back)} {lies} on cart {outfeed} by now: fetch {them} from there.", class_="behind")


def _waits(waiting: list[int], state: State) -> Markup:
    """Boards that stay out; all boards have to be on the same cart when the carts change places."""
    _, outfeed = _carts(len(state.done))
    said = f"Wait: put them on cart {outfeed} too, as they lie"
    return el("div", el("p", said, class_="asks"), tags(waiting, state.job), class_="waits")


def _group(
    before: Placement | None, after: Placement, boards: list[int], job: Job, shared: dict[str, str], *, first: bool
) -> Markup:
    if before is None:
        how = "First time in"
    elif before == after:
        how = "Same way as before"
    else:
        how = words.turn(before.turn_to(after))
    buttons = (
        el(
            "button",
            el("bdi", words.board(job.boards[n])),
            type="button",
            data_event=event(**shared, boards=[job.boards[n].name]),
        )
        for n in boards
    )
    return el(
        "div",
        el(
            "p",
            el("b", how),
            el("span", "side ", el("b", after.up), " up, end ", el("b", after.leads), " first"),
            class_="how",
        ),
        el("div", *buttons, class_="ticks", role="group", aria_label="Tap a board when it is through"),
        el(
            "details",
            el("summary", "Show the turn" if before and before != after else "Show how it lies"),
            turning(before, after),
            open=first and before is not None and before != after,
        ),
        class_="group",
    )


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


def _undo(state: State) -> Markup:
    return el("button", "Undo the last entry", type="button", data_undo=True, disabled=not state.job.run)
