"""A field is said once: the schema and the page's fields are made from it, and hold together."""

from __future__ import annotations

import copy
import json
import re
from pathlib import Path
from typing import Any

import pytest
from build_page.core import page_fields
from jsonschema import Draft202012Validator
from test_any_entry import FULL as ALMOST
from test_any_entry import places, replaced
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.ground.job import document, entries
from thickset.ground.job.fields import FIELDS
from thickset.ground.job.fields import PLACES as ON_THE_PAGE
from thickset.ground.job.form_fields import FORMS
from thickset.ground.job.run_events import FIELDS_OF, OPTIONAL_OF
from thickset.ground.job.schema import schema
from thickset.ground.link.link import from_link, to_link

ROOT = Path(__file__).resolve().parents[2]
INDEX = (ROOT / "site" / "index.html").read_text(encoding="utf-8")
SCHEMA = schema()
VALIDATOR = Draft202012Validator(SCHEMA)


# ---------------------------------------------------------------- the schema


def path_of(place: tuple[str | int, ...]) -> str:
    """A place of a document as the table names it."""
    return re.sub(r"\.\[\d+\]", "[]", ".".join(f"[{key}]" if isinstance(key, int) else key for key in place))


def full_job() -> dict[str, Any]:
    """A job that has every field but the second of two that stand for one another, and every event."""
    job = copy.deepcopy(ALMOST)
    there = {path_of(place) for place in places(job)}
    for path, field in FIELDS.items():
        *parts, key = path.split(".")
        if key.endswith("[]") or path in there or path in NOT_BESIDE_ANOTHER:
            continue
        inside = job
        for part in parts:
            inside = inside[part.removesuffix("[]")][0] if part.endswith("[]") else inside.setdefault(part, {})
        given = field.words[0] if field.choices else ENTRIES.get(field.kind, "9")
        inside[key] = given if field.inch is None else field.inch
    return job


ENTRIES = {"text": "Shop", "feed": "20 ft/min", "feeds": "20 ft/min", "speed": "5000 rpm", "density": "672 kg/m3"}
ENTRIES |= {"species": "Ash, white", "place": "middle left", "temperature": "70 F", "volume": "30 gal"}
ENTRIES |= {"flow": "800 cfm", "level": "102"}
"""What may stand in a field that has no default, by its kind; in others a number."""
NOT_BESIDE_ANOTHER = {"boards[].density", "planer.known_cut.density"}


def jobs_of_the_tests() -> dict[str, Any]:
    """Every job document that lies in the tests, and the two demo lots."""
    found: dict[str, Any] = {"demo-in": DEMO_IN, "demo-mm": DEMO_MM, "full": FULL}
    for path in sorted((ROOT / "tests" / "kept" / "jobs").glob("*.json")):
        found[f"kept {path.stem}"] = json.loads(path.read_text(encoding="utf-8"))
    for path in sorted((ROOT / "tests" / "golden").glob("*.json")):
        request = json.loads(path.read_text(encoding="utf-8"))["request"]
        if isinstance(request, dict) and "job" in request:
            found[f"golden {path.stem}"] = request["job"]
    return found


FULL = full_job()
PLACES = list(places(FULL))
JOBS = jobs_of_the_tests()


def faults(job: Any) -> list[str]:
    """What the schema has against a document."""
    return [f"{error.json_path}: {error.message[:200]}" for error in VALIDATOR.iter_errors(job)]


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert len([name for name, job in JOBS.items() if not document.read(job).problems]) > 50


@pytest.mark.parametrize("name", JOBS)
def test_what_the_reader_reads_the_schema_allows(name: str) -> None:
    if not document.read(JOBS[name]).problems:
        assert not faults(JOBS[name])
    else:
        assert document.read(JOBS[name]).job is None


def refused_by_both(job: Any) -> None:
    """Neither the reader nor the schema takes it."""
    assert document.read(job).problems
    assert faults(job)


def at(place: tuple[str | int, ...]) -> Any:
    """What stands there in the full job."""
    value = FULL
    for key in place:
        value = value[key]
    return value


PARTS = [place for place in PLACES if isinstance(at(place), dict)]


@pytest.mark.parametrize("place", PARTS, ids=str)
def test_an_unknown_key_is_refused_by_both(place: tuple[str | int, ...]) -> None:
    refused_by_both(replaced(FULL, place, {**at(place), "grade": "select"}))


