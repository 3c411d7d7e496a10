"""What came out of a run, as a table for a spreadsheet."""

from __future__ import annotations

from fractions import Fraction

from thickset.ground.job.tables import as_words
from thickset.ground.notation.lengths import INCH
from thickset.planning.passes.model import Plan
from thickset.planning.run.report import Final, finals_of, taken_out
from thickset.planning.run.snipe import lost_ends

Row = list[str | float | Fraction]


def results(plan: Plan) -> list[Row]:
    """Boards with what they measured after their last pass, how far off the worst spot is, what to cut off; none if nothing was measured.

    >>> from thickset.faces.words.example import lot
    >>> results(lot("7/8"))
    []
    """
    job = plan.job
    finals = {one.board: one for one in finals_of(job).finals}
    if not finals:
        return []
    unit = INCH if job.units == "in" else Fraction(1)
    gone = taken_out(job)
    most = max(len(one.readings) for one in finals.values())
    named = [f"Measured {n + 1}" for n in range(most)] + ["Worst spot off", "Cut off end 1", "Cut off end 2"]
    rows: list[Row] = [["Board", "Count", *(f"{name} ({job.units})" for name in named), "Within tolerance"]]
    for n, (board, lost) in enumerate(zip(job.boards, lost_ends(plan, job.cutting.ends), strict=True)):
        one = finals.get(n)
        measured: Row = [value / unit for value in one.readings] if one else []
        row: Row = [as_words(board.name), board.count, *measured, *[""] * (most - len(measured))]
        row += [one.off / unit if one else ""]
        row += ["", ""] if n in gone else [lost.end_1 / unit, lost.end_2 / unit]
        rows.append([*row, _within(one) if one else "not measured"])
    return rows


def _within(one: Final) -> str:
    if one.good:
        return "yes" if one.sure else "the gauge cannot tell"
    return "no"
