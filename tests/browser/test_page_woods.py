"""A wood is chosen by part of its name; moisture and a bag are entered out of the way and answered beside the plan."""

from __future__ import annotations

from collections.abc import Callable

from kit import engine_ready
from playwright.sync_api import Page, expect

Open = Callable[..., Page]


def own_pile(page: Page) -> None:
    """A pile of boards in five numbers, on the part of the lot."""
    page.locator('#nav [data-go="lot"]').tap()
    page.locator('#lot [data-do="own-lot"]').tap()
    for field, text in (
        ("target-thickness", "3/4"),
        ("pile-thickest", "1"),
        ("pile-thinnest", "7/8"),
        ("pile-count", "12"),
    ):
        page.locator(f"#{field}").fill(text)
    for field, text in (("pile-widest", "6"), ("pile-longest", "48")):
        page.locator(f"#{field}").fill(text)


WOOD = '[data-wood="Maple, sugar (hard maple)"]'


def test_a_tap_below_the_list_of_woods_is_not_missed(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    own_pile(page)
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").fill("1")
    page.locator("#board details.more > summary", has_text="wood").tap()
    page.locator("#board-species").tap()
    page.keyboard.type("oak")
    expect(page.locator(".wood-list")).to_be_visible()
    page.locator('[data-do="next-board"]').tap()
    expect(page.locator("#board-name")).to_have_text("Board B")
    expect(page.locator(".wood-list")).to_be_hidden()


def test_a_wood_is_chosen_by_part_of_its_name(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    own_pile(page)
    page.locator("#pile details.more > summary").tap()
    page.locator("#pile-species").tap()
    page.keyboard.type("hard map")
    choice = page.locator(WOOD)
    page.wait_for_function("(name) => document.querySelector(name)?.getBoundingClientRect().height >= 48", arg=WOOD)
    choice.tap()
    expect(page.locator("#pile-species")).to_have_value("Maple, sugar (hard maple)")
    expect(page.locator(".wood-list")).to_be_hidden()
    expect(page.locator('[data-field="pile.species"] .problem')).to_be_empty()
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_a_wood_that_is_not_listed_is_entered_by_its_density(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    own_pile(page)
    page.locator("#pile details.more > summary").tap()
    page.locator("#pile-species").tap()
    page.keyboard.type("wenge")
    expect(page.locator(".woods")).to_contain_text("enter its density")
    page.locator("#pile-species").fill("")
    page.locator("#pile-density").fill("870 kg/m3")
    expect(page.locator('[data-field="pile.density"] .understood')).to_contain_text("870 kg/m3")
    expect(page.locator('[data-field="pile.density"] .problem')).to_be_empty()


def test_moisture_is_answered_beside_the_plan_and_kept(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    expect(page.locator('[data-show="movement"]')).to_be_empty()
    page.locator('#nav [data-go="lot"]').tap()
    page.locator("#lot summary", has_text="Moisture, and a rest").tap()
    page.locator("#service-moisture-now").fill("12")
    page.locator("#service-temperature").fill("70 F")
    page.locator("#service-humidity").fill("110")
    expect(page.locator('[data-field="service.humidity"] .problem')).to_contain_text("more than 95 %")
    page.locator("#service-humidity").fill("30")
    expect(page.locator('[data-field="service.humidity"] .problem')).to_be_empty()
    page.locator('#nav [data-go="plan"]').tap()
    summary = page.locator(".movement > summary")
    expect(summary).to_have_text("Moisture: plane to 0.757 in today")
    summary.tap()
    page.locator('[data-why="movement"]').tap()
    expect(page.locator("#why .why")).to_contain_text("Wood Handbook")


def test_the_bag_of_the_planer_is_counted(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    page.locator('#nav [data-go="planer"]').tap()
    page.get_by_text("Shavings, air, noise").first.tap()
    page.locator('[data-field="shop.bag"] input').fill("3 gal")
    page.locator('#nav [data-go="plan"]').tap()
    page.locator(".shavings > summary").tap()
    expect(page.locator(".shavings")).to_contain_text("of 3 gal")
