"""Tables of readings are understood, shown, and come back as they were; plans go out as CSV."""

from __future__ import annotations

import csv
import json

import pytest
from lots import fed_at, lot, metric_lot
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.ground.job.tables import TableError, read, write

CASES = [
    ("A,1 1/16,1,6,40\nB,1 1/32,31/32,5 1/2,40\n", "in", "name reading reading width length"),
    ("27,8;28,1;150;920\n26;27;140;900\n", "mm", "reading reading width length"),
    ("1\t1 1/8\t6\n2\t1 3/16\t7\n", "in", "name reading width"),
    ("1 1/8\n1 3/16\n", "in", "reading"),
    (
        "Name,1,2,3,Width (mm),Length [in],Wood\nA,1,1.1,1.2,150,40,Ash\n",
        "in",
        "name reading reading reading width length species",
    ),
    ("Length;Width;Thick spot;Thin spot;Qty\n920;150;27,8;27,1;3\n", "mm", "length width reading reading count"),
    ('Ash 1,1,1.1,6,"Ash, white"\n', "in", "name reading reading width species"),
    ('"A","27,8","150","920"\n"B","27,1","150","920"', "mm", "name reading width length"),
    ("Board;Note;T\nA;a knot;27,8\n", "mm", "name left out reading"),
    ("\ufeffBoard;T\r\nA;27,8\r\n\r\nB;27,1\r\n", "mm", "name reading"),
    ('"T\n(mm)";"Width\r\n(mm)"\r27,8;150\r27,1;140', "mm", "reading width"),
    ('1 1/16";1";6"\n1 1/32";1";7"\n', "in", "reading reading width"),
]


def ask(**asked: object) -> dict:
    return json.loads(handle(json.dumps(asked)))


@pytest.mark.parametrize(("text", "units", "roles"), CASES)
def test_columns_are_understood_by_heading_or_by_size(text: str, units: str, roles: str) -> None:
    found = read(text, units)
    assert " ".join(column.role for column in found.columns) == roles
    assert f"{len(found.boards(units))} board" in ask(ask="table", text=text, units=units)["html"]["table"]


def test_entries_stay_as_they_were_written_and_take_the_unit_of_their_heading() -> None:
    table = read("Board;T1 (mm);T2 (mm);Width (in)\nA;27,80;1 3/32 in;6 1/2\nB;;28;\n", "in")
    assert table.boards("in") == [
        {"name": "A", "readings": ["27,80 mm", "1 3/32 in"], "width": "6 1/2", "length": ""},
        {"name": "B", "readings": ["28 mm"], "width": "", "length": ""},
    ]


def test_what_was_misunderstood_can_be_put_right() -> None:
    text = "150,27.8,28.1,900\n140,26,27,900\n"
    wrong = ask(ask="table", text=text, units="mm")
    right = ask(ask="table", text=text, units="mm", roles=["width", "reading", "reading", "length"])
    assert [column["role"] for column in wrong["columns"]] != [column["role"] for column in right["columns"]]
    assert right["boards"][0] == {"readings": ["27.8", "28.1"], "width": "150", "length": "900"}
    assert right["problems"] == []


def test_what_cannot_be_read_is_told_in_the_preview() -> None:
    answer = ask(ask="table", text="Board,T,Width,Length\nA,1/0,6,40\nB,<b>,6,40\n", units="in")
    assert [problem["at"] for problem in answer["problems"]] == ["boards[0].readings[0]", "boards[1].readings[0]"]
    assert "&#39;1/0&#39; cannot be read" in answer["html"]["table"]
    assert "<b>&#39;" not in answer["html"]["table"]


@pytest.mark.parametrize(
    "text",
    ["", " \n ;; \n", "Board,T,Width\n", "x" * 1_000_001, "a,b\n" * 5002, "1," * 400, f'"{"x" * 200_000}"', None, 3],
)
def test_what_is_no_table_says_why(text: object) -> None:
    answer = ask(ask="table", text=text, units="in")
    assert answer["ok"] is False
    assert answer["problems"][0]["at"] == "text"


