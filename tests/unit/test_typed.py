"""Numbers as people type them: the signs of plates and keyboards, and slips that must not become a plan in silence."""

import json
from fractions import Fraction

import pytest
from lots import lot
from thickset.doors.api import handle
from thickset.ground.notation import lengths


def show(units="in", board=None, **more):
    size = {"in": ("1", "5", "40"), "mm": ("27", "130", "1000")}[units]
    boards = [dict(zip(("readings", "width", "length"), ([size[0]], *size[1:]), strict=True)) | (board or {})]
    target = {"in": "3/4", "mm": "20"}[units]
    job = lot(*boards, units=units, target=target, **more)
    return json.loads(handle(json.dumps({"ask": "show", "job": job})))


def problems(answer):
    assert not answer["ok"]
    return [(problem["at"], problem["text"]) for problem in answer["problems"]]


@pytest.mark.parametrize(
    ("feed", "words"),
    [
        ("20 FT/MIN", "20 ft/min (6.1 m/min)"),
        ("20 FPM", "20 ft/min (6.1 m/min)"),
        ("20 ft per minute", "20 ft/min (6.1 m/min)"),
        ("16 1/2 ft/min.", "16.5 ft/min (5 m/min)"),
        ("16-1/2 ft/min", "16.5 ft/min (5 m/min)"),
        ("10-25 ft/min", "10 ft/min to 25 ft/min in steps of 1 ft/min"),
        ("10 - 12 1/2 ft/min", "10 ft/min to 12.5 ft/min in steps of 1 ft/min"),
    ],
)
def test_feeds_are_read_as_plates_and_people_write_them(feed, words):
    assert show(planer={"feeds": [feed]})["understood"]["planer.feeds[0]"] == words


@pytest.mark.parametrize("speed", ["5000 RPM", "5000 1/min", "5000/min", "5000 min-1", "5000 min⁻¹", "5000 rev/min"])
def test_speeds_are_read_as_plates_write_them(speed):
    answer = show(planer={"head": {"speed": speed, "knives": 3}})
    assert answer["understood"]["planer.head.speed"] == "5000 rpm"


@pytest.mark.parametrize(
    ("planer", "at", "words"),
    [
        ({"head": {"speed": "5,000 rpm", "knives": 3}}, "planer.head.speed", "Write 5000 rpm, without a comma"),
        (
            {"head": {"speed": "50 rpm", "knives": 3}},
            "planer.head.speed",
            "read as 50 rpm, and no head turns so slowly",
        ),
        ({"feeds": ["16/28 ft/min"]}, "planer.feeds[0]", "read as 0.6 ft/min"),
        ({"feeds": ["-6 m/min"]}, "planer.feeds[0]", "'-6 m/min' cannot be read"),
    ],
)
def test_no_slip_becomes_a_plan_in_silence(planer, at, words):
    [(where, text)] = problems(show(planer=planer))
    assert where == at
    assert words in text
    assert "Write" in text


@pytest.mark.parametrize(
    ("more", "at", "cure"),
    [
        ({"board": {"count": "1,000"}}, "boards[0].count", "1000"),
        ({"shop": {"air": "1,200 cfm"}}, "shop.air", "1200 cfm"),
        ({"board": {"density": "1.050 kg/m3"}}, "boards[0].density", "1050 kg/m3"),
    ],
)
def test_what_comes_in_hundreds_is_not_read_as_decimals(more, at, cure):
    [(where, text)] = problems(show(**more))
    assert where == at
    assert f"can be read in two ways. Write {cure}, without a comma or point." in text


def test_raised_figures_belong_to_the_unit():
    understood = show(board={"density": "672 kg/m³"}, shop={"air": "1350 m³/h"})["understood"]
    assert understood["boards[0].density"] == "wood of 672 kg/m3"
    assert understood["shop.air"] == "1350 m3/h"


@pytest.mark.parametrize(("typed", "cure"), [("1,250", "1250"), ("1,250 mm", "1250 mm"), ("1.250mm", "1250mm")])
def test_a_comma_before_thousands_is_pointed_out(typed, cure):
    [(at, text)] = problems(show("mm", {"length": typed}))
    assert at == "boards[0].length"
    assert f"{typed!r} is read as 1.25 mm, and that is out of the usual. Write {cure}, without a comma" in text
    assert show("mm", {"length": cure})["understood"][at].startswith("1250 mm")


