"""The lot as columns from the thickest board to the thinnest: what the picture draws and its words say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from thickset.planning.passes.model import OutcomeName, Plan

MOST_COLUMNS = 24
"""Columns that a phone 320 px wide shows apart; of more boards those with the same way down share one."""

_BUCKETS = 6

SIDES: dict[OutcomeName, str] = {"both faces": "2", "one face": "1", "short": "0", "untouched": "–"}
"""How many faces come out planed all over."""


@dataclass(frozen=True)
class Cut:
    """A pass [index] that a column's boards go through; `clean` when the cutter touches all of the face that is `up`."""

    place: int
    clean: bool
    up: str


@dataclass(frozen=True)
class Column:
    """Boards [index] with one way down: thin and thick spot and readings [mm], count, outcome, cuts; of several the spots of each."""

    boards: tuple[int, ...]
    count: int
    thin: float
    thick: float
    readings: tuple[float, ...]
    outcome: OutcomeName
    cuts: tuple[Cut, ...]
    spread: tuple[tuple[float, float], ...] = ()


def columns(plan: Plan) -> list[Column]:
    """The lot's columns, the thickest first.

    >>> from thickset.faces.words.example import lot
    >>> [(one.boards, one.readings, len(one.cuts)) for one in columns(lot("13/16", "7/8 27/32"))]
    [((1,), (22.225, 21.43125), 3), ((0,), (20.6375,), 2)]
    """
    cuts: list[list[Cut]] = [[] for _ in plan.job.boards]
    for place, one in enumerate(plan.passes):
        for fed in one.fed:
            cuts[fed.board].append(Cut(place, fed.clean, fed.placement.up))
    single = [
        Column(
            (n,),
            board.count,
            float(board.thin),
            float(board.thick),
            tuple(dict.fromkeys(float(reading) for reading in board.readings)),
            plan.outcomes[n].name,
            tuple(cuts[n]),
        )
        for n, board in enumerate(plan.job.boards)
    ]
    single.sort(key=lambda one: (-one.thick, one.boards))
    return single if len(single) <= MOST_COLUMNS else _shared(single, len(plan.passes))


class Hatched(NamedTuple):
    """A stretch of a column [mm] that stays rough, or that is short of the target."""

    kind: Literal["rough", "short"]
    high: float
    low: float


def hatched(one: Column, settings: Sequence[float], target: float) -> Hatched | None:
    """What of a column stays rough or is short of the target [mm], given the settings of all passes [mm].

    >>> from thickset.faces.words.example import lot
    >>> one = columns(lot("7/8 49/64"))[0]
    >>> hatched(one, [20.6375, 19.84375, 19.05], 19.05)
    Hatched(kind='rough', high=19.84375, low=19.446875)
    """
    if one.thin < target:
        return Hatched("short", target, one.thin)
    # A board that goes in at the last pass only has no low spots to blame.
    if len(settings) > 1 and one.thin < settings[-2] < one.thick:
        return Hatched("rough", settings[-2], one.thin)
    return None


def _shared(single: Sequence[Column], passes: int) -> list[Column]:
    """Columns put together by the pass that boards first go in at and by their outcome."""
    many = len({(_entry(one, passes), one.outcome) for one in single}) > MOST_COLUMNS
    together: dict[tuple[int, OutcomeName], list[Column]] = {}
    for one in single:
        entry = _entry(one, passes)
        together.setdefault((entry * _BUCKETS // (passes + 1) if many else entry, one.outcome), []).append(one)
    shared = [_merged(members) for members in together.values()]
    return sorted(shared, key=lambda one: (-one.thick, one.boards))


def _entry(one: Column, passes: int) -> int:
    return one.cuts[0].place if one.cuts else passes


def _merged(members: Sequence[Column]) -> Column:
    at: dict[int, list[Cut]] = {}
    for member in members:
        for cut in member.cuts:
            at.setdefault(cut.place, []).append(cut)
    return Column(
        tuple(sorted(n for one in members for n in one.boards)),
        sum(one.count for one in members),
        min(one.thin for one in members),
        max(one.thick for one in members),
        (),
        members[0].outcome,
        tuple(
            Cut(place, len(cuts) == len(members) and all(cut.clean for cut in cuts), _one_of([cut.up for cut in cuts]))
            for place, cuts in sorted(at.items())
        ),
        tuple(sorted(((one.thick, one.thin) for one in members), reverse=True)) if len(members) > 1 else (),
    )


def _one_of(faces: Sequence[str]) -> str:
    """The face that all have up; none where they differ."""
    return faces[0] if len(set(faces)) == 1 else ""
