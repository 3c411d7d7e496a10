"""What is cut off each end of a board says why, by hand and from the passes of its plan."""

import json
import re
from dataclasses import replace

import pytest
from lots import fed_at, metric_lot
from thickset.doors.api import handle
from thickset.faces.run.ending import ended
from thickset.faces.run.report import cut_off
from thickset.faces.words.figures import figure
from thickset.ground.job.document import read
from thickset.planning.passes.planner import make_plan
from thickset.planning.run.follow import begin
from thickset.planning.run.next_step import Step
from thickset.planning.run.snipe import feedings_of

BOARDS = [
    {"name": "A", "readings": ["27"], "width": "150", "length": "1000"},
    {"name": "B", "readings": ["23"], "width": "150", "length": "1000"},
    {"name": "C", "readings": ["24"], "width": "150", "length": "1000"},
]
JOB = metric_lot(
    *BOARDS,
    planer={"snipe": {"lead": "80", "trail": "50"}},
    cutting={"trim": "10"},
    run=fed_at("25"),
)


def ask(kind, job=JOB, **more):
    return json.loads(handle(json.dumps({"ask": kind, "job": job, **more})))


def why(job=JOB, what="ends"):
    answer = ask("why", job, what=what)
    assert answer["ok"], answer
    return {one["at"]: one for one in answer["why"]} if isinstance(answer["why"], list) else answer["why"]


def mm(text):
    return float(re.match(r"[\d.]+", text)[0])


@pytest.mark.parametrize("ends", ["alone", "butted", "guarded"])
def test_what_is_cut_off_follows_from_the_passes_that_snipe_it(ends):
    job = {**JOB, "cutting": {"trim": "10", "ends": ends}}
    plan = ask("plan", job)["plan"]
    wanted = {}
    rows = [{each["board"]: each for each in one["fed"]} for one in plan["passes"]]
    for n, board in enumerate(BOARDS):
        name, off = board["name"], {1: 10.0, 2: 10.0}
        for at, fed in enumerate(rows):
            if ends == "guarded" or name not in fed:
                continue
            side, leads = fed[name]["up"], fed[name]["leads"]
            after = [later[name]["cut_mm"] for later in rows[at + 1 :] if later[name]["up"] == side]
            if sum(after) >= 25.4 / 32:
                continue
            # Those that were in the pass before are as thick as its setting; a board that comes new goes alone.
            row = [each for each in ("A", "C", "B") if each in fed and at and each in rows[at - 1]]
            alone = ends == "alone" or name not in row
            if alone or name == row[0]:
                off[leads] = max(off[leads], 80)
            if alone or name == row[-1]:
                off[3 - leads] = max(off[3 - leads], 50)
        wanted |= {f"ends[{n}].end_{end}": value for end, value in off.items()}
    found = why(job)
    assert {at: mm(one["result"]) for at, one in found.items()} == wanted
    for one in found.values():
        known = {each["symbol"]: mm(each["text"]) for each in one["put_in"]}
        expression = one["formula"][0].partition(" = ")[2]
        assert eval(expression, {"__builtins__": {}}, {"max": max, **known}) == mm(one["result"])  # noqa: S307
    if ends == "guarded":
        assert set(wanted.values()) == {10}
    else:
        assert max(wanted.values()) == 80
        assert "leads in pass" in " ".join(one["rule"] for one in found.values())


def test_a_snipe_says_whether_it_was_entered_or_learned():
    def names(job):
        return " ".join(each["words"] for one in why(job).values() for each in one["put_in"])

    assert "leads, as entered" in names(JOB)
    record = {"offset": 0.1, "offset_worth": 4, "spread": 0.05, "spread_worth": 5, "runs": 3, "fed": 100}
    record |= {"lead": 80, "trail": 40, "sniped": 2}
    told = names({**JOB, "planer": {**JOB["planer"], "record": record}})
    assert "leads, as learned: the longest of 2 measured" in told
    assert "trails, as entered" in told


def test_the_button_stands_where_something_is_cut_off():
    assert 'data-why="ends"' in ask("more")["html"]["after"]
    bare = {key: value for key, value in JOB.items() if key not in ("planer", "cutting")}
    assert 'data-why="ends"' not in ask("more", bare)["html"]["after"]
    assert not ask("why", bare, what="ends")["ok"]
    assert mm(why(what="ends[0].end_1")["result"]) == 80


@pytest.mark.parametrize(
    ("planer", "ends", "target", "said"),
    [
        ({}, "alone", "20", "no snipe and no trim is entered"),
        (JOB["planer"], "guarded", "20", "the scrap pieces before and behind take the snipe"),
        (JOB["planer"], "alone", "27", "no snipe stays on an end"),
    ],
)
def test_where_nothing_is_cut_off_the_page_says_why(planer, ends, target, said):
    job = {
        **JOB,
        "planer": planer,
        "cutting": {"ends": ends},
        "target": {"thickness": target},
        "run": [{"did": "measure", "board": "A", "readings": ["27"]}],
    }
    html = ask("more", job)["html"]["after"]
    assert f"Nothing: {said}." in html


def test_the_end_of_a_run_says_what_to_cut_off_as_the_report_does():
    job = read({key: value for key, value in JOB.items() if key != "run"}).job
    begun = begin(job)
    said = "".join(map(str, ended(begun, Step("done"))))
    lines = list(cut_off(job, feedings_of(make_plan(job))))
    assert lines
    assert all(str(figure(line)) in said for line in lines)
    assert 'data-why="ends"' in said
    alone = "".join(map(str, ended(replace(begun, pieces=begun.pieces[:1]), Step("done"))))
    assert re.findall(r"Boards? ([^:]+):", alone) == [job.boards[begun.pieces[0].board].name]
