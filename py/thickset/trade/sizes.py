"""Thicknesses in which lumber is sold, and what is left of them after surfacing.

Inch sizes are exact fractions of an inch.
"""

from fractions import Fraction
from typing import NamedTuple

from thickset.trade.formula import formula
from thickset.trade.limits import OutOfRangeError, above_zero, within


def _table(rows: str) -> dict[str, Fraction]:
    pairs = (row.split() for row in rows.strip().splitlines())
    return {name: sum((Fraction(part) for part in parts), Fraction()) for name, *parts in pairs}


DRESSED_DRY = _table("""
    1/2 7/16
    5/8 9/16
    3/4 5/8
    1 3/4
    1-1/4 1
    1-1/2 1 1/4
    2 1 1/2
    2-1/2 2
    3 2 1/2
    3-1/2 3
    4 3 1/2
    4-1/2 4
""")
"""Least dressed thickness of dry softwood by nominal size [in]; PS 20, read on a reference
site, 3-1/2 and 4-1/2 from memory; exact."""

DRESSED_GREEN = _table("""
    1/2 15/32
    5/8 19/32
    3/4 11/16
    1 25/32
    1-1/4 1 1/32
    1-1/2 1 9/32
    2 1 9/16
    2-1/2 2 1/16
    3 2 9/16
    3-1/2 3 1/16
    4 3 9/16
    4-1/2 4 1/16
""")
"""The same for green softwood [in]; PS 20, read on a reference site, 3-1/2 and 4-1/2 from memory; exact."""

SURFACED = _table("""
    3/8 3/16
    1/2 5/16
    5/8 7/16
    3/4 9/16
    4/4 13/16
    5/4 1 1/16
    6/4 1 5/16
    7/4 1 1/2
    8/4 1 3/4
    10/4 2 1/4
    12/4 2 3/4
    16/4 3 3/4
""")
"""Hardwood surfaced two sides by rough size [in]; NHLA sizes, read on two reference sites
that agree, 10/4 from memory; exact."""


KILN_DRIED_UNDER = Fraction(1, 16)
"""Kiln-dried rough stock can be this much under its nominal size [in]; read."""

METRIC_HARDWOOD = (20, 27, 32, 40, 50, 52, 60, 65, 70, 80, 100)
"""Thicknesses of sawn hardwood at 20 % moisture [mm]; EN 1313-2 from memory, medium, but for those of METRIC_CUSTOMARY."""

METRIC_SOFTWOOD = (16, 19, 22, 25, 32, 38, 44, 50, 63, 75, 100)
"""Thicknesses of sawn softwood at 20 % moisture [mm]; EN 1313-1 with its national sizes, from memory, medium."""

METRIC_CUSTOMARY = frozenset({"52"})
"""Metric thicknesses that yards keep beside the standard's; common practice, no source."""

EN_CHANGE_PER_PERCENT = 0.0025
"""Change of size per 1 % moisture about 20 % [1]; EN 1313-1, read; a rule of the standard."""


class Purchase(NamedTuple):
    """A size to buy: its name, what it may measure, what planing leaves to spare [mm].

    >>> Purchase("27", 26.3, 1.5).spare
    1.5
    """

    size: str
    measures: float
    spare: float


@formula(
    "dressed thickness [in]",
    "From the table of the standard.",
    nominal="nominal [in] nominal size",
    green="green [yes or no] surfaced green",
    limits="The nominal sizes of the table.",
    source="PS 20, read on a reference site, 3-1/2 and 4-1/2 from memory.",
    known="read",
)
def dressed_softwood(nominal: str, green: bool = False) -> Fraction:
    """Least thickness of dressed softwood of a nominal size.

    >>> dressed_softwood("1"), dressed_softwood("1", green=True)
    (Fraction(3, 4), Fraction(25, 32))
    """
    return _look_up(DRESSED_GREEN if green else DRESSED_DRY, "nominal", nominal)


