"""A second tap at one place: whatever a hand does twice by accident at the machine is done once, and is seen to be."""

from __future__ import annotations

import itertools
import json
from collections.abc import Callable
from functools import partial
from typing import Any

import hand
from amounts import HOW
from phone import Open
from playwright.sync_api import Locator, Page, expect
from test_page_machine import LONG_LOT
from test_page_run import JOB, at_the_machine, settle

THREE: dict[str, Any] = {**JOB, "boards": [*JOB["boards"], {**JOB["boards"][1], "name": "C"}]}  # type: ignore[misc,index]

SOON = (60, 120, 350, 600)
"""How long after the first tap the second one comes [ms]: the waits of these tests are what they test."""

STATE = """() => JSON.stringify({
  why: document.querySelector('#why').open,
  view: document.documentElement.dataset.view,
  head: document.querySelector('#at-machine h2:not(details *, .before-run *)')?.textContent,
  measuring: document.querySelector('#finals')?.hidden,
  pressed: [...document.querySelectorAll('#run [aria-pressed=true]')].map(one => one.textContent),
  open: [...document.querySelectorAll('#run details[open] > summary')].map(one => one.textContent),
  undo: document.querySelector('#run [data-undo]')?.textContent,
  board: document.querySelector('#final-board')?.value,
  texts: [...document.querySelectorAll('input')].map(one => one.value),
  readings: document.querySelector('#readings').innerText,
  name: document.querySelector('#board-name').innerText,
  focus: document.activeElement?.id,
  pad: document.querySelector('#pad').hidden || [...document.querySelectorAll('#pad :is(.pad-head, .keys, .pad-foot)')].map(one => one.innerText),
})"""
PAD_KEEPS_TO_ITS_FIELD = (
    "() => document.querySelector('#pad').hidden !== Boolean(document.activeElement?.matches('[data-pad]'))"
)
KIND = """() => {
  const groups = document.querySelectorAll('#run .group').length
  return groups ? `feed ${groups}` : document.querySelector('#run .test-piece') ? 'test' : 'end'
}"""
PAGE = """const {state} = await import(document.querySelector('script[src$="first.js"]').src)"""
OPEN = f"""async ([kept, view, way]) => {{
  {PAGE}
  document.querySelector('#why').close()
  document.activeElement.blur()
  document.querySelector('#finals:not([hidden]) .actions button:last-child')?.click()
  for (const folded of document.querySelectorAll('#finals details')) folded.open = false
  const slot = document.querySelector('#at-machine')
  state.open(structuredClone(kept), {{view, way, keys: false, scale: 32}})
  slot.innerHTML = slot.dataset.painted
  slot.querySelector('.before-run')?.remove()
}}"""
"""Brings the page back to a job as it was kept, or to its run as far as these events, in no time: nothing is loaded."""


def place(control: Locator) -> tuple[float, float]:
    """The middle of a control that a thumb can reach, brought into view where it is not."""
    x, y = control.evaluate("""one => {
      const middle = () => {
        const {left, right, top, bottom} = one.getBoundingClientRect()
        return [(left + right) / 2, (top + bottom) / 2]
      }
      if (!one.contains(document.elementFromPoint(...middle()))) one.scrollIntoView({block: 'center'})
      return middle()
    }""")
    return x, y


class Thumb:
    """Taps at times of its own, in the clock of the events: however slow the machine is, they come as far apart as they say."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.session = page.context.new_cdp_session(page)
        self.now: float = page.evaluate("(performance.timeOrigin + performance.now()) / 1000")

    def tap(self, at: tuple[float, float], after: int = 1000) -> None:
        """Tap there, so long after the tap before [ms]."""
        self.now += after / 1000
        finger = [{"x": at[0], "y": at[1]}]
        for kind, points, time in (("touchStart", finger, self.now), ("touchEnd", [], self.now + 0.01)):
            self.session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points, "timestamp": time})


def begun(page: Page, job: dict[str, Any]) -> None:
    """The job is open where its run stands."""
    hand.ready(page)
    hand.open_job(page, job)
    hand.planned(page)
    hand.go(page, "run")
    expect(page.locator("#run .huge")).to_be_visible()  # the cautions are read
    settle(page)


def at_each_kind(page: Page) -> dict[str, list[dict[str, Any]]]:
    """The events of the run in hand up to each kind of step, as the page's own buttons make them."""
    found: dict[str, list[dict[str, Any]]] = {}
    events: list[dict[str, Any]] = []
    for _ in range(30):
        found.setdefault(page.evaluate(KIND), list(events))
        huge = page.locator("#run .huge")
        if not huge.count():
            break
        events.append(json.loads(huge.get_attribute("data-event") or ""))
        back_to(page, events)
    return found


