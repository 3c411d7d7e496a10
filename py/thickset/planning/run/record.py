"""A planer's record, and what a run or a scrap adds to it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from thickset.ground.job.job import Record
from thickset.planning.passes.scale import belief_of
from thickset.trade.caliper import SCALE_MOVED, Belief, chance_so_far_off, scale_moved, update

MOST_OFFSET_WORTH = 4
"""Readings the offset of a planer is worth in the next run at most [count]: a scale is knocked. Common practice, no source."""

MOST_SPREAD_WORTH = 40
"""The same for the spread, which a planer keeps longer [count]; common practice, no source."""

STILL_TOLD = 3
"""Runs and scraps after a knock that it is told in [count]; from then on the offset is worth all that it can be."""

FINEST = 10**6
"""A figure of a record is kept to such a part of its unit."""

NOTHING = Record(Fraction(0), Fraction(0), Fraction(0), Fraction(0), 0, Fraction(0))

SURELY_NEAR = 3.29
"""A reading within so many spreads is never so far off as a moved scale [1]: the normal law's width for that chance, Student's is wider."""


class Taught(NamedTuple):
    """What a run or a scrap taught: how far pieces were over the scale [mm], in order, each by a gauge [mm].

    Seconds to set and to handle [s], snipe [mm], length fed [m]. `checked`: a reading that cannot be says that the scale was moved.
    """

    offs: tuple[float, ...] = ()
    gauge: float = 0.0
    set_seconds: Fraction | None = None
    handle_seconds: Fraction | None = None
    lead: Fraction | None = None
    trail: Fraction | None = None
    fed: Fraction = Fraction(0)
    checked: bool = True


class Read(NamedTuple):
    """What is believed after readings, those of them since the scale was last moved [mm], and what was believed before those."""

    belief: Belief
    since: tuple[float, ...]
    known: Belief
    moved: bool


def read_off(known: Belief, offs: Sequence[float], *, checked: bool = True) -> Read:
    """What readings so far over the scale [mm] say, one after the other.

    >>> read_off(Belief(0.0, 13, 0.03, 17), [0.01, 0.5, 0.51]).since
    (0.5, 0.51)
    """
    belief, since, moved = known, list[float](), False
    for off in offs:
        far = abs(off - belief.offset) > SURELY_NEAR * belief.next_spread
        if checked and far and chance_so_far_off(belief, off) < SCALE_MOVED:
            known = belief = scale_moved(belief)
            since, moved = [], True
        belief = update(belief, [off])
        since.append(off)
    return Read(belief, tuple(since), known, moved)


def added(before: Record | None, taught: Taught, read: Read | None = None, *, knocked: bool = False) -> Record:
    """The record with what was taught in it, worth no more readings than stated above; `knocked`: the scale was, before this.

    `read`: what its readings said, where that is known already.

    >>> made = added(None, Taught(offs=(0.2,), fed=Fraction(30)))
    >>> made.offset, made.runs, made.fed
    (Fraction(196923, 1000000), 1, Fraction(30, 1))
    """
    if read is None or knocked:
        known = belief_of(before, taught.gauge)
        read = read_off(scale_moved(known) if knocked else known, taught.offs, checked=taught.checked)
    old = before or NOTHING
    if before is None or taught.offs:
        belief = read.belief
        scale = (
            short(belief.offset),
            _worth(belief.offset_readings, MOST_OFFSET_WORTH),
            short(max(belief.spread, 0.001)),
            _worth(belief.spread_readings, MOST_SPREAD_WORTH),
            old.runs + bool(taught.offs),
        )
        since = 0 if before is None else _since(before, knocked=knocked or read.moved)
    else:
        scale, since = (old.offset, old.offset_worth, old.spread, old.spread_worth, old.runs), old.since_knock
    pace, snipe = (old.set_seconds, old.handle_seconds, old.timed), (old.lead, old.trail, old.sniped)
    if taught.set_seconds is not None or taught.handle_seconds is not None:
        set_seconds = _mean(old.set_seconds, taught.set_seconds, old.timed)
        pace = set_seconds, _mean(old.handle_seconds, taught.handle_seconds, old.timed), old.timed + 1
    if taught.lead is not None and taught.trail is not None:
        lead, trail = max(old.lead or taught.lead, taught.lead), max(old.trail or taught.trail, taught.trail)
        snipe = short(lead), short(trail), old.sniped + 1
    return Record(*scale, short(old.fed + taught.fed), *pace, *snipe, since)


def _worth(readings: float, most: int) -> Fraction:
    return Fraction(most) if readings >= most else short(readings)


def _since(before: Record, *, knocked: bool) -> int:
    """Runs and scraps since the scale was knocked, as long as it is told [count]."""
    if knocked:
        return 1
    return before.since_knock + 1 if 0 < before.since_knock < STILL_TOLD else 0


def _mean(before: Fraction | None, now: Fraction | None, runs: int) -> Fraction | None:
    """The mean of so many runs and one more; what one of them does not know, the other says."""
    if before is None or now is None:
        return before if now is None else short(now)
    return short((before * runs + now) / (runs + 1))


def short(value: float | Fraction) -> Fraction:
    """A figure of a record as it is kept [its own unit].

    >>> short(1 / 3)
    Fraction(333333, 1000000)
    """
    return Fraction(round(round(float(value), 6) * FINEST), FINEST)


def record_document(record: Record) -> dict[str, float]:
    """A record as it stands in a job document; what is not known is left out [mm, s, m, count].

    >>> record_document(Record(Fraction(1, 10), Fraction(4), Fraction(1, 20), Fraction(5), 1, Fraction(0)))
    {'offset': 0.1, 'offset_worth': 4.0, 'spread': 0.05, 'spread_worth': 5.0, 'runs': 1, 'fed': 0.0}
    """
    later = {"timed", "sniped", "since_knock"}
    known = {key: value for key, value in vars(record).items() if value is not None and (value or key not in later)}
    return {key: value if isinstance(value, int) else float(value) for key, value in known.items()}
