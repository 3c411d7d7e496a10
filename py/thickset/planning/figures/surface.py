"""The surface that a planer's knives leave at its feeds, each figure with the formula that gave it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from thickset.ground.job.job import Head, Job
from thickset.planning.passes.model import Plan
from thickset.trade import marks as trade
from thickset.trade.formula import Worked, number, within_range, worked

WAVES = (trade.wave_height, trade.wave_height_approx, trade.wave_height_trochoid)
"""The wave by the exact circle, by the short formula, and with the board moving."""

MOST_SHOWN = 4
"""Feeds that one compares at a glance."""


@dataclass(frozen=True)
class Surface:
    """What so many knives [count] leave at a feed [m/min]: marks, pitch, waves; no waves without a cutting circle."""

    feed: Fraction
    knives: int
    used: bool
    marks: Worked
    pitch: Worked
    waves: tuple[Worked, ...]

    @property
    def wave(self) -> float | None:
        """The wave height by the exact circle [mm]."""
        return next((number(one) for one in self.waves), None)


@dataclass(frozen=True)
class Wanted:
    """The feed that just reaches the marks wanted on passes of a stage, and the fastest of the planer's that does."""

    stage: str
    feed: Worked
    has: Fraction | None


def surfaces(plan: Plan) -> list[Surface]:
    """The surface at the feeds of the plan and at the planer's slowest and fastest, by one proud knife and by all knives.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> surfaces(make_plan(small_job()))
    []
    """
    head = plan.job.planer.head
    if head is None:
        return []
    used = {one.feed for one in plan.passes}
    feeds = sorted({*used, plan.job.planer.feeds[0], plan.job.planer.feeds[-1]})
    if len(feeds) > MOST_SHOWN:
        feeds = sorted(used, reverse=True)[:MOST_SHOWN]
    return [_surface(head, feed, knives, feed in used) for feed in sorted(feeds) for knives in sorted({1, head.knives})]


def _surface(head: Head, feed: Fraction, knives: int, used: bool) -> Surface:
    marks = worked(trade.marks_per_inch, speed=head.speed, knives=knives, feed=feed)
    pitch = worked(trade.pitch, speed=head.speed, knives=knives, feed=feed)
    waves = []
    if head.diameter is not None:
        shared = {"pitch": number(pitch), "diameter": float(head.diameter)}
        for wave in WAVES:
            more = {"knives": knives} if wave is trade.wave_height_trochoid else {}
            found = within_range(wave, **shared, **more)
            if found:
                waves.append(found)
    return Surface(feed, knives, used, marks, pitch, tuple(waves))


def wanted(job: Job) -> list[Wanted]:
    """The feeds that reach the marks wanted.

    >>> from thickset.ground.job.example import small_job
    >>> wanted(small_job())
    []
    """
    head, practice = job.planer.head, job.practice
    if head is None:
        return []
    found = []
    for stage, marks in (("rough", practice.rough_marks), ("finish", practice.finish_marks)):
        if marks <= 0:
            continue
        most = worked(trade.feed_for_marks, speed=head.speed, knives=head.marking_knives, marks=marks)
        has = max((feed for feed in job.planer.feeds if float(feed) <= number(most) * (1 + 1e-12)), default=None)
        found.append(Wanted(stage, most, has))
    return found
