"""The engine by itself: all ways to start give the same bytes, and every way to fail ends in words."""

from __future__ import annotations

import json
import threading
from pathlib import Path
from typing import Any

import hand
import pytest
from kit import ROOT, Server, Watched, engine_ready, reply
from playwright.sync_api import Error, Page, expect

GOLDEN = sorted((ROOT / "tests" / "golden").glob("*.json"))
START = """async ([app, way, requests]) => {
  const m = await import(new URL(`${app}/messages.js`, location.href))
  const worker = new Worker(new URL(`${app}/worker.js`, location.href), {type: 'module'})
  const answers = [], stages = []
  return new Promise((resolve, reject) => {
    const next = () => {
      if (answers.length === requests.length) { worker.terminate(); resolve({answers, stages}); return }
      worker.postMessage({type: m.ASK, id: answers.length, request: requests[answers.length]})
    }
    worker.onerror = (event) => reject(new Error(event.message))
    worker.onmessage = ({data}) => {
      if (data.type === m.FAILED) reject(new Error(data.text))
      else if (data.type === m.READY) next()
      else if (data.type === m.ANSWER) { answers.push(data.answer); next() }
      else stages.push(data)
    }
    worker.postMessage({type: m.START, way, counted: true})
  })
}"""


def start(page: Page, app: str, way: str, requests: list[str]) -> dict[str, Any]:
    """Start a worker of its own and ask it."""
    answer: dict[str, Any] = page.evaluate(START, [app, way, requests])
    return answer


def golden_requests() -> list[tuple[Path, str]]:
    """The golden files' requests as they are asked."""
    return [(path, json.dumps(json.loads(path.read_text(encoding="utf-8"))["request"])) for path in GOLDEN]


@pytest.mark.parametrize("way", ["frozen", "whole", "plain"])
def test_all_ways_answer_the_same_bytes_as_natively(page: Page, server: Server, app: str, way: str) -> None:
    from thickset.doors.api import handle  # noqa: PLC0415

    page.goto(server.url + "icon.svg")
    requests = [text for _, text in golden_requests()] + ['{"ask": "about"}', "not JSON"]
    told = start(page, app, way, requests)
    assert told["answers"] == [handle(request) for request in requests]
    counts = [stage for stage in told["stages"] if stage["stage"] == "fetch"]
    loaded = [stage["loaded"] for stage in counts if "loaded" in stage]
    assert loaded == sorted(loaded)
    assert 0 < loaded[-1] <= counts[-1]["total"]
    if way != "plain":
        assert loaded[-1] == counts[-1]["total"]


def test_a_frozen_start_fetches_no_standard_library_and_no_package(page: Page, server: Server, app: str) -> None:
    page.goto(server.url + "icon.svg")
    server.asked.clear()
    start(page, app, "frozen", ['{"ask": "about"}'])
    fetched = {path.rsplit("/", 1)[-1] for path in server.asked}
    assert "pyodide.asm.wasm" in fetched
    assert any(name.startswith("frozen-") for name in fetched)
    assert not [name for name in fetched if name.endswith((".rest", ".zip", ".whl", "lock.json"))]


def test_a_start_that_is_given_up_asks_for_nothing_more(page: Page, server: Server, app: str) -> None:
    """Pyodide's script comes after the failure, and the worker is still there."""
    come = threading.Event()
    server.breaks("asm.wasm", lambda handler: reply(handler, b"half", "text/plain"))
    server.breaks("/pyodide.mjs", lambda _handler: not come.wait(60))
    page.goto(server.url + "icon.svg")
    with pytest.raises(Error, match="came as"):
        start(page, app, "frozen", ['{"ask": "about"}'])
    with page.context.expect_event("console", lambda said: "wasm instantiation failed" in said.text):
        come.set()
    assert not [path for path in server.asked if path.endswith("no-stdlib.zip")]


def test_the_page_gets_ready(page: Page, server: Server) -> None:
    page.goto(server.url)
    engine_ready(page)
    assert "Try again" not in page.inner_text("body")
    assert not [path for path in server.asked if path.startswith("/shop/plain/")]


TOLD = """addEventListener('DOMContentLoaded', () => {
  window.told = []
  const words = document.getElementById('boot-text')
  new MutationObserver(() => told.push(words.textContent)).observe(words, {childList: true, characterData: true, subtree: true})
})"""
DIES = """
const answers = self.onmessage
self.onmessage = (event) => {
  if (String(event.data.request).includes('Fatal lot')) handle = () => { throw new Error('memory access out of bounds') }
  return answers(event)
}
"""

TRAPS = """
const restoring = startFrozen
startFrozen = async (how) => {
  const {pyodide, handle} = await restoring(how)
  const compiling = (request) => {
    if (request.includes('Fatal lot')) pyodide.runPython('1')
    return handle(request)
  }
  return {pyodide, handle: compiling}
}
"""
"""Python's compiler is a part that the lean runtime has not."""

HANGS = """
const answers = self.onmessage
self.onmessage = (event) => (String(event.data.request).includes('Fatal lot') ? undefined : answers(event))
"""


