"""Before the first cut and after the last: ends, parts, support, butting, forms, outcome and record."""

import json
import re
from dataclasses import replace
from fractions import Fraction

import pytest
from lots import fed_at, lot, metric, metric_lot
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN
from thickset.doors.forms import Form
from thickset.faces.run.report import after, cut_off, report, summary
from thickset.faces.run.results import results
from thickset.ground.job import document
from thickset.planning.passes.model import Feeding
from thickset.planning.passes.planner import make_plan
from thickset.planning.passes.scale import prior
from thickset.planning.run.follow import begin, follow
from thickset.planning.run.report import finals_of, learned
from thickset.planning.run.snipe import feedings_in, feedings_of, lost_ends, planned_feedings, sniped, trains
from thickset.planning.stock.leaving import butted_minutes, feeding_order, rough_lengths
from thickset.planning.stock.parts import cutting_plan
from thickset.planning.stock.rescue import parts_of, shorter_part
from thickset.trade.caliper import Belief, update

F = Fraction
PLANER = {"feeds": ["6 m/min"], "snipe": {"lead": "80", "trail": "50"}, "shortest": "300"}


def ask(what, **more):
    return json.loads(handle(json.dumps({"ask": what, **more})))


LOT = metric_lot(
    ("A", "24.4", "24"),
    metric("22", "21.8", name="B", length="2000"),
    metric("23", "22.8", name="C", length="1500"),
    planer=PLANER,
)


def job_of(**changes):
    result = document.read({**LOT, **changes})
    assert result.job, result.problems
    return result.job


def ends(plan, how):
    return [(int(lost.end_1), int(lost.end_2)) for lost in lost_ends(plan, how)]


def test_a_board_planed_on_both_sides_loses_the_longer_snipe_at_both_ends():
    plan = make_plan(job_of())
    assert ends(plan, "alone") == [(80, 80)] * 3
    assert ends(plan, "guarded") == [(0, 0)] * 3


def test_a_board_planed_on_one_side_loses_each_snipe_at_its_own_end():
    boards = [{"name": "A", "readings": ["20.5", "20.5"], "width": "150", "length": "1000"}]
    assert ends(make_plan(job_of(boards=boards)), "alone") == [(80, 50)]


def test_butted_boards_keep_snipe_on_the_first_and_the_last_only():
    plan = make_plan(job_of())
    assert feeding_order(plan) == (0, 2, 1), "thick to thin"
    lost = ends(plan, "butted")
    assert lost[2] == (0, 0), "what it got going alone is planed away"
    assert lost[0] == (80, 80), "the first, turned between the passes"
    assert lost[1] == (50, 50), "the last, turned between the passes"


@pytest.mark.parametrize(("finish_cut", "stays"), [("0.8", False), ("1/32 in", False), ("0.79", True)])
def test_a_later_finish_cut_of_a_thirty_second_of_an_inch_planes_snipe_away(finish_cut, stays):
    """Both defaults do, in an inch lot and in one in mm: snipe is no deeper than 1/32 in (common practice, no source)."""
    plan = make_plan(job_of(practice={"finish_cut": finish_cut}, planer={**PLANER, "step": "0.01"}))
    assert (ends(plan, "butted")[2] != (0, 0)) is stays


def test_an_end_that_keeps_its_length_is_said_to_lose_nothing():
    boards = [{"name": name, "readings": ["20.5"], "width": "150", "length": "1000"} for name in "ABC"]
    plan = make_plan(job_of(boards=boards, planer={"snipe": {"trail": "50"}}))
    assert list(cut_off(plan.job, planned_feedings(plan))) == ["Boards A, B and C: nothing at end 1, 50 mm at end 2"]


def test_an_uneven_board_goes_alone_and_its_snipe_stays_until_it_is_planed_away():
    boards = [
        {"name": "A", "readings": ["22", "22"], "width": "150", "length": "1000"},
        {"name": "B", "readings": ["22", "19"], "width": "150", "length": "1000"},
        {"name": "C", "readings": ["22", "22"], "width": "150", "length": "1000"},
    ]
    plan = make_plan(job_of(boards=boards))
    ways = planned_feedings(plan)
    last = [way for way in ways if way.number == ways[-1].number]
    assert [[way.board for way in train] for train in trains(plan.job, last)] == [[0], [1], [2]]
    assert ends(plan, "butted")[1] == ends(plan, "alone")[1]


