"""How many taps an invented lot takes, from an empty page to its finals: by taps alone, counted.

Six boards of rough 4/4 oak, to 3/4 in: 1 1/32 at the thickest, 15/16 at the thinnest, 6 1/2 in wide, 49 in long. Four
readings of each board, as a rule with 32nds gives them.
"""

from __future__ import annotations

import hand
import pytest
from amounts import HOW
from lots import board, lot
from phone import Open
from playwright.sync_api import Locator, Page, expect
from test_page_run import at_the_machine, screen, step_on

READINGS = [
    ["1", "31/32", "1 1/32", "1"],
    ["15/16", "31/32", "31/32", "1"],
    ["1 1/32", "1 1/32", "1", "1"],
    ["31/32", "15/16", "1", "31/32"],
    ["1", "1 1/32", "31/32", "1"],
    ["1 1/32", "1", "1", "15/16"],
]
WAVY = [
    ["1 1/16", "1", "1 3/32", "1 1/32"],
    ["7/8", "29/32", "7/8", "15/16"],
    ["1 1/8", "1 3/32", "1 1/16", "1 1/8"],
    ["15/16", "7/8", "29/32", "27/32"],
    ["1 5/32", "1 1/8", "1 1/16", "1 3/32"],
    ["1", "31/32", "1 1/32", "15/16"],
]
IN_64THS = [
    ["1 1/64", "1", "63/64", "1 1/32"],
    ["31/32", "61/64", "63/64", "1"],
    ["1 1/32", "1 3/64", "1 1/64", "1"],
    ["63/64", "15/16", "61/64", "31/32"],
    ["1", "1 1/64", "63/64", "1 1/64"],
    ["1 3/64", "1 1/32", "1", "1"],
]
FINALS = [
    ["on", "on", "on"],
    ["on", "0.751", "on"],
    ["0.749", "on", "on"],
    ["on", "on", "0.748"],
    ["0.752", "same", "on"],
    ["on", "on", "on"],
]
BOARDS = zip("ABCDEF", READINGS, strict=True)
LOT = lot(*(board(*readings, name=name, width="6 1/2", length="49") for name, readings in BOARDS), title="Six boards")


class Taps:
    """A thumb that counts."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.count = 0

    def on(self, where: Locator) -> None:
        """Tap there."""
        hand.rested(self.page)
        where.tap()
        self.count += 1

    def keys(self, *texts: str) -> None:
        """Tap keys of the pad by what stands on them."""
        for text in texts:
            self.on(hand.key(self.page, text))

    def reading(self, text: str) -> None:
        """Enter a reading by its key; where no key has it, by its whole inches and its quarter first."""
        if not hand.key(self.page, text, "ready").count():
            whole, _, _ = text.rpartition(" ")
            self.on(hand.key(self.page, whole, "coarse") if whole else hand.key(self.page, "3/4", "middle"))
        self.on(hand.key(self.page, text, "ready"))


def test_five_numbers_take_twelve_taps_at_most(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    taps = Taps(page)
    taps.on(page.locator('#plan [data-do="own-lot"]'))
    expect(page.locator("#target-thickness")).to_be_focused()
    for text, after in (("3/4", "pile-thickest"), ("1 1/32", "pile-thinnest"), ("15/16", "pile-count")):
        taps.reading(text)
        expect(page.locator(f"#{after}")).to_be_focused()
    taps.keys("6")
    expect(page.locator("#pile-widest")).to_be_focused()
    taps.keys("6", "1/2", "Next", "4", "9", "Next")
    hand.planned(page)
    expect(page.locator("#plan")).to_be_visible()
    assert hand.saved_job(page)["boards"] == [
        {"name": "Pile", "readings": ["1 1/32", "15/16"], "width": "6 1/2", "length": "49", "count": 6}
    ]
    assert taps.count <= 12


SIX_BOARDS = {"even": (READINGS, "32nds"), "wavy": (WAVY, "32nds"), "64ths": (IN_64THS, "64ths")}
TRIED = list(SIX_BOARDS) if HOW == "long" else ["wavy"]


@pytest.mark.parametrize(("lot", "scale"), [SIX_BOARDS[name] for name in TRIED], ids=TRIED)
def test_six_boards_of_four_readings_take_36_taps_at_most(open_page: Open, lot: list[list[str]], scale: str) -> None:
    page = open_page()
    hand.pile(page)
    hand.go(page, "lot")
    taps = Taps(page)
    taps.on(page.locator("#way label", has_text="Board by board"))
    taps.on(page.locator("#reading"))
    mark = page.locator("#pad .pad-head button").first
    if mark.inner_text() != scale:
        taps.on(mark)
    for readings in lot:
        for n, text in enumerate(readings):
            taps.reading(text)
            expect(page.locator(".reading button")).to_have_count(n + 1)
        if board is not lot[-1]:
            taps.keys("Next board")
            expect(page.locator(".reading button")).to_have_count(0)
    assert taps.count <= 36
    assert [board["readings"] for board in hand.saved_job(page)["boards"] if board["name"] != "Pile"] == lot


def test_a_test_piece_of_0_820_takes_three_taps(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, LOT)
    while "Test piece first" not in screen(page):
        step_on(page)
    taps = Taps(page)
    taps.on(page.locator("#run .test-piece .measure input"))
    taps.keys("0.82")
    taps.on(hand.key(page, "0.820", "ready"))
    expect(page.locator("#run .verdict")).to_be_visible()
    assert taps.count <= 3
    event = hand.saved_job(page)["run"][-1]
    assert (event["did"], event["thickness"]) == ("test", "0.820")


def test_finals_of_six_boards_at_three_spots_take_24_taps_at_most(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, LOT)
    while page.locator("#run .huge").count():
        step_on(page)
    page.locator("#run button", has_text="Enter what came out").tap()
    expect(page.locator("#final-0")).to_be_in_viewport()
    taps = Taps(page)
    taps.on(page.locator("#final-0"))
    for name, readings in zip("ABCDEF", FINALS, strict=True):
        expect(page.locator("#final-board")).to_have_value(name)
        for n, text in enumerate(readings):
            expect(page.locator(f"#final-{n}")).to_be_focused()
            key = {"on": "On the mark 3/4", "same": "Same as the last 0.752"}.get(text, text)
            taps.keys(key)
        expect(page.locator("#finals [role=status]")).to_contain_text(f"Board {name} is entered")
    assert taps.count <= 24
    page.wait_for_selector("#pad", state="hidden")
    hand.to_more(page)
    expect(page.locator("#more-after")).to_contain_text("6 of 6 measured")
    run = hand.saved_job(page)["run"]
    meant = [[{"on": "3/4", "same": "0.752"}.get(text, text) for text in board] for board in FINALS]
    assert [(one["board"], one["readings"]) for one in run if one["did"] == "measure"] == list(
        zip("ABCDEF", meant, strict=True)
    )
