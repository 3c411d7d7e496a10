"""The product's plan is the best one, by an independent solver: rule 9.

Small lots are compared with every plan there is, settings and all; larger ones with a mixed-integer model in minutes.
"""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from amounts import examples, times
from audit import audit, near
from doors import ask_plan
from hypothesis import assume, given
from independent import Answer, TooManyError, best_plan
from lots import board, lot, metric, metric_lot
from mixed_integer import TooHardError, fewest_minutes
from strategies import job_by_chance, jobs, large_jobs


def assert_same(job: dict, best: Answer | None, with_settings: bool = True) -> None:
    answer = ask_plan(job)
    if best is None:
        assert not answer["ok"], "the product plans what no plan keeps the rules for"
        assert answer["problems"]
        return
    assert answer["ok"], f"there is a plan {best}, but the product finds none: {answer['problems']}"
    plan = answer["plan"]
    assert near(plan["minutes"], best.minutes)
    if with_settings:
        assert len(plan["passes"]) == len(best.settings)
        for row, setting, at in zip(plan["passes"], best.settings, best.feeds, strict=True):
            assert near(row["setting_mm"], setting), f"the best settings are {[float(s) for s in best.settings]}"
            assert near(row["feed_mm_per_s"], at)


def best_of_all(job: dict) -> Answer | None:
    try:
        return best_plan(job)
    except TooManyError:
        assume(False)
        raise


@pytest.mark.slow
def test_thousands_of_small_lots_get_the_best_of_all_plans() -> None:
    """By chance, from seeds that stay; more of them are other ones."""
    planned, none = 0, 0
    for seed in range(times(2000)):
        job = job_by_chance(seed)
        try:
            best = best_plan(job)
            assert_same(job, best)
        except TooManyError:
            continue
        except AssertionError as error:
            error.add_note(f"seed {seed}: {json.dumps(job)}")
            raise
        planned, none = planned + (best is not None), none + (best is None)
    assert planned > times(1200), "most lots must have a plan, or this proves little"
    assert none > times(100), "and some must have none"


@examples(80)
@given(jobs())
def test_small_lots_get_the_best_of_all_plans(job: dict) -> None:
    assert_same(job, best_of_all(job))


@examples(60)
@given(jobs())
def test_the_two_independent_solvers_agree(job: dict) -> None:
    by_trying, by_model = best_of_all(job), fewest_minutes(job)
    assert (by_trying and by_trying.minutes) == (by_model and by_model.minutes)


@examples(10)
@given(large_jobs())
def test_larger_lots_get_the_fewest_minutes(job: dict) -> None:
    try:
        best = fewest_minutes(job)
    except TooHardError:
        assume(False)
        raise
    assert_same(job, best, with_settings=False)


def test_the_worked_lot() -> None:
    """Common practice, no source: thick spots up to 1 1/64 in, target 3/4 in, cut 1/16 in."""
    job = lot(
        board("1 1/64", "63/64", name="A", width="5", length="48"),
        board("1", "31/32", name="B", length="48"),
        practice={"cut": "1/16"},
    )
    sixteenths = [Fraction(16), Fraction(15), Fraction(14), Fraction(13), Fraction(25, 2), Fraction(12)]
    best = best_plan(job)
    assert best is not None
    assert [setting / Fraction(254, 160) for setting in best.settings] == sixteenths
    assert_same(job, best)


def test_halves_of_a_turn_come_before_quarters() -> None:
    """So rare a tie that chance does not meet it: 23 is a half turn, 23.5 and 22.5 are two quarters."""
    job = metric_lot(
        metric("23.9", "23", name="A", width="100"),
        planer={"step": "0.1", "turn": "2", "lightest_cut": "0.6"},
        practice={"cut": "1", "finish_cut": "0.9"},
    )
    best = best_plan(job)
    assert best is not None
    assert [float(setting) for setting in best.settings] == [23, 22.4, 21.8, 20.9, 20]
    assert_same(job, best)


CASES = Path(__file__).resolve().parents[1] / "golden"


# A plan in two stages is two lots: test_rest.py holds each of them.
@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(path.stem for path in CASES.glob("*-plan.json") if path.stem != "rest-plan"))
def test_the_plans_that_are_held_to_the_byte_are_best_too(name: str) -> None:
    case = json.loads((CASES / f"{name}.json").read_text(encoding="utf-8"))
    if not case["answer"]["ok"]:
        return
    job = case["request"]["job"]
    assert_same(job, fewest_minutes(job), with_settings=False)
    audit(job, case["answer"]["plan"])