def test_of_a_pile_that_is_butted_only_the_first_and_the_last_piece_keep_snipe():
    boards = [{"name": "A", "readings": ["24", "24"], "width": "150", "length": "1000", "count": 8}]
    plan = make_plan(job_of(boards=boards, cutting={"ends": "butted"}))
    (pieces,) = sniped(plan.job, planned_feedings(plan), "butted")
    lost = {one.which: (one.count, int(one.lost(plan.job).end_1), int(one.lost(plan.job).end_2)) for one in pieces}
    assert lost == {"the first": (1, 80, 80), "the last": (1, 50, 50), "those between": (6, 0, 0)}
    said = list(cut_off(plan.job, feedings_of(plan)))
    assert said == [
        "Board A (the first): 80 mm at end 1, 80 mm at end 2",
        "Board A (the last): 50 mm at end 1, 50 mm at end 2",
    ]


def test_of_a_pile_that_is_butted_the_pieces_between_give_whole_parts_and_a_board_that_left_gives_none():
    boards = [{"name": "A", "readings": ["24", "24"], "width": "150", "length": "1000", "count": 4}]
    parts = [{"name": "rail", "length": "990", "count": 4}]
    whole = job_of(boards=boards, cutting={"ends": "butted", "kerf": "3"}, parts=parts)
    made = cutting_plan(make_plan(whole))
    assert [(one.which, one.count) for one in made.sawn] == [("those between", 2)]
    assert made.missing == (2,), "the first and the last piece keep snipe"
    run = [{"did": "remove", "board": "A", "why": "split"}]
    gone = cutting_plan(make_plan(job_of(boards=boards, cutting={"kerf": "3"}, parts=parts, run=run)))
    assert gone.sawn == ()


def test_butting_saves_the_shorter_of_handling_and_running_of_boards_at_one_thickness():
    plan = make_plan(job_of())
    saved, planed = F(0), {}
    for one in plan.passes:
        handle_minutes = F(8, 60)
        # Each of these boards is even after its first pass, and then as thick as the setting before.
        alike = [fed.board for fed in one.fed if fed.board in planed]
        runs = [plan.job.boards[board].length / 1000 / one.feed for board in alike]
        if runs:
            saved += sum(handle_minutes + run for run in runs) - handle_minutes
            saved -= sum(max(handle_minutes, run) for run in runs)
        planed |= {fed.board: True for fed in one.fed if fed.clean}
    assert plan.minutes - butted_minutes(plan) == saved > 0


def test_what_is_cut_off_follows_the_passes_that_were_fed():
    boards = [{"name": "A", "readings": ["22", "22"], "width": "150", "length": "1000"}]
    job = job_of(boards=boards)
    state = begin(job)
    run, lines = [], []
    while state.rest:
        setting = str(float(state.rest[0].setting))
        run.append({"did": "feed", "setting": setting, "scale": setting})
        state = follow(job_of(boards=boards, run=run))
        lines.append(list(cut_off(state.job, feedings_in(state))))
    assert len(run) > 1
    # One pass at the target, all at once: the board is never turned, and each end has its own snipe.
    once = [run[0], {"did": "check", "thickness": "20"}]
    told = list(cut_off(job_of(boards=boards, run=once), feedings_in(follow(job_of(boards=boards, run=once)))))
    assert lines[-1] == ["Board A: 80 mm at end 1, 80 mm at end 2"]
    assert told == ["Board A: 80 mm at end 1, 50 mm at end 2"]


def test_rough_lengths_allow_for_snipe_and_the_shortest_board():
    job = job_of(parts=[{"name": "rail", "length": "600"}, {"name": "block", "length": "70", "count": 9}])
    rail, block = rough_lengths(job, "alone")
    assert (rail.parts_in_one, int(rail.length)) == (1, 760)
    # 160 of snipe, and 300 is the shortest: two in one, 70 + 3 + 70, make 303.
    assert (block.parts_in_one, int(block.length), block.held) == (2, 303, True)
    assert [int(one.length) for one in rough_lengths(job, "guarded")] == [600, 362]


