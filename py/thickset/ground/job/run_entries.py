"""Reads what a job document says of its run: each event with the fields that it needs."""

from __future__ import annotations

from typing import Any, cast

from thickset.ground.job.fields import FIELDS, MOST_READINGS, RUN
from thickset.ground.job.rest_of_job import Json, Reader, places
from thickset.ground.job.run_events import FIELDS_OF, OPTIONAL_OF, SIGHTS, Event, Sight
from thickset.ground.notation.lengths import shown

MOST_EVENTS = 20_000

PLANS_ANEW = ("measure", "remove", "see", "retarget")
"""Events after each of which the rest of the run is planned anew."""

MOST_PLANNED_ANEW = 100_000
"""Boards planned anew, counted once for each such event [count]; a lot has 200 such events whatever its boards."""


def run(reader: Reader, given: object, names: set[str]) -> tuple[Event, ...]:
    """The events of a run in their order; names: of the lot's boards.

    >>> from thickset.ground.job.example import small_job
    >>> small_job().run
    ()
    """
    if given is None:
        return ()
    if not isinstance(given, list) or len(given) > MOST_EVENTS:
        reader.problem("run", f"Run: a list of at most {MOST_EVENTS:,} events is wanted here.")
        return ()
    anew = sum(isinstance(one, dict) and one.get("did") in PLANS_ANEW for one in given)
    most = max(200, MOST_PLANNED_ANEW // max(1, len(names)))
    if anew > most:
        reader.problem(
            "run",
            f"Run: {anew:,} surprises and measurements are more than {most:,}, the most that a lot of {len(names):,} boards "
            "can be planned anew for. Begin a new job with the boards that are left.",
        )
        return ()
    events = [event(reader, one, f"run[{n}]", f"Run, event {n + 1}", names) for n, one in enumerate(given)]
    return tuple(one for one in events if one)


def event(reader: Reader, given: object, at: str, label: str, names: set[str]) -> Event | None:
    """One event, lengths in mm; None when some of it cannot be read, and the reader then has the problems.

    >>> from thickset.ground.job.document import event_problems
    >>> event_problems({"did": "remove", "board": "A"}, "mm", {"A"})
    []
    """
    did = given.get("did") if isinstance(given, dict) else None
    if not isinstance(given, dict) or not isinstance(did, str) or did not in FIELDS_OF:
        reader.problem(
            f"{at}.did",
            f"{label}: {shown(str(did))} is nothing that can be done. It can be: {', '.join(FIELDS_OF)}.",
        )
        return None
    before = len(reader.problems)
    needed, optional = FIELDS_OF[did], OPTIONAL_OF.get(did, ())
    for key in given:
        if key not in ("did", "at", "after", *needed, *optional):
            reader.problem(f"{at}.{key}", f"{label}: {shown(str(key))} is no field of {did}. Leave it out.")
    numbers = {
        key: reader.entry(given.get(key), one, f"{at}.{key}", f"{label}, {key}")
        for key, one in RUN.items()
        if key in (*needed, "after") or (key in optional and key in given)
    }
    boards = _board_names(reader, given, at, label, "board" in needed, names)
    readings: tuple[Any, ...] = ()
    if "readings" in needed:
        one = FIELDS["boards[].readings[]"]
        readings = reader.many(given.get("readings"), one, f"{at}.readings", label, MOST_READINGS)
    taken_at = places(reader, given.get("places"), len(readings), f"{at}.places", label)
    what = given.get("what")
    if what not in SIGHTS and "what" in needed:
        reader.problem(f"{at}.what", f"{label}: {shown(str(what))} is no known sight. It can be: {', '.join(SIGHTS)}.")
    why = reader.entry(given.get("why"), FIELDS["title"], f"{at}.why", f"{label}, why")
    if len(reader.problems) > before:
        return None
    more: Json = {"readings": readings, "places": taken_at, "what": cast("Sight | None", what), "why": why}
    return Event(did, **numbers, boards=boards, **more)


def _board_names(reader: Reader, given: Json, at: str, label: str, needed: bool, names: set[str]) -> tuple[str, ...]:
    one = given.get("board")
    found = given.get("boards") if one is None else [one]
    if found is None and not needed:
        return ()
    if not isinstance(found, list) or not found:
        reader.problem(f"{at}.board", f"{label}: it names no board. Name one of this lot.")
        return ()
    for name in found:
        if not isinstance(name, str) or name not in names:
            reader.problem(f"{at}.board", f"{label}: there is no board {shown(str(name))} in this lot. Name one of it.")
    return tuple(str(name) for name in found)
