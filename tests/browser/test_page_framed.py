"""Inside a page of another origin nothing of ours can be tapped, whatever headers the host sends."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from kit import Server, Watched, engine_ready
from playwright.sync_api import expect


@pytest.fixture
def other(server: Server, tmp_path: Path) -> Iterator[Server]:
    """A host of another origin, whose page frames the planner and the rescue page."""
    place = tmp_path / "other"
    place.mkdir()
    frames = "".join(
        f'<iframe name="{name}" src="{server.url}{name}"></iframe>' for name in ("index.html", "rescue.html")
    )
    (place / "index.html").write_text(f"<!doctype html><title>Another</title>{frames}", encoding="utf-8")
    started = Server(place, prefix="/other/")
    yield started
    started.stop()


def test_the_page_refuses_to_work_in_a_frame_of_another_origin(watched: Watched, server: Server, other: Server) -> None:
    for part in (f"request to {other.url}", "framed", "cross-origin frame", "frame-ancestors", "Framing"):
        watched.expect_complaint(part)
    sent = dict(server.headers)
    server.headers.clear()
    page = watched.new_page()
    page.goto(other.url)
    planner, rescue = page.frame_locator('[name="index.html"]'), page.frame_locator('[name="rescue.html"]')
    expect(planner.locator("body")).to_contain_text("does not work inside a page of somebody else")
    expect(planner.locator("button, input, summary")).to_have_count(0)
    expect(rescue.locator("body")).to_have_text(
        "Open this page by itself: it does not work inside a page of somebody else."
    )
    expect(rescue.locator("button")).to_have_count(0)
    planner.get_by_role("link", name="Open Thickset by itself").click()
    page.wait_for_url(f"{server.url}index.html")
    engine_ready(page)

    server.headers.update(sent)
    page.goto(other.url)
    for frame in (planner, rescue):
        expect(frame.locator("body")).to_contain_text("refused to connect")  # the browser's own page
