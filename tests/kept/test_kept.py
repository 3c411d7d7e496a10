"""What was kept before the house was built anew opens for ever: job files, links of both versions, what they mean.

Beside this file lies what the code of that day wrote, and nothing of it is ever written anew: `jobs/` as the page saved them,
`links.json` made of them, `stores/` of three browsers (opened in browser/test_page_kept), `held.json` with every field, event and
word that they hold, `meant.json` with what each job meant: settings, minutes, boards after each event [mm, min].
A file that does not open any more is mended in the code. What comes later gets files of its own: `stores/book.json` has a planer's book.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from thickset.doors.api import handle

HERE = Path(__file__).parent
GOLDEN_LINKS = HERE.parent / "golden" / "links"


def read(path: Path) -> Any:
    """What a JSON file holds."""
    return json.loads(path.read_text(encoding="utf-8"))


JOBS = {path.stem: read(path) for path in sorted((HERE / "jobs").glob("*.json"))}
LINKS = read(HERE / "links.json")
HELD = read(HERE / "held.json")
MEANT = read(HERE / "meant.json")
OLDER_LINKS = [case for version in "12" for case in read(GOLDEN_LINKS / f"version-{version}.json")]


def ask(what: str, **more: Any) -> dict[str, Any]:
    """The answer to one question."""
    answer: dict[str, Any] = json.loads(handle(json.dumps({"ask": what, **more})))
    return answer


def state(job: dict[str, Any]) -> list[Any]:
    """Where a run stands: passes done, settings to come [mm], the feed next [mm/s], each board's thick and thin spot [mm]."""
    answer = ask("follow", job=job)
    assert answer["ok"], answer
    run = answer["run"]
    following = run["step"]["pass"]
    settings = [round(one["setting_mm"], 4) for one in run["rest"]]
    boards = {one["board"]: [round(one["thick_mm"], 4), round(one["thin_mm"], 4)] for one in run["boards"]}
    return [len(run["done"]), settings, following and round(following["feed_mm_per_s"], 4), boards]


def for_scale(job: dict[str, Any], plan: dict[str, Any]) -> float:
    """Minutes to measure the first piece on an unknown scale, which no plan of that day priced."""
    seconds = (job.get("practice") or {}).get("measure_seconds") or 30
    return float(seconds) / 60 if any("for_scale" in one for one in plan["passes"]) else 0.0


def meaning(job: dict[str, Any]) -> dict[str, Any]:
    """What a job means, in numbers and in names as typed; of one that cannot be read, where its problems are."""
    answer = ask("plan", job=job)
    if not answer["ok"]:
        return {"problems": sorted(one["at"] for one in answer["problems"])}
    plan = answer["plan"]
    run = job.get("run", [])
    return {
        "settings": [round(one["setting_mm"], 4) for one in plan["passes"]],
        "fed": [len(one["fed"]) for one in plan["passes"]],
        "minutes": round(plan["minutes"] - for_scale(job, plan), 4),
        "run": [state({**job, "run": run[:far]}) for far in range(1, len(run) + 1)],
    }


def leaves(value: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Every value of a document, by its path without numbers."""
    if isinstance(value, dict):
        for key, one in value.items():
            yield from leaves(one, f"{path}.{key}" if path else key)
    elif isinstance(value, list):
        for one in value:
            yield from leaves(one, f"{path}[]")
    else:
        yield path, value


@pytest.mark.parametrize("name", JOBS)
def test_a_job_file_means_what_it_meant(name: str) -> None:
    assert meaning(JOBS[name]) == MEANT["jobs"][name]


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_job_files_hold_every_field_and_word_of_their_day(units: str) -> None:
    read_whole = [job for name, job in JOBS.items() if job["units"] == units and not name.startswith("draft")]
    begun = [{key: value for key, value in job.items() if key != "run"} for job in read_whole]
    found = [leaf for job in begun for leaf in leaves(job)]
    events = [event for job in read_whole for event in job.get("run", [])]
    assert {path for path, _ in found} == {"thickset", "units", *HELD["fields"]}
    keys = {did: sorted({key for event in events if event["did"] == did for key in event}) for did in HELD["events"]}
    assert keys == HELD["events"]
    assert {event["what"] for event in events if event["did"] == "see"} == set(HELD["sights"])
    assert {place for event in events for place in event.get("places", [])} == {"", *HELD["spots"]}


def test_each_word_that_a_field_can_be_is_in_a_job_file() -> None:
    found = {leaf for job in JOBS.values() for leaf in leaves(job)}
    assert {(path, word) for path, words in HELD["words"].items() for word in words} <= found


def test_there_are_links_of_both_versions_for_every_job_with_its_run_and_without() -> None:
    wanted = {
        (version, name, run)
        for version in "12"
        for name, job in JOBS.items()
        for run in ((True, False) if "run" in job else (True,))
    }
    assert {(one["version"], one["job"], one["run"]) for one in LINKS} == wanted


@pytest.mark.parametrize("case", LINKS, ids=lambda case: f"{case['version']}-{case['job']}-{case['run']}")
def test_a_link_opens_to_its_job(case: dict[str, Any]) -> None:
    assert case["link"].startswith(f"#plan={case['version']}")
    answer = ask("open", link=case["link"])
    assert answer["ok"], answer
    job = {key: value for key, value in JOBS[case["job"]].items() if case["run"] or key != "run"}
    assert json.dumps(answer["job"], sort_keys=True) == json.dumps(job, sort_keys=True)


@pytest.mark.parametrize("case", OLDER_LINKS, ids=lambda case: f"{case['link'][6]}-{case['about']}")
def test_what_an_older_link_opens_to_means_what_it_meant(case: dict[str, Any]) -> None:
    assert meaning(ask("open", link=case["link"])["job"]) == MEANT["links"][case["about"]]
