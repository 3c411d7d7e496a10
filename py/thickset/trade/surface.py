"""The planed surface from the side, for a picture of it at true proportion."""

import math

from thickset.trade.formula import formula
from thickset.trade.limits import OutOfRangeError, above_zero, whole_above_zero


@formula(
    "surface [mm]",
    "The ridges left by cuts of a circle, one after another.",
    pitch="p [mm] pitch",
    diameter="D [mm] cutting circle",
    marks="n [count] marks shown",
    points="k [count] points of each",
    limits="Pitch up to the diameter. The knife's path taken as a circle, 2 points at least.",
    source="h = R - sqrt(R^2 - x^2) on either side of each deepest line, derived.",
    known="derived",
)
def wave_profile(pitch: float, diameter: float, marks: int, points: int) -> list[tuple[float, float]]:
    """The surface along the board as places and heights above the deepest line.

    >>> [(x, round(1000 * h, 2)) for x, h in wave_profile(2.0, 100, 1, 4)]
    [(0.0, 10.0), (0.5, 2.5), (1.0, 0.0), (1.5, 2.5), (2.0, 10.0)]
    """
    above_zero("pitch", pitch, "mm")
    above_zero("diameter", diameter, "mm")
    whole_above_zero("marks", marks)
    whole_above_zero("points", points)
    if pitch > diameter:
        raise OutOfRangeError("pitch", "must be no more than the diameter of the head")
    if points < 2:
        raise OutOfRangeError("points", "must be 2 at least")
    radius = diameter / 2
    found = []
    for step in range(marks * points + 1):
        off = pitch * ((step % points) / points - 0.5)
        height = off * off / (radius + math.sqrt((radius - off) * (radius + off)))
        found.append((pitch * step / points, height))
    return found
