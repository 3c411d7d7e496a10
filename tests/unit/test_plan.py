"""The rules of a plan on lots small enough to work by hand."""

import copy
import json
import re
from itertools import pairwise

import pytest
from lots import ask, board, lot, metric, metric_lot, plan, settings
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM


def test_the_worked_lot():
    # Common practice, no source: up to 1 1/64 in, target 3/4 in, cut 1/16 in.
    job = lot(("A", "1 1/64", "1"), ("B", "31/32"))
    assert settings(job) == ["1 in", "15/16 in", "7/8 in", "13/16 in", "25/32 in", "3/4 in"]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("units", "target", "step", "said"),
    [
        ("in", "0.7505", "0.0005", "0.7505 in"),
        ("in", "97/128", "1/128", "97/128 in"),
        ("in", "22 mm", "1/64", "0.866 in (22 mm)"),
        ("mm", "19.125", "0.005", "19.125 mm"),
        ("mm", "1 1/16 in", "1/64 in", "26.99 mm (1 1/16 in)"),
    ],
)
def test_the_last_setting_is_the_target_as_it_was_entered(units, target, step, said):
    thick = {"in": "1.2", "mm": "30"}[units]
    job = lot(("A", thick), target=target, units=units, planer={"step": step})
    assert settings(job)[-1] == said
    text = json.loads(handle(json.dumps({"ask": "text", "job": job})))["text"]
    assert f":  {said}  (finish" in text
    html = json.loads(handle(json.dumps({"ask": "show", "job": job})))["html"]["schedule"]
    shown = re.sub(r"<[^>]+>", "", re.findall(r'<span class="pass-setting">(.*?)</span><svg', html)[-1])
    assert " ".join(shown.replace("(", " (").split()) == said


def codes(job):
    return {note["code"] for note in plan(job)["notes"]}


def test_a_cut_of_1_16_in_is_the_usual_most_and_1_8_in_is_for_a_heavy_planer():
    # Common practice, no source.
    usual = plan(lot(("A", "1 1/8")))["passes"]
    assert max(fed["cut_mm"] for one in usual for fed in one["fed"]) == 25.4 / 16
    assert "deep-cut" not in codes(lot(("A", "1 1/8")))
    heavy = lot(("A", "1 1/8"), practice={"cut": "1/8"})
    assert max(fed["cut_mm"] for one in plan(heavy)["passes"] for fed in one["fed"]) == 25.4 / 8
    assert "deep-cut" in codes(heavy)
    assert "cut-limited" in codes(lot(("A", "1 1/8"), practice={"cut": "3/16"}))


def test_a_cut_under_1_64_in_may_leave_the_marks_of_the_infeed_roller_and_1_32_in_is_safe():
    # Common practice, no source.
    assert "roller-marks" not in codes(lot(("A", "1")))
    assert "roller-marks" not in codes(lot(("A", "1"), planer={"lightest_cut": "1/32"}))
    assert "roller-marks" in codes(lot(("A", "1"), planer={"lightest_cut": "1/128", "step": "1/128"}))
    drops = [one["setting_mm"] for one in plan(lot(("A", "1"), planer={"lightest_cut": "1/32"}))["passes"]]
    assert all(high - low >= 25.4 / 32 - 1e-9 for high, low in pairwise(drops))


def test_the_last_two_passes_take_1_32_in_off_each_side_at_the_slow_feed():
    # Common practice, no source.
    job = lot(("A", "1"), planer={"feeds": ["16 ft/min", "28 ft/min"]})
    last = plan(job)["passes"][-2:]
    assert [one["fed"][0]["cut_mm"] for one in last] == [25.4 / 32] * 2
    assert {one["fed"][0]["up"] for one in last} == {"A", "B"}
    assert all(one["feed_mm_per_s"] == pytest.approx(16 * 304.8 / 60) for one in last)
    assert all(one["stage"] == "finish" for one in last)


def test_one_turn_is_1_16_in_half_1_32_in_and_a_quarter_1_64_in():
    # Common practice, no source.
    job = lot(("A", "1 1/64"), planer={"turn": "1/16"})
    assert [one["turns"] for one in plan(job)["passes"]] == [None, 1, 1, 1, 0.5, 0.5]
    fine = lot(("A", "13/16"), planer={"turn": "1/16"}, practice={"finish_cut": "1/64"})
    assert settings(fine)[-2:] == ["49/64 in", "3/4 in"]
    assert plan(fine)["passes"][-1]["turns"] == 0.25


def test_the_thick_spot_in_the_middle_of_a_board_decides_the_first_setting():
    # Common practice, no source.
    answer = plan(lot(("edges thin", "29/32", "1 1/64", "57/64"), ("even", "31/32")))
    assert answer["decides"] == {"board": "edges thin", "reading": 2, "thick_mm": 25.4 * 65 / 64}
    assert answer["passes"][0]["setting"] == "1 in"


