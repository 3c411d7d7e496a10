"""A pass on the screen of a phone: its boards in view, undo and trouble at their places, every part one tap away."""

from __future__ import annotations

import hand
import pytest
from phone import Open
from playwright.sync_api import Page, expect
from test_page_machine import surprise
from test_page_run import JOB, at_the_machine, step_on, tap_on

IN_VIEW = """() => {
  const keys = [...document.querySelectorAll('#run .feeding .ticks button')]
  return keys.filter(one => {
    const {left, right, top, bottom} = one.getBoundingClientRect()
    const [across, down] = [(left + right) / 2, (top + bottom) / 2]
    const spots = [[across, top + 2], [across, bottom - 2], [left + 2, down], [right - 2, down]]
    return spots.every(([x, y]) => one.contains(document.elementFromPoint(x, y)))
  }).map(one => one.textContent)
}"""
NAMES = "ABCDEFGHIJKLMNOPQRST"


def lot(count: int, units: str, **more: object) -> dict[str, object]:
    """So many boards, some of which wait for the first settings."""
    inch = [[f"{1.06 - 0.008 * n:.3f}", f"{0.94 - 0.004 * n:.3f}"] for n in range(count)]
    mm = [[f"{25.4 - 0.2 * n:.1f}", f"{22.5 - 0.1 * n:.1f}"] for n in range(count)]
    wide, long = ("6", "40") if units == "in" else ("140", "1200")
    return {
        "thickset": 1,
        "title": f"{count} boards",
        "units": units,
        "target": {"thickness": "3/4" if units == "in" else "19"},
        "boards": [
            {"name": name, "readings": readings, "width": wide, "length": long}
            for name, readings in zip(NAMES, inch if units == "in" else mm, strict=False)
        ],
        "planer": {"turn": "1/16" if units == "in" else "1.5"},
        **more,
    }


KNOWN = {
    "record": {
        "offset": 0.3,
        "offset_worth": 6,
        "spread": 0.03,
        "spread_worth": 6,
        "runs": 2,
        "fed": 100,
    }
}


@pytest.mark.parametrize(("units", "name"), [("in", "{}"), ("mm", "{}"), ("mm", "Shelf {} left side upright")])
@pytest.mark.parametrize("known", [{}, KNOWN], ids=["bare", "by its scale"])
def test_up_to_twelve_boards_of_a_pass_are_in_view_without_a_scroll(
    open_page: Open, units: str, name: str, known: dict[str, object]
) -> None:
    page = open_page()
    job = lot(12, units)
    for board in job["boards"]:  # type: ignore[attr-defined]
        board["name"] = name.format(ord(board["name"]) - 64 if "Shelf" in name else board["name"])
    at_the_machine(page, {**job, "planer": {**job["planer"], **known}})  # type: ignore[dict-item]
    seen = []
    while page.locator("#run .huge").count():
        if page.locator("#run .feeding").count():
            assert page.evaluate("scrollY") == 0
            keys = page.locator("#run .feeding .ticks button").all_inner_texts()
            assert page.evaluate(IN_VIEW) == keys
            seen.append(len(keys))
        step_on(page)
    assert seen[0] < 12
    assert seen[-1] == 12


def test_more_boards_stand_in_their_order_with_how_many_are_left(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, lot(20, "mm", practice={"cut": "4"}))
    while page.locator("#run .feeding .ticks button").count() < 20:
        step_on(page)
    keys = page.locator("#run .feeding .ticks button")
    order = keys.all_inner_texts()
    groups = page.locator("#run .group").count()
    assert order == list(NAMES) or groups > 1
    assert len(page.evaluate(IN_VIEW)) >= 12
    for n, left in ((1, 19), (0, 18)):
        tap_on(page, order[n])
        expect(page.locator("#run .huge")).to_have_text(f"All through{left} of 20 left")
    assert keys.all_inner_texts() == order


def test_boards_that_go_in_the_same_way_stand_in_one_group(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, lot(12, "mm"))
    mixed = 0
    while page.locator("#run .huge").count():
        hows = page.locator("#run .how span:not(.unseen)").all_inner_texts()
        assert len(hows) == len(set(hows))
        mixed += page.locator("#run .how", has_text="No turn").count()
        step_on(page)
    assert mixed


def test_a_tap_that_counts_is_seen_before_the_core_answers_and_felt(open_page: Open) -> None:
    page = open_page(script="window.felt = []; navigator.vibrate = (ms) => window.felt.push(ms)")
    at_the_machine(page)
    counted = page.locator("#run .huge").evaluate("(it) => { it.click(); return it.classList.contains('counted') }")
    assert counted
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 2")
    assert len(page.evaluate("felt")) == 1
    expect(page.locator("#run .counted")).to_have_count(0)


def test_a_run_shows_where_the_lot_stands_and_leads_to_a_board_and_to_a_pass(open_page: Open) -> None:
    page = open_page()
    job = lot(2, "mm", practice={"cut": "4"})
    job["boards"][0].update(name="Shelf at the left side", count=3)  # type: ignore[index]
    at_the_machine(page, job)
    step_on(page)
    page.locator("#run .stands > summary").tap()
    expect(page.locator("#run .stands [data-of]")).to_have_count(2)
    page.locator("#run .stands [data-of='Shelf at the left side']").tap()
    expect(page.get_by_role("button", name="Shelf at the left side x3")).to_be_focused()
    line = page.locator("#run .stands [data-line='2'] path").first
    line.scroll_into_view_if_needed()
    box = line.bounding_box()
    assert box
    page.touchscreen.tap(box["x"] + box["width"] - 3, box["y"] + 2)
    expect(page.locator('.pass[data-pass="2"]')).to_be_in_viewport()


