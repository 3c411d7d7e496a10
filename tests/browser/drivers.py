"""The three browsers by one small door: open an address, evaluate an expression that gives a string."""

from __future__ import annotations

import contextlib
import json
import re
import shutil
import subprocess
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Protocol

from kit import FLAGS, chromium_path
from playwright.sync_api import Playwright
from websockets.sync.client import ClientConnection, connect

LONG = 180


class Driver(Protocol):
    """A browser with one tab."""

    def open(self, address: str) -> None:
        """Load a page."""

    def evaluate(self, expression: str) -> str:
        """The string that an expression gives, waited for when it is a promise."""


class Chromium:
    """Through Playwright."""

    def __init__(self, playwright: Playwright) -> None:
        self.browser = playwright.chromium.launch(executable_path=chromium_path(playwright), args=FLAGS)
        self.page = self.browser.new_page()
        self.page.set_default_timeout(LONG * 1000)

    def open(self, address: str) -> None:
        self.page.goto(address)

    def evaluate(self, expression: str) -> str:
        return str(self.page.evaluate(expression))


class Firefox:
    """Through WebDriver BiDi, which it speaks by itself."""

    def __init__(self, profile: Path) -> None:
        program = shutil.which("firefox-esr") or shutil.which("firefox")
        assert program, "No Firefox: run python3 build.py test, which installs it"
        words = [program, "--headless", "--no-remote", "--profile", str(profile), "--remote-debugging-port", "0"]
        said = profile / "said.txt"
        with said.open("w") as words_of_it:
            self.process = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=words_of_it)
        end = time.monotonic() + 60
        while not (found := re.search(r"WebDriver BiDi listening on (ws://\S+)", said.read_text())):
            assert time.monotonic() < end, "Firefox opened no BiDi door"
            time.sleep(0.1)
        self.socket: ClientConnection = connect(found[1] + "/session", legacy=True, max_size=None, open_timeout=60)
        self.count = 0
        self.command("session.new", {"capabilities": {}})
        self.tab = self.command("browsingContext.getTree", {})["contexts"][0]["context"]

    def command(self, method: str, params: dict[str, Any]) -> dict[str, Any]:
        """Send one command and wait for its answer."""
        self.count += 1
        self.socket.send(json.dumps({"id": self.count, "method": method, "params": params}))
        while True:
            told: dict[str, Any] = json.loads(self.socket.recv(timeout=LONG))
            if told.get("id") == self.count:
                assert told["type"] == "success", told
                result: dict[str, Any] = told["result"]
                return result

    def open(self, address: str) -> None:
        self.command("browsingContext.navigate", {"context": self.tab, "url": address, "wait": "complete"})

    def evaluate(self, expression: str) -> str:
        target = {"context": self.tab}
        told = self.command("script.evaluate", {"expression": expression, "target": target, "awaitPromise": True})
        assert told["type"] == "success", told
        return str(told["result"]["value"])

    def close(self) -> None:
        """End it."""
        self.socket.close()
        self.process.terminate()
        self.process.wait(30)


class WebKit:
    """WebKitGTK through its WebDriver."""

    def __init__(self) -> None:
        driver = shutil.which("WebKitWebDriver")
        assert driver, "No WebKitWebDriver: run python3 build.py test, which installs it"
        browsers = sorted(Path("/usr/lib").glob("*/webkit2gtk-4.*/MiniBrowser"))
        assert browsers, "No MiniBrowser beside WebKitWebDriver"
        self.port = free_port()
        words = ["xvfb-run", "-a", driver, f"--port={self.port}"]
        self.process = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        options = {"binary": str(browsers[-1]), "args": ["--automation"]}
        wanted = {"capabilities": {"alwaysMatch": {"webkitgtk:browserOptions": options}}}
        end = time.monotonic() + 60
        while True:
            with contextlib.suppress(OSError):
                self.session = self.command("POST", "/session", wanted)["sessionId"]
                break
            assert time.monotonic() < end, "WebKitWebDriver does not answer"
            time.sleep(0.2)
        self.command("POST", f"/session/{self.session}/timeouts", {"script": LONG * 1000, "pageLoad": LONG * 1000})

    def command(self, method: str, path: str, body: dict[str, Any] | None = None) -> Any:
        """Send one command and wait for its answer."""
        data = json.dumps(body).encode() if body is not None else None
        request = urllib.request.Request(f"http://127.0.0.1:{self.port}{path}", data, method=method)
        with urllib.request.urlopen(request, timeout=LONG) as answer:  # noqa: S310
            return json.load(answer)["value"]

    def open(self, address: str) -> None:
        self.command("POST", f"/session/{self.session}/url", {"url": address})

    def evaluate(self, expression: str) -> str:
        script = f"const done = arguments[0]; Promise.resolve({expression}).then(done, (e) => done(`failed: ${{e}}`))"
        return str(self.command("POST", f"/session/{self.session}/execute/async", {"script": script, "args": []}))

    def close(self) -> None:
        """End it."""
        with contextlib.suppress(OSError):
            self.command("DELETE", f"/session/{self.session}")
        self.process.terminate()
        self.process.wait(30)


def free_port() -> int:
    """A port that nobody uses."""
    import socket  # noqa: PLC0415

    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return int(door.getsockname()[1])


@contextlib.contextmanager
def driving(name: str, playwright: Playwright) -> Iterator[Driver]:
    """One of the browsers, by name."""
    if name == "chromium":
        chromium = Chromium(playwright)
        try:
            yield chromium
        finally:
            chromium.browser.close()
        return
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        other = Firefox(Path(folder)) if name == "firefox" else WebKit()
        try:
            yield other
        finally:
            other.close()
