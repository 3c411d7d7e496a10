"""Printing from the page: the sheet and the tags, and nothing else of the page."""

from __future__ import annotations

import hand
import pytest
from kit import Server
from phone import Open
from playwright.sync_api import Browser, expect
from test_paper import document, pages
from thickset.doors.demo import DEMO_IN

PRINTS = "window.printed = 0; window.print = () => { window.printed += 1 }"


@pytest.mark.parametrize("kind", ["sheet", "tags"])
def test_only_what_the_core_made_is_printed_and_the_page_is_as_before(open_page: Open, kind: str) -> None:
    page = open_page(script=PRINTS)
    hand.ready(page)
    hand.planned(page)
    hand.hand_over(page)
    page.locator(f'[data-do="print-{kind}"]').tap()
    page.wait_for_function("() => window.printed === 1")
    page.emulate_media(media="print")
    seen = (
        "() => [...document.querySelectorAll('body > *')].filter((one) => one.checkVisibility()).map((one) => one.id)"
    )
    assert page.evaluate(seen) == ["paper"]
    assert pages(page.pdf(format="Letter")) == 1
    page.emulate_media(media="screen")
    page.evaluate("() => window.dispatchEvent(new Event('afterprint'))")
    expect(page.locator("#paper")).to_be_empty()
    expect(page.locator("#plan")).to_be_visible()
    assert hand.settings(page)


PLACES = """(root) => [...document.querySelectorAll(root + ' *')].map((one) => {
  const {x, y, width, height} = one.getBoundingClientRect()
  return [one.tagName, one.getAttribute('class'), ...[x, y, width, height].map(Math.round)]
})"""


@pytest.mark.parametrize("kind", ["sheet", "tags"])
def test_the_page_prints_as_the_command_line_does(open_page: Open, browser: Browser, server: Server, kind: str) -> None:
    """The page's own style does not reach into what goes on paper, but for its typeface, which the other is given too."""
    paper = {"width": 730, "height": 1000}
    page = open_page(script=PRINTS, viewport=paper, is_mobile=False, color_scheme="dark")
    hand.ready(page)
    hand.planned(page)
    hand.hand_over(page)
    page.locator(f'[data-do="print-{kind}"]').tap()
    page.wait_for_function("() => window.printed === 1")
    page.emulate_media(media="print", color_scheme="light")
    alone = browser.new_page(viewport=paper)
    alone.goto(f"{server.url}notices.txt")
    alone.set_content(document(DEMO_IN, kind, server.url))
    letters = page.locator("link[as=font]").evaluate("(link) => link.href")
    alone.add_style_tag(content=f"@font-face {{ font-family: Thickset; src: url({letters}); font-weight: 200 800 }}")
    alone.evaluate("Promise.all([400, 700].map((weight) => document.fonts.load(`${weight} 16px Thickset`)))")
    alone.emulate_media(media="print")
    printed, expected = page.evaluate(PLACES, "#paper article"), alone.evaluate(PLACES, "article")
    alone.close()
    assert len(expected) > 50
    assert printed == expected


def test_a_lot_with_a_problem_is_not_printed(open_page: Open) -> None:
    page = open_page(script=PRINTS)
    hand.ready(page)
    hand.planned(page)
    hand.go(page, "lot")
    page.locator("#target-thickness").fill("1/0")
    hand.go(page, "plan")
    page.locator('#top [data-do="print"]').tap()
    expect(page.locator("#problems")).to_be_visible()
    hand.go(page, "lot")
    page.locator("#target-thickness").fill("3/4")
    hand.planned(page)
    hand.go(page, "plan")
    page.locator('#top [data-do="print"]').tap()
    page.wait_for_function("() => window.printed > 0")
    assert page.evaluate("() => window.printed") == 1
