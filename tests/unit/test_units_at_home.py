"""A job in inches never meets a bare millimeter, one in millimeters no inch: on every face, tables included."""

import json
import re

import pytest
import sentences
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM

METRIC = re.compile(r"\b(mm|m/min|m/s|m³/h|m³|µm|kg/m3)(?![A-Za-z/])")
INCHES = re.compile(r"(?<=[\d)] )(in|ft/min|ft|cfm|gal|thou)(?![A-Za-z/])|\((in|ft/min)\)|\bft³|\bboard feet\b")
BESIDE = re.compile(r"\([^()]*\)")
"""What stands in brackets stands beside the job's own unit."""

SHOP = {"in": {"air": "600 cfm", "duct": "5"}, "mm": {"air": "1000 m3/h", "duct": "125"}}
ASKS = ("show", "mechanics", "more", "text", "sheet", "tags", "follow", "next", "time", "rehearse", "report")


def full(units):
    """The example of these units with all that one may enter besides."""
    job = {"in": DEMO_IN, "mm": DEMO_MM}[units]
    return {
        **job,
        "shop": SHOP[units],
        "service": {"moisture_now": 12, "moisture_then": 8},
        "planer": {**job["planer"], "table": {"in": "20", "mm": "500"}[units]},
        "parts": [{"name": "Leg", "length": {"in": "15", "mm": "400"}[units], "count": 3}],
    }


def said(ask, job, **more):
    answer = json.loads(handle(json.dumps({"ask": ask, "job": job, **more})))
    assert answer["ok"], answer
    return [text for _, text in sentences.told(answer)]


@pytest.mark.parametrize("ask", ASKS)
@pytest.mark.parametrize(("units", "foreign"), [("in", METRIC), ("mm", INCHES)])
def test_no_face_tells_a_bare_figure_in_the_other_unit(units, foreign, ask):
    for text in said(ask, full(units)):
        # Handbooks quote marks per inch; in a job in mm the pitch stands before them.
        plain = BESIDE.sub("", text).replace("per inch", "")
        assert not foreign.search(plain), text


@pytest.mark.parametrize("what", ["passes", "boards"])
@pytest.mark.parametrize(("units", "other"), [("in", "(mm)"), ("mm", "(in)")])
def test_tables_are_in_the_units_of_the_job(units, other, what):
    answer = json.loads(handle(json.dumps({"ask": "csv", "job": full(units), "what": what})))
    assert f"({units})" in answer["text"]
    assert other not in answer["text"]
    assert ("m/min" in answer["text"]) == (units == "mm" and what == "passes")


def test_a_setting_in_a_table_of_inches_is_the_scale_s_own():
    answer = json.loads(handle(json.dumps({"ask": "csv", "job": DEMO_IN})))
    heads, *rows = [line.split(",") for line in answer["text"].splitlines()]
    first = dict(zip(heads, rows[0], strict=False))
    assert (first["Setting (in)"], first["Feed (ft/min)"]) == ("1", "28")


@pytest.mark.parametrize(("units", "foreign"), [("in", METRIC), ("mm", INCHES)])
def test_why_puts_in_and_answers_in_the_units_of_the_job_first(units, foreign):
    answer = json.loads(handle(json.dumps({"ask": "why", "job": full(units)})))
    for reason in answer["why"]:
        for text in (reason["result"], *(each["text"] for each in reason["put_in"])):
            figure = BESIDE.sub("", text) if units == "mm" else text
            assert not foreign.search(figure) or "(" in text, (reason["at"], text)


@pytest.mark.parametrize(("units", "foreign"), [("in", METRIC), ("mm", INCHES)])
@pytest.mark.parametrize(
    "wrong",
    [
        {"boards": [{"readings": ["x"], "width": "x", "length": ""}]},
        {"planer": {"feeds": ["fast"], "head": {"speed": "x", "knives": 0}}},
        {
            "shop": {"bag": "big", "air": "much", "duct": "-"},
            "rates": {"wood": "dear"},
            "service": {"temperature": "warm"},
        },
    ],
)
def test_what_helps_who_cannot_be_read_is_in_the_units_of_the_job(units, foreign, wrong):
    job = {"in": DEMO_IN, "mm": DEMO_MM}[units]
    answer = json.loads(handle(json.dumps({"ask": "plan", "job": {**job, **wrong}})))
    assert not answer["ok"]
    for problem in answer["problems"]:
        assert not foreign.search(problem["text"]), problem["text"]


@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_table_of_boards_comes_back_whether_its_headings_are_of_today_or_of_before(units):
    job = {"in": DEMO_IN, "mm": DEMO_MM}[units]
    today = json.loads(handle(json.dumps({"ask": "csv", "job": job, "what": "boards"})))["text"]
    before = re.sub(r"Off face ([AB]) \((in|mm)\)", r"Off side \1 (mm)", today).replace("Short (in)", "Short (mm)")
    assert "Off face" in today
    assert "Off side" in before
    read = [json.loads(handle(json.dumps({"ask": "table", "text": text, "units": units}))) for text in (today, before)]
    assert read[0]["boards"] == read[1]["boards"]
    assert [board["name"] for board in read[0]["boards"]] == [board["name"] for board in job["boards"]]
    assert read[0]["problems"] == []
