"""Every screen for everyone: what axe and the HTML checker find, contrast, numbers that a line breaks; at any width, light and dark, large text.

All screens are walked through once, and everything is looked for on the way. A usual run looks at each screen in two ways, in
turn, so that all ways have their share; a long one at each in every way.
"""

from __future__ import annotations

import itertools
import json
import subprocess
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import hand
import pytest
import screens
from amounts import HOW
from build_page.fetch import tools
from colors import COLORS
from kit import Server
from phone import opening, started
from playwright.sync_api import Browser, Page
from test_page_start import NOISE, wrong_type
from test_paper import document

pytestmark = pytest.mark.xdist_group("everyone")

AUDIT = tools.npm_packages("audit")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
#: What axe has on trial, and what it leaves off unless it is asked for.
MORE_RULES = ["label-content-name-mismatch", "target-size", "table-fake-caption", "td-has-header"]
SCAN = """async ([tags, more]) => {
  const rules = Object.fromEntries(more.map((rule) => [rule, {enabled: true}]))
  const {violations} = await axe.run(document, {resultTypes: ['violations'], runOnly: tags, rules})
  // What lies half behind the foot or the pad must come out whole by scrolling, and is looked at once more.
  const isSmall = async ({target}) => {
    const one = document.querySelector(target[0])
    one.scrollIntoView({block: 'start', behavior: 'instant'})
    return (await axe.run(one, {runOnly: ['target-size']})).violations.length > 0
  }
  const found = []
  for (const {id, nodes} of violations)
    for (const node of nodes)
      if (!node.failureSummary.includes('partially obscured') || (await isSmall(node)))
        found.push(`${id}: ${node.html.slice(0, 160)} ${node.failureSummary}`)
  return found
}"""
LARGE = "(percent) => { document.documentElement.style.fontSize = `${percent}%` }"

#: Width and height, colors, size of text [%].
Look = tuple[tuple[int, int], str, int]
SIZES = [(320, 568), (390, 844), (1280, 800)]
LOOKS: list[Look] = list(itertools.product(SIZES, ["light", "dark"], [100, 200]))
AT_FIRST: Look = ((390, 844), "light", 100)

#: Numbers whose parts stand on two lines, drawn or written.
BROKEN = r"""() => {
  const lines = (range) => new Set([...range.getClientRects()].filter(({width}) => width).map(({bottom, height}) => Math.round(bottom - height / 2))).size
  const drawn = [...document.querySelectorAll('.mixed')].filter((one) => one.checkVisibility() && one.getClientRects().length > 1)
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
  const written = []
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (!node.parentElement.checkVisibility() || node.parentElement.closest('.fraction, .unseen, script, svg')) continue
    for (const found of node.data.matchAll(/(\d+[\s-])?\d+\/\d+/g)) {
      const range = document.createRange()
      range.setStart(node, found.index)
      range.setEnd(node, found.index + found[0].length)
      if (lines(range) > 1) written.push(node)
    }
  }
  return [...drawn, ...written].map((one) => `${one.textContent.slice(0, 100)} in ${(one.parentElement).outerHTML.slice(0, 120)}`)
}"""

#: Fields and buttons whose edge is too faint against what is around them, where they have no filling that stands out.
FAINT_EDGES = (
    f"() => {{{COLORS}"
    """
  const contrast = (one, other) => { const [a, b] = [light(one), light(other)].sort(); return (b + 0.05) / (a + 0.05) }
  return [...document.querySelectorAll('input, select, textarea, button, label.button, .switch')]
    .filter((one) => one.checkVisibility() && !one.matches(':disabled, .unseen, [type=radio], [type=checkbox], [type=file]'))
    .map((one) => [one, getComputedStyle(one)])
    .filter(([, style]) => parseFloat(style.borderTopWidth) && style.borderTopStyle !== 'none' && rgb(style.borderTopColor)[3] === 255)
    .filter(([one, style]) => {
      const outside = ground(one.parentElement)
      return Math.max(contrast(rgb(style.borderTopColor), outside), contrast(ground(one), outside)) < 3
    })
    .map(([one]) => one.outerHTML.slice(0, 120))
}"""
)
HTML = "() => `<!doctype html>\\n${document.documentElement.outerHTML}`"


