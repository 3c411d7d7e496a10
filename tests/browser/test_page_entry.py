"""A lot of one's own, entered by thumb, by keyboard, in both ways."""

from __future__ import annotations

import hand
import pytest
from phone import Open
from playwright.sync_api import Page, expect
from test_page_questions import JOB, RUN, at_finals


def test_five_numbers_by_taps_make_a_plan(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    expect(page.locator("#plan")).to_be_visible()
    assert hand.settings(page)[-1] == 19.05
    assert hand.problems(page) == []
    job = hand.saved_job(page)
    assert job["boards"] == [
        {"name": "Pile", "readings": ["1 1/32", "15/16"], "width": "6 1/2", "length": "49", "count": 8}
    ]
    assert job["target"] == {"thickness": "3/4"}


@pytest.mark.parametrize("at", ["pile.thickest", "pile.thinnest"])
def test_a_thickest_spot_under_the_thinnest_is_asked_about_and_one_tap_swaps_them(open_page: Open, at: str) -> None:
    page = open_page()
    hand.pile(page)
    hand.planned(page)
    hand.go(page, "lot")
    hand.type_in(page, "pile.thickest", "7/8")
    for field in ("pile.thickest", "pile.thinnest"):
        expect(page.locator(f'[data-field="{field}"] .problem')).to_contain_text("Are they swapped?")
    assert hand.problems(page) == ["pile.thickest", "pile.thinnest"]
    page.locator("#pad button", has_text="Done").tap()
    page.locator(f'[data-field="{at}"] .cures button', has_text="Swap them").tap()
    assert (hand.shown(page, "pile.thickest"), hand.shown(page, "pile.thinnest")) == ("15/16", "7/8")
    hand.planned(page)
    expect(page.locator(".cures")).to_have_count(0)


def test_swapped_spots_are_swapped_back_on_the_pad(open_page: Open) -> None:
    page = open_page()
    hand.own_lot(page)
    for text in ("3/4", "7/8", "15/16"):
        hand.near(page, text)
    expect(page.locator("#pile-count")).to_be_focused()
    page.locator("#pile-thickest").tap()
    hand.press(page, "Swap them")
    assert (hand.shown(page, "pile.thickest"), hand.shown(page, "pile.thinnest")) == ("15/16", "7/8")
    expect(page.locator("#pile-thickest")).to_be_focused()
    expect(page.locator("#pad .pad-cures")).to_be_hidden()


def test_what_a_light_key_says_stands_in_the_field_and_next_enters_it(open_page: Open) -> None:
    page = open_page()
    hand.own_lot(page)
    field = page.locator("#target-thickness")
    hand.press(page, "3")
    expect(field).to_have_value("3")
    hand.press(page, "3/4")
    expect(field).to_have_value("3 3/4")
    expect(page.locator('#pad [aria-pressed="true"]')).to_have_text(["3", "3/4"])
    hand.press(page, "1")
    expect(field).to_have_value("1")
    hand.press(page, "Next")
    expect(field).to_have_value("1")
    hand.press(page, "1", "1/4", "Next")
    expect(page.locator("#pile-thickest")).to_have_value("1 1/4")
    page.keyboard.press("Escape")
    page.wait_for_selector("#pad", state="hidden")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()
    hand.press(page, "1", "1/2", "Next", "1", "Next board")
    assert [board["readings"] for board in hand.saved_job(page)["boards"]][-1] == ["1 1/2", "1"]


def keys(page: Page) -> list[list[object]]:
    """Every key of the pad and where it is."""
    found: list[list[object]] = (
        page.evaluate("""() => [...document.querySelectorAll('#pad :is(.pad-head, .keys, .pad-foot) button')].map(key => {
      const {x, y, width, height} = key.getBoundingClientRect()
      return [key.textContent, x, y, width, height]
    })""")
    )
    return found


def test_keys_of_the_finals_stay_where_they_are(open_page: Open) -> None:
    page = open_page()
    at_finals(page, {**JOB, "run": RUN})
    page.locator("#final-0").tap()
    before = keys(page)
    hand.near(page, "0.751")
    expect(page.locator("#final-1")).to_be_focused()
    assert [where for _, *where in keys(page)] == [where for _, *where in before]
    assert [text for text, *_ in keys(page)] == [
        "Same as the last 0.751" if text == "Same as the last" else text for text, *_ in before
    ]


@pytest.mark.parametrize("scale", ["16ths", "32nds", "64ths"])
def test_keys_stay_where_they_are_from_reading_to_reading_and_from_board_to_board(open_page: Open, scale: str) -> None:
    page = open_page()
    hand.pile(page)
    hand.go(page, "lot")
    board_by_board(page)
    while page.locator("#pad .pad-head button").first.inner_text() != scale:
        page.locator("#pad .pad-head button").first.tap()
    before = keys(page)
    for text in (1, 0, 8, 17, 9, 9):
        hand.rested(page)
        page.locator("#pad .ready").nth(text).tap()
        expect(page.locator("#pad .pad-text")).to_have_text(" ")
        assert keys(page) == before
    hand.press(page, "Next board")
    expect(page.locator("#board-name")).to_have_text("Board B")
    assert keys(page) == before
    hand.press(page, "2", "3/4")
    far = keys(page)
    hand.near(page, "2 7/8")
    assert keys(page) == far, "they come back with the next board only"


def test_a_reading_takes_three_taps_at_most(open_page: Open) -> None:
    page = open_page()
    hand.pile(page)
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()
    assert hand.near(page, "1 1/16") <= 3
    assert hand.near(page, "1 1/32") <= 3
    assert hand.far(page, "2", "3/4", "2 15/16") <= 3
    page.locator("#pad .pad-head button", has_text="32nds").tap()
    assert hand.far(page, "1", "1/4", "1 27/64") <= 3
    expect(page.locator(".reading > button")).to_have_text(["1 1/16", "1 1/32", "2 15/16", "1 27/64"])
    page.locator(".reading .cures button", has_text="2 15/16 in?").tap()
    expect(page.locator(".reading > button")).to_have_text(["1 1/16", "1 1/32", "2 15/16 in", "1 27/64"])
    expect(page.locator(".reading .cures")).to_have_count(0)
    expect(page.locator("#reading")).to_be_focused()


def test_millimeters_by_taps(open_page: Open) -> None:
    page = open_page()
    page.locator("#plan .units label", has_text="mm").tap()
    hand.own_lot(page)
    hand.near(page, "20")
    for whole, text in (("27", "27.8"), ("26", "26.1")):
        hand.key(page, whole, "middle").tap()
        hand.near(page, text)
    hand.near(page, "12")
    hand.press(page, "1", "4", "0", "Next", "1", "2", "5", "0", "Next")
    job = hand.saved_job(page)
    assert job["units"] == "mm"
    assert job["boards"] == [
        {"name": "Pile", "readings": ["27.8", "26.1"], "width": "140", "length": "1250", "count": 12}
    ]


def test_a_pile_of_no_boards_is_a_slip_at_its_field(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    hand.go(page, "lot")
    hand.type_in(page, "pile.count", "0")
    expect(page.locator('[data-field="pile.count"] .problem')).to_contain_text("whole number from 1")


def board_by_board(page: Page) -> None:
    """The reading of the first board has the pad."""
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()


@pytest.mark.parametrize(("units", "before", "text"), [("in", "32nds", "1.043"), ("mm", "Tenths", "26.48")])
def test_the_digits_of_a_caliper_are_tapped_on_the_pad(open_page: Open, units: str, before: str, text: str) -> None:
    page = open_page()
    hand.ready(page)
    page.locator("#plan .units label", has_text=units).tap()
    hand.own_lot(page)
    board_by_board(page)
    scale = page.locator("#pad .pad-head button").first
    expect(scale).to_have_text(before)
    while scale.inner_text() != "Digits":
        scale.tap()
    hand.press(page, *text, "Next")
    expect(page.locator(".reading button")).to_have_text([text])
    expect(page.locator("#reading")).to_be_focused()
    scale.tap()
    expect(page.locator("#pad .ready").first).to_be_visible()


def test_a_reading_that_is_asked_about_is_answered_on_the_pad(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.own_lot(page)
    hand.near(page, "3/4")
    page.locator("#pile-thickest").fill("0")
    expect(page.locator('[data-field="pile.thickest"] .problem')).to_contain_text("Write it like 1 3/32")
    cures = page.locator("#pad .pad-cures")
    expect(cures).to_be_hidden()
    page.locator("#pile-thickest").fill("27.8")
    expect(cures.locator(".key")).to_have_text(["27.8 mm?", "27.8 in?"])
    hand.press(page, "27.8 mm?")
    expect(page.locator("#pile-thickest")).to_have_value("27.8 mm")
    expect(page.locator("#pile-thinnest")).to_be_focused()
    expect(cures).to_be_hidden()
    expect(page.locator('[data-field="pile.thickest"] .problem')).to_have_text("")


def test_boards_are_of_the_wood_of_the_board_before_or_of_the_pile(open_page: Open) -> None:
    page = open_page()
    hand.pile(page)
    hand.go(page, "lot")
    page.locator("#pile summary", has_text="Wood").tap()
    page.locator("#pile-species").fill("Ash, white")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#board summary", has_text="wood").tap()
    for field, text in (("species", ""), ("species", "Cherry, black"), ("species", ""), ("density", "500 kg/m3")):
        page.locator("#reading").fill("1 1/32")
        if text:
            hand.type_in(page, f"board.{field}", text)
        page.locator('[data-do="next-board"]').tap()
    expect(page.locator("#board-density")).to_have_attribute("placeholder", "500 kg/m3")
    woods = [(board.get("species"), board.get("density")) for board in hand.saved_job(page)["boards"]]
    ash, cherry = ("Ash, white", None), ("Cherry, black", None)
    assert woods == [ash, ash, cherry, cherry, (None, "500 kg/m3")], "the first is what is left of the pile"


def test_a_caliper_that_types_moves_on(open_page: Open) -> None:
    page = open_page()
    hand.pile(page)
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()
    expect(page.locator("#reading")).to_have_attribute("inputmode", "none")
    for text in ("1.0315", "1.0280", "26.4 mm"):
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    expect(page.locator(".reading button")).to_have_text(["1.0315", "1.0280", "26.4 mm"])
    hand.rested(page)
    page.keyboard.press("Enter")
    expect(page.locator("#board-name")).to_have_text("Board B")
    page.keyboard.type("1.0")
    page.keyboard.press("Enter")
    expect(page.locator(".reading button")).to_have_text(["1.0"])


def test_boards_measured_one_by_one_leave_the_pile(open_page: Open) -> None:
    page = open_page()
    hand.pile(page)
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()
    hand.near(page, "1 1/16")
    hand.near(page, "1 1/32")
    page.locator("#pad .act", has_text="Next board").tap()
    hand.near(page, "1")
    page.locator("#pad button", has_text="Done").tap()
    boards = hand.saved_job(page)["boards"]
    assert [(board["name"], board["readings"], board.get("count")) for board in boards] == [
        ("Pile", ["1 1/32", "15/16"], 6),
        ("A", ["1 1/16", "1 1/32"], None),
        ("B", ["1"], None),
    ]
    assert {board["width"] for board in boards} == {"6 1/2"}
    hand.go(page, "lot")
    page.locator("#way label", has_text="Whole pile").tap()
    assert hand.shown(page, "pile.count") == "8"
    assert hand.saved_job(page)["boards"] == boards


def test_the_next_board_needs_no_scrolling(open_page: Open) -> None:
    page = open_page()
    hand.pile(page)
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()
    for _ in range(6):
        hand.near(page, "1")
        page.locator("#pad .act", has_text="Next board").tap()
        field, pad, name = (page.locator(which).bounding_box() for which in ("#reading", "#pad", "#board-name"))
        assert field
        assert pad
        assert name
        assert field["y"] + field["height"] <= pad["y"]
        assert name["y"] >= 0
    expect(page.locator("#board-name")).to_have_text("Board G")


def test_copy_delete_and_take_back_can_be_undone(open_page: Open) -> None:
    page = open_page()
    hand.pile(page)
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()
    hand.near(page, "1 1/16")
    hand.near(page, "1")
    page.locator("#pad .act", has_text="Take back").tap()
    expect(page.locator(".reading button")).to_have_text(["1 1/16"])
    page.locator("#undo button").tap()
    expect(page.locator(".reading button")).to_have_text(["1 1/16", "1"])
    page.locator("#pad button", has_text="Done").tap()
    page.locator('[data-do="copy-board"]').tap()
    expect(page.locator("#board-name")).to_have_text("Board B")
    expect(page.locator(".reading button")).to_have_text(["1 1/16", "1"])
    page.locator('[data-do="delete-board"]').tap()
    expect(page.locator("#rows")).to_be_hidden()
    page.locator("#undo button").tap()
    expect(page.locator("#rows li b")).to_have_text(["A", "B"])


def test_a_reading_can_be_changed(open_page: Open) -> None:
    page = open_page()
    hand.pile(page)
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()
    hand.near(page, "1 1/16")
    hand.near(page, "1")
    page.locator(".reading button").first.tap()
    hand.near(page, "1 1/8")
    expect(page.locator(".reading button")).to_have_text(["1 1/8", "1"])


def test_the_plain_way_takes_what_the_core_reads(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.own_lot(page)
    page.locator("#pad button", has_text="ABC").tap()
    expect(page.locator("#target-thickness")).to_have_attribute("inputmode", "text")
    for text in ("¾″", "35/32", "27,0 mm", "8", "5-1/2", "4 ft 1 in"):
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    hand.planned(page)
    hand.go(page, "lot")
    expect(page.locator('[data-field="pile.thickest"] .understood')).to_contain_text("1 3/32 in")
    expect(page.locator('[data-field="pile.thinnest"] .understood')).to_contain_text("27 mm")
    expect(page.locator('[data-field="pile.longest"] .understood')).to_contain_text("49 in")


def test_units_never_reread_what_was_typed(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    before = hand.settings(page)
    hand.units(page, "mm")
    hand.planned(page)
    assert hand.settings(page)[-1] == before[-1]
    assert hand.settings(page)[0] >= 23.8
    hand.go(page, "lot")
    assert hand.shown(page, "pile.thickest") == "1 1/32 in"
    hand.units(page, "in")
    assert hand.shown(page, "pile.thickest") == "1 1/32"
    hand.planned(page)
    assert hand.settings(page) == before


@pytest.mark.parametrize(
    ("changes", "field", "key", "entered"),
    [
        (
            {"boards": [{"name": "Pile", "readings": ["27/8", "1"], "width": "6", "length": "49", "count": 6}]},
            "pile.thickest",
            "2 7/8 in?",
            "2 7/8 in",
        ),
        (
            {"boards": [{"name": "Pile", "readings": ["1", "15/16"], "width": "60", "length": "49", "count": 6}]},
            "pile.widest",
            "60 mm?",
            "60 mm",
        ),
        ({"planer": {"deepest_cut": "1/8"}, "practice": {"cut": "1/4"}}, "practice.cut", "1/8 in?", "1/8 in"),
    ],
    ids=["27/8", "wide", "cut"],
)
def test_a_slip_is_asked_about_and_settled_by_one_key(
    open_page: Open, changes: dict[str, object], field: str, key: str, entered: str
) -> None:
    page = open_page()
    hand.ready(page)
    pile = {"name": "Pile", "readings": ["1", "15/16"], "width": "6", "length": "49", "count": 6}
    hand.open_job(page, {"thickset": 1, "units": "in", "target": {"thickness": "3/4"}, "boards": [pile], **changes})
    hand.go(page, "lot" if field.startswith("pile") else "planer")
    place = page.locator(f'[data-field="{field}"]')
    place.evaluate("one => { for (let at = one; (at = at.parentElement.closest('details')); ) at.open = true }")
    place.locator("[data-cure]", has_text=key).first.tap()
    expect(place.locator("input")).to_have_value(entered)
    hand.planned(page)