@formula(
    "surfaced thickness [in]",
    "From the table of the trade.",
    rough="rough [quarters] rough size",
    limits="The rough sizes of the table.",
    source="NHLA sizes, read on two reference sites that agree; 10/4 from memory.",
    known="read",
)
def surfaced_hardwood(rough: str) -> Fraction:
    """Thickness of hardwood surfaced two sides from a rough size.

    >>> surfaced_hardwood("5/4")
    Fraction(17, 16)
    """
    return _look_up(SURFACED, "rough", rough)


@formula(
    "sawn size at a moisture [mm]",
    "A quarter of a per cent for each per cent of moisture from 20.",
    size="d [mm] size at 20 %",
    moisture="M [%] moisture",
    steps="d2 = d × (1 + 0.0025 × (M − 20))",
    limits="6 to 30 % moisture.",
    source="0.25 % per 1 % moisture, EN 1313-1, read.",
    known="read",
)
def metric_size_at(size: float, moisture: float) -> float:
    """Size of sawn lumber at another moisture than the 20 % it is sold at.

    >>> metric_size_at(50, 8)
    48.5
    """
    above_zero("size", size, "mm")
    within("moisture", moisture, 6, 30, "%")
    return size * (1 + EN_CHANGE_PER_PERCENT * (moisture - 20))


@formula(
    "planed tolerance [mm]",
    "From the table of the standard.",
    thickness="t [mm] thickness",
    limits="Thickness above zero.",
    source="EN 336 T2, +/-1 mm to 100 mm, +/-1.5 over; read.",
    known="read",
)
def planed_tolerance(thickness: float) -> float:
    """Deviation allowed for planed structural timber, class T2.

    >>> planed_tolerance(45), planed_tolerance(120)
    (1.0, 1.5)
    """
    above_zero("thickness", thickness, "mm")
    return 1.0 if thickness <= 100 else 1.5


@formula(
    "sizes to buy [mm]",
    "Sizes that leave the finished thickness after jointing and planing.",
    finished="t [mm] finished thickness",
    jointing="j [mm] taken by jointing",
    planing="p [mm] taken by planing",
    metric="metric [yes or no] metric sizes",
    moisture="M [%] moisture",
    softwood="softwood [yes or no] softwood",
    limits="Finished above zero, allowances zero or more, moisture 6 to 30 %. A quarter size is taken 1/16 in scant, as kiln-dried stock can "
    "be. Softwood in inches is sold dressed, by its nominal size.",
    source="the table of sizes less the allowances, derived; allowances of 3/32 in a face are customary (furniture textbook, read).",
    known="derived",
)
def sizes_to_buy(
    finished: float, jointing: float, planing: float, metric: bool, moisture: float, softwood: bool = False
) -> list[Purchase]:
    """Rough sizes thick enough for a finished thickness, thinnest first.

    >>> [(buy.size, round(buy.spare, 2)) for buy in sizes_to_buy(20, 2.4, 2.4, False, 8)][:2]
    [('5/4', 5.36), ('6/4', 11.71)]
    >>> [sizes_to_buy(20, 2.4, 2.4, True, 8, softwood)[0].size for softwood in (False, True)]
    ['27', '32']
    """
    above_zero("finished", finished, "mm")
    within("jointing", jointing, 0, 50, "mm")
    within("planing", planing, 0, 50, "mm")
    if metric:
        sawn = METRIC_SOFTWOOD if softwood else METRIC_HARDWOOD
        stock = [(str(size), metric_size_at(size, moisture)) for size in sawn]
    elif softwood:
        stock = [(name, float(dressed * 127 / 5)) for name, dressed in DRESSED_DRY.items()]
    else:
        stock = [(name, float((Fraction(name) - KILN_DRIED_UNDER) * 127 / 5)) for name in SURFACED]
    need = finished + jointing + planing
    fit = [Purchase(name, measures, round(measures - need, 9) + 0.0) for name, measures in stock]
    return sorted((buy for buy in fit if buy.spare >= 0), key=lambda buy: buy.measures)


def _look_up(table: dict[str, Fraction], field: str, name: str) -> Fraction:
    try:
        return table[name]
    except KeyError:
        raise OutOfRangeError(field, f"must be one of {', '.join(table)}") from None
