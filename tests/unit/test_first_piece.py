"""While nothing is known of the scale, one piece is measured before the boards follow: in the plan, in the run, on paper."""

import json
import re

import pytest
from lots import fed_at, metric, metric_lot
from thickset.doors.api import handle

KNOWN = {"offset": 0.1, "offset_worth": 1, "spread": 0.05, "spread_worth": 5}
LOT = metric_lot(("A", "25", "23"), ("B", "24.8", "23"), ("C", "23.6", "23"), tolerance="0.1", practice={"cut": "1"})
S = 24.0
SAYS = "Scale unknown: measure one piece first."


def ask(what, **more):
    answer = json.loads(handle(json.dumps({"ask": what, **more})))
    assert answer["ok"], answer
    return answer


def plan(**changes):
    return ask("plan", job={**LOT, **changes})["plan"]


def run(*events, **changes):
    return ask("follow", job={**LOT, **changes, "run": list(events)})["run"]


def measured(thickness, board=None, setting=S):
    return {"did": "test", "setting": str(setting), "scale": str(setting), "thickness": str(thickness)} | (
        {"board": board} if board else {}
    )


def thick(state):
    return {one["board"]: one["thick_mm"] for one in state["boards"]}


def test_only_the_first_pass_measures_for_the_scale_and_it_is_priced_as_a_test_piece():
    unknown, known = plan(), plan(planer={"record": KNOWN})
    assert [one["number"] for one in unknown["passes"] if "for_scale" in one] == [1]
    assert not any("for_scale" in one for one in known["passes"])
    assert unknown["passes"][0]["checked"]
    assert not known["passes"][0]["checked"]
    assert [one["setting_mm"] for one in unknown["passes"]] == [one["setting_mm"] for one in known["passes"]]
    assert unknown["minutes"] - known["minutes"] == pytest.approx(30 / 60)
    assert unknown["passes"][0]["minutes"] - known["passes"][0]["minutes"] == pytest.approx(30 / 60)


@pytest.mark.parametrize(
    ("record", "asks"),
    [
        (KNOWN, False),
        (ask("scrap", units="mm", scrap={"scale": "20", "measured": "20,2"})["record"], False),
        ({**KNOWN, "offset": 0, "offset_worth": 0.015625, "set_seconds": 30, "runs": 0}, True),
    ],
)
def test_a_scrap_or_a_run_is_a_record_of_the_scale_and_seconds_alone_are_none(record, asks):
    assert plan(planer={"record": record})["passes"][0]["checked"] == asks
    assert (run(planer={"record": record})["step"]["kind"] == "test") == asks


def test_where_the_target_is_near_its_test_piece_is_all_that_is_asked_for():
    near = {"practice": {"cut": "1", "near": "6"}}
    first = plan(**near)["passes"][0]
    assert (first["checked"], "for_scale" in first) == (True, False)
    assert first["minutes"] == plan(**near, planer={"record": KNOWN})["passes"][0]["minutes"]
    assert "first_board" not in run(**near)["step"]


def test_one_piece_is_asked_for_as_thick_as_the_lot_or_the_thickest_board():
    step = run()["step"]
    assert (step["kind"], step["scale_mm"], step["test_pieces"], step["aim_mm"]) == ("test", S, 1, 0)
    assert (step["test_piece_least_mm"], step["first_board"]) == (25, "A")


def test_a_scrap_that_is_right_leaves_the_planer_as_it_is_set():
    state = run(measured(S + 0.05))
    assert (state["step"]["kind"], state["step"]["scale_mm"], state["said"]) == ("feed", S, [])
    state = run(measured(S + 0.05), *fed_at(str(S)))
    assert thick(state) == {"A": S + 0.05, "B": S + 0.05, "C": 23.6}


@pytest.mark.parametrize(("off", "side"), [(0.4, "thick"), (-0.4, "thin")])
def test_after_a_scrap_that_is_off_the_boards_follow_at_a_scale_set_anew(off, side):
    state = run(measured(S + off))
    step = state["step"]
    assert step["kind"] == "feed", "one piece is enough"
    assert step["remaining"] == ["A", "B"]
    assert step["scale_mm"] == pytest.approx(S - off, abs=0.02)
    assert state["said"] == [f"It came out 0.4 mm too {side}. Set the planer anew by that; then the boards follow."]
    through = {"did": "feed", "setting": str(S), "scale": str(step["scale_mm"])}
    some = run(measured(S + off), {**through, "boards": ["A"]})
    assert (some["step"]["kind"], some["step"]["scale_mm"]) == ("feed", step["scale_mm"])
    state = run(measured(S + off), through)
    assert thick(state) == {"A": S, "B": S, "C": 23.6}
    following = state["step"]["pass"]["setting_mm"]
    assert state["step"]["scale_mm"] == pytest.approx(following - off, abs=0.03)


def test_a_board_that_is_right_is_through():
    state = run(measured(S, "A"))
    assert (state["step"]["kind"], state["step"]["remaining"], state["step"]["scale_mm"]) == ("feed", ["B"], S)
    assert thick(state)["A"] == S


def test_a_board_that_came_out_thick_goes_through_once_more():
    two = {"boards": [LOT["boards"][0], LOT["boards"][2]]}
    state = run(measured(24.2, "A"), **two)
    assert thick(state) == {"A": 24.2, "C": 23.6}
    assert (state["step"]["kind"], state["step"]["pass"]["number"], state["done"]) == ("feed", 1, [])
    assert "A" in state["step"]["remaining"]
    assert state["said"] == [
        "Board A came out 0.2 mm too thick: 0.8 mm came off, not 1 mm. The rest is planned from that."
    ]
    shown = ask("follow", job={**LOT, **two, "run": [measured(24.2, "A")]})["html"]["run"]
    assert "A lies on cart 2 by now: fetch it from there." in shown


