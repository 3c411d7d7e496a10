"""A job: one lot with its target, planer and practice. Lengths in mm, feeds in m/min, all exact."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import Any, Literal

from thickset.ground.job.run_events import Event
from thickset.ground.notation.lengths import Units
from thickset.ground.notation.places import Place


@dataclass(frozen=True)
class Problem:
    """What keeps a job from being planned: where it stands in the document, and what to do about it.

    `short` is the text without the name that it begins with, for beside the field itself, whose label says it;
    `cures` are texts any of which, entered in the field, settle it. Either is empty where there is none.
    """

    at: str
    text: str
    short: str = field(default="", repr=False)
    cures: tuple[str, ...] = field(default=(), repr=False)


def problem_with(label: str, at: str, said: str, cures: tuple[str, ...] = ()) -> Problem:
    """A problem that names what it is about.

    >>> problem = problem_with("Board A, width", "boards[0].width", "nothing is entered.")
    >>> problem.text, problem.short
    ('Board A, width: nothing is entered.', 'Nothing is entered.')
    """
    return Problem(at, f"{label}: {said}", said[:1].upper() + said[1:], cures)


def problem_documents(problems: Iterable[Problem]) -> list[dict[str, Any]]:
    """Problems as JSON values, without the keys that would be empty.

    >>> problem_documents([Problem("units", "Units: write in or mm.", cures=("in", "mm"))])
    [{'at': 'units', 'text': 'Units: write in or mm.', 'cures': ['in', 'mm']}]
    """
    return [
        {
            "at": one.at,
            "text": one.text,
            **({"short": one.short} if one.short else {}),
            **({"cures": list(one.cures)} if one.cures else {}),
        }
        for one in problems
    ]


class ProblemsError(Exception):
    """A job that cannot be planned."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__("; ".join(problem.text for problem in problems))
        self.problems = problems


Ends = Literal["alone", "butted", "guarded"]
"""How boards follow one another: with a gap, end to end, or end to end with scrap before the first and behind the last."""


@dataclass(frozen=True)
class Defect:
    """A stretch of a board that no part may have in it: from and to, measured from end 1 [mm]."""

    start: Fraction
    end: Fraction


@dataclass(frozen=True)
class Part:
    """A finished part, or `count` alike: length [mm], width [mm] where it matters which board it comes out of."""

    name: str
    length: Fraction
    count: int = 1
    width: Fraction | None = None


@dataclass(frozen=True)
class Cutting:
    """How boards are cut to length: kerf, trim of each end [mm], and how boards follow one another."""

    kerf: Fraction = Fraction(3)
    trim: Fraction = Fraction(0)
    ends: Ends = "alone"


@dataclass(frozen=True)
class Rates:
    """What things cost [money an hour; wood: money a board foot or m3]; None where nobody said."""

    people: Fraction | None = None
    machine: Fraction | None = None
    wood: Fraction | None = None


ONE_READING = 1
"""An offset that rests on a measured piece is worth this at least [count]; what is believed of any planer, far less."""


@dataclass(frozen=True)
class Record:
    """What was learned of a planer: offset and spread [mm], readings they are worth, runs [count], fed since new knives [m].

    Seconds to set and to handle a board [s], of so many timed runs [count]; the longest snipe that was measured [mm], in
    so many runs [count]. Runs and scraps since the scale was knocked, while they are few, 0 else [count].
    """

    offset: Fraction
    offset_worth: Fraction
    spread: Fraction
    spread_worth: Fraction
    runs: int
    fed: Fraction
    set_seconds: Fraction | None = None
    handle_seconds: Fraction | None = None
    timed: int = 0
    lead: Fraction | None = None
    trail: Fraction | None = None
    sniped: int = 0
    since_knock: int = 0

    @property
    def knows_scale(self) -> bool:
        """Whether the offset rests on a piece that was measured, and not on what is believed of any planer."""
        return self.offset_worth >= ONE_READING


