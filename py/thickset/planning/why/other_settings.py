"""Other settings than those of the plan: whether the rules allow them, and what they would cost (rule 9)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from thickset.ground.job.job import Job
from thickset.planning.passes.descent import Descent
from thickset.planning.passes.lot import pieces_of
from thickset.planning.passes.model import Plan
from thickset.planning.why.reason import Check, Choice, Quantity, length

TIES = ("fewer passes", "more settings on whole turns", "on half turns", "on quarter turns", "evener cuts")
"""What decides between plans that take the same time, in this order."""


class Priced(NamedTuple):
    """What a row of settings costs: time [min], then the ties in their order, smaller is better.

    >>> Priced(Fraction(5), (3, 0, 0, 0, 8)).minutes
    Fraction(5, 1)
    """

    minutes: Fraction
    ties: tuple[Fraction | int, ...]


class OtherSettings:
    """Prices settings of a job as its plan was priced.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> others, plan = OtherSettings(small_job()), make_plan(small_job())
    >>> float(others.price([one.setting for one in plan.passes]).minutes), float(plan.minutes)
    (4.316666666666666, 4.816666666666666)
    """

    def __init__(self, job: Job) -> None:
        self.job = job
        self.descent = Descent(pieces_of(job.boards, job.planer.known_cut), job)
        turn_marks = self.descent.coarse_marks()
        self._marks = [mark for mark, _ in turn_marks]

    def broken(self, settings: Sequence[Fraction]) -> tuple[int, Check] | None:
        """The first pass [index] that breaks rule 3 or 4, and the limit it breaks; None if all keep them."""
        descent, planer = self.descent, self.job.planer
        high = descent.thickest
        for place, low in enumerate(settings):
            cut = length("c", "cut of the thickest boards", high - low)
            if cut.number > descent.reach:
                return place, Check(cut, "≤", length("C", "deepest cut that is planned", descent.reach))
            if place and cut.number < planer.lightest_cut:
                return place, Check(cut, "≥", length("m", "lightest cut", planer.lightest_cut))
            if self._feed(settings, place, high) is None:
                return place, self._overload(high, low)
            high = low
        return None

    def _feed(self, settings: Sequence[Fraction], place: int, high: Fraction) -> int | None:
        whole = self.descent.scale.whole
        heaviest = self.descent.stack.heaviest(whole(high), whole(settings[place]))
        return self.descent.pricing.feed("finish" if place >= len(settings) - 2 else "rough", heaviest)

    def _overload(self, high: Fraction, low: Fraction) -> Check:
        """The load at the slowest feed of the board that is hardest to plane."""
        known = self.job.planer.known_cut
        if known is None:
            raise AssertionError("without a proven cut every feed will do")
        heaviest = max(piece.load * (min(piece.thick, high) - low) for piece in self.descent.pieces)
        load = heaviest * self.job.planer.feeds[0] / (known.width * known.depth * known.feed)
        return Check(
            Quantity("L", "heaviest load at the slowest feed", load, "share"),
            "≤",
            Quantity("", "load of the proven cut", 1, "share"),
        )

    def price(self, settings: Sequence[Fraction]) -> Priced:
        """What settings cost that keep the rules, without the piece that tells of an unknown scale: that decides no setting."""
        pricing, whole = self.descent.pricing, self.descent.scale.whole
        time, squares, high = 0, Fraction(0), self.descent.thickest
        on_marks = [0] * len(self._marks)
        for place, low in enumerate(settings):
            feed = self._feed(settings, place, high)
            if feed is None:
                raise ValueError("these settings break a load limit")
            time += pricing.time(whole(low), feed)
            if place <= len(settings) - 3:
                squares += (high - low) ** 2
                for n, mark in enumerate(self._marks):
                    on_marks[n] -= (low / mark).denominator == 1
            high = low
        return Priced(pricing.minutes(time), (len(settings), *on_marks, squares))


def with_setting_changed(plan: Plan, place: int) -> tuple[Choice, ...]:
    """The plan with one rough setting [index] a step higher, a step lower or left out, all others kept, beside the plan itself.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [(one.words, one.verdict) for one in with_setting_changed(make_plan(small_job()), 0)]
    [('as planned', 'this one'), ('one step higher, all others kept', 'same time; the plan has more settings on whole turns'), ('one step lower, all others kept', 'same time; the plan has more settings on whole turns'), ('left out, all others kept', 'not allowed in pass 1')]
    """
    others = OtherSettings(plan.job)
    step = plan.job.planer.step
    settings = [one.setting for one in plan.passes]
    mine = others.price(settings)
    not_weighed = plan.minutes - mine.minutes
    found = [Choice("as planned", (), _minutes(plan.minutes), "this one", True)]
    for words, changed in (
        ("one step higher, all others kept", [*settings[:place], settings[place] + step, *settings[place + 1 :]]),
        ("one step lower, all others kept", [*settings[:place], settings[place] - step, *settings[place + 1 :]]),
        ("left out, all others kept", [*settings[:place], *settings[place + 1 :]]),
    ):
        found.append(_other(others, words, changed, mine, not_weighed))
    return tuple(found)


def _other(others: OtherSettings, words: str, settings: list[Fraction], mine: Priced, not_weighed: Fraction) -> Choice:
    if settings[0] >= others.descent.thickest:
        return Choice(words, (), None, "not needed: no board is thicker", False)
    broken = others.broken(settings)
    if broken:
        place, limit = broken
        return Choice(words, (limit,), None, f"not allowed in pass {place + 1}", False)
    other = others.price(settings)
    whole = _minutes(other.minutes + not_weighed)
    if other.minutes > mine.minutes:
        more = other.minutes - mine.minutes
        return Choice(words, (), whole, f"longer by {_seconds(more)}", False)
    tie = next((name for name, a, b in zip(TIES, mine.ties, other.ties, strict=True) if a != b), None)
    decided = f"the plan has {tie}" if tie else "the plan has the higher setting"
    return Choice(words, (), whole, f"same time; {decided}", False)


def _minutes(value: Fraction) -> Quantity:
    return Quantity("t", "whole plan", value, "minutes")


def _seconds(value: Fraction) -> str:
    seconds = float(value * 60)
    return f"{seconds:.3g} s"
