"""The planed surface from the side: at true proportion, and beside it with its heights enlarged, said so."""

from __future__ import annotations

from collections.abc import Sequence

from thickset.faces.words import digits, words
from thickset.faces.words.markup import EMPTY, Markup, el, number
from thickset.ground.job.job import Job
from thickset.planning.figures.surface import Surface
from thickset.trade.formula import number as value_of
from thickset.trade.surface import wave_profile

WIDTH = 320.0
MARKS_SHOWN = 6
"""Marks of the coarsest surface that the picture is wide."""

MOST_MARKS = 60
POINTS = 8
HIGHEST = 22.0
"""Height of the tallest enlarged wave in the picture."""

TIMES = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)


def surface_picture(found: Sequence[Surface], job: Job) -> Markup:
    """The surfaces one under another, all to one scale.

    >>> from thickset.faces.words.example import lot
    >>> surface_picture([], lot("7/8").job)
    ''
    """
    circle = job.planer.head.diameter if job.planer.head else None
    shown = [one for one in found if one.wave is not None]
    if not shown or circle is None:
        return EMPTY
    diameter = float(circle)
    across = MARKS_SHOWN * max(value_of(one.pitch) for one in shown)
    scale = WIDTH / across
    tallest = max(one.wave or 0 for one in shown) * scale
    times = max((n for n in TIMES if n * tallest <= HIGHEST), default=1)
    rows = [_row(one, job, diameter, scale, times, across) for one in shown]
    caption = (
        f"{digits.pitch(across, job.units)} of board from the side. Each surface twice: at true proportion, and below it "
        f"with heights {times} times as large."
    )
    return el("figure", *rows, el("figcaption", caption), class_="waves")


def _row(one: Surface, job: Job, diameter: float, scale: float, times: int, across: float) -> Markup:
    """One surface: the true one above, the enlarged one below."""
    who = {1: "1 proud knife", 2: "both knives"}.get(one.knives) or f"all {one.knives} knives"
    said = f"{words.feed(one.feed, job.units)}, {who}"
    pitch = value_of(one.pitch)
    marks = min(MOST_MARKS, max(1, -int(-across // pitch)))
    room = 2 + HIGHEST
    true = _area(wave_profile(pitch, diameter, marks, 2), scale, 1, 12.0)
    large = _area(wave_profile(pitch, diameter, marks, POINTS), scale, times, 20.0 + room)
    return el(
        "div",
        el("p", said),
        el(
            "svg",
            el("title", f"The surface at {said}"),
            el("desc", f"Pitch {digits.pitch(pitch, job.units)}, wave {digits.wave(one.wave or 0, job.units)}."),
            el("path", d=true, class_="wood"),
            el("path", d=large, class_="wood"),
            viewBox=f"0 0 {number(WIDTH)} {number(34 + room)}",
            role="img",
        ),
    )


def _area(profile: Sequence[tuple[float, float]], scale: float, times: float, base: float) -> str:
    """The wood under the surface, cut off at the picture's right edge; `base` is where the deepest lines lie."""
    points = [(x * scale, base - height * scale * times) for x, height in profile]
    inside = [(x, y) for x, y in points if x <= WIDTH]
    line = " L".join(f"{number(x)} {number(y)}" for x, y in inside)
    end = number(inside[-1][0])
    return f"M0 {number(base + 10)} L{line} L{end} {number(base + 10)} Z"
