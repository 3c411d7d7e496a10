"""Any number of the schedule can be asked why, on the page, with and without a network."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable

import hand
import pytest
from kit import Server, engine_ready
from playwright.sync_api import Page, expect
from test_page_run import JOB, step_on

Open = Callable[..., Page]


def asked(page: Page, what: str) -> Page:
    """The page with the sheet open for a part of the plan, answered."""
    if found := re.fullmatch(r"passes\[(\d+)\]", what):
        hand.unfold(page, int(found[1]) + 1)
    page.locator(f'[data-why="{what}"]').tap()
    expect(page.locator("#why .why")).to_be_visible(timeout=20_000)
    return page


def test_a_pass_says_why_and_the_sheet_closes_back_to_where_it_was_asked(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    asked(page, "passes[2]")
    sheet = page.locator("#why")
    expect(sheet.locator("header h2")).to_have_text("Why pass 3?")
    first = sheet.locator("details").first
    expect(first).to_have_attribute("open", "")
    expect(first.locator(".working")).to_contain_text("S = T + 2 × f + n × q")
    expect(first.locator(".choices li[aria-current]")).to_have_count(1)
    setting = float(page.locator('.pass[data-pass="3"]').get_attribute("data-setting-mm") or 0)
    assert setting == pytest.approx(25.4 * 7 / 8)
    expect(first.locator("summary b")).to_have_text("7/8 in")
    sheet.locator("[data-close]").tap()
    expect(sheet).not_to_be_visible()
    assert page.evaluate("document.activeElement.dataset.why") == "passes[2]"


def test_escape_and_a_tap_beside_the_sheet_close_it(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    asked(page, "plan")
    page.keyboard.press("Escape")
    expect(page.locator("#why")).not_to_be_visible()
    asked(page, "boards[1]")
    page.mouse.click(20, 20)
    expect(page.locator("#why")).not_to_be_visible()


def test_the_buttons_are_large_enough_for_a_thumb_and_stay_on_the_page(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    page.locator(".surface > summary").tap()
    buttons = page.locator("#answer [data-why]:visible")
    assert buttons.count() > 12
    for n in range(buttons.count()):
        box = buttons.nth(n).bounding_box()
        assert box
        assert min(box["width"], box["height"]) >= 47.9
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= 360
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_every_button_is_answered(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    parts = page.locator("#answer [data-why]").evaluate_all("all => all.map((one) => one.dataset.why)")
    for folded in page.locator("#answer details.folded").all():
        folded.evaluate("one => { one.open = true }")
    for what in parts:
        asked(page, what)
        assert page.locator("#why .answer").count() > 0
        assert page.evaluate("document.querySelector('#why').scrollWidth <= innerWidth")
        page.keyboard.press("Escape")


def test_asked_before_the_planner_is_ready_it_waits_and_answers_then(open_page: Open, server: Server) -> None:
    line = threading.Event()
    server.breaks(".bin", lambda _handler: not line.wait(30))
    page = open_page()
    hand.unfold(page, 1)
    page.locator('[data-why="passes[0]"]').tap()
    expect(page.locator("#why .pane-body")).to_have_text("Answered as soon as the planner is ready …")
    line.set()
    expect(page.locator("#why .why")).to_be_visible(timeout=60_000)


def test_without_a_network_it_answers_as_well(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    page.context.set_offline(True)
    asked(page, "passes[5]")
    page.context.set_offline(False)


def test_the_surface_is_drawn_and_the_load_is_a_range(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    folded = page.locator("#answer .surface")
    expect(folded).not_to_have_attribute("open", "")
    folded.locator("> summary").tap()
    assert folded.locator(".waves svg").count() == 4
    expect(folded.locator(".loads")).to_contain_text("to 26 %")
    expect(folded).to_contain_text("order of magnitude")


def test_what_stands_beside_the_plan_and_at_the_machine_says_why(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    job = {**JOB, "parts": [{"name": "rail", "length": "30"}]}
    hand.open_job(page, job)
    hand.planned(page)
    hand.go(page, "plan")
    page.locator('#plan [data-go="more"]').tap()
    page.locator("#more-leave > summary").tap()
    page.locator('#more-leave [data-why="parts"]').tap()
    expect(page.locator("#why .pane-body")).to_contain_text("How long to leave rail")
    page.locator("#why [data-close]").tap()
    hand.go(page, "run")
    pieces = page.locator('#run [data-why="scale.pieces_that_suffice"]')
    while not pieces.count():
        step_on(page)
    pieces.tap()
    expect(page.locator("#why .pane-body")).to_contain_text("test pieces that suffice", ignore_case=True)


def test_snipe_that_stays_says_why(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, {**JOB, "planer": {**JOB["planer"], "snipe": {"lead": "3", "trail": "2"}}})
    hand.planned(page)
    hand.go(page, "plan")
    page.locator('#plan [data-go="more"]').tap()
    page.locator("#more-butting > summary").tap()
    page.locator('#more-butting [data-why="butted"]').tap()
    expect(page.locator("#why .pane-body")).to_contain_text("Boards at one thickness are butted")
