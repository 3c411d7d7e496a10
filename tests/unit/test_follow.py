"""A run at the machine, event by event."""

import copy
import json
from fractions import Fraction

import pytest
from lots import board, lot, metric_lot
from thickset.doors.demo import DEMO_IN
from thickset.ground.job import document
from thickset.ground.notation.lengths import INCH
from thickset.planning.run.follow import begin, follow
from thickset.planning.run.next_step import certainty, next_step, saving_target

LOT = lot(
    ("A", "1 1/64", "1"),
    board("7/8", "55/64", name="B", width="7"),
    planer={"turn": "1/16", "feeds": ["16 ft/min", "28 ft/min"], "head": {"speed": "5000 rpm", "knives": 3}},
)


def state_after(*events, lot=LOT):
    job = copy.deepcopy(lot)
    job["run"] = list(events)
    result = document.read(json.loads(json.dumps(job)))
    assert result.job, result.problems
    return follow(result.job)


def fed(setting, *boards):
    event = {"did": "feed", "setting": setting, "scale": setting}
    return {**event, "boards": list(boards)} if boards else event


def trial(setting, thickness, scale=None):
    return {"did": "test", "setting": setting, "scale": scale or setting, "thickness": thickness}


ROUGH = [fed("1 in"), fed("15/16 in"), fed("7/8 in")]
UPTO_TARGET = [*ROUGH, trial("13/16", "13/16"), fed("13/16"), trial("25/32", "25/32"), fed("25/32")]


def test_a_run_begins_with_the_plan():
    state = state_after()
    step = next_step(state)
    assert (step.kind, step.one.setting, step.turns) == ("test", INCH, None)
    assert step.remaining == (0,)


def test_handle_turns_are_from_where_the_planer_stands():
    assert next_step(state_after(fed("1 in"))).turns == 1


def test_a_checked_pass_wants_a_test_piece_first():
    step = next_step(state_after(*ROUGH))
    assert step.kind == "test"
    assert step.test_piece_least > step.one.setting
    assert step.test_pieces >= 1


def test_a_big_pile_wants_more_than_one_test_piece():
    # Common practice, no source.
    sure = [trial("13/16", "13/16")] * 6
    few = next_step(state_after(*ROUGH, *sure, fed("13/16")))
    pile = {**LOT, "boards": [{**LOT["boards"][0], "count": 20}]}
    many = next_step(state_after(*ROUGH, *sure, fed("13/16"), lot=pile))
    assert (few.kind, few.test_pieces) == ("test", 1)
    assert (many.kind, many.test_pieces) == ("test", 2)


def test_a_right_test_piece_lets_the_boards_in():
    step = next_step(state_after(*ROUGH, trial("13/16", "13/16")))
    assert (step.kind, step.remaining) == ("feed", (0, 1))


def test_a_thick_test_piece_closes_the_planer_by_what_the_scale_is_off():
    state = state_after(*ROUGH, trial("13/16", "53/64"))
    step = next_step(state)
    assert step.kind == "test"
    assert float(step.scale) == pytest.approx((52 / 64 - 1 / 64) * 25.4, abs=0.02)
    assert not step.opens
    assert certainty(state).readings == 1


def test_a_thin_test_piece_on_the_last_setting_spends_the_piece_and_not_a_board():
    state = state_after(*UPTO_TARGET, trial("3/4", "47/64"))
    step = next_step(state)
    assert (step.kind, step.opens) == ("test", True)
    assert step.scale > state.stands
    assert {piece.thick for piece in state.pieces} == {INCH * 25 / 32}