def back_to(page: Page, events: list[dict[str, Any]]) -> None:
    """The run in hand is as far as these events."""
    draft = kept_draft(page)
    begun = {**draft, "extra": {**draft["extra"], "run": events}}
    page.evaluate(OPEN, [begun if events else {**draft, "extra": {}}, "run", "boards"])
    settle(page)
    # What was painted when it was opened may have been the step before.
    expect(page.locator("#run .huge, #run [data-do=enter-finals]").first).to_be_attached()


def kept_draft(page: Page) -> dict[str, Any]:
    """The job in hand as the page keeps it."""
    draft: dict[str, Any] = page.evaluate(f"async () => {{ {PAGE}; return state.draft }}")
    return draft


RUN = "#at-machine :is(button:enabled, summary):visible"
KEYS = "#pad :is(.pad-head, .keys, .pad-foot) button:visible:enabled"
FINALS = "#finals :is(button:enabled, summary):visible"


def twice_as_once(
    page: Page,
    open_it: Callable[[], None],
    which: str,
    *,
    some: Callable[[int, str], bool] = lambda _n, _key: True,
    remembers: bool = False,
) -> int:
    """Each control tapped twice leaves what one tap leaves; how many there were. Digits of a number are meant to be tapped again.

    `some(n, its class)` says which of them a usual run tries. `remembers`: what was entered last stands on a key of its own, so
    each is tapped once before.
    """
    thumb = Thumb(page)
    open_it()
    found = page.locator(which)
    kinds = found.evaluate_all("all => all.map(one => one.className + one.parentElement.className)")
    tried = [n for n, kind in enumerate(kinds) if HOW == "long" or some(n, kind)]
    for n in tried:
        once = ("", "")
        for wait in (*([None] if remembers else []), None, *(SOON if HOW == "long" else (SOON[n % len(SOON)],))):
            open_it()
            control = found.nth(n)
            label, again = control.inner_text(), control.get_attribute("data-repeats") is not None
            at = place(control)
            thumb.tap(at)
            if wait:
                if wait > 200:
                    settle(page)
                thumb.tap(at, wait)
            settle(page)
            page.wait_for_function(PAD_KEEPS_TO_ITS_FIELD)
            now = (label, page.evaluate(STATE))
            if wait is None:
                once = now
            elif again:
                assert now != once or "/" in label, label  # the eighth of a whole number is set, and stays
            else:
                assert now == once, f"{label}, {wait} ms"
    return len(tried)


def test_no_control_of_a_run_does_more_when_it_is_tapped_twice(open_page: Open) -> None:
    page = open_page()
    begun(page, THREE)
    kinds = at_each_kind(page)
    tapped = {kind: twice_as_once(page, partial(back_to, page, events), RUN) for kind, events in kinds.items()}
    assert tapped.keys() == {"feed 1", "test", "end"}
    assert all(count >= 2 for count in tapped.values()), tapped

    def open_it() -> None:
        back_to(page, [])
        page.locator("#run .surprises").evaluate("one => { one.open = true }")

    assert twice_as_once(page, open_it, RUN) >= 8

    def at_the_end() -> None:
        back_to(page, kinds["end"])
        page.locator("#at-machine [data-do=enter-finals]").evaluate("one => one.click()")
        page.locator("#final-board").select_option("A")

    assert twice_as_once(page, at_the_end, FINALS) >= 4


def test_no_key_of_a_pad_does_more_when_it_is_tapped_twice_but_the_digits(open_page: Open) -> None:
    page = open_page()
    hand.pile(page)
    draft = kept_draft(page)
    far = {**draft, "pile": {**draft["pile"], "thickest": "9", "count": "300"}}

    def open_it(field: str) -> None:
        # Keys lie around the text of their field: from far away they come back to where they were.
        for kept in (far, draft):
            page.evaluate(OPEN, [kept, "lot", "pile"])
            for one in ("longest", field):
                page.locator(f"#pile-{one}").evaluate("one => one.focus()")
        expect(page.locator("#pad")).to_be_visible()

    for field in ("thickest", "count", "widest"):
        assert twice_as_once(page, partial(open_it, field), KEYS, some=one_of_a_kind()) >= 4


