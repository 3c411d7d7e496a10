"""Where the minutes of a plan go, and what two ways of planing by habit would take.

Like is compared with like: a habit keeps rules 1, 3, 5, 6 and 8 too, so that the boards end as true and as smooth; it
goes down to the finish cuts in even steps.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial, reduce
from math import ceil
from typing import NamedTuple

from thickset.ground.job.job import Job
from thickset.planning.passes.descent import finish_settings
from thickset.planning.passes.lot import Piece, Scale, Stack, pieces_of
from thickset.planning.passes.model import Plan, Stage
from thickset.planning.passes.pricing import Pricing, takes
from thickset.planning.passes.stages import stages


class Shares(NamedTuple):
    """Where minutes go [min]: setting the planer, handling boards, feeding them, measuring test pieces."""

    setting: Fraction = Fraction(0)
    handling: Fraction = Fraction(0)
    feeding: Fraction = Fraction(0)
    measuring: Fraction = Fraction(0)

    @property
    def total(self) -> Fraction:
        """All of them [min]."""
        return self.setting + self.handling + self.feeding + self.measuring

    def plus(self, other: Shares) -> Shares:
        """Both together.

        >>> Shares(Fraction(1)).plus(Shares(Fraction(2))).setting
        Fraction(3, 1)
        """
        return Shares(*map(Fraction.__add__, self, other))


class WayDown(NamedTuple):
    """One way down: the settings [mm], and how many times it is gone [count].

    >>> WayDown((Fraction(20),), 2).times
    2
    """

    settings: tuple[Fraction, ...]
    times: int


@dataclass(frozen=True)
class Habit:
    """A way of planing: settings, feedings and test pieces in all [count], lengths by feed [mm], minutes by what they go to [min]."""

    ways: tuple[WayDown, ...]
    fed: int
    checked: int
    lengths: tuple[Fraction, ...]
    shares: Shares

    @property
    def settings(self) -> int:
        """Settings of the planer in all [count]."""
        return sum(len(one.settings) * one.times for one in self.ways)


def pass_shares(job: Job, count: int, length: Fraction, feed: Fraction, checked: bool) -> Shares:
    """Rule 8 for one pass, by what the time goes to [min].

    count: boards fed; length: all together [mm]; feed [m/min]; checked: a test piece goes first.

    >>> from thickset.ground.job.example import small_job
    >>> float(pass_shares(small_job(), 2, Fraction(6000), Fraction(6), False).feeding)
    1.0
    """
    one = takes(job, feed)
    return Shares(one.setting, count * one.board, length * one.length, one.test * checked)


def shares_of(plan: Plan) -> Shares:
    """Where the minutes of a plan go [min].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> shares_of(plan).total == plan.minutes
    True
    """
    boards = plan.job.boards
    total = Shares()
    for one in plan.passes:
        count = sum(boards[fed.board].count for fed in one.fed)
        length = sum((boards[fed.board].length * boards[fed.board].count for fed in one.fed), Fraction(0))
        total = total.plus(pass_shares(plan.job, count, length, one.feed, one.checked))
    return total


def all_at_every_setting(job: Job) -> Habit | None:
    """All boards through at every setting, in even steps of the planned cut; None where the motor allows no such step [min].

    >>> from thickset.ground.job.example import small_job
    >>> all_at_every_setting(small_job()).settings
    4
    """
    return _in_stages(job, _all_at_every_setting)


def _in_stages(job: Job, habit: Callable[[Job], Habit | None]) -> Habit | None:
    """A habit before a rest and after it, added up; a job that does not rest is one stage."""
    found = [habit(stage) for stage in stages(job)]
    if any(one is None for one in found):
        return None
    first, *others = (one for one in found if one is not None)
    return reduce(_both, others, _first_measured(job, first))


def _first_measured(job: Job, habit: Habit) -> Habit:
    """On an unknown scale the first piece is measured in any way of planing, but where a test piece goes first anyhow."""
    first = next((settings[0] for settings, _ in habit.ways if settings), None)
    if first is None or not job.planer.scale_is_unknown or first <= stages(job)[0].target + job.practice.near:
        return habit
    measuring = Shares(measuring=takes(job, job.planer.feeds[0]).test)
    return replace(habit, checked=habit.checked + 1, shares=habit.shares.plus(measuring))


def _both(one: Habit, other: Habit) -> Habit:
    lengths = tuple(a + b for a, b in zip(one.lengths, other.lengths, strict=True))
    shares = one.shares.plus(other.shares)
    return Habit(one.ways + other.ways, one.fed + other.fed, one.checked + other.checked, lengths, shares)


def _all_at_every_setting(job: Job) -> Habit | None:
    pieces = pieces_of(job.boards, job.planer.known_cut)
    settings = _even_way(job, max(piece.thick for piece in pieces), max(piece.load for piece in pieces))
    if settings is None:
        return None
    costs = _Costs(job, pieces, [settings])
    count = sum(piece.count for piece in pieces)
    length = sum((piece.length * piece.count for piece in pieces), Fraction(0))
    top = costs.scale.whole(max(piece.thick for piece in pieces))
    return costs.habit() if costs.add(settings, top, costs.stack.heaviest, 1, count, length) else None


def board_by_board(job: Job) -> Habit | None:
    """Each board taken to the target by itself, in even steps of the planned cut; None where the motor allows no such step [min].

    >>> from thickset.ground.job.example import small_job
    >>> board_by_board(small_job()).settings
    7
    """
    return _in_stages(job, _board_by_board)


def _board_by_board(job: Job) -> Habit | None:
    pieces = pieces_of(job.boards, job.planer.known_cut)
    each: list[tuple[Piece, list[Fraction]]] = []
    for piece in pieces:
        settings = _even_way(job, piece.thick, piece.load)
        if settings is None:
            return None
        each.append((piece, settings))
    costs = _Costs(job, pieces, [settings for _, settings in each])
    for piece, settings in each:
        load = costs.stack.loads.whole(piece.load)
        heaviest = partial(_alone, load)
        if not costs.add(settings, costs.scale.whole(piece.thick), heaviest, piece.count, 1, piece.length):
            return None
    return costs.habit()


def _alone(load: int, high: int, low: int) -> int:
    return (high - low) * load


class _Costs:
    """Adds up passes by what they cost, and prices them at the end; settings are whole numbers of one scale."""

    def __init__(self, job: Job, pieces: Sequence[Piece], ways: Sequence[Sequence[Fraction]]) -> None:
        self.job = job
        self.scale = Scale([*{one for way in ways for one in way}, *(piece.thick for piece in pieces), job.target])
        self.stack = Stack(pieces, self.scale)
        self.pricing = Pricing(job, self.stack, self.scale)
        self.fed = self.checked = 0
        self.ways: list[WayDown] = []
        self.lengths = [Fraction(0)] * len(job.planer.feeds)

    def add(
        self,
        way: Sequence[Fraction],
        top: int,
        heaviest: Callable[[int, int], int],
        times: int,
        count: int,
        length: Fraction,
    ) -> bool:
        """One way down from `top`, gone so many times with so many boards each time; whether the motor allows it."""
        last = top
        self.ways.append(WayDown(tuple(way), times))
        for n, setting in enumerate(way):
            low = self.scale.whole(setting)
            stage: Stage = "finish" if n >= len(way) - 2 else "rough"
            feed = self.pricing.feed(stage, heaviest(last, low))
            if feed is None:
                return False
            self.fed += times * count
            self.checked += times * self.pricing.is_checked(low)
            self.lengths[feed] += times * length
            last = low
        return True

    def habit(self) -> Habit:
        """All that was added, in minutes."""
        at = [takes(self.job, feed) for feed in self.job.planer.feeds]
        feeding = sum((long * one.length for long, one in zip(self.lengths, at, strict=True)), Fraction(0))
        settings = sum(len(one.settings) * one.times for one in self.ways)
        return Habit(
            tuple(self.ways),
            self.fed,
            self.checked,
            tuple(self.lengths),
            Shares(settings * at[0].setting, self.fed * at[0].board, feeding, self.checked * at[0].test),
        )


def even_settings(thick: Fraction, ending: Sequence[Fraction], step: Fraction) -> list[Fraction]:
    """Settings from a thick spot in even steps down to the first of the last settings, and these [mm]; the first cut is the lighter one.

    >>> [float(one) for one in even_settings(Fraction(25), [Fraction(22), Fraction(21), Fraction(20)], Fraction("1.5"))]
    [23.5, 22.0, 21.0, 20.0]
    """
    if len(ending) < 3:
        return list(ending)
    return [*(ending[0] + n * step for n in reversed(range(ceil((thick - ending[0]) / step)))), *ending[1:]]


class EvenStep(NamedTuple):
    """The even step of a habit [mm], and what it may be by the planned cut and the planer [mm] and by the motor [mm].

    >>> EvenStep(Fraction("1.5"), Fraction("1.5"), None).step
    Fraction(3, 2)
    """

    step: Fraction
    most: Fraction
    by_load: Fraction | None


def even_step(job: Job, load: Fraction) -> EvenStep:
    """The planned cut in whole steps of the scale, as far as planer and motor allow it [mm]; load: as a piece has it.

    >>> from thickset.ground.job.example import small_job
    >>> float(even_step(small_job(), Fraction(0)).step)
    1.5
    """
    planer, known = job.planer, job.planer.known_cut
    most = min(job.practice.cut, planer.deepest_cut)
    by_load = known.width * known.depth * known.feed / (load * planer.feeds[0]) if known is not None else None
    allowed = most if by_load is None else min(most, by_load)
    return EvenStep(allowed // planer.step * planer.step, most, by_load)


def _even_way(job: Job, thick: Fraction, load: Fraction) -> list[Fraction] | None:
    """Even settings from a thick spot down; the step is the planned cut, on a whole step of the scale, as far as the planer allows it."""
    planer = job.planer
    step = even_step(job, load).step
    if step < max(planer.lightest_cut, planer.step):
        return None
    ending = finish_settings(thick, job.target, job.practice.finish_cut, planer.lightest_cut, planer.step)
    return even_settings(thick, ending, step)
