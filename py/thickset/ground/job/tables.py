"""Tables from and for spreadsheets: readings as CSV in, anything as CSV out. What each column was taken for is told before use."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import median
from typing import Any

from thickset.ground.job.document import MOST_BOARDS
from thickset.ground.job.fields import MOST_READINGS
from thickset.ground.notation import lengths
from thickset.ground.notation.lengths import Units
from thickset.ground.notation.places import Place
from thickset.ground.woods import species

MOST_CHARACTERS = 1_000_000
LONGEST_CELL = 200
"""Characters of a cell that is a heading or an entry; a longer one is told, before any expression reads it."""
MOST_WORDS = 3
ROLES = ("name", "reading", "width", "length", "count", "species", "density", "places", "left out")
SEPARATORS = {"\t": "tabs", ";": "semicolons", ",": "commas"}

_WORDS = {
    "name": "name board boards id no nr # label mark piece plank",
    "reading": "reading readings thickness thick spot t r measured",
    "width": "width wide w",
    "length": "length long len l",
    "count": "count qty quantity pieces pcs alike number",
    "species": "species wood timber",
    "density": "density",
    "places": "places",
}
_ROLE_OF = {word: role for role, words in _WORDS.items() for word in words.split()}
_UNIT = re.compile(r"[\s,(\[/]+(mm|cm|m|inches|inch|in|ft|\"|″|kg/m3)[)\]]?\s*\Z")
BETWEEN_PLACES = " / "
UNKNOWN = "?"
"""How a place is written that nobody knows."""
_ALIKE = Fraction(8, 5)
"""Readings of one lot differ by less than this factor. Common practice, no source."""
_LEAST_LENGTH = 400
"""A lone column of sizes above this [mm] holds lengths, else widths. Common practice, no source."""
_RISKY = re.compile(r"'*+[=+\-@＝＋－＠]")
"""How a text begins that a spreadsheet may take for a formula, or that already has the ' which says that it is none."""
_DATED = re.compile(
    r"'*+(?=.*\D|0\d|\d{16})(?:\d[\d/.,:\-−– eE+%]*|\d{1,4}[ .\-]*_MONTH|_MONTH[ .\-]*\d{1,4})\Z".replace(
        "_MONTH", "(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*"
    ),
    re.IGNORECASE,
)
"""A name that a spreadsheet may take for a date, a time or another number, or that has the ' which says that it is none."""
_QUOTED = re.compile(r'(^|[,;\t\n]) *"(?:[^"]|"")*"')
_FRACTION = re.compile(r"\d+/\d+")
_DECIMAL = re.compile(r"\d+[.,]\d+( (mm|in))?")
_LOOKED_AT = 10_000
"""Characters at the start of a table that tell what divides its columns."""


class TableError(ValueError):
    """A table that cannot be read; the message says why and what helps."""


@dataclass(frozen=True)
class Column:
    """One column: its heading, what it was taken for, the unit its heading names, and its entries."""

    heading: str
    role: str
    unit: str
    entries: tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """A table as it was understood."""

    separator: str
    headed: bool
    columns: tuple[Column, ...]

    def boards(self, units: Units) -> list[dict[str, Any]]:
        """The boards as entries of a job document in `units`; each entry stays as it was written."""
        count = len(self.columns[0].entries)
        return [board for row in range(count) if (board := self._board(row, units))]

    def _board(self, row: int, units: Units) -> dict[str, Any]:
        board: dict[str, Any] = {}
        kept = [bool(column.entries[row]) for column in self.columns if column.role == "reading"]
        for column in self.columns:
            entry = column.entries[row]
            if not entry or column.role == "left out":
                continue
            if column.role in ("reading", "width", "length"):
                entry = entry[2:] if entry[:2] == "0 " and _FRACTION.fullmatch(entry[2:]) else entry
                if column.unit not in ("", units) and not lengths.has_unit(entry):
                    entry = f"{entry} {column.unit}"
            if column.role == "reading":
                board.setdefault("readings", []).append(entry)
            elif column.role == "places":
                board.setdefault("places", _places(entry, kept))
            else:
                board.setdefault(column.role, entry)
        if set(board) <= {"name", "count", "species", "density", "places"}:
            return {}
        order = ("name", "readings", "places", "width", "length", "count", "species", "density")
        whole = {"readings": [], "width": "", "length": "", **board}
        return {key: whole[key] for key in order if key in whole}


