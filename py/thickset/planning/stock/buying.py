"""What to buy for parts: the rough sizes that will do, how much of the thinnest, and what it costs, each as a formula worked."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from thickset.ground.notation.lengths import INCH, Units
from thickset.trade import measure
from thickset.trade.formula import Worked, number, worked
from thickset.trade.sizes import Purchase, sizes_to_buy

SOLD_IN: dict[Units, str] = {"in": "board feet", "mm": "m3"}
"""What wood is sold by."""


@dataclass(frozen=True)
class Need:
    """What is wanted: finished thickness, off by jointing and planing, width and length of a part [mm], parts [count], waste [%], price [money].

    moisture [%] counts for metric sizes only; wood is "hardwood" or "softwood", each sold in sizes of its own.
    """

    units: Units
    thickness: Fraction
    jointing: Fraction = Fraction(0)
    planing: Fraction = Fraction(0)
    moisture: Fraction = Fraction(8)
    width: Fraction | None = None
    length: Fraction | None = None
    many: Fraction = Fraction(1)
    waste: Fraction = Fraction(20)
    rate: Fraction = Fraction(0)
    wood: str = "hardwood"

    @property
    def is_softwood(self) -> bool:
        """Whether its sizes are those of softwood."""
        return self.wood == "softwood"


@dataclass(frozen=True)
class Amount:
    """How much wood: in one part, to buy in all [board feet or m3], its cost [money], a part's surface measure [ft2]."""

    one: Worked
    all_of_it: Worked
    cost: Worked | None
    surface: Worked | None


def fitting(need: Need) -> list[Purchase]:
    """Rough sizes thick enough, the thinnest first [mm].

    >>> fitting(Need("mm", Fraction(20), Fraction("2.4"), Fraction("2.4")))[0].size
    '27'
    """
    return sizes_to_buy(
        float(need.thickness),
        float(need.jointing),
        float(need.planing),
        need.units == "mm",
        float(need.moisture),
        need.is_softwood,
    )


def nominal(size: str) -> float:
    """The thickness [in] that a rough or nominal size is counted by.

    >>> nominal("5/4"), nominal("1-1/4"), nominal("2")
    (1.25, 1.25, 2.0)
    """
    whole, dash, part = size.partition("-")
    return float(Fraction(whole) + Fraction(part)) if dash else float(Fraction(size))


def amount(need: Need, best: Purchase) -> Amount | None:
    """How much of a size the parts take; None where nobody said how large they are [board feet or m3].

    >>> need = Need("mm", Fraction(20), width=Fraction(100), length=Fraction(1000), many=Fraction(10), waste=Fraction(25))
    >>> round(number(amount(need, Purchase("27", 26.2, 1.4)).all_of_it), 4)
    0.036
    """
    if need.width is None or need.length is None:
        return None
    surface = None
    if need.units == "mm":
        one = worked(
            measure.cubic_meters, thickness=float(best.size), width=float(need.width), length=float(need.length)
        )
    else:
        wide, feet = float(need.width / INCH), float(need.length / INCH) / 12
        one = worked(measure.board_feet, thickness=max(nominal(best.size), 1.0), width=wide, length=feet)
        surface = worked(measure.surface_measure, width=wide, length=feet) if feet >= 1 else None
    sold = SOLD_IN[need.units]
    whole = worked(measure.to_buy, needed=number(one) * float(need.many), waste=float(need.waste))
    cost = worked(measure.price, amount=number(whole), rate=float(need.rate)) if need.rate else None
    return Amount(one, _sold_in(sold, whole), _sold_in(sold, cost) if cost else None, surface)


def _sold_in(sold: str, one: Worked) -> Worked:
    """A formula that does for board feet and m3 alike, with the one in hand for its unit."""

    def unit(text: str) -> str:
        return sold if text in ("as needed", "board feet or m3") else text

    formula = replace(one.formula, unit=unit(one.formula.unit)) if one.formula else None
    return Worked(formula, tuple((each._replace(unit=unit(each.unit)), value) for each, value in one.put_in), one.value)
