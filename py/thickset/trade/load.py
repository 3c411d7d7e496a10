"""Load on the motor, measured against one cut this planer is known to take well.

Exact with `fractions.Fraction`, plain with floats. Specific gravities are at 12 %
moisture; where either wood is unknown use the same gravity, say 1, for both.
"""

from fractions import Fraction
from typing import NamedTuple, TypeVar

from thickset.trade.formula import formula
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


BOARD = {"feed": "v [m/min] feed", "gravity": "G [1] specific gravity of the board at 12 %"}
KNOWN = {
    "known_width": "w0 [mm] width of the proven cut",
    "known_depth": "d0 [mm] depth of the proven cut",
    "known_feed": "v0 [m/min] feed of the proven cut",
    "known_gravity": "G0 [1] specific gravity of the proven cut at 12 %",
}
"""What a cut and the cut that it is held against put in."""


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


@formula(
    "load limit [mm]",
    "The deepest cut that takes no more wood, weighed by its gravity, than the proven cut in the same time.",
    width="w [mm] width of the board",
    **BOARD,
    **KNOWN,
    steps="d = d0 × (w0 / w) × (v0 / v) × (G0 / G)",
    limits="All above zero. Near the proven cut, because thin chips cut harder.",
    source="d <= d0 (w0/w)(v0/v)(G0/G), equal removal rate weighted by gravity; a model, derived. A published comparison says such models serve for comparing cuts, not for absolute force (Durkovic & Danon, abstract, read).",
    known="derived",
)
def load_limit(
    width: Num,
    feed: Num,
    gravity: Num,
    known_width: Num,
    known_depth: Num,
    known_feed: Num,
    known_gravity: Num,
) -> Num:
    """Deepest cut that loads the motor no more than the proven cut.

    >>> load_limit(150.0, 8.0, 0.63, 300.0, 1.5, 8.0, 0.63)
    3.0
    >>> load_limit(*map(Fraction, (150, 8, 1, 300, 1, 4, 1)))
    Fraction(1, 1)
    """
    _check_cut(width, known_depth, feed, gravity)
    _check_cut(known_width, known_depth, known_feed, known_gravity)
    return known_depth * known_width * known_feed * known_gravity / (width * feed * gravity)


@formula(
    "load [1]",
    "Wood taken in the same time, weighed by its gravity, over that of the proven cut.",
    width="w [mm] width of the board",
    depth="d [mm] cut",
    **BOARD,
    **KNOWN,
    steps="L = w × d × v × G / (w0 × d0 × v0 × G0)",
    limits="All above zero. At 1 the cut stands exactly at its load limit.",
    source="(b d v G) / (b0 d0 v0 G0), derived.",
    known="derived",
)
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
    """Load of a cut as a share of the proven cut's, thickness of chips left out.

    >>> load_ratio(150.0, 1.5, 8.0, 0.63, 300.0, 1.5, 8.0, 0.63)
    0.5
    """
    _check_cut(width, depth, feed, gravity)
    _check_cut(known_width, known_depth, known_feed, known_gravity)
    known = known_width * known_depth * known_feed * known_gravity
    return width * depth * feed * gravity / known


@formula(
    "load, thin chips counted [1]",
    "Thin chips cut harder: the load with an exponent from 0 to 0.4.",
    ratio="L [1] load, chips left out",
    chip_ratio="c [1] mean chip over that of the proven cut",
    steps="lowest = min(L, L × c^(−0.4)); highest = max(L, L × c^(−0.4))",
    limits="Both above zero. A chip thinner than the proven cut's loads the motor more.",
    source="L c^-m with m from 0 to 0.4; form and exponents from memory, low.",
    known="memory",
)
def load_range(ratio: float, chip_ratio: float) -> tuple[float, float]:
    """Lowest and highest load as a share of the proven cut's.

    >>> low, high = load_range(0.5, 0.5)
    >>> round(low, 3), round(high, 3)
    (0.5, 0.66)
    """
    above_zero("ratio", ratio, "")
    above_zero("chip_ratio", chip_ratio, "")
    loads = [ratio * chip_ratio**-exponent for exponent in THICKNESS_EXPONENT]
    return min(loads), max(loads)


