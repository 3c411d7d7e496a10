"""Fills stretches of boards with parts, within a budget of work. Knows lengths and counts, and nothing of wood.

A fill says how many parts of each kind stand in a stretch; their steps are their sizes and a kerf each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice
from operator import mul
from typing import NamedTuple

MOST_FILLS = 2000
"""Ways to fill one stretch that are known [count]; where there are more, nothing is proved."""

TRIES = 4
"""Ways that are tried for each that may be known [count]: some leave room for a part more."""

FIRST_TRIES = 60
"""Ways that are tried for a stretch of the first layout at most [count]."""

FIRST_WORK = 2_000_000
"""Ways that are tried for the first layout, times kinds of parts [count]; one is tried for every stretch."""

Counts = tuple[int, ...]
Fills = tuple[Counts, ...]


class Stock(NamedTuple):
    """A board, or `many` alike: its length and the stretches of it that may be used [units].

    `takes`: which kinds of parts it is wide enough for; all of them when empty.
    """

    length: int
    stretches: tuple[int, ...]
    many: int
    takes: tuple[bool, ...] = ()

    def of(self, counts: Counts) -> Counts:
        """Of so many parts of each kind those that may come out of it [count]."""
        return (
            tuple(many if fits else 0 for many, fits in zip(counts, self.takes, strict=True)) if self.takes else counts
        )


class Laid(NamedTuple):
    """Boards of the stock [index], so many alike, and the fill of each stretch."""

    stock: int
    many: int
    fills: Fills


def some_fills(room: int, steps: Sequence[int], most: Counts, at_most: int) -> tuple[Fills, bool]:
    """Ways to fill a stretch [units] so that no part more fits, those with many long parts first; whether they are all.

    Where there are more than `at_most`, each kind is the longest in as many of them, so that no kind is left out.

    >>> some_fills(10, [6, 4], (5, 5), 9)
    (((1, 1), (0, 2)), True)
    """
    tried = list(islice(_tries(room, steps, most), TRIES * at_most + 1))
    found = [fill for fill in tried if fill is not None]
    if len(tried) <= TRIES * at_most and len(found) <= at_most:
        return tuple(found), True
    fitting = [k for k, step in enumerate(steps) if most[k] and step <= room]
    share = max(at_most // len(fitting), 1)
    some: dict[Counts, None] = {}
    for k in fitting:
        shorter = (0,) * k + most[k:]
        ways = [fill for fill in islice(_tries(room, steps, shorter), TRIES * share) if fill is not None]
        some.update(dict.fromkeys(ways[:share]))
    return tuple(some), False


def first_layout(
    stock: Sequence[Stock], steps: Sequence[int], kerf: int, wanted: Counts, order: Sequence[int]
) -> tuple[list[Laid], Counts]:
    """A layout that is good and soon found, board after board in this order; and the parts that it leaves [count each].

    Each stretch gets the fullest of a few ways to fill it; boards alike get the same while there are parts for it.

    >>> first_layout([Stock(100, (100,), 5)], [62, 32], 2, (1, 3), [0])
    ([Laid(stock=0, many=1, fills=((0, 3),)), Laid(stock=0, many=1, fills=((1, 0),))], (0, 0))
    """
    laid, left = [], wanted
    stretches = sum(len(one.stretches) for one in stock)
    tries = min(max(FIRST_WORK // max(stretches * len(steps), 1), 1), FIRST_TRIES)
    for n in order:
        many = stock[n].many
        while many and any(left):
            fills, rest = [], left
            for room in stock[n].stretches:
                ways = islice(_tries(room + kerf, steps, stock[n].of(rest)), tries)
                fill = max((one for one in ways if one), key=lambda one: sum(map(mul, one, steps)))
                fills.append(fill)
                rest = tuple(have - took for have, took in zip(rest, fill, strict=True))
            took = tuple(have - less for have, less in zip(left, rest, strict=True))
            if not any(took):
                break
            alike = min(many, *(have // one for have, one in zip(left, took, strict=True) if one))
            laid.append(Laid(n, alike, tuple(fills)))
            left = tuple(have - alike * one for have, one in zip(left, took, strict=True))
            many -= alike
    return laid, left


def _tries(room: int, steps: Sequence[int], most: Counts) -> Iterator[Counts | None]:
    """Each way to fill a stretch; None for one that leaves room for a part more."""
    fill, spare, kind = [0] * len(steps), room, 0
    while steps:
        for k in range(kind, len(steps)):
            fill[k] = min(most[k], spare // steps[k])
            spare -= fill[k] * steps[k]
        full = all(one == at_most or step > spare for one, at_most, step in zip(fill, most, steps, strict=True))
        yield tuple(fill) if full else None
        # One less of the last kind that leaves room for others.
        kind = len(steps) - 1
        spare += fill[kind] * steps[kind]
        fill[kind] = 0
        while kind and not fill[kind - 1]:
            kind -= 1
        if not kind:
            return
        fill[kind - 1] -= 1
        spare += steps[kind - 1]
