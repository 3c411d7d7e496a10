"""How long until there is a plan: the product's own dist/ against other ways to have the same Python in a page.

Run by `python3 build.py bench`. Every visit is a fresh browser process; a row is the median of several. Times are from
navigation [ms]: until the frame with the stored (on a first visit: the example's) plan is made, and until the engine has answered
with a fresh one. The last columns divide both by the floor's time, and the plain page's by that of the fresh plan. The page without
a script is what the browser itself needs to show such a plan.
"""

from __future__ import annotations

import argparse
import contextlib
import hashlib
import json
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Self

sys.path[:0] = [str(Path(__file__).resolve().parents[1] / "browser")]

from kit import DIST, FLAGS, ROOT, chromium_path
from playwright.sync_api import BrowserContext, Playwright, sync_playwright
from thickset.doors.demo import DEMO_IN

PAGES = Path(__file__).parent / "pages"
WATCH = """
window.bench = {}
const Own = window.Worker
window.Worker = class extends Own {
  constructor(...given) {
    super(...given)
    window.bench['worker asked for'] ??= performance.now()
    this.addEventListener('message', ({data}) => {
      if (data.type === 'ready') {
        window.bench.ready ??= performance.now()
        for (const [name, when] of data.marks) window.bench[name] ??= when - performance.timeOrigin
      }
      if (data.type === 'answer') window.bench.fresh ??= performance.now()
    })
  }
}
const look = () => {
  if (!document.querySelector('#plan [data-pass]')) return requestAnimationFrame(look)
  const drawn = new MessageChannel() // heard once the frame that has it is made
  drawn.port1.onmessage = () => { window.bench.stored = performance.now() }
  drawn.port2.postMessage(0)
}
requestAnimationFrame(look)
"""
SCRIPTS = re.compile(r'<script type="module".*?</script>|<link rel="modulepreload"[^>]*>')
TOLD = """window.bench.fresh && window.bench.stored
  ? {...window.bench, answered: performance.getEntriesByType('navigation')[0].responseStart} : null"""


class Bench:
    """One run of the bench."""

    def __init__(self, playwright: Playwright, work: Path) -> None:
        self.playwright = playwright
        self.work = work
        self.app = next(DIST.glob("app-*")).name

    @contextlib.contextmanager
    def browser(self, profile: str) -> Iterator[BrowserContext]:
        """A new browser process."""
        context = self.playwright.chromium.launch_persistent_context(
            str(self.work / profile),
            executable_path=chromium_path(self.playwright),
            args=FLAGS,
            viewport={"width": 390, "height": 844},
        )
        try:
            yield context
        finally:
            context.close()

    def product(self, profile: str, port: int, *, keep: bool = False) -> dict[str, float]:
        """One visit of the page itself."""
        with self.browser(profile) as context:
            page = context.new_page()
            page.add_init_script(WATCH)
            page.goto(f"http://127.0.0.1:{port}/", wait_until="commit")
            told: dict[str, float] = wait(page, TOLD)
            if keep:
                page.locator("#offline", has_text="Ready without").wait_for(timeout=240_000)
        return told

    def other(self, name: str, number: int, port: int) -> dict[str, float]:
        """One visit of a page to compare with."""
        with self.browser(f"{name}-{number}") as context:
            page = context.new_page()
            page.on("pageerror", lambda error: print(name, error, file=sys.stderr))
            page.goto(f"http://127.0.0.1:{port}/bench/{name}.html?app={self.app}", wait_until="commit")
            return {"fresh": wait(page, "window.benchEnd ?? null")}

    def still(self, number: int, port: int) -> dict[str, float]:
        """One visit of the page as it stands in its file: what a browser needs to draw the plan, with no script at all."""
        with self.browser(f"still-{number}") as context:
            page = context.new_page()
            page.add_init_script(WATCH)
            page.goto(f"http://127.0.0.1:{port}/still.html", wait_until="commit")
            return {"stored": wait(page, "window.bench.stored ?? null")}


def wait(page: Any, expression: str) -> Any:
    """Poll a page until an expression gives something (its policy forbids to do that from inside)."""
    end = time.monotonic() + 300
    while time.monotonic() < end:
        told = page.evaluate(f"() => {expression}")
        if told is not None:
            return told
        time.sleep(0.05)
    raise TimeoutError(expression)


