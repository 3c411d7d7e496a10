"""What snipe takes off the ends of each board, fed alone, butted end to end, or guarded by scrap before and behind.

In each pass the leading end of a board gets the planer's snipe of the leading end, the other that of the trailing end.
Boards that are butted without a gap get it only at the leading end of the first and the trailing end of the last.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from thickset.ground.job import Ends, Job, Part
from thickset.planning.model import Fed, Plan

NONE = Fraction(0)
ENDS: tuple[Ends, ...] = ("alone", "butted", "guarded")


@dataclass(frozen=True)
class Lost:
    """What must be cut off at end 1 and end 2 of a board once it is planed [mm]."""

    end_1: Fraction = NONE
    end_2: Fraction = NONE


@dataclass(frozen=True)
class Sniped:
    """The passes [number] whose snipe reaches one end of a board: those in which it leads, and in which it trails."""

    leads: tuple[int, ...] = ()
    trails: tuple[int, ...] = ()


@dataclass(frozen=True)
class Rough:
    """How long to leave a part: pieces of so many parts in one [count], crosscut to a rough length [mm].

    `held`: the planer's shortest board, not snipe, decides the length.
    """

    part: Part
    parts_in_one: int
    length: Fraction
    held: bool


def feeding_order(plan: Plan) -> tuple[int, ...]:
    """An order for feeding the boards [index] one after another: thick to thin, so that like stands beside like.

    In no pass does a thinner board run between two thicker ones, since what was planed before is thicker than what waited.

    >>> from thickset.ground.example import small_job
    >>> from thickset.planning.planner import make_plan
    >>> feeding_order(make_plan(small_job()))
    (0, 1)
    """
    boards = plan.job.boards
    return tuple(sorted(range(len(boards)), key=lambda n: (-boards[n].thick, n)))


def lost_ends(plan: Plan, ends: Ends) -> tuple[Lost, ...]:
    """What each board of a plan, in the order of the job, loses at its ends: snipe, and at least the trim [mm].

    >>> from thickset.ground.example import small_job
    >>> from thickset.planning.planner import make_plan
    >>> lost_ends(make_plan(small_job()), "alone")[0]
    Lost(end_1=Fraction(0, 1), end_2=Fraction(0, 1))
    """
    planer, trim = plan.job.planer, plan.job.cutting.trim

    def lost(end: Sniped) -> Fraction:
        lead = planer.snipe_lead if end.leads else None
        trail = planer.snipe_trail if end.trails else None
        return max(trim, lead or NONE, trail or NONE)

    return tuple(Lost(lost(end_1), lost(end_2)) for end_1, end_2 in sniped_ends(plan, ends))


def sniped_ends(plan: Plan, ends: Ends) -> tuple[tuple[Sniped, Sniped], ...]:
    """The passes [number] that snipe end 1 and end 2 of each board of a plan, in the order of the job.

    >>> from thickset.ground.example import small_job
    >>> from thickset.planning.planner import make_plan
    >>> sniped_ends(make_plan(small_job()), "guarded")[0]
    (Sniped(leads=(), trails=()), Sniped(leads=(), trails=()))
    """
    place = {board: n for n, board in enumerate(feeding_order(plan))}
    found: set[tuple[int, int, bool, int]] = set()
    for one in plan.passes:
        row = sorted(one.fed, key=lambda fed: place[fed.board])
        if ends == "guarded":
            continue
        for n, fed in enumerate(row):
            if ends == "alone" or n == 0:
                found.add((fed.board, fed.placement.leads, True, one.number))
            if ends == "alone" or n == len(row) - 1:
                found.add((fed.board, 3 - fed.placement.leads, False, one.number))

    def at(board: int, end: int, leading: bool) -> tuple[int, ...]:
        return tuple(one.number for one in plan.passes if (board, end, leading, one.number) in found)

    def sniped(board: int, end: int) -> Sniped:
        return Sniped(at(board, end, leading=True), at(board, end, leading=False))

    return tuple((sniped(n, 1), sniped(n, 2)) for n in range(len(plan.job.boards)))


def rough_lengths(job: Job, ends: Ends) -> tuple[Rough, ...]:
    """How long to crosscut each part before it is planed, one or several in one [mm].

    Both ends of a board lead in turn, so alone each end loses the longer snipe. Valid: boards planed on both sides.

    >>> from dataclasses import replace
    >>> from thickset.ground.example import small_job
    >>> from thickset.ground.job import Part
    >>> job = replace(small_job(), parts=(Part("rail", Fraction(600), 2),))
    >>> rough_lengths(job, "alone")[0].length
    Fraction(600, 1)
    """
    planer, cutting = job.planer, job.cutting
    snipe = max(planer.snipe_lead or NONE, planer.snipe_trail or NONE) if ends == "alone" else NONE
    loss = 2 * max(snipe, cutting.trim)
    shortest = planer.shortest or NONE
    made = []
    for part in job.parts:
        one = part.length + loss
        in_one = max(1, ceil((shortest - loss + cutting.kerf) / (part.length + cutting.kerf)))
        in_one = min(in_one, part.count)
        length = in_one * part.length + (in_one - 1) * cutting.kerf + loss
        made.append(Rough(part, in_one, max(length, shortest), one < shortest))
    return tuple(made)


def butted_minutes(plan: Plan) -> Fraction:
    """Minutes of a plan whose boards are butted end to end, each taken up while the one before it runs [min].

    Valid: two people, or a table behind the planer that the boards run out on; common practice, no source.

    >>> from thickset.ground.example import small_job
    >>> from thickset.planning.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> float(butted_minutes(plan)) < float(plan.minutes)
    True
    """
    return plan.minutes - sum(butted_savings(plan), NONE)


def butted_savings(plan: Plan) -> tuple[Fraction, ...]:
    """What each pass of a plan saves when its boards are butted [min]; as `butted_minutes`.

    >>> from thickset.ground.example import small_job
    >>> from thickset.planning.planner import make_plan
    >>> len(butted_savings(make_plan(small_job())))
    4
    """
    return tuple(_saved(plan, one.fed, one.feed) for one in plan.passes)


def _saved(plan: Plan, fed: Sequence[Fed], feed: Fraction) -> Fraction:
    """In one pass: of handling and running each board, only the longer counts, and one board's handling beside."""
    handle = plan.job.practice.handle_seconds / 60
    lengths: Counter[Fraction] = Counter()
    for one in fed:
        lengths[plan.job.boards[one.board].length] += plan.job.boards[one.board].count
    shorter = sum((many * min(handle, length / 1000 / feed) for length, many in lengths.items()), NONE)
    return max(shorter - handle, NONE)
