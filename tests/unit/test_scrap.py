"""A scrap measured while a planer is set up becomes the planer's record, as a reading of a run would."""

from __future__ import annotations

import json

import pytest
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_MM
from thickset.ground.job import document
from thickset.planning.passes.scale import NO_RECORD, prior
from thickset.trade.caliper import update


def scrap(scale: str, measured: str, units: str = "mm", record: object = None) -> dict:
    asked = {"ask": "scrap", "units": units, "scrap": {"scale": scale, "measured": measured}, "record": record}
    return json.loads(handle(json.dumps(asked)))


def test_each_scrap_is_one_reading_more() -> None:
    first = scrap("20", "20,2")["record"]
    second = scrap("19", "19.3", record=first)["record"]
    job = document.read({**DEMO_MM, "planer": {**DEMO_MM["planer"], "record": second}}).job
    assert job
    assert prior(job) == pytest.approx(update(NO_RECORD, [0.2, 0.3]), abs=1e-5)
    assert (first["runs"], second["runs"]) == (1, 2)
    assert second["offset"] == pytest.approx(0.25, abs=0.01)


def test_many_scraps_are_worth_no_more_than_many_runs() -> None:
    record = None
    for _ in range(60):
        record = scrap("20", "20.1", record=record)["record"]
    assert record
    assert (record["offset_worth"], record["spread_worth"], record["runs"]) == (4, 40, 60)


def test_what_else_the_record_holds_stays() -> None:
    first = scrap("20", "20.2")["record"]
    more = {"fed": 12.5, "set_seconds": 25, "timed": 2, "lead": 80, "trail": 60, "sniped": 1}
    assert more.items() <= scrap("20", "20.2", record={**first, **more})["record"].items()


@pytest.mark.parametrize(
    ("scale", "measured", "units", "said"),
    [
        ("3/4", "0.758", "in", "0.008 in more"),
        ("20", "19.75", "mm", "0.25 mm less"),
        ("20", "20", "mm", "what its scale reads"),
        ("20", "20.001", "mm", "what its scale reads"),
    ],
)
def test_it_says_which_way_the_scale_is_off(scale: str, measured: str, units: str, said: str) -> None:
    assert said in scrap(scale, measured, units)["html"]["scrap"]


@pytest.mark.parametrize(
    ("scale", "measured", "record", "at"),
    [
        ("", "20", None, "scrap.scale"),
        ("20", "wide", None, "scrap.measured"),
        ("20", "27", None, "scrap.measured"),
        ("3/4 in", "0.758", None, "scrap.measured"),
        ("20", "20", {"offset": 1}, "planer.record.offset_worth"),
        ("20", "20", "x", "planer.record"),
    ],
)
def test_what_is_wrong_is_told_where_it_stands(scale: str, measured: str, record: object, at: str) -> None:
    answer = scrap(scale, measured, record=record)
    assert answer["ok"] is False
    assert answer["problems"][0]["at"] == at


def test_a_scale_too_far_off_is_told_in_the_units_of_the_job() -> None:
    assert "more than 6 mm off" in scrap("20", "27")["problems"][0]["text"]
    assert "more than 0.236 in off" in scrap("3/4", "1 1/8", units="in")["problems"][0]["text"]
