"""Answers about the plan: the plan itself, its pages, text and rehearsal, what stands beside it, its minutes, two lots of one."""

from __future__ import annotations

from typing import Any

from thickset.doors.request import Answers, Json, plan_of, planned
from thickset.faces.plan.minutes import minutes
from thickset.faces.plan.page import MECHANICS, fragments
from thickset.faces.plan.problems import problems as problem_list
from thickset.faces.plan.rehearse import frames
from thickset.faces.plan.splitting import names, splitting
from thickset.faces.plan.support import butting, support
from thickset.faces.plan.text import text
from thickset.faces.run.report import after
from thickset.faces.stock.cutting import cutting
from thickset.ground.job import document
from thickset.ground.job.job import Problem, ProblemsError, problem_documents
from thickset.ground.job.pile import upside_down
from thickset.planning.passes.document import to_document
from thickset.planning.passes.habits import all_at_every_setting, board_by_board, shares_of
from thickset.planning.passes.model import Plan
from thickset.planning.passes.split import best_split
from thickset.planning.stock.parts import cutting_plan


def _plan(asked: Json) -> Json:
    return {"ok": True, "plan": to_document(planned(asked))}


def _show(asked: Json) -> Json:
    result = document.read(asked.get("job"))
    doubted = _doubted_pile(asked)
    try:
        plan = plan_of(result)
        if doubted:
            raise ProblemsError([])
    except ProblemsError as refused:
        problems = [*refused.problems, *doubted]
        html = {"problems": str(problem_list(problems))}
        return {"ok": False, "problems": problem_documents(problems), "understood": result.understood, "html": html}
    return {"ok": True, "plan": to_document(plan), "understood": result.understood, "html": fragments(plan)}


def _doubted_pile(asked: Json) -> list[Problem]:
    """What the page asks beside the job: the pile's two spots as entered; a run goes by its readings whatever they are."""
    job = asked.get("job")
    if not isinstance(job, dict) or job.get("run"):
        return []
    return upside_down(asked.get("pile"), "mm" if job.get("units") == "mm" else "in")


def _mechanics(asked: Json) -> Json:
    return {"ok": True, "html": fragments(planned(asked), MECHANICS)}


def _rehearse(asked: Json) -> Json:
    return {"ok": True, "frames": frames(planned(asked))}


def _text(asked: Json) -> Json:
    return {"ok": True, "text": text(planned(asked))}


def _questions(asked: Json) -> Json:
    """All that the page shows of a job beside its plan."""
    plan = planned(asked)
    made = {
        "time": minutes(plan),
        "split": splitting(plan, best_split(plan)),
        "leave": cutting(plan),
        "support": support(plan),
        "butting": butting(plan),
        "after": after(plan),
    }
    return {"ok": True, "html": {key: str(html) for key, html in made.items() if html}}


def _time(asked: Json) -> Json:
    plan = planned(asked)
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
    plan = planned(asked)
    split = best_split(plan)
    if split is None:
        raise ProblemsError([Problem("boards", "No split by thickness, width, wood or load saves minutes or a board.")])
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


ANSWERS: Answers = {
    "plan": _plan,
    "show": _show,
    "mechanics": _mechanics,
    "rehearse": _rehearse,
    "text": _text,
    "more": _questions,
    "time": _time,
    "split": _split,
}
