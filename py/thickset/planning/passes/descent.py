"""The settings of a lot: rules 1 to 4 and 9 of a plan, put to the search as levels and costs."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor

from thickset.ground.job.job import Job, Problem, ProblemsError, problem_with
from thickset.ground.notation.lengths import INCH, near, show
from thickset.planning.passes.lot import Piece, Scale, Stack
from thickset.planning.passes.pricing import Pricing
from thickset.planning.passes.rules import by_rule
from thickset.planning.passes.search import Cost, cheapest_descent
from thickset.trade.load import load_limit

MOST_STEPS = 1_000_000
"""Steps the search looks at; a planer's step so fine for so thick a lot is a slip."""

MOST_PASSES = 1000
"""No lot is planed through more passes [count]; so many come of a slip in a reading."""


SETTING, TARGET, FINISH_CUT, STEP = "setting [mm]", "T [mm] target", "f [mm] finish cut", "q [mm] step"


@by_rule(1, SETTING, target=TARGET, steps="S = T")
def last_setting(target: Fraction) -> Fraction:
    """The last setting.

    >>> last_setting(Fraction(20))
    Fraction(20, 1)
    """
    return target


@by_rule(1, SETTING, target=TARGET, finish_cut=FINISH_CUT, steps="S = T + f")
def one_cut_above(target: Fraction, finish_cut: Fraction) -> Fraction:
    """The setting before the last, for a lot with more than two finish cuts to go.

    >>> one_cut_above(Fraction(20), Fraction(1))
    Fraction(21, 1)
    """
    return target + finish_cut


@by_rule(1, SETTING, target=TARGET, finish_cut=FINISH_CUT, steps="S = T + 2 × f")
def two_cuts_above(target: Fraction, finish_cut: Fraction) -> Fraction:
    """The setting before that.

    >>> two_cuts_above(Fraction(20), Fraction(1))
    Fraction(22, 1)
    """
    return target + 2 * finish_cut


@by_rule(
    1,
    SETTING,
    thickest="H [mm] thick spot of the lot",
    target=TARGET,
    step=STEP,
    steps="f′ = floor((H − T) / (2 × q)) × q; S = T + f′",
)
def half_way(thickest: Fraction, target: Fraction, step: Fraction) -> Fraction:
    """The setting before the last, for a lot with no more than two finish cuts to go.

    >>> half_way(Fraction(21), Fraction(20), Fraction("0.3"))
    Fraction(203, 10)
    """
    return target + (thickest - target) / (2 * step) // 1 * step


@by_rule(
    1,
    SETTING,
    target=TARGET,
    step=STEP,
    steps_above="n [count] whole steps, the evenest that keep the limits where half of what is over does not",
    steps="S = T + n × q",
)
def evenest_above(target: Fraction, step: Fraction, steps_above: int) -> Fraction:
    """The setting before the last, for such a lot where half way breaks a limit.

    >>> evenest_above(Fraction(20), Fraction("0.1"), 8)
    Fraction(104, 5)
    """
    return target + steps_above * step


@by_rule(
    9,
    SETTING,
    target=TARGET,
    finish_cut=FINISH_CUT,
    step=STEP,
    steps_above="n [count] whole steps above the settings that are fixed",
    steps="S = T + 2 × f + n × q",
)
def rough_setting(target: Fraction, finish_cut: Fraction, step: Fraction, steps_above: int) -> Fraction:
    """A setting above those that rule 1 fixes.

    >>> rough_setting(Fraction(20), Fraction(1), Fraction("0.1"), 7)
    Fraction(227, 10)
    """
    return two_cuts_above(target, finish_cut) + steps_above * step


Keeps = Callable[[Fraction, Fraction], bool]
"""Whether a finish pass from one setting to another [mm] keeps rule 3."""


