"""The page's typeface: of a font from npm the signs that the page writes and people name boards with."""

from __future__ import annotations

import os
from pathlib import Path

from build_page.fetch import tools
from build_page.fetch.tools import digest, kept, run, say

HERE = Path(__file__).parent
FILE = "letters.woff2"
PACKAGE = "@fontsource-variable/atkinson-hyperlegible-next"
LATIN = "files/atkinson-hyperlegible-next-latin-wght-normal.woff2"


def folder() -> Path:
    """The package as npm brings it."""
    return tools.npm_packages().joinpath(*PACKAGE.split("/"))


def letters() -> Path:
    """The font file that the page asks for; the same bytes wherever it is made."""
    source, script = folder() / LATIN, HERE / "cut_font.py"

    def make(place: Path) -> None:
        say("cutting the typeface")
        env = {**os.environ, "PYTHONPATH": str(tools.font_tools())}
        run([tools.python(), script, source, place / FILE], "Cutting the typeface", env=env)

    return kept("letters", digest(source, script, tools.LOCKS / "font.txt"), make) / FILE
