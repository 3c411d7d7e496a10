"""All that the page shows of a plan, piece by piece."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from thickset.faces.picture.lot import picture
from thickset.faces.plan.boards import boards, targets
from thickset.faces.plan.moisture import movement
from thickset.faces.plan.problems import notes
from thickset.faces.plan.schedule import schedule
from thickset.faces.plan.shavings import shaving_part
from thickset.faces.plan.summary import summary
from thickset.faces.plan.surface import surface
from thickset.faces.words.markup import Markup
from thickset.planning.passes.model import Plan

Parts = Mapping[str, Callable[[Plan], Markup]]

PLAN: Parts = {
    "summary": summary,
    "schedule": schedule,
    "notes": notes,
    "picture": picture,
    "boards": boards,
    "targets": targets,
    "movement": movement,
}
MECHANICS: Parts = {"surface": surface, "shavings": shaving_part}
"""What knives and wood do on these passes; asked for after the plan is on the screen, as it takes half as long again."""


def fragments(plan: Plan, parts: Parts = PLAN) -> dict[str, str]:
    """Safe HTML for each place of the page that has something to show.

    >>> from thickset.faces.words.example import lot
    >>> list(fragments(lot("1", "7/8")))
    ['summary', 'schedule', 'picture', 'boards']
    >>> list(fragments(lot("1", "7/8"), MECHANICS))
    ['surface', 'shavings']
    """
    made = {place: str(make(plan)) for place, make in parts.items()}
    return {place: html for place, html in made.items() if html}
