"""How thickness changes with moisture, and the thickness to plane to today for a later day.

Boards are rarely truly flatsawn or quartersawn: the change of width is then overestimated
and the change of thickness underestimated (Wood Handbook chapter 13, read).
"""

from typing import Literal, NamedTuple

from thickset.trade.formula import formula
from thickset.trade.limits import OutOfRangeError, above_zero, within
from thickset.trade.moisture import FIBER_SATURATION

Grain = Literal["flatsawn", "quartersawn"]

COEFFICIENT_RANGE = (6.0, 14.0)
"""Moisture for which change coefficients hold [%]; Wood Handbook Eq 13-2, read."""


Equation = Literal["13-2", "13-3", "13-2 and 13-3"]


class Movement(NamedTuple):
    """A thickness now and later: today, change and off_if_ignored [mm]; equation used.

    >>> Movement(20.1, -0.1, -0.1, "13-2").change
    -0.1
    """

    today: float
    change: float
    off_if_ignored: float
    equation: Equation


@formula(
    "change coefficient [per % moisture]",
    "Shrinkage spread over the moisture from green to dry, referred to the size at 10 %.",
    shrinkage="S [%] shrinkage from green to oven-dry",
    saturation="F [%] moisture at which shrinking begins",
    steps="s = S / 100; C = (s / F) / (1 − s × (F − 10) / F)",
    limits="Shrinkage above 0 and up to 20 %. Saturation 20 to 30 %.",
    source="C = (S/100/30) / (1 - (S/100)(20/30)), derived; gives the read hardwood rows.",
    known="derived",
)
def coefficient_from_shrinkage(shrinkage: float, saturation: float = FIBER_SATURATION) -> float:
    """Dimensional change coefficient, referred to the size at 10 %; saturation is 22 for redwood and cedars, else 30.

    >>> round(coefficient_from_shrinkage(3.3), 5)
    0.00112
    """
    _check_shrinkage(shrinkage)
    within("saturation", saturation, 20, 30, "%")
    share = shrinkage / 100
    return share / saturation / (1 - share * (saturation - 10) / saturation)


@formula(
    "change of size [mm]",
    "Size times coefficient times change of moisture.",
    size="D [mm] size now",
    coefficient="C [per %] change coefficient",
    now="M1 [%] moisture now",
    later="M2 [%] moisture later",
    steps="dD = D × C × (M2 − M1)",
    limits="Moisture 6 to 14 %.",
    source="dD = D C (M_F - M_I), Wood Handbook Eq 13-2, read.",
    known="read",
)
def change_by_coefficient(size: float, coefficient: float, now: float, later: float) -> float:
    """Change of a size with moisture by the change coefficient.

    >>> round(change_by_coefficient(232, 0.00245, 8, 11), 1)
    1.7
    """
    above_zero("size", size, "mm")
    within("coefficient", coefficient, 0, 0.01, "per % moisture")
    within("moisture now", now, *COEFFICIENT_RANGE, "%")
    within("moisture later", later, *COEFFICIENT_RANGE, "%")
    return size * coefficient * (later - now)


@formula(
    "change of size [mm]",
    "Size times change of moisture, by the shrinkage from green.",
    size="D [mm] size now",
    shrinkage="S [%] shrinkage from green to oven-dry",
    now="M1 [%] moisture now",
    later="M2 [%] moisture later",
    saturation="F [%] moisture at which shrinking begins",
    steps="dD = D × (M2 − M1) / (100 × F / S − F + M1)",
    limits="Moisture 0 to 30 %, where wood begins to shrink, or to the saturation entered.",
    source="dD = D (M_F - M_I) / (3000/S - 30 + M_I), Wood Handbook Eq 13-3; form from memory (high), limits read. A saturation other than 30 stands in its place, derived.",
    known="memory",
)
def change_by_shrinkage(
    size: float, shrinkage: float, now: float, later: float, saturation: float = FIBER_SATURATION
) -> float:
    """Change of a size with moisture by the shrinkage from green.

    >>> round(change_by_shrinkage(232, 7.0, 8, 11), 4)
    1.7119
    >>> round(change_by_shrinkage(20, 2.6, 15, 8, saturation=22), 4)
    -0.1668
    """
    above_zero("size", size, "mm")
    _check_drying(shrinkage, now, later, saturation)
    return size * (later - now) / (100 * saturation / shrinkage - saturation + now)


@formula(
    "thickness to plane to today [mm]",
    "The thickness that becomes the wanted one when the moisture has changed.",
    wanted="T [mm] thickness in service",
    coefficient="C [per %] change coefficient of the thickness",
    now="M1 [%] moisture now",
    in_service="M2 [%] moisture in service",
    steps="today = T / (1 + C × (M2 − M1))",
    limits="Moisture 6 to 14 %.",
    source="Wood Handbook Eq 13-2 (read) solved for the size now, derived.",
    known="derived",
)
def today_by_coefficient(wanted: float, coefficient: float, now: float, in_service: float) -> float:
    """Thickness today that becomes the wanted one, by the change coefficient.

    >>> round(today_by_coefficient(20.0, 0.00169, 12, 7), 3)
    20.17
    """
    above_zero("wanted", wanted, "mm")
    return wanted / (1 + change_by_coefficient(1.0, coefficient, now, in_service))


