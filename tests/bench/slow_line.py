"""A first visit on a slow line: what is on the screen after some seconds. Run on a built page: python tests/bench/slow_line.py OUT.

The line is simulated in the server, as a browser throttles its pages but not their workers: so many bits per second for all
files together, a wait before each answer, gzip for what a host compresses. Writes OUT/after-N-s.png and tells what the page says.
"""

from __future__ import annotations

import argparse
import functools
import gzip
import http.server
import io
import sys
import threading
import time
from pathlib import Path

sys.path[:0] = [
    str(Path(__file__).resolve().parents[1] / "browser"),
    str(Path(__file__).resolve().parents[2] / "py"),
]

from build_page.page.serve import Quiet
from build_page.page.sizes import PACKED
from kit import DIST, FLAGS, chromium_path
from playwright.sync_api import sync_playwright

PIECE = 4096
LINE = threading.Lock()


class Slow(Quiet):
    """Files over a line that all of them share."""

    bits_per_second, wait = 1.6e6, 0.15

    def send_head(self) -> io.BytesIO | None:
        """A file as a host sends it: compressed, unless it is packed already."""
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        time.sleep(self.wait)
        if not path.is_file():
            self.send_error(404)
            return None
        data = path.read_bytes()
        packed = path.suffix in PACKED
        data = data if packed else gzip.compress(data, 6)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Length", str(len(data)))
        if not packed:
            self.send_header("Content-Encoding", "gzip")
        self.end_headers()
        return io.BytesIO(data)

    def copyfile(self, source: io.BytesIO, outputfile: io.BufferedIOBase) -> None:  # type: ignore[override]
        """Piece by piece, in turn with the other files."""
        while piece := source.read(PIECE):
            with LINE:
                time.sleep(len(piece) * 8 / self.bits_per_second)
            try:
                outputfile.write(piece)
            except (BrokenPipeError, ConnectionError):
                return


def main() -> None:
    """Visit, and take the pictures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("out", type=Path)
    parser.add_argument("--seconds", type=float, nargs="+", default=[1, 3, 10])
    parser.add_argument("--megabits", type=float, default=1.6)
    asked = parser.parse_args()
    asked.out.mkdir(parents=True, exist_ok=True)
    Slow.bits_per_second = asked.megabits * 1e6
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Slow, directory=str(DIST)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(playwright), args=FLAGS)
        page = browser.new_context(viewport={"width": 390, "height": 844}, device_scale_factor=2).new_page()
        start = time.monotonic()
        page.goto(f"http://127.0.0.1:{server.server_port}/", wait_until="commit")
        for second in asked.seconds:
            time.sleep(max(0, start + second - time.monotonic()))
            picture = asked.out / f"after-{second:g}-s.png"
            picture.write_bytes(page.screenshot())
            said = page.evaluate(
                "() => [document.documentElement.dataset.engine, document.querySelector('#boot')?.innerText]"
            )
            print(f"{time.monotonic() - start:5.1f} s: {said} -> {picture}")
        page.wait_for_selector('html[data-engine="ready"]', state="attached", timeout=300_000)
        print(f"{time.monotonic() - start:5.1f} s: ready")
        browser.close()
    server.shutdown()


if __name__ == "__main__":
    main()
