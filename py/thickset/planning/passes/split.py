"""Two lots or one: whether planing a lot as two, to the same target, saves minutes or a board.

A lot of its own has its own thick spot: boards that have too little for full finish cuts can still be planed on both
faces where the whole lot could not (rules 1 and 10); and a wide or dense board no longer slows the feed of the others.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, NamedTuple

from thickset.ground.job.job import Job, ProblemsError
from thickset.planning.passes.limits import problems_of
from thickset.planning.passes.lot import pieces_of
from thickset.planning.passes.model import Outcome, Plan
from thickset.planning.passes.outcomes import both_faces, outcomes_of
from thickset.planning.passes.planner import passes_of

By = Literal["thickness", "width", "wood", "load"]

MOST_TRIED = 16
"""Places at which a lot is split by thickness, by width and by load; of more, evenly chosen ones [count]."""

MOST_PLANNED = 2500
"""Boards planned for all tries together, so that a large lot does not keep one waiting [count]."""


class Half(NamedTuple):
    """A lot split off: its boards [index], passes [count], minutes [min], boards planed on both faces [count]."""

    boards: tuple[int, ...]
    passes: int
    minutes: Fraction
    both_faces: int


@dataclass(frozen=True)
class Split:
    """Two lots of one, how they differ, minutes saved [min, below zero when it costs some], boards more on both faces."""

    by: By
    halves: tuple[Half, Half]
    saved: Fraction
    gained: int


def best_split(plan: Plan) -> Split | None:
    """The split with most boards more on both faces, and of equal ones the most minutes [min] saved; None if none helps.

    It helps when no board comes out worse and a board is gained or time saved.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> best_split(make_plan(small_job())) is None
    True
    """
    found = [split for by, first in _first_lots(plan.job) if (split := _tried(plan, by, first))]
    return max(found, key=lambda one: (one.gained, one.saved), default=None)


def sub_job(job: Job, boards: Sequence[int]) -> Job:
    """The job of some of its boards [index] alone, not begun.

    >>> from thickset.ground.job.example import small_job
    >>> sub_job(small_job(), [1]).boards[0].name
    'B'
    """
    return replace(job, boards=tuple(job.boards[n] for n in boards), run=())


def _tried(plan: Plan, by: By, first: tuple[int, ...]) -> Split | None:
    """The split whose first lot has these boards, if it helps."""
    job = plan.job
    inside = set(first)
    second = tuple(n for n in range(len(job.boards)) if n not in inside)
    try:
        (one, after), (two, rest) = (_planned(job, boards) for boards in (first, second))
    except ProblemsError:
        return None
    boards = zip((*first, *second), (*after, *rest), strict=True)
    if any(_RANK[outcome.name] < _RANK[plan.outcomes[n].name] for n, outcome in boards):
        return None
    saved = plan.minutes - one.minutes - two.minutes
    gained = one.both_faces + two.both_faces - both_faces(job, plan.outcomes)
    return Split(by, (one, two), saved, gained) if gained > 0 or saved > 0 else None


_RANK = {"short": 0, "untouched": 1, "one face": 1, "both faces": 2}


def _planned(job: Job, boards: tuple[int, ...]) -> tuple[Half, tuple[Outcome, ...]]:
    part = sub_job(job, boards)
    if problems := problems_of(part):
        raise ProblemsError(problems)
    passes, _ = passes_of(part)
    outcomes = outcomes_of(part, passes)
    minutes = sum((one.minutes for one in passes), Fraction(0))
    return Half(boards, len(passes), minutes, both_faces(part, outcomes)), outcomes


def _first_lots(job: Job) -> Iterator[tuple[By, tuple[int, ...]]]:
    """The boards of the first lot: the thicker ones, the wider ones, those of one wood, those that load the motor more."""
    most = min(MOST_TRIED, MOST_PLANNED // (5 * len(job.boards)))
    light = job.target + 2 * job.practice.finish_cut
    thicker = tuple(n for n, board in enumerate(job.boards) if board.thick > light)
    if 0 < len(thicker) < len(job.boards):
        yield "thickness", thicker
    yield from (("thickness", boards) for boards in _above([board.thick for board in job.boards], most))
    yield from (("width", boards) for boards in _above([board.width for board in job.boards], most))
    woods = sorted({board.species or "" for board in job.boards})[:most]
    for wood in woods if len(woods) > 1 else ():
        yield "wood", tuple(n for n, board in enumerate(job.boards) if (board.species or "") == wood)
    if job.planer.known_cut:
        pieces = pieces_of(job.boards, job.planer.known_cut)
        yield from (("load", boards) for boards in _above([piece.load for piece in pieces], most))
        yield from (("load", boards) for boards in _above([piece.load * piece.thick for piece in pieces], most))


def _above(sizes: Sequence[Fraction], most: int) -> Iterator[tuple[int, ...]]:
    """The boards above each size that some of them have, or above some of the sizes when there are many."""
    limits = sorted(set(sizes))[:-1] if most else []
    every = -(-len(limits) // most) if limits else 1
    for limit in limits[::every]:
        yield tuple(n for n, size in enumerate(sizes) if size > limit)