def test_parts_keep_clear_of_snipe_and_defects():
    boards = [
        {
            "name": "A",
            "readings": ["24.4", "24"],
            "width": "150",
            "length": "1000",
            "defects": [{"from": "400", "to": "450"}],
        },
        {"name": "B", "readings": ["22", "19"], "width": "150", "length": "2000"},
    ]
    job = job_of(boards=boards, parts=[{"name": "x", "length": "300", "count": 3}])
    made = cutting_plan(make_plan(job))
    assert made.left_out == (1,)
    assert made.missing == (1,)
    (sawn,) = made.sawn
    assert [(int(p.start), int(p.end)) for p in sawn.parts] == [(80, 380), (450, 750)]
    assert made.proved


def test_the_kerf_stands_between_parts():
    boards = [{"name": "A", "readings": ["24"], "width": "150", "length": "603", "count": 2}]
    job = job_of(boards=boards, planer={}, parts=[{"length": "300", "count": 4}])
    (sawn,) = cutting_plan(make_plan(job)).sawn
    assert sawn.count == 2
    assert [(int(p.start), int(p.end)) for p in sawn.parts] == [(0, 300), (303, 603)]


RUN = [
    *fed_at("22"),
    {"did": "measure", "board": "A", "readings": ["20.05", "19.95"]},
    {"did": "measure", "board": "B", "readings": ["20", "20", "19.5"]},
]


def test_after_the_run_the_worst_board_and_those_out_of_tolerance_are_named():
    job = job_of(run=RUN)
    made = finals_of(job)
    assert made.spread == F("0.55")
    assert made.worst == 1
    assert [one.good for one in made.finals] == [True, False]
    assert [int(spot) for spot in shorter_part(made.finals[1], job)] == [0, 1333]
    later = finals_of(replace(job, run=(*job.run, job.run[0])))
    assert later.finals == ()


def test_what_was_learned_is_the_caliper_s_say_and_the_next_job_starts_from_it():
    setting = {"setting": "21", "scale": "21"}
    run = [*fed_at("23"), {"did": "check", "thickness": "23.2"}]
    job = job_of(run=run)
    record = learned(job)
    believed = update(prior(job_of()), [0.2])
    assert float(record.offset) == pytest.approx(believed.offset, abs=1e-6)
    assert record.runs == 1
    assert record.fed == 1
    told = ask("learn", job={**LOT, "run": run})["record"]
    after = job_of(planer={**PLANER, "record": told})
    assert follow(after).belief.offset == pytest.approx(believed.offset, abs=1e-6)
    again = learned(job_of(planer={**PLANER, "record": told}, run=run))
    assert again.runs == 2
    assert abs(float(again.offset) - 0.2) < abs(believed.offset - 0.2) + 1e-9
    assert learned(job_of(run=[{"did": "feed", **setting}])) is None


def test_a_run_that_is_through_has_fed_boards_though_nothing_was_measured():
    run = []
    while rest := follow(job_of(run=run)).rest:
        setting = str(float(rest[0].setting))
        run.append({"did": "feed", "setting": setting, "scale": setting})
        if len(rest) > 1:
            assert learned(job_of(run=run)) is None
    record = learned(job_of(run=run))
    fed = sum(
        way.number > 0 and float(job_of().boards[way.board].length) for way in planned_feedings(make_plan(job_of()))
    )
    assert float(record.fed) == fed / 1000
    assert (
        record.runs,
        follow(job_of(planer={**PLANER, "record": ask("learn", job={**LOT, "run": run})["record"]})).belief,
    ) == (
        0,
        prior(job_of()),
    )


def test_a_planer_learns_onto_what_is_known_of_it_by_now():
    run = [*fed_at("23"), {"did": "check", "thickness": "23.2"}]
    newer = {"offset": 0.1, "offset_worth": 4, "spread": 0.05, "spread_worth": 6, "runs": 7, "fed": 100}
    told = ask("learn", job={**LOT, "run": run}, record=newer)["record"]
    by_hand = update(Belief(0.1, 4, 0.05, 6), [0.2])
    assert told["offset"] == pytest.approx(by_hand.offset, abs=1e-6)
    assert (told["runs"], told["fed"]) == (8, 101)
    damaged = ask("learn", job={**LOT, "run": run}, record={**newer, "spread": -1})
    assert damaged["problems"][0]["at"] == "planer.record.spread"


