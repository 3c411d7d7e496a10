"""Which ends of which pieces keep snipe, from how every board went, or is to go, through every pass.

In each pass the leading end of a piece gets the planer's snipe of the leading end, the other that of the trailing end. Pieces
that are butted without a gap get it only at the leading end of the first and the trailing end of the last. Snipe is on the side
that was up; a later pass over that side planes it away, once more came off there than snipe is deep.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from thickset.ground.job.job import Ends, Job
from thickset.ground.notation.lengths import INCH
from thickset.planning.passes.lot import pieces_of
from thickset.planning.passes.model import Pass, Plan, Way
from thickset.planning.run.follow import follow
from thickset.planning.run.state import State

NONE = Fraction(0)
DEEPEST_SNIPE = INCH / 32
"""Snipe is no deeper than this, 1/32 in [mm]; common practice, no source."""

ENDS: tuple[Ends, ...] = ("alone", "butted", "guarded")


@dataclass(frozen=True)
class Lost:
    """What must be cut off at end 1 and end 2 of a board once it is planed [mm]."""

    end_1: Fraction = NONE
    end_2: Fraction = NONE


@dataclass(frozen=True)
class Sniped:
    """The passes [number] whose snipe stays on one end of a board: those in which it leads, and in which it trails."""

    leads: tuple[int, ...] = ()
    trails: tuple[int, ...] = ()


@dataclass(frozen=True)
class Pieces:
    """So many pieces of one board of the lot [count] that are sniped alike; `which` of them, where they are not all."""

    count: int
    which: str
    end_1: Sniped
    end_2: Sniped

    def lost(self, job: Job) -> Lost:
        """What each of them loses at its ends: snipe, and at least the trim [mm]."""

        def at(end: Sniped) -> Fraction:
            lead = job.planer.snipe_lead if end.leads else None
            trail = job.planer.snipe_trail if end.trails else None
            return max(job.cutting.trim, lead or NONE, trail or NONE)

        return Lost(at(self.end_1), at(self.end_2))


def lost_ends(plan: Plan, ends: Ends) -> tuple[Lost, ...]:
    """What each board, in the order of the job, loses at its ends, of those alike the most [mm].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> lost_ends(make_plan(small_job()), "alone")[0]
    Lost(end_1=Fraction(0, 1), end_2=Fraction(0, 1))
    """
    job = plan.job
    return tuple(worst([one.lost(job) for one in pieces]) for pieces in sniped(job, ways_of(plan), ends))


def worst(lost: Sequence[Lost]) -> Lost:
    """The most that any loses at each end [mm].

    >>> worst([Lost(Fraction(50)), Lost(Fraction(0), Fraction(80))])
    Lost(end_1=Fraction(50, 1), end_2=Fraction(80, 1))
    """
    return Lost(max(one.end_1 for one in lost), max(one.end_2 for one in lost))


def ways_of(plan: Plan) -> tuple[Way, ...]:
    """How the boards of a plan go through it; once its run is begun, how they went and how they go on.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [(one.number, one.board) for one in ways_of(make_plan(small_job()))]
    [(1, 0), (2, 0), (2, 1), (3, 0), (3, 1), (4, 0), (4, 1)]
    """
    return ways_in(follow(plan.job)) if plan.job.run else planned_ways(plan)


def planned_ways(plan: Plan) -> tuple[Way, ...]:
    """How the boards of a plan go through its passes.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> len(planned_ways(make_plan(small_job())))
    7
    """
    spots = {piece.board: (piece.thick, piece.thin) for piece in pieces_of(plan.job.boards, None)}
    return tuple(_through(plan.passes, spots, set()))


def ways_in(state: State) -> tuple[Way, ...]:
    """How the boards went through a run so far, and how those that are left are to go on.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> len(ways_in(begin(small_job())))
    7
    """
    spots = {piece.board: (piece.thick, piece.thin) for piece in state.pieces}
    to_come = (
        way
        for way in _through(state.rest, spots, {way.board for way in state.ways})
        if way.number > len(state.done) + 1 or way.board not in state.fed
    )
    return (*state.ways, *to_come)


def trains(job: Job, ways: Sequence[Way]) -> Iterator[tuple[Way, ...]]:
    """The boards of one pass that can be butted: each at one thickness, the same as the one before; the others by themselves.

    Thick to thin. A board that is still uneven, or thinner than the one before by more than the tolerance, begins anew.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> job = small_job()
    >>> [len(one) for one in trains(job, planned_ways(make_plan(job))[-2:])]
    [2]
    """
    row: list[Way] = []
    for way in sorted(ways, key=lambda one: (-one.thick, -job.boards[one.board].thick, one.board)):
        if row and not (is_even(way, job) and is_even(row[-1], job) and row[-1].thick - way.thick <= job.tolerance):
            yield tuple(row)
            row = []
        row.append(way)
    if row:
        yield tuple(row)


def is_even(way: Way, job: Job) -> bool:
    """Whether a board comes to a pass at one thickness, within the tolerance, which it is known to do once it was planed.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> job = small_job()
    >>> [is_even(one, job) for one in planned_ways(make_plan(job))]
    [False, True, False, True, True, True, True]
    """
    return way.planed and way.thick - way.thin <= job.tolerance


def sniped(job: Job, ways: Sequence[Way], ends: Ends) -> tuple[tuple[Pieces, ...], ...]:
    """Which pieces of each board, in the order of the job, keep which snipe when they go through so.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> sniped(small_job(), planned_ways(make_plan(small_job())), "guarded")[0]
    (Pieces(count=1, which='', end_1=Sniped(leads=(), trails=()), end_2=Sniped(leads=(), trails=())),)
    """
    found: dict[tuple[int, int], dict[tuple[int, bool], list[int]]] = {}
    for way, slot, leading in _reached(job, ways, ends):
        end = way.placement.leads if leading else 3 - way.placement.leads
        found.setdefault((way.board, slot), {}).setdefault((end, leading), []).append(way.number)

    def end_of(board: int, slot: int, end: int) -> Sniped:
        mine = found.get((board, slot), {})
        return Sniped(tuple(mine.get((end, True), ())), tuple(mine.get((end, False), ())))

    made: list[tuple[Pieces, ...]] = []
    for n, board in enumerate(job.boards):
        slots = [(end_of(n, slot, 1), end_of(n, slot, 2)) for slot in range(min(board.count, 3))]
        if all(one == slots[0] for one in slots):
            made.append((Pieces(board.count, "", *slots[0]),))
        else:
            counts, names = (1, 1, board.count - 2), ("the first", "the last", "those between")
            made.append(
                tuple(Pieces(count, name, *one) for count, name, one in zip(counts, names, slots, strict=False))
            )
    return tuple(made)


def _reached(job: Job, ways: Sequence[Way], ends: Ends) -> Iterator[tuple[Way, int, bool]]:
    """Each snipe that stays: the way of a board, the first (0), last (1) or other (2) of those alike, and whether its end leads."""
    if ends == "guarded":
        return
    stays = _stays(ways)
    for _, row in groupby(ways, key=lambda one: one.number):
        for train in trains(job, tuple(row)):
            for n, way in enumerate(train):
                count = min(job.boards[way.board].count, 3)
                alone = ends == "alone" or not is_even(way, job)
                for slot in range(count) if way in stays else ():
                    if alone or (n == 0 and slot == 0):
                        yield way, slot, True
                    if alone or (n == len(train) - 1 and slot == min(count - 1, 1)):
                        yield way, slot, False


def _stays(ways: Sequence[Way]) -> frozenset[Way]:
    """The ways through a pass whose snipe no later pass over the same side planes away."""
    later: dict[tuple[int, str], Fraction] = {}
    stays = set()
    for way in reversed(ways):
        side = (way.board, way.placement.up)
        if later.get(side, NONE) < DEEPEST_SNIPE:
            stays.add(way)
        later[side] = later.get(side, NONE) + way.cut
    return frozenset(stays)


def _through(passes: Sequence[Pass], spots: dict[int, tuple[Fraction, Fraction]], planed: set[int]) -> Iterator[Way]:
    """How boards with such thick and thin spots [mm] go through passes; `planed`: those that went through one before."""
    for one in passes:
        for fed in (each for each in one.fed if each.board in spots):
            thick, thin = spots[fed.board]
            yield Way(one.number, fed.board, fed.placement, thick, thin, one.setting, fed.board in planed)
            planed.add(fed.board)
            spots[fed.board] = (one.setting, one.setting if fed.clean else thin)
