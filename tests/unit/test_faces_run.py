"""The run screen: what stands on it at each step, as a helper reads it."""

import html
import json
import re
from fractions import Fraction

import pytest
from lots import board, fed_at, lot
from thickset.doors.api import handle
from thickset.faces.picture.turning import turning
from thickset.faces.plan.cautions import CAUTIONS
from thickset.faces.plan.rehearse import frames
from thickset.faces.words.markup import text
from thickset.ground.job import document
from thickset.ground.job.run_events import SIGHTS
from thickset.planning.passes.planner import make_plan
from thickset.planning.passes.turns import Placement, Turn
from thickset.planning.run.surprises import surprise

JOB = lot(
    ("A", "1", "63/64"),
    board("7/8", "55/64", name="B", width="7"),
    board("7/8", "55/64", name="C", width="7"),
    planer={"turn": "1/16"},
)


MEASURED = {"did": "test", "setting": "15/16", "scale": "15/16", "thickness": "15/16"}
ROUGH = fed_at("15/16", "7/8")
THICK = {"did": "test", "setting": "13/16", "scale": "13/16", "thickness": "0.82"}
THIN = {"did": "test", "setting": "13/16", "scale": "13/16", "thickness": "0.80"}


def screen(run=(), **changes):
    answer = json.loads(handle(json.dumps({"ask": "follow", "job": {**JOB, **changes, "run": list(run)}})))
    assert answer["ok"], answer
    return re.sub(r"</?span( class=\"(fraction|mixed)\"[^>]*)?>", "", answer["html"]["run"])


def test_the_carts_change_places_and_boards_that_wait_go_along():
    first = screen([MEASURED])
    assert "Infeed: cart 1. Outfeed: cart 2." in first
    assert "Wait: put them on cart 2 too" in first
    second = screen(fed_at("15/16"))
    assert "Infeed: cart 2. Outfeed: cart 1." in second
    assert "Wait: put them on cart 1 too" in second
    assert "Infeed: cart 1. Outfeed: cart 2." in screen(ROUGH)


def test_a_board_that_goes_through_once_more_is_fetched_from_the_outfeed():
    through = {"did": "feed", "setting": "13/16", "scale": "13/16", "boards": ["A"]}
    thicker = {"did": "measure", "board": "A", "readings": ["27/32", "13/16"]}
    run = [*ROUGH, {**THICK, "thickness": "13/16"}, through]
    assert "by now" not in screen(run)
    said = screen([*run, thicker])
    assert "Pass 3" in said
    assert "Infeed: cart 1. Outfeed: cart 2." in said
    assert "A lies on cart 2 by now: fetch it from there." in said
    assert "by now" not in screen([*run, thicker, *fed_at("13/16")])
    alike = {**thicker, "board": "B"}
    assert "A and B lie on cart 2 by now: fetch them" in screen([*run, {**through, "boards": ["B"]}, thicker, alike])


def test_the_marks_of_the_boards_are_told_before_the_first_cut_only():
    assert "Mark every board on its end grain" in screen()
    assert "Mark every board on its end grain" not in screen(fed_at("15/16"))


def test_every_caution_stands_before_the_first_feed_and_folded_at_every_step_after_it():
    before, after = screen(), screen(fed_at("15/16"))
    assert before.startswith('<section class="before-run">')
    assert before.count("data-begin") == 1
    assert 'class="at-hand"' not in before
    folded = after.split('<details class="at-hand">')[1].split("</details>")[0]
    for caution in CAUTIONS:
        assert str(text(caution)) in before
        assert str(text(caution)) in folded
        assert after.count(str(text(caution))) == 1
    assert 'class="at-hand"' not in screen(fed_at("15/16", "7/8", "13/16", "25/32", "3/4"))


