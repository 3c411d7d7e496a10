"""A run in a book: it has one entry there, which follows it as long as it goes on."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Any

from thickset.planning.book.entry import Entry, read


@dataclass(frozen=True)
class OfJob:
    """Whose run it is: the job's id (empty where it has none), the ids of all jobs there are, and the day.

    `follows`: the entry goes with the run, and not with a tap.
    """

    of: str
    jobs: Collection[str]
    on: str
    follows: bool


def with_run(entries: Sequence[Any], made: dict[str, Any] | None, job: OfJob) -> list[Any]:
    """The entries with what a run left, in place of what they have of it; without it where it left nothing (any more).

    One that only follows comes in when the run was through, and stays if it was in before that. Raises ValueError where the entry that
    it takes the place of holds what cannot be read.

    >>> job = OfJob("a", (), "2026-11-29", follows=True)
    >>> with_run([], {"kind": "run", "boards": 2}, job)
    [{'on': '2026-11-29', 'kind': 'run', 'boards': 2, 'of': 'a'}]
    >>> with_run(with_run([], {"kind": "run", "boards": 2}, job), None, job)
    []
    """
    n = next((n for n, one in enumerate(entries) if job.of and isinstance(one, dict) and one.get("of") == job.of), None)
    was = entries[n] if n is not None else {"on": job.on}
    comes_early = made is not None and made.get("early") and not was.get("early")
    if made is None or (job.follows and comes_early):
        return [one for m, one in enumerate(entries) if m != n]
    if n is None and job.of:
        n = next((n for n, one in enumerate(entries) if _is_same_run(one, made, job.jobs)), None)
        was = entries[n] if n is not None else was
    own = {key: was[key] for key in ("on", "word", "note") if key in was}
    entry = {**own, **made, **({"of": job.of} if job.of else {})}
    read(entry)
    return [*entries, entry] if n is None else [*entries[:n], entry, *entries[n + 1 :]]


def _is_same_run(one: Any, made: dict[str, Any], jobs: Collection[str]) -> bool:
    """Whether an entry is of the run just made, by its figures: that of a job that came back from a file has another id there."""
    if isinstance(one, dict) and one.get("of") in jobs:
        return False
    try:
        return _figures(read(one)) == _figures(read(made))
    except ValueError:
        return False


def _figures(entry: Entry) -> tuple[object, ...]:
    return entry.kind, entry.lot, entry.boards, entry.taught.fed, entry.taught.offs