@pytest.mark.parametrize("text", ['"', 'a"b\n"c', "\0", ",,,\n1", "\ud800", "½;¾", "a\x0bb\x85c,1"])
def test_odd_tables_are_read_or_refused_and_nothing_breaks(text: str) -> None:
    assert "ok" in ask(ask="table", text=text, units="in")


@pytest.mark.parametrize("job", [DEMO_IN, DEMO_MM], ids=["in", "mm"])
@pytest.mark.parametrize("comma", [True, False])
def test_boards_saved_as_a_table_come_back(job: dict, comma: bool) -> None:
    text = ask(ask="csv", what="boards", comma=comma, job=job)["text"]
    answer = ask(ask="table", text=text, units=job["units"])
    back = [{key: value for key, value in board.items() if key != "count"} for board in answer["boards"]]
    marked = [
        {**board, "readings": [spot.replace(*(".," if comma else ",.")) for spot in board["readings"]]}
        for board in job["boards"]
    ]
    assert back == [{key: value for key, value in board.items() if key != "count"} for board in marked]
    assert [board["count"] for board in answer["boards"]] == [str(board.get("count", 1)) for board in job["boards"]]


@pytest.mark.parametrize(("comma", "separator"), [(True, ";"), (False, ",")])
def test_the_passes_are_those_of_the_plan(comma: bool, separator: str) -> None:
    plan = ask(ask="plan", job=DEMO_MM)["plan"]
    text = ask(ask="csv", job=DEMO_MM, comma=comma)["text"]
    rows = list(csv.DictReader(text.splitlines(), delimiter=separator))
    settings = [float(row["Setting (mm)"].replace(",", ".")) for row in rows]
    assert settings == [each["setting_mm"] for each in plan["passes"]]
    minutes = sum(float(row["Minutes"].replace(",", ".")) for row in rows)
    assert minutes == pytest.approx(plan["minutes"], abs=1e-4)
    assert [row["Test piece"] == "yes" for row in rows] == [each["checked"] for each in plan["passes"]]


MEASURED = [
    *fed_at("22"),
    {"did": "measure", "board": "A", "readings": ["22.05", "22", "21.8"]},
    {"did": "measure", "board": "C", "readings": ["22.1"]},
]


@pytest.mark.parametrize(("comma", "separator"), [(True, ";"), (False, ",")])
def test_what_came_out_of_a_run_goes_out_as_a_table(comma: bool, separator: str) -> None:
    job = {**DEMO_MM, "run": MEASURED, "planer": {**DEMO_MM["planer"], "snipe": {"lead": "80", "trail": "60"}}}
    text = ask(ask="csv", what="results", comma=comma, job=job)["text"].replace(",", "." if comma else ",")
    rows = list(csv.DictReader(text.splitlines(), delimiter=separator))
    assert [row["Board"] for row in rows] == [board["name"] for board in DEMO_MM["boards"]]
    assert [rows[0][f"Measured {n} (mm)"] for n in (1, 2, 3)] == ["22.05", "22", "21.8"]
    assert [row["Worst spot off (mm)"] for row in rows] == ["-0.2", "", "0.1", ""]
    assert [row["Within tolerance"] for row in rows] == ["no", "not measured", "the gauge cannot tell", "not measured"]
    assert {row["Cut off end 1 (mm)"] for row in rows} <= {"80", "60"}


def test_results_of_a_job_in_inches_are_in_inches() -> None:
    run = [{"did": "measure", "board": "A", "readings": ["0.758"]}]
    text = ask(ask="csv", what="results", job={**DEMO_IN, "run": run})["text"]
    row = next(csv.DictReader(text.splitlines()))
    assert (row["Measured 1 (in)"], row["Worst spot off (in)"]) == ("0.758", "0.008")


def test_before_anything_was_measured_there_are_no_results() -> None:
    answer = ask(ask="csv", what="results", job=DEMO_MM)
    assert answer["problems"][0]["at"] == "run"


def test_a_job_with_problems_gives_no_table_but_the_problems() -> None:
    answer = ask(ask="csv", job={**DEMO_MM, "boards": []})
    assert answer["ok"] is False
    assert answer["problems"][0]["at"] == "boards"


