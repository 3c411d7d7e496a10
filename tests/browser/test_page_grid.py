"""The table of readings on a wide screen: arrow keys, Enter, a block pasted and taken back, the plan beside it."""

from __future__ import annotations

import re

import hand
import pytest
from phone import Open
from playwright.sync_api import Page, expect

DESK = {"viewport": {"width": 1280, "height": 800}, "is_mobile": False}
PASTE = """(input, text) => {
  const clipboardData = new DataTransfer()
  clipboardData.setData('text/plain', text)
  input.dispatchEvent(new ClipboardEvent('paste', {clipboardData, bubbles: true, cancelable: true}))
}"""


@pytest.fixture
def page(open_page: Open) -> Page:
    page = open_page(**DESK)
    hand.ready(page)
    boards = [
        {"name": name, "readings": readings, "width": "6", "length": "40"}
        for name, readings in (("A", ["1", "63/64"]), ("B", ["7/8"]))
    ]
    hand.open_job(page, {"thickset": 1, "units": "in", "target": {"thickness": "3/4"}, "boards": boards})
    hand.planned(page)
    hand.go(page, "lot")
    return page


def cell(page: Page, row: int, column: int | str) -> str:
    return f'#grid input[data-row="{row}"][data-column="{column}"]'


def saved(page: Page) -> list[tuple[str, list[str], str]]:
    """What the page would save; the lot is in view again."""
    boards = hand.saved_job(page)["boards"]
    hand.go(page, "lot")
    return [(one["name"], one["readings"], one["width"]) for one in boards]


def test_cells_are_walked_by_keys_and_entered_by_them(page: Page) -> None:
    page.locator(cell(page, 0, 0)).click()
    expect(page.locator("#pad")).to_be_hidden()
    page.keyboard.type("1 1/64")
    page.keyboard.press("Enter")
    expect(page.locator(cell(page, 1, 0))).to_be_focused()
    page.keyboard.press("ArrowRight")
    page.keyboard.type("27/32")
    page.keyboard.press("ArrowDown")
    expect(page.locator(cell(page, 2, 1))).to_be_focused()
    page.keyboard.type("29/32")
    page.keyboard.press("ArrowUp")
    expect(page.locator(cell(page, 1, 1))).to_be_focused()
    hand.planned(page)
    expect(page.locator("#plan .headline")).to_be_in_viewport()
    assert saved(page) == [("A", ["1 1/64", "63/64"], "6"), ("B", ["7/8", "27/32"], "6"), ("C", ["29/32"], "6")]


def test_escape_leaves_a_cell_as_it_was(page: Page) -> None:
    page.locator(cell(page, 0, 1)).click()
    page.keyboard.type("9")
    page.keyboard.press("Escape")
    page.keyboard.press("ArrowDown")
    assert saved(page)[0][1] == ["1", "63/64"]


def test_a_block_is_pasted_where_the_caret_is_and_taken_back(page: Page) -> None:
    before = saved(page)
    page.locator(cell(page, 1, 1)).click()
    page.locator(cell(page, 1, 1)).evaluate(PASTE, "55/64\t27/32\n15/16\t29/32\n")
    expect(page.locator(cell(page, 2, 1))).to_have_value("29/32")
    page.locator("#undo button").wait_for()
    entered = [page.locator(cell(page, 1, n)).input_value() for n in range(3)]
    assert entered == ["7/8", "55/64", "27/32"]
    page.locator("#undo button").click()
    assert saved(page) == before


def test_a_pasted_block_makes_the_boards_that_it_needs(page: Page) -> None:
    page.locator(cell(page, 1, 1)).click()
    page.locator(cell(page, 1, 1)).evaluate(PASTE, "55/64\t27/32\n15/16\t29/32\n")
    assert saved(page)[1:] == [("B", ["7/8", "55/64", "27/32"], "6"), ("C", ["15/16", "29/32"], "6")]


def test_a_wrong_cell_is_marked_and_says_why_and_an_empty_one_is_not(page: Page) -> None:
    page.locator(cell(page, 1, 0)).click()
    page.keyboard.type("3//4")
    page.keyboard.press("Enter")
    wrong = page.locator('#grid [aria-invalid="true"]')
    expect(wrong).to_have_count(1)
    expect(wrong).to_have_attribute("data-row", "1")
    expect(wrong).to_have_attribute("title", re.compile("'3//4' cannot be read"))
    page.locator(cell(page, 1, 0)).fill("")
    page.keyboard.press("Enter")
    expect(wrong).to_have_count(0)
