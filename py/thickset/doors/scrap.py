"""The door's answer for a scrap measured while a planer is set up: how far off its scale is, as the planer's record."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from thickset.doors.forms import Form
from thickset.faces.scrap import scrap_words
from thickset.ground import document
from thickset.ground.job import Problem, ProblemsError, Record
from thickset.planning.after import MOST_OFFSET_WORTH, MOST_SPREAD_WORTH, record_document
from thickset.trade.caliper import Belief, unknown_planer, update

Json = dict[str, Any]

MOST_OFF = 6
"""A scale further off [mm] than this is a slip, of the hand or of the unit. Common practice, no source."""


def scrap(asked: Json) -> Json:
    """The planer's record with a scrap in it: what the scale was set to, and what the scrap measured.

    >>> made = scrap({"units": "mm", "scrap": {"scale": "20", "measured": "20,2"}})
    >>> made["record"]["offset"], made["record"]["offset_worth"], made["record"]["runs"]
    (0.196923, 1.015625, 1)
    """
    form = Form(asked, "scrap")
    scale, measured = form.length("scale", "Scale set to"), form.length("measured", "Scrap measured")
    form.check()
    off = measured - scale
    if abs(off) > MOST_OFF:
        raise ProblemsError(
            [
                Problem(
                    "scrap.measured",
                    f"Scrap measured: that is more than {MOST_OFF} mm off the scale. Check both, and their units.",
                )
            ]
        )
    before = _before(asked)
    now = unknown_planer()
    if before:
        now = Belief(*map(float, (before.offset, before.offset_worth, before.spread, before.spread_worth)))
    after = update(now, [float(off)])
    told = {
        "offset": round(after.offset, 6),
        "offset_worth": round(min(after.offset_readings, MOST_OFFSET_WORTH), 6),
        "spread": round(max(after.spread, 0.001), 6),
        "spread_worth": round(min(after.spread_readings, MOST_SPREAD_WORTH), 6),
        "runs": (before.runs if before else 0) + 1,
        "fed": float(before.fed if before else Fraction(0)),
    }
    if before:
        told |= {key: value for key, value in record_document(before).items() if key not in told}
    return {"ok": True, "record": told, "html": {"scrap": str(scrap_words(off, form.units))}}


def _before(asked: Json) -> Record | None:
    """The record that the planer has, read as a part of any job."""
    board = {"name": "A", "readings": ["20 mm"], "width": "100 mm", "length": "1000 mm"}
    planer = {"record": asked["record"]} if asked.get("record") is not None else {}
    whole = {"thickset": 1, "target": {"thickness": "19 mm"}, "boards": [board], "planer": planer}
    outcome = document.read(whole)
    if outcome.job is None:
        raise ProblemsError(outcome.problems)
    return outcome.job.planer.record


ANSWERS: dict[str, Callable[[Json], Json]] = {"scrap": scrap}