def test_a_board_that_came_out_thin_is_told_and_the_rest_is_planned_from_it():
    state = run(measured(23.4, "A"))
    assert thick(state) == {"A": 23.4, "B": 24.8, "C": 23.6}
    assert state["step"]["kind"] == "feed"
    assert (state["step"]["pass"]["number"], state["step"]["remaining"]) == (1, ["B"])
    assert state["said"] == [
        "Board A came out 0.6 mm too thin: 1.6 mm came off, not 1 mm. The rest is planned from that."
    ]
    assert state["rest"][-1]["setting_mm"] == 20


def test_a_board_alone_that_came_out_thin_ends_its_pass():
    alone = {"boards": LOT["boards"][:1]}
    state = run(measured(23.4, "A"), **alone)
    assert [one["opening_mm"] for one in state["done"]] == [23.4]
    assert state["step"]["remaining"] == ["A"]
    assert run(measured(20, "A"), **alone)["step"]["kind"] == "done"


def test_a_board_that_the_knives_did_not_touch_is_as_it_was():
    state = run(measured(25, "A"))
    assert thick(state) == thick(run())
    assert state["said"] == [
        "The knives did not touch board A: the planer opens at least 1 mm more than its scale reads. The rest is planned from that."
    ]


def test_of_boards_alike_the_one_that_was_measured_stays_with_the_others():
    pile = {"boards": [metric("25", "23", name="A", count=8)]}
    first = plan(**pile)["passes"][0]["setting_mm"]
    state = run(measured(first - 0.4, "A", first), **pile)
    assert thick(state) == {"A": 25}
    assert state["step"]["kind"] == "feed"
    shown = ask("follow", job={**LOT, **pile})["html"]["run"]
    assert "Feed one of A x8 alone" in shown
    assert "It goes on with the others." in shown


def test_without_a_scrap_the_boards_that_wait_go_to_the_other_cart_too_and_the_button_is_the_scrap_s():
    lot = {**LOT, "boards": [*LOT["boards"][:1], *(metric("23.9", "23", name=name) for name in "BC")]}
    screen = re.sub(r"</?span[^>]*>", "", ask("follow", job=lot)["html"]["run"])
    assert [one["board"] for one in plan(boards=lot["boards"])["passes"][0]["fed"]] == ["A"]
    assert "The scrap measures 24 mm" in screen
    assert "The scrap measures something else" in screen
    alone = screen.split("No scrap at hand")[1]
    assert "Wait: put them on cart 2 too, as they lie" in alone.split("</details>")[0]
    assert "Board A measures 24 mm" in alone
    [second] = ask("follow", job={**lot, "run": [measured(24, "A", 24)]})["run"]["done"]
    assert second["boards"] == ["A"]
    assert "Wait:" not in ask("follow", job=LOT)["html"]["run"].split("No scrap at hand")[1].split("</details>")[0]


def test_a_slip_tells_nothing_of_the_scale():
    state = run(measured(60))
    assert (state["step"]["kind"], state["step"]["first_board"]) == ("test", "A")
    assert state["said"] == ["That is too far off the scale to be meant. Measure again."]


def test_a_run_begun_before_a_piece_was_asked_for_goes_on():
    one = {**fed_at(str(S))[0], "boards": ["A"]}
    state = run(one)
    assert (state["step"]["kind"], state["step"]["remaining"]) == ("feed", ["B"])
    again = {"did": "measure", "board": "A", "readings": ["24.9", "23"]}
    assert run(one, again)["step"]["kind"] == "feed"
    assert run(*fed_at(str(S)))["step"]["kind"] == "feed"


def test_what_was_seen_before_the_first_piece_does_not_make_it_superfluous():
    out = {"did": "remove", "board": "A"}
    step = run(out)["step"]
    assert (step["kind"], step["first_board"]) == ("test", "B")


def test_a_first_stage_measures_and_the_second_does_not():
    passes = plan(service={"rest": "1"})["passes"]
    assert [one["number"] for one in passes if "for_scale" in one] == [1]


def test_plan_text_sheet_run_and_reason_say_the_same():
    shown = ask("show", job=LOT)["html"]
    assert shown["schedule"].count(SAYS) == 1
    assert SAYS.split(" before", maxsplit=1)[0] in re.sub(r"\s+", " ", ask("text", job=LOT)["text"])
    sheet = str(ask("sheet", job=LOT)["html"])
    assert "Before pass 1 run one as thick as the lot, 25 mm: what it is off by, every setting is off by." in sheet
    screen = ask("follow", job=LOT)["html"]["run"]
    assert "Measure the first piece" in screen
    assert (
        "Feed board A alone, the thickest, face B up, end 1 first. Measure it where the knives cut. What it says guards the others, not itself."
        in screen
    )
    assert f"{SAYS} Take a scrap as thick as the lot, 25 mm." in re.sub(r"\s+", " ", ask("next", job=LOT)["text"])
    why = {one["at"]: one for one in ask("why", job=LOT)["why"]}
    assert why["passes[0].checked"]["result"] == "yes"
    assert why["passes[0].for_scale"]["result"] == "yes"
    assert "passes[1].for_scale" not in why
    known = {**LOT, "planer": {"record": KNOWN}}
    assert SAYS not in ask("show", job=known)["html"]["schedule"]
    assert "every setting is off by" not in str(ask("sheet", job=known)["html"])


def test_a_link_carries_which_board_was_measured():
    job = {**LOT, "run": [measured(24.2, "A")]}
    link = ask("link", job=job)["link"]
    assert ask("open", link=link)["job"]["run"] == job["run"]
