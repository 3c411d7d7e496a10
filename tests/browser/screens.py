"""Every screen of the page, one after the other on one tab, for what must hold on each: a walk gives their names.

Whoever walks may change the width, the colors and the size of text between two screens: nothing here hangs on them.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import hand
from lots import board, lot
from playwright.sync_api import Page, expect
from thickset.ground.link.link import to_link

WOOD = {"species": "Ash, white"}
DEFECT = {"from": "10", "to": "14"}
JOB: dict[str, Any] = lot(
    board("1 3/32", "1 1/16", name="A", length="70", defects=[DEFECT], **WOOD),
    board("63/64", "61/64", name="B", width="7", **WOOD),
    title="Reading room shelves",
    planer={
        "turn": "1/16",
        "feeds": ["16 ft/min", "28 ft/min"],
        "head": {"speed": "5000 rpm", "knives": 3, "diameter": "3 1/4"},
        "snipe": {"lead": "3", "trail": "2"},
        "deepest_cut": "3/32",
    },
    parts=[{"name": "Shelf", "length": "30", "width": "5", "count": 2}],
    service={"moisture_now": 12, "moisture_then": 8},
)
OTHER = lot(("A", "33/32", "1"), target="7/8", title="Bench slats")
SCRAPS = [{"kind": "scrap", "on": f"2026-11-{n:02}", "offs": [0.1 + 0.01 * (n % 3)]} for n in range(1, 12)]
BOOK = [*SCRAPS, {"kind": "changed", "on": "2026-11-12"}, {"kind": "scrap", "on": "2026-11-13", "offs": [0.5]}]
STORED = {
    "thickset.planer.a": json.dumps({"v": 1, "name": "Old green one", "units": "in", "settings": {}}),
    "thickset.planer.b": json.dumps({"v": 1, "name": "Bench top", "units": "in", "settings": {"planer.widest": "4"}}),
    "thickset.book.a": json.dumps({"v": 1, "entries": BOOK}),
}
NO_PRINTER = "window.printed = 0; window.print = () => { window.printed += 1 }"
UNFOLD = """(root) => {
  for (const one of document.querySelectorAll(`${root} details`)) if (one.checkVisibility() && !one.open) one.open = true
}"""


def click(page: Page, selector: str, text: str = "") -> None:
    """Click without a pointer, wherever it lies."""
    hand.rested(page)
    page.locator(selector, has_text=text or None).first.evaluate("(one) => one.click()")


def to(page: Page, view: str) -> None:
    """To a part of the page, wherever its button lies."""
    page.evaluate("document.activeElement.blur()")
    page.wait_for_selector("#pad", state="hidden")
    click(page, f'[data-go="{view}"]')
    page.wait_for_selector(f'html[data-view="{view}"]', state="attached")


def unfolded(page: Page, root: str) -> None:
    """Everything that unfolds is unfolded, two folds deep."""
    page.evaluate(UNFOLD, root)
    page.evaluate(UNFOLD, root)


def fill(page: Page, selector: str, text: str) -> None:
    """Type a text in place of what stands there."""
    page.locator(selector).first.fill(text)


def walk(page: Page) -> Iterator[str]:
    """All screens of the page, the engine being ready."""
    hand.planned(page)
    yield "the example"
    yield from lots(page)
    yield from planers(page)
    hand.open_job(page, JOB)
    hand.planned(page)
    yield from jobs(page)
    yield from plans(page)
    yield from beside(page)
    yield from runs(page)
    yield from rests(page)
    yield from arrivals(page)
    yield from papers(page)


def lots(page: Page) -> Iterator[str]:
    """Entering a lot, in its ways and states."""
    click(page, '#plan [data-do="own-lot"]')
    expect(page.locator("#pad")).to_be_visible()
    yield "a new lot, its target on the pad"
    for field, text in {"target-thickness": "3/4", "pile-thickest": "15/16", "pile-thinnest": "1"}.items():
        fill(page, f"#{field}", text)
    page.locator("#pile-count").focus()
    expect(page.locator("#pile .problem", has_text="thin").first).to_be_visible()
    yield "the pile with its spots the wrong way round, how many on the pad"
    for field, text in {"thickest": "1", "thinnest": "15/16", "count": "8", "widest": "6 1/2", "longest": "49"}.items():
        fill(page, f"#pile-{field}", text)
    hand.planned(page)
    to(page, "lot")
    unfolded(page, "#lot")
    yield "the pile, all unfolded"
    click(page, "#units button", "Change")
    yield "its units about to change"
    click(page, "#units button", "Change")
    click(page, '#way input[value="boards"]')
    page.locator("#reading").focus()
    for text in ("1 1/32", "1 1/64"):
        page.keyboard.type(text)
        hand.rested(page)
        page.keyboard.press("Enter")
    page.keyboard.type("63/64")
    yield "a board, its reading on the pad"
    to(page, "lot")
    unfolded(page, "#lot")
    yield "a board, all unfolded"
    click(page, '[data-do="copy-board"]')
    click(page, '[data-do="delete-board"]')
    expect(page.locator("#undo")).to_be_visible()
    yield "a board is deleted"


def planers(page: Page) -> Iterator[str]:
    """The planer."""
    to(page, "planer")
    unfolded(page, "#planer")
    yield "the planer, all unfolded"
    fill(page, '[data-field="planer.deepest_cut"] input', "deep")
    expect(page.locator('[data-field="planer.deepest_cut"] .problem')).to_contain_text("deep")
    yield "the planer with a slip"


def jobs(page: Page) -> Iterator[str]:
    """The jobs."""
    to(page, "jobs")
    unfolded(page, "#jobs")
    fill(page, "#table-text", "Board\tReading 1\tWidth\tLength\nA\t1 1/32\t6\t40\nB\t1\t6\t40")
    expect(page.locator("#table-take")).to_be_visible()
    yield "the jobs, all unfolded"


def plans(page: Page) -> Iterator[str]:
    """The plan, and what opens over it."""
    to(page, "plan")
    yield "the plan"
    unfolded(page, "#plan")
    expect(page.locator("#frame .frame")).to_be_visible()
    yield "the plan, all unfolded"
    click(page, '#top [data-do="to-send"]')
    click(page, '#send [data-send="code"]')
    expect(page.locator("#send-code svg")).to_be_visible()
    yield "handing it over"
    page.evaluate("document.querySelector('#send').hidePopover()")
    click(page, "#plan [data-why]")
    expect(page.locator("#why .pane-body")).not_to_be_empty()
    page.wait_for_function("() => document.querySelector('#why .pane-body').children.length")
    unfolded(page, "#why")
    yield "why"
    click(page, "#why [data-close]")
    page.evaluate("document.querySelector('#target-thickness').value = ''")
    fill_unseen(page, "#target-thickness", "1/0")
    expect(page.locator("#problems li")).to_have_count(1)
    yield "a plan that holds no more"
    fill_unseen(page, "#target-thickness", "3/4")
    hand.planned(page)


def fill_unseen(page: Page, selector: str, text: str) -> None:
    """A text comes into a field that is on another screen."""
    page.locator(selector).evaluate(
        "(one, text) => { one.value = text; one.dispatchEvent(new Event('input', {bubbles: true})) }", text
    )


def beside(page: Page) -> Iterator[str]:
    """What stands beside the plan."""
    click(page, '#plan [data-go="more"]')
    expect(page.locator("#more-time [data-more]")).to_contain_text("This plan saves")
    unfolded(page, "#more")
    expect(page.locator("#more-leave .cuts")).to_contain_text("Shelf")
    yield "beside the plan, all unfolded"


def settled(page: Page) -> None:
    """The screen is that of the run as it is."""
    page.wait_for_selector("#at-machine[data-painted]:not([aria-busy=true])", state="attached")


def runs(page: Page) -> Iterator[str]:
    """At the machine, from the cautions to what came of it."""
    to(page, "run")
    settled(page)
    yield "the cautions"
    page.evaluate("document.querySelector('#run [data-begin]').click()")
    yield from run_steps(page)
    click(page, "#run button", "Enter what came out")
    page.locator("#final-0").focus()
    expect(page.locator("#pad")).to_be_visible()
    yield "what came out, on the pad"
    page.evaluate("document.activeElement.blur()")
    unfolded(page, "#finals")
    yield "what came out, at a spot"
    for _ in JOB["boards"]:
        click(page, "#on-target")
        page.wait_for_selector("#finals:not([aria-busy=true])", state="attached")
    click(page, "#finals button", "what was learned")
    expect(page.locator("#more-after .finals li").first).to_be_visible()
    unfolded(page, "#more")
    yield "what was learned"
    to(page, "plan")
    yield "the plan after its run"


def run_steps(page: Page) -> Iterator[str]:
    """Each step of the run, its trouble and a correction."""
    seen: set[str] = set()
    for _ in range(40):
        if not page.locator("#run .huge").count():
            break
        piece = page.locator("#run .test-piece h3")
        kind = piece.inner_text() if piece.count() else "feeding"
        if kind not in seen:
            seen.add(kind)
            yield f"a pass, {kind}"
            unfolded(page, "#at-machine")
            yield f"trouble in a pass, {kind}"
            page.evaluate("document.querySelector('#run .surprises').open = false")
            if piece.count():
                yield from corrected(page)
                continue
        step(page, "#run .huge")
    yield "done"


def step(page: Page, selector: str, text: str = "") -> None:
    """A step of the run, and the screen that follows."""
    before = page.locator("#at-machine").inner_html()
    click(page, selector, text)
    page.wait_for_function("(before) => document.querySelector('#at-machine').innerHTML !== before", arg=before)
    settled(page)


def corrected(page: Page) -> Iterator[str]:
    """A test piece measures too thick."""
    page.locator("#run .test-piece input").first.focus()
    expect(page.locator("#pad")).to_be_visible()
    yield "the test piece on the pad"
    page.evaluate("document.activeElement.blur()")
    fill(page, "#run .test-piece input", "1.1")
    step(page, "#run .test-piece .measure button")
    yield "a correction"


def rests(page: Page) -> Iterator[str]:
    """The rest between two stages of a run."""
    hand.open_job(page, {**JOB, "title": "In two stages", "service": {"rest": "1/16"}})
    hand.planned(page)
    to(page, "plan")
    yield "a plan in two stages"
    to(page, "run")
    settled(page)
    page.evaluate("document.querySelector('#run [data-begin]')?.click()")
    while page.locator("#run .huge").count():
        step(page, "#run .huge")
    expect(page.locator("#run .after-rest input").first).to_be_visible()
    yield "the rest"


def another_tab(page: Page) -> Iterator[str]:
    """A tab beside the first, on the same job; then nothing more can be stored."""
    hand.ready(page)
    expect(page.locator("#pen")).to_be_visible()
    yield "another tab works on this job"
    hand.take_pen(page)
    page.evaluate(
        "() => { Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') } }"
    )
    fill_unseen(page, "#target-thickness", "5/8")
    hand.stored(page)
    expect(page.locator("#trouble")).to_contain_text("full")
    yield "the storage is full"


def with_two_planers(page: Page) -> Iterator[str]:
    """The lot on each planer, and the book of one; STORED is on the device."""
    hand.ready(page)
    hand.open_job(page, {**OTHER, "planer": {"name": "Old green one"}})
    hand.planned(page)
    to(page, "planer")
    click(page, "#which > summary")
    expect(page.locator(".on-planers > li")).to_have_count(2)
    unfolded(page, "#which")
    yield "which planer"
    click(page, "#book > summary")
    expect(page.locator("#book .knocked")).to_be_visible()
    unfolded(page, "#book")
    yield "the book of a planer"


def without_engine(page: Page) -> Iterator[str]:
    """The planner does not start."""
    page.wait_for_selector('html[data-engine="failed"]', state="attached")
    expect(page.locator("#boot-failed")).to_be_visible()
    yield "the planner did not start"
    click(page, '[data-do="go-on"]')
    to(page, "lot")
    yield "the lot without the planner"


def arrivals(page: Page) -> Iterator[str]:
    """A plan that came with the address, and what the page tells at its top."""
    page.evaluate("(hash) => { location.hash = hash }", f"#plan={to_link(OTHER)}")
    expect(page.locator("#incoming")).to_be_visible()
    yield "a plan came by a link"
    click(page, "#incoming button")
    expect(page.locator("#incoming")).to_be_hidden()
    hand.planned(page)


def papers(page: Page) -> Iterator[str]:
    """What goes on paper."""
    to(page, "plan")
    for kind in ("sheet", "tags"):
        page.evaluate("window.printed = 0")
        if not page.locator("#send").is_visible():
            click(page, '#top [data-do="to-send"]')
        click(page, f'[data-do="print-{kind}"]')
        page.wait_for_function("() => window.printed === 1")
        page.emulate_media(media="print")
        yield f"on paper: {kind}"
        page.emulate_media(media="screen")
        page.evaluate("() => window.dispatchEvent(new Event('afterprint'))")


def others(page: Page, url: str) -> Iterator[str]:
    """The pages beside the page."""
    page.goto(f"{url}checks.html")
    unfolded(page, "main")
    yield "the checks"
    page.goto(f"{url}rescue.html")
    expect(page.locator("#entries tr").first).to_be_visible()
    yield "what is stored here"
    page.locator("#clear").evaluate("(one) => one.click()")
    yield "about to delete it all"


def told(found: dict[str, list[str]]) -> str:
    """What was found, and where first, to be read in a failure."""
    lines = [f"{one}\n    {where[0]}, and {len(where) - 1} more" for one, where in found.items()]
    return "\n".join(["", *lines])
