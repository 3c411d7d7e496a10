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
    wood = el("rect", x=4, y=9, width=12, height=9, class_="wood", stroke_width=1)
    bar = el("rect", x=4, y=2, width=12, height=7, class_="extent", stroke_width=1)
    if any(one.readings for one in shown):
        ticks = el("path", d="M4,2h12M4,6h12M4,9h12", class_="spots", stroke_width=1.6)
        yield [wood, bar, ticks], "a board: the dark part is from its thin to its thick spot, its readings as lines"
    if any(one.spread for one in shown):
        yield [wood, bar], "boards with the same way down, from the thickest to the thinnest; the words below name them"
    if settings:
        yield [wood, el("path", d="M1,9h18", class_="step", stroke_width=2.4)], "a setting, as far as it cuts"
        yield (
            [bar, el("path", d="M1,6h18", class_="step", stroke_width=2.4)],
            "through the dark part: the cutter misses its low spots",
        )
        letter = el("text", "B", x=10, y=15, text_anchor="middle", font_size=14, fill="currentColor", stroke="none")
        yield [letter], "the face that this stretch comes off"
    kinds = {found.kind for one in shown if (found := hatched(one, settings, target))}
    if "rough" in kinds:
        yield [_hatched(name, "rough")], "low spots stay rough: one face only"
    if "short" in kinds:
        yield [_hatched(name, "short")], "short of the target"


def _hatched(name: str, kind: str) -> Markup:
    return el("rect", x=4, y=3, width=12, height=14, class_=kind, fill=f"url(#{name}-{kind})", stroke_width=1)


def _sign(drawn: Sequence[Markup]) -> Markup:
    group = el("g", *drawn, stroke="currentColor", fill="none")
    return el("svg", group, viewBox="0 0 20 20", width=20, height=20, aria_hidden="true")