def test_a_board_is_turned_end_for_end_once_its_top_is_clean_and_about_equal_amounts_come_off():
    # Common practice, no source.
    answer = plan(lot(("A", "1", "63/64")))
    ways = [(one["fed"][0]["up"], one["fed"][0]["leads"]) for one in answer["passes"]]
    assert ways == [("B", 1), ("A", 2), ("B", 1), ("A", 2), ("B", 1)]
    taken = answer["boards"][0]["taken_mm"]
    assert abs(taken["A"] - taken["B"]) <= 25.4 / 16


def test_boards_below_the_setting_wait():
    answer = plan(lot(("thick", "1"), ("thin", "7/8")))
    fed = [[one["board"] for one in each["fed"]] for each in answer["passes"]]
    assert fed[0] == ["thick"]
    assert fed[-1] == ["thick", "thin"]


@pytest.mark.parametrize(
    ("readings", "outcome", "short"),
    [
        (["1", "63/64"], "both faces", 0),
        (["1", "49/64"], "one face", 0),
        (["1", "47/64"], "short", 25.4 / 64),
        (["3/4"], "untouched", 0),
        (["23/32"], "untouched", 25.4 / 32),
    ],
)
def test_outcomes(readings, outcome, short):
    answer = plan(lot(("thick", "1 1/32"), ("it", *readings)))
    mine = answer["boards"][1]
    assert (mine["outcome"], mine["short_mm"]) == (outcome, pytest.approx(short))


def test_a_board_of_just_the_second_last_setting_goes_through_once():
    answer = plan(lot(("thick", "1"), ("it", "25/32")))
    assert answer["boards"][1]["outcome"] == "one face"
    assert answer["boards"][1]["taken_mm"]["A"] == 0


def test_the_thickest_target_at_which_all_make_it():
    answer = plan(lot(("A", "1", "63/64"), ("B", "15/16", "49/64"), ("C", "7/8", "23/32")))
    rows = answer["targets"]
    assert rows[0] == {"target_mm": 19.05, "target": "3/4 in", "both_sides": 1}
    assert rows[-1]["both_sides"] == 3
    assert rows[-1]["target"] == "11/16 in"
    again = plan(lot(("A", "1", "63/64"), ("B", "15/16", "49/64"), ("C", "7/8", "23/32"), target="11/16"))
    assert {board["outcome"] for board in again["boards"]} == {"both faces"}
    thicker = plan(lot(("A", "1", "63/64"), ("B", "15/16", "49/64"), ("C", "7/8", "23/32"), target="45/64"))
    assert {board["outcome"] for board in thicker["boards"]} != {"both faces"}


def test_no_target_is_told_for_which_there_is_no_plan():
    # Two light passes are within what A's width lets the motor take; two finish cuts, for any thinner target, are not.
    known = {"width": "6", "depth": "1/32", "feed": "20 ft/min"}
    job = lot(("A", "51/64", "25/32"), ("B", "25/32", "3/4"), planer={"known_cut": known, "lightest_cut": "1/128"})
    job["boards"][0]["width"] = job["boards"][1]["width"] = "8"
    job["planer"]["step"] = "1/128"
    rows = plan(job)["targets"]
    assert [row["both_sides"] for row in rows] == [1]
    assert not ask({**job, "target": {"thickness": "23/32"}})["ok"]
    del job["planer"]["known_cut"]
    assert [row["both_sides"] for row in plan(job)["targets"]] == [1, 2]


def test_nothing_to_cut():
    answer = plan(lot(("A", "3/4")))
    assert answer["passes"] == []
    assert answer["minutes"] == 0
    assert answer["notes"][0]["code"] == "nothing-to-cut"


@pytest.mark.parametrize(
    ("change", "at", "words"),
    [
        ({"planer": {"widest": "5"}}, "boards[0].width", "wider"),
        ({"planer": {"shortest": "50"}}, "boards[0].length", "shorter"),
        ({"planer": {"thinnest": "7/8"}}, "target.thickness", "thinnest"),
        ({"practice": {"finish_cut": "1/8"}}, "practice.finish_cut", "deeper"),
        ({"practice": {"finish_cut": "1/128"}}, "practice.finish_cut", "lighter"),
        ({"planer": {"lightest_cut": "3/32", "deepest_cut": "1/16"}}, "practice.finish_cut", "lighter"),
        ({"planer": {"step": "1/8 in"}}, "planer.step", "finer step"),
        ({"planer": {"step": "0.00001"}}, "planer.step", "too fine"),
        (
            {"planer": {"known_cut": {"width": "1", "depth": "1/64", "feed": "20 ft/min"}}},
            "boards[0].width",
            "proven cut",
        ),
    ],
)
def test_what_is_unsafe_or_impossible_names_the_board_and_the_number(change, at, words):
    answer = ask(lot(("A", "1 1/8"), **change))
    assert not answer["ok"]
    assert answer["problems"][0]["at"] == at
    assert words in answer["problems"][0]["text"]


