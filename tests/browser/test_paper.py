"""The print sheet as a browser prints it: one page for up to 20 boards, A4 and Letter, nothing cut off at its edges."""

from __future__ import annotations

import json
import random
import re

import pytest
from playwright.sync_api import Browser
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM

Job = dict[str, object]
MM = 96 / 25.4
WIDTHS = {"A4": 210 * MM, "Letter": 215.9 * MM}
MARGINS = 2 * 9 * MM
PAGE = "https://example.org/a/shop/somewhere/thickset/"


def twenty(name: str = "", count: int = 1, target: str = "3/4") -> Job:
    """20 boards with 5 readings, of all fates."""
    chance = random.Random(4)
    boards = []
    for n in range(20):
        top = chance.randint(53, 72)
        readings = [f"{top - chance.randint(0, 6)}/64" for _ in range(5)]
        board = {"readings": readings, "width": "6", "length": "40", "count": count}
        boards.append({**board, "name": f"{name} {n}"} if name else board)
    return {
        "thickset": 1,
        "title": "Hall bench",
        "target": {"thickness": target},
        "boards": boards,
        "planer": {"turn": "1/16"},
    }


JOBS = {
    "demo in": DEMO_IN,
    "demo mm": DEMO_MM,
    "twenty": twenty(),
    "twenty, long names, counts": twenty("Shelf at the upper left", 12, "7/8"),
    "twenty, in two stages": {**twenty(), "service": {"rest": "1/16"}},
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
