"""What is entered stays: over a reload, in files, beside what another tab does, and when the storage is broken, full or forbidden."""

from __future__ import annotations

import json
from typing import Any

import hand
import pytest
from phone import Open
from playwright.sync_api import Page, expect

BOARD = {"name": "A", "readings": ["1 1/32", "1"], "width": "6", "length": "40", "species": "Oak, white"}
JOB = {
    "thickset": 1,
    "title": "Shelf <b>boards</b>",
    "units": "in",
    "target": {"thickness": "3/4"},
    "boards": [
        BOARD,
        {"name": "B", "readings": ["1 1/16"], "width": "5 1/2", "length": "42", "count": 3},
    ],
    "planer": {"feeds": ["16 ft/min", "28 ft/min"], "head": {"speed": "5000 rpm", "knives": 3}, "deepest_cut": "3/32"},
    "practice": {"cut": "1/16", "set_seconds": 25},
}
PROBLEMS: list[tuple[dict[str, object], str]] = [
    ({"target": {"thickness": "3//4"}}, "target.thickness"),
    ({"target": {}}, "target.thickness"),
    ({"target": {"thickness": "3/4", "tolerance": "x"}}, "target.tolerance"),
    ({"boards": []}, "boards"),
    ({"boards": "none"}, "boards"),
    ({"boards": [{"name": "A", "readings": [], "width": "6", "length": "40"}]}, "boards[0].readings"),
    ({"boards": [{"name": "A", "readings": ["1", "1/0"], "width": "6", "length": "40"}]}, "boards[0].readings[1]"),
    ({"boards": [BOARD, {"name": "B", "readings": ["1"], "length": "40"}]}, "boards[1].width"),
    ({"boards": [{"name": "A", "readings": ["1"], "width": "6", "length": "2 kg"}]}, "boards[0].length"),
    ({"boards": [{"name": "A", "readings": ["1"], "width": "6", "length": "40", "count": 0}]}, "boards[0].count"),
    (
        {"boards": [{"name": "A", "readings": ["1"], "width": "6", "length": "40", "species": "?"}]},
        "boards[0].species",
    ),
    ({"boards": [{"name": "A", "readings": ["1"], "width": "6", "length": "40", "knots": 3}]}, "boards[0].knots"),
    ({"planer": {"deepest_cut": "--1"}}, "planer.deepest_cut"),
    ({"planer": {"feeds": ["16 ft/min", "28"]}}, "planer.feeds[1]"),
    ({"planer": {"head": {"knives": 3}}}, "planer.head.speed"),
    ({"planer": {"known_cut": {"width": "6"}}}, "planer.known_cut.depth"),
    ({"planer": {"snipe": {"lead": "far"}}}, "planer.snipe.lead"),
    ({"planer": "mine"}, "planer"),
    ({"practice": {"cut": "1e999"}}, "practice.cut"),
    ({"practice": {"set_seconds": "soon"}}, "practice.set_seconds"),
    ({"units": "cm"}, "units"),
    ({"thickset": 2}, "thickset"),
    ({"color": "red"}, "color"),
]
NO_FIELD = {"thickset", "color", "units", "boards", "planer"}
FULL = """Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') }"""
FORBIDDEN = (
    """Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError') }})"""
)
LEAVE = """() => {
  const leaving = new Event('beforeunload', {cancelable: true})
  window.dispatchEvent(leaving)
  return leaving.defaultPrevented
}"""


