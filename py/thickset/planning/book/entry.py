"""An entry of a planer's book as it is kept: plain data, in mm, m, s and min, whatever its age; one that cannot be read stands alone."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Any, Literal, NamedTuple, get_args

from thickset.ground.job import document
from thickset.ground.job.job import Job, Problem, ProblemsError, Record
from thickset.ground.notation.lengths import shown
from thickset.planning.passes.planner import make_plan
from thickset.planning.run.follow import follow
from thickset.planning.run.record import Taught
from thickset.planning.run.report import finals_of, taught_by, was_through

Kind = Literal["carried", "run", "scrap", "changed", "turned"]
"""Carried over from before the book; a run; a scrap; the knives changed; turned to their other edge."""

Word = Literal["", "clean", "fair", "dull"]
"""The person's own word on the surface that the knives left."""

MOST_ENTRIES = 5000
"""Far more than a planer sees in a life of such notes [count]."""

LONGEST_TEXT = 200
LARGEST = 10**9
_DATE = re.compile(r"(\d{4}-\d\d-\d\d)?\Z")


class Entry(NamedTuple):
    """What happened: `on` which day, as the page says it; to which `lot`; `record`: what was carried over.

    Boards planed, measured, out of tolerance, torn, and times the motor bogged [count]; the worst spot off the target [mm];
    minutes planned and taken [min]; boards lost, by why [count].
    """

    kind: Kind
    on: str = ""
    lot: str = ""
    note: str = ""
    word: Word = ""
    record: Record | None = None
    taught: Taught = Taught()
    boards: int = 0
    measured: int = 0
    out: int = 0
    torn: int = 0
    bogs: int = 0
    worst: Fraction | None = None
    planned: Fraction | None = None
    taken: Fraction | None = None
    lost: tuple[tuple[str, int], ...] = ()


def read(given: object) -> Entry:
    """An entry of a book. Raises ValueError, with what is wrong, for one that cannot be read.

    >>> read({"kind": "scrap", "offs": [0.2]}).taught.offs
    (0.2,)
    >>> read({"kind": "walk"})
    Traceback (most recent call last):
    ValueError: kind: 'walk' is none of carried, run, scrap, changed, turned
    """
    if not isinstance(given, dict):
        raise ValueError(f"{shown(str(given))} stands where an entry is wanted")
    kind = _one_of("kind", given.get("kind"), KINDS)
    found = {key: READERS[key](key, value) for key, value in given.items() if value is not None and key in READERS}
    taught = {key: found.pop(key) for key in TAUGHT if key in found}
    record = found.pop("record", None)
    return Entry(
        kind=kind,
        record=record if kind == "carried" else None,
        taught=Taught(**taught, checked=kind != "scrap"),
        **found,
    )


def record_of(given: object) -> Record | None:
    """A record that stands by itself, read as a part of any job. Raises ProblemsError for one that cannot be read.

    >>> record_of(None) is None
    True
    """
    board = {"name": "A", "readings": ["20 mm"], "width": "100 mm", "length": "1000 mm"}
    planer = {"record": given} if given is not None else {}
    result = document.read({"thickset": 1, "target": {"thickness": "19 mm"}, "boards": [board], "planer": planer})
    if result.job is None:
        raise ProblemsError(result.problems)
    return result.job.planer.record


