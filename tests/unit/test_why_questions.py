"""Every number beside the plan and at the machine that can be asked has its reason, from the objects that compute it."""

import json
import math
import re
from fractions import Fraction

import pytest
from lots import metric_lot
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.ground.job import document
from thickset.planning.figures.overhangs import hangings, longest
from thickset.trade.chips import EXHAUST_BY_KNIFE_LENGTH, LARGEST_EXHAUST

JOB = {
    **DEMO_MM,
    "planer": {**DEMO_MM["planer"], "table": "400", "shortest": "300", "snipe": {"lead": "80", "trail": "50"}},
    "parts": [{"name": "rail", "length": "600", "count": 3}, {"name": "block", "length": "90", "count": 4}],
    "cutting": {"kerf": "3", "trim": "10"},
}


def ask(kind, job=JOB, **more):
    answer = json.loads(handle(json.dumps({"ask": kind, "job": job, **more})))
    assert answer["ok"], answer
    return answer


def why(what, job=JOB):
    found = ask("why", job, what=what)["why"]
    return found if isinstance(found, list) else [found]


def asked(html):
    return set(re.findall(r'data-why="([^"]+)"', html))


def test_every_question_beside_the_plan_has_an_answer():
    html = ask("more")["html"]
    asks = set().union(*(asked(each) for each in html.values()))
    assert {"parts", "support", "minutes"} <= asks
    assert all(why(what) for what in asks)


def test_how_long_a_part_is_left_follows_from_its_reason():
    told = ask("parts")["parts"]["rough"]["alone"]
    rail, block = why("parts[0]")[0], why("parts[1]")[0]
    assert told[0]["length_mm"] == 600 + 2 * 80
    assert rail["result"].startswith("760 mm")
    # Two blocks and a saw cut between them, and 80 mm at each end, are longer than the planer's shortest board.
    assert told[1]["in_one"] == 2
    assert told[1]["length_mm"] == 2 * 90 + 3 + 160
    assert block["result"].startswith("343 mm")


def test_waste_is_what_the_cutting_plan_leaves():
    made = ask("parts")["parts"]
    assert float(why("parts.waste")[0]["result"].split()[0]) == pytest.approx(made["waste"], abs=0.006)


def test_sag_is_worked_from_the_numbers_that_are_put_in():
    job = document.read(JOB).job
    most = max(hangings(job), key=lambda one: one.over.length)
    values = {each.name: float(value) for each, value in most.sag.put_in}
    length, thick = values["length"] / 1000, values["thickness"] / 1000
    by_hand = 1.5 * values["density"] * 9.80665 * length**4 / (values["stiffness"] * 1e9 * thick**2) * 1000
    assert most.over.sag == pytest.approx(by_hand)
    assert {one["at"] for one in why("support")} == {
        "support.free_end",
        "support.stiffness_of_hardwood",
        "support.sag",
    }


def test_of_boards_that_hang_over_alike_one_too_limp_for_the_formula_is_told():
    long = {"readings": ["8"], "width": "140", "length": "3100"}
    woods = [{"species": "Cedar, northern white"}, {"species": "Hickory, true: shagbark"}]
    job = {**JOB, "target": {"thickness": "6"}, "boards": [{**long, **wood} for wood in woods]}
    job["planer"] = {**JOB["planer"], "table": "1450"}
    found = hangings(document.read(job).job)
    assert found[0].over.sag is not None
    assert found[1].over.sag is None
    assert longest(found).board == 1


def test_a_table_longer_than_its_boards_leaves_nothing_over():
    found = hangings(document.read({**JOB, "planer": {**JOB["planer"], "table": "20 m"}}).job)
    assert [(one.over.length, one.over.tips) for one in found] == [(0, False)] * len(found)


def test_the_machine_says_why_so_many_test_pieces_and_what_the_scale_is_off_by():
    plan = ask("plan")["plan"]
    run = []
    for one in plan["passes"]:
        said = {"setting": one["setting"], "scale": one["setting"]}
        if one["checked"] and one["number"] > 1:
            run.append({"did": "test", **said, "thickness": f"{one['setting_mm'] + 0.3} mm"})
            break
        run.append({"did": "feed", **said})
    job = {**JOB, "run": run}
    answer = ask("follow", job)
    asks = asked(answer["html"]["run"])
    assert asks == {"scale", "scale.pieces_that_suffice"}
    (pieces,) = why("scale.pieces_that_suffice", job)
    assert Fraction(pieces["result"].split()[0]) == answer["run"]["step"]["test_pieces"]
    interval = next(one for one in why("scale", job) if one["at"] == "scale.offset_interval")
    low, high = (float(text) for text in re.findall(r"-?[\d.]+", interval["result"])[:2])
    assert (low, high) == pytest.approx((answer["run"]["scale"]["low_mm"], answer["run"]["scale"]["high_mm"]), abs=0.01)


