"""The engine by itself: both ways to start give the same bytes, and every way to fail ends in words."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from kit import ROOT, Server, Watched, engine_ready
from playwright.sync_api import Page

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


@pytest.mark.parametrize("way", ["frozen", "plain"])
def test_both_ways_answer_the_same_bytes_as_natively(page: Page, server: Server, app: str, way: str) -> None:
    from thickset.doors.api import handle  # noqa: PLC0415

    page.goto(server.url + "icon.svg")
    requests = [text for _, text in golden_requests()] + ['{"ask": "about"}', "not JSON"]
    told = start(page, app, way, requests)
    assert told["answers"] == [handle(request) for request in requests]
    counts = [stage for stage in told["stages"] if stage["stage"] == "fetch"]
    loaded = [stage["loaded"] for stage in counts if "loaded" in stage]
    assert loaded == sorted(loaded)
    assert 0 < loaded[-1] <= counts[-1]["total"]
    if way == "frozen":
        assert loaded[-1] == counts[-1]["total"]


def test_a_frozen_start_fetches_no_standard_library_and_no_package(page: Page, server: Server, app: str) -> None:
    page.goto(server.url + "icon.svg")
    server.asked.clear()
    start(page, app, "frozen", ['{"ask": "about"}'])
    fetched = {path.rsplit("/", 1)[-1] for path in server.asked}
    assert "pyodide.asm.wasm" in fetched
    assert any(name.startswith("frozen-") for name in fetched)
    assert not [name for name in fetched if name.endswith((".zip", ".whl", "lock.json"))]


def test_the_page_gets_ready(page: Page, server: Server) -> None:
    page.goto(server.url)
    engine_ready(page)
    assert "Try again" not in page.inner_text("body")
    assert not [path for path in server.asked if path.startswith("/shop/plain/")]


def test_a_broken_heap_falls_back_to_the_plain_start(page: Page, server: Server, watched: Watched) -> None:
    def spoiled(handler: Any) -> bool:
        handler.send_response(200)
        handler.send_header("Content-Length", "10")
        handler.end_headers()
        handler.wfile.write(b"0123456789")
        return True

    server.breaks(".bin", spoiled)
    page.goto(server.url)
    engine_ready(page)
    assert [path for path in server.asked if path.startswith("/shop/plain/")]