def rule_3(job: Job, pieces: Sequence[Piece]) -> Keeps:
    """Whether a pass keeps the planned cut, the planer's deepest and, at its slowest feed, what the motor takes.

    >>> from thickset.ground.job.example import small_job
    >>> keeps = rule_3(small_job(), ())
    >>> keeps(Fraction(22), Fraction("20.5")), keeps(Fraction(22), Fraction("20.4"))
    (True, False)
    """
    known, slowest = job.planer.known_cut, job.planer.feeds[0]
    reach = min(job.practice.cut, job.planer.deepest_cut)

    def keeps(high: Fraction, low: Fraction) -> bool:
        return high - low <= reach and (
            known is None
            or all(
                piece.load * (min(piece.thick, high) - low) * slowest <= known.width * known.depth * known.feed
                for piece in pieces
            )
        )

    return keeps


def finish_settings(
    thickest: Fraction,
    target: Fraction,
    finish_cut: Fraction,
    lightest: Fraction,
    step: Fraction,
    keeps: Keeps = lambda high, low: True,
) -> tuple[Fraction, ...]:
    """The last settings [mm] that rule 1 fixes for a lot whose thick spot [mm] is given, from thick to thin.

    >>> from fractions import Fraction as F
    >>> finish_settings(F(30), F(20), F(1), F("0.4"), F("0.1"))
    (Fraction(22, 1), Fraction(21, 1), Fraction(20, 1))
    >>> finish_settings(F(21), F(20), F(1), F("0.4"), F("0.1"))
    (Fraction(41, 2), Fraction(20, 1))
    """
    over = thickest - target
    if over <= 0:
        return ()
    if over > 2 * finish_cut:
        return (two_cuts_above(target, finish_cut), one_cut_above(target, finish_cut), last_setting(target))
    half = half_way(thickest, target, step)
    last = last_setting(target)
    usual = (half, last) if half - target >= lightest else (last,)
    if all(keeps(high, low) for high, low in pairwise((thickest, *usual))):
        return usual
    above = evenest(thickest, target, finish_cut, lightest, step, keeps)
    return usual if above is None else (above, last)


def evenest(
    thickest: Fraction, target: Fraction, finish_cut: Fraction, lightest: Fraction, step: Fraction, keeps: Keeps
) -> Fraction | None:
    """The setting before the last [mm] that parts what is over most evenly and keeps rules 3 and 4; None if none does.

    It stands a finish cut or whole steps above the target. A higher one never adds to the first cut, nor a lower one to the last.

    >>> from fractions import Fraction as F
    >>> float(evenest(F("21.66"), F("20.1"), F("0.8"), F("0.8"), F("0.1"), lambda high, low: high - low <= F("1.5")))
    20.9
    """
    over = thickest - target
    steps = range(ceil(lightest / step), ceil(over / step))
    first = bisect_left(steps, True, key=lambda n: keeps(thickest, evenest_above(target, step, n)))
    end = bisect_left(steps, True, key=lambda n: not keeps(evenest_above(target, step, n), target))
    middle = floor(over / (2 * step))
    near = {min(max(n, steps[first]), steps[end - 1]) for n in (middle, middle + 1)} if first < end else set()
    found = [evenest_above(target, step, n) for n in near]
    whole_cut = one_cut_above(target, finish_cut)
    if lightest <= finish_cut < over and keeps(thickest, whole_cut) and keeps(whole_cut, target):
        found.append(whole_cut)
    return min(found, key=lambda above: (abs(over - 2 * (above - target)), above), default=None)


