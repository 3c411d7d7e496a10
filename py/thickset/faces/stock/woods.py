"""Woods to choose from by part of a name, and how well the woods of a lot plane."""

from __future__ import annotations

from collections.abc import Sequence

from thickset.faces.words.markup import Markup, el
from thickset.ground.woods.species import Species, planing_rank

MOST_CHOICES = 6
"""Woods that one chooses from at once."""

NOT_LISTED = "Not listed? Leave this empty and enter its density."

RANKED = "How a wood planes is its place among those that one laboratory tried: advice, no more."


def wood_choices(woods: Sequence[Species]) -> Markup:
    """Woods as buttons, each with its other names and how it planes.

    >>> from thickset.ground.woods.species import search
    >>> wood_choices(search("hard map")).count("<button"), NOT_LISTED in wood_choices([])
    (1, True)
    """
    rows = (el("li", _choice(wood)) for wood in woods[:MOST_CHOICES])
    more = len(woods) - MOST_CHOICES
    last = f"{more} more: type more of the name." if more > 0 else NOT_LISTED
    if any(rank_words(wood) for wood in woods[:MOST_CHOICES]):
        last = f"{last} {RANKED}"
    return el("ul", *rows, el("li", last, class_="hint"), class_="woods")


def _choice(wood: Species) -> Markup:
    told = [", ".join(wood.also_called), rank_words(wood)]
    small = el("small", " · ".join(part for part in told if part)) if any(told) else None
    return el("button", el("span", wood.name), small, type="button", data_wood=wood.name)


def rank_words(wood: Species) -> str:
    """How well a wood planes, as a rank; nothing where it was not tried.

    >>> from thickset.ground.woods.species import require
    >>> rank_words(require("Maple, sugar (hard maple)")), rank_words(require("Locust, black"))
    ('planes 16th of 25', '')
    """
    rank = planing_rank(wood)
    return f"planes {ordinal(rank.place)} of {rank.of}" if rank else ""


def ordinal(place: int) -> str:
    """A place in a row [count from 1].

    >>> [ordinal(n) for n in (1, 2, 3, 4, 11, 21)]
    ['1st', '2nd', '3rd', '4th', '11th', '21st']
    """
    ending = "th" if place % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(place % 10, "th")
    return f"{place}{ending}"
