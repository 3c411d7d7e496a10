"""The scale of a planer over time, as a control chart: what each run found it off by, the limits, where it was knocked."""

from __future__ import annotations

from collections.abc import Callable
from itertools import groupby

from thickset.faces.words.markup import EMPTY, Markup, el, number
from thickset.ground.notation.lengths import Units
from thickset.planning.book.book import Book

WIDTH, HEIGHT, LEFT, EDGE = 360.0, 190.0, 68.0, 16.0
SHOWN = 60
"""Values that the chart shows, the newest [count]."""

LEAST = 3
"""Values from which on there is a chart [count]."""


def chart(book: Book, units: Units) -> Markup:
    """The newest values in their order, with the limits in force at each.

    >>> from thickset.planning.book.book import book_of
    >>> chart(book_of([{"kind": "scrap", "offs": [0.2]}]), "mm")
    ''
    >>> chart(book_of([{"kind": "scrap", "offs": [0.2]}] * 3), "mm").count("<circle")
    3
    """
    lines = [line for line in book.lines if line.off is not None][-SHOWN:]
    if len(lines) < LEAST:
        return EMPTY
    offs = [line.off or 0.0 for line in lines]
    halves = [line.half or 0.0 for line in lines]
    centers = [line.center or 0.0 for line in lines]
    low = min(0.0, *offs, *(c - h for c, h in zip(centers, halves, strict=True)))
    high = max(0.0, *offs, *(c + h for c, h in zip(centers, halves, strict=True)))
    across = (WIDTH - LEFT) / len(lines)
    up = (HEIGHT - 2 * EDGE) / max(high - low, 0.02)

    def x(n: int) -> float:
        return LEFT + (n + 0.5) * across

    def y(value: float) -> float:
        return HEIGHT - EDGE - (value - low) * up

    level, of_level = 0, list[int]()
    for line in lines:
        level += line.knocked
        of_level.append(level)
    bands, middles = list[Markup](), list[Markup]()
    for _, each in groupby(range(len(lines)), key=of_level.__getitem__):
        these = [*each]
        steps = [(x(n) + side * across / 2, n) for n in these for side in (-1, 1)]
        above = [(at, y(centers[n] + halves[n])) for at, n in steps]
        below = [(at, y(centers[n] - halves[n])) for at, n in reversed(steps)]
        bands.append(el("path", d=f"M{_path([*above, *below])}Z", class_="limits"))
        middles.append(el("path", d=f"M{_path([(at, y(centers[n])) for at, n in steps])}", class_="center"))
    marks = [
        el("path", d=f"M{number(x(n))} {number(y(off) - 8)}l8 14h-16z", class_="knock")
        if line.knocked
        else el("circle", cx=x(n), cy=y(off), r=3.5)
        for n, (line, off) in enumerate(zip(lines, offs, strict=True))
    ]
    knocks = sum(line.knocked for line in lines)
    told = (
        f"knocked {'once, at the triangle' if knocks == 1 else f'{knocks} times, at the triangles'}"
        if knocks
        else "never knocked"
    )
    return el(
        "figure",
        el(
            "svg",
            el("title", "The scale over time"),
            el("desc", f"{len(lines)} values, the last {_fine(offs[-1], units)}; {told}."),
            *bands,
            el("path", d=f"M{number(LEFT)} {number(y(0))}H{number(WIDTH)}", class_="zero"),
            *middles,
            *marks,
            *(
                el("text", label, x=LEFT - 10, y=at + 4, text_anchor="end")
                for label, at in _labels(low, high, units, y)
            ),
            viewBox=f"0 0 {number(WIDTH)} {number(HEIGHT)}",
            role="img",
        ),
        el(
            "figcaption",
            f"A dot is how far off a run or a scrap found the scale, the oldest on the left. It was {told}. The band is the mean with "
            "three spreads to either side, by moving ranges: a scale that nobody knocked leaves it 1 time in 370.",
        ),
        class_="scale-chart",
    )


def _labels(low: float, high: float, units: Units, y: Callable[[float], float]) -> list[tuple[str, float]]:
    """The figures at the side, those that would cover zero left out."""
    found = [("0", y(0.0))]
    for value in (high, low):
        at = y(value)
        if abs(at - found[0][1]) > 14:
            found.append((_fine(value, units), at))
    return found


def _path(points: list[tuple[float, float]]) -> str:
    return "L".join(f"{number(a)} {number(b)}" for a, b in points)


def _fine(value: float, units: Units) -> str:
    return f"{value / 25.4:.3f} in" if units == "in" else f"{value:.2f} mm"
