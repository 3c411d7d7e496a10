"""Every file says what it is for, every folder stands in DEVELOPERS.md, and what the documents name is there."""

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
LONGEST_FILE = 450
TOPS = ("py", "site", "tests")
DOCUMENTS = sorted([*ROOT.glob("*.md"), *(path for top in TOPS for path in (ROOT / top).rglob("*.md"))])
PATHS = [f"/{path.relative_to(ROOT).as_posix()}" for top in TOPS for path in [ROOT / top, *(ROOT / top).rglob("*")]]
LINK = re.compile(r"\]\(([^)#:]+)\)")
SPAN = re.compile(r"`([^`\n]+)`")
NAMED = re.compile(r"[\w.*-]+(/[\w.*-]+)*(/|\.(py|js|mjs|css|html|csv|toml|txt|json|png|md))")
#: Named though they stand in no folder of ours: what is made or fetched, what a person has, and Pyodide's own.
ELSEWHERE = re.compile(
    r"\.venv/|\.cache/.*|dist/|.*NAME\.json|JOB\.json|example\.org/.*|pyodide(\.asm)?\.mjs|build\.py|job\.schema\.json"
    r"|bom\.json|notices\.txt|cpython/.*|Makefile\.envs"
)


def lost(named: list[str]) -> list[str]:
    """What is named by its path, or by the end of it, and is not there."""
    ends = {word: re.compile("/" + re.escape(word.rstrip("/")).replace(r"\*", "[^/]*") + "$") for word in named}
    return [
        word
        for word, end in ends.items()
        if not ELSEWHERE.fullmatch(word) and not any(end.search(path) for path in PATHS)
    ]


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_a_file_says_at_its_top_what_it_is_for(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".py":
        said = ast.get_docstring(ast.parse(text))
    else:
        found = re.match(COMMENTS[path.suffix], text)
        said = found[1] if found else None
    assert said, "its first line says what it is for"


def test_a_file_of_the_product_holds_one_matter() -> None:
    """What a function may hold, ruff and Biome say."""
    lines = {path: path.read_text(encoding="utf-8").count("\n") for path in SOURCES if path.suffix != ".css"}
    assert not {path.name: count for path, count in lines.items() if count > LONGEST_FILE}


def test_every_folder_of_the_house_is_named() -> None:
    folders = {path.parent for path in SOURCES if path.parent.name not in {"thickset", "py"}}
    missing = [folder.relative_to(ROOT).as_posix() for folder in folders if f"{folder.name}/" not in HOUSE]
    assert not missing


def test_every_folder_that_the_house_names_is_there() -> None:
    assert not lost(re.findall(r"[\w/]+/(?=\s)", HOUSE))


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_what_a_document_names_is_there(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not [target for target in LINK.findall(text) if not (path.parent / target).exists()]
    assert not lost([word for span in SPAN.findall(text) for word in span.split() if NAMED.fullmatch(word)])


def test_developers_fits_the_first_hour() -> None:
    assert len((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines()) <= 250