def test_a_scale_that_was_moved_costs_no_more_than_two_test_pieces():
    # Twelve readings say that the scale is right; then somebody knocks it by half a millimetre.
    tall = {**LOT, "units": "mm", "target": {"thickness": "20", "tolerance": "0.13"}}
    tall["boards"] = [{"name": "A", "readings": ["40", "39"], "width": "150", "length": "900"}]
    tall["planer"] = {"turn": "1"}
    events, tries, moved = [], 0, False
    while (step := next_step(state_after(*events, lot=tall))).kind != "done":
        setting, knocked = float(step.one.setting), step.one.setting < 21
        opening = f"{float(step.scale) + 0.5 * knocked:.2f}"
        if step.kind == "test":
            events.append(trial(f"{setting}", opening, f"{float(step.scale)}"))
            tries += 1
            moved = moved or "scale was moved" in " ".join(state_after(*events, lot=tall).said)
        else:
            events.append({"did": "feed", "setting": f"{setting}", "scale": f"{float(step.scale)}"})
            events.append({"did": "check", "thickness": opening})
        assert tries < 10
    state = state_after(*events, lot=tall)
    assert len(state.done) > 12
    assert moved
    assert tries <= 4
    assert state.pieces[0].thick == pytest.approx(20, abs=0.13)


def test_boards_can_be_ticked_off_one_by_one():
    state = state_after(*ROUGH, trial("13/16", "13/16"), fed("13/16", "A"))
    assert next_step(state).remaining == (1,)
    assert next_step(state_after(*ROUGH, trial("13/16", "13/16"), fed("13/16", "A"), fed("13/16", "B"))).one.number == 5


def test_the_run_ends_at_the_target():
    state = state_after(*UPTO_TARGET, trial("3/4", "3/4"), fed("3/4"))
    assert next_step(state).kind == "done"
    assert {piece.thick for piece in state.pieces} == {INCH * 3 / 4}
    assert saving_target(state) is None


def test_an_overshoot_on_a_rough_pass_is_planned_around():
    state = state_after(fed("1 in"), {"did": "check", "thickness": "0.97"})
    step = next_step(state)
    assert step.kind == "feed"
    assert state.pieces[0].thick == INCH * 97 / 100
    assert all(cut.cut <= INCH / 16 for one in state.rest for cut in one.fed)
    assert state.rest[-1].setting == INCH * 3 / 4


def test_a_board_under_the_target_is_named_with_the_target_that_would_save_it():
    state = state_after(*UPTO_TARGET, trial("3/4", "23/32"), fed("3/4"))
    assert next_step(state).kind == "done"
    assert saving_target(state) == INCH * 23 / 32


def test_a_new_target_is_planned_for():
    state = state_after(*ROUGH, {"did": "retarget", "thickness": "5/8"})
    assert state.rest[-1].setting == INCH * 5 / 8


def test_a_removed_board_leaves_the_plan():
    state = state_after({"did": "remove", "board": "A", "why": "dropped"})
    assert next_step(state).one.setting < INCH * 7 / 8
    assert [gone.why for gone in state.gone] == ["dropped"]


REMOVE_B = {"did": "remove", "board": "B"}


def test_a_pass_that_is_given_up_half_way_counts_for_the_boards_that_went_through():
    alike = {**LOT, "boards": [LOT["boards"][0], {**LOT["boards"][0], "name": "B"}]}
    state = state_after(fed("1 in", "A"), REMOVE_B, lot=alike)
    assert [(one.number, one.wanted, one.boards) for one in state.done] == [(1, INCH, (0,))]
    assert next_step(state).one.number == 2
    assert state.went_in(0) == state.pieces[0].placement
    assert next_step(state).turns == 1
    assert state.said == ("Board B is out of the lot.",)


def test_what_did_not_go_through_when_a_pass_is_given_up_goes_to_the_outfeed_cart():
    alike = {**LOT, "boards": [LOT["boards"][0], {**LOT["boards"][0], "name": "B"}]}
    state = state_after(fed("1 in", "A"), {"did": "retarget", "thickness": "0.71"}, lot=alike)
    assert [one.boards for one in state.done] == [(0,)]
    assert "outfeed cart" in " ".join(state.said)


def test_boards_are_where_they_were_fed_whatever_the_plan_has_become_since():
    # The planned cut, and with it the plan, was changed after these passes.
    lighter = {**LOT, "practice": {"cut": "3/64"}}
    state = state_after(*ROUGH, lot=lighter)
    assert [one.wanted for one in state.done] == [INCH, INCH * 15 / 16, INCH * 7 / 8]
    assert state.pieces[0].thick == INCH * 7 / 8
    assert state.rest[-1].setting == INCH * 3 / 4
    half_way = state_after(fed("1 in"), fed("15/16 in", "A"), lot=lighter)
    assert half_way.pieces[0].thick == INCH * 15 / 16
    under = state_after(*ROUGH, lot={**LOT, "target": {"thickness": "57/64"}})
    assert under.pieces[0].thick == INCH * 7 / 8
    assert next_step(under).kind == "done"


