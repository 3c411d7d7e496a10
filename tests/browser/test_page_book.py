"""The book of a planer, and which planer for a lot: away until they are of use, one tap each, and nothing lost on the way."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import hand
from kit import Server
from lots import fed_at, metric, metric_lot
from phone import Open, started
from playwright.sync_api import Page, expect

QUIET = [0.11, 0.09, 0.12, 0.1, 0.13, 0.08, 0.1, 0.11, 0.09, 0.12]
RECORD = {"offset": 0.1, "offset_worth": 4, "spread": 0.05, "spread_worth": 5, "runs": 3, "fed": 100}
LOT = metric_lot(
    metric("24", "23.4", name="A", width="120", length="900"),
    title="Slats",
    planer={"name": "Old green one", "feeds": ["6 m/min"], "record": RECORD},
)


def planer(name: str, **more: Any) -> str:
    settings = {"planer.name": name, "planer.feeds[0]": "6 m/min", **more.pop("settings", {})}
    return json.dumps({"v": 1, "name": name, "units": "mm", "settings": settings, **more})


OLD = planer("Old green one", record=RECORD)


def entries(page: Page, id_: str = "a") -> list[dict[str, Any]]:
    """The entries of a planer's book as they are stored."""
    hand.stored(page)
    held = page.evaluate(f"localStorage.getItem('thickset.book.{id_}')")
    return list(json.loads(held)["entries"]) if held else []


def record(page: Page) -> Any:
    """What is known of the kept planer."""
    hand.stored(page)
    return json.loads(page.evaluate("localStorage.getItem('thickset.planer.a')")).get("record")


def open_book(page: Page) -> None:
    hand.go(page, "planer")
    page.locator("#book > summary").tap()
    expect(page.locator("#book .entries")).to_be_visible()


def test_neither_stands_in_the_way_of_one_lot_on_one_planer(open_page: Open, server: Server) -> None:
    page = started(open_page, server, {"thickset.planer.a": planer("Old green one")})
    hand.open_job(page, {**LOT, "planer": {"name": "Old green one", "feeds": ["6 m/min"]}})
    hand.planned(page)
    hand.go(page, "planer")
    expect(page.locator("#planers b")).to_have_text(["Old green one"])
    expect(page.locator("#which")).to_be_hidden()
    expect(page.locator("#book")).to_be_hidden()


def test_the_plan_on_each_planer_stands_side_by_side_and_one_tap_takes_it(open_page: Open, server: Server) -> None:
    narrow = planer("Bench top", settings={"planer.widest": "100"})
    page = started(open_page, server, {"thickset.planer.a": OLD, "thickset.planer.b": narrow})
    hand.open_job(page, LOT)
    hand.planned(page)
    hand.go(page, "planer")
    page.locator("#which > summary").tap()
    expect(page.locator(".on-planers h3")).to_have_text(["Bench top", "Old green one"])
    one, other = page.locator(".on-planers > li").all()
    expect(one).to_contain_text("120 mm is wider than 100 mm")
    expect(other).to_contain_text("passes, about")
    expect(other).to_contain_text("In hand.")
    other.locator("[data-why]").tap()
    expect(page.locator("#why")).to_contain_text("min")
    page.keyboard.press("Escape")
    one.locator("[data-use-planer]").tap()
    expect(page.locator("#undo")).to_contain_text("This job is for Bench top now.")
    assert hand.shown(page, "planer.widest") == "100"
    hand.rested(page)
    page.locator("#undo button").tap()
    assert hand.shown(page, "planer.name") == "Old green one"


def test_a_book_says_what_its_entries_say_and_each_is_taken_back(open_page: Open, server: Server) -> None:
    book = [{"kind": "scrap", "on": "2026-11-01", "offs": [off]} for off in [*QUIET, 0.5]]
    page = started(
        open_page, server, {"thickset.planer.a": OLD, "thickset.book.a": json.dumps({"v": 1, "entries": book})}
    )
    hand.open_job(page, LOT)
    hand.planned(page)
    open_book(page)
    # The record was learned without the book: it is carried over, and stays what it is.
    expect(page.locator("#book .entries > li")).to_have_count(12)
    assert entries(page)[-1]["kind"] == "carried"
    assert record(page) == RECORD
    newest = page.locator("#book [data-take-back]").first
    newest.tap()
    expect(page.locator("#undo")).to_contain_text("taken back")
    expect(page.locator("#book .entries > li")).to_have_count(11)
    expect(page.locator("#book .knocked")).to_contain_text("the scale was knocked")
    assert record(page)["since_knock"] == 1
    # The job in hand knew what the book said, and knows what it says now.
    assert hand.saved_job(page)["planer"]["record"] == record(page)
    hand.go(page, "planer")
    page.locator("#undo button").tap()
    expect(page.locator("#book .entries > li")).to_have_count(12)
    assert record(page) == RECORD
    hand.rested(page)
    page.locator('[data-book="changed"]').tap()
    expect(page.locator("#book .entries > li").first).to_contain_text("Knives changed")
    assert record(page)["fed"] == 0
    with page.expect_download() as download:
        page.locator('[data-book="csv"]').tap()
    assert len(Path(download.value.path()).read_text(encoding="utf-8").splitlines()) == 14
    page.evaluate("localStorage.setItem('thickset.much', 'a'.repeat(4000000))")
    hand.rested(page)
    page.locator('[data-book="turned"]').tap()
    expect(page.locator("#trouble")).to_contain_text("nearly full")


def test_a_run_that_is_kept_and_a_scrap_leave_entries_with_a_word_on_the_surface(
    open_page: Open, server: Server
) -> None:
    page = started(open_page, server, {"thickset.planer.a": OLD})
    job = {**LOT, "run": [*fed_at("23.2", "21.6", "20.8"), {"did": "check", "thickness": "20.9 mm"}, *fed_at("20")]}
    hand.open_job(page, job)
    hand.planned(page)
    hand.to_more(page)
    page.locator("#more-after > summary").tap()
    page.locator('[data-do="learn"]').tap()
    expect(page.locator("#undo")).to_contain_text("has learned")
    assert [(one["kind"], one.get("lot")) for one in entries(page)] == [("carried", None), ("run", "Slats")]
    assert record(page)["fed"] > 100
    open_book(page)
    page.locator("[data-word]").select_option("dull")
    expect(page.locator("#book .entries > li").first).to_contain_text("Surface: too dull")
    page.locator("[data-step=scrap]").evaluate("(part) => { part.closest('details').open = true }")
    page.locator("#scrap-scale").fill("20")
    page.locator("#scrap-measured").fill("20.1")
    page.locator("[data-step=scrap] .strong").tap()
    expect(page.locator("#book .entries > li").first).to_contain_text("Scrap measured")
    kept = entries(page)
    assert [one["kind"] for one in kept] == ["carried", "run", "scrap"]
    assert kept[1]["word"] == "dull"
    # All of it goes into the file of all, and comes back from it.
    hand.go(page, "jobs")
    with page.expect_download() as download:
        page.locator('#jobs [data-do="save-all"]').tap()
    saved = json.loads(Path(download.value.path()).read_text(encoding="utf-8"))
    assert [one["book"] for one in saved["planers"]] == [kept]
    assert all("book" not in json.dumps(one["document"]) for one in saved["jobs"])
    again = open_page()
    hand.ready(again)
    hand.open_job(again, saved)
    hand.stored(again)
    ids = again.evaluate("Object.keys(localStorage).filter((key) => key.startsWith('thickset.book.'))")
    assert [entries(again, one.rpartition(".")[2]) for one in ids] == [kept]
