"""The woods: shrinkage, gravity and how well they plane, with how each figure is known.

The table stands in species.csv, woods of Europe after those of the Wood Handbook. Figures of one wood differ from tree to tree by far more
than their last digit. What else the trade calls it is lumber-yard usage; common practice, no source.
"""

import csv
import re
from dataclasses import dataclass
from fractions import Fraction
from importlib import resources

from thickset.ground.notation.lengths import shown

PLANING_SOURCE = (
    "pieces free of planing defects in one laboratory set-up, USDA Technical Bulletin "
    "1267 (Davis 1962) as reprinted in the Wood Handbook; from memory"
)


USUAL_SATURATION = 30.0
"""Moisture at which most woods begin to shrink [%]; Wood Handbook, from memory."""


@dataclass(frozen=True)
class Species:
    """One wood: changes [1 per % moisture], shrinkage [%], gravities [1], hardness [lbf].

    Each `*_known` says how the figures beside it are known; None means no figure. `change_of` says of what the changes are
    where not of this wood alone; `change_disputed`: one is more than a tenth off what the shrinkage makes of it, so the
    shrinkage is used. `saturation` is the moisture at which it begins to shrink [%]; Wood Handbook, from memory.

    >>> require("Oak, white").gravity_12
    Fraction(17, 25)
    """

    name: str
    group: str
    radial_change: float | None
    tangential_change: float | None
    change_known: str
    radial_shrinkage: float | None
    tangential_shrinkage: float | None
    shrinkage_known: str
    gravity_green: Fraction | None
    gravity_12: Fraction
    side_hardness: float | None
    gravity_known: str
    defect_free: int | None
    planing_known: str
    also_called: tuple[str, ...] = ()
    source: str = "Wood Handbook"
    change_of: str = ""
    change_disputed: bool = False
    saturation: float = USUAL_SATURATION


def gravity_12_from_green(gravity_green: Fraction) -> Fraction:
    """Specific gravity at 12 % moisture from that of green wood [1].

    Valid: 0.1 to 1.0, both on oven-dry weight. Source: G_x = G / (1 - 0.265 a G) with
    a = (30 - 12) / 30, Wood Handbook chapter 4; from memory, high.

    >>> round(float(gravity_12_from_green(Fraction("0.45"))), 3)
    0.485
    """
    shrinking = Fraction("0.265") * Fraction(30 - 12, 30)
    return gravity_green / (1 - shrinking * gravity_green)


def all_species() -> tuple[Species, ...]:
    """Every wood of the table, in its order.

    >>> all_species()[0].name
    'Alder, red'
    """
    return _ALL


def find(name: str) -> Species | None:
    """The wood of exactly this name, whatever the case and spaces; None if unknown.

    >>> find(" oak,  WHITE ").name
    'Oak, white'
    >>> find("oak") is None
    True
    """
    return _BY_NAME.get(_folded(name))


LONGEST_TYPED = 60
"""Characters of what may still be part of a wood's name."""


def require(name: str) -> Species:
    """The wood of exactly this name, or an error that says what to do.

    >>> require("red oka")
    Traceback (most recent call last):
    ValueError: no wood is called 'red oka'. Choose one of the list, or enter its density.
    """
    found = find(name)
    if found is None:
        near = search(name)[:3] if len(name) <= LONGEST_TYPED and _words(name) else []
        cure = (
            "Did you mean " + " or ".join(f"'{wood.name}'" for wood in near) + "?"
            if near
            else "Choose one of the list, or enter its density."
        )
        raise ValueError(f"no wood is called {shown(name)}. {cure}")
    return found


def search(text: str) -> list[Species]:
    """Woods whose name or common name holds every word typed, best first.

    Best is the whole of a name, then a name that begins so, then a word that begins so.

    >>> [wood.name for wood in search("hard map")]
    ['Maple, sugar (hard maple)']
    >>> search("poplar")[0].name
    'Yellow-poplar'
    >>> [wood.name for wood in search("white oak")]
    ['Oak, white']
    """
    typed = _words(text)
    if not typed:
        return list(_ALL)
    scored = []
    for place, wood in enumerate(_ALL):
        names = (wood.name, *wood.also_called)
        score = min(_score(typed, _words(name)) for name in names)
        if score < _NO_MATCH:
            scored.append((score, place, wood))
    return [wood for _, _, wood in sorted(scored, key=lambda item: item[:2])]