@formula(
    "widest board for a cut [mm]",
    "The width at which the cut stands just at its load limit.",
    depth="d [mm] cut",
    **BOARD,
    **KNOWN,
    steps="w = w0 × (d0 / d) × (v0 / v) × (G0 / G)",
    limits="All above zero. The planer's own width still holds.",
    source="the load limit solved for the width, derived.",
    known="derived",
)
def widest_for_cut(
    depth: Num,
    feed: Num,
    gravity: Num,
    known_width: Num,
    known_depth: Num,
    known_feed: Num,
    known_gravity: Num,
) -> Num:
    """Widest board for which a cut is within the load limit.

    >>> widest_for_cut(3.0, 8.0, 0.63, 300.0, 1.5, 8.0, 0.63)
    150.0
    """
    _check_cut(known_width, depth, feed, gravity)
    _check_cut(known_width, known_depth, known_feed, known_gravity)
    return known_width * known_depth * known_feed * known_gravity / (depth * feed * gravity)


@formula(
    "removal rate [cm3/min]",
    "Width times depth times feed.",
    width="b [mm] width",
    depth="d [mm] cut",
    feed="v [m/min] feed",
    steps="Q = b × d × v",
    limits="All above zero. A cut of even depth (take the mean cut of a board).",
    source="Q = b d v, derived.",
    known="derived",
)
def removal_rate(width: Num, depth: Num, feed: Num) -> Num:
    """Wood turned to shavings each minute.

    >>> removal_rate(300.0, 1.5, 8.0)
    3600.0
    """
    _check_cut(width, depth, feed, 1)
    return width * depth * feed


@formula(
    "power in the cut [W]",
    "Energy for each cubic centimeter times cubic centimeters each second.",
    energy="k [J/cm3] cutting energy",
    width="b [mm] width",
    depth="d [mm] cut",
    feed="v [m/min] feed",
    steps="P = k × b × d × v / 60",
    limits="All above zero. Only as good as the cutting energy, which no table gives for solid wood.",
    source="P = k b d v / 60, derived.",
    known="derived",
)
def cutting_power(energy: float, width: float, depth: float, feed: float) -> float:
    """Power that goes into the cut itself.

    >>> cutting_power(32, 300, 1.5, 8)
    1920.0
    """
    above_zero("energy", energy, "J/cm3")
    return energy * removal_rate(width, depth, feed) / 60


@formula(
    "cutting energy of such woods [J/cm3]",
    "Softwood up to a gravity of 0.65, dense hardwood from 0.40. Between them both.",
    gravity="G [1] specific gravity at 12 %",
    limits="Gravity 0.1 to 1.3. Woods between softwood and dense hardwood (0.40 to 0.65, common practice, no source) get both ranges together.",
    source="softwood 10 to 30, dense hardwood 20 to 60, from memory, LOW accuracy; no verified table.",
    known="memory",
)
def energy_range(gravity: float) -> tuple[float, float]:
    """Lowest and highest cutting energy of woods of about this weight.

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


@formula(
    "power, order of magnitude [W]",
    "The power in the cut with the lowest and the highest cutting energy of such woods, each worked below. No more than an order of magnitude.",
    width="b [mm] width",
    depth="d [mm] cut",
    feed="v [m/min] feed",
    gravity="G [1] specific gravity at 12 %",
    limits="Gravity 0.1 to 1.3. Woods between the softwood and dense-hardwood ranges (0.40 to 0.65, common practice, no source) get both ranges together.",
    source="the power in the cut for the lowest and the highest energy, from memory, LOW accuracy.",
    known="memory",
)
def watts_order_of_magnitude(width: float, depth: float, feed: float, gravity: float) -> tuple[float, float]:
    """Lowest and highest power a cut may ask for; an order of magnitude, no more.

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
