"""The page while its engine starts, and when it does not."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any

import hand
import pytest
from kit import Server, reply
from phone import Open
from playwright.sync_api import Page, expect

Break = Callable[[Server, Page], object]


def no_wasm(_server: Server, page: Page) -> None:
    """A browser without WebAssembly."""
    page.add_init_script("delete window.WebAssembly")


def truncated(server: Server, _page: Page) -> None:
    """The runtime ends in the middle."""
    server.breaks("asm.wasm", lambda handler: reply(handler, b"\0asm\1\0\0\0half", "application/wasm"))


def wrong_type(server: Server, _page: Page) -> None:
    """The runtime comes as a text."""
    server.breaks("asm.wasm", lambda handler: reply(handler, b"\0asm\1\0\0\0", "text/plain"))


def no_unpacker(server: Server, _page: Page) -> None:
    """What unpacks the planner's memory is cut off."""
    server.breaks("zstd.speed.wasm", lambda handler: reply(handler, b"\0asm\1\0\0\0half", "application/wasm"))


def no_worker(server: Server, _page: Page) -> None:
    """The worker's script is not there."""

    def missing(handler: Any) -> bool:
        handler.send_error(404)
        return True

    server.breaks("worker.js", missing)


NOISE = ("Failed to load resource", "wasm", "WebAssembly", "MIME", "CompileError", "404")


IPHONE = (
    "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) "
    "Version/18.0 Mobile/15E148 Safari/604.1"
)
HEARD = """window.heard = []
const Own = Worker
window.Worker = class extends Own {
  constructor(...given) {
    super(...given)
    this.addEventListener('message', ({data}) => { if (data.type === 'ready' || data.type === 'failed') heard.push([data.type, data.way]) })
  }
}"""


@pytest.mark.parametrize("how", [no_wasm, truncated, wrong_type, no_unpacker, no_worker])
def test_a_failed_start_is_said_and_nothing_is_lost(open_page: Open, server: Server, how: Break) -> None:
    page = open_page(before=lambda page: how(server, page), expected=NOISE)
    hand.own_lot(page)
    hand.near(page, "3/4")
    page.wait_for_selector('html[data-engine="failed"]', state="attached", timeout=120_000)
    failed = page.locator("#boot-failed")
    expect(failed).to_be_visible()
    expect(page.locator("#boot")).to_be_hidden()
    assert len(page.locator("#boot-reason").inner_text()) > 10
    assert len(page.locator("#boot-cure").inner_text()) > 10
    hand.near(page, "1")
    assert hand.shown(page, "target.thickness") == "3/4"
    assert hand.shown(page, "pile.thickest") == "1"
    page.locator("#pad button", has_text="Done").tap()
    with page.expect_download():
        failed.locator('[data-do="save-job"]').tap()
    failed.locator('[data-do="go-on"]').tap()
    expect(failed).to_be_hidden()
    page.reload()
    assert hand.shown(page, "pile.thickest") == "1"


@pytest.mark.parametrize("file", ["pyodide.asm.wasm", "zstd.speed.wasm"])
def test_a_line_that_breaks_in_a_file_is_not_blamed_on_the_browser(open_page: Open, server: Server, file: str) -> None:
    def breaks(handler: Any) -> bool:
        handler.send_response(200)
        handler.send_header("Content-Type", "application/wasm")
        handler.send_header("Content-Length", "40000")
        handler.end_headers()
        handler.wfile.write(b"\0asm\1\0\0\0")
        return True

    server.breaks(file, breaks)
    page = open_page(expected=(*NOISE, "net::", "network"))
    page.wait_for_selector('html[data-engine="failed"]', state="attached", timeout=120_000)
    expect(page.locator("#boot-cure")).to_contain_text("Check the connection")


def test_nothing_moves_under_the_finger_when_the_start_fails(open_page: Open, server: Server) -> None:
    page = open_page(before=lambda page: wrong_type(server, page), expected=NOISE)
    page.wait_for_selector('html[data-engine="failed"]', state="attached", timeout=120_000)
    told = page.locator('#plan [data-do="own-lot"]').bounding_box()
    page.locator('[data-do="go-on"]').tap()
    expect(page.locator("#boot-failed")).to_be_hidden()
    assert page.locator('#plan [data-do="own-lot"]').bounding_box() == told


def test_the_plan_is_there_and_a_tap_counts_before_the_page_is_wired(open_page: Open, server: Server) -> None:
    come = threading.Event()

    def late(_handler: Any) -> bool:
        come.wait(60)
        return False

    server.breaks("/main.js", late)
    page = open_page()
    expect(page.locator("#plan [data-pass]").first).to_be_visible()
    own = page.locator('#plan [data-do="own-lot"]')
    own.tap()
    expect(page.locator("#lot")).to_be_hidden()
    own.evaluate("(one) => one.parentElement.innerHTML += ''")  # painted anew meanwhile
    come.set()
    expect(page.locator("#target-thickness")).to_be_focused()


def test_a_page_that_came_in_part_says_so(open_page: Open, server: Server) -> None:
    def missing(handler: Any) -> bool:
        handler.send_error(404)
        return True

    server.breaks("/main.js", missing)
    page = open_page(expected=NOISE)
    expect(page.locator("#plan [data-pass]").first).to_be_visible()
    expect(page.locator("#boot-text")).to_contain_text("load the page again")


