"""The JSON Schema (2020-12) of a job document, made from the table of fields, so that others can write jobs.

It allows what the reader allows as to shape: keys, types, what is required. What an entry means, the reader alone can tell.
"""

from __future__ import annotations

from typing import Any

from thickset.ground.job.document import MOST_BOARDS, VERSION
from thickset.ground.job.entries import MOST_ALIKE, MOST_FEEDS, how_to_write
from thickset.ground.job.fields import EMPTY_ALLOWED, FIELDS, MOST_READINGS, NUMBERS, RUN, Field, keys_of
from thickset.ground.job.rest_of_job import MOST_DEFECTS, MOST_PARTS
from thickset.ground.job.run_entries import MOST_EVENTS
from thickset.ground.job.run_events import FIELDS_OF, OPTIONAL_OF, SIGHTS
from thickset.ground.notation.lengths import UNITS

Schema = dict[str, Any]

MOST = {
    "boards[]": MOST_BOARDS,
    "boards[].readings[]": MOST_READINGS,
    "boards[].places[]": MOST_READINGS,
    "boards[].defects[]": MOST_DEFECTS,
    "planer.feeds[]": MOST_FEEDS,
    "parts[]": MOST_PARTS,
}
"""Entries of each list of a document [count]."""

WITH_A_UNIT = frozenset({"feed", "feeds", "temperature", "volume", "flow", "species", "place"})
"""Kinds that are always a text: a bare number names no unit."""
BLANK = {"type": "string", "pattern": r"^\s*$"}
WRITTEN = r"\S"
"""Something is entered."""


def schema() -> Schema:
    """The schema of a whole document.

    >>> schema()["required"]
    ['thickset', 'target', 'boards']
    """
    whole = _object("")
    whole["properties"] |= {
        "thickset": {"const": VERSION, "description": "the version of this form"},
        "units": {"enum": ["in", "mm"], "default": "in", "description": "of lengths that name none"},
        "run": {
            "description": "what was done, measured and seen at the machine, in order; the page writes it",
            "anyOf": [{"type": "null"}, {"type": "array", "maxItems": MOST_EVENTS, "items": _events()}],
        },
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Thickset: a job",
        **whole,
        "required": ["thickset", "target", "boards"],
    }


def _part(path: str) -> Schema:
    """Whatever stands at a path: an entry, a list of entries or of parts, or a part."""
    if path in FIELDS:
        return _entry(FIELDS[path])
    many = f"{path}[]"
    if many in FIELDS:
        return _entries(FIELDS[many])
    if any(known.startswith(f"{many}.") for known in FIELDS):
        rows = {"type": "array", "items": _object(many), "maxItems": MOST[many]}
        return rows | {"minItems": 1} if path == "boards" else {"anyOf": [{"type": "null"}, rows]}
    part = _object(path)
    if path not in EMPTY_ALLOWED:
        return part
    needed = part.pop("required", [])
    if needed:
        nothing = {"maxProperties": 0} if path == "planer.record" else {"additionalProperties": {"enum": [None, ""]}}
        part["anyOf"] = [nothing, {"required": needed, "properties": {key: _given(path, key) for key in needed}}]
    return {"anyOf": [{"type": "null"}, part]}


def _object(part: str) -> Schema:
    """A part with its keys; those that it cannot be without are required."""
    paths = {key: f"{part}.{key}" if part else key for key in keys_of(part)}
    inside = {key: _part(path) for key, path in paths.items() if key not in ("thickset", "units", "run") or part}
    needed = [
        key for key, path in paths.items() if any(p in FIELDS and FIELDS[p].required for p in (path, f"{path}[]"))
    ]
    return {
        "type": "object",
        "properties": inside,
        "additionalProperties": False,
        **({"required": needed} if needed else {}),
    }


def _given(part: str, key: str) -> Schema:
    """Something was entered there."""
    return _entry(FIELDS[f"{part}.{key}"])


def _entry(field: Field) -> Schema:
    """One entry of a field, with what it means and how to write it."""
    said = {
        "title": field.label,
        "description": f"{field.meaning}. {' '.join(dict.fromkeys(how_to_write(field, unit) for unit in UNITS))}",
    }
    if field.inch == field.metric and field.inch not in (None, ""):
        said["default"] = field.inch
    elif field.inch not in (None, ""):
        said["description"] += f" When left out: {field.inch} in a job in inches, {field.metric} in one in mm."
    return said | _type(field)


def _type(field: Field) -> Schema:
    """What an entry may be: a text or a number; nothing only where there is a default."""
    if field.choices:
        return {"anyOf": [{"enum": list(field.words)}, BLANK, {"type": "null"}]}
    number = [] if field.kind in WITH_A_UNIT else ["integer" if field.kind in ("text", "whole", "tally") else "number"]
    types = ["string", *number]
    if field.required:
        return {"type": types, "pattern": WRITTEN, **_bounds(field)}
    return {"type": [*types, "null"], **_bounds(field)}


def _bounds(field: Field) -> Schema:
    """The least and the most that a number may be."""
    if field.kind in ("whole", "tally"):
        return {"minimum": 1 if field.kind == "whole" else 0, "maximum": MOST_ALIKE}
    if field.kind == "length" and not field.zero:
        return {"exclusiveMinimum": 0}
    if field.kind == "level":
        return {"minimum": 70, "maximum": 140}
    if field.kind == "length" or field.kind in NUMBERS - {"signed"} or field.kind == "price":
        return {"minimum": 0, **({"maximum": field.most} if field.most else {})}
    return {}


def _entries(field: Field) -> Schema:
    """A list of entries, or one alone."""
    one = _entry(field)
    many: Schema = {"type": "array", "items": one, "maxItems": MOST[field.path]}
    if field.required:
        return {"anyOf": [many | {"minItems": 1}, one]}
    if field.kind == "place":
        return {"anyOf": [{"type": "null"}, many]}
    return {"anyOf": [many, one]}


def _events() -> Schema:
    """An event of the run, each kind with the keys that it needs and may have."""
    name = {"type": "string"}
    names = {"type": "array", "items": name, "minItems": 1}
    known: Schema = {
        **{key: _entry(field) for key, field in RUN.items()},
        "readings": _part("boards[].readings"),
        "places": _part("boards[].places"),
        "what": {"enum": list(SIGHTS)},
        "why": _entry(FIELDS["title"]),
    }
    kinds = []
    for did, needed in FIELDS_OF.items():
        optional = OPTIONAL_OF.get(did, ())
        holds = {key: known[key] for key in (*needed, *optional, "after") if key in known}
        holds |= {"board": name} if "board" in needed else {}
        holds |= {"board": {"anyOf": [name, {"type": "null"}]}} if "board" in optional else {}
        holds |= {"boards": {"anyOf": [names, {"type": "null"}]}} if "boards" in optional else {}
        required = [key for key in needed if key != "what"]
        kinds.append(
            {
                "type": "object",
                "properties": {"did": {"const": did}, "at": True, **holds},
                "additionalProperties": False,
                "required": ["did", *required],
            }
        )
    return {"oneOf": kinds}
