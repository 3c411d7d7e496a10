"""How far each set of knives was fed, and when it became too dull; and what the book says to do next. No limit is invented."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from thickset.planning.book.book import BEGINS_ANEW, Book

LEAST_RUNS = 3
"""Runs from which on something is said of their minutes [count]; common practice, no source."""

WORTH_A_SCRAP = 2
"""Readings since a knock from which on no scrap is asked for [count]; common practice, no source."""


@dataclass(frozen=True)
class Knives:
    """A set of knives, or an edge of it: `since` which day, as far as it is known; length fed [m]; boards torn and bogs [count].

    `dull`: how far it was fed when the person first said that it is too dull [m]; `first_torn`: when a board first tore [m].
    """

    since: str = ""
    fed: Fraction = Fraction(0)
    torn: int = 0
    bogs: int = 0
    first_torn: Fraction | None = None
    dull: Fraction | None = None


@dataclass(frozen=True)
class Advice:
    """What to do next, each only where the book says it: `scrap`: readings since a knock [count]; `dull`: what the last two sets
    were fed when they became too dull [m], where the knives in hand reached the least of it; `untimed`: runs of which none was
    timed [count]; minutes planned and taken, of so many timed runs [min, count].
    """

    scrap: Fraction | None = None
    dull: tuple[Fraction, ...] = ()
    untimed: int = 0
    minutes: tuple[Fraction, Fraction, int] | None = None


def knives_of(book: Book) -> tuple[Knives, ...]:
    """The sets of knives that a book knows, the one in hand last.

    >>> from thickset.planning.book.book import book_of
    >>> entries = [{"kind": "run", "fed": 30}, {"kind": "run", "fed": 12, "word": "dull"}, {"kind": "changed"}, {"kind": "run", "fed": 4}]
    >>> [(float(one.fed), one.dull) for one in knives_of(book_of(entries))]
    [(42.0, Fraction(42, 1)), (4.0, None)]
    """
    sets, now, fed = list[Knives](), Knives(), Fraction(0)
    for line in book.lines:
        entry = line.entry
        if entry is None:
            continue
        if entry.kind in BEGINS_ANEW:
            sets.append(replace(now, fed=fed))
            now, fed = Knives(entry.on), Fraction(0)
            continue
        if entry.kind == "carried" and entry.record is None:  # forgotten, with what was counted
            now, fed = Knives(entry.on), Fraction(0)
            continue
        fed = line.record.fed if line.record else Fraction(0)
        if entry.torn or entry.bogs or entry.word:
            now = replace(
                now,
                torn=now.torn + entry.torn,
                bogs=now.bogs + entry.bogs,
                first_torn=fed if now.first_torn is None and entry.torn else now.first_torn,
                dull=fed if now.dull is None and entry.word == "dull" else now.dull,
            )
    return (*sets, replace(now, fed=fed))


def advice_of(book: Book) -> Advice:
    """What a book says to do next; nothing where it says too little.

    >>> from thickset.planning.book.book import book_of
    >>> advice_of(book_of([{"kind": "run", "fed": 30}] * 3)).untimed
    3
    """
    record, now = book.record, knives_of(book)
    dull = tuple(one.dull for one in now[:-1] if one.dull is not None)[-2:]
    runs = [line.entry for line in book.lines if line.entry and line.entry.kind == "run"]
    timed = [(one.planned, one.taken) for one in runs if one.planned is not None and one.taken is not None]
    minutes = [sum(each, Fraction(0)) for each in zip(*timed, strict=True)]
    knocked = record is not None and record.since_knock > 0 and record.offset_worth < WORTH_A_SCRAP
    return Advice(
        scrap=record.offset_worth if record is not None and knocked else None,
        dull=dull if dull and now[-1].fed >= min(dull) else (),
        untimed=len(runs) if len(runs) >= LEAST_RUNS and not any(one.taught.handle_seconds for one in runs) else 0,
        minutes=(minutes[0], minutes[1], len(timed)) if len(timed) >= LEAST_RUNS else None,
    )
