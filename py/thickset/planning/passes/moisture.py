"""What the wood does until the day the piece is used: the thickness to plane to today, and where to stop for a rest."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from thickset.ground.job.job import Job
from thickset.ground.woods.species import Species, find
from thickset.trade.formula import Worked, number, telling, within_range, worked
from thickset.trade.limits import OutOfRangeError
from thickset.trade.moisture import emc
from thickset.trade.movement import (
    Grain,
    Movement,
    change_by_coefficient,
    change_by_shrinkage,
    change_in_stretches,
    stop_proud,
    thickness_today,
    thickness_way,
    today_by_coefficient,
    today_by_shrinkage,
    today_in_stretches,
)

KNOWN = {"memory": "from memory"}
"""How a figure of the table of woods is known, as it is said; the other words stand as they are."""


DISPUTED = "its change coefficient is left out: it is more than a tenth off the shrinkage, and may be that of a commercial group"
"""Said where a wood's two figures disagree: a coefficient is worked out from the shrinkage, which was measured."""


@dataclass(frozen=True)
class Change:
    """What one wood of the lot does: its name, the thickness today and its change; None where it is not known why.

    `change` is that of a board planed to the target today; `off` is how far it is then off what is wanted [mm].
    """

    wood: str
    movement: Movement | None
    today: Worked | None
    change: Worked | None
    unknown: str = ""
    off: float = 0.0


@dataclass(frozen=True)
class InService:
    """Moisture now and then [%], how then was found, and what each wood of the lot does."""

    now: Fraction
    then: float
    room: Worked | None
    changes: tuple[Change, ...]

    @property
    def most(self) -> Change | None:
        """The wood that changes most."""
        moved = [one for one in self.changes if one.movement]
        return max(moved, key=lambda one: abs(one.off), default=None)


def in_service(job: Job) -> InService | None:
    """What the lot does from today until it is used; None unless moisture now and then are entered.

    >>> from thickset.ground.job.example import small_job
    >>> in_service(small_job()) is None
    True
    """
    service = job.service
    if service is None or service.moisture_now is None:
        return None
    room = room_of(job) if service.moisture_then is None else None
    then = float(service.moisture_then) if service.moisture_then is not None else number(room) if room else None
    if then is None:
        return None
    woods = dict.fromkeys(board.species for board in job.boards)
    changes = tuple(_change(job, name, float(service.moisture_now), then, service.grain) for name in woods)
    return InService(service.moisture_now, then, room, changes)


def room_of(job: Job) -> Worked | None:
    """The moisture [%] that wood comes to in the job's room, by the formula; None unless the room is entered.

    >>> from dataclasses import replace
    >>> from thickset.ground.job.example import small_job
    >>> from thickset.ground.job.job import Service
    >>> room = room_of(replace(small_job(), service=Service(temperature=Fraction(21), humidity=Fraction(50))))
    >>> round(room.value, 1)
    9.2
    """
    service = job.service
    if service is None or service.temperature is None or service.humidity is None:
        return None
    return within_range(emc, temperature=float(service.temperature), humidity=float(service.humidity))


def _change(job: Job, name: str | None, now: float, then: float, grain: str) -> Change:
    wood = find(name) if name else None
    if wood is None:
        return Change(
            name or "no species", None, None, None, "how it moves with moisture is not known. Enter its species."
        )
    saturation = wood.saturation
    if now > saturation:
        text = f"above {saturation:g} % it has not begun to shrink. Let it dry first, then measure again."
        return Change(wood.name, None, None, None, text)
    shrinkage, coefficient = _figures(wood, grain)
    if shrinkage is None:
        return Change(wood.name, None, None, None, "no shrinkage is known of it.")
    planed = float(job.target)
    wanted = float(job.service.thickness) if job.service and job.service.thickness is not None else planed
    try:
        movement = thickness_today(wanted, now, then, shrinkage, coefficient, saturation)
    except OutOfRangeError as error:
        return Change(wood.name, None, None, None, f"{error.text}.")
    by_shrinkage = {"shrinkage": shrinkage, "saturation": saturation}
    match movement.equation:
        case "13-2":
            today = worked(today_by_coefficient, wanted=wanted, coefficient=coefficient, now=now, in_service=then)
            change = worked(change_by_coefficient, size=planed, coefficient=coefficient, now=now, later=then)
        case "13-3":
            today = worked(today_by_shrinkage, wanted=wanted, now=now, in_service=then, **by_shrinkage)
            change = worked(change_by_shrinkage, size=planed, now=now, later=then, **by_shrinkage)
        case _:
            both = {**by_shrinkage, "coefficient": coefficient}
            today = worked(today_in_stretches, wanted=wanted, now=now, in_service=then, **both)
            change = worked(change_in_stretches, size=planed, now=now, later=then, **both)
    named = {"coefficient": wood.change_known, "shrinkage": wood.shrinkage_known}
    told = {name: f"of {wood.name}, {wood.source}, {KNOWN.get(known, known)}" for name, known in named.items()}
    if wood.change_disputed:
        told["shrinkage"] += f"; {DISPUTED}"
    off = planed + number(change) - wanted
    return Change(wood.name, movement, telling(today, told), telling(change, told), off=off)


def _figures(wood: Species, grain: str) -> tuple[float | None, float | None]:
    """Shrinkage [%] and change coefficient [1 per %] of the wood's thickness."""
    way: Grain = "quartersawn" if grain == "quartersawn" else "flatsawn"
    pairs = ((wood.radial_shrinkage, wood.tangential_shrinkage), (wood.radial_change, wood.tangential_change))
    found = [
        thickness_way(way, radial, tangential) if radial is not None and tangential is not None else None
        for radial, tangential in pairs
    ]
    return found[0], None if wood.change_disputed else found[1]


def beyond(found: InService, tolerance: Fraction) -> list[Change]:
    """The woods that planed to the target today will be off it by more than the tolerance [mm] in service.

    >>> beyond(InService(Fraction(12), 7.0, None, ()), Fraction(1))
    []
    """
    return [one for one in found.changes if abs(one.off) > tolerance]


def proud(job: Job) -> Worked | None:
    """The thickness [mm] to stop at before the rest, by the formula; None when no rest is entered.

    >>> from dataclasses import replace
    >>> from thickset.ground.job.example import small_job
    >>> from thickset.ground.job.job import Service
    >>> proud(replace(small_job(), service=Service(rest=Fraction(1)))).value
    21.0
    """
    allowance = job.service.rest if job.service else None
    if allowance is None:
        return None
    return within_range(stop_proud, target=float(job.target), allowance=float(allowance))
