"""Runs at the machine: to the letter without surprises, and never without a way on whatever is tapped."""

import json
import random
from fractions import Fraction
from itertools import pairwise

import pytest
import strategies
from amounts import examples
from hypothesis import given
from hypothesis import strategies as st
from runs import begun, buttons, measurements, with_run
from thickset.doors.api import handle
from thickset.faces.run.run import run
from thickset.ground.job import document
from thickset.ground.notation.lengths import show
from thickset.planning.passes.planner import make_plan
from thickset.planning.run.follow import after
from thickset.planning.run.next_step import next_step
from thickset.planning.run.snipe import is_even, planned_feedings, trains
from thickset.planning.stock.leaving import butted_now

SEEDS = st.integers(0, 2**32)


def pieces_in(row, state):
    return sum(state.job.boards[way.board].count for way in row)


@examples(60)
@given(SEEDS)
def test_a_run_without_surprises_follows_the_plan_to_the_letter(seed):
    entered = strategies.job_by_chance(seed)
    state = begun(entered)
    plan, units = state.rest, state.job.units
    ways = planned_feedings(make_plan(state.job))
    for one in plan:
        step = next_step(state)
        assert (step.one.setting, step.one.feed, step.one.stage) == (one.setting, one.feed, one.stage)
        pieces = {piece.board: piece for piece in state.pieces}
        assert step.remaining == tuple(fed.board for fed in one.fed)
        assert all(pieces[fed.board].next_placement() == fed.placement for fed in one.fed)
        rows = trains(state.job, [way for way in ways if way.number == one.number])
        butted = [row for row in rows if is_even(row[0], state.job)]
        assert butted_now(state) == tuple(
            tuple(way.board for way in row) for row in butted if pieces_in(row, state) > 1
        )
        if step.kind == "test":
            right = {"did": "test", "scale": show(one.setting, units), "thickness": show(one.setting, units)}
            (event,) = document.read({**entered, "run": [{**right, "setting": show(one.setting, units)}]}).job.run
            state = after(state, event)
        feed = {"did": "feed", "setting": show(one.setting, units), "scale": show(one.setting, units)}
        (event,) = document.read({**entered, "run": [feed]}).job.run
        state = after(state, event)
    assert next_step(state).kind == "done"
    assert len(state.done) == len(plan)


def keeps_the_rules(state):
    """Rules 1 to 4 for the rest, as far as they do not speak of the pass before it."""
    job = state.job
    if not state.rest:
        return
    settings = [one.setting for one in state.rest]
    assert settings[-1] == job.target
    assert all(high > low for high, low in pairwise(settings))
    if not state.fed and not state.trials:
        reach = min(job.practice.cut, job.planer.deepest_cut) + job.tolerance
        lightest = job.planer.lightest_cut
        assert all(high - low >= min(lightest, job.practice.finish_cut) for high, low in pairwise(settings))
        thick = {piece.board: piece.thick for piece in state.pieces}
        for one in state.rest:
            for fed in one.fed:
                assert thick[fed.board] - one.setting <= reach
                thick[fed.board] = one.setting
                assert fed.load is None or fed.load <= 1


@pytest.mark.slow
@examples(60)
@given(SEEDS)
def test_no_sequence_of_taps_reaches_a_state_without_a_way_on(seed):
    entered = strategies.job_by_chance(seed)
    state = begun(entered)
    chance = random.Random(seed).randrange
    events = []
    lying = {}
    for _ in range(12):
        taps = buttons(state)
        places = measurements(state)
        if places and chance(3) == 0:
            event = places[chance(len(places))]
            near = next_step(state).one.setting if next_step(state).one else state.job.target
            spot = show(near + Fraction(chance(41) - 20, 20), state.job.units)
            if event["did"] == "measure":
                board = state.job.boards[state.pieces[chance(len(state.pieces))].board].name if state.pieces else None
                event |= {"board": board, "readings": [spot, show(near, state.job.units)]}
                if board is None:
                    continue
            else:
                event |= {"thickness": spot}
        elif taps:
            event = taps[chance(len(taps))]
        else:
            break
        events.append(event)
        before, state = state, with_run(entered, events)
        step = next_step(state)
        if event["did"] == "feed" or (event["did"] == "test" and "board" in event):
            named = event.get(
                "boards", [event["board"]] if "board" in event else [one.name for one in state.job.boards]
            )
            went = {one.board: one.next_placement() for one in before.pieces if one.board in before.remaining()}
            if event["did"] == "test":  # one that the knives did not touch did not go in
                measured = state.job.run[-1].thickness
                went = {one.board: one.next_placement() for one in before.pieces if one.thick > measured}
            lying |= {n: how for n, how in went.items() if state.job.boards[n].name in named}
        assert {n: state.went_in(n) for n in range(len(state.job.boards)) if state.went_in(n)} == lying
        stands_still = len(state.done) == len(before.done) and event["did"] != "measure"
        assert not stands_still or set(state.fed) >= set(before.fed)
        assert step.kind in ("test", "feed", "done", "stuck")
        assert "data-undo" in str(run(state))
        if step.kind in ("test", "feed"):
            assert buttons(state)
            keeps_the_rules(state)
        answer = json.loads(handle(json.dumps({"ask": "follow", "job": {**entered, "run": events}})))
        assert answer["ok"]
