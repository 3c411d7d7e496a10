"""`build.py test`: every check, the quick ones first."""

from __future__ import annotations

import os
import subprocess
import sys
import time

from build_page.fetch import tools
from build_page.page import assemble

ENV = {**os.environ, "PYTHONPATH": str(tools.ROOT / "py"), "PYTHONHASHSEED": "random"}


def call(*words: str) -> bool:
    """Run a tool of the .venv in the open; True when it is content."""
    return subprocess.run([str(tools.python()), *words], cwd=tools.ROOT, env=ENV, check=False).returncode == 0


def scripts() -> bool:
    """Lint, form and types of scripts and styles; what runs in no window has types of its own."""
    programs = tools.npm_packages("lint") / ".bin"
    checks = (
        (programs / "biome", "check", "site", "py/build_page", "tests"),
        (programs / "tsc", "-p", "site"),
        (programs / "tsc", "-p", "site/tsconfig.workers.json"),
    )
    return all(subprocess.run(words, cwd=tools.ROOT, check=False).returncode == 0 for words in checks)


def lint(_rest: list[str]) -> bool:
    """Lint, format and types."""
    return all(
        (
            scripts(),
            call("-m", "ruff", "check", "."),
            call("-m", "ruff", "format", "--check", "."),
            call("-m", "mypy", "py"),
        )
    )


def pytest(rest: list[str], *folders: str) -> bool:
    """The tests of some folders; those that hold none yet are left out."""
    there = [f"tests/{name}" for name in folders if list((tools.ROOT / "tests" / name).rglob("test_*.py"))]
    return not there or call("-m", "pytest", "-q", *rest, *there)


def core(rest: list[str]) -> bool:
    """The core, natively."""
    return pytest(["-n", "2", *rest], "unit", "published", "golden", "kept", "property")


def build(_rest: list[str]) -> bool:
    """The page's files."""
    assemble.build()
    return True


def browser(rest: list[str]) -> bool:
    """The page, in browsers."""
    tools.browsers()
    return pytest(rest, "browser")


def bench(rest: list[str]) -> int:
    """The bench: starts, the same with a quarter of the processor, latency in the page, growth natively."""
    tools.browsers()
    tools.npm_packages("bench")
    assemble.build()
    series = {
        "Starts": ["starts.py", *rest],
        "Starts, with four times less processor": ["starts.py", "--slow", "4", *(rest or ["--runs", "3"])],
        "Answers in the page": ["latency.py"],
        "Growth natively": ["native.py"],
    }
    good = True
    for title, words in series.items():
        print(f"\n{title}\n", flush=True)
        good = call(f"tests/bench/{words[0]}", *words[1:]) and good
    return 0 if good else 1


STEPS = {"lint": lint, "core": core, "build": build, "browser": browser}


def run(only: list[str] | None, rest: list[str]) -> int:
    """Run the steps in order, stop at none, and say at the end which failed."""
    start, failed = time.monotonic(), []
    for name, step in STEPS.items():
        if only and name not in only:
            continue
        tools.say(f"{name}: {step.__doc__}")
        try:
            good = step(rest)
        except tools.Stop as stop:
            print(f"build.py: {stop}", file=sys.stderr)
            good = False
        if not good:
            failed.append(name)
    tools.say(f"{time.monotonic() - start:.0f} s")
    if failed:
        print(f"build.py: failed: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0