def test_a_first_opening_of_unknown_error_is_told_with_its_cure():
    unsure, cure = "Scale not known yet: the first piece may be cut deeper.", "Take a scrap for it, and measure it"
    assert cure in screen()
    assert unsure in screen().split('class="set"')[1]
    record = {"offset": 0.1, "offset_worth": 3, "spread": 0.05, "spread_worth": 5}
    for known in (
        screen(fed_at("15/16")),
        screen([MEASURED]),
        screen(planer={"turn": "1/16", "record": record}),
        screen(practice={"near": "1 in"}),  # a test piece goes first anyhow
    ):
        assert unsure not in known
        assert cure not in known
        assert "Measure the first piece" not in known


def test_a_corrected_setting_is_told_in_marks_of_the_scale_and_in_parts_of_a_turn():
    said = screen([*ROUGH, THICK])
    assert "Set the planer so that its scale reads" in said
    assert "and half a mark under (0.007 in)" in said
    assert "From here: <b>about 1/8 turn</b>, table up" in said
    assert re.findall(r'class="small">(\d+)</text>', said) == ["1", "8"], "the dial draws what is said"


def test_what_the_test_piece_said_stands_above_the_setting():
    said = screen([*ROUGH, THICK])
    assert said.index("Too thick.") < said.index("Set the planer so that")


def test_a_corrected_setting_stands_in_its_order_setting_then_feed():
    said = screen([*ROUGH, THICK])
    order = [said.index(part) for part in ("so that its scale reads", 'class="setting"', 'class="feed-at"', "Opens to")]
    assert order == sorted(order)


@pytest.mark.parametrize(("thickness", "way"), [("0.820", "Close"), ("0.800", "Open")])
def test_a_correction_has_one_figure(thickness, way):
    """On a planer whose scale is well known a piece that is off is partly chance, and the planer moves by less."""
    record = {"offset": 0.01, "offset_worth": 3, "spread": 0.15, "spread_worth": 8}
    tried = {"did": "test", "setting": "13/16", "scale": "13/16", "thickness": thickness}
    planer = {"turn": "1/16", "record": record}
    answer = json.loads(handle(json.dumps({"ask": "follow", "job": {**JOB, "planer": planer, "run": [*ROUGH, tried]}})))
    html = re.sub(r"<[^>]*>", "", answer["html"]["run"])
    moved = abs(answer["run"]["step"]["scale_mm"] - 13 / 16 * 25.4)
    off = abs(float(thickness) - 13 / 16) * 25.4
    assert 0.03 < moved < off - 0.02
    assert re.search(rf"{way} the planer by {moved / 25.4:.3f} in and run", html)
    assert f"{off / 25.4:.3f} in" not in html
    turned = moved / 25.4 / (1 / 16)
    assert f"From here: about {Fraction(round(turned * 16), 16)} turn" in html


@pytest.mark.parametrize(("moves", "way"), [("table", "table down"), ("head", "head up")])
def test_an_overshoot_is_come_back_to_from_the_safe_direction(moves, way):
    said = screen([*ROUGH, THIN], planer={"turn": "1/16", "moves": moves})
    assert "It cost a test piece, not a board" in said
    assert way in said
    assert "Open it a turn further, then close it to the reading" in said


def test_boards_under_the_target_are_named_by_how_much_with_the_target_that_saves_them():
    run = [
        *ROUGH,
        {"did": "feed", "setting": "13/16", "scale": "13/16", "boards": ["A"]},
        {"did": "measure", "board": "B", "readings": ["0.73", "0.74"]},
        {"did": "measure", "board": "C", "readings": ["0.73", "0.74"]},
    ]
    said = screen(run)
    assert "Under the target by 0.02 in: B and C." in said
    assert "With a thinner target no board is short." in said
    assert "&quot;did&quot;: &quot;retarget&quot;, &quot;thickness&quot;: &quot;23/32 in&quot;" in said


def test_a_board_that_is_through_can_be_measured_once_a_pass_is_done():
    assert "&quot;did&quot;: &quot;check&quot;" not in screen()
    assert "&quot;did&quot;: &quot;check&quot;" in screen(ROUGH)


