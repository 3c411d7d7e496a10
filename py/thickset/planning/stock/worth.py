"""What each kind of part is worth: prices that bound the cost of cutting parts out of stock. Knows lengths and counts, and nothing of wood.

With a price on each kind, every board by itself pays its way or stays whole, so no layout costs less than the parts
wanted are worth less what the boards gain. The prices that make this bound largest are found by the simplex method
(Dantzig and Wolfe's column generation): each column is what all boards together do at some prices, and there is a row
for each kind and one more, so the basis stays small however many boards there are.
"""

from __future__ import annotations

from collections.abc import Sequence
from operator import mul
from typing import NamedTuple

from thickset.planning.stock.filling import Fills

MOST_ROUNDS = 400
"""Rounds of new prices [count]; prices that are not the best bound a little less, never wrongly."""

MOST_WEIGHED = 5_000_000
"""Counts of parts that are weighed at one price or another [count]: fills, times kinds of parts; the same holds."""

SMALL = 1e-9
"""Below this share a reduced cost or a pivot counts as nothing [1]."""

MILD = 4
"""Cost of a missing part that is tried first [board lengths a part length]; steep ones make for slow steps."""


class Bin(NamedTuple):
    """A board, or `many` alike: what it costs to open [units], and how each of its stretches may be filled [count each kind].

    >>> Bin(100, 1, (((1, 1),),)).cost
    100
    """

    cost: int
    many: int
    stretches: tuple[Fills, ...]


def worths(bins: Sequence[Bin], missing: Sequence[int], wanted: Sequence[int]) -> list[float]:
    """The price of each kind of part at which the bound is largest [units].

    bins: the boards; missing: what one part of each kind costs when it is not made [units]; wanted: parts [count each].

    Source: Dantzig and Wolfe, Decomposition principle for linear programs (1960), from memory; any prices bound rightly.

    >>> worths([Bin(100, 3, (((2,),),))], [1000], [4])
    [50.0]
    """
    dear = max((one.cost for one in bins), default=0) * 1.0
    mild = [min(cost * 1.0, MILD * dear) for cost in missing]
    prices = _Prices(bins, wanted, mild)
    best = prices.settle()
    if mild != list(missing) and prices.leaves_some():
        prices.costs[: len(wanted)] = [cost * 1.0 for cost in missing]
        best = prices.settle()
    return best


class _Prices:
    """The simplex method with as many rows as kinds, and one."""

    def __init__(self, bins: Sequence[Bin], wanted: Sequence[int], missing: list[float]) -> None:
        self.bins, self.wanted, self.kinds = bins, wanted, len(wanted)
        # The columns in the basis: at first all parts are missing and no board is opened. `costs` begins with those of missing parts.
        self.costs = [*missing, 0.0]
        self.basis = list(range(self.kinds + 1))
        self.inverse = [[float(i == j) for j in range(self.kinds + 1)] for i in range(self.kinds + 1)]
        self.amounts = [*map(float, wanted), 1.0]
        alike = {fills for one in bins for fills in one.stretches}
        of_one = (sum(map(len, alike)) + 2 * self.kinds) * self.kinds
        self.rounds = min(MOST_ROUNDS, MOST_WEIGHED // max(of_one, 1))

    def leaves_some(self) -> bool:
        return any(j < self.kinds and amount > SMALL for j, amount in zip(self.basis, self.amounts, strict=True))

    def settle(self) -> list[float]:
        """Bring columns in until none lowers the cost; the prices with the largest bound."""
        best, largest = [0.0] * self.kinds, 0.0
        for _ in range(self.rounds):
            basic = [self.costs[j] for j in self.basis]
            *prices, constant = (sum(map(mul, basic, column)) for column in zip(*self.inverse, strict=True))
            slack = SMALL * max(self.costs)
            wrong = next((k for k, price in enumerate(prices) if not -slack <= price <= self.costs[k] + slack), None)
            if wrong is not None:
                self._change(wrong, spare=prices[wrong] < 0)
                continue
            cost, made = self._opened(prices)
            gain = cost - sum(map(mul, prices, made))
            bound = sum(map(mul, prices, self.wanted)) + gain
            if bound > largest:
                best, largest = prices, bound
            if gain - constant > -slack:
                break
            self.costs.append(cost)
            self._enter([*made, 1.0], len(self.costs) - 1)
        return best

    def _change(self, kind: int, *, spare: bool) -> None:
        """Bring in a part too many, which costs nothing, or a part missing."""
        column = [float(kind == other) for other in range(self.kinds + 1)]
        if spare:
            self.costs.append(0.0)
            self._enter([-value for value in column], len(self.costs) - 1)
        else:
            self._enter(column, kind)

    def _opened(self, prices: list[float]) -> tuple[float, list[float]]:
        """What all boards together do at these prices: their cost, and the parts that they make."""
        cost, made = 0.0, [0.0] * self.kinds
        best: dict[Fills, tuple[float, tuple[int, ...]]] = {}
        for one in self.bins:
            gain, fills = -float(one.cost), []
            for stretch in one.stretches:
                if stretch not in best:
                    best[stretch] = max((sum(map(mul, prices, fill)), fill) for fill in stretch)
                gain += best[stretch][0]
                fills.append(best[stretch][1])
            if gain > 0:
                cost += one.cost * one.many
                for fill in fills:
                    made = [many + part * one.many for many, part in zip(made, fill, strict=True)]
        return cost, made

    def _enter(self, column: list[float], name: int) -> None:
        change = [sum(map(mul, row, column)) for row in self.inverse]
        steps = [
            (max(amount, 0.0) / by, -by, i)
            for i, (amount, by) in enumerate(zip(self.amounts, change, strict=True))
            if by > SMALL
        ]
        step, _, leaving = min(steps)
        pivot = [value / change[leaving] for value in self.inverse[leaving]]
        for i, by in enumerate(change):
            if i == leaving:
                self.inverse[i], self.amounts[i] = pivot, step
            elif by:
                self.inverse[i] = [a - by * b for a, b in zip(self.inverse[i], pivot, strict=True)]
                self.amounts[i] -= by * step
        self.basis[leaving] = name
