"""Load on the motor, measured against one cut this planer is known to take well.

Exact with `fractions.Fraction`, plain with floats. Specific gravities are at 12 %
moisture; where either wood is unknown use the same gravity, say 1, for both.
"""

from fractions import Fraction
from typing import NamedTuple, TypeVar

from thickset.trade.limits import above_zero, within

Num = TypeVar("Num", float, Fraction)

THICKNESS_EXPONENT = (0.0, 0.4)
"""How much harder thin chips cut, as an exponent [1]; from memory, low accuracy."""

SOFTWOOD_ENERGY = (10.0, 30.0)
"""Cutting energy of softwood [J/cm3]; from memory, LOW accuracy, no verified table."""

DENSE_HARDWOOD_ENERGY = (20.0, 60.0)
"""Cutting energy of dense hardwood [J/cm3]; from memory, LOW accuracy."""

JOULES_PER_CM3_IN_HP_MIN_PER_IN3 = 2730.32
"""1 hp min/in3 [J/cm3]; derived from exact definitions, rounded to 6 figures."""


class KnownCut(NamedTuple):
    """A cut the planer takes well: width [mm], depth [mm], feed [m/min], gravity [1].

    Valid: all four above zero. Source: the user's own planer.

    >>> KnownCut(305.0, 1.5, 8.0, 0.63).depth
    1.5
    """

    width: float | Fraction
    depth: float | Fraction
    feed: float | Fraction
    gravity: float | Fraction


def load_limit(
    width: Num,
    feed: Num,
    gravity: Num,
    known_width: Num,
    known_depth: Num,
    known_feed: Num,
    known_gravity: Num,
) -> Num:
    """Deepest cut that loads the motor no more than the known cut [mm].

    width, known_width: [mm]; feed, known_feed: [m/min]; known_depth: [mm];
    gravity, known_gravity: specific gravity at 12 % moisture [1].

    Valid: all above zero; near the known cut, because thin chips cut harder.
    Source: d <= d0 (w0/w)(v0/v)(G0/G), equal removal rate weighted by gravity; a model,
    derived. A published comparison says such models serve for comparing cuts, not for
    absolute force (Durkovic & Danon, abstract, read).

    >>> load_limit(150.0, 8.0, 0.63, 300.0, 1.5, 8.0, 0.63)
    3.0
    >>> load_limit(*map(Fraction, (150, 8, 1, 300, 1, 4, 1)))
    Fraction(1, 1)
    """
    _check_cut(width, known_depth, feed, gravity)
    _check_cut(known_width, known_depth, known_feed, known_gravity)
    return known_depth * known_width * known_feed * known_gravity / (width * feed * gravity)


def load_ratio(
    width: Num,
    depth: Num,
    feed: Num,
    gravity: Num,
    known_width: Num,
    known_depth: Num,
    known_feed: Num,
    known_gravity: Num,
) -> Num:
    """Load of a cut as a share of the known cut's, thickness of chips left out [1].

    width, known_width, depth, known_depth: [mm]; feed, known_feed: [m/min]; gravity,
    known_gravity: specific gravity at 12 % moisture [1].

    Valid: all above zero. At 1 the cut stands exactly at its load limit.
    Source: (b d v G) / (b0 d0 v0 G0), derived.

    >>> load_ratio(150.0, 1.5, 8.0, 0.63, 300.0, 1.5, 8.0, 0.63)
    0.5
    """
    _check_cut(width, depth, feed, gravity)
    _check_cut(known_width, known_depth, known_feed, known_gravity)
    known = known_width * known_depth * known_feed * known_gravity
    return width * depth * feed * gravity / known


def load_range(ratio: float, chip_ratio: float) -> tuple[float, float]:
    """Lowest and highest load as a share of the known cut's [1].

    ratio: from load_ratio [1]; chip_ratio: mean chip thickness of this cut over that of
    the known cut [1] (see chips.mean_chip).

    Valid: both above zero. A thinner chip than the known cut's loads more than `ratio`.
    Source: ratio x (h/h0)^-m with m from 0 to 0.4; form and exponents from memory, low.

    >>> low, high = load_range(0.5, 0.5)
    >>> round(low, 3), round(high, 3)
    (0.5, 0.66)
    """
    above_zero("ratio", ratio, "")
    above_zero("chip_ratio", chip_ratio, "")
    loads = [ratio * chip_ratio**-exponent for exponent in THICKNESS_EXPONENT]
    return min(loads), max(loads)


