"""The frozen heap comes back to the byte in each browser, can do all that the core can, and nothing in it stays frozen."""

from __future__ import annotations

import json
import random
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from drivers import ENGINES, Driver
from kit import ROOT, Server
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM

PROBE = Path(__file__).parent / "probe"
WATCH_IMPORTS = """
import builtins, json, sys
imported = []
def watching(name, *rest, _own=builtins.__import__, **more):
    if name not in sys.modules and not (rest and len(rest) > 3 and rest[3]):
        imported.append(name)
    return _own(name, *rest, **more)
class Finder:
    def find_spec(self, name, path=None, target=None):
        imported.append(name)
sys.meta_path.insert(0, Finder())
builtins.__import__ = watching
json.dumps(sorted(name for name in sys.modules if name.startswith("thickset.")))
"""
CHANCE = """
import json, os, random, sys, time
json.dumps({
    "random": random.random(), "own": random.Random().random(), "bytes": os.urandom(8).hex(), "time": time.time(),
    "ticks": time.perf_counter(), "imported": globals().get("imported"), "path": sys.path,
})
"""


def jobs() -> Iterator[dict[str, Any]]:
    """The demo jobs, and lots of all kinds made from them."""
    chance = random.Random(3)
    for demo in (DEMO_IN, DEMO_MM):
        yield demo
        for _ in range(20):
            job = json.loads(json.dumps(demo))
            inches = job["units"] == "in"
            for board in job["boards"]:
                low = chance.randint(40, 70)
                some = [low + chance.randint(0, 9) for _ in range(chance.randint(1, 5))]
                board["readings"] = [f"{n}/64" if inches else f"{n / 2.5:.2f}" for n in some]
                board["count"] = chance.choice((1, 1, 4))
            job["target"]["thickness"] = chance.choice(("3/4", "7/8", "0.8") if inches else ("22", "18.5", "20"))
            if chance.random() < 0.3:
                job["planer"].pop("known_cut", None)
            if chance.random() < 0.2:
                job["boards"][0]["readings"] = ["1/0", ""]
            yield job


def requests() -> list[str]:
    """All that can be asked: golden files, both demo lots and their kin, nonsense."""
    asked = [
        json.loads(path.read_text(encoding="utf-8"))["request"]
        for path in sorted((ROOT / "tests/golden").glob("*.json"))
    ]
    made = [{"ask": ask, "job": job} for job in jobs() for ask in ("plan", "show")]
    odd = [
        {"ask": "about"},
        {"ask": "?"},
        {"ask": "show"},
        {"ask": "plan", "job": 3},
        {"ask": "plan", "job": {"thickset": 9}},
        [],
    ]
    return [json.dumps(each) for each in [*asked, *made, *odd]] + [
        "",
        "not JSON",
        '{"ask": "plan", "job": {"title": "\\ud800"}}',
    ]


@pytest.fixture(scope="module")
def place(dist: Path) -> Iterator[Server]:
    """The built page with the probe beside it."""
    started = Server(dist, beside=PROBE)
    yield started
    started.stop()


@pytest.fixture(scope="module", params=ENGINES)
def driver(request: pytest.FixtureRequest, drive: Callable[[str], Driver], place: Server) -> Driver:
    """Each browser with the probe open."""
    started = drive(request.param)
    started.open(place.url + "beside/probe.html")
    return started


def probe(driver: Driver, app: str, **order: Any) -> dict[str, Any]:
    """Start the core in a new worker; the memory's hash, what Python said before and after (not on the lean runtime, which cannot
    compile), and the answers."""
    whole = {"way": "whole", "before": "", "requests": [], "after": "", **order}
    told: dict[str, Any] = json.loads(driver.evaluate(f"probe({json.dumps(app)}, {json.dumps(whole)})"))
    assert "failed" not in told, told["failed"]
    return told


@pytest.mark.parametrize("way", ["frozen", "whole"])
def test_the_memory_is_the_frozen_one_to_the_byte(driver: Driver, app: str, way: str) -> None:
    told = probe(driver, app, way=way)
    assert told["memory"] == told["expected"]


def test_python_calls_its_functions_as_after_a_plain_start(driver: Driver, app: str) -> None:
    frozen, plain = (probe(driver, app, way=way)["trampoline"] for way in ("frozen", "plain"))
    assert frozen == plain != 0


def test_it_answers_everything_as_natively_and_imports_nothing(driver: Driver, app: str) -> None:
    asked = requests()
    told = probe(driver, app, before=WATCH_IMPORTS, requests=asked, after=CHANCE)
    assert "thickset.doors.api" in told["before"]
    for request, answer in zip(asked, told["answers"], strict=True):
        assert answer == handle(request), request
    assert told["after"]["imported"] == []
    assert probe(driver, app, way="frozen", requests=asked)["answers"] == told["answers"], "as on the lean runtime"


def test_what_is_left_out_of_the_lean_runtime_ends_it(driver: Driver, app: str) -> None:
    assert probe(driver, app, before="1")["before"] == 1
    order = json.dumps({"way": "frozen", "before": "1", "requests": [], "after": ""})
    assert "failed" in json.loads(driver.evaluate(f"probe({json.dumps(app)}, {order})"))


def test_nothing_stays_frozen_that_was_chance_or_a_clock(driver: Driver, app: str) -> None:
    first, second = (probe(driver, app, after=CHANCE) for _ in range(2))
    for name in ("random", "own", "bytes"):
        assert first["after"][name] != second["after"][name]
    for told in (first, second):
        assert abs(told["after"]["time"] - told["now"] / 1000) < 60
        assert abs(told["after"]["time"] - time.time()) < 3600


def test_the_import_watch_sees_an_import(driver: Driver, app: str) -> None:
    trying = "try:\n    import wave\nexcept ImportError: pass\nimport json\njson.dumps(imported)"
    told = probe(driver, app, before=WATCH_IMPORTS, after=trying)
    assert "wave" in told["after"]
