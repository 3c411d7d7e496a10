"""A planer's book as it is read: what to do next, the scale over time, the knives, minutes and boards, and its entries."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from thickset.faces.planer.chart import chart
from thickset.faces.words import words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.job.job import Record
from thickset.ground.job.tables import as_words
from thickset.ground.notation.lengths import INCH, Units, near
from thickset.planning.book.book import Book, Line
from thickset.planning.book.entry import Entry
from thickset.planning.book.knives import Knives, advice_of, knives_of
from thickset.planning.passes.scale import belief_of
from thickset.trade.caliper import offset_interval

SHOWN = 40
"""Entries that are listed at first, the newest first [count]."""

FOOT = Fraction("0.3048")
KINDS = {
    "carried": "Carried over: what was known before",
    "run": "Run",
    "scrap": "Scrap measured",
    "changed": "Knives changed",
    "turned": "Knives turned",
}
WORDS = {"clean": "clean", "fair": "fair", "dull": "too dull"}

Row = list[str | float | Fraction]


def book_page(book: Book, units: Units, name: str, *, whole: bool = False) -> Markup:
    """The book of a planer, by its name; `whole`: with every entry.

    >>> from thickset.planning.book.book import book_of
    >>> book_page(book_of([]), "mm", "Old green one")
    '<div class="book"><p class="hint">Nothing is in this book yet. A run that is through, and a scrap that is measured, each leave an entry.</p></div>'
    """
    if not book.lines:
        said = "Nothing is in this book yet. A run that is through, and a scrap that is measured, each leave an entry."
        return el("div", el("p", said, class_="hint"), class_="book")
    told = [el("li", figure(line)) for line in advice(book, units)]
    if advice_of(book).minutes:
        told.append(el("li", ask_button("book.minutes", "Why these minutes?")))
    last = len(book.lines) - 1
    newest = max((n for n, line in enumerate(book.lines) if line.entry and line.entry.kind == "run"), default=None)
    shown = last + 1 if whole else SHOWN
    return el(
        "div",
        el("h2", f"The book of {name}"),
        el("ul", *told, class_="advice") if told else None,
        chart(book, units),
        _now(book, units),
        *(el("p", figure(line)) for line in _knives(book, units)),
        el("p", ask_button("book.knives", "Why these lengths?")) if any(one.fed for one in knives_of(book)) else None,
        *(el("p", figure(line)) for line in _boards(book)),
        el(
            "ol",
            *(_item(n, line, units, newest=n == newest) for n, line in reversed([*enumerate(book.lines)][-shown:])),
            class_="entries",
        ),
        el("button", f"Show all {last + 1:,} entries", type="button", data_book="all") if shown <= last else None,
        class_="book",
    )


def advice(book: Book, units: Units) -> Iterator[str]:
    """What to do next, with the figures that it rests on.

    >>> from thickset.planning.book.book import book_of
    >>> list(advice(book_of([{"kind": "run", "fed": 30}] * 3), "mm"))
    ['Time a run: none of 3 says what a board takes. Tick the boards off one by one as they go through.']
    """
    found = advice_of(book)
    if found.scrap is not None:
        many = "1 reading" if round(found.scrap) == 1 else f"{round(found.scrap)} readings"
        yield f"Measure a scrap: the scale was knocked, and what is known of it since rests on {many}."
    if found.dull:
        before = words.listed([_far(one, units) for one in reversed(found.dull)])
        times = "last time" if len(found.dull) == 1 else "the last two times, the latest first"
        now = _far(knives_of(book)[-1].fed, units)
        yield f"See to the knives: they were fed {now}. They were too dull after {before}, {times}."
    if found.untimed:
        yield f"Time a run: none of {found.untimed} says what a board takes. Tick the boards off one by one as they go through."
    if found.minutes:
        planned, taken, runs = found.minutes
        yield (
            f"Of {runs} timed runs {words.minutes(planned)} were planned and {words.minutes(taken)} went by: the seconds in "
            f"use are {_against(planned, taken)}."
        )


def _against(planned: Fraction, taken: Fraction) -> str:
    off = round(100 * (taken / planned - 1)) if planned else 0
    return "right" if abs(off) < 5 else f"{abs(off)} % too {'few' if off > 0 else 'many'}"


def _now(book: Book, units: Units) -> Markup | None:
    """What the scale is off by now, with why; and why it was told to be knocked."""
    record = book.record
    if record is None or not record.runs:
        return None
    asks = [ask_button("book.scale", "Why this much?")] if any(line.off is not None for line in book.lines) else []
    asks += [ask_button("book.knock", "Why knocked?")] if any(line.knocked for line in book.lines) else []
    low, high = offset_interval(belief_of(record))
    said = (
        f"Now the planer opens {_signed(record.offset, units)} than its scale reads, {_bounds(low, high, units)}, "
        f"95 times in 100. Settings repeat to {_fine(record.spread, units)}."
    )
    return el("div", el("p", figure(said)), *(el("p", figure(one)) for one in _knock(book)), *asks)


def _knock(book: Book) -> Iterator[str]:
    """From which entry on the scale was knocked the last time."""
    knocked = [n for n, line in enumerate(book.lines) if line.knocked and line.entry]
    if not knocked:
        return
    line = book.lines[knocked[-1]]
    entry = line.entry
    since = sum(line.off is not None for line in book.lines[knocked[-1] :])
    if entry is not None:
        which = " ".join(filter(None, (_head(entry), entry.on)))
        what = entry.kind
        rests = f"that {what} alone" if since == 1 else f"that {what} and the {since - 1} after it"
        yield f"The scale was last knocked {'during' if line.by_run else 'before'} this {what}: {which}. What is known of it rests on {rests}."


def _knives(book: Book, units: Units) -> Iterator[str]:
    *before, now = knives_of(book)
    yield f"These knives: fed {_far(now.fed, units)}{_seen(now, units)}."
    for when, one in zip(("Those before", "And those before them"), reversed(before[-2:]), strict=False):
        yield f"{when}: fed {_far(one.fed, units)} until they were changed{_seen(one, units)}."


def _seen(one: Knives, units: Units) -> str:
    torn = f"torn grain {_times(one.torn)}" + (f", first after {_far(one.first_torn, units)}" if one.first_torn else "")
    dull = f", too dull by your word after {_far(one.dull, units)}" if one.dull is not None else ""
    return f"; {torn if one.torn else 'no torn grain'}, {f'bogged {_times(one.bogs)}' if one.bogs else 'never bogged'}{dull}"


def _boards(book: Book) -> Iterator[str]:
    runs = [line.entry for line in book.lines if line.entry and line.entry.kind == "run"]
    planed = sum(one.boards for one in runs)
    if not planed:
        return
    measured, out = sum(one.measured for one in runs), sum(one.out for one in runs)
    lost: dict[str, int] = {}
    for one in runs:
        for why, many in one.lost:
            lost[why] = lost.get(why, 0) + many
    reasons = words.listed([f"{many} {why}" for why, many in sorted(lost.items(), key=lambda each: -each[1])[:4]])
    finals = (
        f"Of {measured:,} measured after their last pass {out:,} {'was' if out == 1 else 'were'} out of tolerance. "
        if measured
        else ""
    )
    yield f"{words.boards(planed)} planed. {finals}{f'Left the lot: {reasons}.' if lost else 'No board left its lot.'}"


def _item(n: int, line: Line, units: Units, *, newest: bool) -> Markup:
    """An entry: what it is, what it says, and how it is taken back; the newest run asks for a word on its surface."""
    entry = line.entry
    if entry is None:
        told, name = [f"Cannot be read, and changes nothing: {line.wrong}."], f"entry {n + 1}"
    else:
        told, name = (
            [*_told(entry, line, units)],
            " ".join((_kind(entry).partition(":")[0].lower(), entry.on)).strip(),
        )
    return el(
        "li",
        el("p", el("b", _head(entry)), *([" ", el("span", entry.on, class_="date")] if entry and entry.on else [])),
        *(el("p", figure(said)) for said in told),
        _word_and_note(n, entry) if entry is not None and newest else None,
        el("button", "Take back", type="button", class_="plain", data_take_back=n, aria_label=f"Take back: {name}"),
        class_="knocked" if line.knocked else None,
    )


def _head(entry: Entry | None) -> str:
    if entry is None:
        return "An entry"
    return f"{_kind(entry)}, {entry.lot}" if entry.lot else _kind(entry)


def _kind(entry: Entry) -> str:
    return "Forgotten: what was known before" if entry.kind == "carried" and not entry.record else KINDS[entry.kind]


def _told(entry: Entry, line: Line, units: Units) -> Iterator[str]:
    record = line.record
    if line.by_run:
        yield "In it the scale was moved: a reading lies too far off those before it."
    elif line.knocked:
        yield "From here on the scale was knocked: this lies outside the limits of those before."
    if line.off is not None and record is not None:
        yield f"It opened {_signed(line.off, units)} than the scale read. With it the book says: {_scale(record, units)}."
    elif entry.kind == "carried" and record is not None:
        yield f"The planer opens {_scale(record, units)}."
    yield from _found(entry, units)
    if entry.taught.fed:
        also = [f"torn {_times(entry.torn)}"] if entry.torn else []
        also += [f"bogged {_times(entry.bogs)}"] if entry.bogs else []
        also += [f"{entry.out} of {entry.measured} out of tolerance"] if entry.measured else []
        also += [f"the worst {_over(entry.worst, units)}"] if entry.worst else []
        also += (
            [f"{words.minutes(entry.taken)}, planned {words.minutes(entry.planned or Fraction(0))}"]
            if entry.taken
            else []
        )
        fed = f"{words.boards(entry.boards)}, fed {_far(entry.taught.fed, units)}"
        yield f"{', '.join([fed, *also])}."
    if entry.word or entry.note:
        yield ". ".join(
            [*([f"Surface: {WORDS[entry.word]}"] if entry.word else []), *([entry.note] if entry.note else [])]
        )


def _found(entry: Entry, units: Units) -> Iterator[str]:
    """What else a run found: seconds, and how far in snipe reaches."""
    taught = entry.taught
    seconds = [f"{round(taught.set_seconds)} seconds to set the planer"] if taught.set_seconds is not None else []
    seconds += [f"{round(taught.handle_seconds)} seconds a board"] if taught.handle_seconds is not None else []
    if seconds:
        yield f"Timed: {', '.join(seconds)}."
    if taught.lead is not None and taught.trail is not None:
        yield f"Snipe reached {near(taught.lead, units)} at the leading end, {near(taught.trail, units)} at the trailing one."


def _over(worst: Fraction, units: Units) -> str:
    return f"{_fine(abs(worst), units)} {'under' if worst < 0 else 'over'}"


def _word_and_note(n: int, entry: Entry) -> Markup:
    options = [
        el("option", said, value=word, selected=word == entry.word) for word, said in {"": "not said", **WORDS}.items()
    ]
    return el(
        "div",
        el(
            "div",
            el("label", "The surface", for_="book-word"),
            el("select", *options, id="book-word", data_word=n),
            class_="field",
        ),
        el(
            "div",
            el("label", "A note", for_="book-note"),
            el("input", type="text", id="book-note", maxlength=200, value=entry.note, data_note=n),
            class_="field",
        ),
        class_="own-word",
    )


def rows(book: Book, units: Units) -> list[Row]:
    """Every entry as a row for a spreadsheet, in the units of the planer.

    >>> from thickset.planning.book.book import book_of
    >>> rows(book_of([{"kind": "scrap", "on": "2026-11-29", "offs": [0.2]}]), "mm")[1][:3]
    ['2026-11-29', 'Scrap measured', '']
    """
    unit, far = (INCH, FOOT) if units == "in" else (Fraction(1), Fraction(1))
    length = f"({units})"
    made: list[Row] = [
        [
            *("Date", "Entry", "Lot", "Boards", f"Fed ({'ft' if units == 'in' else 'm'})", f"Scale off {length}"),
            *(f"Opens more {length}", f"From {length}", f"To {length}", f"Spread {length}", "Knocked"),
            *(f"Snipe leading {length}", f"Snipe trailing {length}", "Seconds to set", "Seconds a board"),
            *("Torn", "Bogged", "Measured", "Out of tolerance", f"Worst off {length}"),
            *("Minutes planned", "Minutes taken", "Left the lot", "Surface", "Note"),
        ]
    ]
    for line in book.lines:
        entry, record = line.entry, line.record
        if entry is None:
            made.append(["", "Cannot be read", as_words(line.wrong)])
            continue
        taught = entry.taught

        def of(value: Fraction | float | None, by: Fraction = Fraction(1)) -> str | float | Fraction:
            return "" if value is None else round(float(value) / float(by), 4)

        low, high = offset_interval(belief_of(record)) if record is not None else (None, None)
        lost = "; ".join(f"{many} {why}" for why, many in entry.lost)
        made.append(
            [
                *(entry.on, _kind(entry), as_words(entry.lot), entry.boards),
                *(of(taught.fed, far), of(line.off, unit)),
                *(of(record.offset if record else None, unit), of(low, unit), of(high, unit)),
                *(of(record.spread if record else None, unit), "yes" if line.knocked else ""),
                *(of(taught.lead, unit), of(taught.trail, unit), of(taught.set_seconds), of(taught.handle_seconds)),
                *(entry.torn, entry.bogs, entry.measured, entry.out, of(entry.worst, unit)),
                *(of(entry.planned), of(entry.taken), as_words(lost), WORDS.get(entry.word, ""), as_words(entry.note)),
            ]
        )
    return made


def _scale(record: Record, units: Units) -> str:
    low, high = offset_interval(belief_of(record))
    return (
        f"{_signed(record.offset, units)} ({_bounds(low, high, units)}, 95 times in 100), "
        f"settings repeat to {_fine(record.spread, units)}"
    )


def _signed(value: Fraction | float, units: Units) -> str:
    return f"{_fine(abs(float(value)), units)} {'less' if value < 0 else 'more'}"


def _bounds(low: float, high: float, units: Units) -> str:
    """From where to where, without signs; where both lie on one side, the words before them say on which.

    >>> _bounds(-0.16, -0.06, "mm"), _bounds(-0.02, 0.05, "mm")
    ('0.06 mm to 0.16 mm', 'from 0.02 mm less to 0.05 mm more')
    """
    if low < 0 < high:
        return f"from {_signed(low, units)} to {_signed(high, units)}"
    near_by, far = sorted((abs(low), abs(high)))
    return f"{_fine(near_by, units)} to {_fine(far, units)}"


def _fine(value: Fraction | float, units: Units) -> str:
    shown = float(value) / 25.4 if units == "in" else float(value)
    return f"{shown:.3f} in" if units == "in" else f"{shown:.2f} mm"


def _far(meters: Fraction, units: Units) -> str:
    return f"{round(meters / FOOT):,} ft" if units == "in" else f"{round(meters):,} m"


def _times(many: int) -> str:
    return "once" if many == 1 else "twice" if many == 2 else f"{many} times"