@pytest.mark.parametrize("script", ["/first.js", "/main.js"])
def test_a_script_that_never_comes_is_not_waited_for_in_silence(open_page: Open, server: Server, script: str) -> None:
    page = open_page(
        before=lambda _page: server.breaks(script, lambda handler: handler.send_error(404) or True), expected=NOISE
    )
    late = page.locator("#boot-late")
    expect(late).to_be_hidden()
    page.evaluate("for (const one of document.getAnimations()) one.finish()")
    expect(late).to_be_visible()
    expect(late).to_contain_text("load the page again")
    server.mends()
    page.reload()
    hand.ready(page)
    expect(late).to_be_hidden()


def test_a_window_that_cannot_keep_the_page_says_so(open_page: Open) -> None:
    page = open_page(script="delete Navigator.prototype.serviceWorker")
    hand.ready(page)
    expect(page.locator("#offline")).to_contain_text("cannot keep the page")


def test_on_an_iphone_the_frozen_start_works_without_a_function_for_calls(open_page: Open) -> None:
    page = open_page(user_agent=IPHONE, script=HEARD)
    hand.planned(page)
    assert page.evaluate("heard") == [["ready", "frozen"]]


def test_it_can_be_tried_again(open_page: Open, server: Server) -> None:
    page = open_page(before=lambda page: truncated(server, page), expected=NOISE)
    page.wait_for_selector('html[data-engine="failed"]', state="attached", timeout=120_000)
    server.mends()
    page.locator('[data-do="restart"]').tap()
    hand.ready(page)
    expect(page.locator("#boot-failed")).to_be_hidden()


def test_the_start_is_told_in_bytes(open_page: Open, server: Server) -> None:
    stop = threading.Event()

    def slow(handler: Any) -> bool:
        handler.send_response(200)
        handler.send_header("Content-Type", "application/wasm")
        handler.end_headers()
        handler.wfile.write(b"\0" * 1_000_000)
        handler.wfile.flush()
        return stop.wait(120)

    server.breaks("asm.wasm", slow)
    page = open_page(expected=NOISE)
    expect(page.locator("#boot-text")).to_contain_text("kB", timeout=20_000)
    assert page.locator("#boot progress").evaluate("(bar) => bar.value / bar.max") > 0
    stop.set()


ANSWERED = """
window.asked = new Map()
window.Worker = class extends Worker {
  constructor(...how) {
    super(...how)
    this.addEventListener('message', ({data}) => data.type === 'answer' && asked.set(data.id, 'answered'))
  }
  postMessage(message) {
    if (message.type === 'ask') asked.set(message.id, JSON.parse(message.request).ask)
    super.postMessage(message)
  }
}"""
ALL_ANSWERED = """() => document.documentElement.dataset.engine === 'ready'
  && asked.size >= 2 && [...asked.values()].every((one) => one === 'answered')"""
"""The plan and its mechanics at least."""


def test_a_fresh_answer_comes_without_a_jump(open_page: Open) -> None:
    page = open_page(script=ANSWERED)
    page.wait_for_function(ALL_ANSWERED)
    before = page.locator("#answer").inner_html()
    page.reload()
    page.evaluate("""() => {
      window.moved = 0
      new PerformanceObserver((list) => { for (const entry of list.getEntries()) window.moved += entry.value }).observe({type: 'layout-shift', buffered: true})
    }""")
    page.wait_for_function(ALL_ANSWERED)
    page.evaluate(
        "new Promise((painted) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(painted))))"
    )
    assert page.locator("#answer").inner_html() == before
    assert page.evaluate("window.moved") == 0


@pytest.mark.parametrize("width", [390, 1280])
def test_a_new_visit_shows_the_stored_plan_whole_without_the_engine(
    open_page: Open, server: Server, width: int
) -> None:
    page = open_page(viewport={"width": width, "height": 844})
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    expect(page.locator('[data-mechanics="surface"]')).not_to_be_empty()
    hand.stored(page)
    before = page.locator("#answer").inner_html()
    page.goto("about:blank")
    looked_at = threading.Event()
    server.breaks("worker.js", lambda _handler: not looked_at.wait(120))
    page.goto(server.url)
    expect(page.locator("html")).to_have_attribute("data-wired", "")
    assert page.locator("html").get_attribute("data-engine") == "loading"
    assert page.locator("template.later").count() == 0
    assert page.locator("#answer").inner_html() == before
    looked_at.set()
    hand.planned(page)
    assert page.locator("#answer").inner_html() == before


def test_all_scripts_of_the_page_are_asked_for_at_once(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    asked, told = page.evaluate("""() => [
      performance.getEntriesByType('resource').map(({name}) => name).filter((name) => name.endsWith('.js')),
      [...document.querySelectorAll('link[rel=modulepreload]')].map(({href}) => href),
    ]""")
    assert [name.rsplit("/", 1)[1] for name in asked if name not in told] == ["worker.js"]


def test_typing_does_not_wait_and_the_last_word_counts(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    hand.go(page, "lot")
    page.locator("#target-thickness").fill("")
    for text in ("0.7", "0.71", "0.72", "0.73", "0.74", "0.80"):
        page.locator("#target-thickness").fill(text)
        assert hand.shown(page, "target.thickness") == text
    hand.planned(page)
    assert hand.settings(page)[-1] == 20.32
