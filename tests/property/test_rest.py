"""Two stages of one job: each is the exact plan of a lot of its own, and a run without a surprise is the plan to the letter."""

import random
from fractions import Fraction

import pytest
import strategies
from amounts import examples
from hypothesis import assume, given
from hypothesis import strategies as st
from independent import best_plan, length
from runs import buttons, job_of, with_run
from thickset.faces.run.run import run
from thickset.ground.job import document
from thickset.ground.job.job import ProblemsError
from thickset.ground.notation.lengths import show
from thickset.planning.passes.document import to_document
from thickset.planning.passes.outcomes import outcome_name
from thickset.planning.passes.planner import make_plan
from thickset.planning.passes.stages import second_last
from thickset.planning.run.follow import after, begin
from thickset.planning.run.next_step import next_step

SEEDS = st.integers(0, 2**32)


def planned(entered):
    """The plan of a job that rests."""
    try:
        plan = make_plan(job_of(entered))
    except ProblemsError:
        assume(False)
    assume(plan.rest is not None)
    return plan


def alone(entered, target, readings, *, scale_known):
    """One stage written as a job of its own, in mm."""
    boards = [
        {**board, "readings": [f"{strategies.decimal(one)} mm" for one in each]}
        for board, each in zip(entered["boards"], readings, strict=True)
    ]
    rest = {key: value for key, value in entered.items() if key != "service"}
    if scale_known:
        known = {"offset": 0, "offset_worth": 1, "spread": 0.05, "spread_worth": 5}
        rest["planer"] = {**rest.get("planer", {}), "record": known}
    return {**rest, "target": {**entered["target"], "thickness": f"{strategies.decimal(target)} mm"}, "boards": boards}


@examples(60)
@given(SEEDS)
def test_each_stage_takes_the_fewest_minutes_by_the_independent_rules(seed):
    entered = strategies.resting_job(seed)
    plan = planned(entered)
    units, stop, after_pass = entered["units"], plan.rest.stop, plan.rest.after
    stop_said = length(entered["target"]["thickness"], units) + length(entered["service"]["rest"], units)
    assert stop == stop_said
    readings = [[length(one, units) for one in board["readings"]] for board in entered["boards"]]
    rested = [[min(one, stop) for one in each] for each in readings]
    for passes, target, spots, later in (
        (plan.passes[:after_pass], stop, readings, False),
        (plan.passes[after_pass:], plan.job.target, rested, True),
    ):
        best = best_plan(alone(entered, target, spots, scale_known=later))
        assert best is not None
        assert sum((one.minutes for one in passes), Fraction(0)) == best.minutes
        assert [one.setting for one in passes] == [*best.settings]


@examples(60)
@given(SEEDS)
def test_a_run_without_surprises_follows_both_stages_to_the_letter(seed):
    entered = strategies.resting_job(seed)
    plan = planned(entered)
    state, units = begin(plan.job), entered["units"]

    def happens(**event):
        (read,) = document.read({**entered, "run": [event]}).job.run
        return after(state, read)

    for one in plan.passes:
        if next_step(state).kind == "rest":
            assert one.number == plan.rest.after + 1
            for piece in state.pieces:
                spots = [show(spot, units) for spot in (piece.thick, piece.thin)]
                state = happens(did="measure", board=plan.job.boards[piece.board].name, readings=spots)
            assert state.rest == plan.passes[plan.rest.after :]
        assert next_step(state).one == one
        said = {"setting": show(one.setting, units), "scale": show(one.setting, units)}
        if next_step(state).kind == "test":
            state = happens(did="test", **said, thickness=said["setting"])
        state = happens(did="feed", **said)
    assert next_step(state).kind == "done"
    assert len(state.done) == len(plan.passes)


@examples(60)
@given(SEEDS)
def test_outcomes_and_other_targets_know_of_the_rest(seed):
    plan = planned(strategies.resting_job(seed))
    job = plan.job
    second = second_last(job, plan.decides.thickness, job.target)
    assert second == (plan.passes[-2].setting if len(plan.passes) > 1 else None)
    assert [outcome.name for outcome in plan.outcomes] == [
        outcome_name(board, job.target, second) for board in job.boards
    ]
    both = sum(
        board.count for board, outcome in zip(job.boards, plan.outcomes, strict=True) if outcome.name == "both faces"
    )
    assert not plan.targets or plan.targets[0].both_faces == both
    assert to_document(plan)["rest"]["after_pass"] == plan.rest.after


@pytest.mark.slow
@examples(40)
@given(SEEDS)
def test_no_sequence_of_taps_leaves_a_resting_job_without_a_way_on(seed):
    entered = strategies.resting_job(seed)
    state = begin(planned(entered).job)
    chance = random.Random(seed).randrange
    events = []
    for _ in range(14):
        taps, step = buttons(state), next_step(state)
        if step.kind == "rest" and chance(2):
            which = step.remaining[chance(len(step.remaining))]
            piece = next(piece for piece in state.pieces if piece.board == which)
            spot = max(piece.thick + Fraction(chance(41) - 20, 20), Fraction(1))
            name = state.job.boards[piece.board].name
            events.append({"did": "measure", "board": name, "readings": [show(spot, state.job.units)]})
        elif taps:
            forward = [tap for tap in taps if tap["did"] in ("feed", "test")]
            choices = forward if forward and chance(4) else taps
            events.append(choices[chance(len(choices))])
        else:
            break
        before, state = state, with_run(entered, events)
        step = next_step(state)
        assert "data-undo" in str(run(state))
        assert bool(state.awaited) == (step.kind == "rest")
        if step.kind in ("test", "feed"):
            assert buttons(state)
            assert state.rest[-1].setting == state.goal
        if before.awaited and not state.awaited and step.kind in ("test", "feed"):
            assert state.goal == state.job.target
