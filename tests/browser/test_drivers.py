"""A browser that does not start is heard, and what a browser started ends with it."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from drivers import Program


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


def test_what_a_program_started_ends_with_it(tmp_path: Path) -> None:
    program = Program(["sh", "-c", "sleep 1000 & echo child $!; wait"], tmp_path / "said.txt")
    child = program.until(lambda: next(iter(program.said().split("child ")[1:]), None), "No child")
    program.end()
    assert program.process.returncode is not None
    end = time.monotonic() + 30
    while lives(int(child)):
        assert time.monotonic() < end, "what it started still runs"
        time.sleep(0.01)