def test_a_test_piece_of_another_setting_says_nothing_of_the_one_in_hand():
    state = state_after(*ROUGH, trial("25/32", "25/32"))
    assert next_step(state).kind == "test"


def test_a_check_says_anew_which_boards_are_clean_and_how_thin_they_are():
    lot = {**LOT, "boards": [{**LOT["boards"][0], "readings": ["1 1/64", "0.99"]}]}
    plain = state_after(fed("1 in"), lot=lot)
    assert not plain.pieces[0].top_clean
    deeper = state_after(fed("1 in"), {"did": "check", "thickness": "0.98"}, lot=lot)
    assert deeper.pieces[0].top_clean
    clean = {**lot, "boards": [{**LOT["boards"][0], "readings": ["1 1/64", "1.005"]}]}
    assert state_after(fed("1 in"), lot=clean).pieces[0].top_clean
    proud = state_after(fed("1 in"), {"did": "check", "thickness": "1.01"}, lot=clean)
    assert not proud.pieces[0].top_clean
    assert (proud.pieces[0].thick, proud.pieces[0].thin) == (INCH * Fraction("1.01"), INCH * Fraction("1.005"))


def test_a_check_leaves_a_board_alone_that_was_measured_since():
    measured = {"did": "measure", "board": "A", "readings": ["0.99", "0.97"]}
    state = state_after(fed("1 in"), measured, {"did": "check", "thickness": "1.005"})
    assert state.pieces[0].thick == INCH * Fraction("0.99")


@pytest.mark.parametrize(("off", "side"), [("-0.2", 1), ("0.2", -1)])
def test_a_try_that_was_off_always_moves_the_planer_and_never_the_wrong_way(off, side):
    # Eight readings that scatter weigh so much that the mean with this one would round to the same mark.
    setting = INCH * 13 / 16

    def came_out(by):
        return trial("13/16", f"{float(setting + Fraction(by))} mm")

    state = state_after(*ROUGH, *[came_out("0.1"), came_out("-0.1")] * 4, came_out(off))
    assert next_step(state).kind == "test"
    assert (next_step(state).scale - setting) * side >= Fraction("0.1")


def test_a_clean_board_measured_within_the_tolerance_stays_clean():
    measured = {"did": "measure", "board": "A", "readings": ["0.939", "0.936"]}
    assert state_after(*ROUGH[:2], measured).pieces[0].top_clean
    assert not state_after(*ROUGH[:2], {**measured, "readings": ["0.95", "0.936"]}).pieces[0].top_clean


def test_a_board_measured_thicker_than_the_pass_in_hand_goes_through_it_again():
    alike = {**LOT, "boards": [{**LOT["boards"][0], "name": name} for name in "ABC"]}
    half_way = [fed("1 in", "A"), fed("1 in", "B")]
    thicker = state_after(*half_way, {"did": "measure", "board": "A", "readings": ["1.01", "1"]}, lot=alike)
    assert next_step(thicker).remaining == (0, 2)
    as_it_is = state_after(*half_way, {"did": "measure", "board": "A", "readings": ["1", "0.99"]}, lot=alike)
    assert (as_it_is.fed, next_step(as_it_is).remaining) == ((0, 1), (2,))


def test_a_check_out_of_tolerance_plans_from_what_was_measured():
    state = state_after(*ROUGH[:1], {"did": "check", "thickness": "0.97"})
    first = state.rest[0]
    assert [one.cut for one in first.fed] == [INCH * Fraction("0.97") - first.setting]


def test_a_scale_may_be_off_by_millimetres_but_not_by_an_inch():
    assert len(state_after(*ROUGH[:1], {"did": "check", "thickness": "0.9"}).offs) == 1
    assert state_after(trial("1 in", "2.1 in")).offs == ()