def worked(reason):
    """What the written formula gives with the numbers put in."""
    known = {}
    for each in reason["put_in"]:
        whole, _, top = each["text"].removeprefix("about ").partition(" ")
        rest = top.split(" ")[0] if re.match(r"\d+/\d+", top) else "0"
        known[each["symbol"]] = float(Fraction(whole.replace(",", "")) + Fraction(rest))
    (line,) = reason["formula"]
    expression = line.partition(" = ")[2].replace("×", "*").replace("−", "-")
    tools = {"floor": math.floor, "min": min}
    return eval(expression, {"__builtins__": {}}, {**tools, **known})  # noqa: S307


@pytest.mark.parametrize(
    "job", [JOB, DEMO_IN, {**DEMO_IN, "service": {"rest": "1/16"}}, {**DEMO_MM, "practice": {"cut": "0.9"}}]
)
def test_the_two_ways_by_habit_work_out_by_hand(job):
    told = ask("time", job)["time"]
    found = {one["at"]: one for one in why("time", job)}
    for name in ("all_at_every_setting", "board_by_board"):
        assert worked(found[f"time.{name}.minutes"]) == pytest.approx(told[name]["minutes"], rel=1e-3)
        assert worked(found[f"time.{name}.settings"]) == told[name]["settings"]
    step = found["time.even_step"]
    assert worked(step) == pytest.approx(float(Fraction(step["result"].split()[0])))


def test_cost_is_rates_times_hours_and_wood():
    job = {**DEMO_MM, "rates": {"people": "30", "machine": "12", "wood": "1500"}}
    minutes = ask("plan", job)["plan"]["minutes"]
    (cost,) = why("cost", job)
    boards = document.read(job).job.boards
    wood = sum(float(b.thick * b.width * b.length) * b.count for b in boards) / 1e9
    assert float(cost["result"]) == pytest.approx(42 * minutes / 60 + 1500 * wood, abs=0.006)
    assert worked(cost) == pytest.approx(42 * minutes / 60 + 1500 * wood, rel=1e-4)
    (people,) = why("cost", {**DEMO_MM, "rates": {"people": "30"}})
    assert people["formula"] == ["c = p × t / 60"]


def test_cost_and_habits_have_a_button_where_there_is_something_to_ask():
    bare = asked(ask("time", DEMO_MM)["html"]["time"])
    assert bare == {"minutes", "time"}
    assert asked(ask("time", {**DEMO_MM, "rates": {"people": "30"}})["html"]["time"]) == {"minutes", "time", "cost"}


MORE = metric_lot(("A", "27"), ("B", "21.2", "20.7"))


@pytest.mark.parametrize("job", [MORE, JOB])
def test_what_a_split_and_butting_gain_works_out_by_hand(job):
    answer = json.loads(handle(json.dumps({"ask": "split", "job": job})))
    html = ask("more", job)["html"]
    assert ("split" in asked(html["split"])) is answer["ok"]
    if answer["ok"]:
        found = {one["at"]: one for one in why("split", job)}
        assert worked(found["split.saved"]) == pytest.approx(answer["split"]["saved_minutes"], abs=0.02)
        assert worked(found["split.gained"]) == answer["split"]["gained"]
    (saved,) = why("butting", job)
    assert worked(saved) == pytest.approx(float(saved["result"].split()[0]), abs=0.006 * len(saved["put_in"]))
    assert worked(saved) > 0
    snipe = {"butted"} if "Snipe stays on" in html["butting"] else set()
    assert asked(html["butting"]) == {"butting"} | snipe
    assert bool(snipe) is ("snipe" in job.get("planer", {}))


def test_some_lot_is_better_split():
    assert json.loads(handle(json.dumps({"ask": "split", "job": MORE})))["ok"]


def test_what_came_out_is_asked_board_by_board():
    run = [
        {"did": "measure", "board": "A", "readings": ["20.1", "19.6"]},
        {"did": "measure", "board": "B", "readings": ["20.05"]},
    ]
    job = {**MORE, "run": run}
    found = {one["at"]: one for one in why("after", job)}
    assert {at: one["result"] for at, one in found.items()} == {
        "after.spread": "0.5 mm",
        "after[0].off": "−0.4 mm",
        "after[1].off": "0.05 mm",
    }
    assert [one["checks"][0]["holds"] for at, one in found.items() if at != "after.spread"] == [False, True]
    assert asked(ask("more", job)["html"]["after"]) == {"after", "rescue"}
    assert asked(ask("more", MORE)["html"]["after"]) == set()


FULL = {
    "service": {"moisture_now": "9", "temperature": "70 F", "humidity": "40", "rest": "3 mm"},
    "shop": {"bag": "30 gal", "air": "500 cfm", "duct": "100 mm", "noise": "98"},
    "parts": [{"name": "rail", "length": "600 mm", "count": 3}],
    "rates": {"people": "30", "wood": "8"},
}
SAID_ELSEWHERE = {
    "summary": "the settings, minutes and outcomes that schedule and boards tell",
    "picture": "the same, drawn",
    "notes": "what was entered, and what to do about it",
}
IN_SECTIONS = {"movement", "surface", "shavings"}
"""Parts with sections of their own, each of which is to have its own button; the other parts are whole."""