@dataclass(frozen=True)
class Board:
    """A board, or `count` boards alike: readings, width and length [mm], specific gravity at 12 % moisture [1].

    `places` say where the first readings were taken, in their order, as far as that is known.
    """

    name: str
    readings: tuple[Fraction, ...]
    width: Fraction
    length: Fraction
    count: int = 1
    species: str | None = None
    gravity: Fraction | None = None
    defects: tuple[Defect, ...] = ()
    places: tuple[Place | None, ...] = ()

    @cached_property
    def thick(self) -> Fraction:
        """The thick spot: the largest reading [mm].

        >>> Board("A", (Fraction(27), Fraction(26)), Fraction(100), Fraction(900)).thick
        Fraction(27, 1)
        """
        return max(self.readings)

    @cached_property
    def thin(self) -> Fraction:
        """The thin spot: the smallest reading [mm].

        >>> Board("A", (Fraction(27), Fraction(26)), Fraction(100), Fraction(900)).thin
        Fraction(26, 1)
        """
        return min(self.readings)

    def place(self, reading: int) -> Place | None:
        """Where a reading [index] was taken, if that is known.

        >>> board = Board("A", (Fraction(27), Fraction(26)), Fraction(100), Fraction(900), places=(Place("end 1", "left"),))
        >>> board.place(0), board.place(1)
        (Place(along='end 1', across='left'), None)
        """
        return self.places[reading] if reading < len(self.places) else None


@dataclass(frozen=True)
class Head:
    """The cutterhead: speed [rpm], knives [count], those that mark the surface [count], cutting circle [mm]."""

    speed: Fraction
    knives: int
    marking_knives: int
    diameter: Fraction | None = None


@dataclass(frozen=True)
class KnownCut:
    """A cut this planer takes well: width and depth [mm], feed [m/min], specific gravity [1]."""

    width: Fraction
    depth: Fraction
    feed: Fraction
    species: str | None = None
    gravity: Fraction | None = None


@dataclass(frozen=True)
class Planer:
    """The planer's limits: lengths [mm], feeds [m/min] from slow to fast; None where it sets none."""

    name: str
    moves: str
    deepest_cut: Fraction
    lightest_cut: Fraction
    step: Fraction
    turn: Fraction | None
    widest: Fraction | None
    shortest: Fraction | None
    thinnest: Fraction | None
    feeds: tuple[Fraction, ...]
    head: Head | None
    known_cut: KnownCut | None
    snipe_lead: Fraction | None
    snipe_trail: Fraction | None
    record: Record | None = None
    table: Fraction | None = None

    @property
    def scale_is_unknown(self) -> bool:
        """Whether no piece that was measured ever told how far the scale is off: no record, or one of other things alone."""
        return self.record is None or not self.record.knows_scale


@dataclass(frozen=True)
class Practice:
    """How the shop works: cuts [mm], marks [marks/in], times [s], how far off a reading may be [mm]."""

    cut: Fraction
    finish_cut: Fraction
    near: Fraction
    rough_marks: Fraction
    finish_marks: Fraction
    set_seconds: Fraction
    handle_seconds: Fraction
    measure_seconds: Fraction
    gauge: Fraction = Fraction(0)


@dataclass(frozen=True)
class Service:
    """Where the piece will live: moisture now and then [%], room [C, %], grain, what is left for after a rest [mm].

    `thickness` [mm] is wanted then, where the target is what is planed to today.
    """

    moisture_now: Fraction | None = None
    moisture_then: Fraction | None = None
    temperature: Fraction | None = None
    humidity: Fraction | None = None
    grain: Literal["flatsawn", "quartersawn"] = "flatsawn"
    rest: Fraction | None = None
    thickness: Fraction | None = None


@dataclass(frozen=True)
class Shop:
    """Around the planer: bag for the shavings [L], airflow [m3/h], duct [mm], noise [dBA], whose limits for it ["american", "european"]."""

    bag: Fraction
    air: Fraction | None = None
    duct: Fraction | None = None
    noise: Fraction | None = None
    limits: str | None = None


@dataclass(frozen=True)
class Job:
    """All that a plan is made from: target and tolerance [mm]."""

    title: str
    units: Units
    target: Fraction
    tolerance: Fraction
    boards: tuple[Board, ...]
    planer: Planer
    practice: Practice
    run: tuple[Event, ...] = ()
    parts: tuple[Part, ...] = ()
    cutting: Cutting = Cutting()
    rates: Rates = Rates()
    service: Service | None = None
    shop: Shop | None = None

    @property
    def accepted(self) -> Fraction:
        """How far off a test piece or a board may measure to count as right [mm]: the tolerance less a guard band, the error of the gauge.

        A gauge worse than half the tolerance leaves half of it; that is told. Source: ISO 14253-1 and JCGM 106, the
        acceptance zone narrowed by the uncertainty of measurement; from memory.
        """
        return max(self.tolerance - self.practice.gauge, self.tolerance / 2)


@dataclass(frozen=True)
class Sketch:
    """What could be read of a job with problems: target [mm], boards by their place in the document [index], planer."""

    units: Units
    target: Fraction | None
    boards: dict[int, Board]
    planer: Planer
