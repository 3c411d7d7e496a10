"""A first visit in each of the three browsers: bytes over the wire until the first fresh plan and in all, and when that is there.

Run by `python3 build.py bench`. Every visit is a fresh profile; times are medians from navigation [ms]. Bytes are those of a host
that compresses with gzip, each file once: what the service worker asks for again is answered from what the browser has.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from pathlib import Path

sys.path[:0] = [
    str(Path(__file__).resolve().parents[1] / "browser"),
    str(Path(__file__).resolve().parents[2] / "py"),
]

from build_page.page.sizes import wire
from drivers import Driver, driving
from kit import DIST, FLAGS, Server, chromium_path
from playwright.sync_api import Browser, sync_playwright

FRESH = """new Promise((resolve) => {
  const root = document.documentElement
  const look = () => root.dataset.engine === 'ready' && root.dataset.plan === 'fresh' && resolve(String(performance.now()))
  new MutationObserver(look).observe(root, {attributes: true})
  look()
})"""


def bytes_of(server: Server) -> int:
    """What was asked for, each file once."""
    asked = {
        path.removeprefix(server.prefix) or "index.html" for path in server.asked if path.startswith(server.prefix)
    }
    return sum(wire(server.folder / path) for path in asked if (server.folder / path).is_file())


def held(driver: Driver) -> None:
    """Wait until all is kept."""
    while driver.evaluate("document.getElementById('offline').textContent") != "Ready without a network.":
        time.sleep(0.2)


def visit(name: str, browser: Browser, dist: Path) -> tuple[float, int, int]:
    """One visit: when the fresh plan was there, the bytes until then, and in all."""
    server = Server(dist)
    try:
        with driving(name, browser) as driver:
            driver.open(server.url)
            fresh = float(driver.evaluate(FRESH))
            until = bytes_of(server)
            held(driver)
            return fresh, until, bytes_of(server)
    finally:
        server.stop()


def main() -> None:
    """Visit and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--dist", type=Path, default=DIST)
    asked = parser.parse_args()
    print("| browser | fresh plan [ms] | bytes until then | in all |\n|---|---|---|---|")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(playwright), args=FLAGS)
        for name in ("chromium", "firefox", "webkit"):
            runs = [visit(name, browser, asked.dist) for _ in range(asked.runs)]
            fresh, until, whole = (statistics.median(column) for column in zip(*runs, strict=True))
            print(f"| {name} | {fresh:.0f} | {until:,.0f} | {whole:,.0f} |", flush=True)
        browser.close()


if __name__ == "__main__":
    main()
