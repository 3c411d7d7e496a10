"""What a problem offers as its cure settles it when it is entered: the page puts these texts on keys and reads no sentence."""

from __future__ import annotations

import json
from copy import deepcopy
from typing import Any

import pytest
from lots import board, fed_at, lot
from thickset.doors.api import handle

JOB = lot(
    board("27.8 mm", name="A", width="150 mm", length="1200 mm"),
    units=None,
    target="20 mm",
    planer={"deepest_cut": "3 mm"},
)


def problems_at(at: str, job: dict[str, Any]) -> list[dict[str, Any]]:
    """The problems of a job at one place."""
    answer = json.loads(handle(json.dumps({"ask": "show", "job": job})))
    return [one for one in answer.get("problems", []) if one["at"] == at]


def with_entry(job: dict[str, Any], path: tuple[str | int, ...], entry: str) -> dict[str, Any]:
    """The job with another entry at a path."""
    changed: Any = deepcopy(job)
    holder = changed
    for key in path[:-1]:
        holder = holder[key]
    holder[path[-1]] = entry
    return dict(changed)


@pytest.mark.parametrize(
    ("units", "path", "at", "typed", "cures"),
    [
        ("in", ("boards", 0, "readings", 0), "boards[0].readings[0]", "27.8", ["27.8 mm", "27.8 in"]),
        ("in", ("boards", 0, "readings", 0), "boards[0].readings[0]", "27,8", ["27,8 mm", "27,8 in"]),
        ("mm", ("boards", 0, "readings", 0), "boards[0].readings[0]", "1 1/16", ["1 1/16 in", "1 1/16 mm"]),
        ("in", ("boards", 0, "length"), "boards[0].length", "1200", ["1200 mm", "1200 in"]),
        ("mm", ("boards", 0, "length"), "boards[0].length", "1,250 mm", ["1250 mm"]),
        ("in", ("target", "thickness"), "target.thickness", "20", ["20 mm", "20 in"]),
    ],
)
def test_each_cure_of_a_slip_settles_it(
    units: str, path: tuple[str | int, ...], at: str, typed: str, cures: list[str]
) -> None:
    job = {**JOB, "units": units}
    [problem] = problems_at(at, with_entry(job, path, typed))
    assert problem["cures"] == cures
    for cure in cures:
        assert problems_at(at, with_entry(job, path, cure)) == []


def test_what_has_no_cure_to_enter_names_none() -> None:
    [problem] = problems_at("boards[0].width", with_entry(JOB, ("boards", 0, "width"), "wide"))
    assert set(problem) == {"at", "text", "short"}
    assert problem["text"] == f"Board A, width: {problem['short']}"


@pytest.mark.parametrize("typed", ["60", "5"])
def test_a_measurement_that_is_doubted_is_taken_once_its_cure_is_entered(typed: str) -> None:
    def asked(reading: str, meant: list[str]) -> dict[str, Any]:
        event = {"did": "measure", "board": "A", "readings": [reading]}
        request = {"ask": "event", "units": "mm", "boards": ["A"], "job": {**JOB, "units": "mm"}, "event": event}
        request["meant"] = meant
        return dict(json.loads(handle(json.dumps(request))))

    [problem] = asked(typed, [])["problems"]
    [cure] = problem["cures"]
    assert asked(cure, problem["cures"]) == {"ok": True}


@pytest.mark.parametrize(
    ("units", "target", "key", "typed", "cures"),
    [
        ("in", "3/4", "readings", "27/8", ["2 7/8 in", "27/32 in", "27/8 in"]),
        ("in", "3/4", "readings", "11/4", ["1 1/4 in", "11/8 in", "11/4 in"]),
        ("in", "3/4", "readings", "3", ["3 in"]),
        ("mm", "20", "readings", "278", ["27.8 mm", "278 mm"]),
        ("in", "3/4", "width", "45", ["4.5 in", "45 in"]),
        ("mm", "20", "width", "1500", ["150 mm", "1500 mm"]),
    ],
)
def test_a_reading_far_above_the_target_and_a_width_beyond_planers_are_asked_about_with_what_is_likely(
    units: str, target: str, key: str, typed: str, cures: list[str]
) -> None:
    job = with_entry({**JOB, "units": units}, ("target", "thickness"), target)
    path: tuple[str | int, ...] = ("boards", 0, "readings", 0) if key == "readings" else ("boards", 0, key)
    at = "boards[0].readings[0]" if key == "readings" else f"boards[0].{key}"
    [problem] = problems_at(at, with_entry(job, path, typed))
    assert problem["cures"] == cures
    for cure in cures:
        assert problems_at(at, with_entry(job, path, cure)) == []


