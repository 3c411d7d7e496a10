"""The built page, a server whose files can be made to fail, and a browser whose every complaint fails the test."""

from __future__ import annotations

import contextlib
import functools
import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import hand
import pytest
from build_page.fetch import tools
from drivers import Driver, driving
from kit import DIST, FLAGS, ROOT, Server, Watched, chromium_path
from phone import open_page  # noqa: F401  (a fixture)
from playwright.sync_api import Browser, Page, Playwright, expect, sync_playwright

expect.set_options(timeout=30_000)  # a slow machine is no defect of the page


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built page."""
    if not (DIST / "index.html").is_file():
        pytest.fail("No dist/: run python3 build.py first")
    return DIST


@pytest.fixture(scope="session")
def app(dist: Path) -> str:
    """The name of the folder in dist/ that holds our scripts."""
    return next(dist.glob("app-*")).name


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """Playwright itself, by the build's own Node: the one that it brings needs a library that no browser brings."""
    (node,), _ = tools.node()
    os.environ["PLAYWRIGHT_NODEJS_PATH"] = str(node)
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """Chromium."""
    started = playwright.chromium.launch(executable_path=chromium_path(playwright), args=FLAGS)
    yield started
    started.close()


@pytest.fixture(scope="session")
def drive(browser: Browser) -> Iterator[Callable[[str], Driver]]:
    """Each of the three browsers by its name, started when it is first asked for."""
    with contextlib.ExitStack() as stack:
        yield functools.cache(lambda name: stack.enter_context(driving(name, browser)))


@pytest.fixture
def deployed(dist: Path, tmp_path: Path) -> Path:
    """A copy of the built page that a test may change, as a deploy does."""
    return Path(shutil.copytree(dist, tmp_path / "host"))


def deploys(request: pytest.FixtureRequest) -> bool:
    """Whether a test is marked as one that deploys: its host may change, and a service worker may live."""
    return request.node.get_closest_marker("deploys") is not None


@pytest.fixture
def server(request: pytest.FixtureRequest, dist: Path) -> Iterator[Server]:
    """A server of the built page, or of the copy, under a sub-path; its sources are at hand beside it."""
    folder = request.getfixturevalue("deployed") if deploys(request) else dist
    started = Server(folder, beside=ROOT / "site")
    yield started
    started.stop()


@pytest.fixture
def watched(request: pytest.FixtureRequest, browser: Browser, server: Server) -> Iterator[Watched]:
    """A fresh browser profile the size of a phone, with no service worker in between unless the test deploys."""
    context = browser.new_context(
        viewport={"width": 390, "height": 844},
        has_touch=True,
        is_mobile=True,
        service_workers="allow" if deploys(request) else "block",
    )
    made = Watched(context, server)
    yield made
    context.close()
    made.check()


@pytest.fixture
def page(watched: Watched) -> Page:
    """A tab with nothing loaded yet; `page.goto(server.url)` opens the page."""
    made = watched.new_page()
    hand.reads_cautions(made)
    return made
