"""What to do next at the machine, from where a run stands."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from thickset.planning.passes.model import Pass
from thickset.planning.passes.scale import ScaleSetting, fineness, first_aim, rounded, set_by_scale
from thickset.planning.run.state import State
from thickset.trade.caliper import Belief, hit_chance, offset_interval
from thickset.trade.limits import OutOfRangeError
from thickset.trade.trials import pieces_that_suffice

Kind = Literal["test", "feed", "rest", "done", "stuck"]

BIG_PILE = 20
"""Boards from which on a pile wants more than one test piece at hand [count]; common practice, no source."""


@dataclass(frozen=True)
class Certainty:
    """What the readings of the run say of the scale: offset and its 95 % interval [mm], chance that the next is right [1]."""

    readings: int
    offset: float
    low: float
    high: float
    spread: float
    hit: float


@dataclass(frozen=True)
class Step:
    """The next thing to do: `scale` is what the scale is to read [mm], `turns` how far the handle turns down to it [1].

    `test_pieces` suffice with 99 %, each at least `test_piece_least` thick [mm]; `aim` [mm] of it is kept above the
    setting on the first try. `opens` says that the planer must be opened to get there. `first_board` [index], the thickest, is
    the one piece that tells of the scale where no scrap is at hand.
    """

    kind: Kind
    one: Pass | None = None
    following: Pass | None = None
    scale: Fraction | None = None
    turns: Fraction | None = None
    opens: bool = False
    remaining: tuple[int, ...] = ()
    test_pieces: int = 0
    test_piece_least: Fraction = Fraction(0)
    aim: Fraction = Fraction(0)
    first_board: int | None = None

    @property
    def way(self) -> ScaleSetting | None:
        """The pass in hand as it is set; None where there is none."""
        return ScaleSetting(self.one.setting, self.scale, self.aim) if self.one and self.scale is not None else None


def next_step(state: State) -> Step:
    """The next thing to do. Every state has one, be it to mend the plan or to stop.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> step = next_step(begin(small_job()))
    >>> step.kind, step.remaining
    ('test', (0,))
    """
    if state.awaited:
        return Step("rest", remaining=state.awaited)
    if not state.rest:
        return Step("stuck" if state.stuck else "done")
    one = state.rest[0]
    testing = not state.is_tested()
    first = testing and one.setting == state.goal and not state.tries
    aim = first_aim(state.job, state.belief) if first else Fraction(0)
    scale = _set_anew(state, set_by_scale(state.job, state.belief, one.setting, aim).scale)
    if not testing and state.stands is not None and (state.tries or state.fed) and not state.set_anew:
        scale = state.stands
    if scale <= 0:  # a test piece that came out thicker than the planer opens: the reading is a slip
        scale = one.setting
    least, thickest = one.setting + aim + state.job.planer.lightest_cut, None
    if testing and one.for_scale:
        thickest = max(
            (piece for piece in state.pieces if piece.board in state.remaining()), key=lambda piece: piece.thick
        )
        least = thickest.thick
    turn, stands = state.job.planer.turn, state.stands
    return Step(
        kind="test" if testing else "feed",
        one=one,
        following=state.rest[1] if len(state.rest) > 1 else None,
        scale=scale,
        turns=(stands - scale) / turn if turn and stands is not None else None,
        opens=stands is not None and scale > stands,
        remaining=state.remaining(),
        test_pieces=_test_pieces(state, aim) if testing else 0,
        test_piece_least=least,
        aim=aim,
        first_board=thickest.board if thickest else None,
    )


def certainty(state: State) -> Certainty:
    """How far off the scale is, and how sure that is.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> certainty(begin(small_job())).readings
    0
    """
    belief = state.belief
    low, high = offset_interval(belief)
    hit = hit_chance(belief, fineness(state.job))
    return Certainty(len(state.offs), belief.offset, low, high, belief.spread, hit)


def pieces_wanted(belief: Belief, tolerance: float, aim: Fraction) -> int:
    """Test pieces that suffice with 99 % [count]; 0 when the planer repeats too badly for the tolerance.

    >>> pieces_wanted(Belief(0.1, 5.0, 0.05, 9.0), 0.13, Fraction(0))
    2
    """
    try:
        return pieces_that_suffice(
            tolerance, belief.spread, belief.offset_uncertainty, float(aim), belief.spread_readings
        )
    except OutOfRangeError:
        return 0


def saving_target(state: State) -> Fraction | None:
    """The thickest mark of the scale [mm] that every board left in the lot still holds; None if all hold the target.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> saving_target(begin(small_job())) is None
    True
    """
    least = min((piece.thin for piece in state.pieces), default=state.job.target)
    if least >= state.job.target - state.job.tolerance:
        return None
    step = state.job.planer.step
    mark = least // step * step
    return mark if mark > 0 else None


def _test_pieces(state: State, aim: Fraction) -> int:
    if state.rest[0].for_scale:
        return 1
    enough = pieces_wanted(state.belief, fineness(state.job), aim)
    boards = sum(piece.count for piece in state.pieces)
    return max(enough, 2) if enough and boards >= BIG_PILE else enough


def _set_anew(state: State, scale: Fraction) -> Fraction:
    """What the scale must read: after a thick or thin try never the wrong way, or where it was, but by what that try was off."""
    if not state.tries:
        return scale
    last = state.tries[-1]
    off = last.thickness - last.wanted
    return scale if (last.scale - scale) * off > 0 else rounded(last.scale - off)
