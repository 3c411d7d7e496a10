"""What the signs of the picture mean, and the patterns they are drawn with."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from thickset.faces.picture.columns import Column, hatched
from thickset.faces.words.markup import Markup, el


def patterns(name: str) -> Markup:
    """Hatching for the drawing of that name: one way for what stays rough, both ways for what is short.

    >>> patterns("lot").count("<pattern")
    2
    """
    return el(
        "defs",
        _pattern(f"{name}-rough", "M-1,5L5,-1M-1,9L9,-1M3,9L9,3"),
        _pattern(f"{name}-short", "M-1,5L5,-1M-1,9L9,-1M3,9L9,3M-1,3L5,9M-1,-1L9,9M3,-1L9,5"),
    )


def _pattern(name: str, lines: str) -> Markup:
    drawn = el("path", d=lines, stroke="currentColor", stroke_width=1, fill="none")
    return el("pattern", drawn, id=name, width=8, height=8, patternUnits="userSpaceOnUse")


def legend(shown: Sequence[Column], settings: Sequence[float], target: float, name: str = "lot") -> Markup:
    """The signs that a picture of some columns holds, for settings and a target [mm].

    >>> "short of the target" in legend([], [], 19.05)
    False
    """
    return el(
        "ul",
        *(el("li", _sign(drawn), said) for drawn, said in _entries(shown, settings, target, name)),
        class_="legend",
    )


def _entries(
    shown: Sequence[Column], settings: Sequence[float], target: float, name: str
) -> Iterator[tuple[list[Markup], str]]:
    cuts = [cut for one in shown for cut in one.cuts]
    if any(one.readings for one in shown):
        ticks = el("path", d="M4,5h12M4,11h12M4,15h12", stroke_width=2.2)
        bar = el("rect", x=4, y=5, width=12, height=10, class_="extent", stroke_width=1.2)
        yield [bar, ticks], "a board from thin to thick spot, its readings as lines"
    else:
        bar = el("rect", x=4, y=3, width=12, height=14, class_="extent", stroke_width=1.2)
        yield [bar], "boards with the same way down, from thin to thick spot; the words below name them"
    dot = "M10,10h0"
    if any(cut.clean for cut in cuts):
        yield [el("path", d=dot, stroke_width=8, stroke_linecap="round")], "goes in; the side comes out clean"
    if not all(cut.clean for cut in cuts):
        ring = el("path", d=dot, stroke_width=9, stroke_linecap="round")
        hole = el("path", d=dot, stroke_width=6, stroke_linecap="round", stroke="Canvas", class_="hole")
        yield [ring, hole], "goes in; the cutter misses its low spots"
    kinds = {found.kind for one in shown if (found := hatched(one, settings, target))}
    if "rough" in kinds:
        yield [_hatched(name, "rough")], "low spots that keep it from a turn: one face only"
    if "short" in kinds:
        yield [_hatched(name, "short")], "short of the target"


def _hatched(name: str, kind: str) -> Markup:
    return el("rect", x=4, y=3, width=12, height=14, class_=kind, fill=f"url(#{name}-{kind})", stroke_width=1)


def _sign(drawn: Sequence[Markup]) -> Markup:
    group = el("g", *drawn, stroke="currentColor", fill="none")
    return el("svg", group, viewBox="0 0 20 20", width=20, height=20, aria_hidden="true")
