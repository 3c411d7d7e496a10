"""Moisture, rest, shavings, air and noise beside a plan; bad entries are problems at their fields."""

import json
from fractions import Fraction

import pytest
from lots import fed_at
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.ground.job.document import read
from thickset.planning.figures.shavings import air, noise, shavings
from thickset.planning.passes.moisture import in_service, proud
from thickset.planning.passes.planner import make_plan
from thickset.trade.chips import when_to_empty


def ask(job, kind="show", **more):
    return json.loads(handle(json.dumps({"ask": kind, "job": job, **more})))


def job_with(**parts):
    return {**DEMO_MM, **parts}


def plan_of(**parts):
    return make_plan(read(job_with(**parts)).job)


def test_the_target_is_for_the_day_the_piece_is_used():
    found = in_service(plan_of(service={"moisture_now": 12, "moisture_then": 7}).job)
    (beech,) = found.changes
    # European beech: radial change coefficient 0.00201 (derived of the shrinkage); 22 mm, 12 to 7 %.
    off = 22 * 0.00201 * (7 - 12)
    assert beech.movement.off_if_ignored == pytest.approx(off)
    assert beech.movement.today == pytest.approx(22 / (1 + off / 22))
    assert beech.movement.equation == "13-2"


def test_quartersawn_wood_moves_more_in_its_thickness():
    flat, quarter = (
        in_service(plan_of(service={"moisture_now": 12, "moisture_then": 7, "grain": grain}).job)
        .changes[0]
        .movement.today
        for grain in ("flatsawn", "quartersawn")
    )
    assert 22 < flat < quarter


def test_the_room_gives_the_moisture_in_service():
    found = in_service(plan_of(service={"moisture_now": 12, "temperature": "70 F", "humidity": 50}).job)
    # Wood Handbook Table 4-2: 9.2 % (transcribed).
    assert found.then == pytest.approx(9.2, abs=0.1)
    celsius = in_service(plan_of(service={"moisture_now": 12, "temperature": "21.1 C", "humidity": "50 %"}).job)
    assert celsius.then == pytest.approx(found.then, abs=0.01)


@pytest.mark.parametrize(
    ("room", "comes"),
    [({"temperature": "70 F", "humidity": 50}, "; wood comes to 9.2 % in the room"), ({"humidity": 50}, "")],
)
def test_moisture_in_service_goes_before_its_room_and_the_plan_says_so(room, comes):
    """9.2 %: Wood Handbook Table 4-2, 70 F and 50 % (transcribed)."""
    alone = {"moisture_now": 12, "moisture_then": 7}
    job = job_with(service={**alone, **room})
    assert in_service(make_plan(read(job).job).job).then == 7
    (note,) = (note for note in ask(job)["plan"]["notes"] if note["code"] == "room-unused")
    assert note["at"] == "service.moisture_then"
    assert note["text"] == (
        "Both the moisture in service and its room are entered. The plan goes by the moisture, "
        f"7 %{comes}. Clear one of the two."
    )
    for service in (alone, {"moisture_now": 12, "temperature": "70 F", "humidity": 50}):
        assert "room-unused" not in [note["code"] for note in ask(job_with(service=service))["plan"]["notes"]]


@pytest.mark.parametrize(
    ("part", "said"),
    [
        ({"moisture_now": 45, "moisture_then": 8}, "Let it dry first"),
        ({"moisture_now": 12, "moisture_then": 7}, "plane to 22.22 mm"),
    ],
)
def test_what_the_page_says_of_moisture(part, said):
    assert said in ask(job_with(service=part))["html"]["movement"]


def test_a_wood_without_a_name_is_said_to_be_unknown():
    boards = [{key: value for key, value in board.items() if key != "species"} for board in DEMO_MM["boards"]]
    html = ask(job_with(boards=boards, service={"moisture_now": 12, "moisture_then": 7}))["html"]
    assert "Enter its species" in html["movement"]


def test_without_moisture_nothing_is_said_and_the_plan_stays():
    plain, told = ask(DEMO_MM), ask(job_with(service={"moisture_now": 12, "moisture_then": 7}))
    assert "movement" not in plain["html"]
    assert plain["plan"]["passes"] == told["plan"]["passes"]
    assert plain["plan"]["boards"] == told["plan"]["boards"]


