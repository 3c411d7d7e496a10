"""What a deploy does to a host, and a page that is held by its service worker; for tests under the mark `deploys`."""

from __future__ import annotations

import base64
import hashlib
import json
from pathlib import Path
from typing import Any

import hand
from kit import Server, reply
from playwright.sync_api import Page, expect

READY = "Ready without a network"
ASK_WORKER = """async ([app, type]) => {
  const m = await import(new URL(`${app}/messages.js`, location.href))
  const registration = await navigator.serviceWorker.getRegistration()
  const {port1, port2} = new MessageChannel()
  registration.active.postMessage({type: m[type]}, [port2])
  return new Promise((resolve) => { port1.onmessage = ({data}) => resolve(data) })
}"""
LOOK_FOR_UPDATE = "navigator.serviceWorker.getRegistration().then((all) => all.update())"


def listed(worker: str) -> str:
    """The list of files as it stands in a built service worker."""
    start = worker.index('{"app_files":')
    _, end = json.JSONDecoder().raw_decode(worker, start)
    return worker[start:end]


def deploy_next(host: Path, new: str = "feedc0ffee00") -> str:
    """Turn a built page into one of another build, the way a build would: another folder, other hashes; gives its id."""
    app = next(host.glob("app-*"))
    old = app.name.removeprefix("app-")
    renamed = app.rename(host / f"app-{new}")
    for path in [host / "index.html", host / "checks.html", host / "sw.js", *renamed.rglob("*.js")]:
        path.write_text(path.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    worker = host / "sw.js"
    text = worker.read_text(encoding="utf-8")
    listing = json.loads(listed(text))
    for path, entry in listing["app_files"].items():
        data = (host / path).read_bytes()
        entry[:] = ["sha256-" + base64.b64encode(hashlib.sha256(data).digest()).decode(), len(data)]
    worker.write_text(text.replace(listed(text), json.dumps(listing)), encoding="utf-8")
    return new


def open_and_keep(page: Page, server: Server) -> None:
    """Load the page and wait until it can do without a network."""
    page.goto(server.url)
    expect(page.locator("#offline")).to_contain_text(READY, timeout=90_000)


def plan_a_pile(page: Page) -> list[float]:
    """Enter a lot by thumb and give the settings of its plan."""
    hand.pile(page)
    hand.planned(page)
    return hand.settings(page)


def spoils(server: Server, ending: str, *, status: int = 200) -> None:
    """Let the service worker, and not the page, get something else than the file."""

    def other(handler: Any) -> bool:
        asks = handler.headers.get("Sec-Fetch-Dest") == "empty"
        return asks and reply(handler, b"spoiled", "text/css", status)

    server.breaks(ending, other)
