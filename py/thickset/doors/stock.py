"""Answers about the wood: woods by their names, will this board make it, what to buy, how long to cut, how to cut it up."""

from __future__ import annotations

from fractions import Fraction

from thickset.doors.forms import Form
from thickset.doors.request import Answers, Json, planned
from thickset.faces.stock.buying import buying, slab_words
from thickset.faces.stock.cutting import cutting
from thickset.faces.stock.woods import rank_words, wood_choices
from thickset.faces.words import words
from thickset.ground.job.form_fields import FORMS, spot_key
from thickset.ground.job.job import Problem, ProblemsError
from thickset.ground.notation.lengths import Units
from thickset.ground.notation.places import ACROSS, ALONG, Place
from thickset.ground.woods.species import search
from thickset.planning.run.snipe import ENDS
from thickset.planning.stock.buying import Amount, Need, amount, fitting
from thickset.planning.stock.leaving import rough_lengths
from thickset.planning.stock.parts import cutting_plan
from thickset.planning.stock.slab import RoughBoard, Slab, best_slab, whole_slab
from thickset.planning.why.buying import buying_reasons, slab_reasons
from thickset.planning.why.reason import Reason
from thickset.trade.limits import OutOfRangeError
from thickset.trade.sizes import Purchase

LONGEST_SEARCH = 60
ROWS = tuple(tuple(spot_key(Place(along, across)) for across in ACROSS) for along in ALONG)
"""The thicknesses of a rough board: from end 1 to end 2, each row from the left edge to the right."""


def _species(asked: Json) -> Json:
    text = asked.get("text", "")
    if not isinstance(text, str) or len(text) > LONGEST_SEARCH:
        raise ProblemsError([Problem("text", "Write part of a wood's name, like hard map.")])
    found = search(text)
    told = [
        {
            "name": wood.name,
            "also_called": list(wood.also_called),
            "gravity": float(wood.gravity_12),
            "planes": rank_words(wood),
        }
        for wood in found
    ]
    return {"ok": True, "species": told, "html": {"species": str(wood_choices(found))}}


def _parts(asked: Json) -> Json:
    """Rough lengths and the cutting plan of the job's parts."""
    plan = planned(asked)
    job = plan.job
    if not job.parts:
        raise ProblemsError([Problem("parts", "Parts: none is entered. Enter at least one with its finished length.")])
    made = cutting_plan(plan)
    rough = {
        ends: [{"part": one.part.name, "in_one": one.parts_in_one, "length_mm": float(one.length)} for one in lengths]
        for ends, lengths in ((ends, rough_lengths(job, ends)) for ends in ENDS)
    }
    sawn = [
        {
            "board": job.boards[one.board].name,
            "count": one.count,
            "parts": [
                {"part": job.parts[p.part].name, "from_mm": float(p.start), "to_mm": float(p.end)} for p in one.parts
            ],
        }
        for one in made.sawn
    ]
    told = {"rough": rough, "boards": sawn, "missing": made.missing, "waste": float(made.waste), "proved": made.proved}
    return {"ok": True, "parts": told, "html": {"leave": str(cutting(plan, made))}}


def _slab(asked: Json) -> Json:
    """The flat slab inside a rough board, whole and over the part."""
    whole, best, wanted, units = _slabs(asked)
    told = {
        "whole_mm": whole.thickness,
        "part_mm": best.thickness,
        "from_end_1_mm": best.from_end_1,
        "from_edge_mm": best.from_edge,
        "makes_it": best.thickness >= float(wanted),
    }
    return {"ok": True, "slab": told, "html": {"slab": str(slab_words(whole, best, wanted, units))}}


def _slabs(asked: Json) -> tuple[Slab, Slab, Fraction, Units]:
    form = Form(asked, "slab")
    if not any(form.given.get(spot) for row in ROWS for spot in row):
        form.missing("middle")
    form.check()
    given = form.values
    length, width, wanted = given["length"], given["width"], given["part_thickness"]
    part = (given["part_length"] or length, given["part_width"] or width)
    _sized(form, length, width, part)
    form.check()
    bent = (float(given[key]) for key in ("cup", "bow", "twist"))
    try:
        board = RoughBoard(float(length), float(width), _rows(given), *bent)
        return whole_slab(board), best_slab(board, float(part[0]), float(part[1])), wanted, form.units
    except OutOfRangeError as error:
        raise form.refused(error, {"thicknesses": "middle"}) from error


