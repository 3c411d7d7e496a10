"""What keeps a job from being planned, and what to know about a plan: the core's own texts, as lists."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from thickset.faces.words import words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el, join
from thickset.faces.words.signs import sign
from thickset.ground.job.job import Problem
from thickset.planning.passes.model import Note, Plan


def problems(found: Iterable[Problem]) -> Markup:
    """Problems, each with its place in the job.

    >>> problems([Problem("units", "Write in or mm.")])
    '<ul class="problems"><li data-at="units">Write in or mm.</li></ul>'
    """
    return el("ul", *(el("li", one.text, data_at=one.at) for one in found), class_="problems")


KINDS = {
    "uneven": "very uneven",
    "one-side": "planed on one face only",
    "short": "short of the target",
    "short-board": "too short to feed without the manual's word",
    "wider-than-long": "wider than long",
}
"""What boards have in common of which there is a note each."""


def notes(plan: Plan) -> Markup:
    """Notes by kind, a line each with its boards, that unfolds to the notes themselves with their codes and places.

    >>> from thickset.faces.words.example import lot
    >>> "Board B" in notes(lot("1", "23/32"))
    True
    """
    if not plan.notes:
        return EMPTY
    kinds: dict[str, list[Note]] = {}
    for one in plan.notes:
        kinds.setdefault(one.code, []).append(one)
    return el("div", *(_kind(code, alike, plan) for code, alike in kinds.items()), class_="notes")


def _kind(code: str, alike: Sequence[Note], plan: Plan) -> Markup:
    said, first = KINDS.get(code), alike[0].text
    short = figure(first.partition(". ")[0].rstrip("."))
    if said:
        short = _counted(said, [int(n) for one in alike for n in _PLACE.findall(one.at)], plan)
    elif len(alike) > 1:
        short = join([short, f", and {len(alike) - 1} more"])
    listed = (el("li", figure(one.text), data_code=one.code, data_at=one.at) for one in alike)
    return el("details", el("summary", sign("caution"), el("span", short)), el("ul", *listed), data_kind=code)


def _counted(said: str, places: Sequence[int], plan: Plan) -> Markup:
    """How many boards a kind of note is about, and which, as far as a line has room for them."""
    boards = plan.job.boards
    count = sum(boards[n].count for n in places)
    names = [el("bdi", boards[n].name) for n in places[:MOST_NAMED]]
    more = f" and {len(places) - MOST_NAMED} more" if len(places) > MOST_NAMED else None
    return join([f"{words.boards(count)} {said}: ", join(names, ", "), more])


MOST_NAMED = 8
_PLACE = re.compile(r"^boards\[(\d+)\]")
