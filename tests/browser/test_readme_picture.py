"""README's picture is the page as it is: plan, lot and run of the example on a phone, made and compared here.

No two machines draw the same letters, so points are not compared: the picture carries the words on it and digests of the
lot's drawing and of the styles, and these must be the page's own. THICKSET_GOLDEN=write makes a stale picture anew.
"""

from __future__ import annotations

import base64
import hashlib
import os
import struct
import zlib

from hand import go, open_job, planned
from kit import ROOT
from lots import fed_at
from phone import Open
from playwright.sync_api import Browser, Page, expect
from thickset.doors.demo import DEMO_IN

PICTURE = ROOT / "tests" / "golden" / "readme.png"
SIZE = {"width": 390, "height": 844}
FED = fed_at("1", "15/16")
SIDE_BY_SIDE = "<body style='margin:0;padding:10px;display:inline-flex;gap:10px;background:#dae1dc'>"
STYLES = """(root) => [document.body, root, ...root.querySelectorAll('*')].filter((one) => one.checkVisibility()).map((one) => {
  const style = one.computedStyleMap()
  const looks = ['display', 'position', 'color', 'background-color', 'opacity', 'fill', 'stroke', 'stroke-width',
    'border-top-width', 'border-top-color', 'border-left-width', 'border-left-color', 'border-top-left-radius',
    'padding-top', 'padding-left', 'margin-top', 'margin-left', 'row-gap', 'column-gap', 'flex-direction', 'text-align',
    'font-size', 'font-weight', 'line-height', 'text-transform', 'min-height', 'width', 'height']
  return [one.localName, ...looks.map((name) => style.get(name))].join(' ')
})"""


def below_the_head(page: Page, what: str) -> None:
    """Scroll until this is the first thing under the page's head."""
    page.locator(what).evaluate(
        "(one) => scrollBy(0, one.getBoundingClientRect().top - document.querySelector('#top').offsetHeight - 12)"
    )


def views(page: Page) -> tuple[list[bytes], str]:
    """The three screens, and what they look like whatever the letters: their words, and digests of drawing and styles."""
    screens, words, styles = [], [], []
    for view, what in (("plan", 'li[data-pass="1"]'), ("plan", "figure.picture"), ("run", "#at-machine")):
        go(page, view)
        expect(page.locator(what)).to_be_visible()
        below_the_head(page, what)
        for part in ("#top", what, "#nav"):
            words += page.locator(part).inner_text().splitlines()
            styles += page.locator(part).evaluate(STYLES)
        screens.append(page.screenshot(animations="disabled"))
    drawing = page.locator("figure.picture svg.lot").evaluate("(svg) => svg.outerHTML")
    digests = (f"drawing {digest(drawing)}", f"styles {digest(*styles)}")
    return screens, "\n".join(line.strip() for line in (*words, *digests) if line.strip())


def digest(*parts: str) -> str:
    """A short name for what is too long to read."""
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:16]


def address(picture: bytes) -> str:
    """A picture as the address of itself."""
    return "data:image/png;base64," + base64.b64encode(picture).decode()


def side_by_side(browser: Browser, screens: list[bytes]) -> bytes:
    """One picture of several."""
    page = browser.new_page()
    page.set_content(SIDE_BY_SIDE + "".join(f"<img src='{address(one)}'>" for one in screens))
    whole = page.locator("body").screenshot()
    page.close()
    return whole


def with_words(picture: bytes, words: str) -> bytes:
    """A picture that carries words, in the place that PNG has for them."""
    chunk = b"iTXt" + b"Description\0\0\0\0\0" + words.encode()
    end = picture.rindex(struct.pack(">I", 0) + b"IEND")
    told = struct.pack(">I", len(chunk) - 4) + chunk + struct.pack(">I", zlib.crc32(chunk))
    return picture[:end] + told + picture[end:]


def words_of(picture: bytes) -> str:
    """The words that a picture carries."""
    at = picture.index(b"iTXt")
    (length,) = struct.unpack(">I", picture[at - 4 : at])
    return picture[at + 4 : at + 4 + length].removeprefix(b"Description\0\0\0\0\0").decode()


def test_the_picture_is_the_page_as_it_is(open_page: Open, browser: Browser) -> None:
    page = open_page(viewport=SIZE, color_scheme="light", reduced_motion="reduce")
    planned(page)
    open_job(page, {**DEMO_IN, "run": FED})
    planned(page)
    screens, words = views(page)
    write = os.environ.get("THICKSET_GOLDEN") == "write"
    if write and not (PICTURE.is_file() and words_of(PICTURE.read_bytes()) == words):
        PICTURE.write_bytes(with_words(side_by_side(browser, screens), words))
    assert words_of(PICTURE.read_bytes()) == words, "write it anew with THICKSET_GOLDEN=write"
