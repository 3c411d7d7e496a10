"""Answers for paper: the sheet, the tags of the boards, the code that opens the job on another phone."""

from __future__ import annotations

from thickset.doors.link import link, page_of
from thickset.doors.request import Answers, Json, job_of, planned
from thickset.faces.paper import paper
from thickset.faces.paper.code import CodeError, code
from thickset.faces.paper.sheet import sheet
from thickset.faces.paper.tags import board_tags
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.ground.job.job import Problem, ProblemsError


def _sheet(asked: Json) -> Json:
    plan = planned(asked)
    return _on_paper(asked, plan.job.title or "The plan", "sheet", sheet(plan, code_for_paper(asked)))


def _tags(asked: Json) -> Json:
    job = job_of(asked)
    return _on_paper(asked, f"{job.title} tags".strip(), "tags", board_tags(job))


def _on_paper(asked: Json, title: str, place: str, made: Markup) -> Json:
    """A part for a page that has the style for paper already or, when the whole is wanted, a document of its own."""
    if asked.get("whole") is True:
        return {"ok": True, "document": paper.document(title, made)}
    return {"ok": True, "html": {place: str(made)}}


def coded(asked: Json) -> Json:
    """The code of a job: its link behind the address of the page [`page`], as a picture.

    >>> coded({"job": {"thickset": 1}, "page": "https://example.org/"})["html"]["code"][:20]
    '<svg viewBox="0 0 37'
    """
    made = link(asked)
    address = f"{page_of(asked)}{made['link']}"
    try:
        drawn = code(address, "Code that opens this job on another phone")
    except CodeError as error:
        raise ProblemsError([Problem("job", str(error))]) from error
    return {"ok": True, "html": {"code": str(drawn)}, "address": address, "characters": len(address)}


def code_for_paper(asked: Json) -> Markup:
    """The code of a job for paper, without its run; a word in its place when it would not scan well, nothing where no page is told.

    >>> code_for_paper({"job": {"thickset": 1}})
    ''
    """
    if not asked.get("page"):
        return EMPTY
    page = page_of(asked)
    try:
        return code(f"{page}{link({'job': asked['job'], 'run': False})['link']}", "Code that opens this job on a phone")
    except (CodeError, ProblemsError):
        return el("p", "Too large for a code that scans well: hand it over as a link or a file.")


ANSWERS: Answers = {
    "sheet": _sheet,
    "tags": _tags,
    "code": coded,
}