@pytest.mark.parametrize(
    ("path", "at", "typed"),
    [
        (("boards", 0, "readings", 0), "boards[0].readings[0]", "1 3/4"),
        (("boards", 0, "readings", 0), "boards[0].readings[0]", "2"),
        (("boards", 0, "readings", 0), "boards[0].readings[0]", "27/8 in"),
        (("boards", 0, "width"), "boards[0].width", "36"),
    ],
)
def test_what_a_shop_does_is_not_asked_about(path: tuple[str | int, ...], at: str, typed: str) -> None:
    job = with_entry({**JOB, "units": "in"}, ("target", "thickness"), "3/4")
    assert problems_at(at, with_entry(job, path, typed)) == []


def test_a_reading_is_asked_about_before_the_width_of_its_board_is_entered() -> None:
    job = with_entry({**JOB, "units": "in"}, ("target", "thickness"), "3/4")
    job = with_entry(with_entry(job, ("boards", 0, "readings", 0), "27/8"), ("boards", 0, "width"), "")
    [problem] = problems_at("boards[0].readings[0]", job)
    assert "2 7/8 in" in problem["cures"]


def test_a_limit_of_the_planer_asks_in_its_own_words() -> None:
    job = with_entry({**JOB, "units": "in", "planer": {"widest": "15"}}, ("boards", 0, "width"), "45")
    [problem] = problems_at("boards[0].width", job)
    assert "wider than 15 in" in problem["text"]


def test_a_job_in_a_run_is_never_refused_for_a_reading_that_is_far_above_its_target() -> None:
    job = with_entry({**JOB, "units": "in"}, ("target", "thickness"), "3/4")
    job = with_entry(job, ("boards", 0, "readings", 0), "27/8")
    assert problems_at("boards[0].readings[0]", job)
    run = fed_at("3 5/16")
    assert problems_at("boards[0].readings[0]", {**job, "run": run}) == []


def test_a_planned_cut_above_the_deepest_offers_the_deepest() -> None:
    job = {**JOB, "units": "mm", "practice": {"cut": "4 mm"}}

    def limited(job: dict[str, Any]) -> list[dict[str, Any]]:
        notes = json.loads(handle(json.dumps({"ask": "show", "job": job})))["plan"]["notes"]
        return [note for note in notes if note["code"] == "cut-limited"]

    [note] = limited(job)
    assert note["cures"] == ["3 mm"]
    assert limited(with_entry(job, ("practice", "cut"), "3 mm")) == []


def test_a_pile_whose_thickest_spot_is_under_its_thinnest_is_asked_about_at_both_fields_and_either_cure_settles_it() -> (
    None
):
    job = {**JOB, "units": "in"}

    def asked(pile: Any, **more: Any) -> dict[str, Any]:
        return dict(json.loads(handle(json.dumps({"ask": "show", "job": {**job, **more}, "pile": pile}))))

    pile = {"thickest": "7/8", "thinnest": "1 1/16"}
    thickest, thinnest = asked(pile)["problems"]
    assert (thickest["at"], thickest["cures"]) == ("pile.thickest", ["1 1/16"])
    assert (thinnest["at"], thinnest["cures"]) == ("pile.thinnest", ["7/8"])
    assert "Are they swapped?" in thickest["text"]
    assert asked({**pile, "thickest": "1 1/16"})["ok"]
    assert asked({**pile, "thinnest": "7/8"})["ok"]
    assert asked({"thickest": "27 mm", "thinnest": "1"})["ok"]
    assert asked({"thickest": "1/0", "thinnest": "1"})["ok"]
    assert asked(["7/8", "1"])["ok"]
    run = fed_at("26 mm")
    assert asked(pile, run=run)["ok"]
