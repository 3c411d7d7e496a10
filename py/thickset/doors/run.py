"""Answers about the run of a job and what is learned of the planer: by its measurements, and by a scrap while it is set up."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from thickset.doors.forms import Form
from thickset.doors.request import Answers, Json, job_of, planned
from thickset.faces.run.report import report
from thickset.faces.run.run import run
from thickset.faces.run.scrap import scrap_words
from thickset.faces.run.text import run_text
from thickset.ground.job import document
from thickset.ground.job.job import Problem, ProblemsError, Record
from thickset.ground.notation.lengths import Units, near
from thickset.planning.passes.rules import PRACTICE, Rule
from thickset.planning.passes.scale import belief_of
from thickset.planning.run import document as run_document
from thickset.planning.run.follow import follow
from thickset.planning.run.plausible import doubts
from thickset.planning.run.record import Taught, added, record_document
from thickset.planning.run.report import learned, settings_of
from thickset.planning.why.passes import ruled
from thickset.planning.why.reason import Reason, length
from thickset.planning.why.record import belief_reasons

MOST_OFF = 6
"""A scale further off [mm] than this is a slip, of the hand or of the unit. Common practice, no source."""

OFF = Rule(
    "A scrap that was planed on both faces is as thick as the planer opened: what it measures over the scale is what the scale is off by.",
    PRACTICE,
    "common practice",
    "One scrap at one mark. Settings stray, so two or three at other marks say more.",
)


def _next(asked: Json) -> Json:
    return {"ok": True, "text": run_text(follow(job_of(asked)))}


def _follow(asked: Json) -> Json:
    state = follow(job_of(asked))
    return {"ok": True, "run": run_document.to_document(state), "html": {"run": str(run(state))}}


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
    """What to ask about a measurement before it is taken; nothing of a text among those that were `meant`: asked about, and entered again."""
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
    answers = asked.get("meant")
    meant = {_without_spaces(one) for one in answers if isinstance(one, str)} if isinstance(answers, list) else set()
    return [doubt for doubt in doubts(state, read.run[-1]) if _without_spaces(typed[doubt.at]) not in meant]


def _without_spaces(text: object) -> str:
    return "".join(str(text).split())


def _learn(asked: Json) -> Json:
    """The planer's record with this run's readings in it, for the next job to start from; `record`: what is known by now."""
    job, before = planned(asked).job, asked.get("record")
    if isinstance(before, dict) and isinstance(asked.get("job"), dict):
        planer = asked["job"].get("planer")
        given = {**(planer if isinstance(planer, dict) else {}), "record": before}
        job = planned({**asked, "job": {**asked["job"], "planer": given}}).job
    record = learned(job)
    if record is None:
        raise ProblemsError(
            [Problem("run", "This run taught nothing yet. It is not through, and nothing was measured or timed in it.")]
        )
    return {"ok": True, "record": record_document(record), "settings": settings_of(record, job.units)}


def _report(asked: Json) -> Json:
    """The report of a run, for paper."""
    return {"ok": True, "html": {"report": str(report(planned(asked)))}}


def scrap(asked: Json) -> Json:
    """The planer's record with a scrap in it: what the scale was set to, and what the scrap measured.

    >>> made = scrap({"units": "mm", "scrap": {"scale": "20", "measured": "20,2"}})
    >>> made["record"]["offset"], made["record"]["offset_worth"], made["record"]["runs"]
    (0.196923, 1.015625, 1)
    """
    off, units = _off(asked)
    before = _before(asked)
    told = record_document(added(before, Taught((float(off),), checked=False)))
    entry = {"kind": "scrap", "offs": [float(off)]}
    return {"ok": True, "record": told, "entry": entry, "html": {"scrap": str(scrap_words(off, units))}}


def scrap_reasons(asked: Json) -> tuple[list[Reason], Units]:
    """Why a scrap says what it says of the scale, and what the planer's record becomes with it.

    >>> asked = {"units": "mm", "scrap": {"scale": "20", "measured": "20,2"}}
    >>> [one.at for one in scrap_reasons(asked)[0]]
    ['scrap.off', 'scrap.offset', 'scrap.spread']
    """
    off, units = _off(asked)
    told = scrap(asked)["record"]
    given = Form(asked, "scrap").values
    put_in = (length("c", "scale set to", given["scale"]), length("m", "scrap measured", given["measured"]))
    title = "What the planer opened more than its scale reads"
    first = ruled("scrap.off", title, length("d", "over the scale", off), OFF, put_in, (("d", "m − c"),))
    now = Fraction(str(told["offset"])), Fraction(str(told["spread"]))
    return [first, *belief_reasons("scrap", belief_of(_before(asked)), [off], now)], units


def _off(asked: Json) -> tuple[Fraction, Units]:
    """How much more the planer opened than its scale read [mm]."""
    form = Form(asked, "scrap")
    form.check()
    off: Fraction = form.values["measured"] - form.values["scale"]
    if abs(off) > MOST_OFF:
        most = near(Fraction(MOST_OFF), form.units, 2)
        form.problem("measured", f"that is more than {most} off the scale. Check both, and their units.")
    form.check()
    return off, form.units


def _before(asked: Json) -> Record | None:
    """The record that the planer has, read as a part of any job."""
    board = {"name": "A", "readings": ["20 mm"], "width": "100 mm", "length": "1000 mm"}
    planer = {"record": asked["record"]} if asked.get("record") is not None else {}
    whole = {"thickset": 1, "target": {"thickness": "19 mm"}, "boards": [board], "planer": planer}
    result = document.read(whole)
    if result.job is None:
        raise ProblemsError(result.problems)
    return result.job.planer.record


ANSWERS: Answers = {
    "follow": _follow,
    "next": _next,
    "event": _event,
    "learn": _learn,
    "report": _report,
    "scrap": scrap,
}
