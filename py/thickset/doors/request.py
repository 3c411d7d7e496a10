"""Reads a request: its JSON, bounded in depth and size, numbers as written and no field twice; and the job that it is about.

Of a field that stands there twice JSON would drop the first in silence.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import Any

from thickset.ground.job import document
from thickset.ground.job.job import Job, Problem, ProblemsError
from thickset.ground.notation.lengths import shown
from thickset.planning.passes.limits import beyond_planer
from thickset.planning.passes.model import Plan
from thickset.planning.passes.planner import make_plan

Json = dict[str, Any]
Answers = dict[str, Callable[[Json], Json]]
"""The answers of a module, by what is asked."""

LONGEST = 10_000_000
"""Characters of a request: several times what the largest lot takes."""

DEEPEST = 32
"""Lists and objects in each other; a job has half as many at most."""

_STRING_OR_BRACKET = re.compile(r'"[^"\\]*(?:\\.[^"\\]*)*"?|[\[{]|[\]}]', re.DOTALL)
"""Linear: each character is looked at once, as a string that never ends is taken to its end."""


class _Doubled(dict[str, Any]):
    """An object that was written with some of its fields twice."""

    twice: tuple[str, ...] = ()


def read(request: str) -> Any:
    """The request as plain values. Raises ProblemsError for what is no JSON, and for each field that stands there twice.

    >>> read('{"job": {"title": "Slats"}}')
    {'job': {'title': 'Slats'}}
    >>> read('{"job": {"title": "Slats", "title": "Legs"}}')
    Traceback (most recent call last):
    thickset.ground.job.job.ProblemsError: 'title' stands here twice. Keep one of them.
    """
    if isinstance(request, str) and (beyond := beyond_bounds(request)):
        raise ProblemsError([Problem("request", beyond)])
    doubled: list[_Doubled] = []

    def made(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        found = dict(pairs)
        if len(found) == len(pairs):
            return found
        marked = _Doubled(found)
        marked.twice = tuple(key for key, many in Counter(key for key, _ in pairs).items() if many > 1)
        doubled.append(marked)
        return marked

    try:
        asked = json.loads(request, parse_float=Decimal, parse_constant=str, parse_int=_whole, object_pairs_hook=made)
    except (ValueError, RecursionError, TypeError) as error:
        raise ProblemsError([Problem("request", f"This is no JSON: {error}.")]) from error
    if doubled:
        raise ProblemsError(list(_problems(asked)))
    return asked


def beyond_bounds(text: str) -> str:
    """What makes a JSON text too long or too deep to be read, with the cure; nothing where it is neither.

    >>> beyond_bounds("[" * 40), beyond_bounds('["[[[["]')
    ('This is nested too deep: more than 32 lists and objects in each other. Open a job document that Thickset saved.', '')
    """
    if len(text) > LONGEST:
        return f"This is too long: {len(text):,} characters of at most {LONGEST:,}. Open a job document that Thickset saved."
    depth = 0
    for found in _STRING_OR_BRACKET.finditer(text):
        sign = text[found.start()]
        depth += 1 if sign in "[{" else -1 if sign in "]}" else 0
        if depth > DEEPEST:
            return (
                f"This is nested too deep: more than {DEEPEST} lists and objects in each other. "
                "Open a job document that Thickset saved."
            )
    return ""


def _problems(asked: Any) -> Iterator[Problem]:
    """Each field that stands there twice, by its path as problems of a job name it."""
    left = [("", asked)]
    while left:
        at, value = left.pop()
        if isinstance(value, _Doubled):
            for key in value.twice:
                yield Problem(_inside(at, key), f"{shown(key)} stands here twice. Keep one of them.")
        if isinstance(value, dict):
            left += [(_inside(at, key), inside) for key, inside in reversed(value.items())]
        elif isinstance(value, list):
            left += [(f"{at}[{n}]", inside) for n, inside in reversed([*enumerate(value)])]


def _inside(at: str, key: str) -> str:
    return f"{at}.{key}" if at and at != "job" else key


def _whole(digits: str) -> Decimal | int:
    """A whole number; a Decimal when it is too long for any field, which then says so."""
    return int(digits) if len(digits) < 20 else Decimal(digits)


def job_of(asked: Json) -> Job:
    """The job that a request is about. Raises ProblemsError for one that cannot be read.

    >>> from thickset.doors.demo import DEMO_MM
    >>> len(job_of({"job": DEMO_MM}).boards)
    4
    """
    result = document.read(asked.get("job"))
    if result.job is None:
        raise ProblemsError(result.problems)
    return result.job


def planned(asked: Json) -> Plan:
    """The plan that a request is about.

    >>> from thickset.doors.demo import DEMO_MM
    >>> len(planned({"job": DEMO_MM}).outcomes)
    4
    """
    return plan_of(document.read(asked.get("job")))


def plan_of(result: document.Result) -> Plan:
    """The plan of what was read. Raises ProblemsError, also for what the planer does not take of a job that was read in part.

    >>> from thickset.doors.demo import DEMO_MM
    >>> len(plan_of(document.read(DEMO_MM)).outcomes)
    4
    """
    if result.job is None:
        beyond = beyond_planer(result.sketch) if result.sketch else ()
        raise ProblemsError([*result.problems, *beyond])
    return make_plan(result.job)
