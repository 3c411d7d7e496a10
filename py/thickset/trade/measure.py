"""How much wood a board counts for when it is bought: board feet, surface measure, cost."""

import math
from fractions import Fraction

from thickset.trade.formula import formula
from thickset.trade.limits import above_zero, within

CUBIC_METERS_PER_BOARD_FOOT = 0.002359737216
"""144 in3 [m3]; exact."""


@formula(
    "board feet [board feet]",
    "Thickness times width times length over 12.",
    thickness="T [in] thickness",
    width="W [in] width",
    length="L [ft] length",
    steps="BF = T × W × L / 12",
    limits="All above zero. Nominal sizes for softwood.",
    source="T x W x L / 12, read.",
    known="read",
)
def board_feet(thickness: float, width: float, length: float) -> float:
    """Board feet of a board by its sizes.

    >>> board_feet(2, 6, 8)
    8.0
    """
    above_zero("thickness", thickness, "in")
    above_zero("width", width, "in")
    above_zero("length", length, "ft")
    return thickness * width * length / 12


@formula(
    "surface measure [ft2]",
    "Width times whole feet of length over 12, to the nearest whole.",
    width="W [in] width",
    length="L [ft] length",
    steps="SM = floor(W × floor(L) / 12 + 1 / 2)",
    limits="Both above zero. An exact half is rounded up here. The trade rounds such boards up and down by turns (common practice, no source).",
    source="W L / 12 to the nearest whole, read (American Hardwood Export Council guide).",
    known="read",
)
def surface_measure(width: float | Fraction, length: float | Fraction) -> int:
    """Surface measure of a hardwood board, to the nearest whole foot.

    >>> surface_measure(6.25, 8), surface_measure(10, 13.9)
    (4, 11)
    """
    above_zero("width", width, "in")
    above_zero("length", length, "ft")
    return math.floor(Fraction(width) * math.floor(length) / 12 + Fraction(1, 2))


@formula(
    "volume [m3]",
    "Thickness times width times length.",
    thickness="t [mm] thickness",
    width="w [mm] width",
    length="l [mm] length",
    steps="V = t × w × l / 1000000000",
    limits="All above zero.",
    source="product of the sizes, derived.",
    known="derived",
)
def cubic_meters(thickness: float, width: float, length: float) -> float:
    """Volume of a board.

    >>> round(cubic_meters(25.4, 304.8, 304.8), 12)
    0.002359737216
    """
    above_zero("thickness", thickness, "mm")
    above_zero("width", width, "mm")
    above_zero("length", length, "mm")
    return thickness * width * length / 1e9


@formula(
    "amount to buy [as needed]",
    "What is needed over the share that is not waste.",
    needed="N [board feet or m3] needed in parts",
    waste="a [%] waste of what is bought",
    steps="B = N / (1 − a / 100)",
    limits="Needed zero or more, waste 0 to 90 %. How much is wasted is the user's own figure.",
    source="needed / (1 - waste), derived.",
    known="derived",
)
def to_buy(needed: float, waste: float) -> float:
    """Amount to buy so that enough is left after waste.

    >>> to_buy(30, 25)
    40.0
    """
    within("needed", needed, 0, math.inf, "")
    within("waste", waste, 0, 90, "%", "enter per cent of what is bought")
    return needed / (1 - waste / 100)


@formula(
    "cost of wood [money]",
    "Amount times rate.",
    amount="B [board feet or m3] amount",
    rate="r [money per unit] rate",
    steps="cost = B × r",
    limits="Both zero or more, both of one unit.",
    source="product, derived.",
    known="derived",
)
def price(amount: float, rate: float) -> float:
    """Cost of an amount of wood.

    >>> price(40, 7.5)
    300.0
    """
    within("amount", amount, 0, math.inf, "")
    within("rate", rate, 0, math.inf, "")
    return amount * rate