def test_a_board_within_the_tolerance_above_the_target_is_left_alone():
    right = f"{float(INCH * 3 / 4) + 0.1} mm"
    state = state_after(*UPTO_TARGET, trial("3/4", right), fed("3/4"), REMOVE_B)
    assert state.pieces[0].thick > state.job.target
    assert next_step(state).kind == "done"


def test_a_run_without_a_plan_goes_on_when_the_board_is_measured_again():
    tight = {**LOT, "units": "mm", "target": {"thickness": "20", "tolerance": "0.1"}, "practice": {"cut": "0.9"}}
    tight["planer"] = {"step": "0.5", "lightest_cut": "0.8"}
    alike = {"readings": ["22.4", "22"], "width": "150", "length": "900"}
    tight["boards"] = [{"name": "A", **alike}, {"name": "B", **alike}]
    stuck = [
        {"did": "feed", "setting": "21.6", "scale": "21.6", "boards": ["A"]},
        {"did": "measure", "board": "B", "readings": ["22.9", "22"]},
    ]
    assert next_step(state_after(*stuck, lot=tight)).kind == "stuck"
    assert [one.boards for one in state_after(*stuck, lot=tight).done] == [(0,)]
    again = state_after(*stuck, {"did": "measure", "board": "B", "readings": ["22.4", "22"]}, lot=tight)
    assert next_step(again).one.setting == Fraction("21.6")


def test_a_board_measured_anew_is_planned_from_there():
    state = state_after(*ROUGH, {"did": "measure", "board": "B", "readings": ["7/8", "13/16"]})
    assert state.rest[-1].setting == INCH * 3 / 4
    assert next(piece for piece in state.pieces if piece.board == 1).thin == INCH * 13 / 16


@pytest.mark.parametrize("thickness", ["7.5", "1.9"])
def test_a_test_piece_that_no_scale_can_answer_leaves_the_setting_as_it_was(thickness):
    state = state_after(*ROUGH, trial("13/16", f"{thickness} in"))
    assert next_step(state).scale == INCH * 13 / 16


def test_tear_out_swings_a_board_round_once_and_then_lightens_the_cut():
    once = state_after(fed("1 in"), {"did": "see", "what": "tear-out", "board": "A"})
    plain = state_after(fed("1 in"))
    assert once.pieces[0].next_placement().up == plain.pieces[0].next_placement().up
    assert once.pieces[0].next_placement().leads != plain.pieces[0].next_placement().leads
    lies = once.pieces[0].next_placement()
    assert f"the other way next: face {lies.up} up, end {lies.leads} first." in " ".join(once.said)
    sight = {"did": "see", "what": "tear-out", "board": "A"}
    twice = state_after(fed("1 in"), sight, sight)
    assert twice.job.practice.cut < once.job.practice.cut
    assert twice.pieces[0].placement == once.pieces[0].placement


def test_tear_out_at_the_lightest_cut_slows_the_feed_and_at_the_slowest_asks_for_sharp_knives():
    sight = {"did": "see", "what": "tear-out", "board": "A"}
    slow = state_after(fed("1 in"), sight, sight, sight)
    assert {one.feed for one in slow.rest} == {min(slow.job.planer.feeds)}
    last = state_after(fed("1 in"), sight, sight, sight, sight)
    assert last.rest == slow.rest
    assert "sharpened" in " ".join(last.said)


def test_ridges_slow_the_last_passes_and_only_these():
    fast = {**LOT, "planer": {**LOT["planer"], "head": {"speed": "5000 rpm", "knives": 3, "marking_knives": 3}}}
    before = state_after(lot=fast)
    assert {one.feed for one in before.rest} == {max(before.job.planer.feeds)}
    state = state_after({"did": "see", "what": "ridges"}, lot=fast)
    slowest, fastest = state.job.planer.feeds
    assert [one.feed for one in state.rest] == [fastest if one.stage == "rough" else slowest for one in state.rest]
    assert "the last passes run at the slowest feed, 16 ft/min" in " ".join(state.said)
    again = state_after(*[{"did": "see", "what": "ridges"}] * 2, lot=fast)
    assert again.rest == state.rest
    assert "slowest feed already" in " ".join(again.said)


