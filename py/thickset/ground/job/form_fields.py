"""Every field of the small forms that belong to no job, a line each: will this board make it, what to buy, a scrap for the scale.

From this table come the reading of a form (`doors/forms.py`) and its fields on the page. What is left out stands for common
practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from thickset.ground.job.fields import ACROSS, ALONG, THICKNESS, Ask, Field, Kind
from thickset.ground.notation import places
from thickset.ground.notation.places import Place


@dataclass(frozen=True)
class SmallForm:
    """A form: what its entries are called in a question, its fields in their order, what is said above them; `kept` from one visit to the next."""

    key: str
    fields: tuple[Field, ...]
    hints: tuple[str, ...] = ()
    kept: bool = True


def _field(key: str, label: str, kind: Kind, inch: str | None, metric: str | None, **more: Any) -> Field:
    """A field; `group` is the title that it stands under, `example` stands in it while it is empty, else what it then stands for."""
    usual = inch if inch == metric else ""
    ask = Ask(more.pop("group", ""), example=more.pop("example", usual or ""))
    return Field(key, label, kind, inch, metric, "", (ask,), **more)


def spot_key(place: Place) -> str:
    """What a form calls a thickness at a spot.

    >>> spot_key(Place("end 1", "left")), spot_key(Place("middle", "center"))
    ('end_1_left', 'middle')
    """
    row = place.along.replace(" ", "_")
    return row if place.across == "center" else f"{row}_{place.across}"


def _spot(place: Place) -> Field:
    """A thickness at a spot; at an edge that of the center when left out."""
    example = "" if place.across == "center" else "same"
    return _field(spot_key(place), place.name, "length", None, None, bare=THICKNESS, group="Thickness", example=example)


# fmt: off
# A field is a line.
_SLAB = (
    _field("length", "Length", "length", None, None, required=True, bare=ALONG),
    _field("width", "Width", "length", None, None, required=True, bare=ACROSS),
    *(_spot(Place(along, across)) for along in places.ALONG for across in places.ACROSS),
    _field("cup", "Cup", "length", "0", "0", zero=True, below=True),
    _field("bow", "Bow", "length", "0", "0", zero=True, below=True),
    _field("twist", "Twist", "length", "0", "0", zero=True, below=True),
    _field("part_thickness", "Part, thickness", "length", None, None, required=True, bare=THICKNESS),
    _field("part_length", "Part, length", "length", None, None, bare=ALONG, example="whole"),
    _field("part_width", "Part, width", "length", None, None, bare=ACROSS, example="whole"),
)
_BUY = (
    _field("thickness", "Finished thickness", "length", None, None, required=True, bare=THICKNESS),
    _field("jointing", "Off by jointing", "length", "3/32", "2.4", zero=True),
    _field("planing", "Off by planing", "length", "3/32", "2.4", zero=True),
    _field("width", "Width of a part", "length", None, None, bare=ACROSS),
    _field("length", "Length of a part", "length", None, None, bare=ALONG),
    _field("count", "Parts", "whole", "1", "1"),
    Field("moisture", "Moisture, per cent", "percent", "8", "8", "counts where units are mm; the page does not ask for it"),
    _field("waste", "Waste, per cent", "percent", "20", "20"),
    _field("rate", "Price", "price", "0", "0", example=""),
    _field("wood", "Wood", "choice", "hardwood", "hardwood", choices=(("", "hardwood"), ("hardwood", "hardwood"), ("softwood", "softwood"))),
)
_SCRAP = (
    _field("scale", "Scale set to", "length", None, None, required=True),
    _field("measured", "Scrap measured", "length", None, None, required=True),
)
# fmt: on

FORMS = {
    "slab": SmallForm(
        "board",
        _SLAB,
        (
            "Left and right: as you stand at end 1 and look along the board. Thickness in the center, and at the edges where it differs.",
            "Cup: lay a straightedge across the upper face and measure the gap at its worst. Write a minus where that face is hollow.",
            "Bow: the same along the board.",
            "Twist: lay winding sticks across both ends of the upper face. Measure how much higher the right end of the far stick stands. Write a minus where it is lower.",
        ),
    ),
    "buy": SmallForm(
        "need",
        _BUY,
        (
            f"Left empty: {_BUY[1].inch} in or {_BUY[1].metric} mm comes off by jointing, the same by planing.",
            "The price is for a board foot, in mm for a cubic meter.",
        ),
    ),
    "scrap": SmallForm(
        "scrap",
        _SCRAP,
        (
            "Plane a scrap on both faces, the last pass at a mark of the scale. Measure it with the caliper.",
            "Two or three scraps at other marks are better than one.",
        ),
        kept=False,
    ),
}