def test_a_change_beyond_the_tolerance_is_a_note_and_one_within_it_is_not():
    def notes(tolerance):
        job = {**DEMO_MM, "target": {**DEMO_MM["target"], "tolerance": tolerance}}
        found = ask({**job, "service": {"moisture_now": 12, "moisture_then": 7}})["plan"]["notes"]
        return [note for note in found if note["code"] == "movement"]

    # 22 mm of flatsawn beech lose 0.21 mm from 12 to 7 % (the coefficient above).
    assert not notes("0.3")
    (note,) = notes("0.1")
    assert "0.22 mm too thin in service, more than the tolerance of 0.1 mm. Plane to 22.22 mm today." in note["text"]
    assert note["at"] == "service.moisture_now"


def test_todays_thickness_taken_as_the_target_is_not_corrected_once_more():
    plain = in_service(plan_of(service={"moisture_now": 12, "moisture_then": 7}).job).changes[0]
    today = plain.movement.today
    service = {"moisture_now": 12, "moisture_then": 7, "thickness": "22"}
    job = {**job_with(service=service), "target": {"thickness": f"{today:.2f}", "tolerance": "0.05"}}
    taken = in_service(read(job).job).changes[0]
    assert taken.movement.today == pytest.approx(today)
    assert taken.off == pytest.approx(0, abs=0.01)
    assert plain.off == pytest.approx(plain.movement.off_if_ignored)
    answer = ask(job)
    assert "movement" not in [note["code"] for note in answer["plan"]["notes"]]
    assert "take-today" not in answer["html"]["movement"]
    assert "planed to 22.22 mm today it is 22 mm in service" in answer["html"]["movement"]
    assert 'data-thickness="22.22"' in ask(job_with(service={**service, "thickness": None}))["html"]["schedule"]


@pytest.mark.parametrize(("tolerance", "told"), [("0.4", True), ("0.45", False)])
def test_todays_thickness_stands_beside_the_last_setting_from_half_the_tolerance_on(tolerance, told):
    # 22 mm of flatsawn beech are to be planed to 22.22 mm today (the coefficient above).
    entered = {
        **job_with(service={"moisture_now": 12, "moisture_then": 7}),
        "target": {"thickness": "22", "tolerance": tolerance},
    }
    html = ask(entered)["html"]
    *before, last = html["schedule"].split('<li class="pass"')
    assert ("plane to 22.22 mm today, for 22 mm in service." in last) == told
    assert ("take-today" in last) == told
    assert not any("take-today" in one for one in before)
    assert (html["schedule"] + html["movement"]).count("take-today") == 1
    assert ("plane to 22.22 mm today" in " ".join(ask(entered, "text")["text"].split())) == told


def test_the_target_of_a_begun_run_is_not_set_by_that_tap():
    service = {"moisture_now": 12, "moisture_then": 7}
    first = ask(job_with(service=service))["plan"]["passes"][0]["setting"]
    run = fed_at(first)
    html = ask(job_with(service=service, run=run))["html"]
    assert "plane to 22.22 mm today" in html["schedule"]
    assert "take-today" not in html["schedule"] + html["movement"]


def test_where_to_stop_for_a_rest_is_said_with_its_formula():
    assert proud(plan_of(service={"rest": "1.5"}).job).value == 23.5
    assert "Two stages" in ask(job_with(service={"rest": "1.5"}))["html"]["movement"]


def test_shavings_are_what_the_readings_lose():
    plan = plan_of()
    wanted = 0.0
    for board in plan.job.boards:
        loss = [max(0.0, float(reading) - 22) for reading in board.readings]
        wanted += float(board.width * board.length) * board.count * sum(loss) / len(loss) / 1e6
    solid, loose = shavings(plan).total
    assert solid == pytest.approx(wanted)
    assert loose == pytest.approx(4 * wanted)


def test_a_small_bag_is_emptied_in_time():
    when = shavings(plan_of(shop={"bag": "6 L"})).when
    held = 0.0
    for number, loose in enumerate(shavings(plan_of()).loose, 1):
        held += loose.value
        assert held <= 6 or number in when.during
        if number in when.after:
            held = 0.0
    assert when.after


