"""The print sheet and the board tags, against the plan document."""

import json
import xml.etree.ElementTree as ET

import pytest
from lots import board, lot
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.planning.passes.turns import Placement, Turn


def ask(ask, job, **more):
    answer = json.loads(handle(json.dumps({"ask": ask, "job": job, **more})))
    assert answer["ok"], answer
    return answer


def boards(n, **more):
    return {**lot(*(board(f"{54 + k % 9}/64", "27/32") for k in range(n)), units=None), **more}


def words(element):
    return " ".join("".join(element.itertext()).split())


@pytest.mark.parametrize("job", [DEMO_IN, DEMO_MM, boards(20)], ids=["in", "mm", "twenty"])
def test_every_cell_of_the_passes_says_how_its_board_goes_in(job):
    plan = ask("plan", job)["plan"]
    sheet = ET.fromstring(ask("sheet", job)["html"]["sheet"])
    table = next(table for table in sheet.iter("table") if table.get("class") == "rota")
    names = [board["board"] for board in plan["boards"]]
    assert [words(head).partition("×")[0] for head in table.findall("thead/tr/th")[5:]] == names
    rows = table.findall("tbody/tr")
    lying = {}
    for row, one in zip(rows, plan["passes"], strict=True):
        cells = row.findall("td")
        assert words(cells[0]) == one["setting"]
        assert (len(cells[3].findall("span")) == 2) == one["checked"], "a box and a blank for the test piece"
        fed = {fed["board"]: (fed["up"], fed["leads"]) for fed in one["fed"]}
        for name, cell in zip(names, cells[4:], strict=True):
            if name not in fed:
                assert len(cell) == 0
                continue
            said, tick = cell
            assert tick.get("class") == "box"
            assert said.text == f"{fed[name][0]}{fed[name][1]}"
            assert (said.get("class") == "turned") == (lying.get(name, fed[name]) != fed[name])
            lying[name] = fed[name]


def test_sheet_and_text_say_which_boards_are_butted_and_nothing_where_all_go_alone():
    job = boards(3, cutting={"ends": "butted"})
    last = "Butt end to end, in this order: C, B and A."
    said = words(ET.fromstring(ask("sheet", job)["html"]["sheet"]))
    assert "Pass 1: Feed each board alone: no two are at one thickness yet." in said
    assert f"Passes 2 and 3: {last}" in said
    assert ask("text", job)["text"].count(last) == 2
    assert "Butt" not in words(ET.fromstring(ask("sheet", boards(3))["html"]["sheet"]))
    assert "Butt" not in ask("text", boards(3))["text"]


def test_the_sheet_has_picture_cautions_test_pieces_and_room_for_what_is_measured():
    sheet = ET.fromstring(ask("sheet", DEMO_IN)["html"]["sheet"])
    said = words(sheet)
    for part in (
        "line of throw",
        "manual, local codes",
        "Test piece:",
        "thicker than 13/16 in",
        "passes 4 to 6",
        "Measured",
    ):
        assert said.count(part) == 1, part
    assert sheet.find(".//svg[@class='lot']") is not None
    ids = [element.get("id") for element in sheet.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    assert all(name.startswith("sheet-") for name in ids), "no id stands twice beside the picture on the page"
    rows = sheet.findall(".//table[@class='outcomes']/tbody/tr")
    assert [words(row.find("th")) for row in rows] == [board["name"] for board in DEMO_IN["boards"]]
    assert [words(row.findall("td")[1]) for row in rows] == ["both faces"] * 4 + ["B only", "both faces"]


def test_what_is_printed_or_copied_once_the_run_has_begun_says_whose_plan_it_is():
    begun = {**boards(3), "run": [{"did": "feed", "setting": "61/64 in", "scale": "61/64 in"}]}
    said = "The run has begun. This is the plan from before its first cut."
    for job, often in ((boards(3), 0), (begun, 1)):
        sheet = ET.fromstring(ask("sheet", job)["html"]["sheet"])
        assert sum(said in words(one) for one in sheet.findall("p[@class='care']")) == often
        assert " ".join(ask("text", job)["text"].split()).count(said) == often


def test_more_boards_than_stand_side_by_side_are_listed():
    sheet = ET.fromstring(ask("sheet", boards(45))["html"]["sheet"])
    table = next(table for table in sheet.iter("table") if "listed" in (table.get("class") or ""))
    assert "First time in, B1:" in words(table)


def test_the_whole_is_a_document_that_needs_nothing_else():
    whole = ask("sheet", DEMO_IN, whole=True)["document"]
    assert whole.startswith("<!doctype html>\n<html")
    assert "http" not in whole
    assert "<script" not in whole
    assert "<link" not in whole
    assert ET.fromstring(whole.partition("\n")[2]).find("body/main/article") is not None


def test_two_tags_a_board_each_with_the_end_that_leads_and_the_face_that_is_up():
    sheet = ET.fromstring(ask("tags", DEMO_MM)["html"]["tags"])
    tags = [words(tag.find("figcaption")) for tag in sheet.iter("figure")]
    names = ["A", "B", "C", "D · 1", "D · 2"]
    second = Placement("B", 1).turned(Turn.FLIPPED)
    expected = [
        f"{name}end {end} first: face {up} up" for name in names for up, end in (("B", 1), (second.up, second.leads))
    ]
    assert tags == expected
    first = next(sheet.iter("figure"))
    assert [text.text for text in first.iter("text")][:2] == ["1", "2"], "the arrow points to the end that leads"


def test_names_on_paper_are_only_ever_text():
    job = boards(2, title="</title><script>alert(1)</script>")
    job["boards"][0]["name"] = "</style><b>x"
    for kind in ("sheet", "tags"):
        whole = ask(kind, job, whole=True)["document"]
        assert "<script" not in whole
        assert whole.count("</style>") == 1
