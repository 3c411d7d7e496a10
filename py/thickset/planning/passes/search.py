"""The cheapest way down a ladder of levels. Knows steps and costs, and nothing of wood.

Levels are whole numbers. A way starts at `start`, goes down from level to level and ends on level 0. Each step costs a
tuple of numbers; costs add up place by place and are compared place after place, so the first place decides and each
later one only breaks ties. What is then still equal is decided for the higher level first.

Exact by Bellman's principle: adding a step keeps the order of two costs, so the rest of a cheapest way is cheapest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

Cost = tuple[int, ...]


def cheapest_descent(
    levels: int, start: int, steps_into: Callable[[int], Iterable[tuple[int, Cost]]], end_cost: Cost
) -> tuple[list[int], Cost] | None:
    """The levels of the cheapest way from `start` down to 0, `start` left out, and its cost [as given]; None if no way.

    levels: levels below `start`, numbered 0 to levels - 1 [count]; start: the number of the start, above them all;
    steps_into(low): every (high, cost) from which one step reaches `low`; end_cost: what follows level 0.

    Valid: costs of one length; every step goes down.
    Source: Bellman 1957, the principle of optimality; from memory.

    >>> prices = {0: [(1, (1,)), (2, (3,))], 1: [(2, (1,))]}
    >>> cheapest_descent(2, 2, lambda low: prices[low], (0,))
    ([1, 0], (2,))
    """
    best: dict[int, Cost] = {0: end_cost}
    following: dict[int, int] = {}
    for low in range(levels):
        rest = best.get(low)
        if rest is None:
            continue
        for high, step in steps_into(low):
            known = best.get(high)
            if known is not None and step[0] + rest[0] > known[0]:
                continue
            cost = tuple(map(int.__add__, step, rest))
            if known is None or cost <= known:  # equal: the later, higher `low` is taken
                best[high] = cost
                following[high] = low
    if start not in best:
        return None
    way = [following[start]]
    while way[-1]:
        way.append(following[way[-1]])
    return way, best[start]
