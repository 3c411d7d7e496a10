"""Cuts parts out of stock with the least waste, in whole units. Knows lengths and counts, and nothing of wood.

Each board has stretches that may be used; parts stand in them one after another, a kerf between each two. Least waste:
first the least length of parts that cannot be made, then the least length of boards that are cut into.

Exact by branch and bound: the longest part still wanted stands on some board or on none; a board need only be filled so
that no wanted part fits any more, for a part moved there from another board makes nothing worse.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import ceil
from typing import NamedTuple

MOST_TRIED = 25_000
"""Ways to fill a board that are looked at [count]; then the best found so far is given, and said not to be proved."""

MOST_PROVED = 160
"""Parts up to which the search is run at all [count]; more are cut board after board, each as full as can be."""

MOST_COVERS = 4000
"""Sums of whole boards that the bound looks at [count]."""

WIDEST_BITS = 300_000
"""Units of a stretch up to which the sums that fill it are listed [count]."""

Counts = tuple[int, ...]
Cost = tuple[int, int]


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


@dataclass(frozen=True)
class Cut:
    """A board of the stock [index] and the parts [index] in each of its stretches, in order."""

    stock: int
    parts: tuple[tuple[int, ...], ...]


@dataclass(frozen=True)
class Layout:
    """The boards that are cut, parts that cannot be made [count each], and whether none better exists for certain."""

    cuts: tuple[Cut, ...]
    missing: Counts
    proved: bool


def least_waste(stock: Sequence[Stock], sizes: Sequence[int], wanted: Sequence[int], kerf: int) -> Layout:
    """The layout with the least waste.

    stock: the boards; sizes: of each kind of part [units]; wanted: how many of each [count]; kerf [units].

    Valid: sizes above zero, from large to small; kerf zero or more. Source: branch and bound, derived; the tests hold
    it against an independent integer programme.

    >>> layout = least_waste([Stock(100, (100,), 1), Stock(70, (70,), 1)], [60, 30], [1, 1], 2)
    >>> layout.cuts[0].stock, layout.cuts[0].parts, layout.proved
    (0, ((0, 1),), True)
    """
    if sum(wanted) > MOST_PROVED:
        return _greedy(stock, sizes, wanted, kerf)
    return _Search(stock, sizes, kerf).run(tuple(wanted))


Fill = tuple[Counts, ...]


def _fills(stretches: Sequence[int], steps: Sequence[int], left: Counts, kerf: int) -> Iterator[Fill]:
    """Ways to fill the stretches so that no part still wanted fits any more, the fullest with long parts first."""
    if not stretches:
        yield ()
        return
    for first in _fill_one(stretches[0] + kerf, steps, left, 0):
        rest = tuple(map(int.__sub__, left, first))
        room = stretches[0] + kerf - _sum(first, steps)
        for others in _fills(stretches[1:], steps, rest, kerf):
            final = rest
            for other in others:
                final = tuple(map(int.__sub__, final, other))
            if not any(many and step <= room for many, step in zip(final, steps, strict=True)):
                yield (first, *others)


def _fill_one(room: int, steps: Sequence[int], left: Counts, kind: int) -> Iterator[Counts]:
    if kind == len(steps):
        yield ()
        return
    for many in range(min(left[kind], room // steps[kind]), -1, -1):
        for rest in _fill_one(room - many * steps[kind], steps, left, kind + 1):
            yield (many, *rest)


def _sum(counts: Sequence[int], steps: Sequence[int]) -> int:
    return sum(many * step for many, step in zip(counts, steps, strict=True))


class _Search:
    """Branch and bound over boards."""

    def __init__(self, stock: Sequence[Stock], sizes: Sequence[int], kerf: int) -> None:
        self.stock, self.sizes, self.kerf = stock, sizes, kerf
        self.steps = [size + kerf for size in sizes]
        self.tried = 0
        self.best: tuple[Cost, tuple[tuple[int, Fill], ...], Counts] | None = None
        self.seen: dict[tuple[Counts, Counts], Cost] = {}

    def run(self, wanted: Counts) -> Layout:
        most = max((max(one.stretches, default=0) for one in self.stock), default=0) + self.kerf
        sums = {able: _sums(self.steps, able, most) for able in {one.of(wanted) for one in self.stock}}
        self.holds = [
            sum(_most(sums[one.of(wanted)], room + self.kerf) for room in one.stretches) for one in self.stock
        ]
        fits = [tuple(not one.takes or one.takes[kind] for one in self.stock) for kind in range(len(wanted))]
        self.alike = [[kind for kind in range(len(wanted)) if fits[kind] == which] for which in dict.fromkeys(fits)]
        by_price = range(len(self.stock))
        self.order = sorted(
            (n for n in by_price if self.holds[n]), key=lambda n: (self.stock[n].length / self.holds[n], n)
        )
        self.covers = _covers([(self.holds[n], self.stock[n].length, self.stock[n].many) for n in self.order])
        self._from(wanted, tuple(one.many for one in self.stock), (0, 0), (), (0,) * len(wanted))
        if self.best is None:
            raise AssertionError("leaving all parts out is always a layout")
        cuts = tuple(Cut(n, tuple(_listed(counts) for counts in fill)) for n, fill in self.best[1])
        return Layout(cuts, self.best[2], self.tried <= MOST_TRIED)

    def _from(
        self, left: Counts, free: Counts, cost: Cost, chosen: tuple[tuple[int, Fill], ...], missing: Counts
    ) -> None:
        """Try all that may follow, the most promising first."""
        if not any(left):
            if self.best is None or cost < self.best[0]:
                self.best = cost, chosen, missing
            return
        known = self.seen.get((left, free))
        if known is not None and known <= cost:
            return
        self.seen[left, free] = cost
        if self.best is not None and self._at_least(left, free, cost) >= self.best[0]:
            return
        kind = next(n for n, many in enumerate(left) if many)
        for _, n, fill in sorted(self._ways(left, free, kind), key=lambda way: way[:2]):
            rest = left
            for counts in fill:
                rest = tuple(map(int.__sub__, rest, counts))
            fewer = (*free[:n], free[n] - 1, *free[n + 1 :])
            self._from(rest, fewer, (cost[0], cost[1] + self.stock[n].length), (*chosen, (n, fill)), missing)
            if self.tried > MOST_TRIED:
                return
        without = (*left[:kind], 0, *left[kind + 1 :])
        lost = (*missing[:kind], left[kind], *missing[kind + 1 :])
        self._from(without, free, (cost[0] + left[kind] * self.sizes[kind], cost[1]), chosen, lost)

    def _ways(self, left: Counts, free: Counts, kind: int) -> Iterator[tuple[float, int, Fill]]:
        """Boards and fills with the longest part still wanted, and how much of the board each wastes."""
        for n, one in enumerate(self.stock):
            if not free[n]:
                continue
            known: dict[Counts, Fill] = {}
            for fill in _fills(one.stretches, self.steps, one.of(left), self.kerf):
                self.tried += 1
                total = tuple(map(sum, zip(*fill, strict=True))) if fill else ()
                if total and total[kind]:
                    running = (count for kinds in self.alike for count in accumulate(total[k] for k in kinds))
                    known.setdefault(tuple(running), fill)
                if self.tried > MOST_TRIED and known:
                    break
            for fill in _undominated(known):
                yield 1 - sum(_sum(counts, self.sizes) for counts in fill) / one.length, n, fill

    def _at_least(self, left: Counts, free: Counts, cost: Cost) -> Cost:
        """No layout from here costs less: boards taken in parts, those first that hold most for their length."""
        need = _sum(left, self.steps)
        place = bisect_left(self.covers, (need, 0))
        whole = self.covers[place][1] if place < len(self.covers) else 0
        used = 0.0
        for n in self.order:
            holds = self.holds[n] * free[n]
            if holds >= need:
                return cost[0], cost[1] + max(whole, ceil(used + self.stock[n].length * need / self.holds[n] - 1e-6))
            used += self.stock[n].length * free[n]
            need -= holds
        smallest = min(size for size, many in zip(self.sizes, left, strict=True) if many)
        return cost[0] + max(1, int(need * smallest / (smallest + self.kerf))), 0


def _sums(steps: Sequence[int], wanted: Counts, most: int) -> int | None:
    """All sums of parts up to a length, as bits; None where they would be too many."""
    if most > WIDEST_BITS:
        return None
    bits, mask = 1, (1 << (most + 1)) - 1
    for step, many in zip(steps, wanted, strict=True):
        for _ in range(min(many, most // step)):
            bits |= bits << step & mask
    return bits


def _most(sums: int | None, room: int) -> int:
    """The largest sum of parts that fits."""
    return room if sums is None else (sums & ((1 << (room + 1)) - 1)).bit_length() - 1


def _covers(stock: Sequence[tuple[int, int, int]]) -> list[tuple[int, int]]:
    """What whole boards can hold, and the least length of boards that holds as much, both rising; none for very many boards."""
    found = {0: 0}
    for holds, length, many in stock:
        for _ in range(many):
            for held, used in list(found.items()):
                if used + length < found.get(held + holds, 1 << 60):
                    found[held + holds] = used + length
            if len(found) > MOST_COVERS:
                return []
    rising: list[tuple[int, int]] = []
    for held in sorted(found, reverse=True):
        if not rising or found[held] < rising[-1][1]:
            rising.append((held, found[held]))
    return rising[::-1]


def _undominated(known: dict[Counts, Fill]) -> list[Fill]:
    """Fills, by their running counts from long to short, without those that another beats part by part.

    Where each part of one fill can be matched with a part as long or longer of another, swapping them is no loss; so it is
    only among kinds that the same boards are wide enough for, and these are counted each by themselves.
    """
    kept: list[Counts] = []
    for running in sorted(known, reverse=True):
        if not any(all(map(int.__ge__, other, running)) for other in kept):
            kept.append(running)
    return [known[running] for running in kept]


def _listed(counts: Counts) -> tuple[int, ...]:
    return tuple(kind for kind, many in enumerate(counts) for _ in range(many))


def _greedy(stock: Sequence[Stock], sizes: Sequence[int], wanted: Sequence[int], kerf: int) -> Layout:
    """Board after board, each filled with the longest parts that fit, the board that wastes least first."""
    steps = [size + kerf for size in sizes]
    left, free = tuple(wanted), [one.many for one in stock]
    cuts: list[Cut] = []
    while any(left):
        best: tuple[float, int, Fill] | None = None
        for n, one in enumerate(stock):
            if free[n]:
                fill = next(_fills(one.stretches, steps, one.of(left), kerf))
                waste = 1 - sum(_sum(counts, sizes) for counts in fill) / one.length
                if waste < 1 and (best is None or waste < best[0]):
                    best = waste, n, fill
        if best is None:
            break
        _, n, fill = best
        free[n] -= 1
        for counts in fill:
            left = tuple(map(int.__sub__, left, counts))
        cuts.append(Cut(n, tuple(_listed(counts) for counts in fill)))
    return Layout(tuple(cuts), left, False)
