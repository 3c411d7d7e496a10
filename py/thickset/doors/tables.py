"""Answers with tables: boards out of a table, and the plan, its boards and its results as CSV."""

from __future__ import annotations

from typing import cast

from thickset.doors.request import Answers, Json, job_of
from thickset.faces.plan import tables as faces
from thickset.faces.run.results import results
from thickset.ground.job import document, tables
from thickset.ground.job.job import Problem, ProblemsError, problem_documents
from thickset.ground.notation.lengths import Units
from thickset.planning.passes.document import to_document
from thickset.planning.passes.planner import make_plan


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
    plan = make_plan(job_of(asked))
    comma, what = asked.get("comma") is True, asked.get("what")
    if what == "boards":
        rows = faces.boards(to_document(plan), cast("Json", asked["job"]), comma)
    else:
        rows = results(plan) if what == "results" else faces.passes(to_document(plan), plan.job.units, comma)
    if not rows:
        text = "No board was measured after its last pass. Measure each at both ends and the middle, and enter it."
        raise ProblemsError([Problem("run", text)])
    return {"ok": True, "text": tables.write(rows, comma)}


ANSWERS: Answers = {
    "table": table,
    "csv": as_csv,
}
