"""The page under the thumb: sizes, widths, light and dark, what a screen reader is told."""

from __future__ import annotations

import hand
import pytest
from colors import COLORS
from lots import board, lot
from phone import Open
from playwright.sync_api import Page, expect

SMALL = """() => [...document.querySelectorAll('button, select, summary, input, label.button, a[href], [role=button]')]
  .filter((element) => element.checkVisibility({visibilityProperty: true, opacityProperty: false}) && !element.closest('.unseen, .skip'))
  .filter((element) => !element.matches('.unseen, .skip'))
  .map((element) => [element.matches('input[type=radio]') ? element.closest('label') : element, element])
  .filter(([box]) => { const {width, height} = box.getBoundingClientRect(); return width < 47.5 || height < 47.5 })
  .map(([, element]) => element.outerHTML.slice(0, 120))"""
SMALL_TEXT = """() => [...document.querySelectorAll('input:not([type=radio], [type=file]), select')]
  .filter((element) => element.checkVisibility() && parseFloat(getComputedStyle(element).fontSize) < 16).map((element) => element.id)"""
UNEVEN = """() => [...document.querySelectorAll('.pair')].flatMap((pair) => {
  const fields = [...pair.querySelectorAll(':scope > .field')].filter((field) => field.checkVisibility())
    .map((field) => [field, field.getBoundingClientRect().top, field.querySelector('input, select').getBoundingClientRect().top])
  return fields.flatMap(([field, top, entry]) => fields.filter(([, other, its]) => Math.abs(top - other) < 1 && its - entry > 1)
    .map(([other]) => `${field.textContent} / ${other.textContent}`))
})"""
SMALL_LETTERS = """() => [...document.querySelectorAll('svg.lot text, svg.bars text, svg.turning text, svg.dial text, svg.board-sign text')].filter((text) => text.checkVisibility())
  .map((text) => [text, parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a])
  .filter(([, size]) => size < 11.99).map(([text, size]) => `${text.textContent} ${size.toFixed(1)}`)"""
SMALL_FRACTIONS = """() => [...document.querySelectorAll('.fraction')].filter((one) => one.checkVisibility() && !one.closest('#paper'))
  .filter((one) => parseFloat(getComputedStyle(one).fontSize) < 11.99).map((one) => one.parentElement.outerHTML.slice(0, 120))"""
TOO_WIDE = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
FAINT = (
    f"() => {{{COLORS}"
    """
  return [...document.querySelectorAll('main *, #nav *, #top *, #pad *')]
    .filter((element) => element.checkVisibility() && [...element.childNodes].some((node) => node.nodeType === 3 && node.data.trim()))
    .filter((element) => !element.closest('svg, :disabled, .unseen'))
    .map((element) => [element, light(rgb(getComputedStyle(element).color)), light(ground(element))])
    .filter(([, a, b]) => (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05) < 4.5)
    .map(([element, a, b]) => `${element.tagName}.${element.className} ${element.textContent.slice(0, 40)} ${((Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05)).toFixed(2)}`)
}"""
)


def fit(page: Page) -> None:
    """Everything in view can be tapped, read, and fits the width."""
    assert page.evaluate(SMALL) == []
    assert page.evaluate(SMALL_TEXT) == []
    assert page.evaluate(TOO_WIDE) <= 0
    assert page.evaluate(FAINT) == []
    assert page.evaluate(UNEVEN) == []
    assert page.evaluate(SMALL_LETTERS) == []
    assert page.evaluate(SMALL_FRACTIONS) == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [(360, 740), (390, 844), (1280, 800)])
def test_every_part_fits_the_hand_and_the_eye(open_page: Open, size: tuple[int, int], scheme: str) -> None:
    page = open_page(viewport={"width": size[0], "height": size[1]}, color_scheme=scheme)
    hand.ready(page)
    hand.planned(page)
    fit(page)
    hand.own_lot(page)
    fit(page)
    page.locator("#pile-widest").tap()
    fit(page)
    hand.go(page, "planer")
    for folded in page.locator("#planer-fields summary").all():
        folded.tap()
    fit(page)
    hand.go(page, "jobs")
    fit(page)
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()
    page.keyboard.type("1")
    page.keyboard.press("Enter")
    fit(page)
    page.locator("#pad button", has_text="Done").tap()
    for folded in page.locator("#board summary").all():
        folded.tap()
    fit(page)


def lot_of(count: int, name: str = "", thickest: int = 65) -> dict[str, object]:
    """A lot of boards, the thickest of which [1/64 in] takes six passes and more, by letters or by a long name with a number in it."""
    tops = [thickest - n % 12 for n in range(count)]
    named = [name.format(n + 1) if name else chr(65 + n) for n in range(count)]
    boards = [board(f"{top}/64", name=one, length="48") for top, one in zip(tops, named, strict=True)]
    return lot(*boards, planer={"turn": "1/16"})


