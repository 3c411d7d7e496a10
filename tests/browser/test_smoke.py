"""The page once through, for the moment before a commit: five numbers, their plan, the first step of its run, what to buy."""

from __future__ import annotations

import hand
from phone import Open
from playwright.sync_api import expect


def test_five_numbers_make_a_plan_and_its_run_begins(open_page: Open) -> None:
    page = open_page()
    hand.pile(page)
    hand.go(page, "plan")
    hand.planned(page)
    assert hand.settings(page)[-1] == 19.05
    assert not hand.problems(page)
    hand.to_more(page)
    page.locator("#more-buy > summary").tap()
    page.locator("#buy-thickness").fill("3/4")
    expect(page.locator("#more-buy [data-more]")).to_contain_text("Buy 4/4 rough")
    hand.go(page, "run")
    expect(page.locator("#at-machine h2:not(details *, .before-run *)", has_text="Pass 1")).to_be_visible()
    hand.rested(page)
    page.locator("#run .huge", has_text="The scrap measures").tap()
    expect(page.locator("#run .huge", has_text="All through")).to_be_visible()
    hand.rested(page)
    page.locator("#run .huge").tap()
    expect(page.locator("#at-machine h2:not(details *, .before-run *)", has_text="Pass 2")).to_be_visible()