def looks(n: int) -> list[Look]:
    """How screen `n` is looked at."""
    return LOOKS if HOW == "long" else [LOOKS[(5 * n) % len(LOOKS)], LOOKS[(5 * n + 7) % len(LOOKS)]]


def put_on(page: Page, look: Look) -> None:
    """Look at the page so."""
    (width, height), scheme, text = look
    page.set_viewport_size({"width": width, "height": height})
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    page.evaluate(LARGE, text)
    # Whatever is entered comes over the pad again, as when it was come to.
    page.evaluate("document.activeElement.dispatchEvent(new FocusEvent('focusin', {bubbles: true}))")


def scan(page: Page) -> list[str]:
    """What axe finds."""
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate((AUDIT / "axe-core" / "axe.min.js").read_text(encoding="utf-8"))
    found: list[str] = page.evaluate(SCAN, [RULES, MORE_RULES])
    return found


class Walked:
    """What was found on the screens, by what was looked for; and the screens themselves as HTML."""

    def __init__(self) -> None:
        self.found: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
        self.html: dict[str, str] = {}
        self.scans = 0

    def over(self, page: Page, names: Iterator[str]) -> None:
        """Look for everything on each screen."""
        for n, name in enumerate(names):
            self.html[name] = page.evaluate(HTML)
            for look in looks(n):
                put_on(page, look)
                self._look(page, f"{name}, {look}")
            put_on(page, AT_FIRST)

    def _look(self, page: Page, where: str) -> None:
        self.scans += 1
        finds = {"axe": scan(page), "broken": page.evaluate(BROKEN), "faint": page.evaluate(FAINT_EDGES)}
        for what, found in finds.items():
            for one in found:
                self.found[what][one].append(where)


@pytest.fixture(scope="module")
def walked(browser: Browser, dist: Path) -> Iterator[Walked]:
    """All screens, walked through once."""
    server = Server(dist)
    made = Walked()
    with opening(browser, server) as opened:
        how = {
            "viewport": {"width": 390, "height": 844},
            "reduced_motion": "reduce",  # a color that is on its way to another has no contrast of its own
        }
        page = opened(script=screens.NO_PRINTER, reads=False, **how)
        hand.ready(page)
        made.over(page, screens.walk(page))
        beside = opened(again=page, reads=False)
        made.over(beside, screens.another_tab(beside))
        beside.close()
        made.over(page, screens.others(page, server.url))
        shop = started(opened, server, screens.STORED, reads=False, **how)
        made.over(shop, screens.with_two_planers(shop))
        failed = opened(before=lambda page: wrong_type(server, page), expected=NOISE, reads=False, **how)
        made.over(failed, screens.without_engine(failed))
        yield made
    server.stop()


def test_axe_finds_nothing(walked: Walked) -> None:
    assert walked.scans >= 2 * 40
    assert not walked.found["axe"], screens.told(walked.found["axe"])


def test_no_line_breaks_a_number(walked: Walked) -> None:
    assert not walked.found["broken"], screens.told(walked.found["broken"])


def test_the_edges_of_fields_and_buttons_are_seen(walked: Walked) -> None:
    assert not walked.found["faint"], screens.told(walked.found["faint"])


def test_the_html_checker_finds_nothing(walked: Walked, dist: Path, tmp_path: Path) -> None:
    """Of the page as it comes, of every screen as it then stands, of the sheet and the tags by themselves."""
    files = [dist / name for name in ("index.html", "checks.html", "rescue.html")]
    whole = walked.html | {kind: document(screens.JOB, kind, "") for kind in ("sheet", "tags")}
    for n, text in enumerate(whole.values()):
        files.append(tmp_path / f"{n}.html")
        files[-1].write_text(text, encoding="utf-8")
    node, _ = tools.node()
    checker = AUDIT / "html-validate" / "bin" / "html-validate.mjs"
    asked = [*node, checker, "--preset", "standard", "--formatter", "json", *files]
    done = subprocess.run([str(word) for word in asked], capture_output=True, text=True, check=False)
    names = [*(path.name for path in files[:3]), *whole]
    told = {
        f"{message['ruleId']}: {message['message']}": [names[files.index(Path(one["filePath"]))]]
        for one in json.loads(done.stdout)
        for message in one["messages"]
    }
    assert not told, screens.told(told)
