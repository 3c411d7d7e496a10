"""The sheet of checks: every published case with its source, how it is known, its tolerance and what came out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Any

from thickset.faces.words.markup import Markup, el

HEADINGS = {
    "air": "Air",
    "beam": "Bending",
    "chips": "Chips and shavings",
    "geometry": "Waves and chips, to 30 digits",
    "lengths": "Lengths",
    "load": "Load",
    "marks": "Marks per inch and waves",
    "measure": "Measure of lumber",
    "moisture": "Moisture and the room",
    "movement": "Movement",
    "noise": "Noise",
    "planing": "How well woods plane",
    "sizes": "Sizes of lumber",
    "species": "The table of woods",
    "statistics": "Chance, against a general library",
    "units": "Units, against a general library",
}

DIGITS = 6
"""Digits that are shown of a number; the check itself has all of them."""

Row = Mapping[str, Any]


def checks(rows: Sequence[Row]) -> Markup:
    """The checks by their groups, each group folded; the outcome first.

    >>> row = {"id": "air/x", "what": "a", "source": "b", "known": "read", "expected": 1, "got": 1.0, "tolerance": 0.5}
    >>> made = checks([{**row, "relative": False, "why": "c", "pass": True}])
    >>> "All 1 checks hold." in made, "expected 1, here 1, within 0.5" in made
    (True, True)
    """
    groups = [(key, list(found)) for key, found in groupby(rows, key=lambda row: str(row["id"]).partition("/")[0])]
    return el("div", el("p", outcome(rows), class_="outcome-line"), *(_group(key, found) for key, found in groups))


def outcome(rows: Sequence[Row]) -> str:
    """How many checks hold.

    >>> outcome([{"pass": True}, {"pass": False}])
    '1 of 2 checks does not hold.'
    """
    failed = sum(not row["pass"] for row in rows)
    if not failed:
        return f"All {len(rows):,} checks hold."
    return f"{failed:,} of {len(rows):,} checks {'does' if failed == 1 else 'do'} not hold."


def _group(key: str, rows: Sequence[Row]) -> Markup:
    failed = sum(not row["pass"] for row in rows)
    heading = HEADINGS.get(key, key.capitalize())
    told = f"{len(rows)} hold" if not failed else f"{failed} of {len(rows)} fail"
    head = el("summary", el("span", heading), " ", el("b", told))
    return el("details", head, el("ul", *(_row(row) for row in rows)), open=bool(failed), class_="group-of-checks")


def _row(row: Row) -> Markup:
    kind = " of it" if row["relative"] else ""
    exactly = row["tolerance"] == 0 or isinstance(row["expected"], str)
    within = "exactly" if exactly else f"within {_said(row['tolerance'])}{kind}"
    return el(
        "li",
        el("p", row["what"], class_="what"),
        el("p", f"expected {_said(row['expected'])}, here {_said(row['got'])}, {within}"),
        el("p", f"Tolerance: {row['why']}. Source: {row['source']} ({row['known']}).", class_="hint"),
        data_check=row["id"],
        data_holds="yes" if row["pass"] else "no",
    )


def _said(value: object) -> str:
    if isinstance(value, list | tuple):
        return ", ".join(_said(one) for one in value)
    if isinstance(value, float):
        return f"{value:.{DIGITS}g}"
    return "none" if value is None else str(value)