PLACES = """() => {
  const end = (one) => one.getBoundingClientRect().bottom + scrollY
  const rows = [...document.querySelectorAll('[data-pass][data-setting-mm]')]
  return {
    foot: document.querySelector('#foot').getBoundingClientRect().top,
    said: end(document.querySelector('.headline')),
    picture: end(document.querySelector('figure.picture svg')),
    first: end(rows[0]),
    last: end(rows.at(-1)),
    rows: rows.length,
  }
}"""


@pytest.mark.parametrize(
    ("lot", "passes", "lowest"),
    [
        (lot_of(6), 6, 1700),
        (lot_of(20), 6, 3 * 844),
        (lot_of(20, "Shelf {} left side upright", thickest=77), 9, 3 * 844),
    ],
    ids=["six", "twenty", "twenty with long names"],
)
def test_the_plan_is_taken_in_at_a_glance(open_page: Open, lot: dict[str, object], passes: int, lowest: int) -> None:
    page = open_page(viewport={"width": 390, "height": 844})
    hand.ready(page)
    hand.open_job(page, lot)
    hand.planned(page)
    hand.go(page, "plan")
    page.evaluate("scrollTo(0, 0)")
    at = page.evaluate(PLACES)
    assert at["rows"] >= passes
    assert at["said"] < at["picture"] < at["first"] < at["foot"]
    assert at["last"] <= lowest
    for what in ('#nav [data-go="run"]', '#top [data-do="print"]', '#top [data-do="to-send"]'):
        expect(page.locator(what)).to_be_in_viewport()
    hand.hand_over(page)
    expect(page.locator('#send [data-send="copy"]')).to_be_in_viewport()


