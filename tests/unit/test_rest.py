"""Two stages of one job: stop proud, let the boards rest, measure again, finish."""

import json

import pytest
from lots import metric, metric_lot
from thickset.doors.api import handle

LOT = metric_lot(
    metric("25", "24.2", name="A", length="900"),
    metric("23.9", "23.6", name="B", width="120", length="900"),
    metric("20.9", "20.7", name="C", width="120", length="900"),
    tolerance="0.1",
    planer={"turn": "1"},
    service={"rest": "1.6"},
)


def ask(kind="plan", lot=LOT, **more):
    return json.loads(handle(json.dumps({"ask": kind, "job": lot, **more})))


def plan(lot=LOT):
    return ask(lot=lot)["plan"]


def follow(*events, lot=LOT):
    answer = ask("follow", {**lot, "run": list(events)})
    assert answer["ok"], answer
    return answer["run"], answer["html"]["run"]


def through(passes):
    """The events of passes without a surprise; test pieces come out right."""
    for one in passes:
        said = {"setting": one["setting"], "scale": one["setting"]}
        if one["checked"]:
            yield {"did": "test", **said, "thickness": one["setting"]}
        yield {"did": "feed", **said}


def measured(board, *readings):
    return {"did": "measure", "board": board, "readings": list(readings)}


STAGE_ONE = [*through([one for one in plan()["passes"] if one["setting_mm"] >= 21.6])]


def test_the_plan_shows_both_stages_each_by_the_rules():
    made = plan()
    rest = made["rest"]
    first, second = made["passes"][: rest["after_pass"]], made["passes"][rest["after_pass"] :]
    assert rest["stop_mm"] == first[-1]["setting_mm"] == 21.6
    assert [one["setting_mm"] for one in first[-2:]] == [22.4, 21.6]
    assert [one["setting_mm"] for one in second] == [20.8, 20.0]
    assert [one["number"] for one in made["passes"]] == [*range(1, len(made["passes"]) + 1)]
    assert [one["stage"] for one in second] == ["finish", "finish"]
    alone = plan({**LOT, "target": {"thickness": "21.6", "tolerance": "0.1"}, "service": {}})
    assert [one["setting_mm"] for one in first] == [one["setting_mm"] for one in alone["passes"]]
    assert made["minutes"] == pytest.approx(sum(one["minutes"] for one in made["passes"]))
    assert second[0]["turns"] is None


def test_without_an_allowance_nothing_is_said_of_stages():
    assert "rest" not in plan({**LOT, "service": {}})


def test_a_lot_that_stands_no_higher_than_the_stop_is_one_stage_and_a_note_says_so():
    made = plan({**LOT, "service": {"rest": "6"}})
    assert "rest" not in made
    assert [note["code"] for note in made["notes"]].count("no-rest") == 1
    assert made["passes"] == plan({**LOT, "service": {}})["passes"]


@pytest.mark.parametrize(("rest", "said"), [("0.2", "lightest cut"), ("0.45", "tolerance")])
def test_an_allowance_that_leaves_nothing_to_plane_off_is_a_problem_at_its_field(rest, said):
    lot = {
        **LOT,
        "service": {"rest": rest},
        "target": {"thickness": "20", "tolerance": "0.1" if rest == "0.2" else "0.5"},
    }
    (problem,) = ask(lot=lot)["problems"]
    assert problem["at"] == "service.rest"
    assert said in problem["text"]


def test_page_text_and_sheet_show_the_rest_between_the_stages():
    shown = ask("show")["html"]
    assert "Two stages. Passes 1 to 4 stop at 21.6 mm" in shown["summary"]
    assert shown["schedule"].index('data-rest="21.6"') > shown["schedule"].index('data-setting-mm="21.6"')
    assert shown["schedule"].index('data-rest="21.6"') < shown["schedule"].index('data-setting-mm="20.8"')
    text = ask("text")["text"]
    assert text.index("Pass 4 of 6") < text.index("Let the boards rest at 21.6 mm") < text.index("Pass 5 of 6")
    sheet = ask("sheet")["html"]["sheet"]
    assert "Rest at" in sheet
    assert "After the rest" in sheet
    assert "After the rest" not in ask("sheet", {**LOT, "service": {}})["html"]["sheet"]


def test_the_run_stops_after_the_first_stage_and_asks_for_every_board():
    state, html = follow(*STAGE_ONE)
    assert state["step"]["kind"] == "rest"
    assert state["resting"] == state["step"]["remaining"] == ["A", "B", "C"]
    assert "Let the boards rest" in html
    assert "Board A, after the rest" in html
    assert "data-undo" in html
    before, _ = follow(*STAGE_ONE[:-1])
    assert before["step"]["kind"] == "feed"
    assert before["stop_mm"] == 21.6


