"""Why the figures of a planer's book are what they are: the scale now, when it was knocked, the knives, the minutes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import pairwise

from thickset.ground.notation.lengths import Units
from thickset.planning.book.book import BEGINS_ANEW, Book, Line
from thickset.planning.book.knives import LEAST_RUNS, advice_of, knives_of
from thickset.planning.passes.rules import Rule
from thickset.planning.passes.scale import belief_of
from thickset.planning.run.record import read_off
from thickset.planning.why.passes import ruled
from thickset.planning.why.reason import Check, Quantity, Reason, count, length
from thickset.planning.why.record import FED, FOOT, belief_reasons
from thickset.trade.caliper import scale_moved

KNOCKED = Rule(
    "A run or scrap whose readings lie, on the mean, outside the limits of those before it: their mean, and three spreads by moving "
    "ranges. Of few values the limits are as much wider as keeps a false alarm as seldom: 1 of 370 values.",
    "NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2; Student's t for few values",
    "transcribed",
    "At least four values since the knock before. A knock that is much smaller than the settings stray is not told.",
)
MOVED = Rule(
    "A reading that is less likely than 1 in 1,000 by those before it says that the scale was moved. What is known of it rests on "
    "what was read from then on.",
    "Student's t for the next reading",
    "derived",
    "In a run only. A scrap that lies so far off is left to the chart.",
)
DULL = Rule(
    "How far they were fed in all when you first said that they are too dull.",
    "your word on the surface",
    "derived",
    "Runs that are in the book. No limit is set by anyone else.",
)
MINUTES = Rule(
    "Of all runs that were timed from the first feed to the last: the minutes that went by, against those planned before.",
    "follows from the runs",
    "derived",
    f"From {LEAST_RUNS} timed runs on. A run with a pause over 15 minutes is none of them. The time of the first setting is planned "
    "and not taken: a run is timed from its first tap.",
)


def book_reasons(book: Book, units: Units) -> Iterator[Reason]:
    """The reasons for what a book says, as far as it says it [mm, m or ft, min].

    >>> from thickset.planning.book.book import book_of
    >>> scraps = [{"kind": "scrap", "offs": [off]} for off in (0.1, 0.2)]
    >>> [one.at for one in book_reasons(book_of([*scraps, {"kind": "run", "fed": 30}]), "mm")]
    ['book.scale.offset', 'book.scale.spread', 'book.knives.fed']
    """
    yield from _scale(book)
    yield from _knock(book)
    yield from _knives(book, units)
    planned, taken, runs = advice_of(book).minutes or (Fraction(0), Fraction(0), 0)
    if planned:
        put_in = (
            Quantity("t", "went by", taken, "minutes"),
            Quantity("p", "planned", planned, "minutes"),
            count("n", "timed runs", runs),
        )
        result = Quantity("d", "more than planned", 100 * (taken / planned - 1), "given", "%")
        yield ruled(
            "book.minutes",
            "Minutes taken against those planned",
            result,
            MINUTES,
            put_in,
            (("d", "100 × (t / p − 1)"),),
        )


def _scale(book: Book) -> Iterator[Reason]:
    """What the last readings made of what was known before them."""
    last = _last(book, lambda line: line.off is not None)
    if last is None:
        return
    before, line = last
    if line.entry is None or line.record is None:
        return
    taught, known = line.entry.taught, belief_of(before and before.record, line.entry.taught.gauge)
    read = read_off(scale_moved(known) if line.before else known, taught.offs, checked=taught.checked)
    also = "The scale was knocked before these: next to nothing was known of it." if line.knocked else ""
    offs = [Fraction(str(off)) for off in read.since]
    yield from belief_reasons("book.scale", read.known, offs, (line.record.offset, line.record.spread), also)


def _knock(book: Book) -> Iterator[Reason]:
    """The newest of the knocks, and by what it was told."""
    last = _last(book, lambda line: line.knocked)
    if last is None or last[1].off is None or last[1].entry is None:
        return
    (before, line), entry = last, last[1].entry
    at, title = "book.knock", f"The scale was knocked{f', {entry.on}' if entry.on else ''}"
    value = length("v", "over the scale, on the mean of its readings since", _short(line.off or 0.0))
    readings = count("r", "readings of it", len(entry.taught.offs))
    if line.before is None:
        known = belief_of(before and before.record, entry.taught.gauge)
        center = length("c", "over the scale, known before", _short(known.offset))
        put_in: tuple[Quantity, ...] = (
            value,
            center,
            length("s", "settings repeat to", _short(known.spread)),
            readings,
        )
        yield ruled(
            at, title, length("d", "off what was known", value.number - center.number), MOVED, put_in, (("d", "v − c"),)
        )
        return
    level = line.before
    center = length("c", "over the scale, on the mean of those before", _short(level.center))
    put_in = (
        value,
        center,
        readings,
        length("s", "spread by moving ranges", _short(level.spread)),
        count("N", "readings before", level.readings),
        count("k", "moving ranges", level.ranges),
    )
    result = length("d", "off those before", value.number - center.number)
    limit = length("L", "limit for so many readings", _short(level.limit(len(entry.taught.offs))))
    far = length("|d|", "off those before", abs(result.number))
    yield ruled(at, title, result, KNOCKED, put_in, (("d", "v − c"),), (Check(far, ">", limit),))


def _knives(book: Book, units: Units) -> Iterator[Reason]:
    """How far the knives in hand were fed, and how far those before were when they became too dull."""

    def far(symbol: str, words: str, meters: Fraction) -> Quantity:
        return Quantity(
            symbol, words, meters / FOOT if units == "in" else meters, "given", "ft" if units == "in" else "m"
        )

    *before, now = knives_of(book)
    last = _last(
        book, lambda line: line.record is not None and line.entry is not None and line.entry.kind not in BEGINS_ANEW
    )
    if last is not None and now.fed:
        earlier = last[0].record.fed if last[0] and last[0].record else Fraction(0)
        newest = "carried over" if last[1].entry and last[1].entry.kind == "carried" else "in the newest run or scrap"
        put_in = far("a", "before", earlier), far("b", newest, now.fed - earlier)
        yield ruled(
            "book.knives.fed",
            "Fed since the knives were changed",
            far("f", "fed", now.fed),
            FED,
            put_in,
            (("f", "a + b"),),
        )
    for n, one in enumerate(reversed([each for each in before if each.dull is not None][-2:])):
        title = "Too dull last time after" if n == 0 else "Too dull the time before after"
        left = one.fed - (one.dull or 0)
        put_in = far("a", "fed until they were changed", one.fed), far("b", "of that after your word", left)
        yield ruled(
            f"book.knives.dull[{n}]", title, far("f", "fed", one.dull or Fraction(0)), DULL, put_in, (("f", "a − b"),)
        )


def _last(book: Book, is_such: Callable[[Line], bool]) -> tuple[Line | None, Line] | None:
    """The newest line that is such, with the one before it."""
    pairs = pairwise((None, *book.lines))
    return next(((before, line) for before, line in reversed([*pairs]) if line is not None and is_such(line)), None)


def _short(value: float) -> Fraction:
    return Fraction(str(round(value, 6)))