def test_noise_is_the_dose_of_the_planned_minutes():
    plan = plan_of(shop={"noise": "100 dBA", "limits": "american"})
    doses = {one.rule: one.dose.value for one in noise(plan)}
    hours = float(plan.minutes) / 60
    assert doses == {"OSHA": pytest.approx(100 * hours / 2), "NIOSH": pytest.approx(100 * hours / 0.25, rel=0.02)}


def test_the_air_in_the_duct_is_held_to_the_usual_speed():
    # Flow = area x speed: 4 in at 4000 ft/min carries 349 cfm.
    found = air(make_plan(read({**DEMO_IN, "shop": {"duct": "4", "air": "349 cfm"}}).job))
    assert found.speed.value == pytest.approx(20.32, rel=1e-3)
    assert found.needed.value / 1.69901080 == pytest.approx(349, abs=0.5)
    assert "too slow" in ask({**DEMO_IN, "shop": {"duct": "6", "air": "349 cfm"}}, "mechanics")["html"]["shavings"]


@pytest.mark.parametrize(
    ("part", "key", "given"),
    [
        ("service", "moisture_now", "-3"),
        ("service", "moisture_now", 300),
        ("service", "moisture_then", "31 %"),
        ("service", "humidity", "110 %"),
        ("service", "humidity", 96),
        ("service", "temperature", "70"),
        ("service", "temperature", "200 F"),
        ("service", "temperature", "warm"),
        ("service", "grain", "rift"),
        ("service", "rest", "-1"),
        ("shop", "bag", "30"),
        ("shop", "bag", "0 L"),
        ("shop", "air", "800"),
        ("shop", "air", "5 kg"),
        ("shop", "duct", "0"),
        ("shop", "noise", "20"),
        ("shop", "noise", "loud"),
    ],
)
def test_a_bad_entry_is_a_problem_at_its_field(part, key, given):
    problems = ask(job_with(**{part: {key: given}}))["problems"]
    assert problems[0]["at"] == f"{part}.{key}"
    assert "Write" in problems[0]["text"]


def test_half_a_room_asks_for_the_other_half():
    problems = ask(job_with(service={"moisture_now": 12, "temperature": "70 F"}))["problems"]
    assert [problem["at"] for problem in problems] == ["service.humidity"]


def test_an_unknown_key_is_named_once():
    problems = ask(job_with(shop={"bags": 2}))["problems"]
    assert [problem["at"] for problem in problems] == ["shop.bags"]


def test_every_part_says_why():
    job = job_with(service={"moisture_now": 12, "moisture_then": 7, "rest": 1}, shop={"duct": 100, "air": "600 m3/h"})
    for part in ("movement", "shavings", "air", "noise"):
        answer = ask(job, "why", what=part)
        assert answer["ok"], part
        assert all(why["source"] for why in answer["why"])
    today = next(why for why in ask(job, "why", what="movement")["why"] if why["at"].endswith("today_by_coefficient"))
    assert today["result"].startswith("22.2")


def test_shavings_and_bags_are_added_up_by_hand():
    job = job_with(shop={"bag": "10 L"})
    found = shavings(plan_of(shop={"bag": "10 L"}))
    why = {one["at"]: one for one in ask(job, "why", what="shavings")["why"]}
    for kind, total in zip(("solid", "loose"), found.total, strict=True):
        parts = [Fraction(each["exact"]) for each in why[f"shavings.{kind}"]["put_in"]]
        assert float(sum(parts)) == pytest.approx(total, rel=1e-5)
        assert float(why[f"shavings.{kind}"]["result"].split()[0]) == pytest.approx(total, rel=1e-3)
    put = {each["symbol"]: Fraction(each["exact"]) for each in why["shavings.bags"]["put_in"]}
    assert float(put["V"] / put["B"]) == pytest.approx(found.when.filled, rel=1e-5)
    assert float(why["shavings.bags"]["result"]) == pytest.approx(found.when.filled, rel=1e-3)
    assert found.when.after
    assert all(f"after pass {number}" in why["shavings.empty"]["result"] for number in found.when.after)


def test_a_bag_that_a_pass_fills_to_the_brim_is_emptied_before_the_next():
    assert when_to_empty([100, 50, 200, 10], 100) == ((1, 2, 3), (3,), 3.6)
    assert when_to_empty([250, 50, 1], 100).after == (2,)