def test_the_field_for_a_board_that_is_through_says_of_which_pass_it_is():
    assert "After pass 2 it measures" in screen(ROUGH)
    one = {"did": "feed", "setting": "13/16", "scale": "13/16", "boards": ["A"]}
    right = {**THICK, "thickness": "13/16"}
    said = screen([*ROUGH, right, one])
    assert "After pass 3 it measures" in said
    assert "It was to come out at 13/16 in." in text(said)
    thick = {"did": "check", "setting": "13/16", "thickness": "0.84"}
    again = screen([*ROUGH, right, one, thick])
    assert "The boards came out too thick. Close the planer by" in text(again)
    assert "Feed the boards all the same" not in again
    assert "it measures" not in again


def test_a_board_measured_after_its_pass_tells_what_the_scale_is_off_by():
    said = screen([*ROUGH, {"did": "check", "thickness": "0.885"}])
    assert "thicker than the scale reads" in said
    assert "That is from 1 reading of this run" in said
    assert "Set the planer so that its scale reads" in said


def test_a_board_that_tore_is_turned_from_how_it_lies_whatever_is_tapped_next():
    torn = [*ROUGH[:1], {"did": "see", "what": "tear-out", "board": "A"}]
    for run in (torn, [*torn, {"did": "feed", "setting": "7/8", "scale": "7/8", "boards": ["B"]}]):
        said = screen(run)
        assert "<b>Roll over</b>" in said
        assert "It came out with Face B up, end 1 first. Roll it over: Face A up, end 1 first." in said
        # End 1 leads again: only the side that is up, and so the run of the grain, is another.
        assert "other end first" not in said


def test_what_changes_the_rest_of_a_run_is_acknowledged():
    first = ROUGH[:1]
    assert "Board B is out of the lot." in screen([*first, {"did": "remove", "board": "B"}])
    as_planned = {"did": "measure", "board": "B", "readings": ["7/8", "55/64"]}
    assert "Board B is now 55/64 in to 7/8 in: the rest is planned from that." in screen([*first, as_planned])


def test_a_board_of_a_pass_that_was_given_up_is_not_in_for_the_first_time():
    alike = [{**JOB["boards"][0], "name": name} for name in "AB"]
    fed = {"did": "feed", "setting": "15/16", "scale": "15/16", "boards": ["A"]}
    said = screen([fed, {"did": "remove", "board": "B"}], boards=alike)
    assert "First time in" not in said
    assert "Mark every board on its end grain" not in said
    assert "Infeed: cart 2. Outfeed: cart 1." in said


@pytest.mark.parametrize("planer", [{}, {"turn": "1/16"}])
def test_the_slack_is_taken_up_with_and_without_a_known_handle_turn(planer):
    assert "takes up the slack" in screen([*ROUGH, THIN], planer=planer)
    assert "takes up the slack" not in screen([*ROUGH, THICK], planer=planer)


FINISH = fed_at("13/16", "25/32")


def test_the_first_try_of_the_last_setting_is_kept_proud_and_says_what_that_opens_to():
    said = screen([*ROUGH, *FINISH], practice={"near": "0"})
    assert "Nothing is known of the scale yet, so the first try is kept 0.032 in proud." in said
    assert "Opens to 0.782 in" in said
    known = screen([*ROUGH, {"did": "check", "thickness": "0.88"}, *FINISH], practice={"near": "0"})
    assert "Nothing is known" not in known
    assert "not known well enough yet, so the first try is kept" in known


def test_the_button_of_a_proud_try_says_and_records_what_it_should_measure():
    run, practice = [*ROUGH, *FINISH], {"near": "0"}
    said = screen(run, practice=practice)
    assert "It measures 0.782 in" in said
    pressed = json.loads(html.unescape(re.findall(r'class="strong huge" data-event="([^"]*)"', said)[0]))
    assert pressed["thickness"] == pressed["scale"], "where nothing is known the piece is as thick as the scale reads"
    after = screen([*run, pressed], practice=practice)
    assert "Too thick. Close the planer by 0.032 in and run the same piece again." in text(after)
    assert "It measures 3/4 in" in after, "the next try is for the target, and on it in one tap"


