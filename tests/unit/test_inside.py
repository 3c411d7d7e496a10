"""What others made: the kept list stops at what it does not know, and the bill of materials tells of every byte."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from build_page.fetch.tools import Stop
from build_page.inside import bom, parts
from build_page.inside.notices import notices
from build_page.page import font

KEPT = parts.kept()


@pytest.fixture
def pyodide(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Files that show every mark, and a list that is about them."""
    place = tmp_path / "pyodide"
    place.mkdir()
    for name in KEPT.files:
        marks = [part.seen for part in KEPT.parts if name in part.files]
        (place / name).write_text("\n".join(marks), encoding="utf-8")
    hashes = {name: bom.sha256(place / name) for name in KEPT.files}
    monkeypatch.setattr(parts, "kept", lambda: parts.Kept(KEPT.pyodide, hashes, KEPT.parts, KEPT.packages))
    return place


def test_the_list_is_about_one_version_of_pyodide(pyodide: Path) -> None:
    assert parts.checked([pyodide], KEPT.pyodide).parts == KEPT.parts
    with pytest.raises(
        Stop, match=rf"lists what is inside Pyodide {KEPT.pyodide}, and this is 999\.0\.0; see 'Raising"
    ):
        parts.checked([pyodide], "999.0.0")


@pytest.mark.parametrize("name", KEPT.files)
def test_a_changed_byte_of_pyodide_stops_the_build(pyodide: Path, name: str) -> None:
    with (pyodide / name).open("a") as file:
        file.write("!")
    with pytest.raises(Stop, match=f"{name} is not the one"):
        parts.checked([pyodide], KEPT.pyodide)


def test_a_part_that_shows_no_mark_stops_the_build(pyodide: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (pyodide / "pyodide.mjs").write_text("nothing")
    hashes = {name: bom.sha256(pyodide / name) for name in KEPT.files}
    monkeypatch.setattr(parts, "kept", lambda: parts.Kept(KEPT.pyodide, hashes, KEPT.parts, KEPT.packages))
    with pytest.raises(Stop, match=r"pyodide\.mjs shows no mark of Pyodide's scripts, error-stack-parser"):
        parts.checked([pyodide], KEPT.pyodide)


def test_each_part_says_how_it_is_known_and_has_its_text() -> None:
    assert len({part.name for part in KEPT.parts}) == len(KEPT.parts)
    for part in KEPT.parts:
        assert {*part.files} <= {*KEPT.files}
        assert part.known.split(":")[0].split(";")[0] in {"reports", "bytes", "build files"}, part.name
        assert part.text or part.license == "MPL-2.0", part.name  # that text stands with micropip
    kept = {part.text for part in KEPT.parts if part.text}
    assert kept == {path.name for path in (parts.HERE / "licenses").iterdir()}


def test_a_package_that_nobody_looked_at_stops_the_build() -> None:
    with pytest.raises(Stop, match="does not say the license of newcomer"):
        KEPT.license_of("newcomer")


def test_the_notices_name_each_part_and_hold_each_text(tmp_path: Path) -> None:
    (tmp_path / "LICENSE").write_text("the font's")
    text = notices("1.0", KEPT, [], tmp_path)
    for part in KEPT.parts:
        assert f"\n{part.full_name} " in text
        if part.text:
            assert (parts.HERE / "licenses" / part.text).read_text(encoding="utf-8").strip() in text
    assert "the font's" in text


@pytest.fixture
def dist(tmp_path: Path) -> Path:
    """A folder with a bill."""
    place = tmp_path / "dist"
    runtime = ("runtime-1/pyodide.asm.wasm", "runtime-1/pyodide.asm.rest")
    for name in ("index.html", "app-1/main.js", "app-1/letters.woff2", *runtime, "frozen-1.bin"):
        (place / name).parent.mkdir(parents=True, exist_ok=True)
        (place / name).write_text(name)
    bom.write(place, "1.0", KEPT, [], font.PACKAGE)
    return place


def read(dist: Path) -> dict[str, Any]:
    told: dict[str, Any] = json.loads((dist / bom.FILE).read_text(encoding="utf-8"))
    return told


def test_the_bill_tells_of_each_file_what_it_is_made_of(dist: Path) -> None:
    told = read(dist)
    needs = {one["ref"]: one["dependsOn"] for one in told["dependencies"]}
    for file in ("pyodide.asm.wasm", "pyodide.asm.rest"):
        assert {"part:musl", "part:SQLite", "part:libffi"} <= {*needs[f"file:runtime-1/{file}"]}
    assert needs["file:app-1/letters.woff2"] == ["package:atkinson-hyperlegible-next"]
    assert "part:CPython's standard library" in needs["file:frozen-1.bin"]
    assert needs["file:app-1/main.js"] == []
    refs = [one["bom-ref"] for one in told["components"]]
    assert len({*refs}) == len(refs)
    assert {ref for need in needs.values() for ref in need} <= {*refs}


def test_the_same_folder_has_the_same_bill(dist: Path) -> None:
    first = (dist / bom.FILE).read_bytes()
    bom.write(dist, "1.0", KEPT, [], font.PACKAGE)
    assert (dist / bom.FILE).read_bytes() == first
    number = read(dist)["serialNumber"]
    (dist / "index.html").write_text("other")
    bom.write(dist, "1.0", KEPT, [], font.PACKAGE)
    assert read(dist)["serialNumber"] != number


@pytest.mark.parametrize("what", ["a changed byte", "a file too many", "a file that is gone"])
def test_what_differs_from_the_bill_stops_the_build(dist: Path, what: str) -> None:
    bom.check(dist)
    file = dist / "app-1" / "main.js"
    if what == "a file too many":
        file = dist / "app-1" / "extra.js"
    if what == "a file that is gone":
        file.unlink()
    else:
        file.write_text("app-1/main.jS")
    with pytest.raises(Stop, match=rf"dist/ is not what its bom.json says: app-1/{file.name}\. Build it anew"):
        bom.check(dist)