@pytest.mark.parametrize("name", ["=1+1", "+A", "-A", "@A", "＝1", 'say "A"', "A;B,C", "'A", "'=A", "''-1", "0 3/4"])
def test_a_name_is_no_formula_and_comes_back(name: str) -> None:
    text = write([["Board", "T"], [name, "1"]])
    (_, (cell, _)) = csv.reader(text.splitlines())
    assert not cell.startswith(("=", "+", "-", "@", "＝"))
    assert read(text, "in").boards("in")[0]["name"] == name


def test_a_table_that_is_too_large_is_refused() -> None:
    with pytest.raises(TableError, match="too long"):
        read("1" * 1_000_001, "in")


def test_a_table_of_as_many_readings_as_a_board_may_have_comes_back() -> None:
    board = {"name": "A", "readings": ["20"] * 200, "width": "150", "length": "920", "density": "672 kg/m3"}
    job = metric_lot(board, target="19")
    text = ask(ask="csv", what="boards", job=job)["text"]
    assert ask(ask="table", text=text, units="mm")["boards"] == [{**board, "count": "1"}]


PLACED = """Board,Reading 1,Reading 2,Reading 3,Places,Width,Length
A,1,15/16,1,end 1 left / ? / End 2 right,6,40
B,1,,1,end 1 left / middle center / end 2 right,6,40
C,1,,,,6,40
"""


def test_places_of_readings_are_read_where_a_reading_is():
    answer = json.loads(handle(json.dumps({"ask": "table", "text": PLACED, "units": "in"})))
    assert answer["problems"] == []
    assert [board.get("places") for board in answer["boards"]] == [
        ["end 1 left", "", "End 2 right"],
        ["end 1 left", "end 2 right"],
        None,
    ]


def test_a_place_that_is_none_or_one_too_many_is_told_and_can_be_left_out():
    text = "Board,Reading,Width,Length,Places\nA,1,6,40,rack 3\nB,1,6,40,end 1 left / end 2 left\n"
    answer = json.loads(handle(json.dumps({"ask": "table", "text": text, "units": "in"})))
    assert [problem["at"] for problem in answer["problems"]] == ["boards[0].places[0]", "boards[1].places"]
    roles = ["name", "reading", "width", "length", "left out"]
    left = json.loads(handle(json.dumps({"ask": "table", "text": text, "units": "in", "roles": roles})))
    assert left["problems"] == []
    assert "places" not in left["boards"][0]


DATES = ["1/2", "1-2", "3.4", "01", "1e5", "12:30", "Mar 1", "2-May", "1/2/26", "'1/2", "1,5", "9" * 17]
PLAIN = ["1", "12", "A", "A 1/2", "Board 01", "Top", "March", "1 a", "0"]


@pytest.mark.parametrize("comma", [False, True])
@pytest.mark.parametrize("name", DATES + PLAIN)
def test_a_name_that_looks_like_a_date_comes_back_from_a_spreadsheet(name: str, comma: bool) -> None:
    board = {"name": name, "readings": ["1 in", "7/8"], "width": "6", "length": "40"}
    job = lot(board)
    text = json.loads(handle(json.dumps({"ask": "csv", "job": job, "what": "boards", "comma": comma})))["text"]
    cell = next(csv.reader([text.split("\r\n")[1]], delimiter=";" if comma else ","))[0]
    assert cell == (f"'{name}" if name in DATES else name)
    back = json.loads(handle(json.dumps({"ask": "table", "text": text, "units": "in"})))["boards"]
    assert [one["name"] for one in back] == [name]


def test_the_plan_for_a_spreadsheet_has_one_decimal_mark() -> None:
    job = {**DEMO_MM, "target": {"thickness": "19.5"}}
    for comma, setting in ((True, "19,5 mm"), (False, "19.5 mm")):
        text = json.loads(handle(json.dumps({"ask": "csv", "job": job, "comma": comma})))["text"]
        rows = list(csv.reader(text.splitlines(), delimiter=";" if comma else ","))
        assert rows[-1][2] == setting
