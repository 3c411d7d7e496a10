"""What a scrap says about the scale, in words."""

from __future__ import annotations

from fractions import Fraction

from thickset.faces.words.markup import Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.notation import numbers
from thickset.ground.notation.lengths import INCH, Units


def scrap_words(off: Fraction, units: Units) -> Markup:
    """How far the opening was off the scale [mm], above zero when it opened more.

    >>> scrap_words(Fraction(1, 5), "mm").partition("<button")[0]
    '<p>It opened <b>0.2 mm more</b> than its scale reads. '
    """
    ask = ask_button("scrap", label="Why, and what does the scale come to with it?")
    size = numbers.rounded(abs(off) / INCH, 3) if units == "in" else numbers.rounded(abs(off), 2)
    if size == "0":
        return el("p", "It opened to ", el("b", "what its scale reads"), ". ", ask)
    how = "more" if off > 0 else "less"
    return el("p", "It opened ", el("b", f"{size} {units} {how}"), " than its scale reads. ", ask)