def of_run(job: Job) -> dict[str, Any]:
    """The entry that a run leaves, without the day; `early` where it was never through. Raises ProblemsError where it taught nothing yet.

    >>> from thickset.ground.job.example import small_job
    >>> of_run(small_job())
    Traceback (most recent call last):
    thickset.ground.job.job.ProblemsError: This run taught nothing yet. It is not through, and nothing was measured or timed in it.
    """
    taught = taught_by(job)
    if taught is None:
        said = "This run taught nothing yet. It is not through, and nothing was measured or timed in it."
        raise ProblemsError([Problem("run", said)])
    state, made = follow(job), finals_of(job)
    fed = {feeding.board for feeding in state.feedings}
    seen = [event.what for event in job.run]
    lost: dict[str, int] = {}
    for gone in state.gone:
        why = gone.why[:LONGEST_TEXT]
        lost[why] = lost.get(why, 0) + job.boards[gone.board].count
    last_feed = max((n for n, event in enumerate(job.run) if event.did == "feed"), default=0)
    waits = [event.after for event in job.run[1 : last_feed + 1]]
    timed = [wait for wait in waits if wait is not None]
    entry = {
        "kind": "run",
        "early": not was_through(job),
        "lot": job.title[:LONGEST_TEXT],
        "offs": list(taught.offs),
        "gauge": taught.gauge,
        "set_seconds": taught.set_seconds,
        "handle_seconds": taught.handle_seconds,
        "lead": taught.lead,
        "trail": taught.trail,
        "fed": taught.fed,
        "boards": sum(job.boards[n].count for n in fed),
        "measured": len(made.finals),
        "out": sum(not one.good for one in made.finals),
        "worst": None if made.worst is None else next(one.off for one in made.finals if one.board == made.worst),
        "torn": seen.count("tear-out"),
        "bogs": seen.count("bog"),
        "planned": make_plan(job).minutes,
        "taken": sum(timed, Fraction(0)) / 60 if timed and len(timed) == len(waits) else None,
        "lost": lost,
    }
    return {key: float(one) if isinstance(one, Fraction) else one for key, one in entry.items() if one or key == "kind"}


def _text(key: str, text: object) -> str:
    if not isinstance(text, str) or len(text) > LONGEST_TEXT:
        raise ValueError(f"{key}: a text of at most {LONGEST_TEXT} characters is wanted")
    return text


def _date(key: str, given: object) -> str:
    if not _DATE.match(on := _text(key, given)):
        raise ValueError(f"{key}: {shown(on)} is no date like 2030-12-31")
    return on


def _one_of(key: str, word: object, words: tuple[Any, ...]) -> Any:
    if word not in words:
        raise ValueError(f"{key}: {shown(str(word))} is none of {', '.join(one for one in words if one)}")
    return word


def _float(key: str, value: object, least: int, most: int) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal) or not least <= value <= most:
        raise ValueError(f"{key}: {shown(str(value))} is no number from {least} to {most:,}")
    return float(value)


def _number(key: str, value: object) -> Fraction:
    return _exact(_float(key, value, 0, LARGEST))


def _count(key: str, value: object) -> int:
    return round(_float(key, value, 0, LARGEST))


def _worst(key: str, value: object) -> Fraction:
    return _exact(_float(key, value, -LARGEST, LARGEST))


def _exact(value: float) -> Fraction:
    """The number as it is written; from its text itself a fraction takes four times as long."""
    return Fraction(*Decimal(repr(value)).as_integer_ratio())


def _gauge(key: str, value: object) -> float:
    return _float(key, value, 0, 25)


def _offs(key: str, value: object) -> tuple[float, ...]:
    if not isinstance(value, list) or len(value) > MOST_ENTRIES:
        raise ValueError(f"{key}: a list of numbers is wanted")
    return tuple(_float(key, off, -25, 25) for off in value)


def _lost(key: str, value: object) -> tuple[tuple[str, int], ...]:
    if not isinstance(value, dict):
        raise ValueError(f"{key}: boards by why they were lost are wanted")
    return tuple((str(why)[:LONGEST_TEXT], _count(why, many)) for why, many in value.items())


def _word(key: str, value: object) -> Any:
    return _one_of(key, value, WORDS)


def _record(_: str, value: object) -> Record | None:
    try:
        return record_of(value)
    except ProblemsError as error:
        raise ValueError(str(error)) from error


KINDS, WORDS = get_args(Kind), get_args(Word)
TAUGHT = ("offs", "gauge", "set_seconds", "handle_seconds", "lead", "trail", "fed")
READERS: dict[str, Callable[[str, object], Any]] = {
    **dict.fromkeys(("lot", "note"), _text),
    **dict.fromkeys(("boards", "measured", "out", "torn", "bogs"), _count),
    **dict.fromkeys(("set_seconds", "handle_seconds", "lead", "trail", "fed", "planned", "taken"), _number),
    "on": _date,
    "word": _word,
    "record": _record,
    "offs": _offs,
    "gauge": _gauge,
    "worst": _worst,
    "lost": _lost,
}
"""How each key of an entry is read; a key of a later version of the page is left alone."""
