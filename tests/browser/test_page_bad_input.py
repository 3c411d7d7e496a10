"""One bad file, link or entry never takes the others along: the page starts, says so, and its buttons work. And the page for when all else fails."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import hand
import pytest
from kit import Server, engine_ready
from lots import lot
from phone import PUT, Open, started
from playwright.sync_api import Page, expect

DEEP = '{"a":' * 2500 + "1" + "}" * 2500

BAD = {
    "a job": ("thickset.job.bad", f'{{"v":1,"touched":1,"draft":{{"title":"Deep","extra":{DEEP}}}}}'),
    "a planer": ("thickset.planer.bad", f'{{"v":1,"name":"Deep","units":"in","settings":{{}},"record":{DEEP}}}'),
    "where one was": ("thickset.now", DEEP),
    "the answer": ("thickset.answer", DEEP),
    "the forms": ("thickset.forms", DEEP),
    "a thing set aside": ("thickset.aside.1", DEEP),
    "no object": ("thickset.job.bad", "[" * 2500 + "]" * 2500),
}
GOOD_TEXT = (
    '{"v":1,"touched":2,"draft":{"id":"good","title":"Legs","units":"in","settings":{"target.thickness":"3/4"},'
    '"boards":[{"id":"1","name":"A","readings":["1"],"width":"6","length":"40"}]}}'
)
GOOD = ("thickset.job.good", GOOD_TEXT)


def works(page: Page) -> None:
    """The buttons do what they say, and the good job opens."""
    hand.go(page, "jobs")
    page.locator("#job-list button", has_text="Legs").first.tap()
    hand.planned(page)


@pytest.mark.parametrize("kind", BAD)
def test_a_stored_entry_nested_deep_is_set_aside_and_the_page_starts(
    kind: str, open_page: Open, server: Server
) -> None:
    key, text = BAD[kind]
    page = started(open_page, server, {key: text, GOOD[0]: GOOD[1]})
    works(page)
    hand.go(page, "more")
    hand.go(page, "jobs")
    expect(page.locator("#aside")).to_contain_text("1 entry was damaged and set aside as found")
    aside = page.evaluate("Object.keys(localStorage).filter((k) => k.includes('.aside.')).map((k) => localStorage[k])")
    assert text in [json.loads(one)["text"] for one in aside], "what was found is not there to the letter"


FILES = {
    "a job": DEEP,
    "a job's part": '{"thickset": 1, "units": "in", "boards": [' + DEEP + "]}",
    "lists": "[" * 2500 + "]" * 2500,
    "all jobs": '{"thickset_jobs": 1, "jobs": [{"document": ' + DEEP + '}], "planers": [' + DEEP + '], "aside": []}',
}


@pytest.mark.parametrize("kind", FILES)
def test_a_file_nested_deep_is_told_and_the_page_goes_on(kind: str, open_page: Open, server: Server) -> None:
    page = started(open_page, server, {GOOD[0]: GOOD[1]})
    hand.go(page, "jobs")
    file = {"name": "deep.json", "mimeType": "application/json", "buffer": FILES[kind].encode()}
    page.locator("#open-job").set_input_files(file)  # type: ignore[arg-type]
    expect(page.locator("#file-said")).to_contain_text("deep.json")
    works(page)
    page.reload()
    hand.ready(page)
    works(page)


def test_all_jobs_of_which_one_is_nested_deep_bring_the_others(open_page: Open, server: Server) -> None:
    page = started(open_page, server, {GOOD[0]: GOOD[1]})
    hand.go(page, "jobs")
    board = {"name": "A", "readings": ["1"], "width": "6", "length": "40"}
    good = lot(board, title="Rails")
    text = f'{{"thickset_jobs": 1, "jobs": [{{"document": {DEEP}}}, {{"document": {json.dumps(good)}}}]}}'
    file = {"name": "all.json", "mimeType": "application/json", "buffer": text.encode()}
    page.locator("#open-job").set_input_files(file)  # type: ignore[arg-type]
    expect(page.locator("#file-said")).to_contain_text("1 of 2 jobs were new and are in the list")
    expect(page.locator("#file-said")).to_contain_text("1 could not be read and stay in the file")
    expect(page.locator("#job-list")).to_contain_text("Rails")


def test_a_name_of_unbroken_letters_does_not_widen_the_page(open_page: Open, server: Server) -> None:
    name = "Wmwmwmwmwmwmwmwmwmwmwmw" * 2
    page = started(open_page, server, {GOOD[0]: GOOD[1].replace('"name":"A"', f'"name":"{name}"')})
    works(page)
    wide = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    for place in ("plan", "lot", "run", "jobs"):
        hand.go(page, place)
        assert page.evaluate(wide) <= 0, place


def rescued(page: Page) -> Any:
    """What the rescue page saves."""
    with page.expect_download() as download:
        page.click("#save")
    return json.loads(Path(download.value.path()).read_text(encoding="utf-8"))


def test_the_rescue_page_shows_saves_and_deletes_what_is_stored_and_the_planner_takes_it_back(
    open_page: Open, server: Server
) -> None:
    bad = "thickset.job.bad", "{ no entry"
    entries = dict([GOOD, bad])

    def put(page: Page) -> None:
        page.goto(server.url + "icon.svg")
        page.evaluate(PUT, {**entries, "of another page": "stays"})
        page.goto(server.url + "rescue.html")

    page = open_page(before=lambda page: [put(page), check(page)])
    hand.ready(page)
    hand.go(page, "jobs")
    text = json.dumps({"thickset_stored": 1, "entries": [{"key": key, "text": text} for key, text in entries.items()]})
    file = {"name": "stored.json", "mimeType": "application/json", "buffer": text.encode()}
    page.locator("#open-job").set_input_files(file)  # type: ignore[arg-type]
    expect(page.locator("#file-said")).to_contain_text("2 of 2 entries were not here and are back")
    works(page)


def check(page: Page) -> None:
    """The rescue page, from what is shown to an empty store."""
    expect(page.locator("#entries tr")).to_have_count(2)
    expect(page.locator("#entries")).to_contain_text("a job")
    saved = rescued(page)
    assert {(one["key"], one["text"]) for one in saved["entries"]} == {GOOD, ("thickset.job.bad", "{ no entry")}
    page.click("#clear")
    assert page.evaluate("localStorage.length") == 3, "deleted without being asked"
    page.click("#no")
    assert page.evaluate("localStorage.length") == 3
    page.click("#clear")
    page.click("#yes")
    expect(page.locator("#said")).to_contain_text("All is deleted")
    assert page.evaluate("Object.keys(localStorage)") == ["of another page"]


def test_the_rescue_page_shares_nothing_with_the_planner(dist: Path) -> None:
    text = (dist / "rescue.html").read_text(encoding="utf-8") + (dist / "rescue.js").read_text(encoding="utf-8")
    assert "app-" not in text
    assert "import" not in (dist / "rescue.js").read_text(encoding="utf-8").replace("imports nothing", "")


def test_the_way_to_the_rescue_page_works_where_the_planner_did_not_start(open_page: Open, server: Server) -> None:
    server.breaks("asm.wasm", lambda handler: handler.send_error(404) or True)
    page = open_page(expected=("404", ""))
    engine_ready(page, state="failed")
    page.locator('#boot-failed a[href="rescue.html"]').tap()
    expect(page).to_have_title("What is stored here · Thickset")
