"""How long a plan takes in the page once the engine is warm, and what memory the engine holds. Run by `python3 build.py bench`.

The time is from the page's question to its answer, the worker and both ways of JSON included; the median of several.
"""

from __future__ import annotations

import json
import statistics
import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1] / "browser")]

from kit import DIST, FLAGS, Server, chromium_path
from native import lot
from playwright.sync_api import sync_playwright

BOARDS = (1, 20, 100, 500)
ASK = """async ([app, request, runs]) => {
  window.engine ??= await (async () => {
    const {createEngine} = await import(new URL(`${app}/engine.js`, location.href))
    return new Promise((resolve) => { const made = createEngine({onState: (s) => s === 'ready' && setTimeout(() => resolve(made))}) })
  })()
  const times = []
  for (let run = 0; run < runs; run += 1) {
    const start = performance.now()
    const answer = await window.engine.askText(request)
    times.push(performance.now() - start)
    if (!JSON.parse(answer).ok) throw new Error(answer)
  }
  return times
}"""
MEMORY = """async ([app, requests]) => {
  const worker = new Worker(new URL('beside/memory.js', location.href), {type: 'module'})
  worker.postMessage({app, requests})
  return new Promise((resolve) => { worker.onmessage = ({data}) => resolve(data) })
}"""


def main() -> None:
    """Print the table."""
    server = Server(DIST, beside=Path(__file__).parent / "pages")
    app = next(DIST.glob("app-*")).name
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(playwright), args=FLAGS)
        page = browser.new_context(service_workers="block").new_page()
        page.goto(server.url + "icon.svg")
        print("| boards of 5 readings | plan [ms] | plan and page [ms] | memory after it [MB] |")
        print("|---|---|---|---|")
        for boards in BOARDS:
            job = lot(boards, "in")
            requests = [json.dumps({"ask": ask, "job": job}) for ask in ("plan", "show")]
            runs = 20 if boards <= 100 else 5
            plan, show = (statistics.median(page.evaluate(ASK, [app, request, runs])) for request in requests)
            memory = page.evaluate(MEMORY, [app, requests])
            print(f"| {boards} | {plan:.1f} | {show:.1f} | {memory / 1e6:.1f} |")
        browser.close()
    server.stop()


if __name__ == "__main__":
    main()
