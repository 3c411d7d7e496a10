"""How long a plan takes in the browser after warm-up. Run by hand on a built page: python tests/bench/browser.py.

The lot is planned again and again with one reading changed, as when somebody types. `plan` is the bare plan, `show` the
answer the page paints: plan, words and pictures. Times go from the page's question to its answer, there and back.
"""

import argparse
import json
import statistics
import sys
from pathlib import Path

from native import lot, say
from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "browser"))
from kit import DIST, FLAGS, Server, chromium_path

TYPING = """async (requests) => {
    const { createEngine } = await import(location.href)
    const engine = createEngine()
    await engine.askText('{"ask": "about"}')
    const times = []
    for (const request of requests) {
        const start = performance.now()
        await engine.askText(request)
        times.push(performance.now() - start)
    }
    return times
}"""


def requests(ask: str, boards: int, units: str, times: int) -> list[str]:
    """The same lot again and again, one reading another each time."""
    job = lot(boards, units)
    made = []
    for n in range(times):
        readings = job["boards"][n % boards]["readings"]
        readings[0] = readings[-1] if n % 2 else readings[1]
        made.append(json.dumps({"ask": ask, "job": job}))
    return made


def main() -> None:
    arguments = argparse.ArgumentParser(description="Times the core in Chromium.")
    arguments.add_argument("--dist", type=Path, default=DIST)
    arguments.add_argument("--times", type=int, default=60)
    asked = arguments.parse_args()
    server = Server(asked.dist)
    app = next(asked.dist.glob("app-*")).name
    address = f"{server.url}{app}/engine.js"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(playwright), args=FLAGS)
        say(f"{'lot':>16} {'ask':>6} {'least ms':>9} {'median ms':>10}")
        for boards, units, ask in ((20, "in", "plan"), (20, "in", "show"), (20, "mm", "plan"), (20, "mm", "show")):
            page = browser.new_page()
            page.goto(address)
            times = page.evaluate(TYPING, requests(ask, boards, units, asked.times))
            warm = times[len(times) // 3 :]
            say(f"{f'{boards} x 5 {units}':>16} {ask:>6} {min(warm):9.1f} {statistics.median(warm):10.1f}")
            page.close()
        browser.close()
    server.stop()


if __name__ == "__main__":
    main()
