"""The book of a planer, and which planer for a lot: away until they are of use, one tap each, and nothing lost on the way."""

from __future__ import annotations

import json
import re
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


def learn(page: Page) -> None:
    hand.to_more(page)
    page.locator("#more-after").evaluate("(part) => { part.open = true }")
    page.locator('[data-do="learn"]').tap()


def in_hand_as_kept(page: Page) -> None:
    hand.go(page, "planer")
    expect(page.locator("#planers [aria-current]")).to_have_text(re.compile("Old green one"))
    expect(page.locator("#planers button", has_text="Keep the changes")).to_be_hidden()


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
    expect(page.locator(".on-planers h2")).to_have_text(["Bench top", "Old green one"])
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
    learn(page)
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
    # The run that came back with it is in that book already, though its job has another id there.
    hand.go(again, "jobs")
    again.locator("#job-list .job-open", has_text="Slats").tap()
    hand.planned(again)
    learn(again)
    expect(again.locator("#undo")).to_contain_text("has learned")
    found = entries(again, ids[0].rpartition(".")[2])
    assert [one.get("of") == was.get("of") for one, was in zip(found, kept, strict=True)] == [True, False, True]
    # A job from before it all knows less than the book: the changes to the planer are kept, and the book stays.
    learned = record(page)
    hand.open_job(page, LOT)
    hand.planned(page)
    hand.go(page, "planer")
    keep = page.locator("#planers button", has_text="Keep the changes")
    expect(keep).to_be_hidden()
    hand.type_in(page, "planer.feeds[0]", "7 m/min")
    keep.tap()
    expect(page.locator("#undo")).to_contain_text("is kept on this device")
    expect(keep).to_be_hidden()
    assert (entries(page), record(page)) == (kept, learned)


def test_older_entries_are_reached_and_taken_back_and_the_book_says_why(open_page: Open, server: Server) -> None:
    book = [{"kind": "scrap", "on": "2026-11-01", "lot": f"Lot {n}", "offs": [QUIET[n % 10]]} for n in range(44)]
    stored = {"thickset.planer.a": OLD, "thickset.book.a": json.dumps({"v": 1, "entries": book})}
    page = started(open_page, server, stored)
    hand.open_job(page, LOT)
    hand.planned(page)
    open_book(page)
    expect(page.locator("#book .entries > li")).to_have_count(40)
    page.locator("#book button", has_text="Show all 45 entries").tap()
    expect(page.locator("#book .entries > li")).to_have_count(45)
    page.locator("#book [data-take-back]").last.tap()
    expect(page.locator("#book .entries > li")).to_have_count(44)
    assert [one.get("lot") for one in entries(page)][:2] == ["Lot 1", "Lot 2"]
    hand.go(page, "planer")
    page.locator("#book [data-why='book.knives']").tap()
    expect(page.locator("#why")).to_contain_text("Fed since the knives were changed")


TESTED = {"did": "test", "setting": "20", "scale": "19.9", "thickness": "20"}
NEARLY = {**LOT, "run": [*fed_at("23.2", "21.6", "20.8"), TESTED]}


def at_machine(page: Page, job: dict[str, Any]) -> None:
    hand.open_job(page, job)
    hand.planned(page)
    hand.go(page, "run")
    page.wait_for_selector("#at-machine[data-painted]", state="attached")


def on_run(page: Page, text: str) -> None:
    """Tap what begins so at the machine."""
    hand.rested(page)
    page.locator("#run button", has_text=re.compile(rf"^{text}")).first.tap()


def runs(page: Page, many: int) -> list[dict[str, Any]]:
    """The runs that the book holds, once there are so many and the core has answered."""
    page.wait_for_function(
        """(many) => JSON.parse(localStorage.getItem('thickset.book.a') ?? '{"entries":[]}')
            .entries.filter(({kind}) => kind === 'run').length === many""",
        arg=many,
    )
    return [one for one in entries(page) if one["kind"] == "run"]


def measured(page: Page, *readings: str) -> None:
    if not page.locator("#final-0").is_visible():
        on_run(page, "Enter what came out")
    for n, text in enumerate(readings):
        page.locator(f"#final-{n}").fill(text)
    hand.rested(page)
    page.locator("#finals button", has_text="Enter these").tap()
    expect(page.locator("#finals [role=status]")).to_contain_text("is entered")


