"""Which planer for this lot: its plan on each that is kept, side by side. Figures, no verdict."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from thickset.faces.words import digits, words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.job.job import Job, Problem
from thickset.ground.notation.lengths import Units
from thickset.planning.passes.model import Plan
from thickset.planning.passes.scale import fineness, prior
from thickset.trade.caliper import hit_chance, offset_interval

SHOWN = 4
"""Problems of a planer that are told here [count]; once it is taken, the page tells them all."""


class OnPlaner(NamedTuple):
    """A planer by its id and name; the plan on it, or what stands in the way; whether the lot is for it already."""

    id: str
    name: str
    plan: Plan | None
    problems: tuple[Problem, ...] = ()
    in_hand: bool = False


def side_by_side(found: Sequence[OnPlaner]) -> Markup:
    """The planers in the order given, each with a button that takes it.

    >>> from thickset.faces.words.example import lot
    >>> side_by_side([OnPlaner("a", "Old green one", lot("7/8"))]).count("<button")
    2
    """
    return el("ol", *(_one(n, each) for n, each in enumerate(found)), class_="on-planers")


def _one(n: int, found: OnPlaner) -> Markup:
    plan = found.plan
    if plan is None:
        more = len(found.problems) - SHOWN
        told = [
            el("p", el("b", "No plan on it:")),
            el(
                "ul",
                *(el("li", figure(problem.text)) for problem in found.problems[:SHOWN]),
                el("li", f"and {more} more") if more > 0 else None,
            ),
        ]
    else:
        told = [
            el(
                "p",
                el("b", figure(headline(plan))),
                " ",
                ask_button(f"which:{n}:minutes", label=f"Why so long on {found.name}?"),
            )
            if plan.passes
            else el("p", el("b", "Nothing to cut")),
            *(el("p", figure(line)) for line in (*surface(plan), *scale(plan.job))),
        ]
    take = (
        el("p", "In hand.", class_="hint")
        if found.in_hand
        else el("button", f"Take {found.name}", type="button", data_use_planer=found.id)
    )
    return el("li", el("h2", found.name), *told, take)


def headline(plan: Plan) -> str:
    """Passes and minutes, and how many boards will be planed on both faces.

    >>> from thickset.faces.words.example import lot
    >>> headline(lot("7/8"))
    '3 passes, about 3 1/2 min; 1 of 1 board planed on both faces'
    """
    both = sum(plan.job.boards[one.board].count for one in plan.outcomes if one.name == "both faces")
    return (
        f"{words.passes(len(plan.passes))}, about {words.minutes(plan.minutes)}; {both} of {words.boards(plan.pieces)} "
        "planed on both faces"
    )


def surface(plan: Plan) -> Iterator[str]:
    """The surface that the last pass leaves; nothing where the cutterhead is not known.

    >>> from thickset.faces.words.example import lot
    >>> list(surface(lot("7/8")))
    []
    """
    last = plan.passes[-1] if plan.passes else None
    if last and last.marks is not None:
        marks, wanted = digits.rounded(float(last.marks), 3), digits.rounded(float(plan.job.practice.finish_marks), 3)
        yield f"The last pass leaves {marks} marks per inch, wanted are {wanted}, at {words.feed(last.feed, plan.job.units)}."


def scale(job: Job) -> Iterator[str]:
    """How sure the planer's scale is.

    >>> from thickset.ground.job.example import small_job
    >>> list(scale(small_job()))
    ['Nothing is known of its scale yet.']
    """
    if job.planer.record is None:
        yield "Nothing is known of its scale yet."
        return
    belief = prior(job)
    low, high = (_fine(value, job.units) for value in offset_interval(belief))
    sure = round(100 * hit_chance(belief, fineness(job)))
    yield f"Its scale is off by {low} to {high}, 95 times in 100. {sure} times in 100 the first test piece comes out right."


def _fine(value: float | Fraction, units: Units) -> str:
    return f"{float(value) / 25.4:.3f} in" if units == "in" else f"{float(value):.2f} mm"
