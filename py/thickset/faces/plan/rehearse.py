"""The plan rehearsed before any wood is cut: the lot after each pass, the carts, and how every board lies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from thickset.faces.picture.columns import Column, columns
from thickset.faces.picture.lot import drawing
from thickset.faces.words import words
from thickset.faces.words.figures import figure, tags
from thickset.faces.words.markup import Markup, el
from thickset.planning.passes.lot import Piece, pieces_of
from thickset.planning.passes.model import Plan
from thickset.planning.passes.scale import scale_settings
from thickset.planning.passes.turns import Placement

MOST_WORK = 30_000
"""Boards and lines of passes that all frames draw together [count]; of more frames some are left out, and that is said."""

LEAST_FRAMES = 24
"""Frames that are drawn of any plan [count]: more than any lot needs whose readings are no slip."""


def frames(plan: Plan) -> list[str]:
    """The lot before the first pass and after every one, as safe HTML, one after another; of very many the first and the last.

    >>> from thickset.faces.words.example import lot
    >>> plan = lot("7/8", "13/16")
    >>> len(frames(plan)) == len(plan.passes) + 1
    True
    """
    shown = columns(plan)
    told, every = within_budget(plan), len(plan.passes) + 1
    first = (told + 1) // 2
    last = every - (told - first)
    drawn = ((done, pieces) for done, pieces in enumerate(_states(plan)) if done < first or done >= last)
    return [
        str(_frame(plan, done, pieces, shown, last if done == first - 1 and last > first else 0))
        for done, pieces in drawn
    ]


def within_budget(plan: Plan) -> int:
    """How many frames of a plan are drawn [count]: what one draws grows with the boards and the passes.

    >>> from thickset.faces.words.example import lot
    >>> within_budget(lot("7/8")) == len(lot("7/8").passes) + 1
    True
    """
    of_one = len(plan.job.boards) + len(plan.passes)
    return min(len(plan.passes) + 1, max(LEAST_FRAMES, MOST_WORK // of_one))


def _states(plan: Plan) -> Iterator[list[Piece]]:
    pieces = pieces_of(plan.job.boards, plan.job.planer.known_cut)
    yield pieces
    for one in plan.passes:
        fed = {each.board for each in one.fed}
        pieces = [piece.after(one.setting) if piece.board in fed else piece for piece in pieces]
        yield pieces


def _frame(plan: Plan, done: int, pieces: Sequence[Piece], shown: Sequence[Column], then: int) -> Markup:
    left_out = f"Passes {done + 1} to {then - 1} are left out here: they are too many to draw. Are the readings right?"
    return el(
        "div",
        el("h3", *_title(plan, done)),
        el("p", _carts(plan, done)),
        el("p", "Here the boards rest and are measured again.") if plan.rest and done == plan.rest.after else None,
        drawing(plan, shown, "rehearse", done),
        _lying(plan, done, pieces),
        el("p", left_out, class_="hint") if then else None,
        class_="frame",
    )


def _title(plan: Plan, done: int) -> list[str | Markup]:
    if done == 0:
        return ["Before the first pass"]
    way = scale_settings(plan)[done - 1]
    # A first try that is kept proud is closed to its setting before the boards go through.
    bare = way.is_bare or way.aim
    said = f"at {words.setting(way.setting, plan.job.units)}" if bare else words.set_to(way, plan.job)
    return [f"After pass {done} of {len(plan.passes)}, ", figure(said)]


def _carts(plan: Plan, done: int) -> str:
    """Where the boards lie: on the cart that the last pass filled; the carts change places after every pass."""
    cart = 1 if done % 2 == 0 else 2
    if done == len(plan.passes):
        return f"All boards lie on cart {cart}."
    return f"All boards lie on cart {cart}. Roll it to the infeed as it stands. Cart {3 - cart} takes what comes out."


def _lying(plan: Plan, done: int, pieces: Sequence[Piece]) -> Markup:
    """The boards by thickness and how they lie: what the last pass did to them, and what is done with them next."""
    groups: dict[tuple[Fraction, Placement, str], list[int]] = {}
    for piece in pieces:
        said = "; ".join(part for part in (_came(plan, done, piece), _next(plan, done, piece)) if part)
        groups.setdefault((piece.thick, piece.placement, said), []).append(piece.board)
    lines = [
        el(
            "li",
            tags(boards, plan.job),
            el("p", figure(words.length(thick, plan.job.units)), f", face {lies.up} up, end {lies.leads} first"),
            el("p", said) if said else None,
        )
        for (thick, lies, said), boards in groups.items()
    ]
    return el("ul", *lines, class_="lying")


def _came(plan: Plan, done: int, piece: Piece) -> str:
    """What the last pass did to a board."""
    if not done:
        return ""
    cut = next((fed for fed in plan.passes[done - 1].fed if fed.board == piece.board), None)
    if cut is None:
        return "Waited"
    return "Cleaned up" if cut.clean else "Cut at its high spots only"


def _next(plan: Plan, done: int, piece: Piece) -> str:
    """What is done with a board for the next pass."""
    if done == len(plan.passes):
        return ""
    fed = next((each for each in plan.passes[done].fed if each.board == piece.board), None)
    if fed is None:
        return "next: wait"
    return (
        "next: as it lies"
        if fed.placement == piece.placement
        else f"next: {words.turn(piece.placement.turn_to(fed.placement)).lower()}"
    )