NEVER_ENDS = """
const answers = self.onmessage
self.onmessage = (event) => {
  if (String(event.data.request).includes('Endless lot') && String(event.data.request).includes(ASK)) for (;;) {}
  return answers(event)
}
"""


def dying(server: Server, app: Path, times: int, dies: str = DIES) -> list[int]:
    """Let the worker break down over one lot, as if out of memory, the first times that it is started; gives the starts."""
    text = (app / "worker.js").read_text(encoding="utf-8")
    starts: list[int] = []

    def answer(handler: Any) -> bool:
        starts.append(len(starts))
        return reply(handler, (text + (dies if len(starts) <= times else "")).encode(), "text/javascript")

    server.breaks("/worker.js", answer)
    return starts


def name_it(page: Page, words: str) -> None:
    """Give the lot in hand a name."""
    hand.go(page, "jobs")
    page.locator("#title").fill(words)


def test_a_worker_that_breaks_down_later_starts_anew_and_answers(
    page: Page, server: Server, dist: Path, app: str
) -> None:
    starts = dying(server, dist / app, times=1)
    page.goto(server.url)
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    name_it(page, "Fatal lot")
    hand.planned(page)
    assert len(starts) == 2
    assert not [path for path in server.asked if path.startswith("/shop/plain/")]


def test_what_the_lean_runtime_lacks_is_answered_on_the_whole_one(
    page: Page, server: Server, dist: Path, app: str, watched: Watched
) -> None:
    watched.expect_complaint("fatal error")
    watched.expect_complaint("unreachable")
    starts = dying(server, dist / app, times=9, dies=TRAPS)
    page.goto(server.url)
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    assert not [path for path in server.asked if path.endswith(".rest")]
    name_it(page, "Fatal lot")
    hand.planned(page)
    assert hand.saved_job(page)["title"] == "Fatal lot"
    assert len(starts) == 2
    assert len([path for path in server.asked if path.endswith(".rest")]) == 1
    assert not [path for path in server.asked if path.startswith("/shop/plain/")]


def test_what_breaks_the_worker_twice_is_said_and_another_lot_goes(
    page: Page, server: Server, dist: Path, app: str
) -> None:
    dying(server, dist / app, times=9)
    page.goto(server.url)
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    name_it(page, "Fatal lot")
    engine_ready(page, state="failed")
    expect(page.locator("#boot-failed")).to_contain_text("memory access out of bounds")
    expect(page.locator("#boot-cure")).to_contain_text("Change what you entered last")
    page.locator("#title").fill("Tame lot")
    page.locator('[data-do="restart"]').tap()
    engine_ready(page)
    hand.planned(page)


def test_a_worker_that_does_not_answer_any_more_starts_anew_and_is_asked_again(
    page: Page, server: Server, dist: Path, app: str
) -> None:
    starts = dying(server, dist / app, times=1, dies=HANGS)
    page.clock.install()
    page.goto(server.url)
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    name_it(page, "Fatal lot")
    page.wait_for_selector('html[data-plan="waiting"]', state="attached")
    page.clock.run_for(170_000)
    assert len(starts) == 1
    page.clock.run_for(20_000)
    hand.planned(page)
    assert len(starts) == 2


def with_an_endless_answer(page: Page, server: Server, app: Path, ask: str) -> list[int]:
    """A pile is planned; of a lot of that name this answer never comes to its end. Gives the starts of workers."""
    starts = dying(server, app, times=99, dies=NEVER_ENDS.replace("ASK", json.dumps(f'"ask":"{ask}"')))
    page.goto(server.url)
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    return starts


def test_a_newer_change_interrupts_an_older_answer(page: Page, server: Server, dist: Path, app: str) -> None:
    starts = with_an_endless_answer(page, server, dist / app, "show")
    name_it(page, "Endless lot")
    expect(page.locator("#working")).to_contain_text("Working on the plan")
    page.locator("#title").fill("Tame lot")
    hand.planned(page)
    expect(page.locator("#working")).to_be_hidden()
    assert len(starts) == 2
    assert hand.saved_job(page)["title"] == "Tame lot"
    assert not [path for path in server.asked if path.startswith("/shop/plain/")]


def test_a_newer_change_does_not_wait_for_what_another_part_asked(
    page: Page, server: Server, dist: Path, app: str
) -> None:
    with_an_endless_answer(page, server, dist / app, "more")
    name_it(page, "Endless lot")
    hand.planned(page)
    hand.to_more(page)
    expect(page.locator("#working")).to_contain_text("Working on the questions beside the plan")
    name_it(page, "Tame lot")
    hand.planned(page)
    hand.to_more(page)
    expect(page.locator('#more [data-more="time"]')).to_contain_text("min")
    expect(page.locator("#working")).to_be_hidden()