@formula(
    "thickness to plane to today [mm]",
    "The thickness that becomes the wanted one when the moisture has changed.",
    wanted="T [mm] thickness in service",
    shrinkage="S [%] shrinkage of the thickness from green to oven-dry",
    now="M1 [%] moisture now",
    in_service="M2 [%] moisture in service",
    saturation="F [%] moisture at which shrinking begins",
    steps="today = T / (1 + (M2 − M1) / (100 × F / S − F + M1))",
    limits="Moisture 0 to 30 %, or to the saturation entered.",
    source="Wood Handbook Eq 13-3 (form from memory, high) solved for the size now, derived.",
    known="memory",
)
def today_by_shrinkage(
    wanted: float, shrinkage: float, now: float, in_service: float, saturation: float = FIBER_SATURATION
) -> float:
    """Thickness today that becomes the wanted one, by the shrinkage from green.

    >>> round(today_by_shrinkage(20.0, 4.9, 18, 7), 3)
    20.373
    """
    above_zero("wanted", wanted, "mm")
    return wanted / (1 + change_by_shrinkage(1.0, shrinkage, now, in_service, saturation))


_JOINED = {
    "limits": "Moisture 0 to 30 %, or to the saturation entered.",
    "source": "Wood Handbook Eq 13-2 (read) and 13-3 (form from memory, high) joined where Eq 13-2 ends, derived.",
    "known": "memory",
}
_STRETCHES = (
    "K = 100 × F / S − F; a = min(max(M1, 6), 14); b = min(max(M2, 6), 14); "
    "r = (K + a) / (K + M1) × (1 + C × (b − a)) × (K + M2) / (K + b); "
)


@formula(
    "thickness to plane to today [mm]",
    "Between 6 and 14 % by the coefficient, beyond by the shrinkage, one stretch after the other, so that nothing jumps at the ends.",
    wanted="T [mm] thickness in service",
    shrinkage="S [%] shrinkage of the thickness from green to oven-dry",
    coefficient="C [per %] change coefficient of the thickness",
    now="M1 [%] moisture now",
    in_service="M2 [%] moisture in service",
    saturation="F [%] moisture at which shrinking begins",
    steps=_STRETCHES + "today = T / r",
    **_JOINED,
)
def today_in_stretches(
    wanted: float,
    shrinkage: float,
    coefficient: float,
    now: float,
    in_service: float,
    saturation: float = FIBER_SATURATION,
) -> float:
    """Thickness today that becomes the wanted one, where one moisture lies in 6 to 14 % and the other does not.

    >>> round(today_in_stretches(20.0, 4.9, 0.00169, 12, 6), 4), round(today_in_stretches(20.0, 4.9, 0.00169, 12, 5), 4)
    (20.2049, 20.2393)
    """
    above_zero("wanted", wanted, "mm")
    return wanted / _ratio(shrinkage, coefficient, now, in_service, saturation)


@formula(
    "change of size [mm]",
    "Between 6 and 14 % by the coefficient, beyond by the shrinkage, one stretch after the other.",
    size="D [mm] size now",
    shrinkage="S [%] shrinkage from green to oven-dry",
    coefficient="C [per %] change coefficient",
    now="M1 [%] moisture now",
    later="M2 [%] moisture later",
    saturation="F [%] moisture at which shrinking begins",
    steps=_STRETCHES + "dD = D × (r − 1)",
    **_JOINED,
)
def change_in_stretches(
    size: float,
    shrinkage: float,
    coefficient: float,
    now: float,
    later: float,
    saturation: float = FIBER_SATURATION,
) -> float:
    """Change of a size with moisture, where one moisture lies in 6 to 14 % and the other does not.

    >>> round(change_in_stretches(20.0, 4.9, 0.00169, 12, 5), 4)
    -0.2365
    """
    above_zero("size", size, "mm")
    return size * (_ratio(shrinkage, coefficient, now, later, saturation) - 1)


def _ratio(shrinkage: float, coefficient: float, now: float, later: float, saturation: float) -> float:
    """Size later over size now [1]: to the nearest end of Eq 13-2, through its range, and on from its other end."""
    low, high = COEFFICIENT_RANGE
    first, last = min(max(now, low), high), min(max(later, low), high)
    return (
        (1 + change_by_shrinkage(1.0, shrinkage, now, first, saturation))
        * (1 + change_by_coefficient(1.0, coefficient, first, last))
        * (1 + change_by_shrinkage(1.0, shrinkage, last, later, saturation))
    )


