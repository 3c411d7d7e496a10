"""The built folder: the same bytes wherever it is built, whole, within its budget, and naming no other place."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

from build_page.page.gather import GATHERED
from kit import ROOT

SOURCES = ("build.py", "pyproject.toml", "py", "site", "tests/golden", "tests/published")
OTHERS = re.compile(r"https?://(?!127\.0\.0\.1|localhost|www\.w3\.org/|json-schema\.org/draft/)[a-z0-9.-]+")


def sums(folder: Path) -> dict[str, str]:
    """The hash of each file."""
    paths = sorted(path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in paths}


def copy(target: Path) -> Path:
    """The sources in another folder, with what was fetched but nothing of what was made."""
    for name in SOURCES:
        source = ROOT / name
        (target / name).parent.mkdir(parents=True, exist_ok=True)
        if source.is_dir():
            shutil.copytree(source, target / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, target / name)
    (target / ".cache").mkdir()
    for fetched in (ROOT / ".cache").glob("*"):
        if fetched.name.split("-")[0] in {"npm", "wheels", "node", "fonttools"}:
            (target / ".cache" / fetched.name).symlink_to(fetched)
    (target / ".venv").symlink_to(ROOT / ".venv")
    return target


def test_the_same_bytes_in_another_folder_beside_another_node(dist: Path, tmp_path: Path) -> None:
    """The Node on the path does nothing but tell that it was called; what would sway any Node is set."""
    other = copy(tmp_path / "a folder with a longer name" / "thickset")
    called = tmp_path / "called"
    for name in ("node", "npm", "npx"):
        program = tmp_path / "bin" / name
        program.parent.mkdir(exist_ok=True)
        program.write_text(f"#!/bin/sh\necho {name} $* >> '{called}'\n")
        program.chmod(0o755)
    path = os.pathsep.join([str(tmp_path / "bin"), os.environ["PATH"]])
    quiet = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "PATH": path, "NODE_OPTIONS": "--no-such-option"}
    done = subprocess.run(
        [sys.executable, "build.py"], cwd=other, env=quiet, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert sums(other / "dist") == sums(dist)
    assert not called.exists(), called.read_text()


def test_a_failed_build_leaves_what_was_there(tmp_path: Path) -> None:
    other = copy(tmp_path / "thickset")
    (other / "dist").mkdir()
    (other / "dist" / "index.html").write_text("before")
    page = other / "site" / "index.html"
    page.write_text(page.read_text(encoding="utf-8").replace("<!--thickset:build-->", "<!--thickset:nonsense-->"))
    done = subprocess.run([sys.executable, "build.py"], cwd=other, capture_output=True, text=True, check=False)
    assert done.returncode == 1
    assert "nonsense" in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1
    assert (other / "dist" / "index.html").read_text() == "before"
    assert not [path for path in other.iterdir() if ".half" in path.name]


def test_nothing_is_left_to_fill_in_and_nothing_points_elsewhere(dist: Path) -> None:
    for path in [dist / "index.html", dist / "sw.js", *dist.glob("app-*/**/*.js"), *dist.glob("app-*/**/*.css")]:
        text = path.read_text(encoding="utf-8")
        assert "<!--thickset:" not in text, path
        assert "BUILT_LIST" not in text, path
        assert not OTHERS.findall(text), path


def test_what_is_written_for_developers_is_not_shipped(dist: Path) -> None:
    (wheel,) = (dist / "plain").glob("thickset-*.whl")
    shipped = [*(path.name for path in dist.rglob("*")), *zipfile.ZipFile(wheel).namelist()]
    assert "thickset/planning/passes/planner.py" in shipped
    assert not [name for name in shipped if name.endswith(".md")]


def test_nothing_of_the_sources_is_left_and_what_is_kept_is_what_is_there(dist: Path, app: str) -> None:
    ours = {path.relative_to(dist / app).as_posix() for path in (dist / app).rglob("*")}
    modules = {f"{name.rpartition('/')[2]}.js" for _, *names in GATHERED for name in names} - {"sw.js"}
    assert ours == {*modules, "style.css", "letters.woff2"}
    kept = set(re.findall(r'"([^"]+)": \["sha256-', (dist / "sw.js").read_text(encoding="utf-8")))
    assert kept == sums(dist).keys() - {"sw.js", "sw-remove.js", "notices.txt", "bom.json"}


def test_notices_name_everything_that_is_shipped(dist: Path) -> None:
    text = (dist / "notices.txt").read_text(encoding="utf-8")
    for wheel in (dist / "plain").glob("*.whl"):
        name = wheel.name.split("-")[0]
        assert name == "thickset" or f"\n{name} " in text
    for words in (
        "Mozilla Public License",
        "PYTHON SOFTWARE FOUNDATION LICENSE",
        "Pyodide 3",
        "Permission is hereby granted",
    ):
        assert words in text
