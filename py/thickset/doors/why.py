"""The answer to why: the reasons for a number of the plan, or of a small form."""

from __future__ import annotations

from thickset.doors import planer, run, stock
from thickset.doors.request import Answers, Json, planned
from thickset.faces.why.answer import why
from thickset.faces.why.words import document, text
from thickset.faces.words.markup import el, join
from thickset.ground.job.job import Problem, ProblemsError
from thickset.ground.notation.lengths import Units, shown
from thickset.planning.why.ask import bounded
from thickset.planning.why.reason import Reason


def _why(asked: Json) -> Json:
    if "form" in asked:
        others = {"scrap": run.scrap_reasons, "book": planer.book_reasons}
        return _reasoned(*others.get(str(asked["form"]), stock.form_reasons)(asked))
    plan = planned(asked)
    what = asked.get("what", "")
    found, left_out = bounded(plan, what) if isinstance(what, str) else ([], 0)
    if not found:
        said = f"The plan has no number at {shown(str(what))}. Ask like passes[0].setting_mm, or leave it out for all."
        raise ProblemsError([Problem("what", said)])
    return _reasoned(found, plan.job.units, left_out)


def _reasoned(found: list[Reason], units: Units, left_out: int = 0) -> Json:
    """The reasons; where not all were found, how many numbers are left out and how to ask for them."""
    said = f"{left_out:,} further numbers are left out. Ask for those of one pass, like passes[30]."
    told = [document(one, units) for one in found]
    return {
        "ok": True,
        "why": told[0] if len(told) == 1 else told,
        "text": f"{text(found, units)}\n\n{said}" if left_out else text(found, units),
        "html": {"why": str(join([why(found, units), el("p", said)]) if left_out else why(found, units))},
        **({"left_out": left_out} if left_out else {}),
    }


ANSWERS: Answers = {
    "why": _why,
}
