"""Target against how many boards make it: what a thinner target would save."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate

from thickset.ground.job.job import Job, ProblemsError
from thickset.planning.passes import stages
from thickset.planning.passes.descent import Descent
from thickset.planning.passes.limits import problems_of
from thickset.planning.passes.lot import pieces_of
from thickset.planning.passes.model import TargetRow

MOST_ROWS = 7

MOST_MARKS = 2000
"""Marks of the scale looked at; of a finer scale only some."""


def target_rows(job: Job) -> tuple[TargetRow, ...]:
    """The job's target, then the marks of the scale below it at which more boards make both faces, down to all of them.

    A target for which there is no plan is left out; one under the planer's thinnest ends the table.

    >>> from thickset.ground.job.example import small_job
    >>> [(float(row.target), row.both_faces) for row in target_rows(small_job())]
    [(20.0, 2)]
    """
    crowd = Crowd(job)
    step, floor = marks_looked_at(job), job.planer.thinnest or job.planer.step
    rows = [TargetRow(job.target, crowd.both_faces(job.target))]
    mark = job.target // step * step
    while rows[-1].both_faces < crowd.pieces and mark >= floor:
        made = crowd.both_faces(mark)
        if made > rows[-1].both_faces:
            if crowd.has_plan(mark):
                rows.append(TargetRow(mark, made))
            elif crowd.thickest > mark + 2 * job.practice.finish_cut:
                break  # the last passes are too much for the planer here, and so they are for every thinner target
        mark -= step
    return _few(rows)


MOST_TRIED = 20
"""Marks of the scale that are tried for a plan under the one that no board is thinner than."""


def none_short(job: Job) -> Fraction | None:
    """The thickest mark of the scale [mm] at which no board comes out short; None where none is at the target, or no plan is near.

    >>> from thickset.ground.job.example import small_job
    >>> none_short(small_job()) is None, float(none_short(replace(small_job(), target=Fraction(23))))
    (True, 22.6)
    """
    thinnest, step, floor = (
        min(board.thin for board in job.boards),
        job.planer.step,
        job.planer.thinnest or job.planer.step,
    )
    if thinnest >= job.target:
        return None
    crowd, mark = Crowd(job), thinnest // step * step
    marks = (mark - n * step for n in range(MOST_TRIED))
    return next((one for one in marks if one >= floor and crowd.has_plan(one)), None)


def marks_looked_at(job: Job) -> Fraction:
    """How far apart [mm] the marks of the scale stand that are looked at: one step, more on a very fine scale.

    >>> from thickset.ground.job.example import small_job
    >>> marks_looked_at(small_job())
    Fraction(1, 10)
    """
    step, thinnest = job.planer.step, min(board.thin for board in job.boards)
    return step * max(1, (job.target - thinnest + job.practice.finish_cut) // (step * MOST_MARKS))


class Crowd:
    """Boards counted by thickness, to ask of many targets."""

    def __init__(self, job: Job) -> None:
        self.job = job
        boards = sorted(job.boards, key=lambda board: board.thin)
        self.thins = [board.thin for board in boards]
        self.from_here = [*accumulate((board.count for board in reversed(boards)), initial=0)][::-1]
        self.pieces = self.from_here[0]
        self.thickest = max(board.thick for board in boards)
        self.heavy = _is_heavy(job)
        self.even: dict[Fraction, int] = {}
        for board in boards:
            if board.thick == board.thin:
                self.even[board.thick] = self.even.get(board.thick, 0) + board.count

    def both_faces(self, target: Fraction) -> int:
        """Boards [count] that a target [mm] leaves planed on both faces (rule 10)."""
        second_last = stages.second_last(self.job, self.thickest, target)
        if second_last is None:
            return 0
        # A board of just this thickness all over goes through once only.
        return self.from_here[bisect_left(self.thins, second_last)] - self.even.get(second_last, 0)

    def has_plan(self, target: Fraction) -> bool:
        """Whether there is a plan for a target [mm] (rules 1 to 7 and 11)."""
        job = replace(self.job, target=target)
        if problems_of(job):
            return False
        if not self.heavy and self.thickest > target + 2 * job.practice.finish_cut and len(stages.stages(job)) == 1:
            return True
        try:
            return all(_has_way(stage) for stage in stages.stages(job))
        except ProblemsError:
            return False


def _has_way(job: Job) -> bool:
    return Descent(pieces_of(job.boards, job.planer.known_cut), job).found() is not None


def _is_heavy(job: Job) -> bool:
    """Whether what a board may load, or the steps of the planer, can stand in the way of any cut that is planned."""
    planer, known = job.planer, job.planer.known_cut
    deepest = min(job.practice.cut, planer.deepest_cut)
    if -(-planer.lightest_cut // planer.step) * planer.step > deepest:
        return True
    if known is None:
        return False
    heaviest = max(piece.load for piece in pieces_of(job.boards, known))
    return heaviest * deepest * planer.feeds[0] > known.width * known.depth * known.feed


def _few(rows: list[TargetRow]) -> tuple[TargetRow, ...]:
    """The first, the last and the ones between that save most at once, no more than fit a glance."""
    if len(rows) <= MOST_ROWS:
        return tuple(rows)
    gains = sorted(range(1, len(rows) - 1), key=lambda n: rows[n - 1].both_faces - rows[n].both_faces)
    kept = sorted([0, *gains[: MOST_ROWS - 2], len(rows) - 1])
    return tuple(rows[n] for n in kept)
