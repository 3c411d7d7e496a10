"""The boards of the pass in hand: a key for each, which keeps its place until the pass is over, and how they go in."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from thickset.faces.picture.handle import entering
from thickset.faces.picture.turning import turning
from thickset.faces.words import words
from thickset.faces.words.event_button import event
from thickset.faces.words.figures import tags
from thickset.faces.words.markup import Markup, el
from thickset.faces.words.short_names import short_names
from thickset.ground.notation.lengths import show
from thickset.planning.passes.turns import Placement
from thickset.planning.run.next_step import Step
from thickset.planning.run.state import State
from thickset.planning.stock.leaving import butted_now

MANY = 4
"""With more boards in a pass their keys are smaller, so that twelve are in view at once [count]."""


LONG = 4
"""Characters of a name that stand large on a key [count]."""


@dataclass(frozen=True)
class Group:
    """Boards [index] that go in the same way, whatever turn brings them there: by how they lie before it, None for the first time in."""

    after: Placement
    ways: dict[Placement | None, list[int]]

    @property
    def boards(self) -> list[int]:
        """All of them, in the order of the lot."""
        return sorted(board for boards in self.ways.values() for board in boards)

    @property
    def to_turn(self) -> dict[Placement, list[int]]:
        """Those that have to be turned."""
        return {before: boards for before, boards in self.ways.items() if before not in (None, self.after)}


def feeding(state: State, step: Step, setting: Fraction) -> Markup:
    """What goes in and how, at a setting [mm], a tap for each board that is through, and one for all of them.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> from thickset.planning.run.next_step import next_step
    >>> state = begin(small_job())
    >>> "All through" in feeding(state, next_step(state), state.rest[0].setting)
    True
    """
    job = state.job
    scale = step.scale if step.scale is not None else setting
    shared = {"did": "feed", "setting": show(setting, job.units), "scale": show(scale, job.units)}
    groups = _groups(state, step)
    counts = {piece.board: piece.count for piece in state.pieces}
    left = sum(counts[board] for board in step.remaining)
    all_of_it = sum(counts[board] for group in groups for board in group.boards)
    gone = {*state.fed, *(way.board for way in state.feedings if way.number > len(state.done))}
    waiting = [piece.board for piece in state.pieces if piece.board not in {*step.remaining, *gone}]
    of = f" of {all_of_it}" if left < all_of_it else ""
    return el(
        "div",
        el("h3", "Feed the boards", class_="unseen"),
        *(el("p", line, class_="butt") for line in words.butted(butted_now(state), len(step.remaining), job)),
        _back_again(state),
        *(_group(group, state, shared) for group in groups),
        el(
            "button",
            "All through",
            el("small", f"{left:,}{of} left" if of else words.boards(left)) if all_of_it > 1 else None,
            type="button",
            class_="strong huge",
            data_event=event(**shared),
        ),
        waits(waiting, state) if waiting else None,
        *(_turns(group, first=n == 0) for n, group in enumerate(groups)),
        class_="feeding many" if sum(len(group.boards) for group in groups) > MANY else "feeding",
    )


def carts(done: int) -> tuple[int, int]:
    """The carts at infeed and outfeed: they change places after every pass [passes done].

    >>> carts(0), carts(1)
    ((1, 2), (2, 1))
    """
    return (1, 2) if done % 2 == 0 else (2, 1)


def _groups(state: State, step: Step) -> list[Group]:
    """The boards of the pass, those through already where they were: what needs no turn first."""
    placements = {piece.board: piece.next_placement() for piece in state.pieces}
    found: dict[Placement, Group] = {}
    for board in sorted({*step.remaining, *state.fed} & set(placements)):
        went = [way.placement for way in state.feedings if way.board == board]
        if board in step.remaining:
            before, after = (went[-1] if went else None), placements[board]
        else:
            before, after = (went[-2] if len(went) > 1 else None), went[-1]
        group = found.setdefault(after, Group(after, {}))
        group.ways.setdefault(before, []).append(board)
    return sorted(found.values(), key=lambda group: bool(group.to_turn))


def _back_again(state: State) -> Markup | None:
    """Boards that went through the pass in hand once, and so lie behind the planer."""
    back = [words.board(state.job.boards[n]) for n in state.back_again()]
    if not back:
        return None
    _, outfeed = carts(len(state.done))
    lies, them = ("lies", "it") if len(back) == 1 else ("lie", "them")
    return el("p", f"{words.listed(back)} {lies} on cart {outfeed} by now: fetch {them} from there.", class_="behind")


def waits(waiting: list[int], state: State) -> Markup:
    """Boards [index] that stay out; all boards have to be on the same cart when the carts change places.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> "put them on cart 2 too" in waits([0], begin(small_job()))
    True
    """
    _, outfeed = carts(len(state.done))
    said = f"Wait: put them on cart {outfeed} too, as they lie"
    return el("div", el("p", said, class_="asks"), tags(waiting, state.job), class_="waits")


def _how(before: Placement | None, after: Placement) -> str:
    if before is None:
        return "First time in"
    return "As before" if before == after else words.turn(before.turn_to(after))


def _group(group: Group, state: State, shared: dict[str, str]) -> Markup:
    job, after = state.job, group.after
    short = short_names(job)
    hows = {_how(before, after) for before in group.ways}
    mixed = "Some turn" if group.to_turn else "No turn"
    return el(
        "div",
        el(
            "p",
            entering(after, turned=bool(group.to_turn)),
            el("b", mixed if len(hows) > 1 else hows.pop()),
            el(
                "span",
                el("span", "face ", class_="unseen"),
                el("b", after.up),
                " up, end ",
                el("b", after.leads),
                " first",
            ),
            class_="how",
        ),
        *(
            el(
                "p",
                f"{words.turn(before.turn_to(after))}: ",
                el("b", ", ".join(words.stretches(boards, job, short))),
                class_="way",
            )
            for before, boards in group.to_turn.items()
            if len(group.ways) > 1
        ),
        el(
            "div",
            *(_key(board, short[board], state, shared) for board in group.boards),
            class_="ticks",
            role="group",
            aria_label="Tap a board when it is through",
        ),
        class_="group",
    )


def _key(board: int, short: str, state: State, shared: dict[str, str]) -> Markup:
    """A board's key; one that is through stays, pressed, and does nothing."""
    one = state.job.boards[board]
    through = board in state.fed
    return el(
        "button",
        el("bdi", short if one.count == 1 else f"{short} x{one.count}"),
        type="button",
        class_="named" if len(short) > LONG else None,
        aria_label=words.board(one) if short != one.name else None,
        data_of=one.name,
        aria_pressed="true" if through else "false",
        aria_disabled="true" if through else None,
        data_event=None if through else event(**shared, boards=[one.name]),
    )


def _turns(group: Group, *, first: bool) -> Markup:
    """Pictures of how the boards of a group are turned, or how they lie; below all keys, which stay in view."""
    turns = list(group.to_turn)
    before = turns[0] if turns else next(iter(group.ways))
    return el(
        "details",
        el("summary", "Show the turn" if turns else "Show how it lies"),
        turning(before, group.after),
        *(turning(other, group.after) for other in turns[1:]),
        open=first and bool(turns),
    )
