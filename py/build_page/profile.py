"""`build.py profile`: find out which functions of the runtime the core calls, for the list of those that stay in the lean one.

Every request of the core's tests is put to the frozen core, on a runtime that counts, after faults of all kinds. What was called
before stays on the list, unless that is of another Pyodide.
"""

from __future__ import annotations

import hashlib
import json
import tempfile
from pathlib import Path

from build_page import checks
from build_page.core import demo_plan
from build_page.core.wheel import make_wheel
from build_page.fetch import tools
from build_page.fetch.tools import Stop, run, say, still
from build_page.frozen import freeze, lean
from build_page.page import assemble

#: Counting takes frames, and faults go to the end of the stack.
DEEP = "--stack-size=6000"
HERE = freeze.HERE


def profile(rest: list[str]) -> int:
    """Ask, count and write the list; `rest` goes to pytest, so that a few tests can add what they call."""
    with tempfile.TemporaryDirectory() as name:
        place = Path(name)
        (place / "asked").mkdir()
        watching = {"THICKSET_ASKED": str(place / "asked"), "THICKSET_TESTS": "usual"}
        checks.ENV.update(watching)
        if not checks.pytest(["-p", "build_page.frozen.asked", *rest], *checks.CORE):
            raise Stop("The tests must pass first: what they ask is what is counted")
        requests = [line for path in (place / "asked").iterdir() for line in path.read_text("utf-8").splitlines()]
        requests += [json.dumps(request) for request in demo_plan.warm_requests()]
        say(f"putting {len(requests):,} requests to the core")
        called = counted(place, requests)
    wasm = (freeze.runtime() / lean.WASM).read_bytes()
    now = hashlib.sha256(wasm).hexdigest()
    if lean.LIST.is_file() and (before := lean.read(lean.LIST.read_text(encoding="utf-8")))[0] == now:
        called |= before[1]
    told = json.loads(calls().read_text(encoding="utf-8"))
    sizes = [end - begin for begin, end in lean.bodies(wasm)[1]]
    stay = lean.stay_of(called, told["exported"], told["calls"], sizes)
    lean.LIST.write_text(lean.write(now, called, stay), encoding="utf-8")
    say(f"{len(called):,} of {len(sizes):,} functions were called, {len(stay):,} stay: {lean.LIST.name} is written")
    return 0


def counting() -> Path:
    """The folder of the runtime that counts."""
    package, whole = tools.npm_packages() / "binaryen", freeze.runtime()

    def make(place: Path) -> None:
        freeze.by_node("count.mjs", whole, package, place, what="Making the runtime that counts")

    return tools.kept("counting", tools.digest(whole.name, HERE / "count.mjs"), make)


def calls() -> Path:
    """What each function calls."""
    return counting() / "calls.json"


def counted(place: Path, requests: list[str]) -> set[int]:
    """The functions that are called by a start, by faults and by some requests."""
    wheels = tools.page_wheels()
    lock = assemble.lock_file(wheels)
    heap, _ = freeze.frozen(wheels, make_wheel(place), lock, demo_plan.warm_requests())
    out = ask(place, counting(), heap, requests, DEEP, faults=str(HERE / "faults.py"))
    return {n for n, one in enumerate(out.with_suffix(".called").read_bytes()) if one}


def ask(place: Path, runtime: Path, heap: Path, requests: list[str], *how: str, **more: str) -> Path:
    """Put requests, each a text in JSON, to the frozen core in Node; the file of the answers."""
    settings = {"lock": assemble.lock_file(tools.page_wheels()), "env": freeze.ENV, "stdlib": str(place / "none.zip")}
    (place / "none.zip").write_bytes(b"PK\5\6" + bytes(18))
    (place / "settings.json").write_text(json.dumps({**settings, **more}), encoding="utf-8")
    (place / "requests.txt").write_text("\n".join(requests), encoding="utf-8")
    node, _ = tools.node()
    names = (place / "settings.json", place / "requests.txt", place / "answers")
    run([*node, *how, HERE / "ask.mjs", runtime, heap, *names], "Asking the frozen core", env=still())
    return place / "answers"
