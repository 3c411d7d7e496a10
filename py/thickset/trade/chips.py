"""Shavings: how thick a chip is, how many shavings a lot makes, the air that carries them."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from thickset.trade.formula import formula
from thickset.trade.limits import OutOfRangeError, above_zero, within

LOOSE_PER_SOLID = 4.0
"""Loose planer shavings over solid wood by volume [1]; Briggs, Forest Products
Measurements, Table 7-1, after Dobie & Wright 1972; read. It varies with chip shape."""

TRANSPORT_SPEED = 20.32
"""Usual air speed that keeps shavings moving in a duct, 4000 ft/min [m/s]; from memory,
medium-high; exact conversion."""

M3H_PER_CFM = 1.69901080
"""1 ft3/min [m3/h]; from the exact foot (0.3048 m), 9 figures."""

EXHAUST_BY_KNIFE_LENGTH = ((20, 785), (26, 1100), (32, 1400), (38, 1765))
LARGEST_EXHAUST = 2200
"""Knife length up to [in] and flow [ft3/min], and the flow above 38 in; ACGIH Industrial
Ventilation from memory, medium-high; equals 6 to 10 in ducts at 4000 ft/min."""


@formula(
    "engagement [rad]",
    "The angle through which a knife is in the wood.",
    depth="d [mm] cut",
    diameter="D [mm] cutting circle",
    steps="φ = acos(1 − 2 × d / D)",
    limits="Depth above zero and no more than half the diameter.",
    source="cos phi = 1 - 2 d / D, derived.",
    known="derived",
)
def engagement_angle(depth: float, diameter: float) -> float:
    """Angle through which a knife is in the wood.

    >>> round(math.degrees(engagement_angle(1.5, 100)), 4)
    14.0699
    """
    _check_engagement(depth, diameter)
    # acos(1 - small) loses digits; the half angle does not.
    return 2 * math.asin(math.sqrt(depth / diameter))


@formula(
    "arc of the cut [mm]",
    "How long a knife is in the wood, along its circle.",
    depth="d [mm] cut",
    diameter="D [mm] cutting circle",
    steps="φ = acos(1 − 2 × d / D); s = D × φ / 2",
    limits="Depth above zero and no more than half the diameter.",
    source="D phi / 2, derived.",
    known="derived",
)
def arc(depth: float, diameter: float) -> float:
    """Length of the arc a knife cuts, the length of a shaving.

    >>> round(arc(1.5, 100), 4)
    12.2783
    """
    return diameter * engagement_angle(depth, diameter) / 2


@formula(
    "thickest chip [mm]",
    "The chip where the knife leaves the wood.",
    pitch="f [mm] feed per knife",
    depth="d [mm] cut",
    diameter="D [mm] cutting circle",
    steps="h = 2 × f × √((d / D) × (1 − d / D))",
    limits="Pitch far under the diameter. Depth no more than half the diameter.",
    source="h = f sin phi = 2 f sqrt((d/D)(1 - d/D)), derived.",
    known="derived",
)
def thickest_chip(pitch: float, depth: float, diameter: float) -> float:
    """Thickness of the chip where it is thickest, cutting against the feed.

    >>> round(thickest_chip(1.0, 1.5, 100), 5)
    0.2431
    """
    above_zero("pitch", pitch, "mm")
    _check_engagement(depth, diameter)
    share = depth / diameter
    return 2 * pitch * math.sqrt(share * (1 - share))


@formula(
    "mean chip [mm]",
    "The chip on the average: what a knife takes over the arc it takes it on.",
    pitch="f [mm] feed per knife",
    depth="d [mm] cut",
    diameter="D [mm] cutting circle",
    steps="φ = acos(1 − 2 × d / D); h = 2 × f × d / (D × φ)",
    limits="Pitch far under the diameter. Depth no more than half the diameter.",
    source="h = 2 f d / (D phi), so that h x arc = f d exactly; derived.",
    known="derived",
)
def mean_chip(pitch: float, depth: float, diameter: float) -> float:
    """Mean thickness of the chip over its arc.

    >>> round(mean_chip(1.0, 1.5, 100), 5)
    0.12217
    """
    above_zero("pitch", pitch, "mm")
    return pitch * depth / arc(depth, diameter)


def _check_engagement(depth: float, diameter: float) -> None:
    above_zero("depth", depth, "mm")
    above_zero("diameter", diameter, "mm")
    if depth > diameter / 2:
        raise OutOfRangeError("diameter", "must be at least twice the cut; check head and cut")


class Emptying(NamedTuple):
    """When to empty: after and during pass numbers, and containers filled [1].

    >>> Emptying((2,), (), 1.5).filled
    1.5
    """

    after: tuple[int, ...]
    during: tuple[int, ...]
    filled: float


@formula(
    "wood planed off [L]",
    "Area times depth.",
    area="A [m2] area planed",
    depth="d [mm] mean depth",
    steps="V = A × d",
    limits="Area and depth zero or more.",
    source="volume = area x depth (1 m2 x 1 mm = 1 L), derived.",
    known="derived",
)
def solid_volume(area: float, depth: float) -> float:
    """Wood planed off a surface, as solid wood.

    >>> solid_volume(9.290304, 1.5875) / 28.316846592
    0.5208333333333334
    """
    within("area", area, 0, math.inf, "m2")
    within("depth", depth, 0, math.inf, "mm")
    return area * depth


@formula(
    "loose shavings [L]",
    "Four times the solid wood.",
    solid="V [L] solid wood",
    steps="loose = 4 × V",
    limits="Planer shavings. Settled or pressed shavings take less.",
    source="4 : 1 for planer shavings, Briggs, Forest Products Measurements, Table 7-1, after Dobie & Wright 1972, read.",
    known="read",
)
def loose_volume(solid: float) -> float:
    """Room the shavings take up when loose.

    >>> loose_volume(10.0)
    40.0
    """
    within("solid", solid, 0, math.inf, "L")
    return solid * LOOSE_PER_SOLID


@formula(
    "when to empty [pass]",
    "Empty before the pass the container could not hold.",
    loose="V [L] loose shavings of each pass",
    size="B [L] size of the container",
    limits="Volumes zero or more, size above zero. Begins with an empty container.",
    source="emptied before the pass it could not hold, derived.",
    known="derived",
)
def when_to_empty(loose: Sequence[float], size: float) -> Emptying:
    """After which passes to empty the bag or drum so that none runs over in a pass; a pass that alone fills more than one is `during`.

    >>> when_to_empty([40, 40, 30], 100)
    Emptying(after=(2,), during=(), filled=1.1)
    >>> when_to_empty([200, 30], 100)
    Emptying(after=(1,), during=(1,), filled=2.3)
    """
    above_zero("size", size, "L")
    after, during, held = [], [], 0.0
    for number, one in enumerate(loose, start=1):
        within("loose", one, 0, math.inf, "L")
        if held > 0 and held + one > size:
            after.append(number - 1)
            held = 0.0
        if one > size:
            during.append(number)
            held = one - (math.ceil(one / size) - 1) * size
        else:
            held += one
    return Emptying(tuple(after), tuple(during), math.fsum(loose) / size)


@formula(
    "speed in the duct [m/s]",
    "Flow over area.",
    flow="Q [m3/h] flow",
    diameter="D [mm] inside diameter",
    steps="v = (Q / 3600) / (π / 4 × (D / 1000)^2)",
    limits="Both above zero. The flow with everything connected, not the fan's own figure.",
    source="flow = area x speed, derived.",
    known="derived",
)
def duct_speed(flow: float, diameter: float) -> float:
    """Speed of the air in a round duct.

    >>> round(duct_speed(1334, 152.4), 1)
    20.3
    """
    above_zero("flow", flow, "m3/h")
    above_zero("diameter", diameter, "mm")
    return flow / 3600 / (math.pi / 4 * (diameter / 1000) ** 2)


@formula(
    "flow in the duct [m3/h]",
    "Speed times area.",
    speed="v [m/s] speed",
    diameter="D [mm] inside diameter",
    steps="Q = 3600 × v × π / 4 × (D / 1000)^2",
    limits="Both above zero.",
    source="flow = area x speed, derived.",
    known="derived",
)
def duct_flow(speed: float, diameter: float) -> float:
    """Flow of air that a round duct carries at a speed.

    >>> round(duct_flow(TRANSPORT_SPEED, 152.4))
    1334
    """
    above_zero("speed", speed, "m/s")
    above_zero("diameter", diameter, "mm")
    return speed * 3600 * math.pi / 4 * (diameter / 1000) ** 2


@formula(
    "air for a planer [m3/h]",
    "From a table by length of knives: to 20 in 785 cfm, to 26 in 1,100, to 32 in 1,400, to 38 in 1,765, above that 2,200.",
    knife_length="b [mm] length of the knives",
    limits="A single planer with a hood. The machine's manual comes first.",
    source="ACGIH Industrial Ventilation from memory, medium-high (785 to 2200 cfm).",
    known="memory",
)
def exhaust_for_planer(knife_length: float) -> float:
    """Usual airflow to carry off the shavings of one planer.

    >>> round(exhaust_for_planer(380))
    1334
    """
    above_zero("knife_length", knife_length, "mm")
    for longest, cfm in EXHAUST_BY_KNIFE_LENGTH:
        if 10 * knife_length <= 254 * longest:
            return cfm * M3H_PER_CFM
    return LARGEST_EXHAUST * M3H_PER_CFM
