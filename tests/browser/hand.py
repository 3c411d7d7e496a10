"""What a hand does on the page: taps on the pad, typing, opening and saving files."""

from __future__ import annotations

import itertools
import json
import re
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, Page, expect

NUMBERS = itertools.count()
FRESH = 'html[data-engine="ready"][data-plan="fresh"]'


def ready(page: Page) -> None:
    """Wait for the engine."""
    page.wait_for_selector('html[data-engine="ready"]', timeout=180_000, state="attached")


def planned(page: Page) -> None:
    """Wait for a plan of what is entered now."""
    page.wait_for_selector(FRESH, timeout=180_000, state="attached")


def reads_cautions(page: Page) -> None:
    """Tap on whenever the cautions before a first feed are up."""
    begin = page.locator("#run:not([inert]) [data-begin]")

    def read() -> None:
        begin.evaluate_all(
            "(all) => all.forEach((one) => one.click())"
        )  # a tap would wait while another tab has the pen
        rested(page)

    page.add_locator_handler(begin, read, no_wait_after=True)


def scale_known(job: dict[str, Any]) -> dict[str, Any]:
    """The job on a planer whose scale is known to be right, so that pass 1 begins with the boards and not with a piece to measure."""
    record = {"offset": 0, "offset_worth": 1, "spread": 0.05, "spread_worth": 2}
    return {**job, "planer": {"record": record, **job.get("planer", {})}}


def begin(page: Page) -> None:
    """Read the cautions before a first feed, where they are up."""
    page.wait_for_selector("#at-machine[data-painted]", state="attached")
    page.evaluate("() => document.querySelector('#run [data-begin]')?.click()")
    rested(page)


def stored(page: Page) -> None:
    """Have the page store what was entered, as when it is left: whatever waits to be written is written at once."""
    page.evaluate("window.dispatchEvent(new Event('beforeunload', {cancelable: true}))")


def rested(page: Page) -> None:
    """Wait until a tap where the thumb was is no second tap any more."""
    page.wait_for_selector("html:not([data-tapped])", state="attached")


def own_lot(page: Page) -> None:
    """Begin a lot of one's own from the example."""
    page.locator('#plan [data-do="own-lot"]').tap()
    expect(page.locator("#target-thickness")).to_be_focused()


def key(page: Page, text: str, kind: str = "") -> Locator:
    """The pad's key with exactly this text."""
    keys = page.locator(f"#pad .{kind}" if kind else "#pad .key")
    return keys.filter(has_text=re.compile(rf"^\s*{re.escape(text)}\s*$")).first


def press(page: Page, *texts: str) -> int:
    """Tap keys of the pad, in order; the number of taps."""
    for text in texts:
        if not text.isdigit():
            rested(page)
        key(page, text).tap()
    return len(texts)


def near(page: Page, text: str) -> int:
    """Enter a reading that the pad offers near the last one: one tap."""
    rested(page)
    key(page, text, "ready").tap()
    return 1


def far(page: Page, *texts: str) -> int:
    """Enter any reading: the whole inches and the quarter below it where it has them, the reading; the number of taps."""
    *light, text = texts
    for kind, one in zip(["coarse"] * (len(light) - 1) + ["middle"], light, strict=True):
        key(page, one, kind).tap()
    return len(light) + near(page, text)


def pile(page: Page) -> None:
    """Eight boards in five numbers, to 3/4 in, by taps alone."""
    own_lot(page)
    for text in ("3/4", "1 1/32", "15/16", "8"):
        near(page, text)
    press(page, "6", "1/2", "Next", "4", "9", "Next")


def type_in(page: Page, field: str, text: str) -> None:
    """Type into a field as a keyboard does."""
    page.locator(f'[data-field="{field}"] input').fill(text)


def shown(page: Page, field: str) -> str:
    """What stands in a field."""
    return page.locator(f'[data-field="{field}"] input').input_value()


def go(page: Page, view: str) -> None:
    """To a part of the page by its button; the pad is put away first."""
    if page.locator("#pad").is_visible():
        done = page.locator("#pad button", has_text="Done")
        done.evaluate_all("(all) => all.forEach((one) => one.click())")  # it may be going away by itself
        page.wait_for_selector("#pad", state="hidden")
    page.locator(f'[data-go="{view}"]').first.tap()


def units(page: Page, name: str) -> None:
    """The units of the job, by the choice of a lot that has nothing in it yet, else by the act on the Lot page."""
    go(page, "lot")
    choice = page.locator("#units .switch")
    if choice.is_visible():
        choice.locator("label", has_text={"in": "Inches", "mm": "Millimeters"}[name]).tap()
    else:
        page.locator("#units button", has_text="Change").first.tap()
        page.locator("#units .actions .strong").tap()
    expect(page.locator(f"#units input[value={name}]")).to_be_checked()


def to_more(page: Page) -> None:
    """To what stands beside the plan."""
    go(page, "plan")
    page.locator('#plan [data-go="more"]').tap()


def take_pen(page: Page) -> None:
    """Work here on a job that another tab has."""
    page.locator("#pen button").tap()
    expect(page.locator("#pen")).to_be_hidden()


def open_job(page: Page, job: Any) -> None:
    """Open a job document, as a file."""
    text = job if isinstance(job, str) else json.dumps(job)
    name = f"job-{next(NUMBERS)}.json"
    page.locator("#open-job").set_input_files({"name": name, "mimeType": "application/json", "buffer": text.encode()})
    page.wait_for_function("(name) => document.querySelector('#file-said').textContent.startsWith(name)", arg=name)


def hand_over(page: Page) -> None:
    """Open what hands the job over, one tap from the top of the plan."""
    if not page.locator("#send").is_visible():
        page.locator('#top [data-do="to-send"]').tap()


def unfold(page: Page, number: int) -> None:
    """Unfold a pass of the plan."""
    page.locator(f'.pass[data-pass="{number}"] summary').tap()


def saved_job(page: Page) -> dict[str, Any]:
    """The job document that the page saves."""
    go(page, "jobs")
    with page.expect_download() as download:
        page.locator('#jobs [data-do="save-job"]').tap()
    job: dict[str, Any] = json.loads(Path(download.value.path()).read_text(encoding="utf-8"))
    return job


def settings(page: Page) -> list[float]:
    """The settings of the schedule on the page [mm]."""
    found = page.locator("[data-pass][data-setting-mm]")
    return [float(row.get_attribute("data-setting-mm") or "nan") for row in found.all()]


def problems(page: Page) -> list[str]:
    """Where the problems are, as #problems lists them."""
    return [item.get_attribute("data-at") or "" for item in page.locator("#problems li").all()]
