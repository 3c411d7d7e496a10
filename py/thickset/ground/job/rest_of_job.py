"""Reads what a job may hold beside the plan: parts, places, defects, and the planer's record."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any, Protocol

from thickset.ground.job.fields import FIELDS, Field, keys_of
from thickset.ground.job.job import Defect, Part, Problem, Record
from thickset.ground.notation.lengths import shown
from thickset.ground.notation.places import Place

MOST_PARTS = 200
MOST_DEFECTS = 40

LEAST_OF_A_RECORD, MOST_OF_A_RECORD = Fraction(1, 10**6), 10**6
"""A record is kept to six decimals, so none that was learned is less; more is no planer's [mm, count]."""

Json = dict[str, Any]


class Reader(Protocol):
    """What is needed of the reader of a document."""

    problems: list[Problem]

    def problem(self, at: str, text: str) -> None:
        """Note a problem."""

    def keys(self, holder: Json, part: str, at: str | None = None) -> None:
        """Note the keys that are none of a part's."""

    def values(self, holder: Json, part: str, at: str = "", label: str = "") -> Json:
        """The values of a part's plain fields by their keys."""

    def entry(self, given: object, one: Field, at: str, label: str) -> Any:
        """The value of one entry."""

    def many(self, given: object, one: Field, at: str, label: str, most: int) -> tuple[Any, ...]:
        """The values of a list of entries."""


def parts(reader: Reader, given: object) -> tuple[Part, ...]:
    """The finished parts that the lot is for; lengths in mm.

    >>> from thickset.ground.job.example import small_job
    >>> small_job().parts
    ()
    """
    found = []
    for n, one in _each(reader, given, "parts[]", "parts", "Parts", MOST_PARTS):
        at, label = f"parts[{n}]", f"Part {n + 1}"
        reader.keys(one, "parts[]", at)
        part = reader.values(one, "parts[]", at, label)
        if part["length"] and part["count"]:
            found.append(Part(**part | {"name": part["name"] or label}))
    return tuple(found)


def places(reader: Reader, given: object, readings: int, at: str, label: str) -> tuple[Place | None, ...]:
    """Where the readings of a board were taken, in their order; None where it is not said. At most one for each [count].

    >>> from thickset.ground.job.example import small_job
    >>> small_job().boards[0].places
    ()
    """
    if given is None or not readings:
        return ()
    if not isinstance(given, list) or len(given) > readings:
        reader.problem(at, f"{label}, places: a list of at most {readings} is wanted here, one for each reading.")
        return ()
    return tuple(
        reader.entry(None if one == "" else one, FIELDS["boards[].places[]"], f"{at}[{n}]", f"{label}, place {n + 1}")
        for n, one in enumerate(given)
    )


def defects(reader: Reader, given: object, at: str, label: str) -> tuple[Defect, ...]:
    """The stretches of a board that no part may have in it [mm].

    >>> from thickset.ground.job.example import small_job
    >>> small_job().boards[0].defects
    ()
    """
    found = []
    for n, one in _each(reader, given, "boards[].defects[]", at, f"{label}, defects", MOST_DEFECTS):
        here = f"{at}[{n}]"
        reader.keys(one, "boards[].defects[]", here)
        start, end = reader.values(one, "boards[].defects[]", here, f"{label}, defect {n + 1}").values()
        if start is None or end is None:
            continue
        if end <= start:
            reader.problem(f"{here}.to", f"{label}, defect {n + 1}: it ends before it begins. Measure both from end 1.")
        found.append(Defect(start, end))
    return tuple(found)


def record(reader: Reader, given: Json) -> Record | None:
    """What was learned of the planer [mm, m]; None without a record.

    >>> from thickset.ground.job.example import small_job
    >>> small_job().planer.record is None
    True
    """
    if not given:
        return None
    at = "planer.record"
    before = len(reader.problems)
    found = reader.values(given, at)
    if len(reader.problems) > before:
        return None
    for key in ("offset_worth", "spread", "spread_worth"):
        if not LEAST_OF_A_RECORD <= found[key] <= MOST_OF_A_RECORD:
            reader.problem(
                f"{at}.{key}",
                f"Record, {key}: it must be above zero and at most {MOST_OF_A_RECORD:,}. Forget what was learned of the "
                "planer, to begin anew.",
            )
    if abs(found["offset"]) > 25:
        reader.problem(
            f"{at}.offset",
            "Record, offset: more than 25 mm is a slip. Forget what was learned of the planer, to begin anew.",
        )
    return Record(**{key: value for key, value in found.items() if value is not None})


def wanted(part: str) -> str:
    """What is to stand where a part of the document does not, as problems end [no unit].

    >>> wanted("planer.snipe")
    'an object with fields is wanted: lead, trail.'
    """
    return f"an object with fields is wanted: {', '.join(keys_of(part))}."


def _each(reader: Reader, given: object, part: str, at: str, label: str, most: int) -> Iterator[tuple[int, Json]]:
    """The objects of a list, by number; part: which of the document they are."""
    if given is None:
        return
    if not isinstance(given, list) or len(given) > most:
        reader.problem(at, f"{label}: a list of at most {most} is wanted here.")
        return
    for n, one in enumerate(given):
        if isinstance(one, dict):
            yield n, one
        else:
            reader.problem(f"{at}[{n}]", f"{label}: {shown(str(one))} stands where {wanted(part)}")
