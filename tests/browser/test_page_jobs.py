"""A job is one's own, and one: its units, a link that is opened by itself, undo of one change, two tabs with one job."""

from __future__ import annotations

import re
from typing import Any

import hand
import pytest
from kit import Server
from phone import Open
from playwright.sync_api import Page, expect
from test_page_keeping import JOB, LEAVE
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.ground.link.link import to_link

FED = {"did": "feed", "setting": "1 in", "scale": "1 in"}
TWO = {
    **JOB,
    "title": "Two boards",
    "boards": [
        {"name": "A", "readings": ["1 1/32", "1"], "width": "6", "length": "40"},
        {"name": "B", "readings": ["1 1/16"], "width": "6", "length": "42"},
    ],
}
NO_LOCKS = "delete Navigator.prototype.locks"


def choose(page: Page, words: str) -> None:
    """Choose the units of a lot that has nothing in it yet."""
    page.locator("#units .switch label", has_text=words).tap()


# ------------------------------------------------------------ units


def test_units_are_chosen_with_the_five_numbers_and_kept_for_the_next_lot(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.own_lot(page)
    expect(page.locator("#units .switch")).to_be_in_viewport(ratio=1)
    choose(page, "Millimeters")
    expect(page.locator("#target-thickness")).to_be_focused()
    before = page.locator("#target-thickness").evaluate("(input) => input.getBoundingClientRect().top + scrollY")
    hand.type_in(page, "target.thickness", "20")
    expect(page.locator("#units .switch")).to_be_hidden()
    expect(page.locator("#units")).to_contain_text("A figure without a unit is in millimeters.")
    after = page.locator("#target-thickness").evaluate("(input) => input.getBoundingClientRect().top + scrollY")
    assert abs(after - before) < 1, "nothing moves under the thumb"
    hand.go(page, "jobs")
    page.locator('#jobs [data-do="own-lot"]').tap()
    expect(page.locator("#units input[value=mm]")).to_be_checked()
    expect(page.locator("#top input")).to_have_count(0)


def test_a_change_of_units_says_what_changes_and_waits_to_be_told(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, TWO)
    hand.planned(page)
    hand.go(page, "lot")
    page.locator("#units button", has_text="Change").tap()
    act = page.locator(".change-of-units")
    expect(act).to_contain_text("3/4 is written 3/4 in from then on")
    expect(act.locator("li", has_text="Finish cut")).to_contain_text(re.compile(r"1/32 in becomes .* mm"))
    expect(act).not_to_contain_text("Planned cut")  # it is entered
    assert hand.saved_job(page)["units"] == "in"
    hand.go(page, "lot")
    act.locator("button", has_text="Change to millimeters").tap()
    expect(act).to_be_hidden()
    hand.planned(page)
    job = hand.saved_job(page)
    assert job["units"] == "mm"
    assert job["target"]["thickness"] == "3/4 in"
    assert job["boards"][0]["readings"] == ["1 1/32 in", "1 in"]


def test_units_stay_once_a_run_has_begun_and_an_old_run_in_others_opens(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    of_metric = {"did": "feed", "setting": "26 mm", "scale": "26 mm"}
    for job, run, name in ((TWO, FED, "inches"), (DEMO_MM, of_metric, "millimeters")):
        hand.open_job(page, {**job, "run": [run]})
        hand.go(page, "run")
        expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 2")
        hand.go(page, "lot")
        page.locator("#units button", has_text="Change").tap()
        expect(page.locator(".change-of-units")).to_contain_text(f"A run has begun, and its scale is read in {name}")
        expect(page.locator(".change-of-units .strong")).to_have_count(0)
        page.locator(".change-of-units button", has_text="Leave it").tap()
        assert hand.saved_job(page)["units"] == job["units"]


def test_the_example_is_switched_on_its_page_and_opens_in_the_units_of_the_last_job(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    page.locator("#plan .units label", has_text="mm").tap()
    hand.planned(page)
    expect(page.locator("#plan [data-pass]").first).to_contain_text("mm")
    page.reload()
    expect(page.locator("#plan .units input[value=mm]")).to_be_checked()
    hand.go(page, "jobs")
    expect(page.locator(".job")).to_have_count(0)


def test_what_is_used_most_stands_at_the_top_of_the_plan(open_page: Open) -> None:
    page = open_page(script="window.printed = 0; window.print = () => { printed += 1 }")
    hand.ready(page)
    hand.planned(page)
    page.locator('#top [data-do="print"]').tap()
    page.wait_for_function("() => window.printed === 1")
    page.locator('#top [data-do="to-send"]').tap()
    expect(page.locator("#send-head")).to_be_in_viewport()
    page.keyboard.press("Escape")
    hand.go(page, "run")
    expect(page.locator('#top [data-do="print"]')).to_be_hidden()


# ------------------------------------------------------------ a link, and the example


def test_a_link_on_a_phone_without_jobs_opens_itself(open_page: Open, server: Server) -> None:
    """The plan, and at the machine when its run has begun; the example is never seen in its place."""
    for run, view in (([], "plan"), ([FED], "run")):
        page = open_page(
            before=lambda page: page.add_init_script("""
            window.seen = []
            setInterval(() => {
              const text = document.querySelector('main')?.innerText ?? ''
              if (/Bench|bench/.test(text)) seen.push(text)
            }, 5)""")
        )
        page.goto("about:blank")
        page.goto(server.url + to_link({**JOB, "title": "Of a friend", "run": run}))
        hand.planned(page)
        expect(page.locator("#title-shown")).to_have_text("Of a friend")
        expect(page.locator("html")).to_have_attribute("data-view", view)
        expect(page.locator("#incoming")).to_be_hidden()
        assert page.url == server.url
        assert page.evaluate("document.documentElement.dataset.arriving") is None
        hand.go(page, "jobs")
        expect(page.locator(".job")).to_have_count(1)


def test_the_example_is_not_seen_while_a_plan_is_on_its_way(open_page: Open, server: Server) -> None:
    page = open_page(before=lambda page: page.route("**/worker.js", lambda _route: None))
    page.goto("about:blank")
    page.goto(server.url + to_link({**JOB, "title": "Of a friend"}))
    expect(page.locator("#incoming")).to_contain_text("shown as soon as the planner is ready")
    expect(page.locator("main")).to_be_hidden()
    expect(page.locator("#title-shown")).to_have_text("A plan is being opened")
    page.locator("#incoming button", has_text="Leave it").tap()
    expect(page.locator("#plan .banner")).to_contain_text("This is an example")
    expect(page.locator("#title-shown")).to_contain_text("example")


def test_a_link_never_takes_the_place_of_a_job_in_hand(open_page: Open, server: Server) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, {**TWO, "run": [FED]})
    hand.go(page, "run")
    page.evaluate("(link) => { location.hash = link }", to_link({**JOB, "title": "Of a friend", "run": [FED]}))
    page.locator("#incoming button", has_text="Open as a new job").wait_for()
    expect(page.locator("#title-shown")).to_have_text("Two boards")
    page.locator("#incoming button", has_text="Open as a new job").tap()
    expect(page.locator("#title-shown")).to_have_text("Of a friend")
    expect(page.locator("html")).to_have_attribute("data-view", "run")


def test_the_run_of_the_example_says_so(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.go(page, "run")
    expect(page.locator("#run .banner")).to_contain_text("The example's run, to try out")
    expect(page.locator("#run .banner")).to_be_in_viewport(ratio=1)
    hand.open_job(page, TWO)
    hand.go(page, "run")
    expect(page.locator("#run .banner")).to_be_hidden()


# ------------------------------------------------------------ lots of one name


def test_lots_without_a_name_are_told_apart(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    for reading, run in (("1 1/16", []), ("1 1/8", []), ("1 1/8", [FED])):
        boards = [{"name": "A", "readings": [reading, "1"], "width": "6", "length": "40"}]
        hand.open_job(page, {**JOB, "title": "", "boards": boards, "run": run})
    hand.open_job(page, TWO)
    hand.go(page, "jobs")
    lines = page.locator(".job", has_text="Unnamed lot").locator("small").all_inner_texts()
    assert len(set(lines)) == 3
    assert [line.partition(",")[0] for line in lines] == [
        "first reading 1\N{NO-BREAK SPACE}1/8 in",
        "first reading 1\N{NO-BREAK SPACE}1/8 in",
        "first reading 1\N{NO-BREAK SPACE}1/16 in",
    ]
    assert "run begun" in lines[0]
    assert all(re.search(r"\d\d?:\d\d", line) for line in lines), "the time tells lots of one day apart"
    expect(page.locator(".job", has_text="Two boards").locator("small")).not_to_contain_text("first reading")


# ------------------------------------------------------------ undo


def delete_second(page: Page) -> None:
    """Board by board, the second board is deleted."""
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#rows li").nth(1).locator("button").first.tap()
    page.locator('[data-do="delete-board"]').tap()
    expect(page.locator("#undo")).to_contain_text("Board B is deleted")


def test_undo_takes_back_one_change_and_nothing_that_came_after(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, TWO)
    delete_second(page)
    hand.type_in(page, "target.thickness", "13/16")
    hand.type_in(page, "board.width", "5")
    page.locator("#undo button").tap()
    job = hand.saved_job(page)
    assert job["target"]["thickness"] == "13/16"
    assert [(board["name"], board["width"]) for board in job["boards"]] == [("A", "5"), ("B", "6")]


def test_undo_keeps_what_another_tab_stored(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, TWO)
    delete_second(page)
    hand.stored(page)
    page.evaluate("""() => {
      const key = Object.keys(localStorage).find((one) => one.startsWith('thickset.job.'))
      const held = JSON.parse(localStorage.getItem(key))
      held.draft.settings['target.tolerance'] = '0.01'
      const newValue = JSON.stringify(held)
      localStorage.setItem(key, newValue)
      dispatchEvent(new StorageEvent('storage', {key, newValue}))
    }""")
    page.locator("#undo button").tap()
    job = hand.saved_job(page)
    assert job["target"]["tolerance"] == "0.01"
    assert len(job["boards"]) == 2


def test_undo_goes_at_the_machine_and_touches_no_run(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, hand.scale_known(TWO))
    hand.planned(page)
    delete_second(page)
    hand.planned(page)
    hand.go(page, "run")
    expect(page.locator("#undo")).to_be_hidden()
    page.locator("#run button", has_text=re.compile("^All")).first.tap()
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 2")
    expect(page.locator("#undo")).to_be_hidden()
    assert len(hand.saved_job(page)["run"]) >= 1


def test_undo_goes_when_what_it_would_take_back_has_changed(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, TWO)
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator('[data-do="copy-board"]').tap()
    expect(page.locator("#undo")).to_be_visible()
    hand.type_in(page, "target.thickness", "13/16")
    expect(page.locator("#undo")).to_be_visible()
    hand.type_in(page, "board.width", "5")
    expect(page.locator("#undo")).to_be_hidden()


def test_a_board_comes_back_beside_one_that_took_its_name(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, TWO)
    delete_second(page)
    page.locator('[data-do="copy-board"]').tap()
    expect(page.locator("#undo")).to_contain_text("B is a copy of A")
    page.locator("#undo button").tap()
    expect(page.locator("#rows li")).to_have_count(1)


def test_undo_of_a_new_lot_leads_to_the_job_as_it_is_stored_and_goes_once_something_is_entered(
    open_page: Open,
) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, TWO)
    hand.go(page, "jobs")
    page.locator('#jobs [data-do="own-lot"]').tap()
    page.locator("#undo button").tap()
    expect(page.locator("#title-shown")).to_have_text("Two boards")
    expect(page.locator("#pad")).to_be_hidden()
    hand.go(page, "jobs")
    expect(page.locator(".job")).to_have_count(1)
    page.locator('#jobs [data-do="own-lot"]').tap()
    hand.type_in(page, "target.thickness", "1/2")
    expect(page.locator("#undo")).to_be_hidden()
    hand.go(page, "jobs")
    expect(page.locator(".job")).to_have_count(2)


# ------------------------------------------------------------ typed and not stored


def is_busy(page: Page) -> Any:
    """What a tab answers a service worker that asks whether a new version may take over."""
    return page.evaluate("""() => new Promise((resolve) => {
      const {port1, port2} = new MessageChannel()
      port1.onmessage = ({data}) => resolve(data.unsaved)
      navigator.serviceWorker.dispatchEvent(new MessageEvent('message', {data: {type: 'unsaved?'}, ports: [port2]}))
    })""")


def test_a_half_typed_reading_holds_up_a_new_version(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, {**TWO, "run": [FED]})
    hand.planned(page)
    hand.go(page, "lot")
    hand.type_in(page, "board.width", "5")
    assert is_busy(page) is False, "what is in the draft is stored"
    hand.go(page, "jobs")
    page.locator("#tables > summary").tap()
    page.locator("#table-text").fill("A, 1 1/")
    assert is_busy(page) is True
    page.locator("#table-text").fill("")
    assert is_busy(page) is False
    hand.go(page, "run")
    field = page.locator("#run input[data-key]").first
    field.evaluate("""(input) => {
      for (let at = input; at; at = at.parentElement) if (at instanceof HTMLDetailsElement) at.open = true
      input.value = '0.8'
      input.dispatchEvent(new Event('input', {bubbles: true}))
    }""")
    assert is_busy(page) is True


# ------------------------------------------------------------ two tabs


def stored_jobs(page: Page) -> list[str]:
    """The titles of the jobs in the store."""
    titles: list[str] = page.evaluate("""Object.keys(localStorage).filter((one) => one.startsWith('thickset.job.'))
      .map((one) => JSON.parse(localStorage.getItem(one)).draft.title)""")
    return titles


@pytest.mark.parametrize("script", ["", NO_LOCKS])
def test_one_tab_holds_the_pen_and_another_takes_it_over(open_page: Open, script: str) -> None:
    first = open_page(script=script)
    hand.ready(first)
    hand.open_job(first, TWO)
    hand.stored(first)
    second = open_page(script=script, again=first)
    hand.ready(second)
    expect(second.locator("#pen")).to_contain_text("Another tab works on this job")
    expect(first.locator("#pen")).to_be_hidden()
    hand.go(second, "lot")
    second.locator("#target-thickness").evaluate("""(input) => {
      input.value = '1/8'
      input.dispatchEvent(new Event('input', {bubbles: true}))
    }""")
    assert hand.shown(second, "target.thickness") == "3/4", "it only follows"
    for turn in range(4):
        here, there = (second, first) if turn % 2 == 0 else (first, second)
        hand.go(there, "lot")
        hand.go(here, "lot")
        hand.type_in(there, "board.width", f"5.{turn}")  # not stored yet when it is taken over
        hand.take_pen(here)
        expect(here.locator("#board-width")).to_have_value(f"5.{turn}")
        expect(there.locator("#pen")).to_be_visible()
        hand.type_in(here, "target.thickness", f"1{turn}/16")
        hand.stored(here)
        expect(there.locator("#target-thickness")).to_have_value(f"1{turn}/16")
    assert stored_jobs(first) == ["Two boards"]
    second.close()
    expect(first.locator("#pen")).to_be_hidden()
    hand.stored(first)
    assert stored_jobs(first) == ["Two boards"]


@pytest.mark.parametrize("script", ["", NO_LOCKS])
def test_the_pen_is_taken_from_a_tab_that_is_frozen(open_page: Open, script: str) -> None:
    """It does not answer; whatever it stored before stands, and it follows once it wakes."""
    deaf = """
    const hear = BroadcastChannel.prototype.addEventListener
    BroadcastChannel.prototype.addEventListener = function (name, does) {
      hear.call(this, name, (event) => window.deaf || does(event))
    }
    """
    first = open_page(script=deaf + script)
    hand.ready(first)
    hand.open_job(first, TWO)
    hand.stored(first)
    second = open_page(script=script, again=first)
    hand.ready(second)
    expect(second.locator("#pen")).to_be_visible()
    first.evaluate("window.deaf = true")
    hand.take_pen(second)
    hand.go(second, "lot")
    hand.type_in(second, "target.thickness", "1/2")
    hand.stored(second)
    assert stored_jobs(second) == ["Two boards"]


def test_a_tab_that_answers_late_keeps_the_pen(open_page: Open) -> None:
    """Without locks a busy tab may answer after another has given up waiting for it."""
    slow = """
    const hear = BroadcastChannel.prototype.addEventListener
    BroadcastChannel.prototype.addEventListener = function (name, does) {
      hear.call(this, name, (event) => setTimeout(does, 1500, event))
    }
    """
    first = open_page(script=slow + NO_LOCKS)
    hand.ready(first)
    hand.open_job(first, TWO)
    hand.stored(first)
    second = open_page(script=NO_LOCKS, again=first)
    expect(second.locator("#pen")).to_contain_text("Another tab works on this job")
    expect(first.locator("#pen")).to_be_hidden()
    hand.take_pen(second)
    expect(first.locator("#pen")).to_be_visible()


def test_a_reload_keeps_the_pen_and_another_job_needs_no_other(open_page: Open) -> None:
    first = open_page()
    hand.ready(first)
    hand.open_job(first, TWO)
    hand.open_job(first, {**JOB, "title": "Another"})
    hand.stored(first)
    first.reload()
    hand.ready(first)
    expect(first.locator("#pen")).to_be_hidden()
    second = open_page(again=first)
    hand.ready(second)
    expect(second.locator("#pen")).to_be_visible()
    hand.go(second, "jobs")
    second.locator(".job-open", has_text="Two boards").tap()
    expect(second.locator("#pen")).to_be_hidden()
    hand.go(second, "lot")
    hand.type_in(second, "target.thickness", "1/2")
    assert hand.saved_job(second)["target"]["thickness"] == "1/2"
    assert not first.evaluate(LEAVE)
    assert sorted(stored_jobs(first)) == ["Another", "Two boards"]
    assert DEMO_IN["title"] not in stored_jobs(first)
