"""Two lots or one, in words, with the figures; one button makes the two jobs."""

from __future__ import annotations

from thickset.faces.picture.how_to import how_to
from thickset.faces.words import words
from thickset.faces.words.figures import figure, tags
from thickset.faces.words.markup import Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.planning.passes.model import Plan
from thickset.planning.passes.split import Half, Split

NAMES = {
    "thickness": ("the thicker boards", "the thinner boards"),
    "width": ("the wider boards", "the narrower boards"),
    "load": ("the boards that load the motor more", "the boards that load it less"),
    "wood": ("boards of one wood", "the others"),
}

SHARED = "Each lot gets the parts that are cut from its boards. Parts that cannot be made stay with the first lot."


def splitting(plan: Plan, split: Split | None) -> Markup:
    """Whether to plane a lot as two.

    >>> from thickset.faces.words.example import lot
    >>> splitting(lot("7/8"), None)
    '<p class="split">One lot: none of the ways tried, by thickness, width, wood or load, saves minutes or a board.</p>'
    """
    if split is None:
        return el(
            "p",
            "One lot: none of the ways tried, by thickness, width, wood or load, saves minutes or a board.",
            class_="split",
        )
    halves = zip(names(plan, split), split.halves, strict=True)
    return el(
        "div",
        el("p", el("b", what_it_gains(split, plan))),
        how_to("two-lots"),
        *(_half(plan, name, half) for name, half in halves),
        el("p", "Both are planed to the same target, one after the other.", class_="hint"),
        el("p", SHARED, class_="hint") if plan.job.parts else None,
        ask_button("split", "Why these figures?"),
        el("button", "Make two jobs", type="button", data_do="split-job"),
        class_="split",
    )


def names(plan: Plan, split: Split) -> tuple[str, str]:
    """What each of the two lots is called.

    >>> from fractions import Fraction
    >>> from thickset.faces.words.example import lot
    >>> halves = (Half((0,), 3, Fraction(2), 1), Half((1,), 2, Fraction(2), 1))
    >>> names(lot("1", "7/8"), Split("thickness", halves, Fraction(1), 0))
    ('the thicker boards', 'the thinner boards')
    """
    if split.by != "wood":
        return NAMES[split.by]
    wood = plan.job.boards[split.halves[0].boards[0]].species
    return (wood or "boards with no wood given", "the others")


def what_it_gains(split: Split, plan: Plan) -> str:
    """What two lots gain over one, in a sentence.

    >>> from fractions import Fraction
    >>> from thickset.faces.words.example import lot
    >>> halves = (Half((0,), 3, Fraction(2), 1), Half((1,), 2, Fraction(2), 1))
    >>> what_it_gains(Split("thickness", halves, Fraction(-1), 1), lot("1", "7/8"))
    'As two lots, 1 board more comes out planed on both faces. It takes 1 min longer.'
    """
    time = words.less(abs(split.saved))
    if split.gained > 0:
        come = "comes" if split.gained == 1 else "come"
        more = f"As two lots, {words.boards(split.gained)} more {come} out planed on both faces"
        return f"{more}. It saves {time}." if split.saved > 0 else f"{more}. It takes {time} longer."
    return f"Two lots save {time} of the {words.minutes(plan.minutes)} that one takes. No board comes out worse."


def _half(plan: Plan, name: str, half: Half) -> Markup:
    boards = sum(plan.job.boards[n].count for n in half.boards)
    told = f"{words.boards(boards)}, {words.passes(half.passes)}, {words.minutes(half.minutes)}"
    head = el("h2", name[0].upper() + name[1:], ": ", figure(told))
    return el("div", head, tags(half.boards, plan.job))
