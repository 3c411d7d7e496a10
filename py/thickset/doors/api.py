"""The one door: JSON in, JSON out, and it never raises."""

from __future__ import annotations

import json

import thickset
from thickset.doors import link, paper, plan, planer, run, stock, tables, why
from thickset.doors.request import Answers, Json, read
from thickset.ground.job.job import Problem, ProblemsError, problem_documents
from thickset.ground.notation.lengths import shown

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


ANSWERS: Answers = {
    "about": _about,
    **plan.ANSWERS,
    **run.ANSWERS,
    **why.ANSWERS,
    **stock.ANSWERS,
    **paper.ANSWERS,
    **link.ANSWERS,
    **tables.ANSWERS,
    **planer.ANSWERS,
}
"""Every answer by what is asked."""
