"""What keeps a job from being planned, and what to know about a plan: the core's own texts, as lists."""

from __future__ import annotations

from collections.abc import Iterable

from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el, join
from thickset.ground.job.job import Problem
from thickset.planning.passes.model import Plan


def problems(found: Iterable[Problem]) -> Markup:
    """Problems, each with its place in the job.

    >>> problems([Problem("units", "Write in or mm.")])
    '<ul class="problems"><li data-at="units">Write in or mm.</li></ul>'
    """
    return el("ul", *(el("li", one.text, data_at=one.at) for one in found), class_="problems")


def notes(plan: Plan) -> Markup:
    """Notes, each with its code and its place in the job.

    >>> from thickset.faces.words.example import lot
    >>> "Board B" in notes(lot("1", "23/32"))
    True
    """
    if not plan.notes:
        return EMPTY
    listed = join(el("li", figure(one.text), data_code=one.code, data_at=one.at) for one in plan.notes)
    return el("div", el("h2", "Know before the first cut"), el("ul", listed, class_="notes"))
