"""A plain server for dist/, with the types that a browser insists on."""

from __future__ import annotations

import errno
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

#: What a host does well to send with every file; README.md says why.
HEADERS = {
    "Content-Security-Policy": "frame-ancestors 'self'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
}


class Quiet(http.server.SimpleHTTPRequestHandler):
    """Files as they are, with the headers of a good host, never stored by the browser without asking again."""

    extensions_map = TYPES

    def end_headers(self) -> None:
        """Ask the browser to come back and compare."""
        self.send_header("Cache-Control", "no-cache")
        for name, value in HEADERS.items():
            self.send_header(name, value)
        super().end_headers()

    def log_message(self, *words: object) -> None:
        """Keep the terminal for what matters."""


def door(folder: Path, host: str, port: int) -> http.server.ThreadingHTTPServer:
    """Take the place at which the folder will be served; whoever asks before it is built waits."""
    if not 0 <= port < 1 << 16:
        raise Stop(f"There is no port {port}: they go from 0 to 65535; try --port 8000")
    try:
        return http.server.ThreadingHTTPServer((host, port), functools.partial(Quiet, directory=str(folder)))
    except OSError as error:
        if error.errno == errno.EADDRINUSE:
            raise Stop(
                f"Port {port} is in use by another program: end that one, or try --port with another number"
            ) from error
        if isinstance(error, PermissionError):
            raise Stop(f"Port {port} is not for everyone: try --port with a number above 1023") from error
    except ValueError:
        pass  # no host can have that name
    raise Stop(f"This machine cannot be reached as {host!r}: try --host 127.0.0.1, or 0.0.0.0 for the phone beside it")


def serve(server: http.server.ThreadingHTTPServer) -> None:
    """Serve the folder until interrupted."""
    with server:
        host, port = server.server_address[:2]
        say(f"Thickset is at http://{host!s}:{port}/ (stop with Ctrl-C)")
        server.serve_forever()