def test_a_piece_that_came_out_thick_goes_in_again_and_only_fresh_ones_must_be_thick():
    said = screen([*ROUGH, THICK])
    assert "run the same piece again" in said
    assert "2 more ready it is enough 99 times in 100. Those at least" in said


def test_boards_that_a_setting_would_not_reach_are_not_offered_to_it():
    piled = {"boards": [{**JOB["boards"][0], "readings": ["0.77", "0.76"]}], "target": {"thickness": "3/4"}}
    over = {"did": "test", "setting": "3/4", "scale": "3/4", "thickness": "0.79"}
    assert "Feed the boards all the same" in screen([{**over, "thickness": "0.74"}], **piled)
    assert "Feed the boards all the same" not in screen([over], **piled)
    near = {**piled, "boards": [{**JOB["boards"][0], "readings": ["0.753", "0.752"]}]}
    done = screen([{**over, "thickness": "0.754"}], **near)
    assert "this pass is left out" in done
    assert "<h2>Done</h2>" in done


def test_the_end_says_both_spots_of_a_board_that_is_not_even():
    run = [*ROUGH, {"did": "measure", "board": "A", "readings": ["3/4", "0.7"]}]
    run += [{"did": "remove", "board": name} for name in "BC"]
    assert "0.7 in to 3/4 in, 0.05 in under" in screen(run)


def test_nothing_to_plane_is_not_called_through():
    said = screen([{"did": "retarget", "thickness": "1 1/4"}])
    assert "No board is thicker than the target." in said
    assert "through its last pass" not in said


def test_where_there_is_no_plan_a_board_can_be_taken_out():
    lot = {
        "units": "mm",
        "target": {"thickness": "20", "tolerance": "0.1"},
        "practice": {"cut": "0.9", "finish_cut": "0.8"},
        "planer": {"step": "0.5", "lightest_cut": "0.8"},
        "boards": [{"name": "A", "readings": ["22.4", "22"], "width": "150", "length": "900"}],
    }
    said = screen([{"did": "measure", "board": "A", "readings": ["22.9", "22"]}], **lot)
    assert "There is no plan from here" in said
    assert "Take a board out" in said
    assert "&quot;did&quot;: &quot;remove&quot;" in said


BUTTED = {"cutting": {"ends": "butted"}}
FED = [*ROUGH, *fed_at("13/16")]
RIGHT = {"did": "test", "setting": "25/32", "scale": "25/32", "thickness": "25/32"}


def test_boards_at_one_thickness_are_butted_and_the_others_go_alone():
    assert "Butt end to end" not in screen([*FED, RIGHT])
    assert "Feed each board alone: no two are at one thickness yet." in screen([MEASURED], **BUTTED)
    said = screen([*FED, RIGHT], **BUTTED)
    assert "Butt end to end, in this order: A, B and C." in said
    assert "The others go alone." not in said
    uneven = {"did": "measure", "board": "A", "readings": ["13/16", "0.79"]}
    some = screen([*FED, uneven, RIGHT], **BUTTED)
    assert "Butt end to end, in this order: B and C." in some
    assert "The others go alone." in some
    ticked = {"did": "feed", "setting": "25/32", "scale": "25/32", "boards": ["A"]}
    assert "Butt end to end, in this order: B and C." in screen([*FED, RIGHT, ticked], **BUTTED)


def test_boards_between_scrap_are_told_so():
    said = screen([*FED, RIGHT], cutting={"ends": "guarded"})
    assert "Scrap of the same thickness before the first and behind the last, " in said


def test_boards_alike_are_butted_with_one_another():
    alike = {"boards": [{**JOB["boards"][0], "count": 4}]}
    assert "Butt end to end, in this order: A x4." in screen([*FED, RIGHT], **alike, **BUTTED)


