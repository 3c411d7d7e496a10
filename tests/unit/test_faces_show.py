"""What a person sees of a plan, against the plan document itself."""

import json
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from lots import board, lot
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM


def show(job):
    return json.loads(handle(json.dumps({"ask": "show", "job": job})))


def fragment(answer, key):
    return ET.fromstring(answer["html"][key])


def words(element):
    return " ".join("".join(element.itertext()).split())


def boards(n, **more):
    return {**lot(*(board("1", "15/16") for _ in range(n)), units=None), **more}


@pytest.mark.parametrize("job", [DEMO_IN, DEMO_MM], ids=["in", "mm"])
def test_every_pass_is_a_row_that_can_be_worked_from_alone(job):
    answer = show(job)
    plan = answer["plan"]
    rows = fragment(answer, "schedule").findall(".//*[@data-pass]")
    assert [int(row.get("data-pass")) for row in rows] == [one["number"] for one in plan["passes"]]
    names = {board["board"] for board in plan["boards"]}
    for row, one in zip(rows, plan["passes"], strict=True):
        assert float(row.get("data-setting-mm")) == one["setting_mm"]
        assert words(row.find(".//*[@class='pass-setting']")) == one["setting"]
        stands = {}
        for group in row.findall(".//*[@data-how]"):
            for tag in group.findall(".//bdi"):
                assert tag.text not in stands, "a board stands in two groups"
                stands[tag.text] = (group.get("data-how"), group.get("data-up"), group.get("data-leads"))
        assert set(stands) == names
        for fed in one["fed"]:
            assert stands[fed["board"]][1:] == (fed["up"], str(fed["leads"]))
        going = {fed["board"] for fed in one["fed"]}
        assert all((stands[name][0] in ("wait", "out")) == (name not in going) for name in names)
        assert ("Test piece run first" in words_apart(row)) == one["checked"]
        assert (row.find(".//*[@href='#sign-piece']") is not None) == one["checked"]
        assert row.find("details").get("open") is None


def words_apart(element):
    return " ".join(" ".join(element.itertext()).split())


def test_what_is_turned_is_what_changed_since_the_boards_last_pass():
    answer = show(DEMO_IN)
    lying = {}
    for row, one in zip(
        fragment(answer, "schedule").findall(".//*[@data-pass]"), answer["plan"]["passes"], strict=True
    ):
        how = {tag.text: group.get("data-how") for group in row.findall(".//*[@data-how]") for tag in group.iter("bdi")}
        for fed in one["fed"]:
            now, before = (fed["up"], fed["leads"]), lying.get(fed["board"])
            assert how[fed["board"]] == ("first" if before is None else "again" if before == now else "turned")
            lying[fed["board"]] = now


def test_the_handle_goes_the_way_the_planer_moves():
    def handles(moves):
        job = {**DEMO_IN, "planer": {**DEMO_IN["planer"], "moves": moves}}
        return [words(one) for one in fragment(show(job), "schedule").findall(".//*[@class='pass-handle']")]

    assert handles("table")[:2] == ["set by the scale", "Table up 1 turn 1/16 in closer"]
    assert handles("head")[1] == "Cutterhead down 1 turn 1/16 in closer"
    assert handles("head")[-1] == "Cutterhead down 1/2 turn 1/32 in closer"


def test_the_summary_gives_passes_minutes_first_setting_and_what_decides_it():
    said = words_apart(fragment(show(DEMO_IN), "summary"))
    assert "6 passes, about 12 min" in said
    settings = fragment(show(DEMO_IN), "schedule").findall(".//*[@class='pass-setting']")
    assert words(settings[0]) == "1 in"
    assert "board B, reading 2, 1 1/64 in" in said
    assert "5 of 6 boards" in said


def test_the_cautions_stand_once_and_defer_to_manual_and_codes():
    answer = show(DEMO_IN)
    everything = " ".join(answer["html"].values())
    assert everything.count("line of throw") == 1
    assert everything.count("manual, local codes and qualified instruction come first") == 1


def test_problems_come_as_a_list_with_their_places_and_what_was_understood():
    job = boards(2)
    job["boards"][1]["readings"] = ["1", "<b>x"]
    job["boards"][0]["width"] = "6 kg"
    answer = show(job)
    assert answer["ok"] is False
    assert "plan" not in answer
    assert list(answer["html"]) == ["problems"]
    listed = [(item.get("data-at"), words(item)) for item in fragment(answer, "problems").iter("li")]
    assert listed == [(one["at"], " ".join(one["text"].split())) for one in answer["problems"]]
    assert answer["understood"]["boards[0].readings[1]"] == "15/16 in (23.81 mm)"
    assert "boards[0].width" not in answer["understood"]


def test_a_job_that_reads_well_and_cannot_be_planned_is_shown_as_a_problem_too():
    answer = show(boards(1, planer={"widest": "5"}))
    assert [one["at"] for one in answer["problems"]] == ["boards[0].width"]
    assert "boards[0].width" in answer["html"]["problems"]
    assert answer["understood"]["boards[0].width"].startswith("6 in")


