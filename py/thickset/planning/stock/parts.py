"""Which parts come out of each board and where to cut: snipe and defects left out, least waste."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from thickset.ground.job.job import Board, Job, Part
from thickset.planning.passes.lot import Scale
from thickset.planning.passes.model import Plan
from thickset.planning.run.report import taken_out
from thickset.planning.run.snipe import Lost, feedings_of, sniped
from thickset.planning.stock.cutlist import least_waste
from thickset.planning.stock.filling import Stock


@dataclass(frozen=True)
class Placed:
    """A part [index] on a board, from where to where, measured from end 1 [mm]."""

    part: int
    start: Fraction
    end: Fraction


@dataclass(frozen=True)
class Sawn:
    """A board [index], or `count` alike, and the parts on it from end 1 on; `lost` is what its ends lose.

    `which` of the boards alike, where they do not all lose the same.
    """

    board: int
    count: int
    lost: Lost
    parts: tuple[Placed, ...]
    which: str = ""


@dataclass(frozen=True)
class CuttingPlan:
    """The boards that are cut, parts that cannot be made [count each], what is left over, and whether it is proved best.

    `used`: boards cut into; `made`: parts in them [mm, all together]; boards that end short or with one face are left out.
    """

    sawn: tuple[Sawn, ...]
    missing: tuple[int, ...]
    used: Fraction
    made: Fraction
    left_out: tuple[int, ...]
    proved: bool

    @property
    def waste(self) -> Fraction:
        """Share of the boards cut into that is no part [1]."""
        return 1 - self.made / self.used if self.used else Fraction(0)


def cutting_plan(plan: Plan) -> CuttingPlan:
    """The cutting plan of a job's parts with the least waste, from the boards that its plan leaves at the target [mm].

    Valid: a part lies along a board that is at least as wide, one beside the other is not tried. First the least length of parts missing, then the
    least length of boards cut into. Source: dynamic programme with prices (planning.stock.cutlist).

    >>> from dataclasses import replace
    >>> from thickset.ground.job.example import small_job
    >>> from thickset.ground.job.job import Part
    >>> from thickset.planning.passes.planner import make_plan
    >>> job = replace(small_job(), parts=(Part("rail", Fraction(440), 3),))
    >>> [len(one.parts) for one in cutting_plan(make_plan(job)).sawn]
    [2, 1]
    """
    job = plan.job
    kept = sniped(job, feedings_of(plan), job.cutting.ends)
    gone = taken_out(job)
    # Of boards alike the first, the last and the others may lose different ends: each of these is stock of its own.
    rows = [
        (n, pieces.count, pieces.lost(job), pieces.which)
        for n, outcome in enumerate(plan.outcomes)
        for pieces in kept[n]
        if not outcome.short and n not in gone
    ]
    free = [list(free_stretches(job.boards[n], lost, job.cutting.kerf)) for n, _, lost, _ in rows]
    order = sorted(range(len(job.parts)), key=lambda k: -job.parts[k].length)
    lengths = [job.cutting.kerf, *(part.length for part in job.parts), *(job.boards[n].length for n, *_ in rows)]
    scale = Scale([*lengths, *(end - start for each in free for start, end in each)])
    whole = scale.whole
    stock = [
        Stock(
            whole(job.boards[n].length),
            tuple(whole(end - start) for start, end in stretches),
            count,
            tuple(is_wide_enough(job.boards[n], job.parts[k]) for k in order),
        )
        for (n, count, *_), stretches in zip(rows, free, strict=True)
    ]
    sizes = [whole(job.parts[k].length) for k in order]
    layout = least_waste(stock, sizes, [job.parts[k].count for k in order], whole(job.cutting.kerf))
    alike: dict[tuple[int, tuple[Placed, ...]], int] = {}
    for cut in layout.cuts:
        placed = tuple(_placed(job, free[cut.stock], [[order[k] for k in kinds] for kinds in cut.parts]))
        alike[cut.stock, placed] = alike.get((cut.stock, placed), 0) + cut.many
    sawn = tuple(
        Sawn(rows[row][0], count, rows[row][2], parts, rows[row][3])
        for (row, parts), count in sorted(alike.items(), key=_by_board)
    )
    missing = [0] * len(order)
    for k, many in zip(order, layout.missing, strict=True):
        missing[k] = many
    used = sum((job.boards[one.board].length * one.count for one in sawn), Fraction(0))
    made = sum((part.length * (part.count - gone) for part, gone in zip(job.parts, missing, strict=True)), Fraction(0))
    left_out = tuple(n for n, outcome in enumerate(plan.outcomes) if outcome.short)
    return CuttingPlan(sawn, tuple(missing), used, made, left_out, layout.proved)


def is_wide_enough(board: Board, part: Part) -> bool:
    """Whether a part comes out of a board by its width [mm]; one without a width is as wide as its board.

    >>> board = Board("A", (Fraction(20),), Fraction(100), Fraction(1000))
    >>> is_wide_enough(board, Part("rail", Fraction(400), 1, Fraction(120))), is_wide_enough(board, Part("rail", Fraction(400)))
    (False, True)
    """
    return part.width is None or board.width >= part.width


def too_wide(plan: Plan) -> tuple[int, ...]:
    """The parts [index] that are wider than every board that reaches the target [mm].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> too_wide(make_plan(small_job()))
    ()
    """
    boards = [plan.job.boards[n] for n, outcome in enumerate(plan.outcomes) if not outcome.short]
    return tuple(k for k, part in enumerate(plan.job.parts) if not any(is_wide_enough(one, part) for one in boards))


def free_stretches(board: Board, lost: Lost, kerf: Fraction) -> Iterator[tuple[Fraction, Fraction]]:
    """The stretches of a board, from and to [mm], that hold neither what its ends lose nor a defect.

    Between two of them is room for the saw: a defect narrower than its kerf costs the kerf.

    >>> from thickset.ground.job.job import Defect
    >>> F = Fraction
    >>> board = Board("A", (F(20),), F(100), F(1000), defects=(Defect(F(400), F(450)),))
    >>> [(int(a), int(b)) for a, b in free_stretches(board, Lost(F(50), F(80)), F(3))]
    [(50, 400), (450, 920)]
    """
    at, end = lost.end_1, board.length - lost.end_2
    for defect in sorted(board.defects, key=lambda one: one.start):
        if defect.start > at:
            yield at, min(defect.start, end)
            at = defect.start + kerf
        at = max(at, defect.end)
        if at >= end:
            return
    if at < end:
        yield at, end


def _placed(job: Job, free: list[tuple[Fraction, Fraction]], kinds: list[list[int]]) -> Iterator[Placed]:
    for (start, _), parts in zip(free, kinds, strict=True):
        at = start
        for part in parts:
            yield Placed(part, at, at + job.parts[part].length)
            at += job.parts[part].length + job.cutting.kerf


def _by_board(entry: tuple[tuple[int, tuple[Placed, ...]], int]) -> int:
    return entry[0][0]
