"""What a plan is. Lengths in mm, feeds in m/min, minutes in min, all exact fractions."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple

from thickset.ground.job.job import Job
from thickset.planning.passes.turns import Placement

Stage = Literal["rough", "finish"]
OutcomeName = Literal["both faces", "one face", "short", "untouched"]


class Fed(NamedTuple):
    """One board's way through one pass: its place in the job [index], cut at its thick spot [mm], load [1]."""

    board: int
    placement: Placement
    cut: Fraction
    load: Fraction | None
    clean: bool


class Feeding(NamedTuple):
    """One board [index] through one pass [number]: its thick and thin spot before it, the setting it went through at [mm].

    `planed`: whether it went through a pass before.
    """

    number: int
    board: int
    placement: Placement
    thick: Fraction
    thin: Fraction
    setting: Fraction
    planed: bool

    @property
    def cut(self) -> Fraction:
        """What came off at the thick spot [mm]."""
        return self.thick - self.setting


@dataclass(frozen=True)
class Pass:
    """All boards above one setting fed once: setting [mm], feed [m/min], marks [marks/in], turns of the handle [1].

    `checked`: a piece is measured before the boards follow; `for_scale`: one alone, since nothing is known of the scale.
    """

    number: int
    stage: Stage
    setting: Fraction
    feed: Fraction
    marks: Fraction | None
    checked: bool
    turns: Fraction | None
    fed: tuple[Fed, ...]
    minutes: Fraction
    for_scale: bool = False


@dataclass(frozen=True)
class Outcome:
    """What becomes of a board: how far it is under the target [mm], what comes off each face [mm]."""

    board: int
    name: OutcomeName
    short: Fraction
    taken_a: Fraction
    taken_b: Fraction


@dataclass(frozen=True)
class ThickSpot:
    """The reading that decides the first setting: board and reading [index], thickness [mm]."""

    board: int
    reading: int
    thickness: Fraction


@dataclass(frozen=True)
class TargetRow:
    """How many boards [count] a target [mm] would leave planed on both faces."""

    target: Fraction
    both_faces: int


@dataclass(frozen=True)
class Rest:
    """The rest between two stages of one job: after so many passes [count], at a thickness above the target [mm]."""

    after: int
    stop: Fraction


@dataclass(frozen=True)
class Note:
    """Something to know before the first cut, where it stands in the job, in words; `cures` are texts any of which, entered there, settle it."""

    code: str
    at: str
    text: str
    cures: tuple[str, ...] = ()


@dataclass(frozen=True)
class Plan:
    """A job's cheapest passes and what they make of each board; `rest` where they are two stages."""

    job: Job
    passes: tuple[Pass, ...]
    outcomes: tuple[Outcome, ...]
    decides: ThickSpot
    targets: tuple[TargetRow, ...]
    minutes: Fraction
    notes: tuple[Note, ...]
    rest: Rest | None = None

    @property
    def pieces(self) -> int:
        """Boards of the lot, those alike counted one by one [count]."""
        return sum(board.count for board in self.job.boards)

    def waiting(self, number: int) -> tuple[int, ...]:
        """The boards [index] that wait in a pass: those no thicker than its setting."""
        fed = {one.board for one in self.passes[number - 1].fed}
        return tuple(n for n in range(len(self.job.boards)) if n not in fed)

    def all_make(self) -> TargetRow | None:
        """The thickest target, on a mark of the scale, at which all boards are planed on both faces."""
        return next((row for row in self.targets if row.both_faces == self.pieces), None)
