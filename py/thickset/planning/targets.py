"""Target against how many boards make it: what a thinner target would save."""

from __future__ import annotations

from bisect import bisect_left
from fractions import Fraction
from itertools import accumulate

from thickset.ground.job import Job
from thickset.planning import stages
from thickset.planning.model import TargetRow

MOST_ROWS = 7

MOST_MARKS = 2000
"""Marks of the scale looked at; of a finer scale only some."""


def target_rows(job: Job) -> tuple[TargetRow, ...]:
    """The job's target, then the marks of the scale below it at which more boards make both sides, down to all of them.

    A target under the planer's thinnest ends the table.

    >>> from thickset.ground.example import small_job
    >>> [(float(row.target), row.both_sides) for row in target_rows(small_job())]
    [(20.0, 2)]
    """
    crowd = Crowd(job)
    step, floor = marks_looked_at(job), job.planer.thinnest or job.planer.step
    rows = [TargetRow(job.target, crowd.both_sides(job.target))]
    mark = job.target // step * step
    while rows[-1].both_sides < crowd.pieces and mark >= floor:
        made = crowd.both_sides(mark)
        if made > rows[-1].both_sides:
            rows.append(TargetRow(mark, made))
        mark -= step
    return _few(rows)


def marks_looked_at(job: Job) -> Fraction:
    """How far apart [mm] the marks of the scale stand that are looked at: one step, more on a very fine scale.

    >>> from thickset.ground.example import small_job
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
        self.even: dict[Fraction, int] = {}
        for board in boards:
            if board.thick == board.thin:
                self.even[board.thick] = self.even.get(board.thick, 0) + board.count

    def both_sides(self, target: Fraction) -> int:
        """Boards [count] that a target [mm] leaves planed on both sides (rule 10)."""
        second_last = stages.second_last(self.job, self.thickest, target)
        if second_last is None:
            return 0
        # A board of just this thickness all over goes through once only.
        return self.from_here[bisect_left(self.thins, second_last)] - self.even.get(second_last, 0)


def _few(rows: list[TargetRow]) -> tuple[TargetRow, ...]:
    """The first, the last and the ones between that save most at once, no more than fit a glance."""
    if len(rows) <= MOST_ROWS:
        return tuple(rows)
    gains = sorted(range(1, len(rows) - 1), key=lambda n: rows[n - 1].both_sides - rows[n].both_sides)
    kept = sorted([0, *gains[: MOST_ROWS - 2], len(rows) - 1])
    return tuple(rows[n] for n in kept)
