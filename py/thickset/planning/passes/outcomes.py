"""What becomes of each board (rule 10)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from thickset.ground.job.job import Board, Job
from thickset.planning.passes.model import Fate, FateName, Pass


def fates_of(job: Job, passes: Sequence[Pass]) -> tuple[Fate, ...]:
    """The fate of every board of the job, in its order.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [fate.name for fate in fates_of(small_job(), make_plan(small_job()).passes)]
    ['both sides', 'both sides']
    """
    taken = [{"A": Fraction(0), "B": Fraction(0)} for _ in job.boards]
    for one in passes:
        for fed in one.fed:
            taken[fed.board][fed.placement.up] += fed.cut
    second_last = passes[-2].setting if len(passes) > 1 else None
    return tuple(
        Fate(
            n, fate_name(board, job.target, second_last), max(job.target - board.thin, Fraction(0)), off["A"], off["B"]
        )
        for n, (board, off) in enumerate(zip(job.boards, taken, strict=True))
    )


def fate_name(board: Board, target: Fraction, second_last: Fraction | None) -> FateName:
    """The fate of a board for a target and the setting before it [mm].

    A board no thicker than the second-last setting goes through only once, so its side A stays as jointed.

    >>> board = Board("A", (Fraction(23), Fraction(22)), Fraction(100), Fraction(900))
    >>> [fate_name(board, Fraction(target), Fraction(target + 1)) for target in (20, 22, 23)]
    ['both sides', 'one side', 'untouched']
    """
    if board.thick <= target:
        return "untouched"
    if board.thin < target:
        return "short"
    if second_last is not None and board.thin >= second_last and board.thick > second_last:
        return "both sides"
    return "one side"


def both_sides(job: Job, fates: Sequence[Fate]) -> int:
    """Boards that come out planed on both sides [count].

    >>> from thickset.ground.job.example import small_job
    >>> both_sides(small_job(), (Fate(0, "both sides", Fraction(0), Fraction(1), Fraction(1)),))
    1
    """
    return sum(job.boards[fate.board].count for fate in fates if fate.name == "both sides")
