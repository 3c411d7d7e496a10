"""Answers beside the plan: before the first cut and after the last."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from thickset.doors import stock
from thickset.faces.plan.minutes import minutes
from thickset.faces.plan.splitting import names, splitting
from thickset.faces.plan.support import butting, support
from thickset.faces.run.report import after, report
from thickset.faces.stock.cutting import cutting
from thickset.ground.job import document
from thickset.ground.job.job import Problem, ProblemsError
from thickset.ground.notation.lengths import has_unit
from thickset.planning.passes.habits import all_at_every_setting, board_by_board, shares_of
from thickset.planning.passes.model import Plan
from thickset.planning.passes.planner import make_plan
from thickset.planning.passes.split import best_split
from thickset.planning.run.follow import follow
from thickset.planning.run.plausible import doubts
from thickset.planning.run.report import learned, record_document, settings_of
from thickset.planning.run.snipe import ENDS
from thickset.planning.stock.leaving import rough_lengths
from thickset.planning.stock.parts import cutting_plan

Json = dict[str, Any]


def _planned(asked: Json) -> Plan:
    result = document.read(asked.get("job"))
    if result.job is None:
        raise ProblemsError(result.problems)
    return make_plan(result.job)


def _time(asked: Json) -> Json:
    plan = _planned(asked)
    mine = shares_of(plan)
    told: Json = {"plan": _shares(len(plan.passes), mine)}
    for name, habit in (("all_at_every_setting", all_at_every_setting), ("board_by_board", board_by_board)):
        one = habit(plan.job)
        told[name] = _shares(one.settings, one.shares) if one else None
    return {"ok": True, "time": told, "html": {"time": str(minutes(plan))}}


def _shares(settings: int, shares: Any) -> Json:
    return {"settings": settings, "minutes": float(shares.total), **{k: float(v) for k, v in shares._asdict().items()}}


def _split(asked: Json) -> Json:
    """The two jobs, made of the very entries of the one."""
    plan = _planned(asked)
    split = best_split(plan)
    if split is None:
        raise ProblemsError([Problem("boards", "No split into two lots saves minutes or a board.")])
    given = asked["job"]
    title = plan.job.title or "Lot"
    jobs = []
    for name, half, parts in zip(names(plan, split), split.halves, _shared(plan, split.halves[1].boards), strict=True):
        boards = [{"name": plan.job.boards[n].name, **given["boards"][n]} for n in half.boards]
        one = {key: value for key, value in given.items() if key not in ("run", "parts")}
        shared = [
            {"name": part.name, **entry, "count": many}
            for part, entry, many in zip(plan.job.parts, given.get("parts", ()), parts, strict=True)
            if many
        ]
        title_of_half = {"title": f"{title[:36]}, {name}"[:60], "boards": boards}
        jobs.append({**one, **title_of_half, **({"parts": shared} if shared else {})})
    told = {"by": split.by, "saved_minutes": float(split.saved), "gained": split.gained}
    return {"ok": True, "split": told, "jobs": jobs}


def _shared(plan: Plan, second: tuple[int, ...]) -> tuple[list[int], list[int]]:
    """Parts of each kind for the two lots [count]: those cut from the boards [index] of the second, and all others."""
    cut = [0] * len(plan.job.parts)
    for sawn in cutting_plan(plan).sawn if cut else ():
        for placed in sawn.parts if sawn.board in second else ():
            cut[placed.part] += sawn.count
    return [part.count - many for part, many in zip(plan.job.parts, cut, strict=True)], cut


def _parts(asked: Json) -> Json:
    """Rough lengths and the cutting plan of the job's parts."""
    plan = _planned(asked)
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
    return {"ok": True, "parts": told, "html": {"leave": str(cutting(plan))}}


def _learn(asked: Json) -> Json:
    """The planer's record with this run's readings in it, for the next job to start from; `record`: what is known by now."""
    job, before = _planned(asked).job, asked.get("record")
    if isinstance(before, dict) and isinstance(asked.get("job"), dict):
        planer = asked["job"].get("planer")
        given = {**(planer if isinstance(planer, dict) else {}), "record": before}
        job = _planned({**asked, "job": {**asked["job"], "planer": given}}).job
    record = learned(job)
    if record is None:
        raise ProblemsError(
            [Problem("run", "This run taught nothing yet: it is not through, and nothing was measured or timed in it.")]
        )
    return {"ok": True, "record": record_document(record), "settings": settings_of(record, job.units)}


def _event(asked: Json) -> Json:
    """Whether something that was measured at the machine can be read and, of a `job`, believed, before it becomes part of its run."""
    names = asked.get("boards")
    known = {name for name in names if isinstance(name, str)} if isinstance(names, list) else set()
    problems = document.event_problems(asked.get("event"), "mm" if asked.get("units") == "mm" else "in", known)
    problems = problems or _doubts(asked)
    if problems:
        raise ProblemsError(problems)
    return {"ok": True}


def _doubts(asked: Json) -> list[Problem]:
    """What to ask about a measurement before it is taken; nothing where its unit is written, which says that it is meant."""
    job, event = asked.get("job"), asked["event"]
    run = job.get("run") or [] if isinstance(job, dict) else None
    if not isinstance(job, dict) or not isinstance(run, list):
        return []
    read = document.read({**job, "run": [*run, event]}).job
    if read is None:
        return []
    try:
        state = follow(replace(read, run=read.run[:-1]))
    except ProblemsError:
        return []
    typed = {f"event.readings[{n}]": text for n, text in enumerate(event.get("readings", ()))}
    typed["event.thickness"] = event.get("thickness")
    return [doubt for doubt in doubts(state, read.run[-1]) if not has_unit(str(typed[doubt.at]))]


def _report(asked: Json) -> Json:
    """The report of a run, for paper."""
    return {"ok": True, "html": {"report": str(report(_planned(asked)))}}


def _more(asked: Json) -> Json:
    """All that the page shows of a job beside its plan."""
    plan = _planned(asked)
    made = {
        "time": minutes(plan),
        "split": splitting(plan, best_split(plan)),
        "leave": cutting(plan),
        "support": support(plan),
        "butting": butting(plan),
        "after": after(plan),
    }
    return {"ok": True, "html": {key: str(html) for key, html in made.items() if html}}


ANSWERS: dict[str, Callable[[Json], Json]] = {
    "more": _more,
    "time": _time,
    "split": _split,
    "parts": _parts,
    "learn": _learn,
    "event": _event,
    "report": _report,
    **stock.ANSWERS,
}
