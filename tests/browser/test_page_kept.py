"""What browsers and files held before the house was built anew opens on the page; kept/test_kept.py says what lies there."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import hand
import pytest
from kit import Server
from phone import Open, started
from playwright.sync_api import Page, expect

KEPT = Path(__file__).parents[1] / "kept"
TYPED = "[...document.querySelectorAll('#more input')].map((one) => one.value).filter(Boolean)"


def read(path: Path) -> Any:
    """What a JSON file holds."""
    return json.loads(path.read_text(encoding="utf-8"))


JOBS = {path.stem: read(path) for path in sorted((KEPT / "jobs").glob("*.json"))}
STORES = {path.stem: read(path) for path in sorted((KEPT / "stores").glob("*.json"))}
OF_ALL = {name: store["saves"] for name, store in STORES.items() if store["saves"]}
MEANT = read(KEPT / "meant.json")["jobs"]


def all_in_one_file(page: Page) -> Any:
    """The file of all that the page keeps."""
    hand.go(page, "jobs")
    with page.expect_download() as download:
        page.locator('#jobs [data-do="save-all"]').tap()
    return read(Path(download.value.path()))


def sorted_texts(list_of: list[Any]) -> list[str]:
    """Entries of a file as texts that can be compared in any order."""
    return sorted(json.dumps(one, sort_keys=True) for one in list_of)


def undated(jobs: list[Any]) -> list[str]:
    """The documents of a file's jobs: one without a date gets that of the day."""
    return sorted_texts([one["document"] for one in jobs])


@pytest.mark.parametrize("name", STORES)
def test_a_store_opens_with_all_that_was_in_it(open_page: Open, server: Server, name: str) -> None:
    store = STORES[name]
    shows, saves = store["shows"], store["saves"]
    page = started(open_page, server, store["entries"])
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_have_text(re.compile(rf"{shows['pass']}\b"))
    in_hand = hand.saved_job(page)
    assert in_hand["units"] == shows["units"]
    if saves:
        expect(page.locator("#title-shown")).to_have_text(shows["in hand"])
        assert in_hand in [one["document"] for one in saves["jobs"]]
        assert in_hand["title"] == shows["in hand"]
    expect(page.locator("#jobs .job b")).to_have_text([title or re.compile(".") for title in shows["jobs"]])
    hand.go(page, "planer")
    expect(page.locator("#planers b")).to_have_text(shows["planers"])
    hand.stored(page)
    now = json.loads(page.evaluate("localStorage.getItem('thickset.now')"))
    assert {key: now[key] for key in shows["prefers"]} == shows["prefers"]


@pytest.mark.parametrize("name", OF_ALL)
def test_nothing_of_a_store_is_changed_or_lost_on_the_way_to_a_file_of_all(
    open_page: Open, server: Server, name: str
) -> None:
    saved = all_in_one_file(started(open_page, server, STORES[name]["entries"]))
    assert saved["jobs"] == OF_ALL[name]["jobs"]
    assert sorted_texts(saved["planers"]) == sorted_texts(OF_ALL[name]["planers"])
    assert sorted_texts(saved["aside"]) == sorted_texts(OF_ALL[name]["aside"])


def test_what_was_typed_into_the_forms_of_no_job_is_there(open_page: Open, server: Server) -> None:
    page = started(open_page, server, STORES["shop"]["entries"])
    hand.planned(page)
    hand.go(page, "plan")
    page.locator('#plan [data-go="more"]').tap()
    page.wait_for_function(
        f"(typed) => typed.every((text) => {TYPED}.includes(text))", arg=STORES["shop"]["shows"]["forms"]
    )


@pytest.mark.parametrize("name", OF_ALL)
def test_a_file_of_all_brings_everything_back(open_page: Open, name: str) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, OF_ALL[name])
    saved = all_in_one_file(page)
    assert undated(saved["jobs"]) == undated(OF_ALL[name]["jobs"])
    assert sorted_texts(saved["planers"]) == sorted_texts(OF_ALL[name]["planers"])
    assert sorted_texts(saved["aside"]) == sorted_texts(OF_ALL[name]["aside"])


def test_a_file_of_all_of_the_oldest_form_brings_every_job(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, {"thickset_jobs": 1, "jobs": list(JOBS.values())})
    saved = all_in_one_file(page)
    assert undated(saved["jobs"]) == sorted_texts(list(JOBS.values()))


def test_every_job_file_opens_as_it_was_saved_and_its_run_goes_on(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    for name, job in JOBS.items():
        hand.open_job(page, job)
        expect(page.locator("#title-shown")).to_have_text(job["title"])
        if "problems" in MEANT[name]:
            expect(page.locator("#problems li")).to_have_count(len(MEANT[name]["problems"]))
            assert sorted(hand.problems(page)) == MEANT[name]["problems"]
        else:
            hand.planned(page)
            assert hand.problems(page) == []
            assert [round(setting, 4) for setting in hand.settings(page)] == MEANT[name]["settings"]
        if name.startswith("half-way"):
            done = MEANT[name]["run"][-1][0]
            hand.go(page, "run")
            expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_have_text(
                re.compile(rf"Pass {done + 1}\b")
            )
        assert hand.saved_job(page) == job