def test_a_board_within_the_tolerance_is_on_target():
    right = {"did": "test", "setting": "3/4", "scale": "3/4", "thickness": "0.753"}
    feed = {"did": "feed", "setting": "3/4", "scale": "3/4"}
    done = screen([*FED, RIGHT, *fed_at("25/32"), right, feed])
    assert "<li><b>A, B, C</b> 0.753 in, on target</li>" in done
    assert "over<" not in done
    dropped = {"did": "remove", "board": "B", "why": "dropped or spoiled"}
    gone = screen([*FED, RIGHT, dropped, *fed_at("25/32"), right, feed])
    assert "<b>A, C</b>" in gone
    assert "<b>B</b> out of the lot: dropped or spoiled" in gone


@pytest.mark.parametrize("before", [Placement(up, leads) for up in "AB" for leads in (1, 2)])
@pytest.mark.parametrize("turn", [turn for turn in Turn if turn is not Turn.AS_IT_LIES])
def test_the_picture_shows_the_grain_as_the_turn_leaves_it_and_the_wrong_turns_against_it(before, turn):
    drawn = re.split(r"<g ", str(turning(before, before.turned(turn))))[1:]
    grain = []
    for one in drawn:
        kind = re.search(r'class="(right|wrong|lies)">', one)[1]
        low, high = map(float, re.search(r'y1="([\d.]+)"[^>]*y2="([\d.]+)" class="grain"', one).groups())
        grain.append((kind, low > high))
    lies, right, *wrong = grain
    assert (lies[0], right[0]) == ("lies", "right")
    assert (lies[1] == right[1]) == turn.keeps_grain
    assert wrong
    assert all(one == ("wrong", not right[1]) for one in wrong)


def test_the_rehearsal_tells_where_the_carts_stand_and_leaves_alone_what_waits():
    before, after, *_ = frames(make_plan(document.read(JOB).job))
    assert "All boards lie on cart 1. Roll it to the infeed as it stands. Cart 2 takes what comes out." in before
    assert "All boards lie on cart 2." in after
    waited = after[after.index("Waited") - 200 : after.index("Waited")]
    assert "<span>7/8</span></span> in, face B up, end 1 first" in waited


def test_each_surprise_is_one_button_of_its_own_words():
    said = screen([])
    assert len({surprise(what).button for what in SIGHTS}) == len(SIGHTS)
    for what in SIGHTS:
        assert html.unescape(said).count(surprise(what).button) == 1
        assert f'"what": "{what}"' in html.unescape(said)


def test_a_surprise_that_names_nothing_seen_is_refused_and_never_taken_for_a_stop():
    for event in ({"did": "see"}, {"did": "see", "what": None}, {"did": "see", "what": "nothing"}):
        request = {"ask": "follow", "job": {**JOB, "run": [event]}}
        [problem] = json.loads(handle(json.dumps(request)))["problems"]
        assert problem["at"] == "run[0].what"
        assert "It can be: tear-out" in problem["text"]


def test_today_s_thickness_stands_beside_the_last_setting_of_a_run_and_one_tap_plans_for_it():
    moist = {
        "service": {"moisture_now": 12, "moisture_then": 7},
        "boards": [{**JOB["boards"][0], "species": "Ash, white"}],
    }
    before = fed_at("15/16", "7/8", "13/16", "25/32")
    assert "plane to" not in screen(before[:-1], **moist)
    said = screen(before, **moist)
    assert "plane to 0.756 in today, for <sup>3</sup>" in said or "plane to 0.756 in today, for 3/4" in said
    [tap] = re.findall(r'data-event="([^"]*retarget[^"]*)"', said)
    event = json.loads(html.unescape(tap))
    assert event == {"did": "retarget", "thickness": "0.756 in"}
    after = screen([*before, event], **moist)
    assert "plane to" not in after
    assert "Undo: target 0.756 in" in after
    dry = {**moist, "service": {"moisture_now": 8, "moisture_then": 7.9}}
    assert "plane to" not in screen(before, **dry)
