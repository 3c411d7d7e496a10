"""The lettering of the picture of the lot: texts and how lengths are cut short to fit."""

from __future__ import annotations

from fractions import Fraction

from thickset.faces.words import words
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.ground.notation.lengths import Units


def text_at(said: str, x: float, y: float, anchor: str, kind: str, transform: str | None = None) -> Markup:
    """A text that begins, is centered or ends at a place [units of the drawing].

    >>> text_at("", 0, 0, "end", "label")
    ''
    """
    if not said:
        return EMPTY
    return el(
        "text",
        said,
        x=x,
        y=y,
        text_anchor=anchor,
        class_=kind,
        font_size=12,
        fill="currentColor",
        stroke="none",
        transform=transform,
    )


def bare(length: Fraction, units: Units) -> str:
    """A length [mm] without its unit.

    >>> bare(Fraction("23.8125"), "in")
    '15/16'
    """
    return words.length(length, units).removesuffix(f" {units}")


def mark(thickness: float, units: str) -> str:
    """A mark of the rule [mm] in its own words.

    >>> mark(25.796875, "in"), mark(27.5, "mm"), mark(25.4, "in")
    ('1 1/64', '27.5', '1')
    """
    if units == "mm":
        return f"{thickness:.1f}".removesuffix(".0")
    whole, parts = divmod(round(thickness / 25.4 * 64), 64)
    if not parts:
        return str(whole)
    under = 64
    while parts % 2 == 0:
        parts, under = parts // 2, under // 2
    return f"{whole} {parts}/{under}" if whole else f"{parts}/{under}"
