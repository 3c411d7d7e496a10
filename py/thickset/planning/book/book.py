"""What a planer's book says: the record, computed entry by entry, and from which entry on the scale was knocked.

The record is folded as runs teach it (`run/record.py`). Beside it the chart looks at what each run or scrap found the
scale to be off by. Where a value lies outside its limits the scale was knocked, and the belief rests on what came after,
be it that the run itself told or the book.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import fsum, sqrt
from typing import NamedTuple

from thickset.ground.job.job import Record
from thickset.planning.book.entry import Entry, read
from thickset.planning.passes.scale import belief_of
from thickset.planning.run.record import added, read_off
from thickset.trade.chart import FALSE_ALARM, FREEDOM_OF_A_RANGE, MEAN_RANGE, SPREADS, chance_on_chart
from thickset.trade.normal import student_width

BEGINS_ANEW = {"changed", "turned"}
"""Entries after which the length fed is counted anew."""


LEAST_OF_A_LEVEL = 4
"""Values after which a level can end again [count]: of fewer, one that lay far off by chance would bring a second alarm. A choice."""


class Level(NamedTuple):
    """What the chart held before a value: the mean of the level in hand and the spread of single readings [mm], readings and ranges [count].

    >>> Level(0.1, 0.05, 6, 5).limit(2) > 3 * 0.05 / 2**0.5
    True
    """

    center: float
    spread: float
    readings: int
    ranges: int

    def limit(self, readings: int) -> float:
        """How far off the center a mean of so many readings may lie [mm]."""
        width = student_width(1 - FALSE_ALARM, FREEDOM_OF_A_RANGE * self.ranges)
        return width * self.spread * sqrt(1 / readings + 1 / self.readings)


class Line(NamedTuple):
    """An entry and what follows from it: the record with it; how far the scale was off [mm], with the chart's center and limits [mm].

    `knocked`: the scale was, since the one before, or within this one, as the run itself told (`by_run`); else by the chart, whose
    level `before` it left. `wrong`: why the entry could not be read, which then changes nothing.
    """

    entry: Entry | None
    record: Record | None
    off: float | None = None
    center: float | None = None
    half: float | None = None
    knocked: bool = False
    by_run: bool = False
    before: Level | None = None
    wrong: str = ""


@dataclass(frozen=True)
class Book:
    """The lines of a book in their order."""

    lines: tuple[Line, ...] = ()

    @property
    def record(self) -> Record | None:
        """The planer's record: what all entries say."""
        return self.lines[-1].record if self.lines else None


class _Chart:
    """The chart as it grows: the level in hand, and the moving ranges of every level.

    A value is a mean of as many readings as were taken, and strays the less for it; ranges are said as of single readings.
    """

    def __init__(self) -> None:
        self.values = self.readings = self.count = 0
        self.total = self.ranges = 0.0
        self.last: tuple[float, int] | None = None

    @property
    def center(self) -> float:
        return self.total / self.readings

    @property
    def spread(self) -> float | None:
        return self.ranges / self.count / MEAN_RANGE if self.count else None

    @property
    def level(self) -> Level:
        return Level(self.center, self.spread or 0.0, self.readings, self.count)

    def is_outside(self, value: float, readings: int) -> bool:
        """Whether a value is no longer of the level in hand; never while that has few."""
        spread = self.spread
        if self.values < LEAST_OF_A_LEVEL or spread is None:
            return False
        off = (value - self.center) * sqrt(readings)
        near = abs(off) < 0.99 * SPREADS * spread  # of few values the limits are wider, never closer
        return not near and chance_on_chart(off, spread, self.readings / readings, self.count) < FALSE_ALARM

    def begin(self) -> None:
        self.values = self.readings = 0
        self.total, self.last = 0.0, None

    def take(self, value: float, readings: int) -> None:
        if self.last is not None:
            before, of_it = self.last
            self.ranges += abs(value - before) * sqrt(2 / (1 / readings + 1 / of_it))
            self.count += 1
        self.last = value, readings
        self.values += 1
        self.readings += readings
        self.total += value * readings


def book_of(given: Sequence[object]) -> Book:
    """The book that entries make, as they are kept.

    >>> entries = [{"kind": "scrap", "offs": [0.2]}, {"kind": "walk"}, {"kind": "scrap", "offs": [0.3]}]
    >>> book = book_of(entries)
    >>> book.record.runs, round(float(book.record.offset), 2), book.lines[1].wrong
    (2, 0.25, "kind: 'walk' is none of carried, run, scrap, changed, turned")
    """
    book = Growing()
    return Book(tuple(book.take(one) for one in given))


class Growing:
    """A book as it grows, entry by entry, each as it is kept.

    >>> Growing().take({"kind": "scrap", "offs": [0.2]}).record.runs
    1
    """

    def __init__(self) -> None:
        self._chart = _Chart()
        self.record: Record | None = None

    def take(self, given: object) -> Line:
        """What follows from one more entry; one that cannot be read changes nothing.

        >>> book = Growing()
        >>> book.take({"kind": "walk"}).record is book.record is None
        True
        """
        try:
            line = _line(read(given), self.record, self._chart)
        except ValueError as error:
            return Line(None, self.record, wrong=str(error))
        self.record = line.record
        return line


def _line(entry: Entry, before: Record | None, chart: _Chart) -> Line:
    """An entry on top of the record before it."""
    taught = entry.taught
    if entry.kind == "carried":
        chart.begin()
        return Line(entry, entry.record)
    if entry.kind in BEGINS_ANEW:
        return Line(entry, None if before is None else replace(before, fed=Fraction(0)))
    if not taught.offs:
        return Line(entry, added(before, taught))
    read_now = read_off(belief_of(before, taught.gauge), taught.offs, checked=taught.checked)
    readings = len(read_now.since)
    off = fsum(read_now.since) / readings
    outside = not read_now.moved and chart.is_outside(off, readings)
    level = chart.level if outside else None
    if outside or read_now.moved:
        chart.begin()
    chart.take(off, readings)
    spread = chart.spread
    half = None if spread is None else SPREADS * spread / sqrt(readings)
    record = added(before, taught, read_now, knocked=outside)
    return Line(entry, record, off, chart.center, half, outside or read_now.moved, read_now.moved, level)