def test_a_finished_run_is_in_the_book_at_once_and_its_entry_follows_it(open_page: Open, server: Server) -> None:
    page = started(open_page, server, {"thickset.planer.a": OLD})
    # One that was only opened here is none of this planer's.
    at_machine(page, {**LOT, "run": [*NEARLY["run"], *fed_at("20")]})
    assert not entries(page)
    at_machine(page, NEARLY)
    assert not entries(page)
    on_run(page, "All")
    (one,) = runs(page, 1)
    assert one["fed"] == 3.6
    assert "measured" not in one
    assert record(page)["runs"] == 4
    # The job stays on what was known before its run, and its planer is no other one for that.
    assert hand.saved_job(page)["planer"]["record"] == RECORD
    in_hand_as_kept(page)
    hand.go(page, "run")
    measured(page, "20.5")
    page.wait_for_function("() => localStorage.getItem('thickset.book.a').includes('measured')")
    (again,) = runs(page, 1)
    assert (again["measured"], again["out"], again["of"]) == (1, 1, one["of"])
    on_run(page, "Undo")
    page.wait_for_function("() => !localStorage.getItem('thickset.book.a').includes('measured')")
    assert runs(page, 1) == [one]
    on_run(page, "Undo")
    runs(page, 0)
    assert record(page)["runs"] == 3
    on_run(page, "All")
    runs(page, 1)
    # Whichever way the next lot begins, it starts from it, and nothing of it is there twice.
    hand.go(page, "jobs")
    page.locator('#jobs [data-do="own-lot"]').tap()
    expect(page.locator("#undo")).to_contain_text("A new lot.")
    assert hand.saved_job(page)["planer"]["record"] == record(page)
    in_hand_as_kept(page)
    page.locator("#undo button").tap()
    learn(page)
    expect(page.locator("#undo")).to_contain_text("had learned before")
    assert len(runs(page, 1)) == 1
    assert hand.saved_job(page)["planer"]["record"] == record(page)
    # Taken back it stays out, whatever is measured later.
    hand.rested(page)
    page.locator("#undo button").tap()
    open_book(page)
    page.locator("#book [data-take-back]").first.tap()
    runs(page, 0)
    hand.go(page, "run")
    measured(page, "20.1")
    expect(page.locator("#run")).to_contain_text("Undo: A measured")
    assert not runs(page, 0)
    # Asked for, it is learned again.
    learn(page)
    expect(page.locator("#undo")).to_contain_text("has learned")
    runs(page, 1)


HOLD = """() => new Promise((held) => {
    navigator.locks.request('thickset.book.a', () => new Promise((done) => { window.letGo = done; held() }))
})"""


def test_of_two_tabs_that_write_one_book_neither_loses_an_entry(open_page: Open, server: Server) -> None:
    first = started(open_page, server, {"thickset.planer.a": OLD})
    hand.open_job(first, LOT)
    hand.planned(first)
    open_book(first)
    second = open_page(again=first)
    hand.ready(second)
    hand.open_job(second, {**LOT, "title": "Legs"})
    hand.planned(second)
    hand.go(second, "planer")
    second.locator("#book > summary").tap()
    expect(second.locator("#book .entries > li")).to_have_count(1)
    # The second is about to write: the first waits for it, and writes on top of what it wrote.
    second.evaluate(HOLD)
    first.locator('[data-book="changed"]').tap()
    second.evaluate(
        """() => {
            const held = JSON.parse(localStorage.getItem('thickset.book.a'))
            held.entries.push({kind: 'run', lot: 'Legs'})
            localStorage.setItem('thickset.book.a', JSON.stringify(held))
            window.letGo()
        }"""
    )
    expect(first.locator("#book .entries > li").first).to_contain_text("Knives changed")
    assert [one["kind"] for one in entries(first)] == ["carried", "run", "changed"]
    # What the second still shows is older than that: it takes back what it shows, and nothing else.
    second.locator("#book [data-take-back]").first.tap()
    expect(second.locator("#book .entries > li")).to_have_count(2)
    assert [one["kind"] for one in entries(second)] == ["run", "changed"]


def test_what_is_kept_and_what_is_forgotten_is_in_the_book_at_once(open_page: Open, server: Server) -> None:
    page = started(open_page, server, {"thickset.planer.a": planer("Old green one")})
    hand.open_job(page, LOT)
    hand.planned(page)
    hand.go(page, "planer")
    page.locator("#planers button", has_text="Keep the changes").tap()
    page.wait_for_function("() => localStorage.getItem('thickset.book.a')")
    assert [one["kind"] for one in entries(page)] == ["carried"]
    assert record(page) == entries(page)[0]["record"]
    page.locator("[data-step=scrap]").evaluate("(part) => { part.closest('details').open = true }")
    page.locator("[data-step=scrap] button", has_text="Forget").tap()
    expect(page.locator("#undo")).to_contain_text("forgotten")
    hand.stored(page)
    assert [one.get("record") for one in entries(page)][-1] is None
    assert record(page) is None
    assert "record" not in hand.saved_job(page)["planer"]
    hand.go(page, "planer")
    page.locator("#book > summary").tap()
    expect(page.locator("#book .entries > li").first).to_contain_text("Forgotten")
    hand.rested(page)
    page.locator("#undo button").tap()
    expect(page.locator("#book .entries > li")).to_have_count(1)
    assert record(page)["runs"] == 3
