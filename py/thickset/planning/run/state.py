"""Where a run stands: pieces, passes to come, passes done, test pieces, what is believed of the scale."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from thickset.ground.job.job import Job
from thickset.planning.passes.lot import Piece
from thickset.planning.passes.model import Feeding, Pass
from thickset.planning.passes.scale import NO_RECORD
from thickset.planning.passes.turns import Placement
from thickset.trade.caliper import Belief

Verdict = Literal["right", "thick", "thin"]


@dataclass(frozen=True)
class Trial:
    """A test piece: the opening wanted, what the scale read, what came out [mm]; `of_board`: a board told it that went through."""

    wanted: Fraction
    scale: Fraction
    thickness: Fraction
    verdict: Verdict
    of_board: bool = False


@dataclass(frozen=True)
class Done:
    """A pass that boards went through: the opening wanted, the scale, what it opened to [mm], the boards [index]."""

    number: int
    wanted: Fraction
    scale: Fraction
    opening: Fraction
    boards: tuple[int, ...]


@dataclass(frozen=True)
class Gone:
    """A board that left the lot [index], and why."""

    board: int
    why: str


@dataclass(frozen=True)
class State:
    """Where a run stands after some of its events.

    `rest` holds the passes to come, the one in hand first; `fed` the boards [index] already through the one in hand.
    `proud`: how far above the target they stop, in the first stage of a job that rests [mm]; `awaited`: boards [index] that
    rest and are to be measured again; `read`: what readings were over the scale [mm], `offs` those since it was last moved, and `known` what was believed before
    them: on both rests `belief`; `feedings`: every board through every pass so far. `said` is what the last event called for, in words.
    """

    job: Job
    pieces: tuple[Piece, ...]
    rest: tuple[Pass, ...]
    fed: tuple[int, ...] = ()
    trials: tuple[Trial, ...] = ()
    done: tuple[Done, ...] = ()
    gone: tuple[Gone, ...] = ()
    swung: frozenset[int] = frozenset()
    known: Belief = NO_RECORD
    belief: Belief = NO_RECORD
    offs: tuple[Fraction, ...] = ()
    read: tuple[Fraction, ...] = ()
    stands: Fraction | None = None
    said: tuple[str, ...] = ()
    stuck: bool = False
    proud: Fraction = Fraction(0)
    awaited: tuple[int, ...] = ()
    feedings: tuple[Feeding, ...] = ()

    @property
    def goal(self) -> Fraction:
        """The thickness that the passes in hand go down to [mm]."""
        return self.job.target + self.proud

    def is_through(self) -> bool:
        """Whether every board went through its last pass, and none rests."""
        return bool(self.done) and not self.rest and not self.awaited and not self.stuck

    def at_target(self, piece: Piece) -> bool:
        """Whether a board that was planed is within the tolerance above the goal, and is left alone."""
        return self.went_in(piece.board) is not None and piece.thick <= self.goal + self.job.tolerance

    def went_in(self, board: int) -> Placement | None:
        """How a board [index] last went in, and so how it lies now; None when it never did."""
        return next((feeding.placement for feeding in reversed(self.feedings) if feeding.board == board), None)

    @property
    def tries(self) -> tuple[Trial, ...]:
        """The test pieces of the setting in hand."""
        return tuple(one for one in self.trials if self.rest and one.wanted == self.rest[0].setting)

    def remaining(self) -> tuple[int, ...]:
        """The boards [index] that the pass in hand still waits for."""
        if not self.rest:
            return ()
        return tuple(
            piece.board for piece in self.pieces if piece.thick > self.opening() and piece.board not in self.fed
        )

    def back_again(self) -> tuple[int, ...]:
        """The boards [index] that the pass in hand waits for once more: they went through it, and were measured thicker since."""
        through = {feeding.board for feeding in self.feedings if feeding.number == len(self.done) + 1}
        return tuple(board for board in self.remaining() if board in through)

    def opening(self) -> Fraction:
        """What the setting in hand opens to [mm], as far as is known: as measured, else as wanted."""
        return self.tries[-1].thickness if self.tries and not self.set_anew else self.rest[0].setting

    @property
    def set_anew(self) -> bool:
        """Whether a board of the pass in hand came out too thick or too thin: the planer is set anew for those that follow."""
        return bool(self.tries) and self.tries[-1].of_board and self.tries[-1].verdict != "right"

    def just_fed(self, setting: Fraction) -> bool:
        """Whether boards went through the pass in hand, and a setting [mm] is that pass's."""
        return bool(self.fed) and bool(self.rest) and self.rest[0].setting == setting

    @property
    def scale_is_unknown(self) -> bool:
        """Whether nothing was measured yet that tells how far the scale is off, and no board went in all the same."""
        return self.job.planer.scale_is_unknown and not self.read and not self.feedings

    def is_tested(self) -> bool:
        """Whether a test piece of the setting in hand came out right, or none is called for."""
        one = self.rest[0]
        if one.for_scale:
            return not self.scale_is_unknown
        return (
            not one.checked
            or (bool(self.tries) and self.tries[-1].verdict == "right")
            or (bool(self.fed) and not self.set_anew)
        )
