"""Two stages of one job: stop proud of the target, let the boards rest, measure again, finish (rule 12).

Each stage is planned by rules 1 to 10 as a lot of its own. What the second stage meets is known only once the boards
were measured again; until then it is planned for boards that did not move.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from thickset.ground.job.job import Job
from thickset.planning.passes.descent import finish_settings, rule_3
from thickset.planning.passes.lot import pieces_of
from thickset.planning.passes.model import Pass, Plan
from thickset.planning.passes.rules import by_rule


@by_rule(
    12,
    "where the first stage stops [mm]",
    target="T [mm] target",
    allowance="r [mm] left for after the rest",
    steps="S = T + r",
)
def stop_above(target: Fraction, allowance: Fraction) -> Fraction:
    """The thickness at which the boards rest.

    >>> stop_above(Fraction(20), Fraction(1))
    Fraction(21, 1)
    """
    return target + allowance


def stop_of(job: Job) -> Fraction | None:
    """Where the first stage stops [mm]; None without an allowance, or when no board is thicker than that.

    >>> from thickset.ground.job.example import small_job
    >>> stop_of(resting(small_job(), Fraction(1))), stop_of(resting(small_job(), Fraction(4))), stop_of(small_job())
    (Fraction(21, 1), None, None)
    """
    allowance = job.service.rest if job.service else None
    if allowance is None or max(board.thick for board in job.boards) <= job.target + allowance:
        return None
    return stop_above(job.target, allowance)


def resting(job: Job, allowance: Fraction | None) -> Job:
    """The job with another allowance for a rest [mm], or none.

    >>> from thickset.ground.job.example import small_job
    >>> resting(small_job(), Fraction(2)).service.rest
    Fraction(2, 1)
    """
    if job.service is None:
        raise ValueError("a job that was read has its service")
    return replace(job, service=replace(job.service, rest=allowance))


def first_stage(job: Job, stop: Fraction) -> Job:
    """The first stage as a job of its own: the target is where it stops [mm].

    >>> from thickset.ground.job.example import small_job
    >>> first_stage(small_job(), Fraction(21)).target
    Fraction(21, 1)
    """
    return replace(resting(job, None), target=stop)


def second_stage(job: Job, stop: Fraction) -> Job:
    """The second stage as a job of its own: no reading is above where the first one stopped [mm].

    >>> from thickset.ground.job.example import small_job
    >>> [float(board.thick) for board in second_stage(small_job(), Fraction(23)).boards]
    [23.0, 22.6]
    """
    boards = (
        replace(board, readings=tuple(min(reading, stop) for reading in board.readings))
        if board.thick > stop
        else board
        for board in job.boards
    )
    return replace(resting(job, None), boards=tuple(boards))


def stages(job: Job) -> tuple[Job, ...]:
    """The job itself or, where it rests, its two stages as jobs of their own, each with a target [mm].

    >>> from thickset.ground.job.example import small_job
    >>> [int(stage.target) for stage in stages(resting(small_job(), Fraction(1)))], len(stages(small_job()))
    ([21, 20], 1)
    """
    stop = stop_of(job)
    return (job,) if stop is None else (first_stage(job, stop), second_stage(job, stop))


def second_last(job: Job, thickest: Fraction, target: Fraction) -> Fraction | None:
    """The second-last setting of a lot with a thick spot for a target [mm] (rules 1, 10, 12); None when one pass is left.

    >>> from thickset.ground.job.example import small_job
    >>> job = resting(small_job(), Fraction("0.5"))
    >>> [float(second_last(one, Fraction(24), Fraction(20))) for one in (small_job(), job)]
    [20.8, 20.5]
    """
    planer, practice = job.planer, job.practice
    allowance = job.service.rest if job.service else None
    stop = stop_above(target, allowance) if allowance is not None and thickest > target + allowance else None
    fixed = practice.finish_cut, planer.lightest_cut, planer.step
    keeps = rule_3(job, pieces_of(job.boards, planer.known_cut))
    ending = finish_settings(thickest if stop is None else stop, target, *fixed, keeps)
    return ending[-2] if len(ending) > 1 else stop


class OfStage(NamedTuple):
    """One stage of a plan as a plan of its own, the pass of it that is asked of, and which stage it is [1 or 2]."""

    plan: Plan
    one: Pass
    stage: int


def of_stage(plan: Plan, one: Pass) -> OfStage:
    """The stage a pass belongs to as a plan of its own, its passes numbered from 1 [count]; the plan itself without a rest.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(resting(small_job(), Fraction(1)))
    >>> view = of_stage(plan, plan.passes[-1])
    >>> view.one.number, len(view.plan.passes), view.stage, view.plan.decides.thickness
    (2, 2, 2, Fraction(21, 1))
    """
    rest = plan.rest
    if rest is None:
        return OfStage(plan, one, 1)
    late = one.number > rest.after
    passes = plan.passes[rest.after :] if late else plan.passes[: rest.after]
    numbered = tuple(replace(each, number=n) for n, each in enumerate(passes, 1))
    job = second_stage(plan.job, rest.stop) if late else first_stage(plan.job, rest.stop)
    decides = replace(plan.decides, thickness=min(plan.decides.thickness, rest.stop)) if late else plan.decides
    minutes = sum((each.minutes for each in numbered), Fraction(0))
    view = replace(plan, job=job, passes=numbered, decides=decides, minutes=minutes, rest=None)
    return OfStage(view, numbered[one.number - 1 - (rest.after if late else 0)], 2 if late else 1)
