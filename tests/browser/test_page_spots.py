"""Where readings were taken, by tapping a picture of the board; defects of a board; both stay in the job."""

from __future__ import annotations

import hand
from lots import board, lot
from phone import Open
from playwright.sync_api import Page, expect
from test_page_look import fit


def begin(page: Page) -> None:
    hand.ready(page)
    hand.own_lot(page)
    hand.near(page, "3/4")
    page.locator("#pad button", has_text="Done").tap()
    page.locator("#way label", has_text="Board by board").tap()


def take(page: Page, spot: str, text: str) -> None:
    page.locator(f'.spots button[aria-label^="{spot}"]').tap()
    expect(page.locator("#reading")).to_be_focused()
    page.locator("#reading").fill(text)
    page.keyboard.press("Enter")


def test_a_reading_is_taken_where_the_picture_is_tapped(open_page: Open) -> None:
    page = open_page()
    begin(page)
    page.locator("#spots > summary").tap()
    take(page, "End 1, left", "1 1/16")
    take(page, "Middle, center", "1 1/32")
    fit(page)
    page.locator("#reading").fill("1")
    page.keyboard.press("Enter")
    expect(page.locator('.spots button[aria-label="End 1, left: 1 1/16"]')).to_have_text("1 1/16")
    page.locator("#readings button", has_text="1 1/16").tap()
    expect(page.locator('.spots button[aria-pressed="true"]')).to_have_text("1 1/16")
    page.locator('.spots button[aria-label="End 2, right"]').tap()
    page.keyboard.press("Enter")
    page.locator("#board-width").fill("6")
    page.locator("#board-length").fill("40")
    hand.planned(page)
    expect(page.locator("#plan .summary")).to_contain_text("end 2, right")
    (board,) = hand.saved_job(page)["boards"]
    assert board["readings"] == ["1 1/16", "1 1/32", "1"]
    assert board["places"] == ["end 2 right", "middle center", ""]
    page.reload()
    hand.ready(page)
    hand.go(page, "lot")
    page.locator("#spots > summary").tap()
    expect(page.locator('.spots button[aria-label="End 2, right: 1 1/16"]')).to_be_visible()


def test_a_reading_taken_back_takes_its_spot_along(open_page: Open) -> None:
    page = open_page()
    begin(page)
    page.locator("#spots > summary").tap()
    take(page, "End 1, left", "1 1/16")
    take(page, "Middle, center", "1 1/32")
    page.locator("#readings button", has_text="1 1/16").tap()
    page.locator("#pad button", has_text="Take back").tap()
    expect(page.locator(".spots button", has_text="1 1/32")).to_have_attribute("aria-label", "Middle, center: 1 1/32")
    (board,) = hand.saved_job(page)["boards"]
    assert board["places"] == ["middle center"]


JOB = lot(board("1", name="A", width="4", length="60"), board("1", name="B", length="60"))


def at_lengths(page: Page) -> None:
    hand.ready(page)
    hand.open_job(page, JOB)
    hand.planned(page)
    hand.go(page, "plan")
    page.locator('#plan [data-go="more"]').tap()
    page.locator("#more-leave > summary").tap()
    page.locator("#part-0-name").fill("rail")
    page.locator("#part-0-length").fill("40")


def test_bad_stretches_are_entered_and_cut_around(open_page: Open) -> None:
    page = open_page()
    at_lengths(page)
    expect(page.locator("#more-leave .cuts")).to_contain_text("A: rail 0 to 40 in")
    page.locator("#defects button", has_text="Add a bad stretch").tap()
    page.locator("#defect-0-from").fill("10")
    page.locator("#defect-0-to").fill("abc")
    expect(page.locator('#defects [data-part="to"] .problem')).to_contain_text("cannot be read")
    page.locator("#defect-0-to").fill("15")
    expect(page.locator("#more-leave .cuts")).to_contain_text("A: rail 15 to 55 in")
    fit(page)
    assert hand.saved_job(page)["boards"][0]["defects"] == [{"from": "10", "to": "15"}]
    page.reload()
    hand.ready(page)
    page.locator('#nav [data-go="plan"]').tap()
    page.locator('#plan [data-go="more"]').tap()
    page.locator("#more-leave > summary").tap()
    expect(page.locator("#defect-0-from")).to_have_value("10")
    page.locator("#defects .plain").tap()
    expect(page.locator("#more-leave .cuts")).to_contain_text("A: rail 0 to 40 in")
    assert "defects" not in hand.saved_job(page)["boards"][0]


def test_a_part_wider_than_a_board_comes_out_of_another(open_page: Open) -> None:
    page = open_page()
    at_lengths(page)
    page.locator("#part-0-width").fill("5")
    expect(page.locator("#more-leave .cuts")).to_contain_text("B: rail 0 to 40 in")
    page.locator("#part-0-width").fill("7")
    expect(page.locator("#more-leave")).to_contain_text("rail is 7 in wide, and no board that reaches the target is.")
    page.locator("#part-0-width").fill("7 kg")
    expect(page.locator('#part-rows [data-part="width"] .problem')).to_contain_text("cannot be read")


def test_the_forms_that_belong_to_no_job_are_kept_on_the_device(open_page: Open) -> None:
    page = open_page()
    at_lengths(page)
    page.locator("#more-slab > summary").tap()
    for name, text in (("length", "72"), ("width", "6"), ("middle", "1 1/16"), ("part_thickness", "7/8")):
        page.locator(f"#slab-{name}").fill(text)
    expect(page.locator("#more-slab [data-more]")).to_contain_text("makes 7/8 in")
    page.locator("#more-buy > summary").tap()
    page.locator("#buy-thickness").fill("7/8")
    expect(page.locator("#more-buy [data-more]")).to_contain_text("Buy 5/4 rough")
    page.wait_for_function("() => localStorage.getItem('thickset.forms')?.includes('7/8')")
    page.reload()
    hand.ready(page)
    page.locator("#more-slab > summary").tap()
    expect(page.locator("#slab-length")).to_have_value("72")
    expect(page.locator("#more-slab [data-more]")).to_contain_text("makes 7/8 in")
    hand.units(page, "mm")
    hand.to_more(page)
    expect(page.locator("#slab-length")).to_have_value("")
    hand.units(page, "in")
    hand.to_more(page)
    expect(page.locator("#slab-length")).to_have_value("72")