def test_the_page_is_set_in_its_own_typeface(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    assert page.evaluate("document.fonts.check('700 16px Thickset')")
    assert page.evaluate("[...document.fonts].map((font) => font.status)") == ["loaded"]


def test_a_fraction_is_one_text_that_is_seen_stacked(open_page: Open) -> None:
    page = open_page()
    hand.planned(page)
    row = page.locator('[data-pass="2"] .pass-setting')
    assert row.text_content() == "15/16 in"
    high, wide = row.locator(".fraction").evaluate("(one) => [one.offsetHeight, one.offsetWidth]")
    assert high > 1.2 * wide


COVERED = """() => [...document.querySelectorAll('#top button, #top label, #bars button')]
  .filter((element) => {
    const {x, y, width, height} = element.getBoundingClientRect()
    const there = document.elementFromPoint(x + width / 2, y + height / 2)
    return width && !element.contains(there)
  }).map((element) => element.outerHTML.slice(0, 80))"""


def test_on_its_side_the_pad_covers_neither_the_field_nor_the_top(open_page: Open) -> None:
    page = open_page(viewport={"width": 740, "height": 360})
    hand.ready(page)
    hand.own_lot(page)
    for field in ("target-thickness", "pile-thickest", "pile-count", "pile-widest", "pile-longest"):
        page.locator(f"#{field}").focus()
        expect(page.locator("#pad")).to_be_visible()
        assert page.evaluate(COVERED) == []
        box, pad = (page.locator(f"#{name}").bounding_box() for name in (field, "pad"))
        assert box
        assert pad
        assert box["x"] + box["width"] <= pad["x"]
        assert (
            page.evaluate(
                "() => { const pad = document.querySelector('#pad'); return pad.scrollHeight - pad.clientHeight }"
            )
            <= 0
        )
        fit(page)
    hand.units(page, "mm")
    for view in ("lot", "planer", "plan", "run", "jobs"):
        hand.go(page, view)
        assert page.evaluate(COVERED) == []
        top, foot = (page.locator(f"#{name}").bounding_box() for name in ("top", "foot"))
        assert top
        assert foot
        assert top["height"] + foot["height"] <= 130
        fit(page)


def test_the_pad_leaves_the_field_in_sight(open_page: Open) -> None:
    page = open_page()
    hand.own_lot(page)
    for field in ("target-thickness", "pile-thickest", "pile-thinnest", "pile-count", "pile-widest", "pile-longest"):
        page.locator(f"#{field}").focus()
        expect(page.locator("#pad")).to_be_visible()
        box, pad, top = (page.locator(f"#{name}").bounding_box() for name in (field, "pad", "top"))
        assert box
        assert pad
        assert top
        assert top["y"] + top["height"] <= box["y"]
        assert box["y"] + box["height"] <= pad["y"]


def test_the_page_works_from_a_keyboard_alone(open_page: Open) -> None:
    page = open_page(viewport={"width": 1280, "height": 800}, is_mobile=False, has_touch=False)
    hand.ready(page)
    page.locator('#plan [data-do="own-lot"]').press("Enter")
    for text in ("7/8", "1 3/32", "1", "8", "6 1/2", "49"):
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    hand.planned(page)
    assert hand.settings(page)[-1] == 22.225


def test_fields_are_named_and_problems_are_told_to_a_screen_reader(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.own_lot(page)
    page.locator("#pad button", has_text="ABC").tap()
    page.keyboard.type("wide")
    field = page.get_by_label("Target thickness")
    expect(field).to_have_attribute("aria-invalid", "true")
    told = page.locator(f"#{field.get_attribute('aria-describedby')}")
    expect(told).to_contain_text("wide")
    for part in ("Lot", "Planer", "Plan"):
        expect(page.get_by_role("navigation").get_by_role("button", name=part, exact=True)).to_have_count(0)


def test_the_picture_leads_to_a_pass_and_to_a_board(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, lot_of(6))
    hand.planned(page)
    hand.go(page, "plan")
    line = page.locator('#plan svg.lot [data-line="2"] path').first.bounding_box()
    assert line
    page.touchscreen.tap(line["x"] + line["width"] - 2, line["y"] + 2)
    row = page.locator('.pass[data-pass="2"] details')
    expect(row).to_have_attribute("open", "")
    expect(row).to_be_in_viewport()
    page.locator('#plan svg.lot [data-of="C"]').tap()
    expect(page.locator('[data-board="C"]')).to_be_in_viewport()


CUT_OFF = """() => [...document.querySelectorAll('#run .huge, #run .surprises > summary, #run [data-undo]')]
  .filter((one) => one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 1).map((one) => one.textContent)"""


def test_twice_as_large_text_cuts_no_act_of_a_run_off_and_widens_no_lot(open_page: Open) -> None:
    page = open_page(viewport={"width": 360, "height": 740})
    hand.ready(page)
    hand.open_job(page, hand.scale_known(lot_of(6)))
    hand.planned(page)
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate(TOO_WIDE) <= 0
    hand.go(page, "run")
    hand.begin(page)
    expect(page.locator("#run .huge")).to_contain_text("All through")
    assert page.evaluate(CUT_OFF) == []


SPILLS = """() => [...document.querySelectorAll('#pad button, #run .set, #run .huge, #foot button, #top button')].filter((one) => one.checkVisibility())
  .filter((one) => {
    const {left, right} = one.getBoundingClientRect()
    return left < -0.5 || right > innerWidth + 0.5 || one.scrollWidth > one.clientWidth + 1 && !one.matches('#job-title')
  }).map((one) => `${one.id || one.className}: ${one.textContent}`)"""
IN_SIGHT = """(field) => {
  const [{bottom}, pad] = [field.getBoundingClientRect(), document.querySelector('#pad').getBoundingClientRect()]
  return bottom <= pad.top || field.getBoundingClientRect().right <= pad.left
}"""
LONGER = """() => {
  const done = (window.longer ??= new WeakSet())
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
  const all = []
  while (texts.nextNode()) all.push(texts.currentNode)
  for (const one of all.filter(({parentElement}) => parentElement.closest('button, summary, label, h1, h2, h3, legend, a') && !parentElement.closest('.key, svg, .fraction, .ticks, .tags')))
    if (!done.has(one) && done.add(one) && /[a-z]{3}/i.test(one.data)) one.data = one.data.replace(/[a-z]+/gi, (word) => word + 'o'.repeat(Math.ceil(word.length * 0.4)))
}"""


@pytest.mark.parametrize(("size", "percent"), [((360, 740), 200), ((320, 568), 200), ((740, 360), 150)])
def test_large_text_stays_within_its_keys_and_the_pad_leaves_the_field_in_sight(
    open_page: Open, size: tuple[int, int], percent: int
) -> None:
    page = open_page(viewport={"width": size[0], "height": size[1]})
    hand.ready(page)
    hand.open_job(page, hand.scale_known(lot_of(6)))
    hand.planned(page)
    page.evaluate("percent => { document.documentElement.style.fontSize = `${percent}%` }", percent)
    hand.go(page, "lot")
    field = page.locator("#reading")
    field.focus()
    expect(page.locator("#pad")).to_be_visible()
    assert field.evaluate(IN_SIGHT)
    assert page.evaluate(SPILLS) == []
    assert page.evaluate(TOO_WIDE) <= 0
    hand.go(page, "run")
    hand.begin(page)
    field = page.locator("#run .test-piece input")
    for _ in range(6):
        assert page.evaluate(SPILLS) == []
        if field.count():
            break
        head = page.locator("#run h2").first.inner_text()
        page.locator("#run .huge").tap()
        expect(page.locator("#run h2").first).not_to_have_text(head)
        hand.rested(page)
    field.focus()
    expect(page.locator("#pad")).to_be_visible()
    assert field.evaluate(IN_SIGHT)
    assert page.evaluate(SPILLS) == []
    assert page.evaluate(TOO_WIDE) <= 0


@pytest.mark.parametrize("width", [360, 320])
def test_labels_two_fifths_longer_widen_no_part_and_push_no_act_off(open_page: Open, width: int) -> None:
    page = open_page(viewport={"width": width, "height": 740})
    hand.ready(page)
    hand.open_job(page, lot_of(6))
    hand.planned(page)
    for view in ("lot", "planer", "plan", "run", "jobs"):
        hand.go(page, view)
        page.evaluate(LONGER)
        assert page.evaluate(TOO_WIDE) <= 0, view
        assert page.evaluate(SPILLS) == [], view
