"""What is measured at the machine and can hardly be true is asked about at its field, and taken when it is entered again."""

import json

import pytest
from lots import fed_at, metric, metric_lot
from thickset.doors.api import handle

JOB = metric_lot(
    metric("25", "24", name="A", width="140", length="900"),
    metric("23", "22.5", name="B", width="140", length="900"),
    planer={"deepest_cut": "4"},
)
FED = fed_at("23.6")


def asked(event, run=(), meant=(), **changes):
    job = {**JOB, **changes, "run": list(run)}
    request = {"ask": "event", "event": event, "units": job["units"], "boards": ["A", "B"], "job": job}
    request["meant"] = list(meant)
    return json.loads(handle(json.dumps(request)))


def measured(*readings, board="A"):
    return {"did": "measure", "board": board, "readings": list(readings)}


def test_a_board_far_thicker_than_it_ever_was_is_asked_about_at_its_field():
    answer = asked(measured("60", "24"), FED)
    assert answer["problems"] == [
        {
            "at": "event.readings[0]",
            "text": "Run, reading 1: board A was at its thickest 25 mm, and 60 mm is 35 mm more. "
            "Measure again; if it is meant, enter 60 mm.",
            "short": "Board A was at its thickest 25 mm, and 60 mm is 35 mm more. "
            "Measure again; if it is meant, enter 60 mm.",
            "cures": ["60 mm"],
        }
    ]


def test_entered_again_as_the_question_names_it_it_is_meant():
    assert asked(measured("60 mm", "24"), FED, ["60 mm"])["ok"]
    assert asked(measured("60mm", "24"), FED, ["60 mm"])["ok"]
    [other] = asked(measured("60 mm", "61"), FED, ["60 mm"])["problems"]
    assert (other["at"], other["cures"]) == ("event.readings[1]", ["61 mm"])


@pytest.mark.parametrize("after", [FED, fed_at("23.6", "22", "20.8", "20")])
def test_a_unit_does_not_make_it_meant(after):
    [problem] = asked(measured("20.1", "18.0 in"), after)["problems"]
    assert (problem["at"], problem["cures"]) == ("event.readings[1]", ["457.2 mm"])
    assert not asked(measured("200 mm"), after)["ok"]
    assert asked(measured("20.1 mm", "0.79 in"), after)["ok"], "what is near is not asked about in any unit"


@pytest.mark.parametrize("meant", [None, "60 mm", {}, [None, 60]])
def test_nonsense_means_nothing(meant):
    request = {"ask": "event", "event": measured("60"), "units": "mm", "boards": ["A"], "job": JOB, "meant": meant}
    assert not json.loads(handle(json.dumps(request)))["ok"]


@pytest.mark.parametrize(("reading", "taken"), [("29", True), ("29.1", False), ("16", True), ("15.9", False)])
def test_a_board_measured_anew_has_the_deepest_cut_around_what_is_known(reading, taken):
    assert asked(measured(reading))["ok"] == taken


def test_a_board_may_be_at_the_target_though_its_passes_were_not_ticked_off():
    assert asked(measured("20.1", "19.9", "20"), FED)["ok"]
    [problem] = asked(measured("20.1", "9"), FED)["problems"]
    assert problem["at"] == "event.readings[1]"
    assert problem["text"].startswith("Run, reading 2: the target is 20 mm, and 9 mm is 11 mm less.")


def test_a_board_that_went_through_is_not_asked_about_when_the_pass_had_missed_it():
    assert asked(measured("25"), FED)["ok"]


def test_what_was_meant_once_is_known_from_then_on():
    taken = measured("31 mm", "30 mm")
    assert not asked(measured("31", "30"))["ok"]
    assert asked(measured("32", "30"), [taken])["ok"]


@pytest.mark.parametrize(("thickness", "taken"), [("19.2", True), ("24.7", True), ("24.9", False), ("16.7", False)])
def test_a_test_piece_is_asked_about_when_no_scale_is_so_far_off(thickness, taken):
    event = {"did": "test", "setting": "20.8", "scale": "20.6", "thickness": thickness}
    assert asked(event)["ok"] == taken


def test_a_board_that_is_through_is_held_against_what_was_to_come_out():
    far = {"did": "check", "thickness": "32"}
    [problem] = asked(far, FED)["problems"]
    assert problem["at"] == "event.thickness"
    assert "it was to come out at 23.6 mm, and 32 mm is 8.4 mm more" in problem["text"]
    assert asked({**far, "thickness": "24"}, FED)["ok"]
    assert asked(far)["ok"]


def test_a_board_of_the_pass_in_hand_is_held_against_that_pass():
    run = [*FED, {"did": "feed", "setting": "20.8", "scale": "20.8", "boards": ["A"]}]
    [problem] = asked({"did": "check", "setting": "20.8", "thickness": "32"}, run)["problems"]
    assert "it was to come out at 20.8 mm" in problem["text"]


def test_inches_are_asked_about_in_inches():
    boards = [{"name": "A", "readings": ["1"], "width": "6", "length": "40"}]
    changes = {"units": "in", "boards": boards, "target": {"thickness": "3/4"}, "planer": {}}
    text = asked(measured("1 3/4"), **changes)["problems"][0]["text"]
    assert text.endswith("1 3/4 in is 3/4 in more. Measure again; if it is meant, enter 1 3/4 in.")


@pytest.mark.parametrize("job", [None, [], {}, {**JOB, "run": "x"}, {**JOB, "boards": []}])
def test_without_a_job_to_hold_it_against_nothing_is_asked(job):
    request = {"ask": "event", "event": measured("60"), "units": "mm", "boards": ["A"], "job": job}
    assert json.loads(handle(json.dumps(request)))["ok"]


def test_a_run_that_holds_it_still_opens():
    answer = json.loads(handle(json.dumps({"ask": "follow", "job": {**JOB, "run": [measured("60", "24")]}})))
    assert answer["ok"]
