"""`build.py test`, `long` and `bench`: every check, so that all cores are busy all the time."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from build_page.fetch import tools
from build_page.page import assemble

ENV = {**os.environ, "PYTHONPATH": str(tools.ROOT / "py"), "PYTHONHASHSEED": "random", "PYTHONUNBUFFERED": "1"}
if sys.stdout.isatty():
    ENV["FORCE_COLOR"] = "1"  # what they say comes through us


def call(*words: str, what: str, **more: str) -> bool:
    """Run a tool of the .venv in the open, with more in its environment; True when it is content."""
    return tools.shown([tools.python(), *words], what, cwd=tools.ROOT, env={**ENV, **more})


def scripts() -> bool:
    """Lint, form and types of scripts and styles; what runs in no window has types of its own."""
    programs = tools.npm_packages("lint") / ".bin"
    node, _ = tools.node()
    checks = (
        (programs / "biome", "check", "site", "py/build_page", "tests"),
        (programs / "tsc", "-p", "site"),
        (programs / "tsc", "-p", "site/tsconfig.workers.json"),
    )
    # By the build's own Node: their first line asks for one on the path, and a bare machine has none.
    return all(
        tools.shown([*node, *words], f"Checking the scripts ({words[0].name})", cwd=tools.ROOT) for words in checks
    )


def lint() -> bool:
    """Lint, format and types."""
    return all(
        (
            scripts(),
            call("-m", "ruff", "check", ".", what="Lint"),
            call("-m", "ruff", "format", "--check", ".", what="Format"),
            call("-m", "mypy", "py", what="Types"),
        )
    )


CORE = ("unit", "published", "golden", "kept", "property", "fuzz")
#: The steps of `build.py test`.
STEPS = {
    "lint": "Lint, format and types.",
    "core": "The core, natively.",
    "build": "The page's files.",
    "browser": "The page, in browsers.",
}


def pytest(rest: list[str], *folders: str, how: str = "usual") -> bool:
    """The tests of some folders; how many examples they try is `how`, as tests/amounts.py has it."""
    # Three workers to two cores: a test in a browser waits for half of its time.
    workers = ["-n", str(max(2, (os.cpu_count() or 2) * 3 // 2)), "--dist", "loadgroup"]
    places = [f"tests/{name}" for name in folders]
    return call("-m", "pytest", "-q", *workers, *rest, *places, what="The tests", THICKSET_TESTS=how)


def build() -> bool:
    """Build the page, which leaves what was there before when it cannot."""
    assemble.build()
    return True


def have_browsers(*packages: str) -> bool:
    """Have the browsers that the tests drive, and what they hold the page to."""
    tools.browsers(*packages)
    tools.npm_packages("audit")
    return True


def together(**parts: Callable[[], bool]) -> list[str]:
    """Do all of it at the same time; the names of what failed."""

    def content(part: Callable[[], bool]) -> bool:
        try:
            return part()
        except tools.Stop as stop:
            print(f"build.py: {stop}", file=sys.stderr)
            return False

    with ThreadPoolExecutor() as hands:
        good = dict(zip(parts, hands.map(content, parts.values()), strict=True))
    return [name for name in parts if not good[name]]


def run(only: list[str] | None, rest: list[str]) -> int:
    """Run the steps, stop at none, and say at the end which failed.

    What must be there for the tests is got ready at the same time; then core and browser are one run of pytest, so that neither
    waits for the other.
    """
    asked = [name for name in STEPS if not only or name in only]
    if "browser" in asked:
        tools.may_have_browsers()
    for name in asked:
        tools.say(f"{name}: {STEPS[name]}")
    first = {"lint": lint, "build": build, "browser": have_browsers}
    tools.python(), tools.node()  # these are shared by what follows
    start = time.monotonic()
    failed = together(**{name: part for name, part in first.items() if name in asked})
    folders = [*(("browser",) if "browser" in asked else ()), *(CORE if "core" in asked else ())]
    if {"build", "browser"} & {*failed} and "browser" in folders:
        folders.remove("browser")  # there is nothing to open, or to open it with
    if folders and not pytest(rest, *folders):
        failed.append(" or ".join(name for name in ("core", "browser") if name in asked and name not in failed))
    return told(failed, start)


def quick(rest: list[str]) -> int:
    """The moment before a commit: lint, the core's tests but for the slow ones with a tenth of the examples, the page once in a browser."""
    tools.may_have_browsers("chromium")
    tools.python(), tools.node()
    start = time.monotonic()
    parts = {
        "lint": lint,
        "core": lambda: pytest(["-m", "not slow", *rest], *CORE, how="quick"),
        "page": lambda: build() and have_browsers("chromium") and pytest(["-n", "0"], "browser/test_smoke.py"),
    }
    return told(together(**parts), start)


#: What tries more of the page when there is time.
PATIENT = tuple(
    f"browser/test_{name}.py"
    for name in ("page_everyone", "page_run", "page_store_fuzz", "page_tap_counts", "page_taps", "releases")
)


def long(rest: list[str]) -> int:
    """What takes patience: twenty times the examples, others on each run, the page too, and the core installed in an empty environment."""
    start = time.monotonic()
    build(), have_browsers()
    return told([] if pytest(rest, *CORE, *PATIENT, "long", how="long") else ["long"], start)


def told(failed: list[str], start: float) -> int:
    """Say how long it took and what failed; the exit status."""
    tools.say(f"{time.monotonic() - start:.0f} s")
    if failed:
        print(f"build.py: failed: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0


def bench(rest: list[str]) -> int:
    """The bench: starts, the same with a quarter of the processor, latency in the page, growth natively, a planer's book."""
    tools.browsers()
    tools.npm_packages("bench")
    assemble.build()
    series = {
        "Starts": ["starts.py", *rest],
        "Starts, with four times less processor": ["starts.py", "--slow", "4", *(rest or ["--runs", "3"])],
        "First visits in three browsers": ["visits.py"],
        "Answers in the page": ["latency.py"],
        "Growth natively": ["native.py"],
        "A planer's book, and a shop's years": ["book.py"],
    }
    good = True
    for title, words in series.items():
        print(f"\n{title}\n", flush=True)
        good = call(f"tests/bench/{words[0]}", *words[1:], what=title) and good
    return 0 if good else 1
