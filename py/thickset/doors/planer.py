"""Answers about the planers that are kept: the book of one, with an entry added or taken back; which of them for a lot."""

from __future__ import annotations

from typing import Any

from thickset.doors.request import Answers, Json, job_of, planned
from thickset.faces.planer.book import book_page, rows
from thickset.faces.planer.which import OnPlaner, side_by_side
from thickset.ground.job import tables
from thickset.ground.job.job import Problem, ProblemsError, problem_documents
from thickset.ground.notation.lengths import Units
from thickset.planning.book.book import book_of
from thickset.planning.book.entry import MOST_ENTRIES, of_run, read, record_of
from thickset.planning.book.run_entry import OfJob, with_run
from thickset.planning.run.record import record_document
from thickset.planning.run.report import settings_of
from thickset.planning.why.book import book_reasons as reasons_of
from thickset.planning.why.reason import Reason

MOST_PLANERS = 20
"""Planers that a lot is planned on at once [count]."""


def book(asked: Json) -> Json:
    """A planer's book made whole, with what was done to it; and the record that it says.

    A `record` beside it that is not what the book says was learned without it: it is carried over, as an entry of its own.
    `run`: a job whose run becomes the entry `of` that job, in place of the one it has; one that `follows` the run only if that was
    through, or was entered before it was; where there is none, in place of one with its figures that is `of` none of the `jobs` there
    are. `add`: an entry; `drop`: the number of one; `change`: {n, word, note} of one; `on`: today, as the page says it;
    `all`: with every entry in its html.

    >>> made = book({"units": "mm", "book": [], "record": None, "on": "2026-11-29", "add": {"kind": "scrap", "offs": [0.2]}})
    >>> made["record"]["offset"], made["book"]
    (0.196923, [{'on': '2026-11-29', 'kind': 'scrap', 'offs': [0.2]}])
    """
    entries = with_record(asked)
    many = len(entries)
    add, drop, change = asked.get("add"), asked.get("drop"), asked.get("change")
    if "run" in asked:
        entries = _with_run(entries, asked)
    if add is not None:
        entries.append(_checked({"on": asked.get("on", ""), **add} if isinstance(add, dict) else add))
    if drop is not None:
        entries.pop(_number(drop, entries))
    if isinstance(change, dict):
        n = _number(change.get("n"), entries)
        entries[n] = _checked({**entries[n], **{key: change[key] for key in ("word", "note") if key in change}})
    if len(entries) > max(MOST_ENTRIES, many):
        raise ProblemsError(
            [Problem("book", f"The book is full: {MOST_ENTRIES:,} entries. Save it as CSV, and take back the oldest.")]
        )
    return told(asked, entries)


def _with_run(entries: list[Any], asked: Json) -> list[Any]:
    of, jobs, follows = asked.get("of"), asked.get("jobs"), asked.get("follows") is True
    try:
        made = of_run(job_of({"job": asked["run"]}))
    except ProblemsError:
        if not follows:
            raise
        made = None
    job = OfJob(of if isinstance(of, str) else "", jobs if isinstance(jobs, list) else (), asked.get("on", ""), follows)
    try:
        return with_run(entries, made, job)
    except ValueError as error:
        raise _unreadable(error) from error


def with_record(asked: Json) -> list[Any]:
    """The entries of a book, with the record that stands beside it.

    >>> with_record({"book": [], "record": {"offset": 0.1, "offset_worth": 4, "spread": 0.05, "spread_worth": 5}, "on": ""})[0]["kind"]
    'carried'
    """
    given = asked.get("book")
    entries = [*given] if isinstance(given, list) else []
    record = record_of(asked.get("record"))
    if "record" in asked and record != book_of(entries).record:
        carried = record_document(record) if record is not None else None
        entries.append({"kind": "carried", "on": asked.get("on", ""), "record": carried})
    return entries


def told(asked: Json, entries: list[Any]) -> Json:
    """What the page gets of a book.

    >>> told({}, [])["record"] is None
    True
    """
    units = _units(asked)
    found, name = book_of(entries), asked.get("name")
    record, called = found.record, name if isinstance(name, str) and name else "this planer"
    return {
        "ok": True,
        "book": entries,
        "record": record_document(record) if record is not None else None,
        "settings": settings_of(record, units) if record is not None else {},
        "html": {"book": str(book_page(found, units, called, whole=asked.get("all") is True))},
    }


def book_reasons(asked: Json) -> tuple[list[Reason], Units]:
    """Why a book says what it says, or of what is asked of it.

    >>> asked = {"units": "mm", "book": [{"kind": "scrap", "offs": [0.2]}]}
    >>> [one.at for one in book_reasons(asked)[0]]
    ['book.scale.offset', 'book.scale.spread']
    """
    what, units = str(asked.get("what", "")), _units(asked)
    found = [one for one in reasons_of(book_of(with_record(asked)), units) if one.at.startswith(what)]
    if not found:
        raise ProblemsError([Problem("what", "The book says too little of that yet.")])
    return found, units


def _units(asked: Json) -> Units:
    return "mm" if asked.get("units") == "mm" else "in"


def _csv(asked: Json) -> Json:
    """A book as CSV."""
    units = _units(asked)
    return {"ok": True, "text": tables.write(rows(book_of(with_record(asked)), units), asked.get("comma") is True)}


def which(asked: Json) -> Json:
    """The lot's plan on each of some planers, side by side; `jobs`: {id, name, job} with the planer in it, `in_hand` where it is the lot's.

    >>> from thickset.doors.demo import DEMO_MM
    >>> which({"jobs": [{"id": "a", "name": "Old green one", "job": DEMO_MM}]})["planers"][0]["passes"]
    6
    """
    given = asked.get("jobs")
    named = [one for one in given if isinstance(one, dict)] if isinstance(given, list) else []
    if not 0 < len(named) <= MOST_PLANERS:
        raise ProblemsError(
            [Problem("jobs", f"One to {MOST_PLANERS} planers are wanted here, each with the lot as its job.")]
        )
    found = [_on(one) for one in named]
    return {
        "ok": True,
        "planers": [
            {
                "id": one.id,
                "passes": len(one.plan.passes) if one.plan else None,
                "minutes": float(one.plan.minutes) if one.plan else None,
                "problems": problem_documents([*one.problems]),
            }
            for one in found
        ],
        "html": {"which": str(side_by_side(found))},
    }


def _on(given: Json) -> OnPlaner:
    one = OnPlaner(str(given.get("id", "")), str(given.get("name", "")), None, in_hand=given.get("in_hand") is True)
    try:
        return one._replace(plan=planned(given))
    except ProblemsError as refused:
        return one._replace(problems=tuple(refused.problems))


def _checked(entry: Any) -> Any:
    try:
        read(entry)
    except ValueError as error:
        raise _unreadable(error) from error
    return entry


def _unreadable(error: ValueError) -> ProblemsError:
    return ProblemsError([Problem("book", f"The entry cannot be read: {error}.")])


def _number(given: object, entries: list[Any]) -> int:
    if isinstance(given, bool) or not isinstance(given, int) or not 0 <= given < len(entries):
        raise ProblemsError([Problem("book", "No entry of this book has that number. Open the book again.")])
    return given


ANSWERS: Answers = {
    "which-planer": which,
    "book": book,
    "book-csv": _csv,
}
