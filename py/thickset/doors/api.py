"""The one door: JSON in, JSON out, and it never raises."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import thickset
from thickset.doors import beside, scrap, stock
from thickset.doors import sharing as handing
from thickset.doors.request import read
from thickset.faces.paper import paper
from thickset.faces.paper.sheet import sheet
from thickset.faces.paper.tags import board_tags
from thickset.faces.plan.page import MECHANICS, fragments
from thickset.faces.plan.problems import problems as problem_list
from thickset.faces.plan.rehearse import frames
from thickset.faces.plan.text import text
from thickset.faces.run.run import run
from thickset.faces.run.text import run_text
from thickset.faces.stock.woods import rank_words, wood_choices
from thickset.faces.why.answer import why
from thickset.faces.why.words import document as why_document
from thickset.faces.why.words import text as why_text
from thickset.faces.words.markup import Markup
from thickset.ground.job import document
from thickset.ground.job.job import Problem, ProblemsError, problem_documents
from thickset.ground.notation.lengths import Units, shown
from thickset.ground.woods.species import search
from thickset.planning.passes.document import to_document
from thickset.planning.passes.limits import beyond_planer
from thickset.planning.passes.model import Plan
from thickset.planning.passes.planner import make_plan
from thickset.planning.run import document as run_document
from thickset.planning.run.follow import follow
from thickset.planning.run.state import State
from thickset.planning.why.ask import reasons
from thickset.planning.why.reason import Reason

Json = dict[str, Any]

LONGEST_SEARCH = 60

FAULT = "Thickset failed here, by a fault of its own"
"""How an answer starts that no request should ever get."""


def handle(request: str) -> str:
    """Answer one request.

    >>> handle('{"ask": "about"}')
    '{"ok": true, "version": "0.1.0"}'
    """
    try:
        answer = json.dumps(_answer(request), ensure_ascii=False, allow_nan=False, default=float)
        return answer.encode("utf-8", "replace").decode("utf-8")  # half a sign, from a broken file, as ?
    except Exception as error:  # whatever happens, the page keeps what was entered
        text = (
            f"{FAULT} ({type(error).__name__}: {shown(str(error))}). Nothing that was entered is lost: save the job, "
            "and change what was entered last."
        )
        return json.dumps(refusal([Problem("request", text)]))


def _answer(request: str) -> Json:
    try:
        asked = read(request)
        ask = asked.get("ask") if isinstance(asked, dict) else None
        answer = ANSWERS.get(ask) if isinstance(ask, str) else None
        if answer is None:
            raise ProblemsError([Problem("ask", f"Ask one of: {', '.join(ANSWERS)}.")])
        return answer(asked)
    except ProblemsError as refused:
        return refusal(refused.problems)


def refusal(problems: list[Problem]) -> Json:
    """The answer that names what is wrong.

    >>> refusal([Problem("boards", "None is entered.")])
    {'ok': False, 'problems': [{'at': 'boards', 'text': 'None is entered.'}]}
    """
    return {"ok": False, "problems": problem_documents(problems)}


def _about(_: Json) -> Json:
    return {"ok": True, "version": thickset.__version__}


def _plan(asked: Json) -> Json:
    return {"ok": True, "plan": to_document(_planned(document.read(asked.get("job"))))}


def _followed(asked: Json) -> State:
    result = document.read(asked.get("job"))
    if result.job is None:
        raise ProblemsError(result.problems)
    return follow(result.job)


def _next(asked: Json) -> Json:
    return {"ok": True, "text": run_text(_followed(asked))}


def _follow(asked: Json) -> Json:
    state = _followed(asked)
    return {"ok": True, "run": run_document.to_document(state), "html": {"run": str(run(state))}}


def _why(asked: Json) -> Json:
    if "form" in asked:
        return _reasoned(*(scrap.scrap_reasons if asked["form"] == "scrap" else stock.form_reasons)(asked))
    plan = _planned(document.read(asked.get("job")))
    what = asked.get("what", "")
    found = reasons(plan, what) if isinstance(what, str) else []
    if not found:
        text = f"The plan has no number at {shown(str(what))}. Ask like passes[0].setting_mm, or leave it out for all."
        raise ProblemsError([Problem("what", text)])
    return _reasoned(found, plan.job.units)


def _reasoned(found: list[Reason], units: Units) -> Json:
    told = [why_document(one, units) for one in found]
    return {
        "ok": True,
        "why": told[0] if len(told) == 1 else told,
        "text": why_text(found, units),
        "html": {"why": str(why(found, units))},
    }


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


def _planned(result: document.Result) -> Plan:
    if result.job is None:
        beyond = beyond_planer(result.sketch) if result.sketch else ()
        raise ProblemsError([*result.problems, *beyond])
    return make_plan(result.job)


def _rehearse(asked: Json) -> Json:
    return {"ok": True, "frames": frames(_planned(document.read(asked.get("job"))))}


def _show(asked: Json) -> Json:
    result = document.read(asked.get("job"))
    try:
        plan = _planned(result)
    except ProblemsError as refused:
        html = {"problems": str(problem_list(refused.problems))}
        return {**refusal(refused.problems), "understood": result.understood, "html": html}
    return {"ok": True, "plan": to_document(plan), "understood": result.understood, "html": fragments(plan)}


def _mechanics(asked: Json) -> Json:
    return {"ok": True, "html": fragments(_planned(document.read(asked.get("job"))), MECHANICS)}


def _text(asked: Json) -> Json:
    return {"ok": True, "text": text(_planned(document.read(asked.get("job"))))}


def _sheet(asked: Json) -> Json:
    plan = _planned(document.read(asked.get("job")))
    return _on_paper(asked, plan.job.title or "The plan", "sheet", sheet(plan, handing.code_for_paper(asked)))


def _tags(asked: Json) -> Json:
    result = document.read(asked.get("job"))
    if result.job is None:
        raise ProblemsError(result.problems)
    return _on_paper(asked, f"{result.job.title} tags".strip(), "tags", board_tags(result.job))


def _on_paper(asked: Json, title: str, place: str, made: Markup) -> Json:
    """A part for a page that has the style for paper already or, when the whole is wanted, a document of its own."""
    if asked.get("whole") is True:
        return {"ok": True, "document": paper.document(title, made)}
    return {"ok": True, "html": {place: str(made)}}


ANSWERS: dict[str, Callable[[Json], Json]] = {
    "about": _about,
    "plan": _plan,
    "show": _show,
    "mechanics": _mechanics,
    "follow": _follow,
    "next": _next,
    "rehearse": _rehearse,
    "text": _text,
    "why": _why,
    "species": _species,
    "sheet": _sheet,
    "tags": _tags,
    **handing.ANSWERS,
    **beside.ANSWERS,
    **scrap.ANSWERS,
}
