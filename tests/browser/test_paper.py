"""The print sheet as a browser prints it: one page for up to 20 boards, A4 and Letter, nothing cut off at its edges."""

from __future__ import annotations

import json
import random
import re
from typing import Any

import pytest
from lots import lot
from playwright.sync_api import Browser
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM

Job = dict[str, Any]
MM = 96 / 25.4
WIDTHS = {"A4": 210 * MM, "Letter": 215.9 * MM}
MARGINS = 2 * 9 * MM
PAGE = "https://example.org/a/shop/somewhere/thickset/"


def twenty(name: str = "", count: int = 1, target: str = "3/4") -> Job:
    """20 boards with 5 readings, of all outcomes."""
    chance = random.Random(4)
    boards = []
    for n in range(20):
        top = chance.randint(53, 72)
        readings = [f"{top - chance.randint(0, 6)}/64" for _ in range(5)]
        board = {"readings": readings, "width": "6", "length": "40", "count": count}
        boards.append({**board, "name": f"{name} {n}"} if name else board)
    return lot(*boards, units=None, target=target, title="Hall bench", planer={"turn": "1/16"})


MANY_PASSES = [(20, 9), (20, 11), (20, 14), (20, 18), (20, 20), (12, 16), (6, 20), (2, 20), (1, 14), (1, 37)]


def thick(boards: int, passes: int) -> Job:
    """Boards so thick that they take that many passes, named as people do."""
    chance = random.Random(1)
    named = []
    for n in range(boards):
        top = 44 + 4 * passes - chance.randint(0, 6)
        readings = [f"{top}/64 in", *(f"{top - chance.randint(0, 6)}/64 in" for _ in range(4))]
        named.append({"name": f"Board {n + 1:02}", "readings": readings, "width": "6", "length": "40"})
    planer = {"turn": "1/16", "name": "Green", "widest": "15"}
    return lot(*named, units=None, title="Hall bench", planer=planer)


def off_scale(job: Job) -> Job:
    """The same on a planer whose scale is known to be off, between its marks."""
    record = {"offset": 0.25, "offset_worth": 5, "spread": 0.04, "spread_worth": 8}
    return {**job, "planer": {**job["planer"], "record": record}}


JOBS = {
    "demo in": DEMO_IN,
    "demo mm": DEMO_MM,
    "twenty": twenty(),
    "twenty, long names, counts": twenty("Shelf at the upper left", 12, "7/8"),
    "twenty, butted": {**twenty("Shelf at the upper left", 12, "7/8"), "cutting": {"ends": "butted"}},
    "twenty, in two stages": {**twenty(), "service": {"rest": "1/16"}},
    **{f"{boards}, {passes} passes": thick(boards, passes) for boards, passes in MANY_PASSES},
    "twenty, many passes in two stages": {**thick(20, 14), "service": {"rest": "1/16"}},
    "demo in, scale off": off_scale(DEMO_IN),
    **{f"{boards}, {passes} passes, scale off": off_scale(thick(boards, passes)) for boards, passes in MANY_PASSES[4:]},
}


def document(job: Job, ask: str = "sheet", page: str = "") -> str:
    """What the command line prints, with the code for a page at that address."""
    answer = json.loads(handle(json.dumps({"ask": ask, "whole": True, "job": job, "page": page})))
    assert answer["ok"], answer
    return str(answer["document"])


def pages(pdf: bytes) -> int:
    """How many pages a PDF has."""
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))


@pytest.mark.parametrize("paper", WIDTHS)
@pytest.mark.parametrize("name", JOBS)
def test_the_sheet_is_one_page(browser: Browser, name: str, paper: str) -> None:
    tab = browser.new_page(viewport={"width": int(WIDTHS[paper] - MARGINS), "height": 900})
    tab.set_content(document(JOBS[name], page=PAGE))
    assert tab.locator(".qr").count() == 1
    assert pages(tab.pdf(format=paper)) == 1
    tab.emulate_media(media="print")
    wide = tab.evaluate("document.documentElement.clientWidth")
    beyond = tab.evaluate(
        "wide => [...document.querySelectorAll('body *')]"
        ".filter(one => one.getBoundingClientRect().right > wide + 1).map(one => one.outerHTML.slice(0, 80))",
        wide,
    )
    assert not beyond
    tab.close()


@pytest.mark.parametrize(("boards", "passes"), MANY_PASSES)
def test_many_passes_are_all_there_and_can_be_read(browser: Browser, boards: int, passes: int) -> None:
    tab = browser.new_page(viewport={"width": int(WIDTHS["Letter"] - MARGINS), "height": 900})
    tab.set_content(document(off_scale(thick(boards, passes)), page=PAGE))
    tab.emulate_media(media="print")
    assert abs(tab.locator(".rota tbody tr").count() - passes) <= 1
    assert tab.locator(".outcomes tbody tr").count() == boards
    assert tab.locator(".scrap").count() == 1
    # Small figures of fractions and the picture's own lettering aside.
    sizes = tab.evaluate(
        """[...document.querySelectorAll('.sheet *')].filter((one) => !one.closest('svg, .fraction')
        && [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim()))
        .map((one) => parseFloat(getComputedStyle(one).fontSize) * 0.75)"""
    )
    assert min(sizes) >= 6.99
    tab.close()


def test_the_counting_of_pages_can_tell_two_from_one(browser: Browser) -> None:
    tab = browser.new_page()
    tab.set_content(document(twenty()).replace("</article>", "</article><p style='break-before: page'>two</p>"))
    assert pages(tab.pdf(format="A4")) == 2
    tab.close()


@pytest.mark.parametrize("paper", WIDTHS)
def test_tags_come_four_in_a_row_and_none_is_cut_by_a_page(browser: Browser, paper: str) -> None:
    tab = browser.new_page(viewport={"width": int(WIDTHS[paper] - MARGINS), "height": 900})
    tab.set_content(document(twenty(), "tags"))
    tab.emulate_media(media="print")
    tops = tab.evaluate("[...document.querySelectorAll('figure')].map(one => one.getBoundingClientRect().top)")
    assert len(tops) == 40
    assert len({round(top) for top in tops}) == 10
    assert tab.evaluate(
        "[...document.querySelectorAll('figure')].every(one => getComputedStyle(one).breakInside === 'avoid')"
    )
    tab.close()


def test_nothing_of_a_tag_is_clipped(browser: Browser) -> None:
    tab = browser.new_page(viewport={"width": 700, "height": 900})
    tab.set_content(document(DEMO_IN, "tags"))
    clipped = tab.evaluate(
        """[...document.querySelectorAll('figure svg text')].filter((text) => {
          const [box, around] = [text.getBoundingClientRect(), text.closest('svg').getBoundingClientRect()]
          return box.bottom > around.bottom || box.top < around.top
        }).map((text) => text.textContent)"""
    )
    assert clipped == []
    tab.close()