def test_what_takes_long_is_stopped_and_all_that_was_typed_stays(
    page: Page, server: Server, dist: Path, app: str
) -> None:
    with_an_endless_answer(page, server, dist / app, "show")
    hand.go(page, "lot")
    page.locator("#way label", has_text="Board by board").tap()
    page.locator("#reading").tap()
    page.keyboard.type("1 1/")
    name_it(page, "Endless lot")
    page.locator("#working button", has_text="Stop").tap()
    expect(page.locator("#problems")).to_contain_text("Stopped before it was done. What you entered is kept")
    expect(page.locator("#working")).to_be_hidden()
    engine_ready(page)
    assert page.locator("#title").input_value() == "Endless lot"
    assert hand.shown(page, "board.entry") == "1 1/"
    assert hand.shown(page, "pile.count") == "8"
    hand.go(page, "lot")
    hand.type_in(page, "board.entry", "")
    name_it(page, "Tame lot")
    hand.planned(page)
    expect(page.locator("#problems")).to_be_hidden()


KILLED = """
const kept = self.postMessage.bind(self), heard = self.onmessage
let dead = false
self.postMessage = (told, ...more) => {
  if (dead) return
  if (told.type === 'stage' && told.stage === MOMENT) HOW
  kept(told, ...more)
}
self.onmessage = (event) => {
  if (event.data.type === MOMENT) HOW
  return heard(event)
}
"""
HEAR_OF_DEATH = """window.Worker = class extends Worker {
  constructor(...given) {
    super(...given)
    this.addEventListener('message', ({data}) => { window.killed ||= data.type === 'killed' })
  }
}"""
DEATHS = {
    "is killed": "{ kept({type: 'killed'}); dead = true; self.close(); return }",
    "runs out of memory": "return kept({type: 'failed', kind: 'start', stage: 'core', text: 'out of memory'})",
}


@pytest.mark.parametrize("death", DEATHS)
@pytest.mark.parametrize("moment", ["start", "fetch", "python", "core"])
def test_a_worker_that_dies_in_the_middle_of_its_start_is_started_the_same_way_again(
    page: Page, server: Server, dist: Path, app: str, moment: str, death: str
) -> None:
    starts = dying(
        server, dist / app, times=1, dies=KILLED.replace("MOMENT", repr(moment)).replace("HOW", DEATHS[death])
    )
    page.add_init_script(HEAR_OF_DEATH)
    page.clock.install()
    page.goto(server.url)
    if death == "is killed":
        page.wait_for_function("() => window.killed")
        page.clock.run_for(46_000)
    engine_ready(page)
    assert len(starts) == 2
    assert not [path for path in server.asked if path.startswith("/shop/plain/")]


def test_a_script_that_breaks_once_is_fetched_again(page: Page, server: Server, watched: Watched) -> None:
    watched.expect_complaint("503")
    times = []

    def once(handler: Any) -> bool:
        times.append(1)
        if len(times) == 1:
            handler.send_error(503)
        return len(times) == 1

    server.breaks("pyodide.asm.mjs", once)
    page.goto(server.url)
    engine_ready(page)
    assert not [path for path in server.asked if path.startswith("/shop/plain/")], "a line that broke is no broken heap"


def test_a_script_that_does_not_come_is_a_matter_of_the_line(page: Page, server: Server, watched: Watched) -> None:
    watched.expect_complaint("503")
    server.breaks("pyodide.asm.mjs", lambda handler: handler.send_error(503) or True)
    page.goto(server.url)
    engine_ready(page, state="failed")
    expect(page.locator("#boot-cure")).to_contain_text("Check the connection")


def test_a_line_that_is_stuck_is_said_and_given_up(page: Page, server: Server) -> None:
    """Nothing is left to come but a script: that is still the line, and not a busy device."""
    come = threading.Event()
    server.breaks("pyodide.asm.mjs", lambda _handler: not come.wait(120))
    page.clock.install()
    page.goto(server.url)
    words = page.locator("#boot-text")
    page.wait_for_function("() => document.querySelector('#boot progress').position >= 1")
    page.clock.run_for(8_500)
    expect(words).to_contain_text("The line is slow or gone")
    page.clock.run_for(40_000)
    expect(words).not_to_contain_text("The line is slow or gone")
    page.clock.run_for(46_000)
    expect(words).to_contain_text("the long way")
    page.clock.run_for(46_000)
    engine_ready(page, state="failed")
    expect(page.locator("#boot-failed")).to_contain_text("took too long")
    come.set()


@pytest.mark.parametrize("how", ["cut off", "spoiled"])
def test_a_broken_heap_falls_back_to_the_plain_start(
    how: str, page: Page, server: Server, watched: Watched, dist: Path
) -> None:
    whole = next(dist.glob("frozen-*.bin")).read_bytes()
    broken = b"0123456789" if how == "cut off" else whole[:-1] + bytes([whole[-1] ^ 1])
    server.breaks(".bin", lambda handler: reply(handler, broken))
    page.add_init_script(TOLD)
    page.goto(server.url)
    engine_ready(page)
    assert any("the long way; this takes some ten seconds" in words for words in page.evaluate("told"))
    assert [path for path in server.asked if path.startswith("/shop/plain/")]