@pytest.mark.parametrize("place", [place for place in PLACES if place[-1:] != ("at",)], ids=str)
def test_what_is_of_another_type_is_refused_by_both(place: tuple[str | int, ...]) -> None:
    refused_by_both(replaced(FULL, place, {"a": 1}))
    refused_by_both(replaced(FULL, place, True))


def required() -> list[tuple[str | int, ...]]:
    """Where in the full job something stands that it cannot be without."""
    found: list[tuple[str | int, ...]] = [("thickset",), ("target",), ("boards",)]
    for place in PLACES:
        path = path_of(place)
        either = [FIELDS[one] for one in (path, f"{path}[]") if one in FIELDS]
        if any(one.required for one in either) and isinstance(place[-1], str):
            found.append(place)
        if (
            len(place) == 3
            and place[0] == "run"
            and place[2:] in [(key,) for key in FIELDS_OF[at(place[:2])["did"]] if key != "what"]
        ):
            found.append(place)
    return found


@pytest.mark.parametrize("place", required(), ids=str)
def test_what_is_required_is_missed_by_both(place: tuple[str | int, ...]) -> None:
    holder = {key: value for key, value in at(place[:-1]).items() if key != place[-1]}
    refused_by_both(replaced(FULL, place[:-1], holder))
    refused_by_both(replaced(FULL, place, None))


def test_every_field_and_every_event_is_in_the_full_job() -> None:
    """So that the three tests above try each."""
    paths = {path_of(place) for place in PLACES}
    assert {path for path in FIELDS if path not in paths and f"{path}[]" not in paths} == NOT_BESIDE_ANOTHER
    assert {event["did"] for event in FULL["run"]} == FIELDS_OF.keys() >= OPTIONAL_OF.keys()
    assert not document.read(FULL).problems


def test_a_link_carries_every_field() -> None:
    assert from_link(to_link(FULL)) == FULL


# ---------------------------------------------------------------- the page


def test_each_group_of_fields_has_its_place_on_the_page() -> None:
    assert sorted(re.findall(r"<!--thickset:((?:fields|form|drawing)-[a-z-]+)-->", INDEX)) == sorted(
        page_fields.markup()
    )


def test_the_page_has_no_label_of_its_own_for_a_field() -> None:
    assert "data-field" not in INDEX
    scripts = {path: path.read_text(encoding="utf-8") for path in (ROOT / "site").rglob("*.js")}
    labels = {ask.label for field in FIELDS.values() for ask in field.asks}
    labels |= {field.label for form in FORMS.values() for field in form.fields}
    labels = {label for label in labels if " " in label}
    assert len(labels) > 50
    again = [(path.name, label) for path, text in scripts.items() for label in labels if f"'{label}'" in text]
    assert not again


def test_a_field_is_asked_for_at_a_place_that_there_is() -> None:
    asks = [ask for field in FIELDS.values() for ask in field.asks]
    assert {ask.place for ask in asks} == set(ON_THE_PAGE)
    ids = re.findall(r'id="([^"]+)"', "".join(page_fields.markup().values()))
    assert len(ids) == len(set(ids)) > 50


def test_every_label_names_its_own_entry() -> None:
    for markup in page_fields.markup().values():
        assert re.findall(r'<label for="([^"]+)"', markup) == re.findall(r'<(?:input|select) id="([^"]+)"', markup)


def test_the_scripts_know_of_each_setting_what_stands_for_it() -> None:
    facts = page_fields.facts()
    assert facts["settings"]["practice.cut"] == {"kind": "length", "with": "planer", "in": "1/16", "mm": "1.5"}
    assert facts["settings"]["planer.feeds[0]"]["mm"] == "6 m/min"
    assert facts["pile"]["widest"] == "width"
    assert facts["lengths"]["run[]"] == ["setting", "scale", "thickness", "lead", "trail", "readings"]


@pytest.mark.parametrize("path", FIELDS)
def test_what_is_longer_than_a_person_writes_is_refused_with_its_cure(path: str) -> None:
    with pytest.raises(ValueError, match=r"characters long|no wood is called"):
        entries.read("1" * 100_000, FIELDS[path], "in")