def by_density(density: Fraction | float, moisture: Fraction | float = 12) -> Species:
    """A wood that is not listed, entered by its density [kg/m3] at a moisture [%].

    Valid: density 100 to 1400, moisture 0 to 30. Source: rho = 1000 G_x (1 + x/100),
    Wood Handbook Eq 4-14, transcribed. Below 30 % the gravity itself moves a little with
    moisture; that is left out (under 4 % from 6 to 20 %).

    >>> by_density(672).gravity_12
    Fraction(3, 5)
    >>> by_density(672).name
    'wood of 672 kg/m3'
    """
    if not 100 <= density <= 1400:
        raise ValueError(f"{float(density):.6g} kg/m3 is outside 100 to 1400 kg/m3. Check the number and its unit.")
    if not 0 <= moisture <= 30:
        raise ValueError("moisture must be 0 to 30 % where density is entered.")
    gravity = Fraction(density) / (10 * (100 + Fraction(moisture)))
    return Species(
        name=f"wood of {float(density):.6g} kg/m3",
        group="by density",
        radial_change=None,
        tangential_change=None,
        change_known="",
        radial_shrinkage=None,
        tangential_shrinkage=None,
        shrinkage_known="",
        gravity_green=None,
        gravity_12=gravity,
        side_hardness=None,
        gravity_known="entered",
        defect_free=None,
        planing_known="",
    )


@dataclass(frozen=True)
class PlaningRank:
    """Place of a wood among those tried: 1 planes best; `share` of pieces clean [%].

    `third` is for advice: 1 planes well, 3 chips easily (lighter cuts, more marks per inch).

    >>> rank = planing_rank(require("Oak, northern red"))
    >>> rank.place, rank.third
    (1, 1)
    """

    place: int
    of: int
    share: int
    known: str
    source: str = PLANING_SOURCE

    @property
    def third(self) -> int:
        """Which third of the woods tried it stands in, 1 to 3."""
        return -(-3 * self.place // self.of)


def planing_rank(wood: Species) -> PlaningRank | None:
    """How well a wood planes as a rank [place], None where it was not tried.

    Valid: a rank of difficulty, no more; one laboratory set-up, woods grouped. Equal
    shares share a place. Source: Davis 1962, from memory.

    >>> rank = planing_rank(require("Maple, sugar (hard maple)"))
    >>> rank.place, rank.of, rank.share
    (16, 25, 54)
    """
    if wood.defect_free is None:
        return None
    shares = {_kind(w.name): w.defect_free for w in _ALL if w.defect_free is not None}
    place = 1 + sum(share > wood.defect_free for share in shares.values())
    return PlaningRank(place, len(shares), wood.defect_free, wood.planing_known)


def _kind(name: str) -> str:
    """What the laboratory tried as one: the hickories, and the soft maples."""
    return name[name.index("(") :] if "(" in name else name.partition(":")[0]


_NO_MATCH = 9


def _score(typed: list[str], name: list[str]) -> int:
    if sorted(typed) == sorted(name):
        return 0
    if " ".join(name).startswith(" ".join(typed)):
        return 1
    if all(any(word.startswith(part) for word in name) for part in typed):
        return 2
    if all(any(part in word for word in name) for part in typed):
        return 3
    return _NO_MATCH


def _folded(name: str) -> str:
    return " ".join(name.split()).casefold()


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+", text.casefold())


def _number(text: str) -> float | None:
    return float(text) if text else None


def _read(row: dict[str, str]) -> Species:
    green = Fraction(row["specific_gravity_green"])
    dry = row["specific_gravity_12pct"]
    known = row["gravity_known"]
    change_known, _, disputed = row["change_known"].partition("; ")
    return Species(
        name=row["species"],
        group=row["group"],
        radial_change=_number(row["radial_change_per_pct"]),
        tangential_change=_number(row["tangential_change_per_pct"]),
        change_known=change_known,
        radial_shrinkage=_number(row["radial_shrinkage_pct"]),
        tangential_shrinkage=_number(row["tangential_shrinkage_pct"]),
        shrinkage_known=row["shrinkage_known"],
        gravity_green=green,
        gravity_12=Fraction(dry) if dry else gravity_12_from_green(green),
        side_hardness=_number(row["side_hardness_12pct_lbf"]),
        gravity_known=known if dry else f"{known} green, derived at 12 %",
        defect_free=int(row["planing_defect_free_pct"] or 0) or None,
        planing_known=row["planing_known"],
        also_called=tuple(filter(None, row["also_called"].split("; "))),
        source=row["source"] or "Wood Handbook",
        change_of=row["change_of"],
        change_disputed=disputed == "disputed",
        saturation=_number(row["saturation_pct"]) or USUAL_SATURATION,
    )


def _load() -> tuple[Species, ...]:
    table = resources.files("thickset.ground.woods").joinpath("species.csv")
    lines = table.read_text(encoding="utf-8").splitlines()
    return tuple(_read(row) for row in csv.DictReader(lines))


_ALL = _load()
_BY_NAME = {_folded(wood.name): wood for wood in _ALL}
