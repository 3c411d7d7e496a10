"""The three browsers by one small door: open an address, evaluate an expression that gives a string."""

from __future__ import annotations

import contextlib
import json
import os
import re
import shutil
import signal
import subprocess
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Protocol, TypeVar

import pytest
from playwright.sync_api import Browser
from websockets.sync.client import ClientConnection, connect

LONG = 180
T = TypeVar("T")


class Driver(Protocol):
    """A browser with one tab."""

    def open(self, address: str) -> None:
        """Load a page."""

    def evaluate(self, expression: str) -> str:
        """The string that an expression gives, waited for when it is a promise."""

    def close(self) -> None:
        """End it."""


class Chromium:
    """Through Playwright, in a profile of its own."""

    def __init__(self, browser: Browser) -> None:
        self.page = browser.new_page()
        self.page.set_default_timeout(LONG * 1000)

    def open(self, address: str) -> None:
        self.page.goto(address)

    def evaluate(self, expression: str) -> str:
        return str(self.page.evaluate(expression))

    def close(self) -> None:
        """End it."""
        self.page.context.close()


class Program:
    """A browser's program with all that it starts; what they say is kept, to be shown when it fails."""

    def __init__(self, words: list[str], said: Path) -> None:
        self.file = said
        with said.open("a") as open_file:
            self.process = subprocess.Popen(words, stdout=open_file, stderr=open_file, start_new_session=True)

    def said(self) -> str:
        """All that was said so far."""
        return self.file.read_text(errors="replace")

    def say(self, words: str) -> None:
        """Keep what it answered beside what it says."""
        with self.file.open("a") as open_file:
            open_file.write(f"{words}\n")

    @contextlib.contextmanager
    def starting(self) -> Iterator[None]:
        """What fails before it is ready ends it, and is told with its own words."""
        try:
            yield
        except BaseException as error:
            self.end()
            error.add_note(f"it said: {self.said().strip()[-2000:]}")
            raise

    def until(self, there: Callable[[], T | None], what: str) -> T:
        """Wait for something of it to be there; fail with its own words when it ends before that, or is silent."""
        end = time.monotonic() + LONG
        while (found := there()) is None:
            gone = self.process.poll() is not None
            if gone or time.monotonic() > end:
                self.end()
                pytest.fail(
                    f"{what}; {'it ended' if gone else 'it still runs'}, and said: {self.said().strip()[-2000:]}"
                )
            time.sleep(0.05)
        return found

    def end(self) -> None:
        """End it and all that it started."""
        for how in (signal.SIGTERM, signal.SIGKILL):
            with contextlib.suppress(ProcessLookupError):
                os.killpg(self.process.pid, how)
            with contextlib.suppress(subprocess.TimeoutExpired):
                self.process.wait(10)


class Firefox:
    """Through WebDriver BiDi, which it speaks by itself."""

    def __init__(self, profile: Path) -> None:
        program = shutil.which("firefox-esr") or shutil.which("firefox")
        assert program, "No Firefox: run python3 build.py test, which installs it"
        words = [program, "--headless", "--no-remote", "--profile", str(profile), "--remote-debugging-port", "0"]
        self.program = Program(words, profile / "said.txt")
        listening = re.compile(r"WebDriver BiDi listening on (ws://\S+)")
        with self.program.starting():
            found = self.program.until(lambda: listening.search(self.program.said()), "Firefox opened no BiDi door")
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
        self.program.end()


def mini_browser() -> str:
    """The browser that comes with WebKitGTK."""
    browsers = sorted(Path("/usr/lib").glob("*/webkit2gtk-4.*/MiniBrowser"))
    assert browsers, "No MiniBrowser beside WebKitWebDriver"
    return str(browsers[-1])


class WebKit:
    """WebKitGTK through its WebDriver."""

    def __init__(self, folder: Path) -> None:
        driver = shutil.which("WebKitWebDriver")
        assert driver, "No WebKitWebDriver: run python3 build.py test, which installs it"
        self.port = free_port()
        said = folder / "said.txt"
        self.program = Program(["xvfb-run", "-a", "-e", str(said), driver, f"--port={self.port}"], said)
        options = {"binary": mini_browser(), "args": ["--automation"]}
        wanted = {"capabilities": {"alwaysMatch": {"webkitgtk:browserOptions": options}}}

        def session() -> str | None:
            try:
                return str(self.command("POST", "/session", wanted)["sessionId"])
            except urllib.error.HTTPError as error:
                self.program.say(error.read().decode())
            except (ConnectionError, urllib.error.URLError):
                pass  # it does not listen yet
            return None

        with self.program.starting():
            self.session = self.program.until(session, "WebKitWebDriver gives no session")
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
        self.program.end()


def free_port() -> int:
    """A port that nobody uses."""
    import socket  # noqa: PLC0415

    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return int(door.getsockname()[1])


@contextlib.contextmanager
def driving(name: str, browser: Browser) -> Iterator[Driver]:
    """One of the browsers, by name."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as place:
        folder = Path(place)
        started = {
            "chromium": lambda: Chromium(browser),
            "firefox": lambda: Firefox(folder),
            "webkit": lambda: WebKit(folder),
        }
        driver = started[name]()
        try:
            yield driver
        finally:
            driver.close()


#: The browsers for tests that meet each of them; those of one browser go to one worker, which starts it once.
ENGINES = [pytest.param(name, marks=pytest.mark.xdist_group(name)) for name in ("chromium", "firefox", "webkit")]
