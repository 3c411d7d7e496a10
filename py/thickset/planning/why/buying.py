"""Why the answers about wood before it is a lot are what they are: the slab inside a rough board, what to buy."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from thickset.ground.notation.lengths import INCH, Units, near
from thickset.planning.passes.rules import Rule
from thickset.planning.stock.buying import Amount, Need
from thickset.planning.stock.slab import Slab, Touch
from thickset.planning.why.formulas import of_formula
from thickset.planning.why.passes import ruled
from thickset.planning.why.reason import Quantity, Reason, length
from thickset.trade.formula import worked
from thickset.trade.sizes import KILN_DRIED_UNDER, Purchase, dressed_softwood, metric_size_at

SLAB = Rule(
    "The flat slab lies between two parallel planes in the wood. The upper face is the arc of the bow along, the arc of the cup across "
    "and the twist, which grows evenly from end 1 and one edge. The lower face is the thickness below it. Heights are over the straight line "
    "through the ends or edges. The planes are held by the spots below: their weights add up to 1 above and below and balance at one spot, where no "
    "other planes can be farther apart than the heights weighed so.",
    "a surface model and a linear programme, derived; the tests hold it to an independent solver",
    "derived",
    "Slopes under 1 in 50. Faces as even as arcs between what was measured. Stresses let go when wood is cut are not in it.",
)
LOST = Rule(
    "The thin spot, less the flat slab: what cup, bow, twist and uneven thickness take.",
    "follows from the slab",
    "derived",
    "As good as the slab.",
)
SPARE = Rule(
    "The slab where the part is cut out of the board first, less the part. Below zero the board does not make it.",
    "follows from the slab",
    "derived",
    "As good as the slab. Nothing is counted for the marks that the knives leave.",
)
FIT = Rule(
    "The thinnest size from which the finished thickness is left after jointing and planing.",
    "the table of sizes less the allowances, derived; allowances of 3/32 in a face are customary (furniture textbook, read)",
    "derived",
    "Finished above zero, allowances zero or more, moisture 6 to 30 %.",
)
SCANT = Rule(
    "The rough size, scant by as much as kiln-dried stock can be.",
    "1/16 in under the nominal size, read",
    "read",
    "Kiln-dried hardwood. Measure what you are sold.",
)
IN_ALL = Rule("What one part takes, for every part.", "product, derived", "derived", "Parts of one size.")

FINE = 4
"""Decimals of a millimeter that a height is told to."""


def slab_reasons(whole: Slab, best: Slab, wanted: Fraction, units: Units) -> Iterator[Reason]:
    """Why a rough board makes a part [mm] or not: the slab at the part's place, over the whole board, what is spare.

    >>> from thickset.planning.stock.slab import RoughBoard, best_slab, whole_slab
    >>> board = RoughBoard(2000, 150, ((27.0,),), bow=6.0)
    >>> found = list(slab_reasons(whole_slab(board), best_slab(board, 1000, 150), Fraction(22), "mm"))
    >>> [(one.at, float(one.result.value)) for one in found]
    [('slab.spare', 3.5), ('slab.part', 25.5), ('slab.whole', 21.0), ('slab.lost', 6.0)]
    """
    part = length("h", "flat slab at the part's place", _height(best.thickness))
    need = length("t", "the part", wanted)
    spare = length("s", "to spare", _height(best.thickness) - wanted)
    yield ruled("slab.spare", "What the slab has to spare", spare, SPARE, (part, need), (("s", "h − t"),))
    tried = (
        f"Of {best.tried} places for the part along and across the board this gives the thickest."
        if best.tried > 1
        else ""
    )
    yield _slab("slab.part", "Flat slab, cut to the part's size first", best, units, tried)
    yield _slab("slab.whole", "Flat slab over the whole board", whole, units)
    thin = length("d", "thin spot of the board", _height(whole.thickness + whole.lost))
    flat = length("h", "flat slab over the whole board", _height(whole.thickness))
    lost = length("l", "taken by the shape", _height(whole.thickness + whole.lost) - _height(whole.thickness))
    yield ruled("slab.lost", "What the board's shape takes", lost, LOST, (thin, flat), (("l", "d − h"),))


def _slab(at: str, title: str, slab: Slab, units: Units, also: str = "") -> Reason:
    upper = list(_held("u", "a", "upper", slab.upper, units))
    lower = list(_held("v", "b", "lower", slab.lower, units))
    steps = (("h", f"{_weighed(upper)} − ({_weighed(lower)})"),)
    put_in = tuple(each for pair in (*upper, *lower) for each in pair)
    return ruled(at, title, length("h", "flat slab", _height(slab.thickness)), SLAB, put_in, steps, also=also)


def _held(
    height: str, weight: str, face: str, spots: tuple[Touch, ...], units: Units
) -> Iterator[tuple[Quantity, Quantity]]:
    """Each spot that holds a plane: its height [mm] and its weight [1]."""
    for n, one in enumerate(spots, 1):
        along, across = (near(_height(place), units) for place in (one.from_end_1, one.from_edge))
        yield (
            length(f"{height}{n}", f"{face} face {along} from end 1, {across} from the edge", _height(one.height)),
            Quantity(f"{weight}{n}", "its weight", Fraction(f"{one.weight:.5g}"), "share"),
        )


def _weighed(pairs: list[tuple[Quantity, Quantity]]) -> str:
    return " + ".join(f"{weight.symbol} × {height.symbol}" for height, weight in pairs)


def _height(value: float) -> Fraction:
    return Fraction(f"{value:.{FINE}f}")


def buying_reasons(need: Need, best: Purchase, wood: Amount | None) -> Iterator[Reason]:
    """Why this size, and why so much of it [mm, board feet or m3, money].

    >>> from thickset.planning.stock.buying import amount, fitting
    >>> need = Need("mm", Fraction(20), Fraction("2.4"), Fraction("2.4"), width=Fraction(100), length=Fraction(1000))
    >>> best = fitting(need)[0]
    >>> [one.at for one in buying_reasons(need, best, amount(need, best))]
    ['buy.spare', 'buy.measures', 'buy.one_part', 'buy.needed', 'buy.amount']
    """
    measures = _exact(best.measures)
    spare = length("s", "left to spare", measures - need.thickness - need.jointing - need.planing)
    put_in = (
        length("m", f"what {best.size} may measure", measures),
        length("t", "finished thickness", need.thickness),
        length("j", "off by jointing", need.jointing),
        length("p", "off by planing", need.planing),
    )
    yield ruled("buy.spare", f"Left to spare of {best.size}", spare, FIT, put_in, (("s", "m − t − j − p"),))
    yield _measures(need, best)
    if wood is None:
        return
    one, needed = (
        of_formula("buy.one_part", "In one part", wood.one),
        of_formula("buy.amount", "To buy", wood.all_of_it),
    )
    yield one
    many = Quantity("n", "how many", need.many, "given")
    total = needed.put_in[0]._replace(symbol="N")
    steps = (("N", f"n × {one.result.symbol}"),)
    yield ruled("buy.needed", "In all the parts", total, IN_ALL, (many, one.result), steps)
    yield needed
    if wood.cost:
        yield of_formula("buy.cost", "Cost of the wood", wood.cost)
    if wood.surface:
        yield of_formula("buy.surface_measure", "Surface measure of a part's size", wood.surface)


def _measures(need: Need, best: Purchase) -> Reason:
    title = f"What {best.size} may measure"
    if need.units == "mm":
        return of_formula(
            "buy.measures", title, worked(metric_size_at, size=float(best.size), moisture=float(need.moisture))
        )
    if need.is_softwood:
        return of_formula("buy.measures", title, worked(dressed_softwood, nominal=best.size, green=False))
    put_in = (
        length("r", "rough size", Fraction(best.size) * INCH),
        length("k", "scant by as much as", KILN_DRIED_UNDER * INCH),
    )
    return ruled(
        "buy.measures", title, length("m", "may measure", _exact(best.measures)), SCANT, put_in, (("m", "r − k"),)
    )


def _exact(value: float) -> Fraction:
    return Fraction(value).limit_denominator(10**5)
