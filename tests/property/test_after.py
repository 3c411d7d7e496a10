"""After the run, whatever was measured: what came out, and what the planer learned."""

from fractions import Fraction

import pytest
from amounts import examples
from hypothesis import given
from hypothesis import strategies as st
from lots import fed_at, metric, metric_lot
from thickset.ground.job import document
from thickset.ground.job.job import Job
from thickset.planning.passes.planner import make_plan
from thickset.planning.passes.scale import prior
from thickset.planning.run.follow import follow
from thickset.planning.run.record import record_document
from thickset.planning.run.report import finals_of, learned
from thickset.planning.run.snipe import ENDS, feedings_of, planned_feedings, sniped, trains
from thickset.planning.stock.leaving import feeding_order

LENGTH = 900
OFFS = st.lists(st.integers(-40, 60), min_size=1, max_size=6)
FINALS = st.lists(st.lists(st.integers(1960, 2040), min_size=1, max_size=5), min_size=2, max_size=4)
RECORDS = st.none() | st.fixed_dictionaries(
    {
        "offset": st.integers(-100, 100).map(lambda n: n / 100),
        "offset_worth": st.integers(1, 40).map(lambda n: n / 10),
        "spread": st.integers(1, 30).map(lambda n: n / 100),
        "spread_worth": st.integers(4, 40).map(float),
        "runs": st.integers(0, 50),
        "fed": st.integers(0, 5000).map(float),
    }
)


def job_of(boards: int = 2, run: list | None = None, record: dict | None = None, **more: object) -> Job:
    planer = {"feeds": ["6 m/min"], "snipe": {"lead": "80", "trail": "50"}, **({"record": record} if record else {})}
    made = [metric("24", "23.4", name=f"B{n}", width="120", length=f"{LENGTH}") for n in range(boards)]
    result = document.read(metric_lot(*made, tolerance="0.15", planer=planer, run=run or [], **more))
    assert result.job, result.problems
    return result.job


def through(**more: object) -> list[dict]:
    """The events of a run that goes to its end without a surprise."""
    settings = [str(float(one.setting)) for one in make_plan(job_of(**more)).passes]
    return fed_at(*settings)


@examples(60)
@given(FINALS)
def test_a_board_is_right_when_all_its_readings_are_within_the_tolerance(finals: list[list[int]]) -> None:
    count = len(finals)
    told = [[str(value / 100) for value in readings] for readings in finals]
    measured = [{"did": "measure", "board": f"B{n}", "readings": readings} for n, readings in enumerate(told)]
    job = job_of(count, [*through(boards=count), *measured])
    made = finals_of(job)
    assert [one.board for one in made.finals] == list(range(count))
    for one, readings in zip(made.finals, finals, strict=True):
        assert one.good == all(1985 <= value <= 2015 for value in readings)
        assert one.off + job.target in one.readings
        if min(readings) < 1985:
            assert one.off == Fraction(min(readings), 100) - job.target, "too thin is worse than too thick"
    every = [value for readings in finals for value in readings]
    assert made.spread == Fraction(max(every) - min(every), 100)
    assert made.worst is not None
    assert abs(made.finals[made.worst].off) == max(abs(one.off) for one in made.finals)


@examples(60)
@given(RECORDS, OFFS)
def test_a_planer_learns_between_what_was_known_and_what_was_measured(record: dict | None, offs: list[int]) -> None:
    run = through(record=record)
    scale = float(run[-1]["scale"])
    checks = [{"did": "check", "thickness": f"{scale + off / 100:.2f}"} for off in offs]
    job = job_of(run=[*run[:-1], run[-1], *checks], record=record)
    now, before = learned(job), prior(job)
    assert now is not None
    state = follow(job)
    seen = [float(off) for off in state.offs]
    assert min(before.offset, *seen) - 1e-6 <= now.offset <= max(before.offset, *seen) + 1e-6
    assert 0 < now.spread <= max([before.spread, *(abs(off - before.offset) for off in seen)]) + 1e-6
    assert now.runs == (record["runs"] if record else 0) + 1
    assert now.offset_worth <= 4
    assert now.spread_worth <= 40


@examples(30)
@given(RECORDS)
def test_a_run_in_which_nothing_was_measured_adds_its_feet_and_nothing_else(record: dict | None) -> None:
    run = through(record=record)
    first = learned(job_of(run=run, record=record))
    assert first is not None
    again = learned(job_of(run=run, record=record_document(first)))
    assert again is not None
    fed = len(planned_feedings(make_plan(job_of()))) * Fraction(LENGTH, 1000)
    assert (first.fed - Fraction(str((record or {"fed": 0})["fed"])), again.fed - first.fed) == (fed, fed)
    assert first.runs == again.runs == (record["runs"] if record else 0)
    before = prior(job_of(record=record))
    known = (before.offset, before.offset_readings, before.spread, before.spread_readings)
    for one in (first, again):
        assert (one.offset, one.offset_worth, one.spread, one.spread_worth) == pytest.approx(known)


@examples(60)
@given(st.lists(st.tuples(st.integers(205, 280), st.integers(0, 30), st.integers(1, 5)), min_size=1, max_size=6))
def test_pieces_that_are_butted_are_of_one_thickness_and_all_are_accounted_for(
    boards: list[tuple[int, int, int]],
) -> None:
    lot = [
        {
            "name": f"B{n}",
            "readings": [str(thick / 10), str(max(thick - less, 202) / 10)],
            "width": "120",
            "length": "900",
            "count": count,
        }
        for n, (thick, less, count) in enumerate(boards)
    ]
    plan = make_plan(_with(lot))
    job, ways = plan.job, planned_feedings(plan)
    place = {board: n for n, board in enumerate(feeding_order(plan))}
    for number in {way.number for way in ways}:
        row = [way for way in ways if way.number == number]
        found = list(trains(job, row))
        order = [way.board for train in found for way in train]
        assert sorted(order) == sorted(way.board for way in row)
        assert order == sorted(order, key=place.__getitem__), "thick to thin, as told"
        for train in found:
            settled = [way for way in train if len(train) > 1]
            assert all(way.planed for way in settled)
            assert all(way.thick - way.thin <= job.tolerance for way in settled)
    for ends in ENDS:
        for board, pieces in zip(job.boards, sniped(job, feedings_of(plan), ends), strict=True):
            assert sum(one.count for one in pieces) == board.count


def _with(lot: list[dict]) -> Job:
    result = document.read(metric_lot(*lot))
    assert result.job, result.problems
    return result.job
