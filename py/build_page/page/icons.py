"""The icons that an installed page needs, drawn from our own SVG."""

from __future__ import annotations

import shutil
from pathlib import Path

from build_page.fetch import tools
from build_page.fetch.tools import NODE_LOCK, digest, kept, run, say, still

HERE = Path(__file__).parent


def draw(svg: Path, out: Path) -> None:
    """Draw the icons into a folder."""
    script = HERE / "icons.mjs"

    def make(place: Path) -> None:
        say("drawing the icons")
        node, _ = tools.node()
        run(
            [*node, script, tools.npm_packages() / "@resvg" / "resvg-wasm", svg, place],
            "Drawing the icons",
            env=still(),
        )

    for icon in sorted(kept("icons", digest(svg, script, NODE_LOCK), make).glob("*.png")):
        shutil.copy(icon, out)