def test_three_decimals_stay_decimals_where_they_make_sense():
    assert show("mm", {"readings": ["27,785"]})["understood"]["boards[0].readings[0]"].startswith("27.785 mm")
    assert show("in", {"width": "5.250"})["understood"]["boards[0].width"] == "5 1/4 in (133.35 mm)"


@pytest.mark.parametrize("typed", ["4'-1\"", "4' - 1\"", "4 ft. 1 in.", "49“", "48—1/1"])
def test_feet_and_inches_as_carpenters_write_them(typed):
    assert show(board={"length": typed})["understood"]["boards[0].length"] == "49 in (1244.6 mm)"


def test_boards_that_are_no_list_are_shown():
    job = {**lot(units=None), "boards": {"A": ["1"]}}
    [(at, text)] = problems(json.loads(handle(json.dumps({"ask": "show", "job": job}))))
    assert at == "boards"
    assert text.startswith("Boards: '{'A': ['1']}' is no list of boards. Enter at least one")


def test_what_the_planer_does_not_take_is_told_with_the_rest():
    boards = [
        {"readings": ["1 3"], "width": "20", "length": "40"},
        {"readings": ["1"], "width": "20", "length": "8"},
    ]
    planer = {"widest": "15", "shortest": "12", "thinnest": "1", "turn": "x"}
    job = lot(*boards, units=None, planer=planer)
    found = [at for at, _ in problems(json.loads(handle(json.dumps({"ask": "show", "job": job}))))]
    assert found == [
        "boards[0].readings[0]",
        "planer.turn",
        "target.thickness",
        "boards[1].width",
        "boards[1].length",
    ]
    planer["widest"] = "0"  # a limit that cannot be read is none
    found = [at for at, _ in problems(json.loads(handle(json.dumps({"ask": "plan", "job": job}))))]
    assert "planer.widest" in found
    assert "boards[1].width" not in found


def test_a_unit_of_the_job_that_is_none_hides_no_other_problem():
    boards = [{"readings": ["27.8", "1/0"], "width": "130", "length": ""}]
    job = {**lot(*boards, target="22"), "units": "inch"}
    answer = json.loads(handle(json.dumps({"ask": "show", "job": job})))
    assert [at for at, _ in problems(answer)] == ["units", "boards[0].readings[1]", "boards[0].length"]
    assert answer["understood"] == {}


@pytest.mark.parametrize(
    ("more", "at", "words"),
    [
        ({"board": {"species": "Ash, white", "density": "672"}}, "boards[0].density", "both a species and a density"),
        (
            {"planer": {"head": {"speed": "5000 rpm", "knives": 2, "marking_knives": 3}}},
            "planer.head.marking_knives",
            "3 knives cannot mark where there are 2",
        ),
        ({"board": {"readings": ["8"]}}, "boards[0].readings[0]", "Write 8 mm or 8 in."),
    ],
)
def test_what_contradicts_itself_is_told(more, at, words):
    [(where, text)] = problems(show(**more))
    assert where == at
    assert words in text


@pytest.mark.parametrize("typed", ["9999999 ft", "9999999 mm", "0.0000001", "0.00001 mm", 9_999_999, 0.0000001])
@pytest.mark.parametrize("field", ["width", "readings"])
def test_a_length_that_is_in_no_shop_is_a_slip_whatever_its_unit(typed, field):
    [(at, text)] = problems(show(board={field: typed}))
    assert at in ("boards[0].width", "boards[0].readings[0]")
    assert "it is beyond any size in a shop. Write it like" in text


def test_the_least_and_the_greatest_length_are_taken():
    assert lengths.read("100 m", "in") == 100_000
    assert lengths.read("0.0001 mm", "in") == Fraction(1, 10_000)
    for typed in ("100.0001 m", "0.00009 mm"):
        with pytest.raises(lengths.LengthError):
            lengths.read(typed, "in")