def test_noise_is_worked_by_hand_from_its_rule():
    why = ask(job_with(shop={"noise": 98, "limits": "american"}), "why", what="noise")["why"]
    minutes = ask(job_with())["plan"]["minutes"]
    for one, allowed, name in zip(why, (8 / 2 ** (8 / 5), 8 / 2 ** (13 / 3)), ("OSHA", "NIOSH"), strict=True):
        assert float(one["result"].split()[0]) == pytest.approx(100 * minutes / 60 / allowed, rel=1e-3)
        assert one["formula"] == ["T = 8 / 2^((L − K) / q)", "D = 100 × C / T"]
        assert f"level allowed for 8 hours, {name}" in [each["words"] for each in one["put_in"]]


@pytest.mark.parametrize(
    ("wood", "now", "known"),
    [
        ("Beech, American", 12, "read"),
        ("Beech, American", 18, "read"),
        ("Redwood, old-growth", 12, "derived"),
        ("Redwood, old-growth", 18, "memory"),
    ],
)
def test_todays_thickness_can_be_worked_by_hand_and_says_how_its_wood_is_known(wood, now, known):
    boards = [{**board, "species": wood} for board in DEMO_MM["boards"]]
    job = job_with(boards=boards, service={"moisture_now": now, "moisture_then": 7})
    why = {one["at"].rpartition(".")[2]: one for one in ask(job, "why", what="movement[0]")["why"]}
    (today,) = (one for at, one in why.items() if at.startswith("today_"))
    put = {each["symbol"]: float(Fraction(each["exact"])) for each in today["put_in"]}
    if "C" in put and "S" in put:
        inside, rest = put["C"] * (put["M2"] - 14), 100 * put["F"] / put["S"] - put["F"]
        share = (rest + 14) / (rest + put["M1"]) * (1 + inside) - 1
        figure = next(each for each in today["put_in"] if each["symbol"] == "S")
    elif "C" in put:
        share = put["C"] * (put["M2"] - put["M1"])
        figure = next(each for each in today["put_in"] if each["symbol"] == "C")
    else:
        share = (put["M2"] - put["M1"]) / (100 * put["F"] / put["S"] - put["F"] + put["M1"])
        figure = next(each for each in today["put_in"] if each["symbol"] == "S")
    assert float(today["result"].split()[0]) == pytest.approx(put["T"] / (1 + share), abs=0.006)
    assert today["working"]
    assert figure["words"].endswith(f"of {wood}, Wood Handbook")
    assert figure["known"] == known


def test_a_wood_that_shrinks_from_22_percent_moves_on_where_the_first_equation_ends():
    boards = [{**board, "species": "Redwood, old-growth"} for board in DEMO_MM["boards"]]
    by_coefficient, by_shrinkage = (
        in_service(plan_of(boards=boards, service={"moisture_now": now, "moisture_then": 8}).job).changes[0]
        for now in (14, "14.0001")
    )
    assert (by_coefficient.movement.equation, by_shrinkage.movement.equation) == ("13-2", "13-2 and 13-3")
    assert by_coefficient.off == pytest.approx(by_shrinkage.off, rel=0.0005)
    wet = in_service(plan_of(boards=boards, service={"moisture_now": 25, "moisture_then": 8}).job).changes[0]
    assert "above 22 % it has not begun to shrink" in wet.unknown


@pytest.mark.parametrize(("grain", "said"), [("flatsawn", "more"), ("quartersawn", "less")])
def test_which_way_the_change_of_thickness_errs_goes_by_the_grain(grain, said):
    html = ask(job_with(service={"moisture_now": 12, "moisture_then": 7, "grain": grain}))["html"]["movement"]
    assert f"Others change {said} in thickness than this" in html


@pytest.mark.parametrize(
    ("temperature", "taken"),
    [
        ("30 F", True),
        ("130 F", True),
        ("-1 C", True),
        ("54 C", True),
        ("29 F", False),
        ("131 F", False),
        ("55 C", False),
    ],
)
def test_the_ends_of_the_range_of_temperatures_belong_to_it(temperature, taken):
    answer = ask(job_with(service={"moisture_now": 12, "temperature": temperature, "humidity": 50}))
    assert answer["ok"] is taken
    if taken:
        assert "in service" in answer["html"]["movement"]
    else:
        assert [each["at"] for each in answer["problems"]] == ["service.temperature"]


