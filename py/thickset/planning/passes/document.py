"""The plan document: a plan as plain JSON values."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from thickset.ground.job.job import Job
from thickset.ground.notation.lengths import near, on_scale
from thickset.planning.passes.model import Fed, Pass, Plan
from thickset.planning.passes.scale import ScaleSetting, scale_settings

VERSION = 1


def to_document(plan: Plan) -> dict[str, Any]:
    """The plan as JSON values: lengths in mm and feeds in mm/s as numbers, settings in words too.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> to_document(make_plan(small_job()))["decides"]
    {'board': 'A', 'reading': 1, 'thick_mm': 24.0}
    """
    job, rest = plan.job, plan.rest
    resting = (
        {"rest": {"after_pass": rest.after, "stop_mm": float(rest.stop), "stop": on_scale(rest.stop, job.units)}}
        if rest
        else {}
    )
    return {
        "thickset_plan": VERSION,
        "passes": [pass_document(job, one, way) for one, way in zip(plan.passes, scale_settings(plan), strict=True)],
        "boards": [
            {
                "board": job.boards[outcome.board].name,
                "count": job.boards[outcome.board].count,
                "outcome": outcome.name,
                "short_mm": _number(outcome.short),
                "taken_mm": {"A": _number(outcome.taken_a), "B": _number(outcome.taken_b)},
            }
            for outcome in plan.outcomes
        ],
        "minutes": float(plan.minutes),
        "decides": {
            "board": job.boards[plan.decides.board].name,
            "reading": plan.decides.reading + 1,
            "thick_mm": float(plan.decides.thickness),
            **_place(plan),
        },
        "targets": [
            {"target_mm": float(row.target), "target": on_scale(row.target, job.units), "both_sides": row.both_faces}
            for row in plan.targets
        ],
        "notes": [
            {"code": note.code, "at": note.at, "text": note.text, **({"cures": list(note.cures)} if note.cures else {})}
            for note in plan.notes
        ],
        **resting,
    }


def _place(plan: Plan) -> dict[str, str]:
    """Where the thick spot lies, if that was said."""
    place = plan.job.boards[plan.decides.board].place(plan.decides.reading)
    return {"place": place.words} if place else {}


def pass_document(job: Job, one: Pass, way: ScaleSetting | None = None) -> dict[str, Any]:
    """One pass as JSON values; `way` is how it is set, and has keys of its own where the scale does not read the setting.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> pass_document(small_job(), make_plan(small_job()).passes[0])["setting"]
    '23 mm'
    """
    return {
        "number": one.number,
        "stage": one.stage,
        "setting_mm": float(one.setting),
        "setting": on_scale(one.setting, job.units),
        **({} if way is None or way.is_bare else _by_scale(way, job)),
        "feed_mm_per_s": float(one.feed * 1000 / 60),
        "marks_per_inch": None if one.marks is None else float(one.marks),
        "checked": one.checked,
        **({"for_scale": True} if one.for_scale else {}),
        "turns": None if one.turns is None else float(one.turns),
        "fed": [fed_document(job, fed) for fed in one.fed],
        "minutes": float(one.minutes),
    }


def _by_scale(way: ScaleSetting, job: Job) -> dict[str, Any]:
    """What the scale reads for a setting, and how far above it a first try is kept."""
    read = {"scale_mm": float(way.scale), "scale": near(way.scale, job.units)}
    return {**read, "aim_mm": float(way.aim)} if way.aim else read


def fed_document(job: Job, fed: Fed) -> dict[str, Any]:
    """One board's way through a pass as JSON values.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> fed_document(small_job(), make_plan(small_job()).passes[0].fed[0])
    {'board': 'A', 'up': 'B', 'leads': 1, 'cut_mm': 1.0, 'load': None, 'clean': True}
    """
    return {
        "board": job.boards[fed.board].name,
        "up": fed.placement.up,
        "leads": fed.placement.leads,
        "cut_mm": float(fed.cut),
        "load": None if fed.load is None else float(fed.load),
        "clean": fed.clean,
    }


def _number(length: Fraction) -> float:
    """A length as a number, and a plain 0 for none."""
    return float(length) if length else 0
