"""Large text on a phone, set on the page or in the browser: nothing of a plan or a run is cut off at a side, and the layout stays the upright one."""

from __future__ import annotations

from typing import Any

import hand
import pytest
from kit import FLAGS, Server, chromium_path
from lots import board, lot
from phone import Open, opening
from playwright.sync_api import Page, Playwright, expect
from test_page_run import at_the_machine
from thickset.doors.demo import DEMO_IN

JOB = lot(
    board("27.1", "26.4", name="A", width="140", length="900"),
    board("26", "25.8", name="Shelf by the window", width="120", length="900"),
    board("27.6", "27", name="C", width="150", length="1100"),
    board("26.9", "26.2", name="D", width="130", length="800"),
    target="18",
    units="mm",
    title="Drawer fronts",
)
KNOWN = {"record": {"offset": -1.3, "offset_worth": 1, "spread": 0.05, "spread_worth": 2}}

#: What reaches past the box that shows it: the screen's, or that of whatever hides what runs over.
CUT_OFF = """(root) => {
  const shows = (one) => { const {left, right} = one.getBoundingClientRect(); return [left - 1, right + 1] }
  const hides = (one) => ['hidden', 'clip'].includes(getComputedStyle(one).overflowX)
  const found = []
  for (const one of document.querySelectorAll(`${root} *`)) {
    if (!one.checkVisibility({visibilityProperty: true}) || one.closest('.unseen') || one.matches('svg *, .fraction *')) continue
    const {left, right, width} = one.getBoundingClientRect()
    if (!width) continue
    const boxes = [[-1, document.documentElement.clientWidth + 1]]
    for (let up = one.parentElement; up; up = up.parentElement) if (hides(up)) boxes.push(shows(up))
    const over = hides(one) && one.scrollWidth > one.clientWidth + 1
    if (over || boxes.some(([from, to]) => left < from || right > to))
      found.push(`${one.tagName}.${one.className.baseVal ?? one.className} ${Math.round(left)} to ${Math.round(right)}: ${one.textContent.trim().slice(0, 40)}`)
  }
  return found
}"""
#: Settings that stand on two lines.
BROKEN = """() => [...document.querySelectorAll('.pass-setting')].flatMap((one) => [...one.childNodes]).filter((one) => /[0-9]/.test(one.textContent) && one.nodeType === 3 && one.data.trim())
  .filter((one) => { const range = document.createRange(); range.selectNodeContents(one); return new Set([...range.getClientRects()].map(({top}) => Math.round(top))).size > 1 })
  .map((one) => one.data)"""
LARGE = "(percent) => { document.documentElement.style.fontSize = `${percent}%` }"


def go(page: Page, view: str) -> None:
    page.locator(f'#nav [data-go="{view}"]').evaluate("(one) => one.click()")
    page.wait_for_selector(f'html[data-view="{view}"]', state="attached")


@pytest.mark.parametrize("job", [DEMO_IN, {**JOB, "planer": KNOWN}], ids=["in", "mm, scale known"])
def test_nothing_is_cut_off_at_a_side_however_large_the_text(open_page: Open, job: dict[str, Any]) -> None:
    page = open_page()
    at_the_machine(page, job)
    for wide in (320, 360, 390):
        page.set_viewport_size({"width": wide, "height": 740})
        for percent in (100, 150, 200):
            page.evaluate(LARGE, percent)
            for view, root in (("plan", "#plan"), ("run", "#run")):
                go(page, view)
                assert page.evaluate(CUT_OFF, root) == [], f"{root} at {percent} % on {wide} px"
            go(page, "plan")
            assert page.evaluate(BROKEN) == [], f"at {percent} % on {wide} px"


def test_a_large_font_of_the_browser_leaves_the_phone_upright(playwright: Playwright, server: Server) -> None:
    large = playwright.chromium.launch(
        executable_path=chromium_path(playwright), args=[*FLAGS, "--blink-settings=defaultFontSize=24"]
    )
    with opening(large, server) as open_page:
        page = open_page()
        at_the_machine(page, {**JOB, "planer": KNOWN}, known=False)
        assert page.evaluate("getComputedStyle(document.documentElement).fontSize") == "25.5px"
        for view, root in (("run", "#run"), ("plan", "#plan")):
            go(page, view)
            assert page.evaluate(CUT_OFF, root) == []
        for one in page.locator("#nav button:visible").all():
            expect(one).to_have_css("flex-direction", "column")
    large.close()


SEEN = [{"did": "see", "what": what} for what in ("ridges", "roller marks", "dents", "bog", "stop")]
OPENED = {"setting": "18 mm", "scale": "18 mm", "thickness": "18.35 mm"}
ENTRIES: list[dict[str, Any]] = [
    {"did": "feed", "setting": "27.1 mm", "scale": "27.1 mm"},
    {"did": "feed", "setting": "27.1 mm", "scale": "27.1 mm", "boards": ["Shelf by the window", "C", "D"]},
    {"did": "test", **OPENED},
    {"did": "test", **OPENED, "board": "Shelf by the window"},
    {"did": "check", "thickness": "25.45 mm"},
    {"did": "measure", "board": "Shelf by the window", "readings": ["25.8", "25.1"]},
    {"did": "remove", "board": "Shelf by the window"},
    {"did": "retarget", "thickness": "17.65 mm"},
    {"did": "see", "what": "tear-out", "board": "Shelf by the window"},
    *SEEN,
]


def test_undo_says_whole_what_it_takes_back(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    said = []
    for entry in ENTRIES:
        hand.open_job(page, hand.scale_known({**JOB, "run": [ENTRIES[0], entry]}))
        hand.planned(page)
        go(page, "run")
        undo = page.locator("#run [data-undo]")
        expect(undo).to_contain_text("Undo: ")
        said.append(undo.inner_text())
        assert undo.evaluate("(one) => [one.scrollHeight - one.clientHeight, one.scrollWidth - one.clientWidth]") == [
            0,
            0,
        ], said[-1]
    assert len(set(said)) >= len(SEEN) + 7, said
