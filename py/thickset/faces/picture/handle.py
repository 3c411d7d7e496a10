"""Signs of a pass: how far the handle turns, and how a board goes in, small in a row of the plan, larger in a run."""

from __future__ import annotations

from fractions import Fraction
from math import cos, pi, sin

from thickset.faces.words.markup import Markup, el, number
from thickset.faces.words.words import HANDLE_MARKS
from thickset.ground.notation import numbers
from thickset.planning.passes.turns import FIRST_PLACEMENT, Placement

_PARTS = {Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾"}
_MIDDLE, _RADIUS = 24.0, 18.0
_ROOM, _WIDE = 3, 28
"""Characters that stand inside the circle side by side, and how wide more of them are set there."""


def dial(turns: Fraction | None, *, by_scale: bool) -> Markup:
    """How far the handle turns [1], as the part of a circle that it goes; which way round no job tells. More than a turn is a number.

    A setting that is set by the scale has a rule with its pointer instead; one whose turns are not known has an empty circle.

    >>> '<text x="24" y="29"' in dial(Fraction(1, 2), by_scale=False)
    True
    >>> import re
    >>> [re.findall(">([^<]+)</text>", dial(Fraction(n), by_scale=False)) for n in ("15/16", "14/15", "2/5", "19/16")]
    [['15', '16'], ['0.93'], ['0.4'], ['1+']]
    >>> "<text" in dial(None, by_scale=True)
    False
    """
    if by_scale:
        drawn = [
            el("path", d="M14 6v36M14 10h8M14 16h5M14 22h8M14 28h5M14 34h8M14 40h5", class_="rule"),
            el("path", d="M40 22H27M31 18l-4 4l4 4", class_="goes"),
        ]
    else:
        drawn = [el("circle", cx=_MIDDLE, cy=_MIDDLE, r=_RADIUS, class_="round")]
        if turns is not None:
            many = abs(turns)
            drawn += [_arc(many), *_said(many)]
        drawn.append(el("path", d="M24 2v9", class_="mark"))
    return el("svg", *drawn, viewBox="0 0 48 48", class_="dial", aria_hidden="true")


def _said(many: Fraction) -> list[Markup]:
    whole, part = divmod(many, 1)
    if part in _PARTS:
        return [_text(f"{whole or ''}{_PARTS[part]}", 5)]
    if part and HANDLE_MARKS % part.denominator == 0 and not whole:
        # The longest would not stand in the circle on one line.
        return [
            _text(str(part.numerator), -2.5, "small"),
            el("path", d="M16 24h16"),
            _text(str(part.denominator), 12, "small"),
        ]
    if whole:
        return [_text(f"{whole}+" if part else str(whole), 5)]
    return [_text(numbers.rounded(many, 2), 5)]


def _text(said: str, below: float, kind: str | None = None) -> Markup:
    fits = len(said) <= _ROOM
    return el(
        "text",
        said,
        x=_MIDDLE,
        y=_MIDDLE + below,
        text_anchor="middle",
        textLength=None if fits else _WIDE,
        lengthAdjust=None if fits else "spacingAndGlyphs",
        class_=kind,
    )


def _arc(many: Fraction) -> Markup:
    if many >= 1:
        return el("circle", cx=_MIDDLE, cy=_MIDDLE, r=_RADIUS, class_="goes")
    angle = 2 * pi * float(many)
    x, y = _MIDDLE + _RADIUS * sin(angle), _MIDDLE - _RADIUS * cos(angle)
    large = 1 if many > Fraction(1, 2) else 0
    return el("path", d=f"M24 6A18 18 0 {large} 1 {number(x)} {number(y)}", class_="goes")


def lying(placement: Placement, *, turned: bool) -> Markup:
    """A board from its edge as it goes in, to the left: the end that leads, face A as the thick line; bent arrow: it is turned first.

    >>> from thickset.planning.passes.turns import FIRST_PLACEMENT
    >>> 'class="face-a"' in lying(FIRST_PLACEMENT, turned=False)
    True
    """
    face_a = 5.5 if placement.up == "A" else 20.5
    return el(
        "svg",
        el("rect", x=13, y=5, width=24, height=16, class_="wood"),
        el("path", d=f"M13 {number(face_a)}h24", class_="face-a"),
        el("path", d="M10 13H2M5.5 9.5L2 13l3.5 3.5"),
        el("text", placement.leads, x=20, y=17.5, text_anchor="middle"),
        el("path", d="M40 6a7 7 0 0 1 0 14M43 17l-3 3l3 3", class_="turn") if turned else None,
        viewBox="0 0 50 26",
        class_="board-sign",
        aria_hidden="true",
    )


def entering(placement: Placement, *, turned: bool) -> Markup:
    """A board as it meets the knives: the end that leads, its grain, face A as the thick line, the feed; bent arrow: it is turned first.

    >>> str(entering(FIRST_PLACEMENT, turned=True)).count('class="turn"')
    1
    """
    face_a = 22 if placement.up == "A" else 37
    # With the grain: it climbs away from the knives, which then press it down.
    climbs = 11 if FIRST_PLACEMENT.turn_to(placement).keeps_grain else -11
    low = 35 if climbs > 0 else 24
    grain = "".join(f"M{x} {low}l9 {-climbs}" for x in range(56, 90, 9))
    return el(
        "svg",
        el("path", d="M2 41H110", class_="bed"),
        el("rect", x=36, y=20, width=60, height=19, class_="wood"),
        el("path", d=grain, class_="grain"),
        el("path", d=f"M36 {face_a}h60", class_="face-a"),
        el("text", placement.leads, x=46, y=34.5, text_anchor="middle"),
        el("circle", cx=23, cy=12, r=10, class_="halo"),
        el("circle", cx=23, cy=12, r=10, class_="knives"),
        el("path", d="M23 17v7.5M18.7 9.5l-6.5-3.8M27.3 9.5l6.5-3.8", class_="knives"),
        el("path", d="M111 29.5h-10M105 25.5l-4 4l4 4"),
        el("path", d="M88 15C80 2 58 2 49 13M48 6l.5 8l7-2.5", class_="turn") if turned else None,
        viewBox="0 0 112 44",
        class_="board-sign entering",
        aria_hidden="true",
    )