def test_will_this_board_make_it():
    board = {"length": "2000", "width": "150", "middle": "27", "bow": "6", "part_thickness": "22"}
    answer = ask("slab", units="mm", board=board)
    assert answer["slab"]["whole_mm"] == pytest.approx(21)
    assert answer["slab"]["makes_it"] is False
    shorter = ask("slab", units="mm", board={**board, "part_length": "1000"})
    assert shorter["slab"]["part_mm"] == pytest.approx(25.5, abs=0.01)
    assert shorter["slab"]["makes_it"] is True
    hollow = ask("slab", units="mm", board={**board, "bow": "-6"})
    assert hollow["slab"]["whole_mm"] == pytest.approx(21)


def test_a_slab_form_says_all_that_is_missing_or_wrong():
    at = [problem["at"] for problem in ask("slab", units="in", board={"bow": "wide"})["problems"]]
    assert at == ["board.length", "board.width", "board.middle", "board.bow", "board.part_thickness"]
    too_long = ask(
        "slab",
        units="mm",
        board={"length": "900", "width": "100", "middle": "27", "part_thickness": "20", "part_length": "950"},
    )
    assert too_long["ok"] is False
    assert ask("slab")["ok"] is False


def test_what_to_buy_by_quarters_and_by_millimeters():
    inch = ask("buy", units="in", need={"thickness": "3/4"})
    # 3/4 + 3/32 + 3/32 is just 15/16, what scant 4/4 may measure.
    assert inch["buy"][0]["size"] == "4/4"
    assert inch["buy"][0]["spare_mm"] == pytest.approx(0, abs=1e-9)
    metric = ask(
        "buy",
        units="mm",
        need={"thickness": "20", "width": "100", "length": "1000", "count": "10", "waste": "25", "rate": "1200"},
    )
    assert metric["buy"][0]["size"] == "27"
    # 27 x 100 x 1000 mm x 10 = 0.027 m3, a quarter wasted: 0.036.
    assert "0.0360 m³" in metric["html"]["buy"]
    assert "43.20" in metric["html"]["buy"]
    assert ask("buy", units="in", need={})["problems"][0]["at"] == "need.thickness"


def test_all_that_the_page_shows_of_the_example():
    planer = {**DEMO_IN["planer"], "table": "14"}
    html = ask("more", job={**DEMO_IN, "planer": planer, "parts": [{"name": "shelf", "length": "30", "count": 4}]})[
        "html"
    ]
    assert set(html) == {"time", "split", "leave", "support", "butting", "after"}
    assert "thrown" in html["butting"]
    # 38 in of board less 14 in of table: more than half hangs over.
    assert "hangs over by up to 24 in" in html["support"]
    assert "never pulls" in html["support"]


def test_a_part_wider_than_its_board_is_not_cut_from_it():
    def made(width):
        job = metric_lot(
            metric("24", name="A", width="100"),
            metric("24", name="B", length="1200"),
            parts=[{"name": "rail", "length": "900", "count": 1, "width": width}],
        )
        answer = json.loads(handle(json.dumps({"ask": "parts", "job": job})))
        return [one["board"] for one in answer["parts"]["boards"]], answer["html"]["leave"]

    assert made("100")[0] == made(None)[0] == ["A"]
    assert made("101")[0] == ["B"]
    boards, said = made("151")
    assert boards == []
    assert "rail is 151 mm wide, and no board that reaches the target is." in said


def test_what_was_measured_is_read_before_it_becomes_part_of_a_run():
    def event(units="in", boards=("A", "B"), **event):
        return ask("event", units=units, boards=list(boards), event=event)

    assert event(did="measure", board="A", readings=["3/4", "0.745"], places=["end 1 left", "middle center"])["ok"]
    bad = event(did="measure", board="A", readings=["3/4", "1/0", "wide"], places=["end 1 left"])
    assert [one["at"] for one in bad["problems"]] == ["event.readings[1]", "event.readings[2]"]
    for one in bad["problems"]:
        label, _, said = one["text"].partition(": ")
        assert label.startswith("Run")
        assert one["short"] == said[0].upper() + said[1:]
        assert "Write" in one["text"]
    assert [one["at"] for one in event(did="snipe", lead="2", trail="1/0")["problems"]] == ["event.trail"]
    assert [one["at"] for one in event(did="check", thickness="x")["problems"]] == ["event.thickness"]
    assert event(did="measure", board="Z", readings=["3/4"])["problems"][0]["at"] == "event.board"
    assert ask("event")["problems"][0]["at"] == "event.did"
    assert ask("event", units=7, boards="A", event=[])["ok"] is False


