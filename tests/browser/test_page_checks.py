"""The sheet of checks lists every published case with what came out, and is there without a network as the page is."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from kit import Server, engine_ready
from phone import PHONE
from playwright.sync_api import Browser, Page, expect

Open = Callable[..., Page]


def test_the_plan_leads_to_the_sheet_and_the_sheet_back(open_page: Open) -> None:
    page = open_page()
    engine_ready(page)
    page.locator("#plan footer a[href='checks.html']").tap()
    expect(page.locator("h1")).to_have_text("Checks of the formulas")
    expect(page.locator(".outcome-line")).to_contain_text("checks hold.")
    page.locator("summary", has_text="Marks per inch").tap()
    case = page.locator('[data-check="marks/km-4500-4-75"]')
    expect(case).to_contain_text("expected 20, here 20, within 0.0005")
    expect(case).to_contain_text("Source: KM = n z / (12 F)")
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.get_by_text("To the planner").tap()
    expect(page.locator("#plan")).to_be_visible()


def test_every_case_stands_on_it_with_its_outcome(dist: Path) -> None:
    text = (dist / "checks.html").read_text(encoding="utf-8")
    assert text.count('data-holds="yes"') > 400
    assert 'data-holds="no"' not in text
    assert "All " in text
    for known in ("(read)", "(transcribed)", "(memory)", "(derived)"):
        assert known in text


def test_it_is_there_without_a_network(browser: Browser, server: Server) -> None:
    context = browser.new_context(**{**PHONE, "service_workers": "allow"})
    page = context.new_page()
    page.goto(server.url)
    expect(page.locator("#offline")).to_contain_text("Ready without a network", timeout=90_000)
    server.stop()
    page.locator("#plan footer a[href='checks.html']").tap()
    expect(page.locator(".outcome-line")).to_contain_text("checks hold.")
    page.get_by_text("To the planner").tap()
    expect(page.locator("#plan")).to_be_visible()
    context.close()
    server.start()