@formula(
    "which way thickness moves [as given]",
    "A flatsawn board's thickness moves radially, a quartersawn board's tangentially.",
    grain="grain [flatsawn or quartersawn] grain",
    radial="r [%] radial figure",
    tangential="t [%] tangential figure",
    limits="Truly flatsawn or quartersawn boards.",
    source="a flatsawn board's thickness moves radially, a quartersawn board's tangentially; Wood Handbook chapter 13, read.",
    known="read",
)
def thickness_way(grain: Grain, radial: float, tangential: float) -> float:
    """Of a pair of figures, the one for a board's thickness.

    >>> thickness_way("flatsawn", 0.00112, 0.00245)
    0.00112
    """
    if grain == "flatsawn":
        return radial
    if grain == "quartersawn":
        return tangential
    raise OutOfRangeError("grain", "must be flatsawn or quartersawn")


@formula(
    "thickness to plane to today [mm]",
    "The thickness that becomes the wanted one when the moisture has changed.",
    wanted="T [mm] thickness in service",
    now="M1 [%] moisture now",
    in_service="M2 [%] moisture in service",
    shrinkage="S [%] shrinkage of the thickness",
    coefficient="C [per %] change coefficient of the thickness",
    saturation="F [%] moisture at which shrinking begins",
    limits="Moisture 0 to 30 %. Eq 13-2 is used between 6 and 14 % where the wood has a coefficient, Eq 13-3 beyond and elsewhere.",
    source="Wood Handbook Eq 13-2 and 13-3 solved for the size now, derived.",
    known="derived",
)
def thickness_today(
    wanted: float,
    now: float,
    in_service: float,
    shrinkage: float,
    coefficient: float | None = None,
    saturation: float = FIBER_SATURATION,
) -> Movement:
    """Thickness to plane to today so that the board has the wanted one in service.

    >>> plan = thickness_today(20.0, 12, 7, 4.9, 0.00169)
    >>> round(plan.today, 3), round(plan.off_if_ignored, 3), plan.equation
    (20.17, -0.169, '13-2')
    """
    above_zero("wanted", wanted, "mm")
    equation = _equation(now, in_service, coefficient)
    if coefficient is None or equation == "13-3":
        off = change_by_shrinkage(wanted, shrinkage, now, in_service, saturation)
        today = today_by_shrinkage(wanted, shrinkage, now, in_service, saturation)
    elif equation == "13-2":
        off = change_by_coefficient(wanted, coefficient, now, in_service)
        today = today_by_coefficient(wanted, coefficient, now, in_service)
    else:
        off = change_in_stretches(wanted, shrinkage, coefficient, now, in_service, saturation)
        today = today_in_stretches(wanted, shrinkage, coefficient, now, in_service, saturation)
    return Movement(today, wanted - today, off, equation)


def _equation(now: float, later: float, coefficient: float | None) -> Equation:
    """Which equation tells of a change of moisture [%]: Eq 13-2 holds near room moisture and needs a coefficient.

    >>> _equation(12, 7, 0.00169), _equation(12, 5, 0.00169), _equation(20, 15, 0.00169), _equation(12, 7, None)
    ('13-2', '13-2 and 13-3', '13-3', '13-3')
    """
    low, high = COEFFICIENT_RANGE
    if coefficient is None or max(now, later) <= low or min(now, later) >= high:
        return "13-3"
    return "13-2" if low <= min(now, later) and max(now, later) <= high else "13-2 and 13-3"


@formula(
    "thickness to stop at [mm]",
    "The target and the allowance above it.",
    target="T [mm] target",
    allowance="a [mm] left for the second stage",
    steps="stop = T + a",
    limits="Target above zero, allowance zero or more. Enough for a finish cut on each side.",
    source="two stages of one job; common practice, no source.",
    known="common practice",
)
def stop_proud(target: float, allowance: float) -> float:
    """Thickness at which to stop, let the boards rest, and measure again.

    >>> stop_proud(20.0, 1.5)
    21.5
    """
    above_zero("target", target, "mm")
    within("allowance", allowance, 0, target, "mm")
    return target + allowance


@formula(
    "shrinkage from green [%]",
    "A straight line through many softwoods.",
    moisture="M [%] moisture dried to",
    way="way [thickness or width] way of the board",
    limits="8 to 19 % moisture. Commercial softwoods as a group.",
    source="S = 5.062 - 0.181 M (thickness), 6.031 - 0.215 M (width), FPL-RP-489 (Green 1989), read.",
    known="read",
)
def softwood_shrinkage_from_green(moisture: float, way: Literal["thickness", "width"]) -> float:
    """Shrinkage of softwood dimension lumber from green.

    >>> round(softwood_shrinkage_from_green(15, "thickness"), 3)
    2.347
    """
    within("moisture", moisture, 8, 19, "%")
    return 5.062 - 0.181 * moisture if way == "thickness" else 6.031 - 0.215 * moisture


def _check_drying(shrinkage: float, now: float, later: float, saturation: float) -> None:
    _check_shrinkage(shrinkage)
    within("saturation", saturation, 20, 30, "%")
    for name, moisture in (("moisture now", now), ("moisture later", later)):
        within(name, moisture, 0, saturation, "%", f"wood above {saturation:g} % does not move")


def _check_shrinkage(shrinkage: float) -> None:
    above_zero("shrinkage", shrinkage, "%")
    within("shrinkage", shrinkage, 0, 20, "%", "enter per cent from green to oven-dry")
