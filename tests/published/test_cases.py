"""Run the published cases that stand as data in cases/*.toml.

A file gives defaults for its cases at the top; a case gives `call` (module:function),
`args` or `kwargs`, `expected`, and optionally `scale` (the result is multiplied by it,
to the unit in which the source states it).
"""

import importlib
import tomllib
from pathlib import Path

import pytest

FOLDER = Path(__file__).parent / "cases"
FIELDS = {
    *("id", "what", "source", "known", "tolerance", "why", "relative"),
    *("call", "args", "kwargs", "expected", "scale", "error"),
}


def load() -> list[dict]:
    cases = []
    for path in sorted(FOLDER.glob("*.toml")):
        document = tomllib.loads(path.read_text(encoding="utf-8"))
        for group in document["group"]:
            defaults = {key: value for key, value in group.items() if key != "case"}
            for case in group["case"]:
                merged = {**defaults, **case}
                merged["id"] = f"{path.stem}/{case['id']}"
                unknown = set(merged) - FIELDS
                assert not unknown, f"{merged['id']}: unknown {unknown}"
                cases.append(merged)
    return cases


CASES = load()


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_published_case(case, check):
    module, name = case["call"].split(":")
    function = getattr(importlib.import_module(f"thickset.{module}"), name)
    got = function(*case.get("args", []), **case.get("kwargs", {}))
    if "scale" in case:
        scale = case["scale"]
        got = [g * scale for g in got] if isinstance(got, tuple) else got * scale
    check(
        name=case["id"],
        what=case["what"],
        source=case["source"],
        known=case["known"],
        expected=case["expected"],
        got=got,
        tolerance=case["tolerance"],
        why=case["why"],
        relative=case.get("relative", False),
    )


def test_there_are_cases():
    assert len(CASES) > 30