def test_a_defect_narrower_than_the_kerf_costs_the_kerf():
    boards = [
        {"name": "A", "readings": ["24"], "width": "100", "length": "1000", "defects": [{"from": "500", "to": "501"}]}
    ]
    parts = [{"name": "x", "length": "500"}, {"name": "y", "length": "499"}]
    cutting = {"kerf": "3", "trim": "0 mm"}
    made = cutting_plan(make_plan(job_of(boards=boards, parts=parts, cutting=cutting, planer={})))
    assert sum(made.missing) == 1
    (one,) = made.sawn
    assert [(float(part.start), float(part.end)) for part in one.parts] == [(0, 500)]


def test_thin_is_worse_than_thick_as_thick_can_be_fed_once_more():
    run = [{"did": "measure", "board": "A", "readings": ["20.3", "19.75", "20"]}]
    job = job_of(run=run, target={"thickness": "20", "tolerance": "0.1 mm"})
    (final,) = finals_of(job).finals
    assert float(final.off) == -0.25
    assert parts_of(final, job)
    html = after(make_plan(job))
    assert "0.25 mm too thin" in html
    assert "elsewhere 0.30 mm too thick" in html


def test_nothing_is_cut_off_a_board_that_left_the_lot():
    run = [{"did": "remove", "board": "C", "why": "split"}]
    plan = make_plan(job_of(run=run))
    assert "Board C:" not in " ".join(cut_off(plan.job, feedings_of(plan)))
    assert "and C" not in " ".join(cut_off(plan.job, feedings_of(plan)))
    assert "taken out" in report(plan)


@pytest.mark.parametrize(
    ("finished", "said"),
    [
        ("3/4", "4/4 measures 13/16 in: 1/16 in over the finished thickness"),
        ("13/16", "4/4 measures 13/16 in: nothing over"),
        ("7/8", "5/4 measures 1 1/16 in"),
        ("2", "10/4 measures 2 1/4 in"),
        ("3.76", "no size is thick enough"),
    ],
)
def test_what_is_bought_surfaced_is_told_by_its_surfaced_thickness(finished, said):
    asked = {"ask": "buy", "units": "in", "need": {"thickness": finished, "jointing": "0", "planing": "0"}}
    html = json.loads(handle(json.dumps(asked)))["html"]["buy"]
    text = re.sub(r"<[^>]*>", "", html)
    assert said in text


def test_metric_stock_has_52_mm_and_says_that_it_is_not_the_standard_s():
    asked = {"ask": "buy", "units": "mm", "need": {"thickness": "49", "jointing": "0", "planing": "0"}}
    answer = json.loads(handle(json.dumps(asked)))
    assert answer["buy"][0]["size"] == "52"
    assert "Many yards keep 52 mm beside the standard" in answer["html"]["buy"]


SLAB = {"length": "36", "width": "6", "middle": "1", "part_thickness": "3/4"}


@pytest.mark.parametrize(
    ("more", "at", "said"),
    [
        ({"part_length": "40"}, "board.part_length", "Part, length: the board is 36 in."),
        ({"part_width": "8"}, "board.part_width", "Part, width: the board is 6 in."),
        ({"cup": "4"}, "board.cup", "half the width of the board, 3 in."),
        ({"bow": "-19"}, "board.bow", "half the length of the board, 18 in."),
        ({"twist": "7"}, "board.twist", "the width of the board, 6 in."),
    ],
)
def test_what_is_too_large_for_a_rough_board_is_told_at_its_field_in_the_form_s_units(more, at, said):
    answer = ask("slab", units="in", board={**SLAB, **more})
    assert [one["at"] for one in answer["problems"]] == [at]
    assert said in answer["problems"][0]["text"]