def test_roller_marks_raise_the_lightest_cut():
    state = state_after({"did": "see", "what": "roller marks"})
    assert state.job.planer.lightest_cut == INCH / 32
    drops = [a.setting - b.setting for a, b in zip(state.rest, state.rest[1:], strict=False)]
    assert min(drops) >= INCH / 32


def test_a_bogging_motor_lowers_the_known_cut():
    state = state_after(fed("1 in"), {"did": "see", "what": "bog"})
    known = state.job.planer.known_cut
    assert known.depth == INCH / 16 * 3 / 4
    assert "3/64 in off 6 in of width at 28 ft/min is the most" in " ".join(state.said)
    assert all(cut.load <= 1 for one in state.rest for cut in one.fed)


@pytest.mark.parametrize("depth", ["1/32", "1/8", "1/4"])
def test_what_bogged_is_planned_lighter_however_much_was_known_to_go(depth):
    known = {**LOT["planer"], "known_cut": {"width": "6", "depth": depth, "feed": "28 ft/min"}, "step": "1/128"}
    lot = {**LOT, "planer": known}
    before = state_after(fed("1 in"), lot=lot)
    state = state_after(fed("1 in"), {"did": "see", "what": "bog"}, lot=lot)
    assert "is the most" in " ".join(state.said)

    def hardest(state):
        return max(fed.cut * state.job.boards[fed.board].width * state.rest[0].feed for fed in state.rest[0].fed)

    assert hardest(state) <= hardest(before) * 3 / 4


def test_what_bogs_and_leaves_no_room_for_the_finish_cut_lightens_it():
    alike = {"readings": ["24", "23.8"], "width": "150", "length": "900"}
    lot = {**LOT, "units": "mm", "target": {"thickness": "20"}, "boards": [{"name": "A", **alike}], "planer": {}}
    lot["practice"] = {"cut": "1"}
    state = state_after({"did": "see", "what": "bog"}, lot=lot)
    assert state.job.practice.finish_cut == Fraction("0.4")
    assert max(cut.load for one in state.rest for cut in one.fed) <= 1
    assert "finish cuts are 0.4 mm" in " ".join(state.said)


def test_what_leaves_no_way_on_is_refused_with_the_reason():
    stubborn = state_after(*[{"did": "see", "what": "bog"}] * 12)
    assert next_step(stubborn).kind == "test"
    assert any("stays as it is" in line for line in stubborn.said)
    assert "From now on" not in " ".join(stubborn.said)
    thin = {**LOT, "planer": {"thinnest": "1/4"}}
    kept = state_after({"did": "retarget", "thickness": "1/8"}, lot=thin)
    assert kept.rest[-1].setting == INCH * 3 / 4
    assert any("thinnest" in line for line in kept.said)


@pytest.mark.parametrize("what", ["dents", "stop"])
def test_what_changes_nothing_gives_advice(what):
    state = state_after({"did": "see", "what": what})
    assert state.rest == state_after().rest
    assert state.said


@pytest.mark.parametrize(
    ("event", "at"),
    [
        ({"did": "fly"}, "run[0].did"),
        ({"did": "remove", "board": "Z"}, "run[0].board"),
        ({"did": "test", "setting": "1", "scale": "1"}, "run[0].thickness"),
        ({"did": "see", "what": "smoke"}, "run[0].what"),
        ({"did": "feed", "setting": "1", "scale": "1", "speed": 3}, "run[0].speed"),
        ("feed", "run[0].did"),
    ],
)
def test_a_damaged_run_names_its_event(event, at):
    problems = document.read({**LOT, "run": [event]}).problems
    assert [problem.at for problem in problems] == [at]


def test_without_surprises_the_run_is_the_plan():
    job = document.read(DEMO_IN).job
    plan = begin(job).rest
    events = []
    settings = []
    while (step := next_step(state_after(*events, lot=DEMO_IN))).kind != "done":
        words = f"{step.one.setting / INCH} in"
        if step.kind == "test":
            events.append(trial(words, words))
        else:
            settings.append(step.one.setting)
            events.append(fed(words))
    assert settings == [one.setting for one in plan]


