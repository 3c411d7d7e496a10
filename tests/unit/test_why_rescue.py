"""The part that a thin board still makes says why, by hand from its readings and where they were taken."""

import json
import re

import pytest
from lots import metric, metric_lot
from thickset.doors.api import handle

JOB = metric_lot(metric("27", name="A", width="120", length="900"), tolerance="0.1")


def ask(kind, readings, places=None, **more):
    event = {"did": "measure", "board": "A", "readings": readings, **({"places": places} if places else {})}
    return json.loads(handle(json.dumps({"ask": kind, "job": {**JOB, "run": [event]}, **more})))


def why(readings, places=None):
    answer = ask("why", readings, places, what="rescue")
    assert answer["ok"], answer
    told = answer["why"] if isinstance(answer["why"], list) else [answer["why"]]
    return {one["at"]: one for one in told}


def worked(reason):
    """All symbols with what the written steps make of the numbers put in."""
    known = {each["symbol"]: eval(each["exact"]) for each in reason["put_in"]}  # noqa: S307
    for line in reason["formula"]:
        symbol, _, expression = line.partition(" = ")
        expression = expression.replace("×", "*").replace("−", "-")
        known[symbol] = eval(expression, {"__builtins__": {}}, known)  # noqa: S307
    return known


@pytest.mark.parametrize(
    ("readings", "begins", "ends"),
    [(["20", "19.95", "19"], 0, 600), (["19", "20", "20"], 300, 900), (["19.8", "20", "19.8", "19.8"], 225, 450)],
)
def test_readings_without_places_are_even_along_the_board(readings, begins, ends):
    (one,) = why(readings).values()
    found = worked(one)
    assert (found["a"], found["b"], found["l"]) == (begins, ends, ends - begins)
    assert one["at"] == "rescue[0].shorter"
    assert [each["holds"] for each in one["checks"]] == [float(value) >= 19.9 for value in readings]
    html = ask("more", readings)["html"]["after"]
    said = re.sub(r"<[^>]*>", "", html)
    assert f"from {begins}{' mm' if begins else ''} to {ends} mm from end 1" in said
    assert 'data-why="rescue"' in html


def test_a_strip_is_as_wide_as_its_places_stand_for():
    readings, places = ["19", "20", "20"], [f"middle {across}" for across in ("left", "center", "right")]
    (one,) = why(readings, places).values()
    found = worked(one)
    assert one["at"] == "rescue[0].narrower"
    # The left quarter of 120 mm is lost.
    assert (found["a"], found["b"], found["l"]) == (30, 120, 90)


@pytest.mark.parametrize("readings", [["20", "20.05"], ["20.4", "20"], ["19", "19"]])
def test_no_button_where_no_part_is_told(readings):
    assert 'data-why="rescue"' not in ask("more", readings)["html"]["after"]
    assert not ask("why", readings, what="rescue")["ok"]


def test_a_lot_with_a_new_target_is_held_to_that_one():
    run = [{"did": "retarget", "thickness": "19"}, {"did": "measure", "board": "A", "readings": ["19", "19", "18"]}]
    answer = json.loads(handle(json.dumps({"ask": "why", "what": "rescue", "job": {**JOB, "run": run}})))
    assert answer["ok"], answer
    (one,) = answer["why"] if isinstance(answer["why"], list) else [answer["why"]]
    assert worked(one)["b"] == 600