def test_thickness_is_measured_across_and_the_place_is_told_from_the_left_edge():
    board = {"length": "900", "width": "160", "part_thickness": "20", "part_width": "40"}
    board |= {"end_1": "22", "end_1_left": "18", "middle": "22", "middle_left": "18", "end_2": "22", "end_2_left": "18"}
    answer = ask("slab", units="mm", board=board)
    assert answer["slab"]["makes_it"]
    assert answer["slab"]["from_edge_mm"] >= 60
    assert "from the left edge" in answer["html"]["slab"]
    flat = ask("slab", units="mm", board={**board, "part_width": "160"})
    assert flat["slab"]["part_mm"] < 22
    # An edge that was not measured is as the center of its row.
    assert ask("slab", units="mm", board={**board, "part_width": "80"})["slab"]["part_mm"] == pytest.approx(22)


@pytest.mark.parametrize("kerf", ["0", "0 mm", "0 in", 0])
@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_saw_may_have_no_kerf(kerf: object, units: str) -> None:
    board = {"readings": ["25 mm"], "width": "100 mm", "length": "1000 mm"}
    job = lot(board, units=units, target="20 mm", cutting={"kerf": kerf})
    result = document.read(job)
    assert result.job, result.problems
    assert result.job.cutting.kerf == 0


@pytest.mark.parametrize(("bow", "value"), [("−3", -3), ("-3", -3), ("+6", 6), ("– 2,5", -2.5), ("6", 6), ("+0", 0)])
def test_a_form_takes_the_signs_that_people_type(bow: str, value: float) -> None:
    form = Form({"units": "mm", "board": {"bow": bow}}, "slab")
    assert float(form.values["bow"]) == value
    assert "board.bow" not in [problem.at for problem in form.problems]


def test_a_problem_of_a_form_has_what_a_key_can_enter_and_its_words_without_the_label():
    answer = ask(
        "slab", units="mm", board={**SLAB, "length": "900", "width": "100", "middle": "1", "part_thickness": "20"}
    )
    assert answer["problems"] == [
        {
            "at": "board.middle",
            "text": "Thickness, middle, center: '1' without a unit is read as 1 mm, and that is out of the usual. Write 1 in or 1 mm.",
            "short": "'1' without a unit is read as 1 mm, and that is out of the usual. Write 1 in or 1 mm.",
            "cures": ["1 in", "1 mm"],
        }
    ]


@pytest.mark.parametrize("count", ["-3", "2.5", "0", 0, 2.5, "six", "½"])
def test_parts_to_buy_for_are_counted_in_whole_numbers(count: object) -> None:
    need = {"thickness": "20", "width": "60", "length": "600", "count": count}
    answer = json.loads(handle(json.dumps({"ask": "buy", "units": "mm", "need": need})))
    assert [one["at"] for one in answer["problems"]] == ["need.count"]
    assert answer["problems"][0]["text"].startswith("Parts: ")
    assert "Write a whole number from 1." in answer["problems"][0]["text"]
    for good in ("3", 3, "3.0"):
        assert json.loads(handle(json.dumps({"ask": "buy", "units": "mm", "need": {**need, "count": good}})))["ok"]


def test_the_report_counts_the_boards_of_a_pile_one_by_one() -> None:
    pile = {"name": "Pile", "count": 8, "readings": ["22", "21.5"], "width": "100", "length": "1000"}
    fed = fed_at(*(f"{mm} mm" for mm in (21, 20)))
    run = [*fed, {"did": "measure", "board": "Pile", "readings": ["20", "20.1", "20"]}]
    job = metric_lot(pile, run=run)
    answer = json.loads(handle(json.dumps({"ask": "more", "job": job})))
    assert "1 of 8 measured" in re.sub("<[^>]*>", "", answer["html"]["after"])


@pytest.mark.parametrize(("thin", "rows"), [("20.1", 1), ("20.0999", 2)])
def test_boards_are_butted_as_far_as_one_is_within_the_tolerance_of_the_one_before(thin, rows):
    """A thinner board beside a thicker one can be thrown (WorkSafe New Zealand, read)."""
    job, turned = job_of(), planned_feedings(make_plan(job_of()))[0].placement
    ways = [Feeding(4, n, turned, F(thick), F(thick), F(20), True) for n, thick in enumerate(("20.2", thin))]
    assert job.tolerance == F("0.1")
    assert len(list(trains(job, ways))) == rows


