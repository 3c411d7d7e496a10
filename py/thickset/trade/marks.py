"""Knife marks: how close they stand, how deep the waves between them are.

Marks and pitch are exact with `fractions.Fraction` and plain with floats; wave heights
are floats. `knives` is the number that mark the surface: all of them only when they are
jointed in place, else 1.
"""

import math
from fractions import Fraction
from typing import TypeVar

from thickset.trade.formula import formula
from thickset.trade.limits import OutOfRangeError, above_zero, whole_above_zero

Num = TypeVar("Num", float, Fraction)

MARKS_FROM_METRIC = (127, 5000)
"""25.4 mm to the inch over 1000 mm to the metre, in lowest terms; exact (NIST SP 811)."""

FINISH_MARKS = 20.0
"""Marks per inch from which a surface counts as finish planed [marks/in]; read."""

FURNITURE_MARKS, FINE_MARKS = 12.0, 16.0
"""Marks per inch from which a surface is called furniture and fine [marks/in]; USDA
handbooks from memory, medium."""


@formula(
    "marks per inch [marks/in]",
    "Cuts each minute over inches fed each minute.",
    speed="n [rpm] speed of the head",
    knives="z [count] knives that mark",
    feed="v [m/min] feed",
    steps="KM = 25.4 × n × z / (1000 × v)",
    in_inch="KM = n × z / (12 × v)",
    limits="Speed, knives and feed above zero. A surface formed by knives that all cut.",
    source="KM = n z / (12 F), F in ft/min; trade engineering text, read.",
    known="read",
)
def marks_per_inch(speed: Num, knives: int, feed: Num) -> Num:
    """Knife marks left on each inch of board.

    >>> marks_per_inch(5000.0, 3, 26 * 0.3048)
    48.07692307692308
    >>> marks_per_inch(Fraction(4500), 4, 75 * Fraction(3048, 10000))
    Fraction(20, 1)
    """
    _check_head(speed, knives)
    above_zero("feed", feed, "m/min")
    top, bottom = MARKS_FROM_METRIC
    return speed * knives * top / (feed * bottom)


@formula(
    "pitch [mm]",
    "How far the board moves from one mark to the next.",
    speed="n [rpm] speed of the head",
    knives="z [count] knives that mark",
    feed="v [m/min] feed",
    steps="p = 1000 × v / (n × z)",
    limits="Speed, knives and feed above zero.",
    source="p = 1000 v / (n z), derived.",
    known="derived",
)
def pitch(speed: Num, knives: int, feed: Num) -> Num:
    """Distance between knife marks: the feed per marking knife.

    >>> round(pitch(5000.0, 3, 26 * 0.3048), 4)
    0.5283
    """
    _check_head(speed, knives)
    above_zero("feed", feed, "m/min")
    return 1000 * feed / (speed * knives)


@formula(
    "fastest feed for the wanted marks [m/min]",
    "The feed at which just the wanted marks fall on each inch.",
    speed="n [rpm] speed of the head",
    knives="z [count] knives that mark",
    marks="KM [marks/in] marks wanted",
    steps="v = 25.4 × n × z / (1000 × KM)",
    limits="Speed, knives and marks above zero.",
    source="the marks per inch solved for the feed, derived.",
    known="derived",
)
def feed_for_marks(speed: Num, knives: int, marks: Num) -> Num:
    """Fastest feed that still leaves the wanted marks per inch.

    >>> round(feed_for_marks(5000.0, 1, 20.0) / 0.3048, 3)
    20.833
    """
    _check_head(speed, knives)
    above_zero("marks", marks, "marks/in")
    top, bottom = MARKS_FROM_METRIC
    return speed * knives * top / (marks * bottom)


@formula(
    "wave height, circle [mm]",
    "Height of the ridge between two cuts of a circle.",
    pitch="p [mm] pitch",
    diameter="D [mm] cutting circle",
    steps="R = D / 2; h = R − √(R^2 − (p / 2)^2)",
    limits="Pitch up to the diameter. The feed during one cut is left out.",
    source="h = R - sqrt(R^2 - (p/2)^2), derived; exact geometry.",
    known="derived",
)
def wave_height(pitch: float, diameter: float) -> float:
    """Height of the waves between marks, the knife's path taken as a circle.

    >>> round(1000 * wave_height(1.27, 100), 4)
    4.0324
    """
    _check_wave(pitch, diameter)
    half, radius = pitch / 2, diameter / 2
    # R - sqrt(R^2 - h^2) loses digits when the wave is small; this form does not.
    return half * half / (radius + math.sqrt((radius - half) * (radius + half)))


