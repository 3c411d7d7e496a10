"""The figures of the planer's record say why, and work out by hand."""

import json
import math

import pytest
from lots import fed_at, metric, metric_lot
from thickset.doors.api import handle
from thickset.ground.job import document
from thickset.planning.passes.planner import make_plan

LOT = metric_lot(
    ("A", "32", "31"),
    metric("27", "26.5", name="B", length="2000"),
    metric("25", "24.5", name="C", length="1500", count=3),
    planer={"feeds": ["6 m/min", "12 m/min"]},
    practice={"near": "2"},
)

READ = [*fed_at("29"), {"did": "check", "thickness": "29.3"}, *fed_at("26"), {"did": "check", "thickness": "26.1"}]
RECORD = {"offset": 0.1, "offset_worth": 4, "spread": 0.05, "spread_worth": 5, "runs": 3, "fed": 100}
SIGNS = {"×": "*", "−": "-", "^": "**", "√": "sqrt"}


def run_of(setting, handling):
    """A run by the plan, its boards ticked off one by one, timed by what setting and handling take [s]."""
    plan, events = make_plan(document.read(LOT).job), []
    for one in plan.passes:
        said = {"setting": f"{float(one.setting)} mm", "scale": f"{float(one.setting)} mm"}
        waited = setting
        if one.checked:
            events.append({"did": "test", **said, "thickness": said["setting"], "after": setting + 40})
            waited = 0
        for fed in one.fed:
            board = plan.job.boards[fed.board]
            running = float(board.count * board.length / 1000 / one.feed * 60)
            took = waited + board.count * handling + running
            events.append({"did": "feed", **said, "boards": [board.name], "after": took})
            waited = 0
    del events[0]["after"]
    return events


def ask(kind, run, record=None, **more):
    planer = {**LOT["planer"], **({"record": record} if record else {})}
    return json.loads(handle(json.dumps({"ask": kind, "job": {**LOT, "planer": planer, "run": run}, **more})))


def why(run, record=None):
    answer = ask("why", run, record, what="record")
    assert answer["ok"], answer
    return {one["at"].partition(".")[2]: one for one in answer["why"]}


def worked(reason):
    """What the written formula gives with the numbers put in."""
    known = {each["symbol"]: float(eval(each["exact"])) for each in reason["put_in"]}  # noqa: S307
    expression = reason["formula"][0].partition(" = ")[2]
    for sign, code in SIGNS.items():
        expression = expression.replace(sign, code)
    return eval(expression, {"__builtins__": {}}, {"sqrt": math.sqrt, "max": max, **known})  # noqa: S307


def test_scale_and_spread_of_a_planer_with_a_record_by_hand():
    found = why(READ, RECORD)
    # Two readings, 0.3 and 0.1 mm over the scale, and a record of 0.1 mm that is worth four.
    offset = (4 * 0.1 + 0.3 + 0.1) / 6
    spread = math.sqrt((5 * 0.05**2 + 2 * 0.1**2 + 4 * 2 / 6 * 0.1**2) / 7)
    assert worked(found["offset"]) == pytest.approx(offset, abs=1e-5)
    assert worked(found["spread"]) == pytest.approx(spread, abs=1e-5)
    told = ask("learn", READ, RECORD)["record"]
    assert (told["offset"], told["spread"]) == pytest.approx((offset, spread), abs=1e-5)
    assert "rests on 4 runs" in found["offset"]["rule"]


@pytest.mark.parametrize("record", [None, RECORD, {**RECORD, "set_seconds": 24, "handle_seconds": 7, "timed": 2}])
@pytest.mark.parametrize("timed", [True, False])
def test_every_figure_that_is_learned_works_out(record, timed):
    run = [*(run_of(33, 11) if timed else READ), {"did": "snipe", "lead": "70", "trail": "45"}]
    told, found = ask("learn", run, record)["record"], why(run, record)
    figures = {"offset", "spread", "fed", "lead", "trail"} | ({"set_seconds", "handle_seconds"} if timed else set())
    for key in figures:
        assert worked(found[key]) == pytest.approx(told[key], abs=1e-5), key
    assert figures <= set(found) <= {*figures, "set_seconds", "handle_seconds"}


def test_the_longest_snipe_and_the_mean_of_the_runs_are_kept():
    record = {**RECORD, "lead": 60, "trail": 50, "sniped": 2, "set_seconds": 24, "timed": 2}
    found = why([*run_of(33, 11), {"did": "snipe", "lead": "70", "trail": "45"}], record)
    assert (worked(found["lead"]), worked(found["trail"])) == (70, 50)
    assert worked(found["set_seconds"]) == pytest.approx((2 * 24 + 33) / 3)
    assert worked(found["handle_seconds"]) == pytest.approx(11)


def test_a_run_that_taught_nothing_leaves_the_record_as_it_was():
    found = why(READ[:1], RECORD)
    assert found["offset"]["result"] == "0.1 mm"
    assert found["offset"]["formula"] == []
    assert all("changed nothing" in one["rule"] for one in found.values())
    assert 'data-why="record"' in ask("more", READ[:1], RECORD)["html"]["after"]


def test_the_button_stands_once_where_there_are_figures():
    assert ask("more", READ[:1])["html"]["after"].count('data-why="record"') == 0
    assert not ask("why", READ[:1], what="record")["ok"]
    for record in (None, RECORD):
        assert ask("more", READ, record)["html"]["after"].count('data-why="record"') == 1
