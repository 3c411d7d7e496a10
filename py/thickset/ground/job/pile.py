"""The thickest and the thinnest spot of a pile, as they are entered: which is which is known only before they become readings."""

from __future__ import annotations

from thickset.ground.job.job import Problem, problem_with
from thickset.ground.notation import lengths
from thickset.ground.notation.lengths import LengthError, Units


def upside_down(pile: object, units: Units) -> list[Problem]:
    """What to ask where the thickest spot is under the thinnest: one of them is a slip, and each is offered for the other.

    >>> [one.at for one in upside_down({"thickest": "7/8", "thinnest": "1"}, "in")]
    ['pile.thickest', 'pile.thinnest']
    >>> upside_down({"thickest": "1", "thinnest": "7/8"}, "in")
    []
    """
    if not isinstance(pile, dict):
        return []
    thickest, thinnest = (str(pile.get(key) or "").strip() for key in ("thickest", "thinnest"))
    try:
        if lengths.read(thickest, units) >= lengths.read(thinnest, units):
            return []
    except LengthError:
        return []  # what cannot be read is asked about where it becomes a reading
    return [
        problem_with(
            "Thickest spot",
            "pile.thickest",
            f"{thickest} is under the thinnest, {thinnest}. Are they swapped? Look at both once more.",
            (thinnest,),
        ),
        problem_with(
            "Thinnest spot",
            "pile.thinnest",
            f"{thinnest} is over the thickest, {thickest}. Are they swapped? Look at both once more.",
            (thickest,),
        ),
    ]
