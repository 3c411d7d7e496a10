"""What the scale of a planer must read for an opening, by what is known of the scale. Plan and run ask here."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import NamedTuple

from thickset.ground.job.job import Job, Record
from thickset.planning.passes.model import Plan
from thickset.trade.caliper import UNKNOWN_SPREAD, Belief, scale_for, unknown_planer
from thickset.trade.trials import aim_of_first_try

NO_RECORD = unknown_planer()
"""What is believed of a planer before its first reading (see trade.caliper)."""

CALIPER = 0.03
"""Error of the caliper that the spread of a planer without a record counts in [mm]; common practice, no source."""

SCALE_STEP = Fraction(1, 100)
"""A corrected scale reading is given to this step [mm]; finer than any scale is read."""


class ScaleSetting(NamedTuple):
    """A setting as it is set: what the scale reads, and how far above the setting a first try is kept [mm]."""

    setting: Fraction
    scale: Fraction
    aim: Fraction = Fraction(0)

    @property
    def opens(self) -> Fraction:
        """What the planer then opens to [mm]."""
        return self.setting + self.aim

    @property
    def is_bare(self) -> bool:
        """Whether the scale reads the setting itself."""
        return self.scale == self.setting and not self.aim


def prior(job: Job) -> Belief:
    """What is believed of the job's planer before the run: its record, else no more than of any planer [mm, count].

    >>> from thickset.ground.job.example import small_job
    >>> prior(small_job()) == NO_RECORD
    True
    """
    return belief_of(job.planer.record, float(job.practice.gauge))


def belief_of(record: Record | None, gauge: float = 0.0) -> Belief:
    """What a record says; without one what is measured strays by a gauge [mm] that is worse than a caliper as well.

    >>> belief_of(None) == NO_RECORD
    True
    """
    if record is None:
        return unknown_planer(spread=math.hypot(UNKNOWN_SPREAD, max(0.0, gauge - CALIPER) / 2))
    return Belief(*map(float, (record.offset, record.offset_worth, record.spread, record.spread_worth)))


def scale_settings(plan: Plan) -> list[ScaleSetting]:
    """Every pass of a plan as it is set, the first as a run begins with it.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [float(one.scale) for one in scale_settings(make_plan(small_job()))]
    [23.0, 21.6, 20.8, 20.0]
    """
    job = plan.job
    belief = prior(job)
    goal = plan.rest.stop if plan.rest else job.target
    return [
        set_by_scale(job, belief, one.setting, first_aim(job, belief) if first_try and one.checked else Fraction(0))
        for one in plan.passes
        for first_try in [one.number == 1 and one.setting == goal]
    ]


def set_by_scale(job: Job, belief: Belief, setting: Fraction, aim: Fraction = Fraction(0)) -> ScaleSetting:
    """A setting [mm] as it is set: the scale reads the opening itself as long as nothing was measured.

    >>> from thickset.ground.job.example import small_job
    >>> float(set_by_scale(small_job(), Belief(0.25, 3, 0.05, 5), Fraction(20)).scale)
    19.75
    """
    opens = setting + aim
    if belief.offset == 0:
        return ScaleSetting(setting, opens, aim)
    reading = rounded(scale_for(belief, float(opens)))
    step = job.planer.step
    mark = round(reading / step) * step
    # Nobody sets a planer finer than this between two marks.
    scale = mark if abs(reading - mark) <= job.tolerance / 4 else reading
    # A scale further off than the planer opens: the reading was a slip.
    return ScaleSetting(setting, scale if scale > 0 else setting, aim)


def first_aim(job: Job, belief: Belief) -> Fraction:
    """How far above the setting [mm] the first try of a last pass is kept, for a test piece that comes out thin is lost.

    >>> from thickset.ground.job.example import small_job
    >>> float(first_aim(small_job(), NO_RECORD)) > 0
    True
    """
    return rounded(aim_of_first_try(float(max(job.tolerance, SCALE_STEP)), belief.spread, belief.offset_uncertainty))


def fineness(job: Job) -> float:
    """How far off a reading may be to count as right [mm]; none at all is taken as the finest step that is spoken of.

    >>> from thickset.ground.job.example import small_job
    >>> fineness(small_job()) > 0
    True
    """
    return float(max(job.accepted, SCALE_STEP))


def rounded(length: Fraction | float) -> Fraction:
    """A length [mm] to the step that scale readings are given in.

    >>> rounded(0.123)
    Fraction(3, 25)
    """
    return round(Fraction(length) / SCALE_STEP) * SCALE_STEP
