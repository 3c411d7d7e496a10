"""How far each board hangs over the ends of the planer's table and sags there, with the formulas that say so."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import inf

from thickset.ground.job.job import Job
from thickset.ground.woods.species import find
from thickset.trade.beam import (
    Overhang,
    free_end,
    overhang,
    sag,
    stiffness_of_hardwood,
    stiffness_of_softwood,
)
from thickset.trade.formula import Worked, number, within_range, worked

MIDDLING = (Fraction("0.6"), "hardwood")
"""Gravity at 12 % and group of a board whose wood nobody named; common practice, no source."""

AT_TWELVE = 1120
"""Density [kg/m3] of a wood of gravity 1 at 12 % moisture: its dry weight and 12 % of it as water."""


@dataclass(frozen=True)
class Hanging:
    """A board [index]: its free end, and what its stiffness [GPa] and its sag [mm] come from."""

    board: int
    over: Overhang
    stiffness: Worked
    free: Worked
    sag: Worked | None


def hangings(job: Job) -> list[Hanging]:
    """Every board of a job at its target [mm]; none while nobody said how far the table reaches.

    >>> from dataclasses import replace
    >>> from thickset.ground.job.example import small_job
    >>> job = small_job()
    >>> [one.over.length for one in hangings(replace(job, planer=replace(job.planer, table=Fraction(300))))], hangings(job)
    ([600.0, 600.0], [])
    """
    table = job.planer.table
    return [] if table is None else [_hanging(job, n, float(table)) for n in range(len(job.boards))]


def longest(found: list[Hanging]) -> Hanging:
    """The board that hangs over most, and of equal ones the one that sags most [mm]; one past the beam formula most of all.

    >>> from dataclasses import replace
    >>> from thickset.ground.job.example import small_job
    >>> job = small_job()
    >>> boards = job.boards[0], replace(job.boards[1], length=Fraction(1200))
    >>> longest(hangings(replace(job, boards=boards, planer=replace(job.planer, table=Fraction(300))))).board
    1
    """
    return max(found, key=lambda one: (one.over.length, inf if one.over.sag is None else one.over.sag))


def _hanging(job: Job, n: int, table: float) -> Hanging:
    board = job.boards[n]
    wood = find(board.species) if board.species else None
    gravity, group = board.gravity or MIDDLING[0], wood.group if wood else MIDDLING[1]
    stiffness = stiffness_of_softwood if group == "softwood" else stiffness_of_hardwood
    stiff = worked(stiffness, gravity=min(max(float(gravity), 0.25), 0.9))
    free = worked(free_end, length=float(board.length), table=table)
    shared = {"thickness": float(job.target), "density": float(gravity) * AT_TWELVE, "stiffness": number(stiff)}
    over = overhang(float(board.length), table, **shared)
    sags = within_range(sag, length=over.length, **shared) if over.length else None
    return Hanging(n, over, stiff, free, sags)
