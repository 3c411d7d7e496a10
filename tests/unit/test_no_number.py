"""Not a number and infinity are no numbers anywhere, and a size at the very edge is answered."""

import copy
import json

import pytest
from test_any_entry import FULL, PLACES, replaced
from thickset.doors.api import ANSWERS, FAULT, handle
from thickset.doors.demo import DEMO_IN, DEMO_MM

NONE = [
    "NaN",
    "6NaN",
    "6 nan",
    "6nan/min",
    "6 m/nan",
    "nan",
    "inf",
    "6inf",
    "-inf",
    "Infinity",
    "6 infinity",
    "sNaN",
    "1e400",
]
WORDS = {"title", "name", "why", "board"}
"""Fields that hold words, which may be any."""


def answered(request):
    answer = json.loads(handle(json.dumps(request)))
    for problem in answer.get("problems", ()):
        assert not problem["text"].startswith(FAULT), (request, problem)
        assert "integer ratio" not in problem["text"]
    return answer


@pytest.mark.slow
@pytest.mark.parametrize("typed", NONE)
def test_it_is_no_number_in_any_field_of_a_job(typed):
    for at in PLACES:
        if at and not isinstance(replaced(FULL, at, typed), str) and at[-1] not in WORDS:
            assert not answered({"ask": "plan", "job": replaced(FULL, at, typed)})["ok"], at


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_neither_is_a_bare_one_that_json_does_not_have(value):
    for at in PLACES:
        if at and at[-1] not in WORDS:
            assert not answered({"ask": "plan", "job": replaced(FULL, at, value)})["ok"], at


@pytest.mark.parametrize("typed", NONE)
@pytest.mark.parametrize(("ask", "key"), [("slab", "board"), ("buy", "need"), ("scrap", "scrap")])
def test_it_is_no_number_in_any_form(ask, key, typed):
    fields = ("length", "width", "middle", "cup", "bow", "twist", "part_thickness", "thickness", "moisture", "count")
    fields += ("waste", "rate", "jointing", "planing", "scale", "measured")
    assert not answered({"ask": ask, "units": "in", key: dict.fromkeys(fields, typed)})["ok"]


@pytest.mark.slow
@pytest.mark.parametrize("ask", [ask for ask in ANSWERS if ask not in ("open", "table", "species")])
@pytest.mark.parametrize("target", ["100 m", "3937 in", "0.0001 mm"])
@pytest.mark.parametrize("demo", [DEMO_IN, DEMO_MM], ids=["in", "mm"])
def test_a_target_at_the_edge_of_what_is_read_is_answered(demo, target, ask):
    job = copy.deepcopy(demo)
    job["target"]["thickness"] = target
    answered({"ask": ask, "job": job, "whole": True})