@formula(
    "wave height, short formula [mm]",
    "Height of the ridge, near enough.",
    pitch="p [mm] pitch",
    diameter="D [mm] cutting circle",
    steps="h = p^2 / (4 × D)",
    limits="Under 0.1 % low while the pitch is under a sixteenth of the diameter.",
    source="h = p^2 / (4 D), derived; textbook form (Koch 1964) from memory.",
    known="memory",
)
def wave_height_approx(pitch: float, diameter: float) -> float:
    """Height of the waves between marks by the short formula.

    >>> round(1000 * wave_height_approx(2.54, 75), 4)
    21.5053
    """
    _check_wave(pitch, diameter)
    if pitch >= diameter / 16:
        raise OutOfRangeError("pitch", "must be under a sixteenth of the diameter; use the exact circle")
    return pitch * pitch / (4 * diameter)


@formula(
    "wave height, moving board [mm]",
    "Height of the ridge where the path of one knife meets that of the next, the board moving against the cut. The angle at which they meet is taken near enough first, and made better twice.",
    pitch="p [mm] pitch",
    knives="z [count] knives that mark",
    diameter="D [mm] cutting circle",
    steps=(
        "R = D / 2; "
        "f = p × z / (2 × π); "
        "a = p / 2 / (f + R); "
        "a1 = a − (f × a + R × sin(a) − p / 2) / (f + R × cos(a)); "
        "a2 = a1 − (f × a1 + R × sin(a1) − p / 2) / (f + R × cos(a1)); "
        "h = R × (1 − cos(a2))"
    ),
    limits="Pitch up to the diameter. A knife that runs true and does not give.",
    source="the knife's path x = p z a / (2 pi) + R sin a, y = R (1 - cos a), met by the next knife's path at x = p/2; derived, exact geometry.",
    known="derived",
)
def wave_height_trochoid(pitch: float, knives: int, diameter: float) -> float:
    """Height of the waves with the board moving during the cut, against the feed.

    >>> round(1000 * wave_height_trochoid(1.5, 4, 100), 3)
    5.416
    """
    _check_wave(pitch, diameter)
    whole_above_zero("knives", knives)
    radius, advance = diameter / 2, pitch * knives / (2 * math.pi)
    angle = pitch / 2 / (advance + radius)
    for _ in range(20):
        miss = advance * angle + radius * math.sin(angle) - pitch / 2
        angle -= miss / (advance + radius * math.cos(angle))
    return 2 * radius * math.sin(angle / 2) ** 2


@formula(
    "wave height, moving board, short formula [mm]",
    "Height of the ridge with the board moving, near enough.",
    pitch="p [mm] pitch",
    knives="z [count] knives that mark",
    diameter="D [mm] cutting circle",
    steps="R = D / 2; h = p^2 / (8 × (R + p × z / π))",
    limits="Pitch up to 0.1 and feed per turn of the head (p z) up to 0.3 of the cutting radius. There within 0.2 % of the exact path.",
    source="h = p^2 / (8 (R + p z / pi)); Martellotti 1941 from memory, medium.",
    known="memory",
)
def wave_height_trochoid_approx(pitch: float, knives: int, diameter: float) -> float:
    """Height of the waves with the board moving, by the short formula.

    >>> round(1000 * wave_height_trochoid_approx(1.5, 4, 100), 3)
    5.418
    """
    _check_wave(pitch, diameter)
    whole_above_zero("knives", knives)
    radius = diameter / 2
    if pitch > 0.1 * radius or pitch * knives > 0.3 * radius:
        raise OutOfRangeError("pitch", "is too long for the short formula; use the exact path")
    return pitch * pitch / (8 * (radius + pitch * knives / math.pi))


@formula(
    "name of the surface [name]",
    "By the marks per inch.",
    marks="KM [marks/in] marks",
    limits="Marks above zero. The woods and the light decide what is good enough.",
    source="rough 8 to 12, furniture 12 to 16, fine 16 to 20, USDA handbooks, from memory, medium; finish planing 20 or more, read.",
    known="memory",
)
def surface_named(marks: float) -> str:
    """What a surface with so many marks is called.

    >>> [surface_named(marks) for marks in (10, 14, 18, 24)]
    ['rough', 'furniture', 'fine', 'finish planed']
    """
    above_zero("marks", marks, "marks/in")
    if marks >= FINISH_MARKS:
        return "finish planed"
    if marks >= FINE_MARKS:
        return "fine"
    return "furniture" if marks >= FURNITURE_MARKS else "rough"


def _check_head(speed: float | Fraction, knives: int) -> None:
    above_zero("speed", speed, "rpm")
    whole_above_zero("knives", knives)


def _check_wave(pitch: float, diameter: float) -> None:
    above_zero("pitch", pitch, "mm")
    above_zero("diameter", diameter, "mm")
    if pitch > diameter:
        raise OutOfRangeError("pitch", "must be no more than the diameter of the head")
