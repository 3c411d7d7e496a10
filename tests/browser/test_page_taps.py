"""A second tap at one place: whatever a hand does twice by accident at the machine is done once, and is seen to be."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import partial
from typing import Any

import hand
import pytest
from amounts import HOW
from phone import Open
from playwright.sync_api import Locator, Page, expect
from test_page_machine import LONG_LOT
from test_page_run import JOB, at_the_machine

THREE: dict[str, Any] = {**JOB, "boards": [*JOB["boards"], {**JOB["boards"][1], "name": "C"}]}  # type: ignore[misc,index]

SOON = (60, 120, 350, 600)
"""How long after the first tap the second one comes [ms]: the waits of these tests are what they test."""

STATE = """() => JSON.stringify({
  why: document.querySelector('#why').open,
  view: document.documentElement.dataset.view,
  head: document.querySelector('#run h2')?.textContent,
  pressed: [...document.querySelectorAll('#run [aria-pressed=true]')].map(one => one.textContent),
  open: [...document.querySelectorAll('#run details[open] > summary, #finals details[open] > summary')].map(one => one.textContent),
  undo: document.querySelector('#run [data-undo]')?.textContent,
  board: document.querySelector('#final-board')?.value,
  texts: [...document.querySelectorAll('input')].map(one => one.value),
  pad: document.querySelector('#pad').innerText,
})"""
KIND = """() => {
  const groups = document.querySelectorAll('#run .group').length
  return groups ? `feed ${groups}` : document.querySelector('#run .test-piece') ? 'test' : 'end'
}"""
SETTLED = """() => {
  const now = (document.querySelector('#at-machine').innerHTML + document.querySelector('#pad').innerHTML).length
  const same = window.was === now
  window.was = now
  return same
}"""


def place(control: Locator) -> tuple[float, float]:
    """The middle of a control that a thumb can reach, brought into view where it is not."""
    control.scroll_into_view_if_needed()
    box = control.bounding_box()
    assert box
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def settle(page: Page) -> None:
    """Wait until nothing of the screen changes any more, and a next tap is no second one."""
    hand.rested(page)
    page.wait_for_function(SETTLED, polling=150)


def taps(page: Page, at: tuple[float, float], wait: int | None) -> str:
    """What the page is like after one tap, or a second one so much later [ms]."""
    page.touchscreen.tap(*at)
    if wait is not None:
        page.wait_for_timeout(wait)
        page.touchscreen.tap(*at)
    settle(page)
    state: str = page.evaluate(STATE)
    return state


def begun(page: Page, job: dict[str, Any], view: str = "run") -> None:
    """The job is open where its run stands."""
    page.evaluate("document.querySelector('#why').close()")
    hand.go(page, "jobs")
    hand.open_job(page, job)
    hand.planned(page)
    hand.go(page, view)
    settle(page)


def at_each_kind(page: Page, job: dict[str, Any]) -> dict[str, list[dict[str, Any]]]:
    """The events of a run up to each kind of step, as the page's own buttons make them; the page is left anywhere."""
    found: dict[str, list[dict[str, Any]]] = {}
    events: list[dict[str, Any]] = []
    begun(page, job)
    for _ in range(30):
        kind = page.evaluate(KIND)
        found.setdefault(kind, list(events))
        huge = page.locator("#run .huge")
        if not huge.count():
            break
        events.append(json.loads(huge.get_attribute("data-event") or ""))
        begun(page, {**job, "run": events})
    return found


RUN = "#at-machine :is(button, summary):visible:enabled"
KEYS = "#pad button:visible:enabled"
FINALS = "#finals :is(button, summary):visible:enabled"


def twice_as_once(page: Page, open_it: Callable[[], None], which: str, *, repeats: bool = False) -> int:
    """Each control tapped twice leaves what one tap leaves; how many there were. Digits of a number are meant to be tapped again."""
    open_it()
    count = page.locator(which).count()
    for n in range(count):
        once = ""
        for wait in (None, *(SOON if HOW == "long" else [SOON[n % len(SOON)]])):
            open_it()
            control = page.locator(which).nth(n)
            label, again = control.inner_text(), control.get_attribute("data-repeats") is not None
            state = taps(page, place(control), wait)
            if wait is None:
                once = state
            elif repeats and again:
                assert state != once, label
            else:
                assert state == once, f"{label}, {wait} ms"
                expect(page.locator("#tapped-twice")).to_be_empty()
    return count


