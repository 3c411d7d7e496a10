"""Where things stand in the picture of the lot [units of the drawing]. Plain numbers; knows no markup."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from thickset.ground.notation.lengths import Units

WIDTH = 360.0
LINE = 14.0
"""Height of a line of text."""

LOWEST = 180.0
"""Height of the drawing of few settings: with it the first passes are on the first screen of a phone."""

CHARACTER = 7.0
"""Width of a digit or letter; wide ones are wider, hence a little more than most take."""

_INCH_MARKS = tuple(25.4 / part for part in (64, 32, 16, 8, 4, 2, 1))
_MM_MARKS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)


@dataclass(frozen=True)
class Axis:
    """The upright scale of thickness: its ends [mm] and where they stand."""

    low: float
    high: float
    top: float
    bottom: float

    def y(self, thickness: float) -> float:
        """Where a thickness [mm] stands.

        >>> Axis(10, 20, 0, 100).y(15)
        50.0
        """
        return self.bottom - (thickness - self.low) / (self.high - self.low) * (self.bottom - self.top)


def axis(thicknesses: Sequence[float], lines: int, top: float) -> Axis:
    """A scale for all of some thicknesses [mm], tall enough for so many lines of text [count].

    >>> round(axis([19.05, 25.4], 6, 20).bottom)
    200
    """
    low, high = min(thicknesses), max(thicknesses)
    edge = max((high - low) * 0.05, 0.2)
    height = max(LOWEST, (lines + 2) * LINE)
    return Axis(low - edge, high + edge, top, top + height)


def spread(wanted: Sequence[float], gap: float, top: float, bottom: float) -> list[float]:
    """Places for texts as near as can be to where they are wanted [rising], none nearer to the next than a gap.

    Valid: a stretch from top to bottom that has room for all of them.

    >>> spread([10, 12, 50], 10, 0, 100), spread([95, 99], 10, 0, 100)
    ([6.0, 16.0, 50.0], [90, 100])
    """
    # Texts that would touch form a block, which stands where its members would on average.
    blocks: list[tuple[float, int]] = []  # sum of wanted starts, members
    for place in wanted:
        total, size = place, 1
        while blocks and _start(blocks[-1], gap, top, bottom) + blocks[-1][1] * gap > _start(
            (total, size), gap, top, bottom
        ):
            before, count = blocks.pop()
            total, size = before + total - count * size * gap, count + size
        blocks.append((total, size))
    return [_start(block, gap, top, bottom) + n * gap for block in blocks for n in range(block[1])]


def _start(block: tuple[float, int], gap: float, top: float, bottom: float) -> float:
    total, size = block
    return min(max(total / size, top), bottom - (size - 1) * gap)


def marks(scale: Axis, units: Units) -> list[tuple[float, bool]]:
    """Marks of a rule beside the scale: thickness [mm], and whether it is one of the longer ones.

    >>> marks(Axis(18.9, 19.7, 0, 20), "mm")
    [(19.0, True), (19.5, False)]
    """
    steps = _INCH_MARKS if units == "in" else _MM_MARKS
    per_mm = (scale.bottom - scale.top) / (scale.high - scale.low)
    step = next((one for one in steps if one * per_mm >= 5), steps[-1])
    long = next((one for one in steps if one > step * 1.99 and one * per_mm >= 20), steps[-1])
    first = int(scale.low / step) + 1
    found = []
    for n in range(first, int(scale.high / step) + 1):
        parts = n * step / long
        found.append((n * step, abs(parts - round(parts)) < 1e-6))
    return found