def test_boards_that_did_not_move_are_finished_as_planned():
    events = [*STAGE_ONE, measured("A", "21.6"), measured("C", "20.9", "20.7"), measured("B", "21.6")]
    state, _ = follow(*events)
    after = plan()["rest"]["after_pass"]
    assert state["rest"] == plan()["passes"][after:]
    assert state["step"]["turns"] is None


def test_boards_that_moved_are_planned_exactly_from_what_they_measure():
    state, _ = follow(*STAGE_ONE, measured("A", "22.3", "21.3"), measured("B", "21.6"))
    assert state["step"]["kind"] == "rest"
    state, _ = follow(*STAGE_ONE, measured("A", "22.3", "21.3"), measured("B", "21.6"), measured("C", "20.9", "20.7"))
    # 22.3 is more than two finish cuts above the target: one rough pass comes first, as in a lot that measures so.
    assert [one["setting_mm"] for one in state["rest"]] == [21.6, 20.8, 20.0]
    assert [fed["board"] for fed in state["rest"][0]["fed"]] == ["A"]
    assert state["rest"][0]["number"] == plan()["rest"]["after_pass"] + 1


def test_a_board_spoiled_in_the_rest_is_not_waited_for():
    events = [*STAGE_ONE, measured("A", "21.6"), measured("B", "21.6")]
    state, _ = follow(*events, {"did": "remove", "board": "C", "why": "spoiled in the rest"})
    assert state["step"]["kind"] == "test"
    assert {fed["board"] for one in state["rest"] for fed in one["fed"]} == {"A", "B"}


def test_a_new_target_in_the_rest_is_what_the_finish_goes_to():
    events = [*STAGE_ONE, {"did": "retarget", "thickness": "19"}]
    state, _ = follow(*events)
    assert state["step"]["kind"] == "rest"
    state, _ = follow(*events, measured("A", "21.6"), measured("B", "21.6"), measured("C", "20.9", "20.7"))
    assert state["rest"][-1]["setting_mm"] == 19


def test_a_new_target_in_the_first_stage_moves_the_stop_with_it():
    state, _ = follow(STAGE_ONE[0], {"did": "retarget", "thickness": "19"})
    assert state["rest"][-1]["setting_mm"] == 20.6


def test_what_was_measured_in_the_rest_is_not_what_came_out():
    readings = [measured("A", "21.6"), measured("B", "21.6"), measured("C", "20.9", "20.7")]
    run = [*STAGE_ONE, *readings]
    assert "No board was measured after its last pass" in ask("report", {**LOT, "run": run})["html"]["report"]
    run += [*through(plan()["passes"][plan()["rest"]["after_pass"] :]), measured("A", "20.02")]
    assert "1 of 3 measured" in ask("report", {**LOT, "run": run})["html"]["report"]


def test_the_terminal_says_what_to_do_in_the_rest():
    said = ask("next", {**LOT, "run": [*STAGE_ONE, measured("A", "21.6")]})["text"]
    assert "Still to be measured after the rest: B and C." in said


def test_before_the_rest_the_planer_is_switched_off():
    job = {**LOT, "run": STAGE_ONE}
    for said in (ask("next", job)["text"], ask("follow", job)["html"]["run"]):
        assert "Switch off and let the cutterhead stop." in " ".join(said.split())


def test_every_number_of_both_stages_says_why_and_follows_from_what_it_says():
    made = plan()
    for n, one in enumerate(made["passes"]):
        (why,) = [ask("why", what=f"passes[{n}].setting_mm")["why"]]
        assert f"pass {n + 1}" in why["title"]
        assert ("first stage" in why["rule"]) == (one["setting_mm"] >= 21.6)
    assert ask("why", what="rest.stop")["why"]["result"].startswith("21.6 mm")
    last_of_first = ask("why", what=f"passes[{made['rest']['after_pass'] - 1}].setting")["why"]
    assert last_of_first["result"].startswith("21.6 mm")


def test_the_habits_rest_too():
    times = ask("time")["time"]
    assert times["plan"]["minutes"] <= times["all_at_every_setting"]["minutes"]
    unrested = ask("time", {**LOT, "service": {}})["time"]
    assert times["all_at_every_setting"]["settings"] > unrested["all_at_every_setting"]["settings"]


@pytest.mark.parametrize(
    ("rest", "tolerance", "planned"), [("1", "0.9", True), ("1", "1", False), ("0.4", "0.1", True)]
)
def test_what_is_left_for_the_finish_is_more_than_the_tolerance_and_no_less_than_the_lightest_cut(
    rest, tolerance, planned
):
    lot = {**LOT, "target": {"thickness": "20", "tolerance": tolerance}, "service": {"rest": f"{rest} mm"}}
    lot["planer"] = {**LOT.get("planer", {}), "lightest_cut": "0.4 mm"}
    assert ask(lot={**lot, "units": "mm"})["ok"] is planned