@pytest.mark.parametrize(("reading", "through"), [("0.755", True), ("0.7551", False)])
def test_a_board_measured_just_the_tolerance_above_the_target_is_done(reading, through):
    everything = [*UPTO_TARGET, trial("3/4", "3/4"), fed("3/4")]
    state = state_after(*everything, {"did": "measure", "board": "A", "readings": [reading]})
    assert state.is_through() is through


@pytest.mark.parametrize(("offset", "scale"), [("0.12", "21.9"), ("0.13", "21.87")])
def test_a_corrected_scale_stands_on_a_mark_within_a_quarter_of_the_tolerance(offset, scale):
    """Nobody sets a planer finer than that between two marks; common practice, no source."""
    record = {"offset": offset, "offset_worth": 4, "spread": 0.02, "spread_worth": 20}
    lot = metric_lot(
        ("A", "23"),
        tolerance="0.1",
        planer={"step": "0.1", "record": record},
        practice={"finish_cut": "1", "near": "0"},
    )
    assert next_step(state_after(lot=lot)).scale == Fraction(scale)


@pytest.mark.parametrize(("came_out", "following"), [("0.8175", "25/32"), ("0.818", "13/16")])
def test_an_opening_off_by_just_the_tolerance_keeps_the_plan_to_the_letter(came_out, following):
    """One that is further off leaves the boards above the first of the fixed settings, which is then gone down to anew (rule 1)."""
    state = state_after(*ROUGH, trial("13/16", came_out), fed("13/16"))
    assert state.rest[0].setting == Fraction(following) * INCH
    assert (state.rest[0].number, state.rest[-1].setting) == (5, Fraction(3, 4) * INCH)


@pytest.mark.parametrize(("lightest", "after"), [("3/64", "1/16"), ("1/16", "1/16")])
def test_after_roller_marks_the_lightest_cut_may_be_as_deep_as_the_planned_one(lightest, after):
    lot = {**LOT, "planer": {**LOT["planer"], "lightest_cut": lightest}, "practice": {"finish_cut": "1/16"}}
    state = state_after({"did": "see", "what": "roller marks"}, lot=lot)
    assert state.job.planer.lightest_cut == Fraction(after) * INCH
    assert state.rest


@pytest.mark.parametrize(
    ("gauge", "came_out", "verdict"),
    [
        ("0", "0.755", "right"),
        ("0.001", "0.7545", "thick"),
        ("0.001", "0.746", "right"),
        ("1/64", "0.7525", "right"),
        ("1/64", "0.753", "thick"),
    ],
)
def test_a_gauge_narrows_what_counts_as_right_and_leaves_half_of_the_tolerance(gauge, came_out, verdict):
    """Guard band of ISO 14253-1 and JCGM 106, from memory."""
    state = state_after(*UPTO_TARGET, trial("3/4", came_out), lot={**LOT, "practice": {"gauge": gauge}})
    assert state.tries[-1].verdict == verdict


KNOWN = {"offset": 0.1, "offset_worth": 1, "spread": 0.05, "spread_worth": 5, "runs": 1, "fed": 1}
FOUR = metric_lot(
    ("A", "26.4", "27.1"), ("B", "25.8", "26"), ("C", "27.6", "27"), ("D", "26.9", "26.2"), target="18", tolerance="0.1"
)
FOUR["planer"] = {"record": KNOWN}


def in_hand(thickness, number=7):
    """Of FOUR, the run up to this pass with A through it and measured."""
    run = []
    while (step := next_step(state_after(*run, lot=FOUR))).one.number < number or step.kind == "test":
        setting, scale = str(float(step.one.setting)), str(float(step.scale))
        run.append(trial(setting, setting, scale) if step.kind == "test" else {**fed(setting), "scale": scale})
    setting, scale = str(float(step.one.setting)), str(float(step.scale))
    through = {**fed(setting, "A"), "scale": scale}
    return [*run, through, {"did": "check", "setting": setting, "thickness": thickness}]


