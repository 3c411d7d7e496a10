"""What a scrap says about the scale, in words."""

from __future__ import annotations

from fractions import Fraction

from thickset.faces.markup import Markup, el
from thickset.ground import numbers
from thickset.ground.lengths import INCH, Units


def scrap_words(off: Fraction, units: Units) -> Markup:
    """How far the opening was off the scale [mm], above zero when it opened more.

    >>> scrap_words(Fraction(1, 5), "mm")
    '<p>It opened <b>0.2 mm more</b> than its scale reads.</p>'
    """
    size = numbers.rounded(abs(off) / INCH, 3) if units == "in" else numbers.rounded(abs(off), 2)
    if size == "0":
        return el("p", "It opened to ", el("b", "what its scale reads"), ".")
    return el("p", "It opened ", el("b", f"{size} {units} {'more' if off > 0 else 'less'}"), " than its scale reads.")
