"""A table on its way in, shown before anything changes; and a plan as tables for a spreadsheet."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from thickset.faces.words.markup import Markup, el, join
from thickset.ground.job.job import Problem
from thickset.ground.job.tables import ROLES, SEPARATORS, Column, Table, as_words, for_a_spreadsheet, written_places
from thickset.ground.notation.lengths import Units
from thickset.ground.notation.places import read_place

SHOWN = 3
"""Entries of each column shown, and problems told."""

Row = list[str | float | Fraction]


def preview(table: Table, boards: Sequence[dict[str, Any]], problems: Sequence[Problem], units: Units) -> Markup:
    """How each column was understood; the selects change it.

    >>> from thickset.ground.job.tables import read
    >>> table = read("A;27,8;26,9", "mm")
    >>> preview(table, table.boards("mm"), [], "mm")[:70]
    '<p><b>1 board, 2 readings</b>, divided by semicolons, without headings'
    """
    readings = sum(len(board["readings"]) for board in boards)
    found = f"{_many(len(boards), 'board')}, {_many(readings, 'reading')}"
    heads = "the first line is headings" if table.headed else "without headings"
    wrong = [el("li", problem.text) for problem in problems[:SHOWN]]
    more = len(problems) - SHOWN
    return join(
        [
            el(
                "p",
                el("b", found),
                f", divided by {SEPARATORS[table.separator]}, {heads}. Change what a column was taken for:",
            ),
            el("ol", *(_column(n, column, units) for n, column in enumerate(table.columns)), class_="columns"),
            el("ul", *wrong, el("li", f"and {more} more") if more > 0 else None, class_="wrong") if wrong else None,
        ]
    )


def _column(number: int, column: Column, units: Units) -> Markup:
    entries = [entry for entry in column.entries if entry][:SHOWN]
    sized = column.role in ("reading", "width", "length")
    told = f" ({column.unit}, as its heading says)" if column.unit else f" (without a unit: {units})"
    options = [el("option", role, value=role, selected=role == column.role) for role in ROLES]
    return el(
        "li",
        el("label", el("b", column.heading or f"Column {number + 1}"), el("select", *options, data_column=number)),
        el("small", f"{' · '.join(entries)}{told if sized else ''}"),
    )


def passes(plan: dict[str, Any], units: Units, comma: bool = False) -> list[Row]:
    """The passes of a plan document as rows, in the units of the job; decimals with one mark.

    >>> passes({"passes": []}, "in")[0][2:6]
    ['Setting', 'Setting (in)', 'Turns', 'Feed (ft/min)']
    >>> passes({"passes": []}, "mm")[0][5:8]
    ['Feed (m/min)', 'Pitch (mm)', 'Marks per inch']
    """
    known = any("scale_mm" in each for each in plan["passes"])
    heads: Row = [
        "Pass",
        "Stage",
        *(["Scale reads", f"Scale reads ({units})"] if known else []),
        "Setting",
        f"Setting ({units})",
        "Turns",
        *(["Feed (ft/min)"] if units == "in" else ["Feed (m/min)", "Pitch (mm)"]),
        "Marks per inch",
        "Test piece",
        "Boards",
        "Minutes",
    ]
    rows: list[Row] = [heads]
    for each in plan["passes"]:
        fed = " ".join(f"{fed['board']} {fed['up']}{fed['leads']}" for fed in each["fed"])
        row: Row = [each["number"], each["stage"]]
        if known:
            read = (each.get("scale", each["setting"]), each.get("scale_mm", each["setting_mm"]))
            row += [for_a_spreadsheet(read[0], comma), _in(read[1], units)]
        row += [for_a_spreadsheet(each["setting"], comma), _in(each["setting_mm"], units), _or_nothing(each["turns"])]
        feed, marks = each["feed_mm_per_s"] * 60, each["marks_per_inch"]
        row += [round(feed / 304.8, 3)] if units == "in" else [feed / 1000, round(25.4 / marks, 3) if marks else ""]
        row += [_or_nothing(marks)]
        row += ["yes" if each["checked"] else "no", fed, each["minutes"]]
        rows.append(row)
    return rows


def boards(plan: dict[str, Any], job: dict[str, Any], comma: bool = False) -> list[Row]:
    """The boards of a job document and what becomes of them as rows; their lengths as they were entered, decimals with one mark.

    >>> boards({"boards": []}, {"units": "mm", "boards": []})[0][:2]
    ['Board', 'Width (mm)']
    """
    units: Units = "mm" if job.get("units") == "mm" else "in"
    given = [board["readings"] for board in job["boards"]]
    measured = [each if isinstance(each, list) else [each] for each in given]
    most = max(map(len, measured), default=0)
    dense = any(board.get("density") for board in job["boards"])
    places = [
        written_places([read_place(one) if one else None for one in b.get("places") or []]) for b in job["boards"]
    ]
    heads: Row = ["Board", *(f"Reading {n + 1} ({units})" for n in range(most))]
    heads += [
        f"Width ({units})",
        f"Length ({units})",
        "Count",
        "Species",
        *(["Density"] if dense else []),
        *(["Places"] if any(places) else []),
        "Comes out",
        *(f"{name} ({units})" for name in ("Short", "Off face A", "Off face B")),
    ]
    rows: list[Row] = [heads]
    for board, spots, taken, outcome in zip(job["boards"], measured, places, plan["boards"], strict=True):
        readings = [for_a_spreadsheet(str(reading).strip(), comma) for reading in spots]
        sizes = [for_a_spreadsheet(str(board[key]).strip(), comma) for key in ("width", "length")]
        row: Row = [as_words(outcome["board"]), *readings, *[""] * (most - len(readings)), *sizes]
        row += [str(board.get("count") or 1), str(board.get("species") or "")]
        row += [str(board.get("density") or "")] if dense else []
        row += [taken] if any(places) else []
        sizes_mm = (outcome["short_mm"], outcome["taken_mm"]["A"], outcome["taken_mm"]["B"])
        row += [outcome["outcome"], *(_in(size, units) for size in sizes_mm)]
        rows.append(row)
    return rows


def _in(millimeters: float, units: Units) -> float:
    """A length [mm] as a number of the job's units; hundred-thousandths of an inch are all that a scale's marks need."""
    return round(millimeters / 25.4, 6) if units == "in" else millimeters


def _or_nothing(value: float | None) -> str | float:
    return "" if value is None else value


def _many(count: int, one: str) -> str:
    return f"{count:,} {one}" if count == 1 else f"{count:,} {one}s"
