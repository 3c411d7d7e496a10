"""What a pass costs in time, and at which feed it runs (rules 5, 6 and 8), in whole numbers."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import lcm
from typing import NamedTuple

from thickset.ground.job.job import Job
from thickset.planning.passes.lot import Scale, Stack
from thickset.planning.passes.model import Stage
from thickset.planning.passes.rules import by_rule
from thickset.trade.marks import marks_per_inch

FED = {
    "set_seconds": "s [s] to set the planer",
    "boards": "N [count] boards fed",
    "handle_seconds": "h [s] to handle a board",
    "feed": "v [m/min] feed",
    "length": "l [mm] their lengths together",
}


@by_rule(
    8,
    "minutes [min]",
    **FED,
    steps="t = (s + N × h + 60 × l / (1000 × v)) / 60",
    in_inch="t = (s + N × h + 60 × l / (12 × v)) / 60",
)
def pass_minutes(
    set_seconds: Fraction, boards: int, handle_seconds: Fraction, feed: Fraction, length: Fraction
) -> Fraction:
    """Time of a pass without a test piece.

    >>> pass_minutes(Fraction(20), 2, Fraction(8), Fraction(6), Fraction(6000))
    Fraction(8, 5)
    """
    return (set_seconds + boards * handle_seconds) / 60 + length / (1000 * feed)


@by_rule(
    8,
    "minutes [min]",
    **FED,
    measure_seconds="c [s] to measure the test piece",
    steps="t = (s + N × h + 60 × l / (1000 × v) + c) / 60",
    in_inch="t = (s + N × h + 60 × l / (12 × v) + c) / 60",
)
def checked_pass_minutes(
    set_seconds: Fraction,
    boards: int,
    handle_seconds: Fraction,
    feed: Fraction,
    length: Fraction,
    measure_seconds: Fraction,
) -> Fraction:
    """Time of a pass whose test piece goes first.

    >>> checked_pass_minutes(Fraction(20), 2, Fraction(8), Fraction(6), Fraction(6000), Fraction(30))
    Fraction(21, 10)
    """
    return pass_minutes(set_seconds, boards, handle_seconds, feed, length) + measure_seconds / 60


class Takes(NamedTuple):
    """What each thing of a pass takes [min]: setting the planer, a board, a mm of board, a test piece."""

    setting: Fraction
    board: Fraction
    length: Fraction
    test: Fraction


def takes(job: Job, feed: Fraction) -> Takes:
    """The same at a feed [m/min]: of each, rule 8 with nothing else in it.

    >>> from thickset.ground.job.example import small_job
    >>> [float(60 * each) for each in takes(small_job(), Fraction(6))]
    [20.0, 8.0, 0.01, 30.0]
    """
    practice, none = job.practice, Fraction(0)
    return Takes(
        pass_minutes(practice.set_seconds, 0, none, feed, none),
        pass_minutes(none, 1, practice.handle_seconds, feed, none),
        pass_minutes(none, 0, none, feed, Fraction(1)),
        checked_pass_minutes(none, 0, none, feed, none, practice.measure_seconds),
    )


class Pricing:
    """Prices the passes of one lot on one planer. Settings are whole numbers of `scale`."""

    def __init__(self, job: Job, stack: Stack, scale: Scale) -> None:
        practice = self._practice = job.practice
        self._stack = stack
        self._feeds = job.planer.feeds
        self._wanted = {
            "rough": fastest_for_marks(job, practice.rough_marks, "rough"),
            "finish": fastest_for_marks(job, practice.finish_marks, "finish"),
        }
        self._caps = _caps(job, scale.parts * stack.loads.parts)
        self._checked_upto = job.target + practice.near
        self._scale = scale
        at = [takes(job, feed) for feed in self._feeds]
        times = [at[0].setting, at[0].board, at[0].test, *(one.length / stack.lengths.parts for one in at)]
        self._parts = lcm(*(time.denominator for time in times))
        self._set, self._handle, self._measure, *self._per_length = (int(time * self._parts) for time in times)

    def feed(self, stage: Stage, heaviest: int) -> int | None:
        """Which of the feeds [index] a pass runs at; None if the load allows none."""
        wanted = self._wanted[stage]
        while self._caps is not None and wanted >= 0 and heaviest > self._caps[wanted]:
            wanted -= 1
        return wanted if wanted >= 0 else None

    def is_checked(self, setting: int) -> bool:
        """Whether a test piece goes first, since the target is near."""
        return self._scale.fraction(setting) <= self._checked_upto

    def time(self, setting: int, feed: int) -> int:
        """Time of a pass, in parts of a minute."""
        count, length = self._stack.above(setting)
        time = self._set + count * self._handle + length * self._per_length[feed]
        return time + self._measure if self.is_checked(setting) else time

    def minutes_of(self, setting: int, feed: int, *, checked: bool) -> Fraction:
        """Time of a pass [min], by the function that says its steps; `checked`: a piece is measured first."""
        count, length = self._stack.above(setting)
        practice, whole = self._practice, self._stack.lengths.fraction(length)
        fed = practice.set_seconds, count, practice.handle_seconds, self._feeds[feed], whole
        return checked_pass_minutes(*fed, practice.measure_seconds) if checked else pass_minutes(*fed)

    def minutes(self, time: int) -> Fraction:
        """Parts of a minute as minutes [min]."""
        return Fraction(time, self._parts)

    def times_from(self, highs: Sequence[int], low: int, stage: Stage) -> list[int | None]:
        """Time of a pass down to `low` from each of `highs`, which rise; None where the load allows no feed."""
        if self._caps is None:
            return [self.time(low, self._wanted[stage])] * len(highs)
        price: dict[int | None, int | None] = {None: None}
        found = []
        for heaviest in self._stack.heaviest_each(highs, low):
            feed = self.feed(stage, heaviest)
            if feed not in price:
                price[feed] = self.time(low, feed) if feed is not None else None
            found.append(price[feed])
        return found


def fastest_for_marks(job: Job, wanted: Fraction, stage: Stage) -> int:
    """The fastest feed [index] that leaves the wanted marks [marks/in], the slowest if none does.

    Without a head the marks are unknown: rough passes at the fastest feed, finish passes at the slowest.

    >>> from thickset.ground.job.example import small_job
    >>> fastest_for_marks(small_job(), Fraction(20), "finish")
    0
    """
    feeds, head = job.planer.feeds, job.planer.head
    if head is None:
        return len(feeds) - 1 if stage == "rough" else 0
    reach = [n for n, feed in enumerate(feeds) if marks_per_inch(head.speed, head.marking_knives, feed) >= wanted]
    return max(reach, default=0)


def _caps(job: Job, parts: int) -> list[int] | None:
    """The heaviest that each feed allows, in whole numbers of 1/parts; None without a proven cut."""
    known = job.planer.known_cut
    if known is None:
        return None
    return [int(known.width * known.depth * known.feed / feed * parts) for feed in job.planer.feeds]