def test_moisture_in_both_equations_range_decides_the_equation():
    for now, then, equation in ((14, 6, "13-2"), (14, 5, "13-2 and 13-3"), (20, 14, "13-3")):
        (beech,) = in_service(plan_of(service={"moisture_now": now, "moisture_then": then}).job).changes
        assert beech.movement.equation == equation


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("hard map", "Maple, sugar (hard maple)"),
        ("poplar", "Yellow-poplar"),
        ("red oak", "Oak, northern red"),
        ("WALN", "Walnut, black"),
    ],
)
def test_a_wood_is_found_by_part_of_its_name(typed, first):
    answer = json.loads(handle(json.dumps({"ask": "species", "text": typed})))
    assert answer["species"][0]["name"] == first
    assert f'data-wood="{first}"' in answer["html"]["species"]


@pytest.mark.parametrize("typed", [7, "x" * 61, ["oak"]])
def test_what_is_no_part_of_a_name_is_refused(typed):
    assert json.loads(handle(json.dumps({"ask": "species", "text": typed})))["problems"][0]["at"] == "text"


def test_a_wood_that_chips_easily_is_advised_on_once_and_an_easy_one_not():
    def codes(species):
        boards = [{**board, "species": species} for board in DEMO_MM["boards"]]
        return [note["code"] for note in ask(job_with(boards=boards))["plan"]["notes"]]

    assert codes("Cottonwood, eastern").count("chips-easily") == 1
    assert "chips-easily" not in codes("Oak, northern red")


@pytest.mark.parametrize(("circle", "good"), [("2 mm", False), ("3.9 mm", False), ("4 mm", True), ("80", True)])
def test_a_cutting_circle_smaller_than_the_cut_is_a_problem_at_its_field(circle, good):
    planer = {**DEMO_MM["planer"], "head": {"speed": "5000 rpm", "knives": 3, "diameter": circle}}
    answer = ask({**DEMO_MM, "planer": planer, "practice": {"cut": "2"}})
    assert answer["ok"] == good
    if not good:
        (problem,) = answer["problems"]
        assert problem["at"] == "planer.head.diameter"
        assert "half its circle" in problem["text"]


@pytest.mark.parametrize(("now", "moves"), [(30, True), ("30.1", False)])
def test_wood_begins_to_shrink_at_thirty_per_cent(now, moves):
    """Fiber saturation, Wood Handbook ch. 4, from memory."""
    (beech,) = in_service(plan_of(service={"moisture_now": now, "moisture_then": 8}).job).changes
    assert (beech.movement is not None) is moves


@pytest.mark.parametrize(
    ("now", "then", "equation"),
    [(14, 6, "13-2"), (6, 14, "13-2"), ("14.1", 6, "13-2 and 13-3"), (14, "5.9", "13-2 and 13-3")],
)
def test_change_coefficients_hold_from_6_to_14_per_cent_both_ends_included(now, then, equation):
    """Wood Handbook Eq 13-2, read."""
    (beech,) = in_service(plan_of(service={"moisture_now": now, "moisture_then": then}).job).changes
    assert beech.movement.equation == equation


def test_wood_that_stays_at_its_moisture_is_no_note_even_without_a_tolerance():
    job = {
        **job_with(service={"moisture_now": 12, "moisture_then": 12}),
        "target": {"thickness": "22", "tolerance": "0"},
    }
    assert "movement" not in [note["code"] for note in ask(job)["plan"]["notes"]]


def test_noise_is_told_by_the_european_limits_to_who_works_in_millimeters_or_chose_them():
    chosen = {**DEMO_IN, "shop": {"noise": 100, "limits": "european"}}
    for job in (job_with(shop={"noise": 100}), chosen):
        html = ask(job, "mechanics")["html"]["shavings"]
        assert "a daily exposure of 83 dBA" in html or "a daily exposure of 84 dBA" in html
        assert "action values are 80 and 85" in html
        assert "OSHA" not in html
    american = ask(job_with(shop={"noise": 100, "limits": "american"}), "mechanics")["html"]["shavings"]
    assert "OSHA" in american
    assert "daily exposure" not in american
