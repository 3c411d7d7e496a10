"""Shops' years, simulated: how soon a knocked scale is told, how often one that was not; and what a long book takes.

Run by hand: PYTHONPATH=py python tests/bench/book.py. Seeded. A year is 300 lots on three planers. Each planer opens more than its
scale reads by its own amount, and its settings scatter by 0.03 to 0.08 mm; a run measures one to four of them. Once in
33 lots the scale is knocked by 0.3 mm, to either side. A knock is told when the book's chart tells it within three runs, or a
reading in them could not be and the run said so at once.
"""

import argparse
import json
import random
import time

from thickset.doors.api import handle
from thickset.faces.planer.chart import chart
from thickset.planning.book.book import book_of
from thickset.planning.passes.scale import belief_of
from thickset.planning.run.record import read_off

LOTS, PLANERS, KNOCK, SOON = 300, 3, 0.3, 3
KNOCKS_A_LOT = 1 / 33
SPREADS = (0.03, 0.08)
MOST_READINGS = 4
LONG_BOOK = 2000
"""Assumed, not measured in any shop."""


def a_planer(chance: random.Random) -> tuple[list[dict], set[int]]:
    """The entries of a planer's year, and the lots before which its scale was knocked."""
    off, spread = chance.gauss(0, 0.4), chance.uniform(*SPREADS)
    entries, knocks = [], set()
    for n in range(LOTS // PLANERS):
        if n and chance.random() < KNOCKS_A_LOT:
            off += chance.choice((-KNOCK, KNOCK))
            knocks.add(n)
        offs = [round(chance.gauss(off, spread), 3) for _ in range(chance.randint(1, MOST_READINGS))]
        entries.append(
            {"kind": "run", "on": "2030-01-01", "lot": "Lot", "offs": offs, "gauge": 0.03, "fed": 40, "boards": 12}
        )
    return entries, knocks


def years(count: int) -> None:
    """Knocks told and false alarms over so many years."""
    met = by_book = by_run = by_either = quiet = false = said = 0
    for seed in range(count):
        chance = random.Random(seed)
        for _ in range(PLANERS):
            entries, knocks = a_planer(chance)
            lines = book_of(entries).lines
            told = {n for n, line in enumerate(lines) if line.knocked}
            moved = {
                n
                for n, line in enumerate(lines)
                if n and line.entry and read_off(belief_of(lines[n - 1].record), line.entry.taught.offs).moved
            }
            after = {n + later for n in knocks for later in range(SOON)}
            for n in knocks:
                soon = set(range(n, n + SOON))
                met += 1
                by_book += bool(told & soon)
                by_run += bool(moved & soon)
                by_either += bool((told | moved) & soon)
            quiet += len(lines) - len(after & set(range(len(lines))))
            false += len(told - after)
            said += len(moved - after)
    print(f"{count} years of {LOTS} lots on {PLANERS} planers, {met} knocks of {KNOCK} mm")
    print(
        f"told within {SOON} runs: {by_either / met:.1%} (by the book {by_book / met:.1%}, by the run at once {by_run / met:.1%})"
    )
    print(
        f"false alarms of the book: {false / quiet:.2%} of values with no knock (the source promises 0.27 %); of runs {said / quiet:.2%}"
    )


def long_book() -> None:
    """Time and size of a long book."""
    chance, entries = random.Random(1), []
    while len(entries) < LONG_BOOK:
        entries += a_planer(chance)[0]
    entries = entries[:LONG_BOOK]
    request = json.dumps({"ask": "book", "units": "mm", "book": entries, "name": "Long"})
    book = book_of(entries)
    for what, act in (
        ("the chart alone", lambda: chart(book, "mm")),
        ("entries to record and chart's limits", lambda: book_of(entries)),
        ("the whole answer", lambda: handle(request)),
    ):
        best = min(_seconds(act) for _ in range(3))
        print(
            f"a book of {LONG_BOOK:,} entries ({len(json.dumps(entries)) / 1000:,.0f} kB), {what}: {best * 1000:,.1f} ms"
        )


def _seconds(act) -> float:
    begun = time.process_time()
    act()
    return time.process_time() - begun


if __name__ == "__main__":
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--years", type=int, default=100)
    years(arguments.parse_args().years)
    long_book()