def test_a_reload_keeps_everything(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()
    hand.near(page, "1 1/16")
    page.keyboard.type("1 1/")
    before = page.locator("[data-show=schedule]").inner_html()
    page.reload()
    expect(page.locator("#boards")).to_be_visible()
    expect(page.locator(".reading button")).to_have_text(["1 1/16"])
    assert hand.shown(page, "board.entry") == "1 1/"
    assert hand.shown(page, "pile.count") == "8"
    assert page.locator("[data-show=schedule]").inner_html() == before


def test_the_last_plan_is_there_before_the_engine(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, JOB)
    hand.planned(page)
    expect(page.locator("#answer [data-mechanics=surface]")).to_contain_text("Enter the cutting circle")
    before = page.locator("#answer").inner_html()
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    hand.stored(page)
    page.route("**/worker.js", lambda _route: None)
    page.reload()
    expect(page.locator("#plan")).to_be_visible()
    assert page.locator("#answer").inner_html() == before
    assert page.locator("html").get_attribute("data-engine") == "loading"
    expect(page.locator("#boot")).to_be_visible()


def test_the_example_is_there_before_the_engine(open_page: Open) -> None:
    page = open_page(before=lambda page: page.route("**/worker.js", lambda _route: None))
    expect(page.locator("#plan .banner")).to_contain_text("example")
    assert len(hand.settings(page)) > 2
    assert page.locator("html").get_attribute("data-engine") == "loading"
    hand.own_lot(page)
    hand.near(page, "3/4")
    assert hand.shown(page, "target.thickness") == "3/4"


def test_a_part_that_cannot_be_shown_stops_no_other(open_page: Open) -> None:
    page = open_page(expected=("spoiled",))
    hand.ready(page)
    hand.open_job(page, JOB)
    page.evaluate("""() => {
      const spoiled = () => { throw new Error('spoiled') }
      Object.defineProperty(document.querySelector('[data-planer=keep]'), 'textContent', {get: spoiled, set: spoiled})
    }""")
    hand.go(page, "planer")
    expect(page.locator("#trouble")).to_contain_text("A part of this page cannot be shown.")
    expect(page.locator('#trouble a[href="rescue.html"]')).to_be_visible()
    hand.go(page, "lot")
    hand.type_in(page, "target.thickness", "5/8")
    hand.planned(page)


def test_a_page_that_cannot_be_wired_says_so_and_leads_to_what_is_stored(open_page: Open) -> None:
    body = "throw new Error('spoiled')"
    page = open_page(
        expected=("spoiled",),
        before=lambda page: page.route(
            "**/main.js", lambda one: one.fulfill(body=body, content_type="text/javascript")
        ),
    )
    failed = page.locator("#boot-failed")
    expect(failed).to_contain_text("A part of the page does not work: Uncaught Error: spoiled")
    failed.locator('a[href="rescue.html"]').tap()
    expect(page.locator("#entries")).to_be_attached()


def test_a_job_document_opens_and_saves_the_same(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, JOB)
    hand.planned(page)
    expect(page.locator("#title-shown")).to_have_text("Shelf <b>boards</b>")
    assert hand.saved_job(page) == JOB


def test_every_problem_stands_beside_its_field_and_in_the_list(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    for change, path in PROBLEMS:
        hand.open_job(page, {**JOB, **change})
        page.wait_for_selector('html[data-plan="stale"]', state="attached")
        item = page.locator(f'#problems li[data-at="{path}"]')
        expect(item).to_have_count(1)
        text = item.inner_text()
        if path in NO_FIELD:
            continue
        beside = page.locator("main .problem", has_text=text.partition(": ")[2] or text)  # the label says the rest
        expect(beside).to_have_count(1)
        place = beside.locator("xpath=..").get_attribute("data-at") or ""
        assert place
        assert path.startswith(place) or place.startswith(path), (path, place)


def test_a_problem_leads_to_its_field(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, {**JOB, "planer": {"snipe": {"lead": "far"}}})
    page.locator("#problems li button").first.tap()
    expect(page.locator('[data-field="planer.snipe.lead"] input')).to_be_focused()
    page.keyboard.press("Control+A")
    page.keyboard.type("4")
    hand.planned(page)
    assert hand.problems(page) == []


def test_what_is_no_job_document_is_refused_in_words(open_page: Open) -> None:
    page = open_page()
    hand.go(page, "jobs")
    hand.open_job(page, "<html>")
    expect(page.locator("#file-said")).to_contain_text("holds no job. Open a file that this page saved.")
    expect(page.locator("#title-shown")).not_to_have_text("Unnamed lot")


@pytest.mark.parametrize(("script", "word"), [(FULL, "full"), (FORBIDDEN, "does not let")])
def test_a_storage_that_fails_is_told_at_once_and_work_goes_on(open_page: Open, script: str, word: str) -> None:
    page = open_page(script=script)
    hand.ready(page)
    expect(page.locator("#trouble")).to_contain_text(word)
    hand.pile(page)
    hand.planned(page)
    assert page.evaluate(LEAVE), "it may be left with all that was entered"
    assert hand.saved_job(page)["boards"][0]["count"] == 8
    expect(page.locator("#trouble")).to_be_in_viewport()
    assert not page.evaluate(LEAVE), "it is in a file now"
    page.locator("#trouble button", has_text="Go on").tap()
    expect(page.locator("#trouble")).to_be_hidden()


def test_a_bar_that_comes_and_goes_moves_nothing_under_the_finger(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.go(page, "lot")
    place = "document.querySelector('#target-thickness').getBoundingClientRect().top"
    before = page.evaluate(place)
    page.evaluate(f"() => {{ {FULL} }}")
    hand.go(page, "lot")
    page.locator("#trouble").wait_for()
    assert abs(page.evaluate(place) - before) < 1
    page.locator("#trouble button", has_text="Go on").tap()
    expect(page.locator("#trouble")).to_be_hidden()
    assert abs(page.evaluate(place) - before) < 1


def set_aside(page: Page) -> list[str]:
    """The texts of the damaged entries, as they were found."""
    kept = page.evaluate(
        "Object.keys(localStorage).filter((key) => key.includes('aside')).map((key) => localStorage.getItem(key))"
    )
    return [json.loads(text)["text"] for text in kept]


def put_in_store(page: Page, entries: dict[str, Any]) -> None:
    """Have these entries in the store before the page looks at it."""
    page.goto(page.url + "icon.svg")
    page.evaluate(
        "(all) => Object.entries(all).forEach(([key, value]) => localStorage.setItem(`thickset.${key}`, JSON.stringify(value)))",
        entries,
    )
    page.go_back()
    hand.ready(page)


LOSSY: dict[str, Any] = {
    "job.a": {
        "draft": {"title": "Shelf", "boards": ["A 1 1/16", {"name": "B", "readings": "1"}], "run": [{"did": "feed"}]}
    },
    "planer.b": {"name": "Green", "settings": {"planer.step": "1/64", "planer.color": "green"}},
    "job.later": {"v": 9, "draft": {"title": "Later"}},
}


def test_a_repair_that_loses_something_sets_the_text_aside_first(open_page: Open) -> None:
    page = open_page()
    put_in_store(page, LOSSY)
    hand.go(page, "jobs")
    expect(page.locator("#trouble")).to_contain_text("damaged")
    expect(page.locator("#trouble")).to_contain_text("newer version")
    for _ in range(2):
        hand.go(page, "jobs")
        expect(page.locator("#aside")).to_contain_text("2 entries were damaged")
        assert [json.loads(text) for text in sorted(set_aside(page))] == [LOSSY["job.a"], LOSSY["planer.b"]]
        page.reload()
        hand.ready(page)
    hand.go(page, "jobs")
    page.locator(".job-open", has_text="Shelf").tap()
    saved = hand.saved_job(page)
    assert saved["boards"][0]["readings"] == ["1"]
    assert saved["run"] == [{"did": "feed"}]
    assert json.loads(page.evaluate("localStorage.getItem('thickset.job.later')")) == LOSSY["job.later"]


def test_what_cannot_be_set_aside_stays_where_it_is(open_page: Open) -> None:
    page = open_page(
        script="""const set = Storage.prototype.setItem
        Storage.prototype.setItem = function (key, text) {
          if (key.includes('aside')) throw new DOMException('full', 'QuotaExceededError')
          set.call(this, key, text)
        }"""
    )
    put_in_store(page, {"job.a": LOSSY["job.a"]})
    hand.go(page, "jobs")
    expect(page.locator("#trouble")).to_contain_text("full")
    page.locator(".job-open", has_text="Shelf").tap()
    hand.go(page, "jobs")
    hand.type_in(page, "title", "Shelves")
    hand.stored(page)
    assert json.loads(page.evaluate("localStorage.getItem('thickset.job.a')")) == LOSSY["job.a"]


@pytest.mark.parametrize(
    "damage", ["{", "[]", '"x"', '{"v":1,"draft":{"boards":[{"readings":[null,7]},3],"pile":null}}', '{"draft":5}']
)
def test_a_damaged_job_is_mended_or_set_aside(open_page: Open, damage: str) -> None:
    page = open_page()
    hand.pile(page)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    hand.stored(page)
    page.goto(page.url.rsplit("/", 1)[0] + "/icon.svg")
    key = page.evaluate("Object.keys(localStorage).find((key) => key.startsWith('thickset.job.'))")
    page.evaluate("([key, text]) => localStorage.setItem(key, text)", [key, damage])
    page.go_back()
    hand.ready(page)
    expect(page.locator("#trouble")).to_contain_text("set aside")
    assert set_aside(page).count(damage) == 1
    page.reload()
    hand.ready(page)
    hand.go(page, "jobs")
    assert set_aside(page).count(damage) == 1
    hand.go(page, "lot")
    expect(page.locator("#target-thickness")).to_be_visible()


def test_what_a_newer_version_kept_is_left_alone(open_page: Open) -> None:
    page = open_page()
    hand.open_job(page, JOB)
    hand.stored(page)
    newer = json.dumps({"v": 2, "draft": {"title": "Later", "knots": [1]}})
    page.evaluate("(text) => localStorage.setItem('thickset.job.later', text)", newer)
    page.reload()
    hand.go(page, "jobs")
    expect(page.locator("#trouble")).to_contain_text("newer version")
    expect(page.locator(".job b")).to_have_text([JOB["title"]])
    hand.type_in(page, "title", "Shelf")
    hand.stored(page)
    assert page.evaluate("localStorage.getItem('thickset.job.later')") == newer


def test_damaged_entries_are_got_out_or_thrown_away(open_page: Open) -> None:
    page = open_page()
    hand.go(page, "jobs")
    expect(page.locator("#aside")).to_be_hidden()
    texts = {"thickset.job.one": "{", "thickset.planer.two": '"\u2603 <b>'}
    page.evaluate("(texts) => Object.entries(texts).forEach(([key, text]) => localStorage.setItem(key, text))", texts)
    page.reload()
    hand.go(page, "planer")
    hand.go(page, "plan")
    page.locator("#trouble button").first.tap()
    expect(page.locator("#aside")).to_contain_text("2 entries were damaged and set aside")
    with page.expect_download() as download:
        page.locator("#aside button", has_text="Save them").tap()
    saved = json.loads(download.value.path().read_text(encoding="utf-8"))
    assert {entry["key"]: entry["text"] for entry in saved["entries"]} == texts
    page.locator("#aside button", has_text="Throw them").tap()
    expect(page.locator("#aside")).to_be_hidden()
    page.locator("#undo button").tap()
    expect(page.locator("#aside")).to_contain_text("2 entries")
    hand.open_job(page, saved)
    expect(page.locator("#file-said")).to_contain_text("no job can be opened from it")
    page.locator("#aside button", has_text="Throw them").tap()
    hand.stored(page)
    page.reload()
    hand.go(page, "jobs")
    expect(page.locator("#job-list")).to_be_visible()
    expect(page.locator("#aside")).to_be_hidden()
    expect(page.locator("#trouble")).to_be_hidden()


def test_whatever_stands_in_the_store_every_part_of_the_page_opens(open_page: Open) -> None:
    junk: dict[str, Any] = {
        "job.a": {
            "draft": {
                "extra": {"run": [None, {"did": "feed"}], "parts": [None, 3], "planer": {"record": 7}},
                "boards": [{"readings": "x"}, None],
                "settings": {"target.thickness": {}},
            },
            "touched": "x",
        },
        "job.b": {"draft": {"units": "mm", "title": {"a": 1}, "pile": {"count": "1e9"}}, "touched": 1e300},
        "planer.x": {"name": 5, "settings": "x", "record": 3},
        "planer.y": {"v": 1},
        "now": {"job": "a", "view": "run", "way": "zzz", "keys": "x", "scale": 5, "board": [1]},
        "answer": {"job": "a", "of": 5, "html": {"summary": 7}},
    }
    page = open_page()
    page.goto(page.url + "icon.svg")
    page.evaluate(
        "(junk) => Object.entries(junk).forEach(([key, value]) => localStorage.setItem(`thickset.${key}`, JSON.stringify(value)))",
        junk,
    )
    page.go_back()
    hand.ready(page)
    for view in ("run", "lot", "planer", "jobs"):
        hand.go(page, view)
    assert sorted(page.locator("#job-rows b").all_inner_texts()) == ["Unnamed lot", '{"a":1}']
    assert "Invalid" not in page.locator("#job-list").inner_text()
    for number in (0, 1):
        page.locator("#job-rows .job-open").nth(number).tap()
        for view in ("run", "lot", "planer", "jobs"):
            hand.go(page, view)
    hand.go(page, "planer")
    assert sorted(page.locator("#planers b").all_inner_texts()) == ["5", "My planer"]


def test_the_jobs_on_the_device(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    for title in ("Shelf", "Bench"):
        hand.open_job(page, {**JOB, "title": title})
        hand.planned(page)
    hand.go(page, "jobs")
    expect(page.locator(".job b")).to_have_text(["Bench", "Shelf"])
    page.locator(".job", has_text="Shelf").locator("button[aria-expanded]").tap()
    page.locator(".job-more button", has_text="Copy").tap()
    expect(page.locator(".job b")).to_have_text(["Shelf, copy", "Bench", "Shelf"])
    page.locator(".job").nth(2).locator(".job-more button", has_text="Rename").tap()
    page.locator(".job-more input").fill("Shelf of oak")
    page.locator(".job-more button").tap()
    expect(page.locator(".job b")).to_have_text(["Shelf, copy", "Bench", "Shelf of oak"])
    page.locator(".job", has_text="Bench").locator("button[aria-expanded]").tap()
    page.locator(".job-more button", has_text="Delete").tap()
    expect(page.locator(".job b")).to_have_text(["Shelf, copy", "Shelf of oak"])
    page.locator("#undo button").tap()
    expect(page.locator(".job b")).to_have_text(["Shelf, copy", "Bench", "Shelf of oak"])
    page.locator(".job-open", has_text="Shelf of oak").tap()
    hand.planned(page)
    expect(page.locator("#title-shown")).to_have_text("Shelf of oak")


def test_all_jobs_to_one_file_and_back(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    for title in ("Shelf", "Bench"):
        hand.open_job(page, {**JOB, "title": title})
        hand.planned(page)
    hand.go(page, "jobs")
    with page.expect_download() as download:
        page.locator('[data-do="save-all"]').tap()
    text = download.value.path().read_text(encoding="utf-8")
    other = open_page()
    hand.open_job(other, {**JOB, "title": "Bench"})
    hand.open_job(other, text)
    hand.go(other, "jobs")
    expect(other.locator("#file-said")).to_contain_text("1 of 2 jobs were new")
    assert sorted(other.locator(".job b").all_inner_texts()) == ["Bench", "Shelf"]


def all_in_one_file(page: Page) -> dict[str, Any]:
    """The file of all jobs and planers."""
    hand.go(page, "jobs")
    with page.expect_download() as download:
        page.locator('[data-do="save-all"]').tap()
    kept: dict[str, Any] = json.loads(download.value.path().read_text(encoding="utf-8"))
    return kept


def test_planers_go_along_and_are_merged_without_loss(open_page: Open) -> None:
    record = {"offset": 0.2, "offset_worth": 1, "spread": 0.05, "spread_worth": 5, "runs": 1, "fed": 0}
    page = open_page()
    hand.ready(page)
    hand.open_job(page, {**JOB, "planer": {"name": "Old green one", "feeds": ["16 ft/min"], "record": record}})
    hand.go(page, "planer")
    page.locator('[data-planer="keep"]').tap()
    kept = all_in_one_file(page)
    assert [planer["name"] for planer in kept["planers"]] == ["Old green one"]
    hand.open_job(page, kept)
    expect(page.locator("#file-said")).to_contain_text("0 of 1 jobs were new and are in the list; 0 of 1 planers")
    other = open_page()
    hand.ready(other)
    hand.open_job(other, {**JOB, "planer": {"name": "Old green one", "feeds": ["28 ft/min"]}})
    hand.go(other, "planer")
    other.locator('[data-planer="keep"]').tap()
    hand.open_job(other, {**kept, "planers": [*kept["planers"], "junk", None, {"settings": {"planer.step": 7}}]})
    hand.go(other, "planer")
    assert sorted(other.locator("#planers b").all_inner_texts()) == ["My planer", "Old green one", "Old green one 2"]
    both = all_in_one_file(other)
    assert len(both["jobs"]) == 2
    merged = next(planer for planer in both["planers"] if planer["name"] == "Old green one 2")
    assert {**merged, "name": "Old green one"} == kept["planers"][0]


def test_a_planer_of_which_only_a_record_is_kept_goes_along(open_page: Open) -> None:
    record = {"offset": 0.2, "offset_worth": 1, "spread": 0.05, "spread_worth": 5, "runs": 1, "fed": 0}
    page = open_page()
    put_in_store(page, {"planer.a": {"name": "Green", "units": "in", "settings": {}, "record": record}})
    hand.open_job(page, JOB)
    kept = all_in_one_file(page)
    other = open_page()
    hand.open_job(other, kept)
    expect(other.locator("#file-said")).to_contain_text("1 of 1 planers were new")
    assert all_in_one_file(other)["planers"] == kept["planers"]
    hand.open_job(other, kept)
    expect(other.locator("#file-said")).to_contain_text("0 of 1 planers were new")


def test_what_was_set_aside_goes_along_in_the_file_of_all(open_page: Open) -> None:
    page = open_page()
    put_in_store(page, LOSSY)
    kept = all_in_one_file(page)
    assert {entry["key"]: json.loads(entry["text"]) for entry in kept["aside"]} == {
        f"thickset.{key}": value for key, value in LOSSY.items()
    }
    other = open_page()
    for new in (3, 0):
        hand.open_job(other, kept)
        expect(other.locator("#file-said")).to_contain_text(f"{new} of 3 entries set aside were new")
    hand.go(other, "jobs")
    expect(other.locator("#aside")).to_contain_text("3 entries")


def test_a_year_of_jobs_is_saved_and_brought_back(open_page: Open) -> None:
    boards = [{**BOARD, "name": f"{n}", "readings": ["1 1/32", "1 3/64", "1", "63/64", "1 1/16"]} for n in range(30)]
    draft = {"units": "in", "settings": {"target.thickness": "3/4"}, "boards": boards}
    jobs = {f"job.{n}": {"v": 1, "touched": n + 1, "draft": {**draft, "title": f"Lot {n}"}} for n in range(881)}
    page = open_page()
    put_in_store(page, jobs)
    hand.go(page, "jobs")
    with page.expect_download() as download:
        page.locator('[data-do="save-all"]').tap()
    text = download.value.path().read_text(encoding="utf-8")
    assert text.count("\n") == 1
    assert len(json.dumps(json.loads(text), indent=2)) > 7_000_000
    other = open_page()
    hand.open_job(other, json.dumps(json.loads(text), indent=2))
    expect(other.locator("#file-said")).to_contain_text("881 of 881 jobs were new")
    hand.open_job(other, text)
    expect(other.locator("#file-said")).to_contain_text("0 of 881 jobs were new")


@pytest.mark.parametrize(("version", "words"), [(2, "newer version of this page"), ("x", "no list of jobs")])
def test_a_file_of_all_that_this_page_does_not_know_is_refused(open_page: Open, version: object, words: str) -> None:
    page = open_page()
    hand.open_job(page, {"thickset_jobs": version, "jobs": []})
    expect(page.locator("#file-said")).to_contain_text(words)
    hand.go(page, "jobs")
    expect(page.locator(".job")).to_have_count(0)


def test_the_list_says_how_far_each_run_is(open_page: Open) -> None:
    fed = [{"did": "feed", "setting": setting, "scale": setting} for setting in ("7/8 in", "13/16 in", "19.05 mm")]
    page = open_page()
    hand.ready(page)
    junk = [None, 3, {"did": "feed", "setting": {"x": 1}}]
    lower = [*fed, {"did": "retarget", "thickness": "0.7 in"}, {"did": "feed", "setting": "0.7 in", "scale": "0.7 in"}]
    runs = {"None": [], "Begun": [{"did": "check", "thickness": "1"}], "Junk": junk, "One": fed[:1], "All": fed}
    runs["Lower"] = lower
    for title, run in runs.items():
        hand.open_job(page, {**JOB, "title": title, "run": run})
    hand.go(page, "jobs")
    expect(page.locator(".job small")).to_contain_text(
        [
            "4 boards to 0.7 in, run begun, last fed at the target",
            "4 boards to 3/4 in, run begun, last fed at the target",
            "run begun, last fed at 7/8 in",
            "run begun",
            "run begun",
            "4 boards to 3/4 in",
        ]
    )
    for small in page.locator(".job small").all_inner_texts():
        assert page.evaluate("String(new Date().getFullYear())") in small


def test_many_jobs_are_searched(open_page: Open) -> None:
    page = open_page()
    hand.go(page, "jobs")
    titles = ["Shelf", "Bench", *(f"Lot {n}" for n in range(6))]
    jobs = [{"touched": n, "document": {**JOB, "title": title}} for n, title in enumerate(titles)]
    hand.open_job(page, {"thickset_jobs": 1, "jobs": jobs[1:]})
    expect(page.locator(".job")).to_have_count(7)
    expect(page.locator("#job-search")).to_be_hidden()
    hand.open_job(page, {"thickset_jobs": 1, "jobs": [*jobs, None, 3, {"document": []}]})
    expect(page.locator("#file-said")).to_contain_text("1 of 11 jobs were new")
    page.locator("#job-search").fill("SHEL")
    expect(page.locator(".job b")).to_have_text(["Shelf"])
    page.locator("#job-search").fill("nothing of the kind")
    expect(page.locator("#job-list")).to_contain_text("No job has that in its name")
    page.locator("#job-search").fill("")
    expect(page.locator(".job")).to_have_count(8)


@pytest.mark.parametrize("promised", [True, False])
def test_the_browser_is_asked_to_keep_what_is_entered_and_its_answer_is_told(open_page: Open, promised: bool) -> None:
    asked = f"""
    window.asked = 0
    StorageManager.prototype.persist = async () => {{ asked += 1; return {str(promised).lower()} }}
    StorageManager.prototype.persisted = async () => asked > 0 && {str(promised).lower()}
    """
    page = open_page(script=asked)
    hand.ready(page)
    assert page.evaluate("window.asked") == 0, "nothing of one's own is there yet"
    hand.open_job(page, JOB)
    hand.open_job(page, {**JOB, "title": "Another"})
    assert page.evaluate("window.asked") == 1
    hand.go(page, "jobs")
    expect(page.locator("#jobs")).to_contain_text("A browser may drop them when it is short of space")
    expect(page.locator("#jobs")).to_contain_text("home screen keeps jobs of its own")
    expect(page.locator("#kept")).to_have_text(
        "This browser has promised to keep what is here until you delete it." if promised else ""
    )


def test_two_tabs_on_one_job_do_not_overwrite_each_other(open_page: Open) -> None:
    first = open_page()
    hand.pile(first)
    hand.stored(first)
    second = open_page(again=first)
    hand.go(second, "lot")
    hand.take_pen(second)
    hand.type_in(second, "pile.count", "11")
    hand.stored(second)
    expect(first.locator("#pile-count")).to_have_value("11")
    hand.go(first, "lot")
    hand.take_pen(first)
    hand.type_in(first, "pile.widest", "7")
    expect(second.locator("#pile-widest")).to_have_value("7")
    assert hand.shown(second, "pile.count") == "11"


def in_hand(page: Page) -> str:
    """The title at the top."""
    return page.locator("#title-shown").inner_text()


def test_the_example_stays_what_it_is(open_page: Open) -> None:
    page = open_page()
    title = in_hand(page)
    hand.go(page, "lot")
    hand.type_in(page, "target.thickness", "1/2")
    assert in_hand(page) == f"{title}, changed"
    expect(page.locator("#lot .banner")).to_be_hidden()
    page.reload()
    assert in_hand(page) == f"{title}, changed"


def test_nothing_of_another_job_stays_beside_one_that_cannot_be_planned(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.go(page, "run")
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 1")
    hand.open_job(page, {**JOB, "boards": [{"name": "A", "readings": ["3//4"], "width": "20", "length": "40"}]})
    expect(page.locator("#problems li")).to_have_count(1)
    assert hand.settings(page) == []
    expect(page.locator("#plan-state")).to_be_empty()
    hand.go(page, "run")
    expect(page.locator("#at-machine")).not_to_contain_text("Pass 1")
