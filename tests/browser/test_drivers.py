"""A browser that does not start is heard, and what a browser started ends with it."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path

import drivers
import pytest
from drivers import Firefox, Program, WebKit


def test_what_a_program_said_is_told_when_it_ends_too_early(tmp_path: Path) -> None:
    program = Program(["sh", "-c", "echo 'xauth command not found' >&2; exit 3"], tmp_path / "said.txt")
    with pytest.raises(pytest.fail.Exception, match=r"No session; it ended, and said: xauth command not found"):
        program.until(lambda: None, "No session")


def lives(process: int) -> bool:
    """Whether a process runs; one that ended and that nobody asked about does not."""
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(") ")[2][0] not in "ZX"
    except OSError:
        return False


def ends(process: int) -> None:
    """Wait for a process to be gone."""
    end = time.monotonic() + 30
    while lives(process):
        assert time.monotonic() < end, "what it started still runs"
        time.sleep(0.01)


def test_what_a_program_started_ends_with_it(tmp_path: Path) -> None:
    program = Program(["sh", "-c", "sleep 1000 & echo child $!; wait"], tmp_path / "said.txt")
    child = program.until(lambda: next(iter(program.said().split("child ")[1:]), None), "No child")
    program.end()
    assert program.process.returncode is not None
    ends(int(child))


@pytest.fixture
def programs(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Callable[..., None]:
    """Put programs of some lines before those of the machine."""
    place = tmp_path / "bin"
    place.mkdir()
    monkeypatch.setenv("PATH", f"{place}:{os.environ['PATH']}")

    def put(**lines: str) -> None:
        for name, line in lines.items():
            program = place / name.replace("_", "-")
            program.write_text(f"#!/bin/sh\n{line}\n")
            program.chmod(0o755)

    return put


def test_a_web_driver_that_breaks_is_heard_and_leaves_no_screen_behind(
    programs: Callable[..., None], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(drivers, "mini_browser", lambda: "MiniBrowser")
    programs(
        xvfb_run=f"sleep 1000 & echo $! > '{tmp_path}/screen'; echo 'xauth command not found' >&2; exit 3",
        WebKitWebDriver="exit 3",
    )
    with pytest.raises(pytest.fail.Exception, match="it ended, and said: xauth command not found"):
        WebKit(tmp_path)
    ends(int((tmp_path / "screen").read_text()))


def test_a_browser_whose_door_is_shut_is_heard_and_ends(programs: Callable[..., None], tmp_path: Path) -> None:
    shut = drivers.free_port()
    programs(
        firefox_esr=f"sleep 1000 & echo $! > '{tmp_path}/child'; echo no room left >&2\n"
        f"echo WebDriver BiDi listening on ws://127.0.0.1:{shut}; wait"
    )
    with pytest.raises(ConnectionError) as told:
        Firefox(tmp_path)
    assert "no room left" in told.value.__notes__[0]
    ends(int((tmp_path / "child").read_text()))
