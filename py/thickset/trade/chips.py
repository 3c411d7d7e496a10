"""Shavings: how thick a chip is, how many shavings a lot makes, the air that carries them."""

import math
from collections.abc import Sequence
from typing import NamedTuple

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


def engagement_angle(depth: float, diameter: float) -> float:
    """Angle through which a knife is in the wood [rad].

    depth: of the cut [mm]; diameter: of the cutting circle [mm].

    Valid: depth above zero and no more than half the diameter.
    Source: cos phi = 1 - 2 d / D, derived.

    >>> round(math.degrees(engagement_angle(1.5, 100)), 4)
    14.0699
    """
    _check_engagement(depth, diameter)
    # acos(1 - small) loses digits; the half angle does not.
    return 2 * math.asin(math.sqrt(depth / diameter))


def arc(depth: float, diameter: float) -> float:
    """Length of the arc a knife cuts, the length of a shaving [mm].

    depth: of the cut [mm]; diameter: of the cutting circle [mm].

    Valid: depth above zero and no more than half the diameter.
    Source: D phi / 2, derived.

    >>> round(arc(1.5, 100), 4)
    12.2783
    """
    return diameter * engagement_angle(depth, diameter) / 2


def thickest_chip(pitch: float, depth: float, diameter: float) -> float:
    """Thickness of the chip where it is thickest, cutting against the feed [mm].

    pitch: feed per cutting knife [mm]; depth: [mm]; diameter: of the circle [mm].

    Valid: pitch far under the diameter; depth no more than half the diameter.
    Source: h = f sin phi = 2 f sqrt((d/D)(1 - d/D)), derived.

    >>> round(thickest_chip(1.0, 1.5, 100), 5)
    0.2431
    """
    above_zero("pitch", pitch, "mm")
    _check_engagement(depth, diameter)
    share = depth / diameter
    return 2 * pitch * math.sqrt(share * (1 - share))


def mean_chip(pitch: float, depth: float, diameter: float) -> float:
    """Mean thickness of the chip over its arc [mm].

    pitch: feed per cutting knife [mm]; depth: [mm]; diameter: of the circle [mm].

    Valid: pitch far under the diameter; depth no more than half the diameter.
    Source: h = 2 f d / (D phi), so that h x arc = f d exactly; derived.

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

    Valid: see when_to_empty. Source: see when_to_empty.

    >>> Emptying((2,), (), 1.5).filled
    1.5
    """

    after: tuple[int, ...]
    during: tuple[int, ...]
    filled: float


def solid_volume(area: float, depth: float) -> float:
    """Wood planed off a surface, as solid wood [L].

    area: planed [m2]; depth: mean depth taken off [mm].

    Valid: area and depth zero or more.
    Source: volume = area x depth (1 m2 x 1 mm = 1 L), derived.

    >>> solid_volume(9.290304, 1.5875) / 28.316846592
    0.5208333333333334
    """
    within("area", area, 0, math.inf, "m2")
    within("depth", depth, 0, math.inf, "mm")
    return area * depth


def loose_volume(solid: float) -> float:
    """Room the shavings take up when loose [L].

    solid: wood planed off [L].

    Valid: planer shavings; settled or pressed shavings take less.
    Source: 4 : 1 for planer shavings, Briggs, Forest Products Measurements, Table 7-1,
    after Dobie & Wright 1972, read.

    >>> loose_volume(10.0)
    40.0
    """
    within("solid", solid, 0, math.inf, "L")
    return solid * LOOSE_PER_SOLID


def when_to_empty(loose_per_pass: Sequence[float], size: float) -> Emptying:
    """After which passes to empty the bag or drum so that none runs over in a pass [pass].

    loose_per_pass: loose shavings of each pass, first to last [L]; size: of a bag or drum
    [L]. A pass that fills more than one is named in `during`.

    Valid: volumes zero or more, size above zero; begins with an empty container.
    Source: emptied before the pass it could not hold, derived.

    >>> when_to_empty([40, 40, 30], 100)
    Emptying(after=(2,), during=(), filled=1.1)
    >>> when_to_empty([200, 30], 100)
    Emptying(after=(1,), during=(1,), filled=2.3)
    """
    above_zero("size", size, "L")
    after, during, held = [], [], 0.0
    for number, loose in enumerate(loose_per_pass, start=1):
        within("loose_per_pass", loose, 0, math.inf, "L")
        if held > 0 and held + loose > size:
            after.append(number - 1)
            held = 0.0
        if loose > size:
            during.append(number)
            held = loose - (math.ceil(loose / size) - 1) * size
        else:
            held += loose
    return Emptying(tuple(after), tuple(during), math.fsum(loose_per_pass) / size)


def duct_speed(flow: float, diameter: float) -> float:
    """Speed of the air in a round duct [m/s].

    flow: of air [m3/h]; diameter: inside [mm].

    Valid: both above zero; the flow with everything connected, not the fan's own figure.
    Source: flow = area x speed, derived.

    >>> round(duct_speed(1334, 152.4), 1)
    20.3
    """
    above_zero("flow", flow, "m3/h")
    above_zero("diameter", diameter, "mm")
    return flow / 3600 / (math.pi / 4 * (diameter / 1000) ** 2)


def duct_flow(speed: float, diameter: float) -> float:
    """Flow of air that a round duct carries at a speed [m3/h].

    speed: [m/s]; diameter: inside [mm].

    Valid: both above zero.
    Source: flow = area x speed, derived.

    >>> round(duct_flow(TRANSPORT_SPEED, 152.4))
    1334
    """
    above_zero("speed", speed, "m/s")
    above_zero("diameter", diameter, "mm")
    return speed * 3600 * math.pi / 4 * (diameter / 1000) ** 2


def exhaust_for_planer(knife_length: float) -> float:
    """Usual flow of air to carry off the shavings of one planer [m3/h].

    knife_length: [mm].

    Valid: a single planer with a hood; the machine's manual comes first.
    Source: ACGIH Industrial Ventilation from memory, medium-high (785 to 2200 cfm).

    >>> round(exhaust_for_planer(380))
    1334
    """
    above_zero("knife_length", knife_length, "mm")
    for longest, cfm in EXHAUST_BY_KNIFE_LENGTH:
        if 10 * knife_length <= 254 * longest:
            return cfm * M3H_PER_CFM
    return LARGEST_EXHAUST * M3H_PER_CFM
