"""Releases that differ in one kind of file alone: each has a name of its own, and the page of each opens without a network, twice."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from amounts import HOW
from build_page.page import assemble
from deploys import ASK_WORKER, LOOK_FOR_UPDATE, READY, listed, open_and_keep
from kit import Server, engine_ready
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.deploys

FILLS = {
    "index.html": {"version": "1", "demo": "a plan"},
    "checks.html": {"version": "1", "checks": "a case"},
}


def text_added(pattern: str, text: str) -> Callable[[Path], None]:
    """Adds a text to the end of the first file that matches."""

    def change(half: Path) -> None:
        with next(half.glob(pattern)).open("a", encoding="utf-8") as file:
            file.write(text)

    return change


#: What Zstandard passes over, and WebAssembly: a frame to be skipped, a section that nobody knows.
FRAME, SECTION = b"\x50\x2a\x4d\x18\0\0\0\0", b"\0\2\1x"


def heap_changed(half: Path) -> None:
    """Adds to the frozen heap what changes nothing of it."""
    with next(half.glob("frozen-*.bin")).open("ab") as file:
        file.write(FRAME)


def runtime_changed(name: str, more: bytes) -> Callable[[Path], None]:
    """Adds to a file of the runtime what changes nothing of it; the folder has another name then."""

    def change(half: Path) -> None:
        folder = next(half.glob("runtime-*"))
        with (folder / name).open("ab") as file:
            file.write(more)
        other = f"{folder.name}-{name.rpartition('.')[2]}"
        folder.rename(half / other)
        for script in (half / "app").glob("*.js"):
            text = script.read_text(encoding="utf-8")
            script.write_text(text.replace(folder.name, other), encoding="utf-8")

    return change


CHANGES = {
    "index.html": text_added("index.html", "<!-- other -->\n"),
    "checks.html": text_added("checks.html", "<!-- other -->\n"),
    "rescue.html": text_added("rescue.html", "<!-- other -->\n"),
    "manifest": text_added("manifest.webmanifest", "\n"),
    "icon.svg": text_added("icon.svg", "<!-- other -->\n"),
    "an icon": text_added("icon-192.png", "\n"),
    "a script": text_added("app*/main.js", "// other\n"),
    "the style": text_added("app*/style.css", "/* other */\n"),
    "the plain start": text_added("plain/*.whl", "\n"),
    "the heap": heap_changed,
    "the lean runtime": runtime_changed("pyodide.asm.wasm", SECTION),
    "the rest of the runtime": runtime_changed("pyodide.asm.rest", FRAME),
}


@pytest.fixture(scope="module")
def raw(dist: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built page as it was before its names were filled in: the app's folder is called app, and nothing points to it."""
    half = tmp_path_factory.mktemp("raw") / "half"
    shutil.copytree(dist, half, copy_function=shutil.copyfile)
    app = next(half.glob("app-*"))
    name = app.name
    app.rename(half / "app")
    for page in ("index.html", "checks.html"):
        path = half / page
        text = path.read_text(encoding="utf-8").replace(f"{name}/", "")
        path.write_text(text.replace(name.removeprefix("app-"), "<!--thickset:build-->"), encoding="utf-8")
    for page in half.glob("index.html"):
        page.write_text(page.read_text(encoding="utf-8") + "<!--thickset:preload-->", encoding="utf-8")
    shutil.copyfile(Path(assemble.__file__).parents[3] / "site" / "engine" / "sw.js", half / "sw.js")
    return half


def named(raw: Path, to: Path, change: Callable[[Path], None] = lambda _: None) -> str:
    """A release of these files, with one change before they are named, as the build names them."""
    shutil.rmtree(to, ignore_errors=True)
    shutil.copytree(raw, to, copy_function=shutil.copyfile)
    change(to)
    return assemble.build_id(to, {})


def test_each_kind_of_file_gives_the_build_another_name(raw: Path, tmp_path: Path) -> None:
    names = {kind: named(raw, tmp_path / "half", change) for kind, change in CHANGES.items()}
    names["none"] = named(raw, tmp_path / "half")
    assert len({*names.values()}) == len(names), names
    assert named(raw, tmp_path / "half") == names["none"]


def test_what_the_core_says_on_a_page_gives_the_build_another_name(raw: Path) -> None:
    said = assemble.build_id(raw, FILLS)
    for page, told in FILLS.items():
        assert assemble.build_id(raw, {**FILLS, page: {**told, "more": "other"}}) != said


def test_what_is_not_kept_gives_it_no_other_name(raw: Path, tmp_path: Path) -> None:
    plain = named(raw, tmp_path / "half")
    for name in assemble.NOT_KEPT:
        assert named(raw, tmp_path / "half", text_added(name, "\n")) == plain


@pytest.fixture
def host(tmp_path: Path) -> Path:
    """The folder that is served, filled by a release."""
    return tmp_path / "host"


@pytest.fixture
def server(host: Path) -> Iterator[Server]:
    """Its server."""
    host.mkdir()
    started = Server(host)
    yield started
    started.stop()


def release(raw: Path, host: Path, dist: Path, change: Callable[[Path], None] = lambda _: None) -> str:
    """Put a release on the host: the built page, or that with one change before it was named."""
    shutil.rmtree(host)
    shutil.copytree(raw, host, copy_function=shutil.copyfile)
    change(host)
    text = (dist / "sw.js").read_text(encoding="utf-8")
    (host / "sw.js").write_text(text.replace(listed(text), "'BUILT_LIST'"), encoding="utf-8")
    return assemble.named(host, {"index.html": {}, "checks.html": {}})


USUAL = ("index.html", "checks.html", "manifest", "the plain start", "the heap", "the lean runtime")
KINDS = list(CHANGES) if HOW == "long" else USUAL


@pytest.mark.parametrize("kind", KINDS)
def test_a_release_that_differs_in_this_alone_opens_without_a_network_twice(
    kind: str, page: Page, server: Server, raw: Path, host: Path, dist: Path
) -> None:
    release(raw, host, dist)
    open_and_keep(page, server)
    page.evaluate("localStorage.setItem('thickset.test', 'kept')")
    new = release(raw, host, dist, CHANGES[kind])
    page.evaluate(LOOK_FOR_UPDATE)
    page.locator("#update button").first.click(timeout=60_000)
    expect(page.locator("#build")).to_have_text(new, timeout=30_000)
    engine_ready(page)
    expect(page.locator("#offline")).to_contain_text(READY, timeout=60_000)
    server.stop()
    for _ in range(2):
        page.reload()
        engine_ready(page)
        told = page.evaluate(ASK_WORKER, [f"app-{new}", "VERIFY"])
        assert told == {"id": new, "whole": True, "missing": []}
    assert page.evaluate("localStorage.getItem('thickset.test')") == "kept"
    assert not [path for path in server.asked if "/plain/" in path]
    server.start()