def one_of_a_kind() -> Callable[[int, str], bool]:
    """A key of each kind; of those that stand alone, all."""
    seen: set[str] = set()

    def some(_n: int, kind: str) -> bool:
        new = kind not in seen or "of-" not in kind or "act" in kind
        seen.add(kind)
        return new

    return some


def test_no_key_of_a_reading_of_a_test_piece_or_of_finals_does_more_when_it_is_tapped_twice(open_page: Open) -> None:
    page = open_page()
    begun(page, THREE)
    kinds = at_each_kind(page)
    draft = kept_draft(page)

    def at_reading() -> None:
        page.evaluate(OPEN, [draft, "lot", "boards"])
        page.locator("#reading").evaluate("one => one.focus()")

    def at_test_piece() -> None:
        field = page.locator("#run .test-piece input").first
        for _ in range(3):
            back_to(page, kinds["test"])
            if field.count():
                break
        field.evaluate("one => one.focus()")

    def at_finals() -> None:
        back_to(page, kinds["end"])
        page.locator("#at-machine [data-do=enter-finals]").evaluate("one => one.click()")
        page.locator("#final-board").select_option("A")
        page.locator("#finals input").first.evaluate("one => one.focus()")

    def with_pad(open_it: Callable[[], None], scale: str) -> None:
        """With the scale that it opened with at first: the pad remembers another."""
        open_it()
        expect(page.locator("#pad")).to_be_visible()
        for _ in range(8):
            if not scale or marks.inner_text() == scale:
                return
            marks.evaluate("one => one.click()")
        raise AssertionError(scale)

    marks = page.locator("#pad .pad-head button").first
    for open_it in (at_reading, at_test_piece, at_finals):
        with_pad(open_it, "")
        again = partial(with_pad, open_it, marks.inner_text())
        keys = KEYS.replace("button", "button:not(.coarse, .middle)")  # the pads of the lot have those too
        assert twice_as_once(page, again, keys, some=one_of_a_kind(), remembers=True) >= 4


def test_a_field_tapped_twice_takes_nothing_from_the_pad_that_comes_under_the_thumb(open_page: Open) -> None:
    page = open_page(viewport={"width": 390, "height": 844})
    hand.pile(page)
    hand.planned(page)
    hand.go(page, "lot")
    texts = "[...document.querySelectorAll('#pile input')].map(one => one.value)"
    before = page.evaluate(texts)
    thumb = Thumb(page)
    for field, wait in itertools.product(("count", "widest", "longest"), SOON[:3]):
        control = page.locator(f'[data-field="pile.{field}"] input')
        control.evaluate("one => one.scrollIntoView({block: 'end'})")
        page.evaluate("window.scrollBy(0, 200)")  # low on the screen, where the pad will be
        at = place(control)
        thumb.tap(at)
        if wait > 100:
            expect(page.locator("#pad")).to_be_visible()
        thumb.tap(at, wait)
        expect(page.locator("#pad")).to_be_visible()
        assert page.evaluate(texts) == before
        page.locator("#pad button", has_text="Done").evaluate("one => one.click()")
        expect(page.locator("#pad")).to_be_hidden()


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
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 2")


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
    settle(page)
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
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 2")
    hand.rested(page)
    page.locator("#run [data-undo]").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 1")
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


def twice(page: Page, control: Locator, wait: int = 350) -> None:
    """Two taps where a control is, so far apart."""
    thumb = Thumb(page)
    at = place(control)
    thumb.tap(at)
    thumb.tap(at, wait)


def test_a_lot_is_copied_and_deleted_once_and_the_rehearsal_goes_on_by_one_pass(open_page: Open) -> None:
    page = open_page()
    begun(page, THREE)
    hand.go(page, "jobs")
    jobs = page.locator("#job-list .job")
    expect(jobs).to_have_count(1)
    for act, left in (("Copy", 2), ("Delete", 1)):
        page.locator("#job-list .job [aria-expanded=false]").last.evaluate("one => one.click()")
        twice(page, page.locator(".job-more button", has_text=act))
        expect(page.locator("#tapped-twice")).to_have_text("Tapped twice: taken once")
        expect(jobs).to_have_count(left)
    # Its taps were ahead of the clock: others come by script.
    page.locator('#nav [data-go="plan"]').evaluate("one => one.click()")
    page.locator("#rehearse > summary").evaluate("one => one.click()")
    expect(page.locator("#frame h3")).to_have_text("Before the first pass")
    twice(page, page.locator('#rehearse [data-step="1"]'))
    expect(page.locator("#frame h3")).to_contain_text("After pass 1 ")
