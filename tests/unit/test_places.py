"""Where readings were taken: read, said, kept, and used for what can still be made of a thin board."""

import copy
import json
from fractions import Fraction

import pytest
from lots import metric, metric_lot
from thickset.doors.api import handle
from thickset.ground.job import document
from thickset.ground.link.link import from_link, to_link
from thickset.planning.run.report import finals_of
from thickset.planning.stock.rescue import narrower_part, shorter_part

LOT = metric_lot(
    metric(
        "24",
        "23.4",
        "19.5",
        name="A",
        places=["middle left", "end 1, centre", "End 2 right"],
        width="200",
        length="1200",
    ),
    metric("23", "22", name="B", places=["", "end 2 left"], length="900"),
    tolerance="0.1",
)


def ask(kind, job=LOT, **more):
    return json.loads(handle(json.dumps({"ask": kind, "job": job, **more})))


def with_places(places):
    job = copy.deepcopy(LOT)
    job["boards"][0]["places"] = places
    return job


def measured(readings, places):
    event = {"did": "measure", "board": "A", "readings": readings} | ({"places": places} if places else {})
    job = document.read({**LOT, "run": [event]}).job
    return finals_of(job).finals[0], job


def test_the_thick_spot_is_named_by_where_it_lies():
    answer = ask("show")
    assert "board A, the middle, left, 24 mm" in answer["html"]["summary"]
    assert answer["plan"]["decides"] == {"board": "A", "reading": 1, "thick_mm": 24.0, "place": "the middle, left"}
    assert "at its thin spot (end 2, right)" in answer["html"]["boards"]


def test_without_places_the_reading_is_named_by_its_number():
    answer = ask("show", with_places([]))
    assert "board A, reading 1, 24 mm" in answer["html"]["summary"]
    assert "place" not in answer["plan"]["decides"]


@pytest.mark.parametrize(
    ("places", "at"),
    [
        (["somewhere"], "boards[0].places[0]"),
        (["end 1 left", "end 3 left"], "boards[0].places[1]"),
        ([7], "boards[0].places[0]"),
        (["middle left"] * 4, "boards[0].places"),
        ("middle left", "boards[0].places"),
    ],
)
def test_what_is_no_spot_is_a_problem_at_its_place(places, at):
    (problem,) = ask("plan", with_places(places))["problems"]
    assert problem["at"] == at
    assert "Write end 1" in problem["text"] or "wanted here" in problem["text"]


def test_only_a_measurement_has_places():
    run = [{"did": "feed", "setting": "23", "scale": "23", "places": ["middle left"]}]
    assert ask("follow", {**LOT, "run": run})["problems"][0]["at"] == "run[0].places"


def test_a_shorter_part_is_cut_where_the_board_was_measured_and_holds_the_target():
    # End 2 is thin on one edge: the quarter from it is lost, the rest stands.
    final, job = measured(["20", "20", "20", "19"], ["end 1 left", "middle left", "middle right", "end 2 right"])
    assert shorter_part(final, job) == (0, 900)
    # The middle was not measured: nobody knows whether it holds.
    final, job = measured(["20", "19"], ["end 1 left", "end 2 left"])
    assert shorter_part(final, job) == (0, 300)
    # Without places readings stand evenly from end 1 to end 2.
    final, job = measured(["20", "19"], None)
    assert shorter_part(final, job) == (0, 600)


def test_a_narrower_part_is_ripped_where_the_board_holds_the_target_all_along():
    final, job = measured(["19", "20", "20"], ["middle left", "middle center", "end 1 right"])
    assert narrower_part(final, job) == (Fraction(50), Fraction(200))
    assert narrower_part(*measured(["20", "19"], ["end 1 center", "end 2 center"])) is None


def test_the_report_says_where_it_is_thin_and_what_to_cut():
    places = ["end 1 center", "middle center", "end 2 center"]
    run = [{"did": "measure", "board": "A", "readings": ["20", "20", "19.5"], "places": places}]
    said = ask("report", {**LOT, "run": run})["html"]["report"]
    assert "0.50 mm too thin at end 2, center" in said
    assert "or a shorter one from 0 to 900 mm from end 1" in said


def test_places_go_along_in_a_link():
    run = [{"did": "measure", "board": "A", "readings": ["20"], "places": ["middle center"]}]
    assert from_link(to_link({**LOT, "run": run})) == {**LOT, "run": run}