def test_notes_on_readings_and_marks():
    head = {"speed": "3000 rpm", "knives": 2}
    answer = plan(lot(("A", "1", "7/8"), planer={"head": head, "feeds": ["30 ft/min"]}, practice={"cut": "3/32"}))
    found = {note["code"] for note in answer["notes"]}
    assert {"uneven", "rough-marks", "finish-marks", "deep-cut"} <= found
    [said] = [note["text"] for note in answer["notes"] if note["code"] == "finish-marks"]
    assert said.startswith("Passes 3, 4: no feed of this planer leaves 20 marks per inch. At the slowest it leaves 8.")


def test_a_known_cut_limits_a_wide_board():
    known = {"width": "6", "depth": "1/32", "feed": "16 ft/min"}
    answer = plan(lot(("A", "1"), planer={"known_cut": known, "feeds": ["16 ft/min", "28 ft/min"]}))
    assert all(fed["load"] <= 1 for one in answer["passes"] for fed in one["fed"])
    assert max(fed["cut_mm"] for one in answer["passes"] for fed in one["fed"]) <= 25.4 / 32


def test_a_denser_wood_takes_a_lighter_cut():
    known = {"width": "6", "depth": "1/16", "feed": "20 ft/min", "species": "Pine, eastern white"}
    job = lot(("A", "1"), planer={"known_cut": known})
    job["boards"][0]["species"] = "Oak, white"
    cuts = [fed["cut_mm"] for one in plan(job)["passes"] for fed in one["fed"]]
    assert max(cuts) <= 25.4 / 16 * 0.35 / 0.68


@pytest.mark.parametrize("demo", [DEMO_IN, DEMO_MM])
def test_board_order_does_not_matter(demo):
    turned = copy.deepcopy(demo)
    turned["boards"].reverse()
    first, second = plan(demo), plan(turned)
    assert [one["setting_mm"] for one in first["passes"]] == [one["setting_mm"] for one in second["passes"]]
    assert first["minutes"] == second["minutes"]
    assert first["decides"] == second["decides"]


def test_boards_alike_are_counted_one_by_one():
    alike, single = lot(("A", "1")), lot(("A", "1"), ("B", "1"), ("C", "1"))
    alike["boards"][0]["count"] = 3
    assert plan(alike)["minutes"] == plan(single)["minutes"]


@pytest.mark.parametrize(("thin", "told"), [("15/16", False), ("0.937", True)])
def test_readings_that_differ_by_more_than_one_cut_are_told_and_by_just_one_cut_not(thin, told):
    assert ("uneven" in codes(lot(("A", "1", thin), planer={"deepest_cut": "1/16"}))) is told


@pytest.mark.parametrize(
    ("target", "lightest", "cut", "finish_cut", "thick", "wanted"),
    [
        ("20.1", "0.8", "1.5", "0.8", "21.66", ["20.9 mm", "20.1 mm"]),
        ("20.06", "0.4", "0.85", "0.85", "21.75", ["20.91 mm", "20.06 mm"]),
        ("20", "0.4", "0.8", "1", "21.59", ["20.8 mm", "20 mm"]),
    ],
)
def test_where_half_way_breaks_a_limit_the_evenest_way_that_keeps_it_is_taken(
    target, lightest, cut, finish_cut, thick, wanted
):
    job = metric_lot(
        ("A", thick, "21"),
        target=target,
        planer={"lightest_cut": lightest, "step": "0.1"},
        practice={"cut": cut, "finish_cut": finish_cut},
    )
    assert settings(job) == wanted
    door = handle(json.dumps({"ask": "why", "job": job, "what": "passes[0].setting_mm"}))
    why = json.loads(door)["why"]
    assert "would break a limit" in why["rule"]
    assert why["result"] == wanted[0]


def test_what_is_too_small_for_many_planers_is_never_passed_over():
    short = lot(board("1", length="10"))
    [note] = [one for one in plan(short)["notes"] if one["code"] == "short-board"]
    assert note["at"] == "boards[0].length"
    assert "10 in is under 12 in" in note["text"]
    assert "the distance between the rollers and 2 in more" in note["text"]
    assert "short-board" not in codes(lot(board("1", length="10"), planer={"shortest": "8"}))
    assert "short-board" not in codes(lot(board("1", length="12")))
    assert "wider-than-long" in codes(lot(board("1", length="14", width="15")))
    assert "wider-than-long" not in codes(lot(board("1", length="15", width="15")))
    thin = lot(("A", "1/2"), target="3/16")
    assert "thin-target" in codes(thin)
    assert "thin-target" not in codes({**thin, "planer": {"thinnest": "1/8"}})


def test_what_is_small_is_told_in_millimeters_to_who_works_in_them():
    job = metric_lot(metric("8", width="100", length="250"), target="5")
    texts = [note["text"] for note in plan(job)["notes"]]
    assert any("250 mm is under 300 mm" in text and "50 mm more" in text for text in texts)
    assert any("5 mm is under 6 mm" in text for text in texts)


@pytest.mark.parametrize(("gauge", "told"), [(None, False), ("0.0025", False), ("1/64", True)])
def test_a_gauge_worse_than_half_the_tolerance_is_told_and_blocks_nothing(gauge, told):
    job = lot(("A", "1", "63/64"), practice={"gauge": gauge} if gauge else {})
    assert ("gauge" in codes(job)) is told
