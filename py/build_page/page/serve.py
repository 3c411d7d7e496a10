"""A plain server for dist/, with the types that a browser insists on."""

from __future__ import annotations

import functools
import http.server
from pathlib import Path

from build_page.fetch.tools import Stop, say

TYPES = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".mjs": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
    "": "application/octet-stream",
}


class Quiet(http.server.SimpleHTTPRequestHandler):
    """Files as they are, never stored by the browser without asking again."""

    extensions_map = TYPES

    def end_headers(self) -> None:
        """Ask the browser to come back and compare."""
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, *words: object) -> None:
        """Keep the terminal for what matters."""


def serve(folder: Path, host: str, port: int) -> None:
    """Serve the folder until interrupted."""
    try:
        server = http.server.ThreadingHTTPServer((host, port), functools.partial(Quiet, directory=str(folder)))
    except OSError as error:
        raise Stop(f"Port {port} cannot be used ({error.strerror}): try --port with another number") from error
    with server:
        say(f"Thickset is at http://{host}:{server.server_port}/ (stop with Ctrl-C)")
        server.serve_forever()
