"""How much wood a board counts for when it is bought: board feet, surface measure, cost."""

import math
from fractions import Fraction

from thickset.trade.limits import above_zero, within

CUBIC_METERS_PER_BOARD_FOOT = 0.002359737216
"""144 in3 [m3]; exact."""


def board_feet(thickness: float, width: float, length: float) -> float:
    """Board feet of a board by its sizes [board feet].

    thickness: [in]; width: [in]; length: [ft].

    Valid: all above zero; nominal sizes for softwood.
    Source: T x W x L / 12, read.

    >>> board_feet(2, 6, 8)
    8.0
    """
    above_zero("thickness", thickness, "in")
    above_zero("width", width, "in")
    above_zero("length", length, "ft")
    return thickness * width * length / 12


def surface_measure(width: float | Fraction, length: float | Fraction) -> int:
    """Surface measure of a hardwood board, to the nearest whole foot [ft2].

    width: [in]; length: [ft], a fraction of a foot is dropped.

    Valid: both above zero. An exact half is rounded up here; the trade rounds such boards
    up and down by turns (common practice, no source).
    Source: W L / 12 to the nearest whole, read (American Hardwood Export Council guide).

    >>> surface_measure(6.25, 8), surface_measure(10, 13.9)
    (4, 11)
    """
    above_zero("width", width, "in")
    above_zero("length", length, "ft")
    return math.floor(Fraction(width) * math.floor(length) / 12 + Fraction(1, 2))


def hardwood_board_feet(thickness: Fraction, width: float | Fraction, length: float | Fraction) -> Fraction:
    """Board feet of a hardwood board as it is tallied [board feet].

    thickness: nominal [in]; width: [in]; length: [ft].

    Valid: all above zero; under 1 in counts as 1 in.
    Source: surface measure x nominal thickness, read.

    >>> hardwood_board_feet(Fraction(2), 6.25, 8)
    Fraction(8, 1)
    """
    above_zero("thickness", thickness, "in")
    return surface_measure(width, length) * max(Fraction(thickness), Fraction(1))


def cubic_meters(thickness: float, width: float, length: float) -> float:
    """Volume of a board [m3].

    thickness, width, length: [mm].

    Valid: all above zero. Source: product of the sizes, derived.

    >>> round(cubic_meters(25.4, 304.8, 304.8), 12)
    0.002359737216
    """
    above_zero("thickness", thickness, "mm")
    above_zero("width", width, "mm")
    above_zero("length", length, "mm")
    return thickness * width * length / 1e9


def to_buy(needed: float, waste: float) -> float:
    """Amount to buy so that enough is left after waste [as needed: board feet or m3].

    needed: in finished parts [board feet or m3]; waste: share of what is bought [%].

    Valid: needed zero or more, waste 0 to 90 %. How much is wasted is the user's own
    figure. Source: needed / (1 - waste), derived.

    >>> to_buy(30, 25)
    40.0
    """
    within("needed", needed, 0, math.inf, "")
    within("waste", waste, 0, 90, "%", "enter per cent of what is bought")
    return needed / (1 - waste / 100)


def price(amount: float, rate: float) -> float:
    """Cost of an amount of wood [money].

    amount: [board feet or m3]; rate: [money per board foot or m3].

    Valid: both zero or more, both of one unit. Source: product, derived.

    >>> price(40, 7.5)
    300.0
    """
    within("amount", amount, 0, math.inf, "")
    within("rate", rate, 0, math.inf, "")
    return amount * rate
