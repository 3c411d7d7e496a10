"""Walks a job document for links of version 2: numbers that a lot has many of stand on one grid, spots are known by name.

Links of version 2 depend on everything here: it may not change.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from math import log2
from typing import Any, NamedTuple

from thickset.ground.link.figures import KIND, KINDS, Figure, put_together, take_apart
from thickset.ground.link.packing import Coder
from thickset.ground.link.tables_2 import KEYS, SELDOM, SERIES, SPOTS
from thickset.ground.link.walk import HALVINGS, PLACES, Walk

STYLES = ("mixed", "hyphen", "point", "comma")
"""How the numbers of a grid are written; one without a fraction or a point stands on any."""

WORTH = 15
"""What the head of a grid takes about [bits]."""
AROUND = 2.2
"""What a number takes about besides its distance from the one before, when it is packed by that [bits]."""


class Grid(NamedTuple):
    """Steps that many numbers stand on: 2**-fine or 10**-fine of a unit, from the least on, so many."""

    kind: int
    suffix: int
    fine: int
    least: int
    size: int

    @property
    def base(self) -> int:
        """Into how many parts a step of the next finer grid goes."""
        return 2 if KINDS[self.kind] in ("mixed", "hyphen") else 10

    def step_of(self, figure: Figure | None) -> int | None:
        """How many steps from the least a figure stands; None when it does not stand on the grid.

        >>> Grid(KIND["mixed"], 0, 5, 32, 8).step_of(take_apart("1 1/16"))
        2
        """
        if figure is None or figure.suffix != self.suffix or figure.fine > self.fine:
            return None
        if figure.kind != self.kind and (figure.fine or KINDS[figure.kind] != "mixed"):
            return None
        step = figure.number * self.base ** (self.fine - figure.fine) - self.least
        return step if 0 <= step < self.size else None

    def zeros(self, step: int) -> int:
        """How many digits at the end of that number may be left out."""
        number, count = self.least + step, 0
        while count < self.fine and number % self.base == 0:
            number, count = number // self.base, count + 1
        return count

    def figure(self, step: int, without: int) -> Figure:
        """The figure of a step, without so many digits at its end."""
        fine = self.fine - without
        kind = self.kind if fine else KIND["mixed"]
        return Figure(kind, self.suffix, fine, (self.least + step) // self.base**without)


def walk_lot(coder: Coder, job: object) -> Any:
    """Pack a document, or unpack it where the coder unpacks; gives the document.

    >>> from thickset.ground.link.packing import Packer
    >>> walk_lot(Packer(), {"thickset": 1, "extra": [None, 2.5]})
    {'thickset': 1, 'extra': [None, 2.5]}
    """
    return _LotWalk(coder).value("", job, 0)


def grid_of(texts: list[str]) -> Grid | None:
    """The grid of some numbers as they are written, None where it would not make them shorter.

    >>> grid_of([f"{700 + n * 37 % 101} mm" for n in range(101)]).size
    101
    """
    figures = [figure for figure in map(take_apart, texts) if figure and KINDS[figure.kind] in STYLES]
    if not figures:
        return None
    plain = KIND["mixed"]
    ranked = Counter((figure.kind, figure.suffix) for figure in figures if figure.fine or figure.kind != plain)
    kind, suffix = (ranked.most_common(1) or [((plain, figures[0].suffix), 0)])[0][0]
    fine = max((figure.fine for figure in figures if (figure.kind, figure.suffix) == (kind, suffix)), default=0)
    whole = Grid(kind, suffix, fine, 0, 1 << 60)
    steps = [step for step in map(whole.step_of, figures) if step is not None]
    grid = Grid(kind, suffix, fine, min(steps), max(steps) - min(steps) + 1)
    one_by_one = sum(log2(2 * abs(b - a) + 1) + AROUND for a, b in pairwise(steps))
    return grid if len(steps) * log2(grid.size) + WORTH < one_by_one else None


class _LotWalk(Walk):
    keys = KEYS
    seldom = SELDOM

    def __init__(self, coder: Coder) -> None:
        super().__init__(coder)
        self.grids: dict[str, Grid] = {}
        self.above: dict[str, list[Any]] = {}

    def value(self, place: str, given: Any, depth: int) -> Any:
        """Whatever stands at a place."""
        if place == "boards" and depth == 1:
            for series in SERIES:
                self.grid(series, given)
        grid = self.grids.get(place)
        if grid:
            step = grid.step_of(take_apart(given)) if isinstance(given, str) else None
            if self.coder.symbol((place, "on the grid"), (1, 90), int(step is not None)):
                return self.on_grid(place, grid, given, step or 0)
        if place.endswith(".places[]"):
            spot = SPOTS.index(given) if isinstance(given, str) and given in SPOTS else len(SPOTS)
            spot = self.coder.symbol((place, "spot"), (*(10,) * len(SPOTS), 1), spot)
            if spot < len(SPOTS):
                return SPOTS[spot]
        return super().value(place, given, depth)

    def kinds(self, place: str) -> list[int]:
        """How likely each kind of value is at a place."""
        counts = super().kinds(place)
        if place.endswith(".places"):
            counts[KIND["list"]] = 400
        return counts

    def items(self, place: str, given: list[Any], depth: int) -> list[Any]:
        """A list, item by item; of spots, most often those of the board before."""
        if place.endswith(".places"):
            before = self.above.get(place, [])
            words = bool(before) and all(isinstance(one, str) for one in before)
            if words and self.coder.symbol((place, "as before"), (10, 20), int(given == before)):
                self.coder.spend(len(before))
                return [*before]
        found = super().items(place, given, depth)
        if place.endswith(".readings"):
            self.lengths[place.replace("readings", "places")] = len(found)
        if place.endswith(".places"):
            self.above[place] = found
        return found

    def grid(self, series: str, given: Any) -> None:
        """The grid of a series of the lot, where it has one."""
        coder, found = self.coder, grid_of(_texts(series, given))
        if not coder.symbol(("grid", series, "there"), (10, 10), int(found is not None)):
            return
        wanted = found or Grid(KIND["mixed"], 0, 0, 0, 1)
        style = coder.symbol(("grid", "style"), (20, 4, 20, 8), STYLES.index(KINDS[wanted.kind]))
        suffix = coder.symbol((series, "suffix"), self.suffixes(series), wanted.suffix)
        counts = HALVINGS if style < 2 else PLACES
        fine = coder.symbol(("grid", series, style < 2, "fine"), counts, wanted.fine)
        least = coder.number(("grid", series, "least"), wanted.least)
        size = coder.number(("grid", series, "size"), wanted.size - 1) + 1
        self.grids[series] = Grid(KIND[STYLES[style]], suffix, fine, least, size)

    def on_grid(self, place: str, grid: Grid, given: Any, step: int) -> str:
        """A number that stands on the grid of its place."""
        coder = self.coder
        step = coder.even(grid.size, step)
        without = zeros = grid.zeros(step)
        if zeros and grid.base == 10:
            written = take_apart(given) if isinstance(given, str) else None
            left_out = grid.fine - written.fine if written else 0
            without = coder.symbol((place, "left out", zeros), (10,) * (zeros + 1), left_out)
        figure = grid.figure(step, without)
        self.numbers[place, figure.suffix] = figure.value
        return put_together(figure)


def _texts(series: str, boards: Any) -> list[str]:
    """The texts at a place of every board, as far as there are any."""
    key = series.removeprefix("boards[].").removesuffix("[]")
    found: list[str] = []
    for board in boards if isinstance(boards, list) else []:
        there = board.get(key) if isinstance(board, dict) else None
        listed = there if isinstance(there, list) else [there]
        found += [text for text in listed if isinstance(text, str)]
    return found