def test_a_board_measured_in_its_pass_is_of_that_pass_and_within_the_tolerance_it_goes_on():
    run = in_hand("18.9")
    before, state = state_after(*run[:-1], lot=FOUR), state_after(*run, lot=FOUR)
    assert (state.said, state.rest, state.done) == ((), before.rest, before.done)
    assert state.offs[-1] == Fraction("18.9") - before.stands
    assert next_step(state).scale == before.stands
    assert next_step(state).remaining == (1, 2, 3)
    through = state_after(*run, {**fed("18.8"), "scale": str(float(before.stands))}, lot=FOUR)
    assert through.done[-1].opening == Fraction("18.9") == max(piece.thick for piece in through.pieces)
    assert [float(one.setting) for one in through.rest] == [18]


def test_what_came_out_thick_in_the_pass_in_hand_goes_once_more_and_never_at_a_scale_opened_for_it():
    run = in_hand("24.4", 3)
    state = state_after(*run, lot=FOUR)
    step = next_step(state)
    assert (step.kind, step.one.number, float(step.one.setting), state.fed) == ("feed", 3, 24.1, ())
    assert step.scale < state.stands
    assert step.remaining == (0, 1, 2, 3)
    assert state.back_again() == (0,)
    assert state.said[-1].endswith("came out 0.3 mm too thick. Set the planer anew. Then they go through once more.")
    through = state_after(*run, {**fed("24.1"), "scale": str(float(step.scale))}, lot=FOUR)
    assert {float(piece.thick) for piece in through.pieces} == {24.1}


def test_what_came_out_thin_in_the_pass_in_hand_is_told_and_the_others_follow_at_their_setting():
    run = in_hand("23.8", 3)
    state = state_after(*run, lot=FOUR)
    step = next_step(state)
    assert (step.one.number, float(step.one.setting), step.remaining, state.fed) == (3, 24.1, (1, 2, 3), (0,))
    assert step.scale > state.stands
    through = state_after(*run, {**fed("24.1"), "scale": str(float(step.scale))}, lot=FOUR)
    assert [float(piece.thick) for piece in through.pieces] == [23.8, 24.1, 24.1, 24.1]


@pytest.mark.parametrize(("thickness", "remaining"), [("19.1", (0, 1, 2, 3)), ("18.5", (1, 2, 3))])
def test_a_checked_pass_that_came_out_wrong_wants_a_test_piece_again(thickness, remaining):
    state = state_after(*in_hand(thickness), lot=FOUR)
    step = next_step(state)
    assert (step.kind, step.one.number, step.remaining) == ("test", 7, remaining)


@pytest.mark.parametrize(("thickness", "remaining"), [("18.3", (0, 1, 2, 3)), ("17.8", (1, 2, 3))])
def test_the_last_pass_goes_on_to_its_target_too(thickness, remaining):
    run = in_hand(thickness, 8)
    step = next_step(state_after(*run, lot=FOUR))
    assert (step.kind, step.one.number, float(step.one.setting), step.remaining) == ("test", 8, 18, remaining)
    scale = str(float(step.scale))
    done = state_after(*run, trial("18", "18", scale), {**fed("18"), "scale": scale}, lot=FOUR)
    assert done.is_through()
    assert [float(piece.thick) for piece in done.pieces] == [min(float(thickness), 18), 18, 18, 18]


def test_a_check_without_a_setting_is_of_the_pass_before_as_in_older_runs():
    run = in_hand("19.6")
    older = [*run[:-1], {"did": "check", "thickness": "19.6"}]
    state = state_after(*older, lot=FOUR)
    assert (state.offs[-1], state.fed) == (Fraction("19.6") - state.done[-1].scale, (0,))
    assert float(state.done[-1].wanted) == 19.6


def test_a_reading_in_a_pass_that_leaves_no_board_for_it_ends_it():
    thinner = {"did": "measure", "board": "B", "readings": ["18.85"]}
    run = in_hand("18.9")
    gone = [{"did": "remove", "board": name} for name in "CD"]
    state = state_after(*run[:-1], thinner, *gone, run[-1], lot=FOUR)
    assert (state.done[-1].number, state.rest[0].number, state.fed) == (7, 8, ())
