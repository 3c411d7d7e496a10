"""How far a board hangs over the ends of the planer's table, and how far it sags there."""

import math
from typing import Literal, NamedTuple

from thickset.trade.formula import formula
from thickset.trade.limits import OutOfRangeError, above_zero, within

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s2]; exact by definition."""

STIFFNESS = {"hardwood": (16.5, 0.7), "softwood": (20.5, 0.84)}
"""Factor and exponent of stiffness from specific gravity at 12 % [GPa, 1]; Wood Handbook
chapter 5, from memory, high. A single wood strays by up to 30 %."""

SAG_ALLOWED = 3.0
"""Sag of the free end that does no harm [mm]; common practice, no source."""


class Overhang(NamedTuple):
    """A board's free end: how long, how far it sags [mm], and whether it tips by itself.

    sag is None where it is so large that the beam formula does not hold.

    >>> Overhang(600.0, 0.4, False).tips
    False
    """

    length: float
    sag: float | None
    tips: bool


@formula(
    "stiffness [GPa]",
    "Heavier wood is stiffer, on the average.",
    gravity="G [1] specific gravity at 12 %",
    group="group [hardwood or softwood] group",
    limits="Gravity 0.25 to 0.9. A single wood strays by up to 30 %, knots and short grain make it less.",
    source="16.5 G^0.7 (hardwood), 20.5 G^0.84 (softwood), Wood Handbook ch. 5, from memory, high.",
    known="memory",
)
def stiffness(gravity: float, group: Literal["hardwood", "softwood"]) -> float:
    """Stiffness of a clear board along the grain at 12 % moisture.

    >>> round(stiffness(0.60, "hardwood"), 1)
    11.5
    """
    within("gravity", gravity, 0.25, 0.9, "")
    factor, exponent = STIFFNESS[group]
    return float(factor * gravity**exponent)


@formula(
    "stiffness, hardwood [GPa]",
    "Heavier wood is stiffer, on the average.",
    gravity="G [1] specific gravity at 12 %",
    steps="E = 16.5 × G^0.7",
    limits="Gravity 0.25 to 0.9. A single wood strays by up to 30 %.",
    source="16.5 G^0.7, Wood Handbook ch. 5, from memory, high.",
    known="memory",
)
def stiffness_of_hardwood(gravity: float) -> float:
    """Stiffness of a clear hardwood board along the grain at 12 % moisture.

    >>> round(stiffness_of_hardwood(0.60), 1)
    11.5
    """
    return stiffness(gravity, "hardwood")


@formula(
    "stiffness, softwood [GPa]",
    "Heavier wood is stiffer, on the average.",
    gravity="G [1] specific gravity at 12 %",
    steps="E = 20.5 × G^0.84",
    limits="Gravity 0.25 to 0.9. A single wood strays by up to 30 %.",
    source="20.5 G^0.84, Wood Handbook ch. 5, from memory, high.",
    known="memory",
)
def stiffness_of_softwood(gravity: float) -> float:
    """Stiffness of a clear softwood board along the grain at 12 % moisture.

    >>> round(stiffness_of_softwood(0.40), 1)
    9.5
    """
    return stiffness(gravity, "softwood")


@formula(
    "sag [mm]",
    "A beam held level at one end, bending under its own weight.",
    length="L [mm] length that hangs over",
    thickness="t [mm] thickness",
    density="ρ [kg/m3] density",
    stiffness="E [GPa] stiffness",
    steps="sag = 1.5 × ρ × 9.80665 × (L / 1000)^4 / (E × 1000000000 × (t / 1000)^2) × 1000",
    limits="Sag small against the length (under a tenth). Board held level at the table.",
    source="w L^4 / (8 E I) with w = rho g b t and I = b t^3 / 12, beam formula, derived: 3 rho g L^4 / (2 E t^2).",
    known="derived",
)
def sag(length: float, thickness: float, density: float, stiffness: float) -> float:
    """Sag of the free end of a board under its own weight, held level at the table.

    >>> round(sag(1500, 20, 672, 11.5), 1)
    10.9
    """
    above_zero("length", length, "mm")
    above_zero("thickness", thickness, "mm")
    above_zero("density", density, "kg/m3")
    above_zero("stiffness", stiffness, "GPa")
    meters, thick = length / 1000, thickness / 1000
    result = 1.5 * density * GRAVITY * meters**4 / (stiffness * 1e9 * thick**2) * 1000
    if result > length / 10:
        raise OutOfRangeError("length", f"must be shorter: {length:.0f} mm would sag too far for the beam formula")
    return result


@formula(
    "overhang [mm]",
    "What of the board is beyond the table.",
    length="l [mm] length of the board",
    table="b [mm] from holding roller to end of table",
    steps="o = max(0, l − b)",
    limits="Length above zero, table zero or more.",
    source="length less table, derived.",
    known="derived",
)
def free_end(length: float, table: float) -> float:
    """How much of a board is beyond the table as it enters or leaves.

    >>> free_end(2400, 600), free_end(500, 600)
    (1800.0, 0.0)
    """
    above_zero("length", length, "mm")
    within("table", table, 0, math.inf, "mm")
    return max(0.0, float(length - table))


@formula(
    "overhang and sag [mm]",
    "What of the board is beyond the table, how far it sags, and whether more than half is off.",
    length="l [mm] length of the board",
    table="b [mm] from holding roller to end of table",
    thickness="t [mm] thickness",
    density="ρ [kg/m3] density",
    stiffness="E [GPa] stiffness",
    limits="Table zero or more. A board tips when more than half of it is off the table: it lifts off the bed at the head unless it is held up.",
    source="sag, and the balance of the board's own weight; derived.",
    known="derived",
)
def overhang(length: float, table: float, thickness: float, density: float, stiffness: float) -> Overhang:
    """How a board hangs over one end of the table as it enters or leaves.

    >>> overhang(2400, 600, 25, 500, 10).tips
    True
    >>> overhang(500, 600, 25, 500, 10)
    Overhang(length=0.0, sag=0.0, tips=False)
    """
    free = free_end(length, table)
    if free == 0:
        return Overhang(0.0, 0.0, False)
    try:
        hangs: float | None = sag(free, thickness, density, stiffness)
    except OutOfRangeError as error:
        if error.field != "length":
            raise
        hangs = None
    return Overhang(free, hangs, free > length / 2)


@formula(
    "support [yes or no]",
    "A stand or a helper where the board tips or sags too far.",
    over="over [mm] overhang and sag",
    allowed="a [mm] sag allowed",
    limits="Allowed zero or more. A helper holds the board level and never pulls.",
    source="a board that tips or sags more than allowed lifts off the bed at the head; common practice, no source.",
    known="common practice",
)
def wants_support(over: Overhang, allowed: float = SAG_ALLOWED) -> bool:
    """Whether a stand or a helper should hold the free end.

    >>> wants_support(Overhang(1200.0, 9.1, False)), wants_support(Overhang(300.0, 0.1, False))
    (True, False)
    """
    within("allowed", allowed, 0, 1000, "mm")
    return over.tips or over.sag is None or over.sag > allowed