def test_a_board_that_was_never_planed_is_not_butted_however_even_it_measures():
    turned = planned_feedings(make_plan(job_of()))[0].placement
    ways = [Feeding(1, n, turned, F(22), F(22), F(21), planed) for n, planed in enumerate((True, False))]
    assert len(list(trains(job_of(), ways))) == 2


@pytest.mark.parametrize(("shortest", "held"), [("300", False), ("301", True)])
def test_a_part_of_just_the_shortest_board_is_not_held_longer(shortest, held):
    job = job_of(planer={"shortest": shortest}, parts=[{"name": "rail", "length": "300"}], cutting={"trim": "0"})
    (rough,) = rough_lengths(job, "guarded")
    assert (rough.held, rough.length) == (held, F(shortest))


@pytest.mark.parametrize(
    ("readings", "off", "good"),
    [
        (["20.1"], "0.1", True),
        (["19.9"], "-0.1", True),
        (["20.1001"], "0.1001", False),
        (["20.2", "19.9"], "0.2", False),
        (["20.2", "19.8999"], "-0.1001", False),
    ],
)
def test_a_board_just_the_tolerance_off_is_good_and_only_one_that_is_thinner_is_called_thin(readings, off, good):
    run = [{"did": "measure", "board": "A", "readings": readings}]
    (final,) = finals_of(job_of(run=run, target={"thickness": "20", "tolerance": "0.1"})).finals
    assert (final.off, final.good) == (F(off), good)


@pytest.mark.parametrize(
    ("reading", "gauge", "sure"),
    [
        ("20.07", None, True),
        ("19.93", None, True),
        ("20.08", None, False),
        ("19.92", None, False),
        ("20.08", "0.02", True),
    ],
)
def test_a_board_in_the_guard_band_is_what_the_gauge_cannot_tell_and_neither_right_nor_wrong(reading, gauge, sure):
    practice = {} if gauge is None else {"gauge": gauge}
    run = [*fed_at("22"), {"did": "measure", "board": "A", "readings": [reading]}]
    job = job_of(run=run, practice=practice, target={"thickness": "20", "tolerance": "0.1"})
    (final,) = finals_of(job).finals
    assert (final.good, final.sure) == (True, sure)
    said = " ".join(summary(job))
    assert ("All of them are within the tolerance" in said) == sure
    assert (
        "This gauge cannot tell whether they are within the tolerance of 0.10 mm: A. It may be off by 0.03 mm." in said
    ) != sure
    assert "Out of tolerance" not in said
    shown = str(after(make_plan(job)))
    assert ("Board A: right" in shown) == sure
    assert ("as measured; this gauge cannot tell" in shown) != sure
    assert results(make_plan(job))[1][-1] == ("yes" if sure else "the gauge cannot tell")


def test_a_reading_of_just_the_tolerance_under_the_target_still_makes_a_part():
    run = [{"did": "measure", "board": "A", "readings": ["19.9", "19.8"]}]
    job = job_of(run=run, target={"thickness": "20", "tolerance": "0.1"})
    assert shorter_part(finals_of(job).finals[0], job) == (0, 500)


def bought(units, wood, thickness):
    asked = {"ask": "buy", "units": units, "need": {"thickness": thickness, "wood": wood}}
    answer = json.loads(handle(json.dumps(asked)))
    assert answer["ok"], answer
    return answer


def test_hardwood_and_softwood_are_sold_in_sizes_of_their_own():
    assert bought("mm", "hardwood", "20")["buy"][0]["size"] == "27"
    assert bought("mm", "softwood", "20")["buy"][0]["size"] == "32"
    assert "EN 1313-1" in bought("mm", "softwood", "20")["html"]["buy"]
    assert "EN 1313-2" in bought("mm", "hardwood", "20")["html"]["buy"]
    dressed = bought("in", "softwood", "1/2")
    assert dressed["buy"][0]["size"] == "1"
    assert "Buy nominal 1 in." in dressed["html"]["buy"]
    why = json.loads(
        handle(
            json.dumps({"ask": "why", "form": "buy", "units": "in", "need": {"thickness": "1/2", "wood": "softwood"}})
        )
    )
    assert any(one["at"] == "buy.measures" and "PS 20" in one["source"] for one in why["why"])