def read(text: str, units: Units, roles: Sequence[str] = ()) -> Table:
    """Read a table of boards; `roles` says what the columns are where they were not understood.

    Valid: at most a million characters, a board in a row.

    >>> table = read("Board;T1 (mm);T2 (mm);Width\\nA;27,8;28,1;150\\n", "mm")
    >>> [column.role for column in table.columns], table.boards("mm")[0]["readings"]
    (['name', 'reading', 'reading', 'width'], ['27,8', '28,1'])
    """
    if len(text) > MOST_CHARACTERS:
        raise TableError(f"This table is too long: {len(text):,} characters of at most {MOST_CHARACTERS:,}.")
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    bare = _QUOTED.sub(r"\1", text[:_LOOKED_AT])
    first = next((line for line in bare.split("\n") if line.strip()), "")
    separator = next((sign for sign in SEPARATORS if sign in first), ",")
    whole = [f"{line}\n" for line in text.split("\n")]
    try:
        lines = list(csv.reader(whole, delimiter=separator, skipinitialspace=True))
    except csv.Error as error:
        raise TableError(f"This is no table: {error}. Save it from the spreadsheet as CSV.") from error
    if long := next((cell for line in lines for cell in line if len(cell) > LONGEST_CELL), ""):
        text = f"{lengths.shown(long)} in this table is {len(long):,} characters long, of at most {LONGEST_CELL}"
        raise TableError(f"{text}. Leave its column out.")
    rows = [[_plain(cell) for cell in line] for line in lines]
    rows = [row for row in rows if any(row)]
    if not rows:
        raise TableError("The table is empty. Paste the rows, or open a CSV file.")
    wide = max(len(row) for row in rows)
    if len(rows) > MOST_BOARDS + 1 or wide > MOST_READINGS + 2 * len(ROLES):
        raise TableError(f"This table is too large: {len(rows):,} rows of {wide:,} columns.")
    rows = [row + [""] * (wide - len(row)) for row in rows]
    headed = _headed(rows[0])
    headings = rows[0] if headed else [""] * wide
    body = rows[1:] if headed else rows
    if not body:
        raise TableError("The table has headings but no rows.")
    entries = list(zip(*body, strict=True))
    found = [_of_heading(heading) for heading in headings]
    # A heading that is a number alone counts the readings.
    named = ["reading" if heading.isdecimal() else role for heading, (role, _) in zip(headings, found, strict=True)]
    guessed = named if headed else _guessed(entries, units)
    chosen = [roles[n] if n < len(roles) and roles[n] in ROLES else guessed[n] for n in range(wide)]
    columns = zip(headings, chosen, (unit for _, unit in found), entries, strict=True)
    return Table(separator, headed, tuple(Column(*column) for column in columns))


def write(rows: Iterable[Sequence[str | float | Fraction]], comma: bool = False) -> str:
    """Rows as CSV; with `comma`, numbers [as given] have a decimal comma and semicolons divide.

    What a spreadsheet would take for a formula gets a ' in front; `read` takes it off again.

    >>> write([["Board", "cut"], ["=A", 1.5]], comma=True)
    "Board;cut\\r\\n'=A;1,5\\r\\n"
    """
    separator = ";" if comma else ","
    return "".join(separator.join(_cell(cell, comma) for cell in row) + "\r\n" for row in rows)


def for_a_spreadsheet(entry: str, comma: bool) -> str:
    """A length as it was typed, so that no spreadsheet takes 3/4 for a date, or 27,8 for 278.

    >>> for_a_spreadsheet("3/4", False), for_a_spreadsheet("27,8", False), for_a_spreadsheet("27.8", True)
    ('0 3/4', '27.8', '27,8')
    """
    if _FRACTION.fullmatch(entry):
        return f"0 {entry}"
    if _DECIMAL.fullmatch(entry):
        return entry.replace(".", ",") if comma else entry.replace(",", ".")
    return entry


