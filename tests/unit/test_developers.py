"""DEVELOPERS.md names every folder of the house, and every file says at its top what it is for."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
HOUSE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## The house")[2].partition("\n## ")[0]
SOURCES = sorted(
    path
    for top in ("py", "site")
    for path in (ROOT / top).rglob("*")
    if path.suffix in {".py", ".js", ".mjs", ".css"} and "build" not in path.relative_to(ROOT).parts
)
COMMENTS = {".css": r"/\*\s*(.+)", ".js": r"//\s*(.+)", ".mjs": r"//\s*(.+)"}


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_a_file_says_at_its_top_what_it_is_for(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".py":
        said = ast.get_docstring(ast.parse(text))
    else:
        found = re.match(COMMENTS[path.suffix], text)
        said = found[1] if found else None
    assert said, "its first line says what it is for"


def test_every_folder_of_the_house_is_named() -> None:
    folders = {path.parent for path in SOURCES if path.parent.name not in {"thickset", "py"}}
    missing = [folder.relative_to(ROOT).as_posix() for folder in folders if f"{folder.name}/" not in HOUSE]
    assert not missing