def boxes(page: Page, *selectors: str) -> list[dict[str, float] | None]:
    return [dict(page.locator(one).bounding_box() or {}) for one in selectors]


def test_undo_and_trouble_stand_at_their_places_at_every_step(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    undo, trouble = "#run [data-undo]", "#run .surprises > summary"
    expect(page.locator(undo)).to_be_disabled()
    first = boxes(page, undo, trouble)
    said = []
    while page.locator("#run .huge").count():
        page.evaluate("scrollTo(0, document.body.scrollHeight)")
        assert boxes(page, undo, trouble) == first
        expect(page.locator(undo)).to_be_in_viewport(ratio=1)
        expect(page.locator(trouble)).to_be_in_viewport(ratio=1)
        expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass ")
        for part in ("lot", "planer", "plan", "run"):
            expect(page.locator(f"#nav [data-go={part}]")).to_be_in_viewport(ratio=1)
        step_on(page)
        said.append(page.locator(undo).inner_text())
    assert boxes(page, undo) == first[:1]
    assert said[:3] == ["Undo: pass 1 through", "Undo: pass 2 through", "Undo: test piece 13/16 in"]
    for text in reversed(said):
        expect(page.locator(undo)).to_have_text(text)
        tap_on(page, text)
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 1")
    expect(page.locator(undo)).to_be_disabled()


def test_what_is_not_right_comes_with_one_tap_from_wherever_the_screen_was(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, lot(20, "in"))
    step_on(page)
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    page.locator("#run .surprises > summary").tap()
    expect(page.locator("#run .surprises > h2")).to_be_in_viewport(ratio=1)
    for n in range(6):
        expect(page.locator("#run .surprises > :is(button, details)").nth(n)).to_be_in_viewport(ratio=1)
    expect(page.locator("#run .huge")).to_be_hidden()
    hand.rested(page)
    page.locator("#run .surprises > summary", has_text="Back to the pass").tap()
    expect(page.locator("#run .huge")).to_be_visible()
    surprise(page, "The motor bogs")
    expect(page.locator("#run [data-undo]")).to_have_text("Undo: the motor bogs")
    expect(page.locator("#run .said")).to_be_in_viewport(ratio=1)


def test_what_is_planned_anew_is_read_from_its_top(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, lot(20, "mm", planer=KNOWN))
    step_on(page)
    page.locator("#run .surprises > summary").tap()
    for label in (
        "A board that is through is too thick or too thin",
        "A board has not cleaned up, or is not what it was",
    ):
        fold = page.locator("#run .surprises > details", has=page.locator("summary", has_text=label))
        fold.locator("summary").tap()
        for field in fold.locator("input").all():
            field.evaluate("(one) => { one.value = Number(one.dataset.nearMm).toFixed(1) }")
        before = page.locator("#run [data-undo]").inner_text()
        hand.rested(page)
        fold.locator("[data-add]").tap()
        expect(page.locator("#run [data-undo]")).not_to_have_text(before)
        expect(page.locator("#run .set")).to_be_in_viewport(ratio=1)
        assert page.evaluate("scrollY") == 0
        hand.rested(page)
        page.locator("#run .surprises > summary").tap()


def test_a_run_opens_at_its_top(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, lot(20, "in"))
    step_on(page)
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    assert page.evaluate("scrollY") > 0
    hand.go(page, "plan")
    hand.go(page, "run")
    assert page.evaluate("scrollY") == 0
    page.set_viewport_size({"width": 1280, "height": 800})
    expect(page.locator("#plan")).to_be_hidden()
    hand.rested(page)
    page.locator('#nav [data-go="plan"]').tap()
    expect(page.locator("#plan")).to_be_visible()
    expect(page.locator('#nav [data-go="plan"]')).to_be_hidden()


IN_USE = """() => {
  const shows = (one) => {
    const {left, right, top, bottom} = one.getBoundingClientRect()
    return one.checkVisibility() && one.contains(document.elementFromPoint((left + right) / 2, (top + bottom) / 2))
  }
  window.shown ??= [...document.querySelectorAll(':is(#top, main, #nav, #pad) :is(button, input, label, summary)')].filter(shows)
  const toast = document.querySelector('#undo').getBoundingClientRect()
  return window.shown.filter(one => one.checkVisibility() && !(innerWidth < 960 && document.documentElement.dataset.pad && one.closest('#top')))
    .filter(one => {
      const {top, bottom} = one.getBoundingClientRect()
      return toast.height && top < Math.min(toast.bottom, innerHeight) - 1 && bottom > toast.top + 1
    }).map(one => one.textContent || one.outerHTML)
}"""
"""Of what was shown when this was first asked, what the toast covers; the page's head is not in use while a field is."""


@pytest.mark.parametrize(("view", "width"), [("lot", 360), ("field", 360), ("field", 1280), ("run", 360)])
def test_a_toast_covers_nothing_that_is_in_use(open_page: Open, view: str, width: int) -> None:
    page = open_page(viewport={"width": width, "height": 740})
    hand.ready(page)
    hand.open_job(page, JOB)
    hand.planned(page)
    hand.go(page, "lot")
    if view == "field":
        page.locator("#reading").tap()
        page.wait_for_selector("#pad", state="visible")
        hand.near(page, "1")
        hand.rested(page)
        assert page.evaluate(IN_USE) == []
        page.locator("#pad .pad-foot button", has_text="Take back").tap()
    else:
        page.locator('[data-do="copy-board"]').scroll_into_view_if_needed()
        assert page.evaluate(IN_USE) == []
        page.locator('[data-do="copy-board"]').tap()
    expect(page.locator("#undo")).to_be_visible()
    if view == "run":
        hand.go(page, "run")
        expect(page.locator("#undo")).to_be_hidden()
    assert page.evaluate(IN_USE) == []
