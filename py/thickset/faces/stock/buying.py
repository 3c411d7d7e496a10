"""Will this board make it, and what to buy: in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from thickset.faces.words import words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.notation.lengths import INCH, Units
from thickset.planning.stock.buying import Amount, Need
from thickset.planning.stock.slab import Slab
from thickset.trade.formula import number
from thickset.trade.sizes import METRIC_CUSTOMARY, SURFACED, Purchase, surfaced_hardwood

SHOWN = 3


TOLD = 0.005
"""Less than this [mm] is not worth telling of a board that is still rough."""


def slab_words(whole: Slab, best: Slab, wanted: Fraction, units: Units) -> Markup:
    """Whether a rough board makes a part of a thickness [mm].

    >>> "Yes: it makes 22 mm" in slab_words(Slab(20, 4, 0, 0, 900, 150), Slab(23, 1, 0, 0, 600, 150), Fraction(22), "mm")
    True
    """

    def say(value: float) -> str:
        return words.length(Fraction(value).limit_denominator(10**6), units)

    spare = best.thickness - float(wanted)
    need = words.length(wanted, units)
    head = (
        f"Yes: it makes {need}, with {say(spare)} to spare."
        if spare >= 0
        else f"No: it is {say(-spare)} too thin for {need}."
    )
    spot = f", {say(best.from_end_1)} from end 1" if best.from_end_1 > 0.05 else ""
    spot += f", {say(best.from_edge)} from the left edge" if best.from_edge > 0.05 else ""
    return el(
        "div",
        el("p", el("b", figure(head))),
        el("p", figure(f"Cut to the part's size first{spot}: the flat slab inside is {say(max(best.thickness, 0))}.")),
        el(
            "p",
            figure(f"Over the whole board it is {say(max(whole.thickness, 0))}; its shape takes {say(whole.lost)}."),
        ),
        el(
            "p",
            "The slab is the most that jointing and planing can leave. ",
            figure(f"Between the spots that were looked at up to {say(best.unsure)} more may be lost. ")
            if best.unsure >= TOLD
            else None,
            "Wood moves when it is cut: keep some to spare.",
            class_="hint",
        ),
        ask_button("slab", "Why these figures?"),
        class_="slab-answer",
    )


def buying(need: Need, sizes: Sequence[Purchase], wood: Amount | None = None) -> Markup:
    """The rough sizes that will do, the thinnest first, and how much to buy [board feet or m3].

    >>> "27 mm" in buying(Need("mm", Fraction(20)), [Purchase("27", 26.2, 1.4)])
    True
    """
    if not sizes:
        return el(
            "p", el("b", "No size that is sold is thick enough. Glue it up, or take less off in jointing and planing.")
        )
    best = sizes[0]
    name = (
        f"{best.size} mm"
        if need.units == "mm"
        else f"nominal {best.size} in"
        if need.is_softwood
        else f"{best.size} rough"
    )
    measures = words.length(Fraction(best.measures).limit_denominator(10**4), need.units)
    left = Fraction(best.spare).limit_denominator(10**4)
    spare = words.length(left, need.units) if left else "nothing"
    others = ", ".join(one.size for one in sizes[1:SHOWN])
    return el(
        "div",
        el("p", el("b", f"Buy {name}."), figure(f" It may measure {measures}, which leaves {spare} to spare.")),
        *(el("p", figure(line)) for line in _amount(need, wood)),
        el("p", f"Thicker: {others}.") if others else None,
        el("p", figure(_surfaced(need))) if need.units == "in" and not need.is_softwood else None,
        ask_button("buy", "Why these figures?"),
        el("p", *_source(need, best), class_="hint"),
        class_="buying",
    )


def _surfaced(need: Need) -> str:
    """The thinnest rough size whose boards, bought surfaced on two sides, are no thinner than the part."""
    name = next((name for name in SURFACED if surfaced_hardwood(name) * INCH >= need.thickness), None)
    if name is None:
        return "Bought surfaced on two sides (S2S), no size is thick enough."
    thick = surfaced_hardwood(name) * INCH
    left = words.length(thick - need.thickness, "in") if thick > need.thickness else "nothing"
    return (
        f"Bought surfaced on two sides (S2S), {name} measures {words.length(thick, 'in')}: "
        f"{left} over the finished thickness, to flatten it and to plane."
    )


def _source(need: Need, best: Purchase) -> Iterator[str]:
    if need.units == "mm":
        which = "softwood by EN 1313-1" if need.is_softwood else "hardwood by EN 1313-2"
        yield f"These are sizes of sawn {which}, at 20 % moisture. They are taken to shrink 0.25 % for each 1 % below that, the rule of EN 1313-1."
        if not need.is_softwood:
            yield " That rule is for softwood. Some hardwoods shrink more: keep some to spare."
    elif need.is_softwood:
        yield "Softwood is sold dressed, by its nominal size (PS 20). This is what it may measure when it is dry."
    else:
        yield "A quarter size may be 1/16 in scant when kiln-dried. Allowances of 3/32 in a face are customary."
    if best.size in METRIC_CUSTOMARY and not need.is_softwood:
        yield " Many yards keep 52 mm beside the standard's 50."


def _amount(need: Need, wood: Amount | None) -> Iterator[str]:
    """How much wood the parts take, and what it costs."""
    if wood is None:
        return
    whole = number(wood.all_of_it)
    said = f"{whole:.4f} m³" if need.units == "mm" else f"{whole:.1f} board feet"
    yield f"For {float(need.many):g} parts: {said}, {float(need.waste):g} % waste included."
    if wood.cost:
        one = "cubic meter" if need.units == "mm" else "board foot"
        yield f"At {float(need.rate):g} a {one}: {number(wood.cost):,.2f}."
    if wood.surface:
        yield f"When it is sold, a board of a part's size counts as surface measure {wood.surface.value}. It is rounded to whole feet, and a broken foot of length is dropped."
