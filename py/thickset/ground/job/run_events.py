"""The run of a job: what was done, measured and seen at the machine, in order."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, get_args

from thickset.ground.notation.places import Place

Did = Literal["test", "feed", "check", "measure", "remove", "see", "retarget", "snipe"]
Sight = Literal["tear-out", "ridges", "roller marks", "dents", "bog", "stop"]

SIGHTS: tuple[Sight, ...] = get_args(Sight)
"""What a person can see come between, as documents write it; what each changes, says and is called is planning's table of surprises."""


@dataclass(frozen=True)
class Event:
    """One thing that happened. Which fields it has depends on what was done; lengths in mm.

    test: a test piece came out at `thickness` with the scale at `scale`, where `setting` was wanted. The one that tells
    of an unknown scale may have been one of the `boards` [one name].
    feed: `boards` went through (all that the setting calls for, when empty), with the scale at `scale`.
    check: a board just fed measures `thickness`. With a `setting` it is of the pass in hand, if that is its setting; else of the pass before.
    measure: `boards` [one name] has these `readings` now, taken at `places` as far as that was said.
    remove: `boards` [one name] left the lot, and `why`.
    see: a surprise, `what`, with the board it was seen on where it matters.
    retarget: `thickness` is the target from now on.
    snipe: it reaches `lead` in from the end that led, `trail` from the other.
    Any of them may say how long `after` the one before it came [s].
    """

    did: Did
    setting: Fraction = Fraction(0)
    scale: Fraction = Fraction(0)
    thickness: Fraction = Fraction(0)
    boards: tuple[str, ...] = ()
    readings: tuple[Fraction, ...] = ()
    places: tuple[Place | None, ...] = ()
    what: Sight | None = None
    why: str = ""
    lead: Fraction = Fraction(0)
    trail: Fraction = Fraction(0)
    after: Fraction | None = None


FIELDS_OF: dict[Did, tuple[str, ...]] = {
    "test": ("setting", "scale", "thickness"),
    "feed": ("setting", "scale"),
    "check": ("thickness",),
    "measure": ("board", "readings"),
    "remove": ("board",),
    "see": ("what",),
    "retarget": ("thickness",),
    "snipe": ("lead", "trail"),
}
"""What each event needs, by the keys of the document."""

OPTIONAL_OF: dict[Did, tuple[str, ...]] = {
    "test": ("board",),
    "feed": ("boards",),
    "check": ("setting",),
    "measure": ("places",),
    "remove": ("why",),
    "see": ("board",),
}
"""What each event may have besides; any may say when it was (`at`), which nothing is computed from, and how long `after` the
one before it came."""
