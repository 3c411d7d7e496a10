"""The boards as they now are, added up by thickness so that a pass is priced without going through them again."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate
from math import lcm

from thickset.ground.job.job import Board, KnownCut
from thickset.planning.passes.turns import FIRST_PLACEMENT, Placement, Turn

_TURNED = {placement: placement.turned(Turn.FLIPPED) for turn in Turn if (placement := FIRST_PLACEMENT.turned(turn))}


@dataclass(frozen=True)
class Piece:
    """A board where it now stands: its place in the job [index], thick and thin spot [mm], how it last went in.

    `top_clean`: the face that was up then has cleaned up. `load` is width [mm] times the gravity's share of the proven cut's.
    """

    board: int
    thick: Fraction
    thin: Fraction
    length: Fraction
    count: int
    load: Fraction
    placement: Placement = FIRST_PLACEMENT
    top_clean: bool = False

    def next_placement(self) -> Placement:
        """How it goes in next."""
        return fed_again(self.placement, self.top_clean, self.thin, self.thin)[0]

    def after(self, setting: Fraction) -> Piece:
        """The piece after a pass at a setting [mm] under its thick spot."""
        placement, clean = fed_again(self.placement, self.top_clean, self.thin, setting)
        return replace(self, thick=setting, thin=setting if clean else self.thin, placement=placement, top_clean=clean)


def fed_again(placement: Placement, top_clean: bool, thin: Fraction, setting: Fraction) -> tuple[Placement, bool]:
    """How a board goes in at a setting, and whether its top is clean then (rule 7).

    placement, top_clean: how it last went in, and whether that top is clean; thin: its thin spot [mm]; setting [mm].
    It goes in the same way up until its top is clean, from then on it is flipped end over end every time.

    >>> from fractions import Fraction as F
    >>> fed_again(FIRST_PLACEMENT, False, F(21), F(22))
    (Placement(up='B', leads=1), False)
    >>> fed_again(FIRST_PLACEMENT, True, F(21), F(20))
    (Placement(up='A', leads=2), True)
    """
    return (_TURNED[placement], True) if top_clean else (placement, setting <= thin)


def pieces_of(boards: Sequence[Board], known: KnownCut | None) -> list[Piece]:
    """The pieces of a lot before the first pass.

    >>> from thickset.ground.job.example import small_job
    >>> [float(piece.thick) for piece in pieces_of(small_job().boards, None)]
    [24.0, 22.6]
    """
    return [
        Piece(n, board.thick, board.thin, board.length, board.count, board.width * gravity_share(board, known))
        for n, board in enumerate(boards)
    ]


def gravity_share(board: Board, known: KnownCut | None) -> Fraction:
    """The board's specific gravity over the proven cut's [1]; 1 where either is unknown.

    >>> from fractions import Fraction
    >>> gravity_share(Board("A", (Fraction(27),), Fraction(100), Fraction(900)), None)
    Fraction(1, 1)
    """
    if known is None or known.gravity is None or board.gravity is None:
        return Fraction(1)
    return board.gravity / known.gravity


class Scale:
    """Turns exact fractions into whole numbers of one small unit, and back.

    >>> scale = Scale([Fraction(1, 4), Fraction(1, 6)])
    >>> scale.whole(Fraction(1, 4)), scale.fraction(3)
    (3, Fraction(1, 4))
    """

    def __init__(self, values: Sequence[Fraction]) -> None:
        self.parts = lcm(*{value.denominator for value in values})

    def whole(self, value: Fraction) -> int:
        """A value of one of the denominators, in the small unit."""
        return value.numerator * (self.parts // value.denominator)

    def fraction(self, whole: int) -> Fraction:
        """A whole number of the small unit as the fraction it stands for."""
        return Fraction(whole, self.parts)


class Stack:
    """Thick spots from thin to thick, in whole units, with sums over all boards above any of them."""

    def __init__(self, pieces: Sequence[Piece], scale: Scale) -> None:
        order = sorted(pieces, key=lambda piece: scale.whole(piece.thick))
        self.lengths = Scale([piece.length for piece in order])
        self.loads = Scale([piece.load for piece in order])
        self._thick = [scale.whole(piece.thick) for piece in order]
        self._load = [self.loads.whole(piece.load) for piece in order]
        self._count_above = _sums_above([piece.count for piece in order])
        self._length_above = _sums_above([self.lengths.whole(piece.length) * piece.count for piece in order])
        self._load_above = [*accumulate(reversed(self._load), max, initial=0)][::-1]
        self.thickest = self._thick[-1]

    def above(self, setting: int) -> tuple[int, int]:
        """How many boards are thicker than a setting, and their length all together."""
        first = bisect_right(self._thick, setting)
        return self._count_above[first], self._length_above[first]

    def heaviest(self, high: int, low: int) -> int:
        """The largest width-and-gravity times cut among boards that come from `high` down to `low`."""
        return next(iter(self.heaviest_each([high], low)))

    def heaviest_each(self, highs: Sequence[int], low: int) -> list[int]:
        """The same for several `highs`, which rise."""
        place = bisect_right(self._thick, low)
        partly = 0
        found = []
        for high in highs:
            upto = bisect_left(self._thick, high, place)
            for n in range(place, upto):
                partly = max(partly, (self._thick[n] - low) * self._load[n])
            place = upto
            found.append(max(partly, (high - low) * self._load_above[place]))
        return found


def _sums_above(values: Sequence[int]) -> list[int]:
    return [*accumulate(reversed(values), initial=0)][::-1]