def test_nothing_to_cut_shows_no_passes_and_says_so():
    answer = show(boards(2, target={"thickness": "1 1/4"}))
    assert "schedule" not in answer["html"]
    assert "Nothing to cut" in words(fragment(answer, "summary"))


def test_names_are_only_ever_text():
    job = boards(3)
    for one, name in zip(job["boards"], ("<script>alert(1)</script>", "\"' onload=x", "&lt;b&gt;"), strict=True):
        one["name"] = name
    answer = show(job)
    for html in answer["html"].values():
        assert "<script" not in html
        for element in ET.fromstring(html).iter():
            assert not [key for key in element.attrib if key.startswith("on") or key == "style"]
    shown = {tag.text for tag in fragment(answer, "schedule").iter("bdi")}
    assert shown >= {board["name"] for board in job["boards"]}


def test_no_other_style_of_the_page_reaches_into_the_answer():
    site = Path(__file__).parents[2] / "site"
    others = [
        path
        for path in site.rglob("*.css")
        if path.parent.name != "base" and path.name not in {"plan.css", "answers.css"}
    ]
    assert others
    styles = "".join(re.sub(r"/\*.*?\*/", "", path.read_text(encoding="utf-8"), flags=re.DOTALL) for path in others)
    selectors = [one for rule in re.findall(r"([^{}]+)\{", styles) for one in rule.split(",")]
    reach = [set(re.findall(r"\.([a-z][a-z-]*)", one)) for one in selectors if not re.search(r"[#@]", one)]
    answers = [show(job) for job in (DEMO_IN, DEMO_MM, boards(40))]
    answers += [json.loads(handle(json.dumps({"ask": ask, "job": DEMO_IN}))) for ask in ("sheet", "tags")]
    pages = [ET.fromstring(html) for answer in answers for html in answer["html"].values()]
    used = {name for page in pages for element in page.iter() for name in (element.get("class") or "").split()}
    assert [classes for classes in reach if classes and classes <= used] == []


def test_the_same_job_is_shown_the_same_every_time():
    assert show(DEMO_IN) == show(DEMO_IN)


def test_a_pile_is_told_that_its_thin_boards_wait_and_not_to_measure_it_again():
    pile = {**boards(1), "boards": [{"readings": ["1 1/16", "15/16"], "width": "6", "length": "40", "count": 18}]}
    answer = show(pile)
    assert answer["plan"]["notes"] == []
    assert "already under the setting wait" in answer["html"]["schedule"]
    assert "already under the setting wait" not in show(boards(3))["html"]["schedule"]
    alone = {**pile, "boards": [{**pile["boards"][0], "count": 1}]}
    assert [note["code"] for note in show(alone)["plan"]["notes"]] == ["uneven"]


def test_each_pass_says_which_boards_are_butted_and_nothing_where_all_go_alone():
    answer = show(boards(3, cutting={"ends": "butted"}))
    said = [
        [words(line) for line in row.findall(".//*[@class='butt']")]
        for row in fragment(answer, "schedule").findall(".//*[@data-pass]")
    ]
    assert said[0] == ["Feed each board alone: no two are at one thickness yet."]
    assert said[-1] == ["Butt end to end, in this order: A, B and C."]
    assert 'class="butt"' not in show(boards(3))["html"]["schedule"]


def test_of_a_long_row_the_first_boards_are_named():
    schedule = show(boards(40, cutting={"ends": "butted"}))["html"]["schedule"]
    [row, *_] = re.findall(r"Butt end to end, in this order: ([^<]*)", schedule)
    assert row.count(",") == 30
    assert row.endswith(" and so on, thick to thin.")


LONG = [
    "Shelf {} left side upright",
    "Upper cabinet, shelf {}",
    "Cabinet left door {} of oak stile",
    "Seitenwand-{}-von-links-unten",
]


@pytest.mark.parametrize("name", LONG)
def test_long_names_are_told_apart_where_they_are_cut_short(name):
    names = [name.format(n + 1) for n in range(20)]
    answer = show({**lot(*(board("1", "15/16", name=one) for one in names), units=None), "planer": {"turn": "1/16"}})
    row = fragment(answer, "schedule").find(".//*[@data-pass='1']")
    (goes_in,) = (one for one in row.iter() if one.get("class", "").startswith("goes-in"))
    short = [one.text for one in goes_in.iter("bdi") if one.get("aria-hidden")]
    assert len(set(short)) == 20
    assert max(map(len, short)) <= 11
    below = [one.text for one in fragment(answer, "picture").iterfind(".//*[@class='name']")]
    assert sorted(below) == sorted(short)
    unfolded = words(row.find(".//*[@class='by-name']"))
    assert unfolded == f"First time in: {', '.join(names)}"
    heard = [one.text for one in row.iterfind(".//*[@class='unseen']") if one.tag == "bdi"]
    assert heard == names


def test_short_names_stay_as_they_are():
    row = fragment(show(boards(3)), "schedule").find(".//*[@data-pass='1']")
    assert [words(one) for one in row.iterfind(".//*[@class='tags']/span")] == ["A", "B", "C"]
    assert row.find(".//*[@class='by-name']") is None