def test_no_control_of_a_run_does_more_when_it_is_tapped_twice(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    kinds = at_each_kind(page, THREE)
    assert {"feed 1", "test", "end"} <= set(kinds)
    tapped = {
        kind: twice_as_once(page, partial(begun, page, {**THREE, "run": events}), RUN) for kind, events in kinds.items()
    }
    assert tapped["feed 1"] >= 6
    assert tapped["test"] >= 5
    assert tapped["end"] >= 2


def test_no_control_of_what_is_not_right_does_more_when_it_is_tapped_twice(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)

    def open_it() -> None:
        begun(page, JOB)
        page.locator("#run .surprises > summary").tap()
        settle(page)

    assert twice_as_once(page, open_it, RUN) >= 10


@pytest.mark.parametrize("field", ["pile.thickest", "pile.count", "target.thickness"])
def test_no_key_of_a_pad_does_more_when_it_is_tapped_twice_but_the_digits(open_page: Open, field: str) -> None:
    page = open_page()
    hand.ready(page)

    def open_it() -> None:
        begun(page, JOB, "lot")
        page.locator("#way label", has_text="Whole pile").tap()
        page.locator(f'[data-field="{field}"] input').tap()
        settle(page)
        # A device keeps its keyboard and its scale from one opening to the next.
        for button, kept in (("Pad", "ABC"), ("64ths", "Digits"), ("Digits", "16ths"), ("16ths", "32nds")):
            if page.locator("#pad .pad-head button:visible", has_text=button).count():
                page.locator("#pad .pad-head button", has_text=button).tap()
                expect(page.locator("#pad .pad-head button", has_text=kept)).to_be_visible()
                settle(page)

    assert twice_as_once(page, open_it, KEYS, repeats=True) >= 10


@pytest.mark.parametrize("wait", SOON[:3])
def test_a_field_tapped_twice_takes_nothing_from_the_pad_that_comes_under_the_thumb(open_page: Open, wait: int) -> None:
    page = open_page(viewport={"width": 390, "height": 844})
    hand.ready(page)
    begun(page, JOB, "lot")
    page.locator("#way label", has_text="Whole pile").tap()
    texts = "[...document.querySelectorAll('#pile input')].map(one => one.value)"
    for field in ("count", "widest", "longest"):
        control = page.locator(f'[data-field="pile.{field}"] input')
        before = page.evaluate(texts)
        control.evaluate("one => one.scrollIntoView({block: 'end'})")
        page.evaluate("window.scrollBy(0, 200)")  # low on the screen, where the pad will be
        taps(page, place(control), wait)
        assert page.evaluate(texts) == before
        page.locator("#pad button", has_text="Done").tap()
        expect(page.locator("#pad")).to_be_hidden()
        settle(page)


def test_no_control_of_what_came_out_does_more_when_it_is_tapped_twice(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    events = at_each_kind(page, THREE)["end"]

    def open_it() -> None:
        begun(page, {**THREE, "run": events})
        page.locator("#run button", has_text="Enter what came out").tap()
        page.locator("#final-board").select_option("A")
        settle(page)

    assert twice_as_once(page, open_it, FINALS) >= 3


def test_a_tap_that_was_not_taken_is_seen_and_heard(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    hand.rested(page)
    at = place(page.locator("#run .huge"))
    page.touchscreen.tap(*at)
    page.touchscreen.tap(*at)
    ring = page.locator("#tapped-twice")
    expect(ring).to_have_text("Tapped twice: taken once")
    expect(ring).to_have_css("opacity", "1")
    assert ring.get_attribute("role") == "status"
    expect(ring).to_be_empty()
    expect(page.locator("#run h2")).to_contain_text("Pass 2")


def test_two_boards_tapped_one_after_the_other_are_both_through_and_keep_their_places(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, LONG_LOT)
    keys = page.locator("#run .feeding .ticks button")
    boxes = [place(keys.nth(n)) for n in range(3)]
    settle(page)
    for n in (0, 2):
        page.touchscreen.tap(*boxes[n])
    expect(page.locator('#run .ticks [aria-pressed="true"]')).to_have_text(["A", "C"])
    expect(page.locator("#run .huge")).to_contain_text("left")
    assert [place(keys.nth(n)) for n in range(3)] == boxes
    assert [event["boards"] for event in hand.saved_job(page)["run"]] == [["A"], ["C"]]


def test_enter_on_a_keyboard_keeps_the_rule(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    page.locator("#run [data-event]").first.focus()
    page.locator("#run .huge").focus()
    page.keyboard.down("Enter")
    page.keyboard.down("Enter")
    page.keyboard.up("Enter")
    expect(page.locator("#run h2")).to_contain_text("Pass 2")
    hand.rested(page)
    page.locator("#run [data-undo]").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#run h2")).to_contain_text("Pass 1")
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    reading = page.locator("#reading")
    reading.fill("1")
    before = page.locator("#board-name").inner_text()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    expect(page.locator("#tapped-twice")).to_have_text("Tapped twice: taken once")
    assert page.locator("#board-name").inner_text() == before
    reading.press_sequentially("1")
    page.keyboard.press("Enter")
    expect(reading).to_have_value("")
