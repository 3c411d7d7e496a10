"""A server whose files can be made to fail, and a browser whose every complaint fails the test."""

from __future__ import annotations

import functools
import http.server
import shutil
import threading
from collections.abc import Callable
from pathlib import Path

import pytest
from build_page.page.serve import HEADERS
from playwright.sync_api import BrowserContext, ConsoleMessage, Page, Playwright, Request

ROOT = Path(__file__).resolve().parents[2]
DIST = ROOT / "dist"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
TYPES = {
    ".css": "text/css",
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript",
    ".json": "application/json",
    ".mjs": "text/javascript",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    "": "application/octet-stream",
}
Handler = http.server.SimpleHTTPRequestHandler
Mischief = Callable[[Handler], bool]


class Server:
    """Serves one folder under a sub-path, as a static host would; can be stopped, started again and made to misbehave."""

    def __init__(self, folder: Path, prefix: str = "/shop/", beside: Path | None = None) -> None:
        self.folder = folder
        self.beside = beside
        self.prefix = prefix
        self.port = 0
        self.asked: list[str] = []
        self.mischief: dict[str, Mischief] = {}
        self.headers = dict(HEADERS)
        self.start()

    @property
    def url(self) -> str:
        """Where the page is."""
        return f"http://127.0.0.1:{self.port}{self.prefix}"

    def start(self) -> None:
        """Start, at the port it had before."""
        handler = functools.partial(self._handler(), directory=str(self.folder))
        self._http = http.server.ThreadingHTTPServer(("127.0.0.1", self.port), handler)
        self._http.daemon_threads = True
        self.port = self._http.server_port
        threading.Thread(target=self._http.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True).start()

    def stop(self) -> None:
        """Be gone, as a line that breaks."""
        self._http.shutdown()
        self._http.server_close()

    def breaks(self, ending: str, mischief: Mischief) -> None:
        """Let requests for addresses with this ending be answered by `mischief`; when it gives False, as always."""
        self.mischief[ending] = mischief

    def mends(self) -> None:
        """Answer everything as it should be again."""
        self.mischief.clear()

    def _handler(server) -> type[Handler]:  # noqa: N805
        class Answering(Handler):
            extensions_map = TYPES

            def do_GET(self) -> None:  # noqa: N802  (the name the library asks for)
                path = self.path.split("?")[0].split("#")[0]
                server.asked.append(path)
                for ending, mischief in server.mischief.items():
                    if path.endswith(ending) and mischief(self):
                        return
                if path == "/favicon.ico":
                    self.send_response(204)
                    self.end_headers()
                    return
                if not path.startswith(server.prefix):
                    self.send_error(404)
                    return
                self.path = "/" + path[len(server.prefix) :]
                if server.beside and self.path.startswith("/beside/"):
                    self.path, self.directory = self.path.removeprefix("/beside"), str(server.beside)
                super().do_GET()

            def end_headers(self) -> None:
                self.send_header("Cache-Control", "no-cache")
                for name, value in server.headers.items():
                    self.send_header(name, value)
                super().end_headers()

            def copyfile(self, source: object, outputfile: object) -> None:
                try:
                    shutil.copyfileobj(source, outputfile)  # type: ignore[type-var]
                except (ConnectionError, BrokenPipeError):
                    self.close_connection = True

            def log_message(self, *_words: object) -> None:
                pass

        return Answering


def reply(handler: Handler, body: bytes, kind: str = "", status: int = 200) -> bool:
    """Answer a request with this body, of this type where one is named."""
    handler.send_response(status)
    if kind:
        handler.send_header("Content-Type", kind)
    handler.send_header("Content-Length", str(len(body)))
    handler.end_headers()
    handler.wfile.write(body)
    return True


class Watched:
    """A browser context in which a console error, a page error or a request to another place is a failure."""

    def __init__(self, context: BrowserContext, server: Server) -> None:
        self.context = context
        self.server = server
        self.complaints: list[str] = []
        self.expected: list[str] = []
        context.on("page", self._watch)
        context.on("console", self._console)
        context.on("weberror", lambda error: self.complaints.append(f"page error: {error.error}"))
        context.on("request", self._request)

    def expect_complaint(self, part: str) -> None:
        """A console error that has `part` in it belongs to this test."""
        self.expected.append(part)

    def new_page(self) -> Page:
        """One more tab."""
        return self.context.new_page()

    def check(self) -> None:
        """Fail when there was a complaint that was not expected."""
        left = [text for text in self.complaints if not any(part in text for part in self.expected)]
        assert not left, left

    def _watch(self, page: Page) -> None:
        page.on("crash", lambda _page: self.complaints.append("the tab crashed"))

    def _console(self, message: ConsoleMessage) -> None:
        if message.type in {"error", "assert"}:
            self.complaints.append(f"console: {message.text} ({message.location.get('url', '')})")

    def _request(self, request: Request) -> None:
        if not request.url.startswith((self.server.url, "data:", "blob:")):
            self.complaints.append(f"request to {request.url}")


def chromium_path(playwright: Playwright) -> str | None:
    """Playwright's own Chromium when it is there (None), else the machine's."""
    if Path(playwright.chromium.executable_path).exists():
        return None
    for name in ("chromium", "chromium-browser", "google-chrome"):
        if found := shutil.which(name):
            return found
    pytest.fail("No Chromium: run python3 build.py test, which installs it")


def engine_ready(page: Page, *, state: str = "ready", seconds: float = 180) -> None:
    """Wait until the engine is in a state."""
    page.wait_for_selector(f'html[data-engine="{state}"]', state="attached", timeout=seconds * 1000)