def widest_for_cut(
    depth: Num,
    feed: Num,
    gravity: Num,
    known_width: Num,
    known_depth: Num,
    known_feed: Num,
    known_gravity: Num,
) -> Num:
    """Widest board for which a cut is within the load limit [mm].

    depth, known_depth, known_width: [mm]; feed, known_feed: [m/min]; gravity,
    known_gravity: specific gravity at 12 % moisture [1].

    Valid: all above zero; the planer's own width still holds.
    Source: load_limit solved for the width, derived.

    >>> widest_for_cut(3.0, 8.0, 0.63, 300.0, 1.5, 8.0, 0.63)
    150.0
    """
    _check_cut(known_width, depth, feed, gravity)
    _check_cut(known_width, known_depth, known_feed, known_gravity)
    return known_width * known_depth * known_feed * known_gravity / (depth * feed * gravity)


def removal_rate(width: Num, depth: Num, feed: Num) -> Num:
    """Wood turned to shavings each minute [cm3/min].

    width: [mm]; depth: of the cut [mm]; feed: [m/min].

    Valid: all above zero; a cut of even depth (take the mean cut of a board).
    Source: Q = b d v, derived.

    >>> removal_rate(300.0, 1.5, 8.0)
    3600.0
    """
    _check_cut(width, depth, feed, 1)
    return width * depth * feed


def cutting_power(energy: float, width: float, depth: float, feed: float) -> float:
    """Power that goes into the cut itself [W].

    energy: cutting energy [J/cm3 = N/mm2]; width: [mm]; depth: [mm]; feed: [m/min].

    Valid: all above zero; only as good as `energy`, which no table gives for solid wood.
    Source: P = k b d v / 60, derived.

    >>> cutting_power(32, 300, 1.5, 8)
    1920.0
    """
    above_zero("energy", energy, "J/cm3")
    return energy * removal_rate(width, depth, feed) / 60


def energy_range(gravity: float) -> tuple[float, float]:
    """Lowest and highest cutting energy of woods of about this weight [J/cm3].

    gravity: specific gravity at 12 % [1].

    Valid: gravity 0.1 to 1.3. Woods between softwood and dense hardwood (0.40 to 0.65,
    common practice, no source) get both ranges together.
    Source: softwood 10 to 30, dense hardwood 20 to 60, from memory, LOW accuracy; no
    verified table.

    >>> energy_range(0.35), energy_range(0.60), energy_range(0.80)
    ((10.0, 30.0), (10.0, 60.0), (20.0, 60.0))
    """
    within("gravity", gravity, 0.1, 1.3, "")
    ranges = []
    if gravity < 0.65:
        ranges.append(SOFTWOOD_ENERGY)
    if gravity > 0.40:
        ranges.append(DENSE_HARDWOOD_ENERGY)
    return min(low for low, _ in ranges), max(high for _, high in ranges)


def watts_order_of_magnitude(width: float, depth: float, feed: float, gravity: float) -> tuple[float, float]:
    """Lowest and highest power a cut may ask for; an order of magnitude, no more [W].

    width: [mm]; depth: [mm]; feed: [m/min]; gravity: specific gravity at 12 % [1].

    Valid: gravity 0.1 to 1.3. Woods between the softwood and dense-hardwood ranges
    (0.40 to 0.65, common practice, no source) get both ranges together.
    Source: cutting_power with energies from memory, LOW accuracy.

    >>> watts_order_of_magnitude(300, 1.5, 8, 0.63)
    (600.0, 3600.0)
    """
    low, high = energy_range(gravity)
    return (
        cutting_power(low, width, depth, feed),
        cutting_power(high, width, depth, feed),
    )


def _check_cut(
    width: float | Fraction,
    depth: float | Fraction,
    feed: float | Fraction,
    gravity: float | Fraction,
) -> None:
    above_zero("width", width, "mm")
    above_zero("depth", depth, "mm")
    above_zero("feed", feed, "m/min")
    above_zero("gravity", gravity, "")
