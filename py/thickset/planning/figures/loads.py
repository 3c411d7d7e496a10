"""How hard the boards load the motor on each pass, as ranges, each figure with the formula that gave it (rule 5)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from thickset.ground.job.job import Board, Job
from thickset.planning.passes.lot import gravity_share
from thickset.planning.passes.model import Fed, Pass, Plan
from thickset.trade import chips, marks
from thickset.trade.formula import Worked, number, telling, within_range
from thickset.trade.load import (
    cutting_power,
    energy_range,
    load_range,
    watts_order_of_magnitude,
    widest_for_cut,
)

MOST_BOARDS = 12
"""Boards of a pass whose load is told one by one, the heaviest first."""

COUNTS_ALIKE = "which is not known of every wood here: one that is not named counts like the proven cut's"

CHIPS = (chips.engagement_angle, chips.arc, chips.mean_chip, chips.thickest_chip)


@dataclass(frozen=True)
class BoardLoad:
    """A board's load on a pass as a share of the proven cut's: without chips, and as a range where chips are known [1]."""

    board: int
    low: float
    high: float
    worked: Worked | None
    chip: Worked | None = None


@dataclass(frozen=True)
class PassLoad:
    """One pass: its heaviest boards and how many more there are, the widest board for its deepest cut, power, chips."""

    number: int
    cut: Fraction
    boards: tuple[BoardLoad, ...]
    more: int
    widest: Worked | None
    watts: Worked | None
    chips: tuple[Worked, ...]
    known_chip: Worked | None = None
    powers: tuple[Worked, ...] = ()


def loads(plan: Plan) -> list[PassLoad]:
    """The loads and chips of every pass; none where neither head nor proven cut is entered.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> loads(make_plan(small_job()))
    []
    """
    planer = plan.job.planer
    if planer.head is None and planer.known_cut is None:
        return []
    return [_pass_load(plan.job, one) for one in plan.passes if one.fed]


def _pass_load(job: Job, one: Pass) -> PassLoad:
    by_load = sorted(one.fed, key=lambda fed: -fed.load if fed.load is not None else 0)
    with_load = [fed for fed in by_load if fed.load is not None]
    ranges = _Ranges(job, one)
    boards = tuple(ranges.of(fed) for fed in with_load[:MOST_BOARDS])
    deepest = max(fed.cut for fed in one.fed)
    heaviest = with_load[0] if with_load else max(one.fed, key=lambda fed: fed.cut * job.boards[fed.board].width)
    more = len(with_load) - len(boards)
    return PassLoad(
        one.number,
        deepest,
        boards,
        more,
        _widest(job, one, deepest),
        _watts(job, one, heaviest),
        tuple(_chip_figures(job, one.feed, deepest)),
        ranges.known_chip,
        _powers(job, one, heaviest),
    )


class _Ranges:
    """The range of a load by the thickness of its chips, worked once for each cut."""

    def __init__(self, job: Job, one: Pass) -> None:
        self.job, self.one = job, one
        known = job.planer.known_cut
        self.known_chip = _mean_chip(job, known.feed, known.depth) if known else None
        self.chips: dict[Fraction, Worked | None] = {}

    def of(self, fed: Fed) -> BoardLoad:
        load = float(fed.load or 0)
        if fed.cut not in self.chips:
            self.chips[fed.cut] = _mean_chip(self.job, self.one.feed, fed.cut)
        chip = self.chips[fed.cut]
        ratio = number(chip) / number(self.known_chip) if chip and self.known_chip else None
        told = within_range(load_range, ratio=load, chip_ratio=ratio) if ratio else None
        if told is None or not isinstance(told.value, tuple):
            return BoardLoad(fed.board, load, load, None)
        return BoardLoad(fed.board, float(told.value[0]), float(told.value[1]), told, chip)


def _mean_chip(job: Job, feed: Fraction, depth: Fraction) -> Worked | None:
    found = _chip_figures(job, feed, depth)
    return next((one for one in found if one.formula and one.formula.function is chips.mean_chip), None)


def _chip_figures(job: Job, feed: Fraction, depth: Fraction) -> list[Worked]:
    """Engagement and chips of a cut; every knife of the head takes its chip, whichever marks."""
    head = job.planer.head
    if head is None or head.diameter is None:
        return []
    pitch = within_range(marks.pitch, speed=float(head.speed), knives=head.knives, feed=float(feed))
    shared = {"depth": float(depth), "diameter": float(head.diameter)}
    found = []
    for chip in CHIPS:
        more = {"pitch": number(pitch)} if pitch and chip in (chips.mean_chip, chips.thickest_chip) else {}
        one = within_range(chip, **shared, **more)
        if one:
            found.append(one)
    return found


def _widest(job: Job, one: Pass, cut: Fraction) -> Worked | None:
    known = job.planer.known_cut
    if known is None:
        return None
    share = max(gravity_share(job.boards[fed.board], known) for fed in one.fed)
    gravity = known.gravity or Fraction(1)
    found = within_range(
        widest_for_cut,
        depth=float(cut),
        feed=float(one.feed),
        gravity=float(share * gravity),
        known_width=float(known.width),
        known_depth=float(known.depth),
        known_feed=float(known.feed),
        known_gravity=float(gravity),
    )
    named = known.gravity is not None and all(job.boards[fed.board].gravity is not None for fed in one.fed)
    told = {} if named else {"gravity": COUNTS_ALIKE, "known_gravity": COUNTS_ALIKE if known.gravity is None else ""}
    return telling(found, {name: words for name, words in told.items() if words}) if found else None


def _powers(job: Job, one: Pass, fed: Fed) -> tuple[Worked, ...]:
    """The power in the cut at the lowest and at the highest cutting energy of such woods."""
    board = job.boards[fed.board]
    if board.gravity is None:
        return ()
    energies = within_range(energy_range, gravity=float(board.gravity))
    if energies is None or not isinstance(energies.value, tuple):
        return ()
    shared = {"width": float(board.width), "depth": float(fed.cut), "feed": float(one.feed)}
    found = [energies]
    for which, energy in zip(("lowest", "highest"), energies.value, strict=True):
        power = within_range(cutting_power, energy=float(energy), **shared)
        if power:
            found.append(telling(power, {"energy": f"the {which} of such woods, from memory, LOW accuracy"}))
    return tuple(found)


def _watts(job: Job, one: Pass, fed: Fed) -> Worked | None:
    board: Board = job.boards[fed.board]
    if board.gravity is None:
        return None
    return within_range(
        watts_order_of_magnitude,
        width=float(board.width),
        depth=float(fed.cut),
        feed=float(one.feed),
        gravity=float(board.gravity),
    )
