"""A planer's book: shops' years, simulated (shop_year.py), and what a long book takes. Run by hand: PYTHONPATH=py python tests/bench/book.py.

A long book is one of 2,000 runs: processor time, the best of several runs, and its ratio to a book of a tenth of them, which
grows no faster than the entries where the last column stays at 10 or under.
"""

import argparse
import json
import random

from native import best_of, say
from shop_year import HELD_OUT, Years, table
from thickset.doors.api import handle
from thickset.faces.planer.chart import chart
from thickset.planning.book.book import book_of

LONG_BOOK = 2000


def long_book(entries: int) -> list[dict[str, object]]:
    """Runs of a planer whose scale was knocked now and then; the knives are changed after 24 of them."""
    chance, off, made = random.Random(entries), 0.1, list[dict[str, object]]()
    for n in range(entries):
        off += chance.choice((-0.3, 0.3)) if chance.random() < 1 / 33 else 0
        offs = [round(chance.gauss(off, 0.05), 3) for _ in range(chance.randint(1, 4))]
        run = {"kind": "run", "on": "2030-01-01", "lot": "Lot", "offs": offs, "gauge": 0.03, "fed": 40, "boards": 12}
        made.append({"kind": "changed", "on": "2030-01-01"} if n % 25 == 24 else run)
    return made


def main() -> None:
    arguments = argparse.ArgumentParser(description="Simulates shops' years, and times a long book.")
    arguments.add_argument("--years", type=int, default=len(HELD_OUT))
    seeds = HELD_OUT[: arguments.parse_args().years]
    say(table(Years().live(seeds), seeds))
    short, long = long_book(LONG_BOOK // 10), long_book(LONG_BOOK)
    say(f"\na book of {LONG_BOOK:,} entries takes {len(json.dumps(long)) / 1000:,.0f} kB")

    def request(entries: object) -> str:
        return json.dumps({"ask": "book", "units": "mm", "book": entries, "name": "Long"})

    for what, act, of in (
        ("the chart of a book that was read", lambda book: chart(book, "mm"), book_of),
        ("entries to chart", lambda entries: chart(book_of(entries), "mm"), list),
        ("the whole answer", handle, request),
    ):
        took, tenth = best_of(5, act, of(long)), best_of(5, act, of(short))
        say(f"{what:36} {took:8.1f} ms   to a book of a tenth {took / tenth:6.1f}")


if __name__ == "__main__":
    main()
