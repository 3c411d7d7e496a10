"""The list of published checks with today's result, for the page's sheet of checks."""

import json
import math
import os
from collections.abc import Callable
from pathlib import Path

import pytest

KNOWN = {"read", "transcribed", "memory", "derived", "common practice"}
RESULTS: dict[str, dict[str, object]] = {}


def agrees(expected: object, got: object, tolerance: float, relative: bool) -> bool:
    if isinstance(expected, list | tuple):
        return (
            isinstance(got, list | tuple)
            and len(got) == len(expected)
            and all(agrees(one, other, tolerance, relative) for one, other in zip(expected, got, strict=True))
        )
    if isinstance(expected, str) or expected is None:
        return got == expected
    room = tolerance * abs(float(expected)) if relative else tolerance
    # A hair of room for the last bit of binary floats on the edge of the tolerance.
    return abs(float(got) - float(expected)) <= room * (1 + 1e-9) + 4e-16 * abs(float(expected))


def plain(value: object) -> object:
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    if value is None or isinstance(value, str | int):
        return value
    return float(f"{float(value):.12g}") if math.isfinite(float(value)) else str(value)


@pytest.fixture
def check() -> Callable[..., None]:
    """Record one published check, pass or fail, then assert it."""

    def record(
        name: str,
        what: str,
        source: str,
        known: str,
        expected: object,
        got: object,
        tolerance: float,
        why: str,
        relative: bool = False,
    ) -> None:
        assert known in KNOWN, f"{name}: known must be one of {sorted(KNOWN)}"
        assert all((what, source, why)), f"{name}: what, source and why must be said"
        assert name not in RESULTS, f"{name}: two checks with one name"
        passed = agrees(expected, got, tolerance, relative)
        RESULTS[name] = {
            "id": name,
            "what": what,
            "source": source,
            "known": known,
            "expected": plain(expected),
            "got": plain(got),
            "tolerance": tolerance,
            "relative": relative,
            "why": why,
            "pass": passed,
        }
        assert passed, f"{name}: expected {expected}, got {got}, tolerance {tolerance}"

    return record


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Write the list, or hand it to the process that gathers those of several."""
    worker = getattr(session.config, "workeroutput", None)
    target = os.environ.get("THICKSET_CHECKS")
    if worker is not None:
        worker["published"] = RESULTS
    elif target and RESULTS:
        rows = [RESULTS[key] for key in sorted(RESULTS)]
        text = json.dumps(rows, indent=1, ensure_ascii=False)
        Path(target).write_text(text + "\n", encoding="utf-8")


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: object, error: object) -> None:
    """Gather what one of several processes has checked."""
    RESULTS.update(getattr(node, "workeroutput", {}).get("published", {}))
