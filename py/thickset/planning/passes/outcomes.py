"""What becomes of each board (rule 10)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from thickset.ground.job.job import Board, Job
from thickset.planning.passes.model import Outcome, OutcomeName, Pass
from thickset.planning.passes.rules import by_rule


def outcomes_of(job: Job, passes: Sequence[Pass]) -> tuple[Outcome, ...]:
    """The outcome of every board of the job, in its order.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [outcome.name for outcome in outcomes_of(small_job(), make_plan(small_job()).passes)]
    ['both faces', 'both faces']
    """
    taken = [{"A": Fraction(0), "B": Fraction(0)} for _ in job.boards]
    for one in passes:
        for fed in one.fed:
            taken[fed.board][fed.placement.up] += fed.cut
    second_last = passes[-2].setting if len(passes) > 1 else None
    return tuple(
        Outcome(
            n,
            outcome_name(board, job.target, second_last),
            short_by(job.target, board.thin),
            off["A"],
            off["B"],
        )
        for n, (board, off) in enumerate(zip(job.boards, taken, strict=True))
    )


@by_rule(10, "short by [mm]", target="T [mm] target", thin="t [mm] its thin spot", steps="e = max(T − t, 0)")
def short_by(target: Fraction, thin: Fraction) -> Fraction:
    """How far a board's thin spot is under the target.

    >>> short_by(Fraction(20), Fraction("19.5")), short_by(Fraction(20), Fraction(21))
    (Fraction(1, 2), Fraction(0, 1))
    """
    return max(target - thin, Fraction(0))


def outcome_name(board: Board, target: Fraction, second_last: Fraction | None) -> OutcomeName:
    """The outcome of a board for a target and the setting before it [mm].

    A board no thicker than the second-last setting goes through only once, so its face A stays as jointed.

    >>> board = Board("A", (Fraction(23), Fraction(22)), Fraction(100), Fraction(900))
    >>> [outcome_name(board, Fraction(target), Fraction(target + 1)) for target in (20, 22, 23)]
    ['both faces', 'one face', 'untouched']
    """
    if board.thick <= target:
        return "untouched"
    if board.thin < target:
        return "short"
    if second_last is not None and board.thin >= second_last and board.thick > second_last:
        return "both faces"
    return "one face"


def both_faces(job: Job, outcomes: Sequence[Outcome]) -> int:
    """Boards that come out planed on both faces [count].

    >>> from thickset.ground.job.example import small_job
    >>> both_faces(small_job(), (Outcome(0, "both faces", Fraction(0), Fraction(1), Fraction(1)),))
    1
    """
    return sum(job.boards[outcome.board].count for outcome in outcomes if outcome.name == "both faces")
