"""The map in DEVELOPERS.md names every file of the house, by what the file says of itself."""

from __future__ import annotations

import ast
import os
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DEVELOPERS = ROOT / "DEVELOPERS.md"
BEGIN, END = "<!-- map -->\n", "<!-- /map -->"
ROOMS = [
    *(f"py/thickset/{floor}" for floor in ("ground", "trade", "planning", "faces", "doors")),
    "site",
    "site/parts",
    ".build",
]
#: Files that hold no words of their own.
SILENT = {
    "species.csv": "The table of woods, each figure with how it is known, and what else the trade calls them",
    "units.txt": "The units that are understood, as pint reads them",
    "index.html": "The page; the build fills in the demo's plan",
    "checks.html": "The page of the sheet of checks; the build fills it in",
    "icon.svg": "The icon that all others are drawn from",
    "manifest.webmanifest": "What a phone has to know to put the page on its home screen",
    "picture.png": "The picture at the top of README.md",
}
#: Letters of a line on the map, where it takes more than one sentence.
LONGEST = 140
COMMENTS = {
    ".css": r"/\* (.*?) \*/",
    ".js": r"((?://.*\n)+)",
    ".mjs": r"((?://.*\n)+)",
}


def in_a_line(path: Path) -> str:
    """What a file says of itself, in its docstring or in the comment at its top: the sentences that fit one line."""
    if path.name in SILENT:
        return SILENT[path.name]
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".py":
        said = ast.get_docstring(ast.parse(text))
    else:
        found = re.match(COMMENTS[path.suffix], text, re.DOTALL if path.suffix == ".css" else 0)
        said = found and found[1].replace("// ", "").replace("//", "")
    assert said, f"{path} says nothing of itself"
    paragraph = " ".join(said.split("\n\n")[0].split())
    first, *more = re.split(r"(?<=[.!?])\s", re.sub(r"^node .*?: ", "", paragraph))
    for sentence in more:
        if len(first) + len(sentence) >= LONGEST:
            break
        first = f"{first} {sentence}"
    return first.rstrip(".")


def room(name: str) -> str:
    """The lines of a folder's own files."""
    folder = ROOT / name
    files = sorted(path for path in folder.iterdir() if path.is_file() and path.name != "__init__.py")
    wide = max(len(path.name) for path in files) + 2
    own = in_a_line(folder / "__init__.py") if (folder / "__init__.py").exists() else ""
    lines = (f"    {path.name:{wide}}{in_a_line(path)}\n" for path in files)
    return f"**{name}/**{f': {own}' if own else ''}\n\n{''.join(lines)}\n"


def test_the_map_names_every_file_by_what_it_says_of_itself() -> None:
    text = DEVELOPERS.read_text(encoding="utf-8")
    before, _, rest = text.partition(BEGIN)
    _, end, after = rest.partition(END)
    made = f"{before}{BEGIN}\n{''.join(room(name) for name in ROOMS)}{end}{after}"
    if os.environ.get("THICKSET_GOLDEN") == "write":
        DEVELOPERS.write_text(made, encoding="utf-8")
    assert text == made, "write it anew with THICKSET_GOLDEN=write"


def test_no_floor_is_missing_on_the_map() -> None:
    floors = {path.parent for path in (ROOT / "py" / "thickset").rglob("*.py")} - {ROOT / "py" / "thickset"}
    assert {path.relative_to(ROOT).as_posix() for path in floors} <= set(ROOMS)