class Descent:
    """The way of one lot down to its target.

    `settings` raises ProblemsError when no plan keeps the rules.
    """

    def __init__(self, pieces: Sequence[Piece], job: Job) -> None:
        planer, practice = job.planer, job.practice
        self.job, self.pieces = job, pieces
        self.thickest = max((piece.thick for piece in pieces), default=Fraction(0))
        self.reach = min(practice.cut, planer.deepest_cut)
        self._keeps = rule_3(job, pieces)
        fixed = practice.finish_cut, planer.lightest_cut, planer.step
        self.ending = finish_settings(self.thickest, job.target, *fixed, self._keeps)
        marks = [mark for mark, _ in self.coarse_marks()]
        limits = [self.reach, planer.step, planer.lightest_cut]
        self.scale = Scale([*self.ending, *limits, *marks, *(piece.thick for piece in pieces)])
        self.stack = Stack(pieces, self.scale)
        self.pricing = Pricing(job, self.stack, self.scale)

    def coarse_marks(self) -> list[tuple[Fraction, int]]:
        """Whole, half and quarter turns of the handle [mm] with their place in the cost."""
        turn = self.job.planer.turn
        if turn is None:
            sixteenth = INCH / 16
            turn = sixteenth if (sixteenth / self.job.planer.step).denominator == 1 else Fraction(1)
        return [(turn / part, place) for place, part in enumerate((1, 2, 4))]

    def settings(self) -> list[Fraction]:
        """The settings [mm] of the cheapest plan, from thick to thin; none when nothing is above the target."""
        found = self.found()
        if found is None:
            raise ProblemsError(self._why_not())
        return found

    def found(self) -> list[Fraction] | None:
        """The same, but None when no plan keeps the rules."""
        if not self._ending_keeps():
            return None
        if len(self.ending) < 3:
            return list(self.ending)
        rough = self._rough()
        return None if rough is None else [*rough, *self.ending[1:]]

    def _fixed(self) -> Iterable[tuple[Fraction, Fraction]]:
        """From where to where the passes go that rule 1 fixes [mm]."""
        return pairwise(self.ending if len(self.ending) == 3 else (self.thickest, *self.ending))

    def _ending_keeps(self) -> bool:
        """Whether the passes that rule 1 fixes keep rule 3."""
        return all(self._keeps(high, low) for high, low in self._fixed())

    def _rough(self) -> list[Fraction] | None:
        """The settings down to the first one that rule 1 fixes, by the search."""
        whole = self.scale.whole
        base, step, top, reach = (
            whole(self.ending[0]),
            whole(self.job.planer.step),
            whole(self.thickest),
            whole(self.reach),
        )
        lightest = whole(self.job.planer.lightest_cut)
        if top - base > MOST_PASSES * reach:
            raise ProblemsError([self._too_thick()])
        count = -((base - top) // step)
        least, most = -(-lightest // step), reach // step
        if count * max(1, min(most, count)) > MOST_STEPS:
            raise ProblemsError([self._too_fine()])
        marks = [(whole(mark), place) for mark, place in self.coarse_marks()]

        def steps_into(level: int) -> Iterable[tuple[int, Cost]]:
            low = base + level * step
            above = list(range(level + least, min(level + most, count - 1) + 1))
            highs = [base + n * step for n in above]
            if top - low <= reach:
                above.append(count)
                highs.append(top)
            on_marks = [0, 0, 0]
            for mark, place in marks:
                on_marks[place] = -1 if low % mark == 0 else 0
            for number, high, time in zip(above, highs, self.pricing.times_from(highs, low, "rough"), strict=True):
                if time is not None:
                    yield number, (time, 1, *on_marks, (high - low) ** 2)

        found = cheapest_descent(count, count, steps_into, (0,) * 6)
        if not found:
            return None
        fixed = self.job.target, self.job.practice.finish_cut, self.job.planer.step
        return [rough_setting(*fixed, n) for n in found[0]]

    def _why_not(self) -> list[Problem]:
        """Which limit leaves no way down."""
        deepest = max(high - low for high, low in self._fixed())
        if deepest > self.reach:
            return [self._too_deep(deepest)]
        if heavy := self._over(list(self._fixed())):
            lighter = self._lighter_finish(min(limit for limit, _ in heavy.values()))
            cure = f"Lower the finish cut to {show(lighter, self.job.units)}, rip" if lighter else "Rip"
            return self._overloads(heavy, "a pass near the target takes", cure)
        planer, base = self.job.planer, self.ending[0]
        least = -(-planer.lightest_cut // planer.step) * planer.step
        if least > self.reach:
            return [
                Problem(
                    "planer.step",
                    f"Finest step: no whole number of steps of {self._say(planer.step)} lies between the lightest cut, "
                    f"{self._say(planer.lightest_cut)}, and the planned cut, {self._say(self.reach)}. Give a finer step.",
                )
            ]
        return self._overloads(
            self._over([(base + least, base)]), "the lightest of whole steps takes", "Give a finer step, rip"
        )

    def _over(self, ways: Sequence[tuple[Fraction, Fraction]]) -> dict[int, tuple[Fraction, Fraction]]:
        """The boards [index] whose load is over on the way from one setting to another: their limit, their cut [mm]."""
        known, slowest, one = self.job.planer.known_cut, self.job.planer.feeds[0], Fraction(1)
        if known is None:
            return {}
        found = {}
        for piece in sorted(self.pieces, key=lambda piece: piece.board):
            limit = load_limit(piece.load, slowest, one, known.width, known.depth, known.feed, one)
            cut = max(min(piece.thick, high) - low for high, low in ways)
            if cut > limit:
                found[piece.board] = limit, cut
        return found

    def _overloads(self, heavy: dict[int, tuple[Fraction, Fraction]], takes: str, cure: str) -> list[Problem]:
        return [
            problem_with(
                f"Board {self.job.boards[board].name}",
                f"boards[{board}].width",
                f"at the slowest feed the proven cut allows {near(limit, self.job.units)} a pass, and {takes} {self._say(cut)}. "
                f"{cure} it narrower, plane it on a heavier planer, or check the proven cut.",
            )
            for board, (limit, cut) in heavy.items()
        ]

    def _lighter_finish(self, limit: Fraction) -> Fraction | None:
        """A lighter finish cut [mm] that keeps a limit and leaves a plan; None if there is none."""
        planer, practice = self.job.planer, self.job.practice
        half = (self.thickest - self.job.target) / (2 * planer.step)
        steps = min(limit // planer.step, -(-half // 1) - 1)
        for cut in (steps * planer.step, planer.lightest_cut):
            if planer.lightest_cut <= cut <= limit and cut < practice.finish_cut:
                job = replace(self.job, practice=replace(practice, finish_cut=cut))
                if Descent(self.pieces, job).found() is not None:
                    return cut
        return None

    def _too_deep(self, cut: Fraction) -> Problem:
        practice, planer = self.job.practice, self.job.planer
        lighter = self._lighter_finish(self.reach)
        cures = [f"lower the finish cut to {show(lighter, self.job.units)}"] if lighter else []
        if cut <= planer.deepest_cut:
            cures.append("raise the planned cut")
        said = " or ".join(cures or ["lower the lightest cut or give a finer step"])
        return Problem(
            "practice.finish_cut" if cut == practice.finish_cut else "practice.cut",
            f"A pass near the target would take {self._say(cut)}, more than the planned cut and the planer's deepest "
            f"allow ({self._say(self.reach)}). {said[0].upper()}{said[1:]}.",
        )

    def _too_fine(self) -> Problem:
        return Problem(
            "planer.step",
            f"Finest step: {show(self.job.planer.step, self.job.units)} is too fine for a lot this thick. Give the finest change "
            "of the setting that can be read on the scale.",
        )

    def _too_thick(self) -> Problem:
        board = max(self.pieces, key=lambda piece: piece.thick).board
        return problem_with(
            f"Board {self.job.boards[board].name}",
            f"boards[{board}].readings",
            f"its thick spot, {self._say(self.thickest)}, is more than {MOST_PASSES:,} passes above the target. Check the "
            "number and its unit.",
        )

    def _say(self, length: Fraction) -> str:
        return near(length, self.job.units, 3)