def host(folder: Path) -> Path:
    """The built page with the pages to compare with beside it."""
    shutil.copytree(DIST, folder, dirs_exist_ok=True)
    whole = (DIST / "index.html").read_text(encoding="utf-8")
    (folder / "still.html").write_text(SCRIPTS.sub("", whole), encoding="utf-8")
    bench = folder / "bench"
    shutil.copytree(PAGES, bench)
    (bench / "request.json").write_text(json.dumps({"ask": "show", "job": DEMO_IN}), encoding="utf-8")
    npm = next((ROOT / ".cache").glob("bench-*")) / "node_modules"
    shutil.copytree(npm / "@pyscript" / "core" / "dist", bench / "pyscript")
    published = next((ROOT / ".cache").glob("npm-*")) / "node_modules" / "pyodide"
    pyodide = bench / "pyodide"
    pyodide.mkdir()
    for name in ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip"):
        shutil.copy(published / name, pyodide)
    theirs = json.loads((published / "pyodide-lock.json").read_text())
    names = {wheel.name.split("-")[0]: wheel for wheel in (folder / "plain").glob("*.whl")}
    packages = {}
    for name, wheel in names.items():
        shutil.copy(wheel, pyodide)
        inside = {part.split("/")[0] for part in zipfile.ZipFile(wheel).namelist() if part.endswith(".py")}
        packages[name.replace("_", "-")] = {
            "name": name.replace("_", "-"),
            "version": wheel.name.split("-")[1],
            "file_name": wheel.name,
            "install_dir": "site",
            "package_type": "package",
            "unvendored_tests": False,
            "tool": {},
            "sha256": hashlib.sha256(wheel.read_bytes()).hexdigest(),
            "imports": sorted(part.removesuffix(".py") for part in inside),
            "depends": [n.replace("_", "-") for n in names if n not in {"thickset", "micropip"}]
            if name == "thickset"
            else [],
        }
    (pyodide / "pyodide-lock.json").write_text(json.dumps({"info": theirs["info"], "packages": packages}))
    wish = {"interpreter": "pyodide/pyodide.mjs", "packages": ["thickset"]}
    (bench / "pyscript.json").write_text(json.dumps(wish), encoding="utf-8")
    return folder


@contextlib.contextmanager
def serving(folder: Path) -> Iterator[tuple[int, subprocess.Popen[str]]]:
    """The host in a process of its own."""
    code = (
        f"import sys; sys.path[:0] = [{str(ROOT / 'py')!r}]; import functools, http.server; from build_page.page import serve;"
        f"s = http.server.ThreadingHTTPServer(('127.0.0.1', 0), functools.partial(serve.Quiet, directory={str(folder)!r}));"
        "print(s.server_port, flush=True); s.serve_forever()"
    )
    words = [sys.executable, "-c", code]
    process = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    assert process.stdout
    try:
        yield int(process.stdout.readline()), process
    finally:
        process.kill()
        process.wait()
        process.stdout.close()


class Slowed:
    """This process and all that it starts get so many times less of the processor, all cores together (Linux with control
    groups of version 1, as root)."""

    group = Path("/sys/fs/cgroup/cpu/thickset-bench")
    above = group.parent
    period = 10_000

    def __init__(self, times: float) -> None:
        self.times = times

    def __enter__(self) -> Self:
        if self.times != 1:
            if not (self.above / "cpu.cfs_quota_us").parent.is_dir():
                sys.exit("The processor can only be slowed where control groups of version 1 are")
            self.group.mkdir(exist_ok=True)
            (self.group / "cpu.cfs_period_us").write_text(str(self.period))
            (self.group / "cpu.cfs_quota_us").write_text(str(int(self.period * (os.cpu_count() or 1) / self.times)))
            (self.group / "cgroup.procs").write_text(str(os.getpid()))
        return self

    def spare(self, process: subprocess.Popen[str]) -> None:
        """A process that goes on at full speed."""
        if self.times != 1:
            (self.above / "cgroup.procs").write_text(str(process.pid))

    def __exit__(self, *_: object) -> None:
        if self.times == 1:
            return
        held = dict(line.split() for line in (self.group / "cpu.stat").read_text().splitlines())
        for pid in (self.group / "cgroup.procs").read_text().split():
            with contextlib.suppress(OSError):
                (self.above / "cgroup.procs").write_text(pid)
        with contextlib.suppress(OSError):
            self.group.rmdir()
        if int(held["nr_throttled"]) < int(held["nr_periods"]) / 10:
            sys.exit(f"The processor was not slowed: {held}")


