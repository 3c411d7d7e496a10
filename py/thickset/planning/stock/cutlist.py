"""Cuts parts out of stock with the least waste, in whole units. Knows lengths and counts, and nothing of wood.

Each board has stretches that may be used; parts stand in them one after another, a kerf between each two. Least waste:
first the least length of parts that cannot be made, then the least length of boards that are cut into.

Board after board, from the parts still wanted to those wanted after it: ways that leave the same parts wanted are one,
and the cheapest of them is kept. Prices of the parts (planning.stock.worth) tell of each what it costs in the end at least, in
whole numbers, so nothing is lost where it is left out for not being cheaper than a layout already known. First only the
most promising are followed, then more and more; once none had to be dropped for their number, the layout is proved.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import nsmallest
from math import gcd
from operator import mul
from typing import NamedTuple

from thickset.planning.stock.filling import MOST_FILLS, Counts, Fills, Stock, first_layout, some_fills
from thickset.planning.stock.worth import Bin, worths

MOST_WORK = 2_000_000
"""Counts of parts that are looked at [count]: fills of stretches, times kinds of parts. Then the best found so far is given, and said not to be proved."""

LEAST_FILLS = 30
"""Ways to fill one stretch that make a walk worth its work [count]; with fewer the first layout stands."""

WIDTHS = (5, 50, 500, 5000, 100_000)
"""Sets of parts still wanted that are followed after each board, in one walk after another [count]."""

FINE = 1 << 16
"""Steps of a price in one unit [1]."""


@dataclass(frozen=True)
class Cut:
    """A board of the stock [index], or so many alike, and the parts [index] in each of its stretches, in order."""

    stock: int
    parts: tuple[tuple[int, ...], ...]
    many: int = 1


@dataclass(frozen=True)
class Layout:
    """The boards that are cut, parts that cannot be made [count each], and whether none better exists for certain."""

    cuts: tuple[Cut, ...]
    missing: Counts
    proved: bool


def least_waste(stock: Sequence[Stock], sizes: Sequence[int], wanted: Sequence[int], kerf: int) -> Layout:
    """The layout with the least waste.

    stock: the boards; sizes: of each kind of part [units]; wanted: how many of each [count]; kerf [units].

    Valid: sizes above zero, from large to small; kerf zero or more. Source: dynamic programme over boards with prices for
    its bound, derived; the tests hold it against an independent integer programme.

    >>> layout = least_waste([Stock(100, (100,), 1), Stock(70, (70,), 1)], [60, 30], [1, 1], 2)
    >>> layout.cuts[0].stock, layout.cuts[0].parts, layout.proved
    (0, ((0, 1),), True)
    """
    walk = _Walk(stock, sizes, tuple(wanted), kerf)
    walk.widen()
    return Layout(tuple(sorted(walk.cuts, key=lambda cut: cut.stock)), walk.left, walk.proved)


class _State(NamedTuple):
    """What all will cost in the end at least, and how it was reached: the parts wanted before the board, and its fills.

    The floor is in FINE steps, and more by the gains of the boards to come, which are the same for all states there.
    """

    floor: int
    before: Counts
    fills: Fills | None


_Layer = dict[Counts, _State]
_PricedFills = list[tuple[int, Counts]]


class _Walk:
    """From board to board: after each, the states by the parts still wanted. `cost`, `cuts` and `left` are the best layout found."""

    def __init__(self, stock: Sequence[Stock], sizes: Sequence[int], wanted: Counts, kerf: int) -> None:
        self.stock, self.wanted = stock, wanted
        self.work, self.proved, self.all_known = 0, False, True
        self.unit = gcd(*(one.length for one in stock)) or 1
        dear = sum(one.length * one.many for one in stock) + self.unit
        missing = [dear * size for size in sizes]
        steps = [size + kerf for size in sizes]
        longest = sorted(range(len(stock)), key=lambda n: -stock[n].length)
        found = [first_layout(stock, steps, kerf, wanted, order) for order in (longest, longest[::-1])]
        costs = [
            sum(map(mul, missing, left)) + sum(stock[one.stock].length * one.many for one in laid)
            for laid, left in found
        ]
        self.cost: int = min(costs)
        laid, self.left = found[costs.index(self.cost)]
        self.cuts: tuple[Cut, ...] = tuple(Cut(one.stock, tuple(map(_kinds, one.fills)), one.many) for one in laid)
        # No more boards alike are cut into than there are parts to come out of them.
        self.most = [min(one.many, sum(one.of(wanted))) for one in stock]
        stretches = sum(len(one.stretches) * many for one, many in zip(stock, self.most, strict=True))
        # As many that the first walk comes to its end.
        self.known = min(MOST_WORK // max(WIDTHS[0] * stretches * len(sizes), 1), MOST_FILLS)
        if self.known >= LEAST_FILLS:
            self._price(steps, missing, kerf)

    def _price(self, steps: Sequence[int], missing: Sequence[int], kerf: int) -> None:
        """The fills of each board and the prices of the parts, and so the order of the boards."""
        stock, wanted = self.stock, self.wanted
        known: dict[tuple[int, Counts], Fills] = {}
        fills = [[self._known(known, room + kerf, steps, one.of(wanted)) for room in one.stretches] for one in stock]
        used = [n for n, each in enumerate(fills) if any(any(fill) for ways in each for fill in ways)]
        prices = worths([Bin(stock[n].length, stock[n].many, tuple(fills[n])) for n in used], missing, wanted)
        self.prices = [min(max(round(one * FINE), 0), most * FINE) for one, most in zip(prices, missing, strict=True)]
        self.extra = [most * FINE - price for most, price in zip(missing, self.prices, strict=True)]
        by_worth = {ways: self._by_worth(ways) for ways in known.values()}
        self.ways = {n: [by_worth[ways] for ways in fills[n]] for n in used}
        gains = {n: sum(ways[0][0] for ways in self.ways[n]) - stock[n].length * FINE for n in used}
        self.gains = {n: max(gain, 0) for n, gain in gains.items()}
        # Boards that are surely cut, or surely not, come first: they part the ways least.
        order = sorted(used, key=lambda n: (-abs(gains[n]), n))
        self.boards = [n for n in order for _ in range(self.most[n])]

    def _known(self, known: dict[tuple[int, Counts], Fills], room: int, steps: Sequence[int], most: Counts) -> Fills:
        """The fills of a stretch, found once for stretches that are alike."""
        if (room, most) not in known:
            known[room, most], whole = some_fills(room, steps, most, self.known)
            self.all_known &= whole
        return known[room, most]

    def _by_worth(self, ways: Fills) -> _PricedFills:
        return sorted(((sum(map(mul, self.prices, fill)), fill) for fill in ways), reverse=True)

    @property
    def _limit(self) -> int:
        """A floor above this cannot come to a better layout than the one found: costs differ by a whole unit at least."""
        return (self.cost - self.unit) * FINE

    def widen(self) -> None:
        """Walk with more and more states, until none had to be dropped for their number."""
        for width in WIDTHS if self.known >= LEAST_FILLS else ():
            whole = self._walk(width)
            if whole or self.work > MOST_WORK:
                self.proved = whole and self.all_known
                return

    def _walk(self, width: int) -> bool:
        """Keep each better layout met on the way; whether none can have been missed."""
        whole, to_gain = True, sum(self.gains[n] for n in self.boards)
        first = sum(map(mul, self.prices, self.wanted))
        layers: list[_Layer] = [{self.wanted: _State(first, self.wanted, None)}]
        best: tuple[int, Counts, _State] | None = None
        for n in self.boards:
            to_gain -= self.gains[n]
            now = self._after(n, layers[-1], to_gain)
            if now is None:
                whole = False
                break
            layers.append(now)
            ends = min(((one.floor + sum(map(mul, self.extra, left)), left) for left, one in now.items()), default=None)
            if ends is not None and ends[0] < self.cost * FINE:
                self.cost, self.left = ends[0] // FINE, ends[1]
                best = len(layers), ends[1], now[ends[1]]
            if len(now) > width:
                layers[-1] = dict(nsmallest(width, now.items(), key=lambda entry: (entry[1].floor, entry[0])))
                whole = False
        if best:
            upto, left, state = best
            layers[upto - 1][left] = state  # it may have been dropped from its layer since
            self.cuts = tuple(self._traced(layers[:upto], left))
        return whole

    def _after(self, n: int, before: _Layer, to_gain: int) -> _Layer | None:
        """The states after a board: it stays whole, or is cut into; None when too much was tried."""
        limit, price = self._limit + to_gain, self.stock[n].length * FINE
        now = {left: _State(one.floor, left, None) for left, one in before.items() if one.floor <= limit}
        cut = {left: _State(one.floor + price, left, ()) for left, one in before.items()}
        on_board = sum(ways[0][0] for ways in self.ways[n])
        for ways in self.ways[n]:
            on_board -= ways[0][0]
            cut = self._filled(cut, ways, limit + on_board)
            if self.work > MOST_WORK:
                return None
        for left, one in cut.items():
            if left not in now or one.floor < now[left].floor:
                now[left] = one
        return now

    def _filled(self, before: _Layer, ways: _PricedFills, limit: int) -> _Layer:
        """The states after one more stretch of a board that is cut into."""
        prices, now, kinds = self.prices, _Layer(), len(self.wanted)
        for left, (floor, start, fills) in before.items():
            cost = floor - sum(map(mul, prices, left))
            for worth, fill in ways:
                if floor - worth > limit:
                    break
                self.work += kinds
                rest = tuple([have - took if have > took else 0 for have, took in zip(left, fill, strict=True)])
                new = cost + sum(map(mul, prices, rest))
                if new <= limit and (rest not in now or new < now[rest].floor):
                    now[rest] = _State(new, start, (*(fills or ()), fill))
        return now

    def _traced(self, layers: list[_Layer], left: Counts) -> Iterator[Cut]:
        """The cuts that led to a state, the last board first."""
        for n, layer in zip(reversed(self.boards[: len(layers) - 1]), reversed(layers[1:]), strict=True):
            _, left, fills = layer[left]
            if fills is not None:
                parts, rest = [], left
                for fill in fills:
                    took = tuple(map(min, fill, rest))
                    rest = tuple(have - many for have, many in zip(rest, took, strict=True))
                    parts.append(_kinds(took))
                yield Cut(n, tuple(parts))


def _kinds(fill: Counts) -> tuple[int, ...]:
    """The parts [index] of a fill, one after another."""
    return tuple(kind for kind, many in enumerate(fill) for _ in range(many))
