"""How the boards of each pass are handled: which go in for the first time, as before, or turned, and which stay out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from thickset.planning.passes.model import Fed, Pass, Plan
from thickset.planning.passes.scale import ScaleSetting, scale_settings
from thickset.planning.passes.turns import FIRST_PLACEMENT, Placement

How = Literal["first", "again", "turned"]


@dataclass(frozen=True)
class Group:
    """Boards [index] of one pass that are handled alike: how they differ from their last pass, how they go in."""

    how: How
    placement: Placement
    boards: tuple[int, ...]


@dataclass(frozen=True)
class Station:
    """One pass at the machine: its groups, the boards [index] that wait for a later pass, those that never go in.

    `way` is how the pass is set, `closer` is how far the opening closes from the pass before, `deepest` the deepest cut [mm].
    """

    one: Pass
    way: ScaleSetting
    groups: tuple[Group, ...]
    waiting: tuple[int, ...]
    out: tuple[int, ...]
    closer: Fraction | None
    deepest: Fraction


def stations(plan: Plan) -> list[Station]:
    """Every pass of a plan as it is worked, in order.

    >>> from thickset.faces.words.example import lot
    >>> for station in stations(lot("7/8", "13/16")):
    ...     print(station.waiting, [(group.how, group.placement.up, group.boards) for group in station.groups])
    (1,) [('first', 'B', (0,))]
    () [('turned', 'A', (0,)), ('first', 'B', (1,))]
    () [('turned', 'B', (0,)), ('turned', 'A', (1,))]
    """
    everything = range(len(plan.job.boards))
    ever = {fed.board for one in plan.passes for fed in one.fed}
    out = tuple(n for n in everything if n not in ever)
    lying: dict[int, Placement] = {}
    found = []
    last = None
    for one, way in zip(plan.passes, scale_settings(plan), strict=True):
        if plan.rest and one.number == plan.rest.after + 1:
            last = None  # who comes back after days does not trust where the planer stands
        now = {fed.board for fed in one.fed}
        found.append(
            Station(
                one,
                way,
                tuple(_groups(one.fed, lying)),
                tuple(n for n in everything if n in ever and n not in now),
                out,
                last - one.setting if last is not None else None,
                max((fed.cut for fed in one.fed), key=float, default=Fraction(0)),
            )
        )
        last = one.setting
    return found


def _groups(fed: tuple[Fed, ...], lying: dict[int, Placement]) -> Iterator[Group]:
    """Boards put together by what is done with them; `lying` is how each last went in, and is kept up to date."""
    alike: dict[tuple[How, Placement], list[int]] = {}
    for one in fed:
        before = lying.get(one.board)
        how: How = "first" if before is None else "again" if before == one.placement else "turned"
        alike.setdefault((how, one.placement), []).append(one.board)
        lying[one.board] = one.placement
    for (how, placement), boards in sorted(alike.items(), key=lambda item: _ORDER[item[0]]):
        yield Group(how, placement, tuple(boards))


_PLACEMENTS = (FIRST_PLACEMENT, Placement("A", 2), Placement("B", 2), Placement("A", 1))
_ORDER = {
    (how, placement): (a, b)
    for a, how in enumerate[How](("again", "turned", "first"))
    for b, placement in enumerate(_PLACEMENTS)
}