def sections(html):
    """What stands under one heading; a fold's own line belongs to all below it."""
    return re.split(r"<h3", html)[1:]


@pytest.mark.slow
@pytest.mark.parametrize("demo", [DEMO_IN, DEMO_MM], ids=["in", "mm"])
def test_every_part_of_the_page_that_tells_a_figure_has_a_why_that_answers(demo):
    job = {**demo, **FULL, "planer": {**demo["planer"], "table": "400 mm"}}
    seen = 0
    for kind in ("show", "mechanics", "more"):
        for name, html in ask(kind, job)["html"].items():
            for part in sections(html) if name in IN_SECTIONS else [html]:
                bare = re.sub(r"<svg.*?</svg>|<[^>]+>", " ", part, flags=re.DOTALL)
                if name in SAID_ELSEWHERE or not re.search(r"\d", bare):
                    continue
                asks = asked(part)
                assert asks, (name, bare[:80])
                assert all(why(what, job) for what in asks)
                seen += 1
    assert seen > 10


def test_every_figure_of_the_air_is_in_its_reasons():
    job = {**DEMO_IN, **FULL}
    told = {one["at"]: one["result"] for one in why("air", job)}
    html = re.sub(r"<[^>]+>", "", ask("mechanics", job)["html"]["shavings"])
    assert told["air.exhaust_for_planer"].endswith("(785 cfm)")
    (usual,) = why("air.exhaust_for_planer", job)
    for knife, flow in (*EXHAUST_BY_KNIFE_LENGTH, ("", LARGEST_EXHAUST)):
        assert f"{f'to {knife} in ' if knife else 'above that '}{flow:,}" in usual["rule"]
    assert "wide: 785 cfm" in html
    assert "though the airflow is less than is usual" in html
    assert set(told) == {"air.exhaust_for_planer", "air.duct_flow", "air.duct_speed"}
    more = re.sub(
        r"<[^>]+>", "", ask("mechanics", {**job, "shop": {"air": "900 cfm", "duct": "4"}})["html"]["shavings"]
    )
    assert "enough to carry them." in more
    bare = ask("mechanics", {**job, "shop": {"air": "900 cfm"}})["html"]["shavings"]
    assert "Enter the duct" in bare


def test_the_two_stages_say_how_their_minutes_add_up():
    job = {**DEMO_IN, "service": {"rest": "1/8"}}
    plan = ask("plan", job)["plan"]
    told = {one["at"]: one for one in why("rest", job)}
    asked_passes = [each["words"] for half in ("first", "second") for each in told[f"rest.{half}_minutes"]["put_in"]]
    assert asked_passes == [f"pass {one['number']}" for one in plan["passes"]]
    minutes = [float(told[f"rest.{half}_minutes"]["result"].split()[0]) for half in ("first", "second")]
    assert sum(minutes) == pytest.approx(plan["minutes"], abs=0.011)
    assert minutes[0] != minutes[1]


@pytest.mark.parametrize(
    ("service", "said"),
    [
        ({"moisture_then": 8}, "Enter the boards&#39; moisture now as well"),
        ({"temperature": "70 F", "humidity": 40}, "Enter the boards&#39; moisture now as well"),
        ({"moisture_now": 8}, "Enter the moisture in service as well"),
    ],
)
def test_half_of_the_moisture_says_what_is_missing(service, said):
    assert said in ask("show", {**DEMO_MM, "service": service})["html"]["movement"]


def test_boards_alike_are_counted_in_the_reasons_for_a_target():
    boards = [{**board, "count": 3} if board["name"] == "E" else board for board in DEMO_IN["boards"]]
    job = {**DEMO_IN, "boards": boards}
    found = [one for one in why("targets", job) if one["at"].endswith("both_sides")]
    for one in found:
        counts = [
            int(re.search(r"\((\d+) alike\)", each["text"])[1]) if "alike" in each["text"] else 1
            for each in one["checks"]
        ]
        assert sum(n for n, each in zip(counts, one["checks"], strict=True) if each["holds"]) == int(one["result"])
    assert len({one["result"] for one in found}) > 1


def test_a_board_as_thick_as_the_second_last_setting_is_asked_by_its_thick_spot():
    boards = [*DEMO_IN["boards"], {"name": "G", "readings": ["25/32"], "width": "6", "length": "38"}]
    found = [one for one in why("targets[0]", {**DEMO_IN, "boards": boards}) if one["at"].endswith("both_sides")]
    (line,) = (each for each in found[0]["checks"] if "board G" in each["text"])
    assert not line["holds"]
    assert line["text"].startswith("thick spot of board G")


def test_a_slower_feed_that_would_do_as_well_is_called_slower_than_need_be():
    (feed,) = why("passes[0].feed", DEMO_IN)
    assert [line["text"].partition("; ")[0] for line in feed["choices"]] == [
        "feed 28 ft/min: this one",
        "feed 16 ft/min: slower than need be",
    ]
