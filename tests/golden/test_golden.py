"""Whole answers, held to the byte. THICKSET_GOLDEN=write writes the answers anew; read the difference before keeping it.

A new case is a new file with "about", "request" and "answer": null, written once. The browser tests run the same files.
"""

import json
import os
from pathlib import Path

import pytest
from thickset.doors.api import ANSWERS, handle

CASES = sorted(Path(__file__).parent.glob("*.json"))
WRITE = os.environ.get("THICKSET_GOLDEN") == "write"


def read(path):
    return json.loads(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_the_answer_is_the_same_to_the_byte(path):
    case = read(path)
    assert list(case) == ["about", "request", "answer"]
    answered = handle(json.dumps(case["request"]))
    if WRITE:
        case["answer"] = json.loads(answered)
        path.write_text(json.dumps(case, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    expected = json.dumps(case["answer"], ensure_ascii=False)
    assert answered == expected, f"{path.name}: run with THICKSET_GOLDEN=write and read the difference"


def test_every_question_and_both_kinds_of_answer_have_a_case():
    cases = [read(path) for path in CASES]
    asked = {case["request"]["ask"] for case in cases}
    assert set(ANSWERS) <= asked
    for ask in ("plan", "show"):
        assert {case["answer"]["ok"] for case in cases if case["request"]["ask"] == ask} == {True, False}
    outcomes = {board["outcome"] for case in cases for board in case["answer"].get("plan", {}).get("boards", [])}
    assert outcomes == {"both faces", "one face", "short", "untouched"}