def measure(runs: int, slow: float, only: list[str] | None) -> dict[str, dict[str, list[float]]]:
    """All rows, their runs taking turns so that a busy moment of the machine hits every row alike."""
    rows: dict[str, dict[str, list[float]]] = {}

    def add(name: str, told: dict[str, float]) -> None:
        for key, value in told.items():
            rows.setdefault(name, {}).setdefault(key, []).append(value)

    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        work = Path(folder)
        place = host(work / "host")
        with Slowed(slow) as slowed, sync_playwright() as playwright:
            bench = Bench(playwright, work)
            for run in range(runs):
                with serving(place) as (port, server):
                    slowed.spare(server)
                    for name in ("floor", "plain", "micropip", "pyscript"):
                        if not only or name in only:
                            add(name, bench.other(name, run, port))
                    if only and "product" not in only:
                        continue
                    add("the page without a script", bench.still(run, port))
                    add("first visit", bench.product(f"visitor-{run}", port, keep=True))
                    server.kill()
                    server.wait()
                    for visit in ("second", "third", "fourth"):
                        add(f"{visit} visit, offline", bench.product(f"visitor-{run}", port))
    return rows


def table(rows: dict[str, dict[str, list[float]]]) -> str:
    """The rows as a table in Markdown."""
    middle = {name: {key: statistics.median(values) for key, values in row.items()} for name, row in rows.items()}
    floor = middle.get("floor", {}).get("fresh")
    plain = middle.get("plain", {}).get("fresh")
    lines = [
        "| way | stored plan [ms] | engine ready [ms] | fresh plan [ms] | stored to the floor | fresh to it | plain page to fresh |",
        "|---|---|---|---|---|---|---|",
    ]

    def number(value: float | None, form: str = ".0f") -> str:
        return "" if value is None else format(value, form)

    for name, row in middle.items():
        fresh = row.get("fresh")
        shown = [number(row.get("stored")), number(row.get("ready")), number(fresh)]
        ratios = [
            number(row["stored"] / floor if floor and "stored" in row else None, ".2f"),
            number(fresh / floor if fresh and floor else None, ".2f"),
            number(plain / fresh if fresh and plain else None, ".1f"),
        ]
        lines.append(f"| {' | '.join([name, *shown, *ratios])} |")
    return "\n".join(lines)


STEPS = {
    "answered": "the page's first bytes",
    "worker asked for": "the page's script makes the engine",
    "stored": "the stored plan is on the screen",
    "worker begins": "the worker begins",
    "worker runs": "the worker's scripts run",
    "heap unpacked": "the heap is fetched and unpacked",
    "scripts run": "Pyodide's scripts have run",
    "wasm compiled": "the wasm is compiled",
    "instance made": "the instance is made and has its functions in the table",
    "memory written": "the heap is in its memory",
    "Pyodide done": "Pyodide's own finish",
    "ready": "the engine is ready",
    "fresh": "the fresh plan is there",
}


def trace(row: dict[str, list[float]]) -> str:
    """Where the time of one row goes: when each step was done [ms], in the order of the medians."""
    middle = {key: statistics.median(values) for key, values in row.items() if key in STEPS}
    lines = ["| after [ms] | |", "|---|---|"]
    return "\n".join(
        [*lines, *(f"| {middle[key]:.0f} | {STEPS[key]} |" for key in sorted(middle, key=middle.__getitem__))]
    )


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--slow", type=float, default=1, help="give the browser so many times less of the processor")
    parser.add_argument("--only", action="append", choices=["floor", "plain", "micropip", "pyscript", "product"])
    asked = parser.parse_args()
    measured = measure(asked.runs, asked.slow, asked.only)
    print(table(measured))
    if last := measured.get("fourth visit, offline"):
        print(f"\nThe fourth visit, step by step\n\n{trace(last)}")