def _sized(form: Form, length: Fraction, width: Fraction, part: tuple[Fraction, Fraction]) -> None:
    """A problem at the part's field, in the form's units, where the part is larger than its board."""
    for name, size, whole in (("length", part[0], length), ("width", part[1], width)):
        if size > whole:
            said = words.length(whole, form.units)
            text = f"the board is {said}. Enter no more than that, or leave it empty for all of it."
            form.problem(f"part_{name}", text)
    shape = {
        "cup": (width / 2, "half the width"),
        "bow": (length / 2, "half the length"),
        "twist": (width, "the width"),
    }
    for name, (most, what) in shape.items():
        if abs(form.values[name]) > most:
            text = f"more than {what} of the board, {words.length(most, form.units)}. Check the number and its unit."
            form.problem(name, text)


def _rows(given: Json) -> tuple[tuple[float, ...], ...]:
    """Thicknesses from end 1 to end 2, evenly spaced, each from the left edge to the right, or in the center alone.

    An end that was not measured is taken to be as the middle, an edge as the center of its row.
    """
    lines = [_line([given[key] for key in row]) for row in ROWS]
    measured = [line for line in lines if line]
    if lines[1] and len(measured) == 2:
        measured = [line or lines[1] for line in lines]
    sides = any(given[left] or given[right] for left, _, right in ROWS)
    return tuple(tuple(line) if sides else (line[1],) for line in measured)


def _line(row: list[Fraction | None]) -> list[float]:
    """Thickness at the left edge, in the center, at the right edge; empty where nothing was measured."""
    found = [float(one) for one in row if one is not None]
    if not found:
        return []
    center = sum(found) / len(found) if row[1] is None else float(row[1])
    return [center if one is None else float(one) for one in row]


def _buy(asked: Json) -> Json:
    """Rough sizes thick enough for a finished thickness, and how much of it to buy."""
    need, sizes, wood = _bought(asked)
    told = [{"size": one.size, "measures_mm": one.measures, "spare_mm": one.spare} for one in sizes]
    return {"ok": True, "buy": told, "html": {"buy": str(buying(need, sizes, wood))}}


def _bought(asked: Json) -> tuple[Need, list[Purchase], Amount | None]:
    form = Form(asked, "buy")
    form.check()
    given = form.values
    need = Need(form.units, many=Fraction(given.pop("count")), **given)
    try:
        sizes = fitting(need)
        return need, sizes, amount(need, sizes[0]) if sizes else None
    except OutOfRangeError as error:
        raise form.refused(error, {"many": "count"}) from error


def form_reasons(asked: Json) -> tuple[list[Reason], Units]:
    """Why a form's answer is what it is; which form stands under `form`, and its entries as for its own question.

    >>> asked = {"form": "buy", "units": "mm", "need": {"thickness": "20"}}
    >>> [one.at for one in form_reasons(asked)[0]]
    ['buy.spare', 'buy.measures']
    """
    if asked.get("form") == "slab":
        whole, best, wanted, units = _slabs(asked)
        return list(slab_reasons(whole, best, wanted, units)), units
    if asked.get("form") != "buy":
        raise ProblemsError([Problem("form", f"Ask about one of: {', '.join(FORMS)}; or leave it out and give a job.")])
    need, sizes, wood = _bought(asked)
    if not sizes:
        text = "Finished thickness: no size that is sold is thick enough, so there is no figure to ask about."
        raise ProblemsError([Problem("need.thickness", text)])
    return list(buying_reasons(need, sizes[0], wood)), need.units


ANSWERS: Answers = {
    "parts": _parts,
    "species": _species,
    "slab": _slab,
    "buy": _buy,
}
