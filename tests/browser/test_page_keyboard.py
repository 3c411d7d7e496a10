"""The whole way by keyboard alone, stop by stop, with what a screen reader says at each; nothing of it loses the focus."""

from __future__ import annotations

import os
import re
from pathlib import Path

import hand
from phone import Open
from playwright.sync_api import Page, expect

GOLDEN = Path(__file__).parents[1] / "golden" / "by_keyboard.txt"
#: Where the focus is, as a screen reader names it, and the page's title.
HERE = """() => {
  const one = document.activeElement
  const text = (id) => (id ?? '').split(' ').map((each) => document.getElementById(each)?.textContent.trim()).filter(Boolean).join(' ')
  const label = one.labels?.[0]?.textContent.trim()
  const name = one.getAttribute('aria-label') || text(one.getAttribute('aria-labelledby')) || label || one.innerText?.trim() || ''
  const role = one.localName === 'input' ? (one.type === 'text' ? 'field' : one.type) : one.localName
  const wrong = one.getAttribute('aria-invalid') === 'true' ? ` (in error: ${text(one.getAttribute('aria-describedby'))})` : ''
  return `${role}: ${name.replace(/\\s+/g, ' ').slice(0, 120)}${wrong}`
}"""


class Way:
    """What was pressed, where the focus was then, and what was said."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.lines: list[str] = []

    def note(self, done: str) -> None:
        """Write down where the focus is; it is never nowhere."""
        here = self.page.evaluate(HERE)
        assert not here.startswith("body"), f"{done}: the focus is gone, after {self.lines[-3:]}"
        self.lines.append(f"{done:<24} {here}")

    def press(self, key: str) -> None:
        """Press one key."""
        if key in {"Enter", "Space"}:
            hand.rested(self.page)
        self.page.keyboard.press(key)
        self.note(key)

    def type(self, text: str) -> None:
        """Type and enter."""
        self.page.keyboard.type(text)
        self.press("Enter")
        self.lines[-1] = f"{text + ', Enter':<24} {self.lines[-1][25:]}"

    def until(self, wanted: str, key: str = "Tab") -> int:
        """Press a key until the focus is on what is wanted; how often it was pressed."""
        for pressed in range(60):
            if re.search(wanted, self.page.evaluate(HERE)):
                return pressed
            self.press(key)
        raise AssertionError(f"{wanted} is not come to: {self.lines[-12:]}")

    def hears(self, words: str) -> None:
        """It is said, without the focus going there."""
        expect(self.page.locator("#told")).to_contain_text(words)
        self.lines.append(f"{'':<24} says: {self.page.locator('#told').inner_text()}")


def test_the_whole_way_by_keyboard_alone(open_page: Open) -> None:
    page = open_page(viewport={"width": 800, "height": 900}, is_mobile=False, has_touch=False, reads=False)
    hand.planned(page)
    way = Way(page)
    expect(page).to_have_title("The plan · Reading room shelves (example) · Thickset")
    way.press("Tab")
    way.until("button: Plan my own lot")
    way.press("Enter")
    for text in ("7/8", "31/32", "wide"):
        way.type(text)
    way.hears("Not planned yet. Thinnest spot")
    page.keyboard.press("Shift+Tab")
    way.note("Shift+Tab")
    way.press("Escape")
    expect(page.locator("#pad")).to_be_hidden()
    for text in ("15/16", "4", "6 1/2", "49"):
        way.type(text)
    hand.planned(page)
    way.hears("Planned. 3 passes")
    way.note("then")
    way.press("Tab")
    way.until("button: Run|button: Start the run", "Shift+Tab")
    way.press("Enter")
    expect(page).to_have_title(re.compile("^At the machine"))
    expect(page.locator("#run [data-begin]")).to_be_visible()
    way.until("button: Read. On to pass 1")
    way.press("Enter")
    heard = False
    for _ in range(12):
        if page.locator("#at-machine h2:not(details *, .before-run *)", has_text="Done").count():
            break
        before = page.locator("#at-machine").inner_html()
        measures = page.locator("#run .test-piece .measure input").count() > 0 and not heard
        way.until("field: It measures something else" if measures else "button: (All through|It measures)")
        if measures:
            page.keyboard.type("0.9")
        hand.rested(page)
        page.keyboard.press("Enter")
        page.wait_for_function("(before) => document.querySelector('#at-machine').innerHTML !== before", arg=before)
        page.wait_for_selector("#at-machine:not([aria-busy=true])", state="attached")
        expect(page.locator("#at-machine h2:focus")).to_have_count(1)
        if measures:
            expect(page.locator("#run .verdict")).to_be_visible()
        way.note("0.9, Enter" if measures else "Enter")
        if measures:
            heard = True
            way.hears("thin")
    way.until("button: Enter what came out")
    way.press("Enter")
    told = "\n".join(way.lines) + "\n"
    if os.environ.get("THICKSET_GOLDEN") == "write":
        GOLDEN.write_text(told, encoding="utf-8")
    assert told == GOLDEN.read_text(encoding="utf-8")


RING = """(selector) => {
  const {outlineStyle, outlineWidth} = getComputedStyle(document.querySelector(selector))
  return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2
}"""


def test_on_a_wide_screen_the_parts_come_first_and_no_control_hides_its_focus(open_page: Open) -> None:
    page = open_page(viewport={"width": 1280, "height": 800}, is_mobile=False)
    hand.ready(page)
    page.clock.install()
    way = Way(page)
    page.keyboard.press("Tab")
    assert way.until(r"button: Lot$") <= 6
    page.keyboard.press("Enter")
    expect(page.locator("#lot h1")).to_be_focused()
    hand.go(page, "jobs")
    way.until("file: Open a file")
    assert page.evaluate(RING, "label[for=open-job]")
    hand.go(page, "lot")
    way.until("button: Delete")
    page.keyboard.press("Enter")
    undo = page.locator("#undo button")
    undo.focus()
    assert page.evaluate(RING, "#undo button")
    page.clock.fast_forward(60_000)
    expect(undo).to_be_focused()
    hand.rested(page)
    page.keyboard.press("Enter")
    expect(page.locator("#undo")).to_be_hidden()
    expect(page.locator("#lot h1")).to_be_focused()
