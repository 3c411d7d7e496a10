"""What a run teaches of times and snipe: told only when told, with how many runs it rests on, and the next job starts from it."""

import json
from fractions import Fraction

import pytest
from lots import metric, metric_lot
from thickset.doors.api import handle
from thickset.ground.job import document
from thickset.ground.link.link import from_link, to_link
from thickset.planning.passes.planner import make_plan
from thickset.planning.run.pace import Pace, pace_of

LOT = metric_lot(
    ("A", "32", "31"),
    metric("27", "26.5", name="B", length="2000"),
    metric("25", "24.5", name="C", length="1500", count=3),
    planer={"feeds": ["6 m/min", "12 m/min"], "snipe": {"lead": "60", "trail": "40"}},
    practice={"set_seconds": 20, "handle_seconds": 8, "near": "2"},
)


def run_of(setting, handling, *, ticked=True, measuring=40):
    """A run by the plan, timed by what setting and handling take [s]; boards ticked off one by one, or all at once."""
    plan = make_plan(document.read(LOT).job)
    boards, events = plan.job.boards, []
    for one in plan.passes:
        said = {"setting": f"{float(one.setting)} mm", "scale": f"{float(one.setting)} mm"}
        waited = setting
        if one.checked:
            events.append({"did": "test", **said, "thickness": said["setting"], "after": setting + measuring})
            waited = 0
        groups = [[fed.board] for fed in one.fed] if ticked else [[fed.board for fed in one.fed]]
        for group in groups:
            count = sum(boards[n].count for n in group)
            running = sum(boards[n].count * boards[n].length for n in group) / 1000 / one.feed * 60
            took = waited + count * handling + float(running)
            events.append({"did": "feed", **said, "boards": [boards[n].name for n in group], "after": took})
            waited = 0
    del events[0]["after"]
    return events


def job_of(run, **more):
    result = document.read({**LOT, "run": run, **more})
    assert result.job, result.problems
    return result.job


def ask(kind, run, **more):
    return json.loads(handle(json.dumps({"ask": kind, "job": {**LOT, "run": run, **more}})))


@pytest.mark.parametrize("ticked", [True, False], ids=["board by board", "all at once"])
def test_the_seconds_of_a_run_are_found_again(ticked):
    pace = pace_of(job_of(run_of(33, 11, ticked=ticked)))
    assert pace.handles >= 3
    assert float(pace.handle_seconds) == pytest.approx(11)
    assert pace.sets >= 3
    assert float(pace.set_seconds) == pytest.approx(33)


def test_too_few_taps_teach_nothing():
    run = [event for event in run_of(33, 11, ticked=False) if event["did"] != "test"]
    assert pace_of(job_of(run)) == Pace(None, None, 0, 0)


def test_a_pause_teaches_nothing_and_one_slow_board_little():
    run = run_of(33, 11)
    feeds = [event for event in run if event["did"] == "feed" and "after" in event]
    feeds[0]["after"] += 5000
    feeds[-1]["after"] += 60
    pace = pace_of(job_of(run))
    assert float(pace.handle_seconds) == pytest.approx(11)
    assert float(pace.set_seconds) == pytest.approx(33)


def test_without_times_nothing_is_said_of_them():
    run = [{key: value for key, value in event.items() if key != "after"} for event in run_of(33, 11)]
    assert pace_of(job_of(run)).set_seconds is None
    assert "timed by its taps" not in ask("more", run)["html"]["after"]
    assert "set_seconds" not in ask("learn", run)["record"]


def test_what_was_timed_is_the_mean_of_its_runs_and_the_next_job_starts_from_it():
    first = ask("learn", run_of(30, 10))
    assert first["record"]["set_seconds"] == pytest.approx(30)
    assert first["record"]["timed"] == 1
    assert first["settings"] == {"practice.set_seconds": "30", "practice.handle_seconds": "10"}
    again = ask("learn", run_of(36, 16), planer={**LOT["planer"], "record": first["record"]})
    assert again["record"]["set_seconds"] == pytest.approx(33)
    assert again["record"]["handle_seconds"] == pytest.approx(13)
    assert again["record"]["timed"] == 2
    said = ask("more", run_of(36, 16), planer={**LOT["planer"], "record": first["record"]})["html"]["after"]
    assert (
        "With this run (2 runs timed by its taps): setting the planer takes 33 s and handling a board takes 13 s."
        in said
    )


def test_snipe_is_learned_when_it_was_measured_and_the_longest_is_kept():
    plain = [{key: value for key, value in event.items() if key != "after"} for event in run_of(30, 10)]
    measured = [*plain, {"did": "snipe", "lead": "70", "trail": "0"}]
    first = ask("learn", measured)
    assert (first["record"]["lead"], first["record"]["trail"], first["record"]["sniped"]) == (70, 0, 1)
    assert first["settings"] == {"planer.snipe.lead": "70 mm", "planer.snipe.trail": "0 mm"}
    shorter = [*plain, {"did": "snipe", "lead": "50", "trail": "45"}]
    again = ask("learn", shorter, planer={**LOT["planer"], "record": first["record"]})
    assert (again["record"]["lead"], again["record"]["trail"], again["record"]["sniped"]) == (70, 45, 2)
    assert "1 run with snipe measured): at most 70 mm at the end that leads" in ask("more", measured)["html"]["after"]


def test_measuring_snipe_changes_nothing_of_the_run():
    run = run_of(30, 10)[:4]
    with_snipe = [*run, {"did": "snipe", "lead": "50", "trail": "45"}]
    assert ask("follow", run)["run"]["rest"] == ask("follow", with_snipe)["run"]["rest"]


def test_a_scrap_measured_later_keeps_what_was_timed():
    record = ask("learn", run_of(30, 10))["record"]
    request = {"ask": "scrap", "units": "mm", "scrap": {"scale": "20", "measured": "20.2"}, "record": record}
    told = json.loads(handle(json.dumps(request)))["record"]
    assert told["set_seconds"] == record["set_seconds"]
    assert told["timed"] == 1


@pytest.mark.parametrize(
    ("event", "at"),
    [
        ({"did": "snipe", "lead": "long", "trail": "4"}, "run[0].lead"),
        ({"did": "snipe", "trail": "4"}, "run[0].lead"),
        ({"did": "feed", "setting": "25", "scale": "25", "after": "soon"}, "run[0].after"),
    ],
)
def test_a_bad_entry_is_a_problem_at_its_place(event, at):
    assert ask("follow", [event])["problems"][0]["at"] == at


def test_times_and_snipe_go_along_in_a_link():
    run = [*run_of(30, 10), {"did": "snipe", "lead": "50", "trail": "45"}]
    job = json.loads(json.dumps({**LOT, "run": run}))
    assert from_link(to_link(job)) == job
    assert Fraction(len(to_link(job)), len(run)) < 20


@pytest.mark.parametrize(("handling", "known"), [(120, True), (121, False)])
def test_handling_a_board_for_two_minutes_is_no_pause_yet(handling, known):
    """Common practice, no source."""
    assert (pace_of(job_of(run_of(33, handling))).handle_seconds is not None) is known
