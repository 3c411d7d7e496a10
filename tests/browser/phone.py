"""The page as on a phone; a console error, a page error or a request to another place fails the test."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from typing import Any

import hand
import pytest
from kit import Server, Watched
from playwright.sync_api import Browser, Page

Open = Callable[..., Page]
PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True, "service_workers": "block"}

PUT = "(entries) => Object.entries(entries).forEach(([key, text]) => localStorage.setItem(key, text))"


def started(open_page: Open, server: Server, entries: dict[str, str], **how: Any) -> Page:
    """The page, started with these entries in the store."""

    def put(page: Page) -> None:
        page.goto(server.url + "icon.svg")
        page.evaluate(PUT, entries)

    page = open_page(before=put, **how)
    hand.ready(page)
    return page


@contextlib.contextmanager
def opening(browser: Browser, server: Server) -> Iterator[Open]:
    """Opens the page in a fresh profile.

    `expected`: parts of complaints that a test causes on purpose. `reads`: the cautions before a first feed are read as soon
    as they come up. `script`: runs before the page's own. `before(page)`: last
    preparations. `again`: a page whose profile is used once more. Anything else goes to the browser's context.
    """
    watches: list[Watched] = []

    def open_it(
        *,
        expected: tuple[str, ...] = (),
        script: str = "",
        before: Callable[[Page], object] = lambda _page: None,
        again: Page | None = None,
        reads: bool = True,
        **how: Any,
    ) -> Page:
        if again is None:
            watches.append(Watched(browser.new_context(**{**PHONE, **how}), server))
            for part in expected:
                watches[-1].expect_complaint(part)
        context = again.context if again else watches[-1].context
        page = context.new_page()
        if script:
            page.add_init_script(script)
        if reads:
            hand.reads_cautions(page)
        before(page)
        page.goto(server.url)
        return page

    yield open_it
    for watched in watches:
        watched.context.close()
        watched.check()


@pytest.fixture
def open_page(browser: Browser, server: Server) -> Iterator[Open]:
    """Opens the page in a fresh profile, as `opening` has it."""
    with opening(browser, server) as opened:
        yield opened
