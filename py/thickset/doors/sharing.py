"""The door's answers for handing a job over: the plan link, its code, and tables."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, cast

from thickset.faces.paper.code import CodeError, code
from thickset.faces.plan import tables as faces
from thickset.faces.run.results import results
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.ground.job import document, tables
from thickset.ground.job.job import Problem, ProblemsError, problem_documents
from thickset.ground.link.link import LinkError, from_link, to_link
from thickset.ground.notation.lengths import Units
from thickset.planning.passes.document import to_document
from thickset.planning.passes.planner import make_plan

Json = dict[str, Any]

LONGEST_ADDRESS = 300


def link(asked: Json) -> Json:
    """The plan link of a job, with its run unless that is declined; and the whole address, where a `page` is told.

    >>> link({"job": {"thickset": 1}})["link"][:7]
    '#plan=2'
    """
    try:
        made = to_link(asked.get("job"), asked.get("run", True) is not False)
    except LinkError as error:
        raise ProblemsError([Problem("job", str(error))]) from error
    address = {"address": f"{_page(asked)}{made}"} if asked.get("page") else {}
    return {"ok": True, "link": made, "characters": len(made), **address}


def opened(asked: Json) -> Json:
    """The job of a plan link.

    >>> opened({"link": to_link({"thickset": 1})})["job"]
    {'thickset': 1}
    """
    given = asked.get("link")
    try:
        return {"ok": True, "job": from_link(given if isinstance(given, str) else "")}
    except LinkError as error:
        raise ProblemsError([Problem("link", str(error))]) from error


def coded(asked: Json) -> Json:
    """The code of a job: its link behind the address of the page [`page`], as a picture.

    >>> coded({"job": {"thickset": 1}, "page": "https://example.org/"})["html"]["code"][:20]
    '<svg viewBox="0 0 37'
    """
    made = link(asked)
    address = f"{_page(asked)}{made['link']}"
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
    page = _page(asked)
    try:
        return code(f"{page}{link({'job': asked['job'], 'run': False})['link']}", "Code that opens this job on a phone")
    except (CodeError, ProblemsError):
        return el("p", "Too large for a code that scans well: hand it over as a link or a file.")


def _page(asked: Json) -> str:
    page = asked.get("page")
    sound = isinstance(page, str) and len(page) <= LONGEST_ADDRESS and page.isascii() and page.isprintable()
    if not isinstance(page, str) or not sound or not page.startswith(("https://", "http://")):
        raise ProblemsError(
            [Problem("page", "The address of the page is wanted here, like https://example.org/thickset/.")]
        )
    return page.partition("#")[0]


def table(asked: Json) -> Json:
    """Boards out of a table [`text`], read in `units`, and how each column was understood; `roles` overrules that.

    >>> table({"text": "A,1 1/16,1\\nB,31/32,1", "units": "in"})["boards"][0]
    {'name': 'A', 'readings': ['1 1/16', '1'], 'width': '', 'length': ''}
    """
    text, roles = asked.get("text"), asked.get("roles")
    units: Units = "mm" if asked.get("units") == "mm" else "in"
    chosen = [str(role) for role in roles] if isinstance(roles, list) else []
    try:
        found = tables.read(text if isinstance(text, str) else "", units, chosen)
    except tables.TableError as error:
        raise ProblemsError([Problem("text", str(error))]) from error
    boards = found.boards(units)
    result = document.read({"thickset": 1, "units": units, "target": {"thickness": "20 mm"}, "boards": boards})
    columns = [{"heading": each.heading, "role": each.role, "unit": each.unit} for each in found.columns]
    html = {"table": str(faces.preview(found, boards, result.problems, units))}
    return {
        "ok": True,
        "boards": boards,
        "columns": columns,
        "problems": problem_documents(result.problems),
        "html": html,
    }


def as_csv(asked: Json) -> Json:
    """The plan's passes as CSV, or with `what` "boards" its boards, "results" what came out; with `comma` for spreadsheets that write 27,8.

    >>> from thickset.doors.demo import DEMO_MM
    >>> as_csv({"job": DEMO_MM, "comma": True})["text"][:18]
    'Pass;Stage;Setting'
    """
    result = document.read(asked.get("job"))
    if result.job is None:
        raise ProblemsError(result.problems)
    plan = make_plan(result.job)
    comma, what = asked.get("comma") is True, asked.get("what")
    if what == "boards":
        rows = faces.boards(to_document(plan), cast("Json", asked["job"]), comma)
    else:
        rows = results(plan) if what == "results" else faces.passes(to_document(plan), comma)
    if not rows:
        text = "No board was measured after its last pass: measure each at both ends and the middle, and enter it."
        raise ProblemsError([Problem("run", text)])
    return {"ok": True, "text": tables.write(rows, comma)}


ANSWERS: dict[str, Callable[[Json], Json]] = {
    "link": link,
    "open": opened,
    "code": coded,
    "table": table,
    "csv": as_csv,
}