def as_words(name: str) -> str:
    """A name, so that no spreadsheet makes a date of 1/2 or a 1 of 01: with a ' in front, which `read` takes off again.

    >>> as_words("1/2"), as_words("01"), as_words("'3-4"), as_words("12"), as_words("A 1/2")
    ("'1/2", "'01", "''3-4", '12', 'A 1/2')
    """
    flat = " ".join(name.split())
    return f"'{flat}" if _DATED.match(flat) else flat


def written_places(places: Sequence[Place | None]) -> str:
    """Where readings were taken as one cell, in their order.

    >>> written_places([Place("end 1", "left"), None, Place("middle", "center")]), written_places([None])
    ('end 1 left / ? / middle center', '')
    """
    said = [" ".join(place) if place else UNKNOWN for place in places]
    return BETWEEN_PLACES.join(said) if any(places) else ""


def _places(entry: str, kept: Sequence[bool]) -> list[str]:
    """The places of a cell, for the columns of readings that have one in this row."""
    parts = [part.strip() for part in entry.split(BETWEEN_PLACES.strip())]
    found = ["" if part == UNKNOWN else part for part in parts]
    # A place too many stays, so that reading the board can say so.
    return [place for n, place in enumerate(found) if n >= len(kept) or kept[n]]


def _plain(cell: str) -> str:
    flat = " ".join(cell.split())
    return flat[1:] if flat[:1] == "'" and (_RISKY.match(flat) or _DATED.match(flat)) else flat


def _cell(cell: str | float | Fraction, comma: bool) -> str:
    if not isinstance(cell, str):
        text = f"{float(cell):.6f}".rstrip("0").rstrip(".")
        return text.replace(".", ",") if comma else text
    flat = " ".join(cell.split())
    text = f"'{flat}" if _RISKY.match(flat) else flat
    # Whatever divides columns elsewhere is quoted too: the rest of the text could else become a cell of its own.
    needs = any(sign in text for sign in (*SEPARATORS, '"'))
    return '"' + text.replace('"', '""') + '"' if needs else text


def _headed(row: list[str]) -> bool:
    known = any(_of_heading(cell)[0] != "left out" for cell in row)
    return known or not any(char.isdigit() for cell in row for char in cell)


def _of_heading(heading: str) -> tuple[str, str]:
    """What a heading says its column holds, and the unit it names."""
    text = heading.casefold()
    found = _UNIT.search(text)
    unit = found[1] if found else ""
    words = re.findall(r"[^\W\d_]+|#", text[: found.start()] if found else text)
    role = next((_ROLE_OF[word] for word in words if word in _ROLE_OF), "left out")
    return role if len(words) <= MOST_WORDS else "left out", {"inch": "in", "inches": "in", '"': "in", "″": "in"}.get(
        unit, unit
    )


def _guessed(entries: list[tuple[str, ...]], units: Units) -> list[str]:
    """What columns without headings hold: a name or a wood by its words, the rest by their sizes from left to right."""
    roles = ["left out"] * len(entries)
    sizes: dict[int, Fraction] = {}
    for n, column in enumerate(entries):
        filled = [entry for entry in column if entry]
        read = [size for entry in filled if (size := _size(entry, units)) is not None]
        if len(read) * 2 > len(filled) and not (n == 0 and len(entries) > 1 and _counted(filled)):
            sizes[n] = median(read)
        elif n == 0:
            roles[n] = "name"
        elif filled and all(species.find(entry) for entry in filled):
            roles[n] = "species"
    first = next(iter(sizes.values()), Fraction(0))
    rest = [n for n, size in sizes.items() if not first / _ALIKE <= size <= first * _ALIKE]
    for n in sizes:
        roles[n] = "reading"
    if len(rest) == 1:
        roles[rest[0]] = "length" if sizes[rest[0]] > _LEAST_LENGTH else "width"
    elif rest:
        roles[rest[0]], roles[rest[1]] = "width", "length"
        for n in rest[2:]:
            roles[n] = "left out"
    return roles


def _counted(column: list[str]) -> bool:
    """Whether a column numbers the rows: 1, 2, 3 ..."""
    return len(column) > 1 and column == [str(n + 1) for n in range(len(column))]


def _size(entry: str, units: Units) -> Fraction | None:
    try:
        return lengths.read(entry, units)
    except lengths.LengthError:
        return None
