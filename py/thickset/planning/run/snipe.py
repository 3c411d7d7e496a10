"""Which ends of which pieces keep snipe, from how every board went, or is to go, through every pass.

In each pass the leading end of a piece gets the planer's snipe of the leading end, the other that of the trailing end. Pieces
that are butted without a gap get it only at the leading end of the first and the trailing end of the last. Snipe is on the face
that was up; a later pass over that face planes it away, once more came off there than snipe is deep.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from thickset.ground.job.job import Ends, Job
from thickset.ground.notation.lengths import INCH
from thickset.planning.passes.lot import pieces_of
from thickset.planning.passes.model import Feeding, Pass, Plan
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
    return tuple(worst([one.lost(job) for one in pieces]) for pieces in sniped(job, feedings_of(plan), ends))


def worst(lost: Sequence[Lost]) -> Lost:
    """The most that any loses at each end [mm].

    >>> worst([Lost(Fraction(50)), Lost(Fraction(0), Fraction(80))])
    Lost(end_1=Fraction(50, 1), end_2=Fraction(80, 1))
    """
    return Lost(max(one.end_1 for one in lost), max(one.end_2 for one in lost))


def feedings_of(plan: Plan) -> tuple[Feeding, ...]:
    """How the boards of a plan go through it; once its run is begun, how they went and how they go on.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [(one.number, one.board) for one in feedings_of(make_plan(small_job()))]
    [(1, 0), (2, 0), (2, 1), (3, 0), (3, 1), (4, 0), (4, 1)]
    """
    return feedings_in(follow(plan.job)) if plan.job.run else planned_feedings(plan)


def planned_feedings(plan: Plan) -> tuple[Feeding, ...]:
    """How the boards of a plan go through its passes.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> len(planned_feedings(make_plan(small_job())))
    7
    """
    spots = {piece.board: (piece.thick, piece.thin) for piece in pieces_of(plan.job.boards, None)}
    return tuple(_through(plan.passes, spots, set()))


def feedings_in(state: State) -> tuple[Feeding, ...]:
    """How the boards went through a run so far, and how those that are left are to go on.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> len(feedings_in(begin(small_job())))
    7
    """
    spots = {piece.board: (piece.thick, piece.thin) for piece in state.pieces}
    to_come = (
        feeding
        for feeding in _through(state.rest, spots, {feeding.board for feeding in state.feedings})
        if feeding.number > len(state.done) + 1 or feeding.board not in state.fed
    )
    return (*state.feedings, *to_come)


def trains(job: Job, feedings: Sequence[Feeding]) -> Iterator[tuple[Feeding, ...]]:
    """The boards of one pass that can be butted: each at one thickness, the same as the one before; the others by themselves.

    Thick to thin. A board that is still uneven, or thinner than the one before by more than the tolerance, begins anew.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> job = small_job()
    >>> [len(one) for one in trains(job, planned_feedings(make_plan(job))[-2:])]
    [2]
    """
    row: list[Feeding] = []
    for feeding in sorted(feedings, key=lambda one: (-one.thick, -job.boards[one.board].thick, one.board)):
        if row and not (
            is_even(feeding, job) and is_even(row[-1], job) and row[-1].thick - feeding.thick <= job.tolerance
        ):
            yield tuple(row)
            row = []
        row.append(feeding)
    if row:
        yield tuple(row)


def is_even(feeding: Feeding, job: Job) -> bool:
    """Whether a board comes to a pass at one thickness, within the tolerance, which it is known to do once it was planed.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> job = small_job()
    >>> [is_even(one, job) for one in planned_feedings(make_plan(job))]
    [False, True, False, True, True, True, True]
    """
    return feeding.planed and feeding.thick - feeding.thin <= job.tolerance


def sniped(job: Job, feedings: Sequence[Feeding], ends: Ends) -> tuple[tuple[Pieces, ...], ...]:
    """Which pieces of each board, in the order of the job, keep which snipe when they go through so.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> sniped(small_job(), planned_feedings(make_plan(small_job())), "guarded")[0]
    (Pieces(count=1, which='', end_1=Sniped(leads=(), trails=()), end_2=Sniped(leads=(), trails=())),)
    """
    found: dict[tuple[int, int], dict[tuple[int, bool], list[int]]] = {}
    for feeding, slot, leading in _reached(job, feedings, ends):
        end = feeding.placement.leads if leading else 3 - feeding.placement.leads
        found.setdefault((feeding.board, slot), {}).setdefault((end, leading), []).append(feeding.number)

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


def _reached(job: Job, feedings: Sequence[Feeding], ends: Ends) -> Iterator[tuple[Feeding, int, bool]]:
    """Each snipe that stays: the feeding of a board, the first (0), last (1) or other (2) of those alike, and whether its end leads."""
    if ends == "guarded":
        return
    stays = _stays(feedings)
    for _, row in groupby(feedings, key=lambda one: one.number):
        for train in trains(job, tuple(row)):
            for n, feeding in enumerate(train):
                count = min(job.boards[feeding.board].count, 3)
                alone = ends == "alone" or not is_even(feeding, job)
                for slot in range(count) if feeding in stays else ():
                    if alone or (n == 0 and slot == 0):
                        yield feeding, slot, True
                    if alone or (n == len(train) - 1 and slot == min(count - 1, 1)):
                        yield feeding, slot, False


def _stays(feedings: Sequence[Feeding]) -> frozenset[Feeding]:
    """The feedings through a pass whose snipe no later pass over the same face planes away."""
    later: dict[tuple[int, str], Fraction] = {}
    stays = set()
    for feeding in reversed(feedings):
        face = (feeding.board, feeding.placement.up)
        if later.get(face, NONE) < DEEPEST_SNIPE:
            stays.add(feeding)
        later[face] = later.get(face, NONE) + feeding.cut
    return frozenset(stays)


def _through(
    passes: Sequence[Pass], spots: dict[int, tuple[Fraction, Fraction]], planed: set[int]
) -> Iterator[Feeding]:
    """How boards with such thick and thin spots [mm] go through passes; `planed`: those that went through one before."""
    for one in passes:
        for fed in (each for each in one.fed if each.board in spots):
            thick, thin = spots[fed.board]
            yield Feeding(one.number, fed.board, fed.placement, thick, thin, one.setting, fed.board in planed)
            planed.add(fed.board)
            spots[fed.board] = (one.setting, one.setting if fed.clean else thin)
