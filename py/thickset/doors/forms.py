"""Reads the small forms beside the plan: a question of their own, no job document. All problems at once, each at its field."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

from thickset.ground.job.job import Problem, ProblemsError
from thickset.ground.notation import lengths, numbers
from thickset.ground.notation.lengths import Units


class Form:
    """The entries of a form. `check` raises all problems that were met."""

    def __init__(self, asked: dict[str, Any], key: str) -> None:
        given = asked.get(key)
        self.key = key
        self.given: dict[str, Any] = given if isinstance(given, dict) else {}
        self.units: Units = "mm" if asked.get("units") == "mm" else "in"
        self.problems: list[Problem] = []

    def length(self, name: str, label: str, default: str | None = None, *, signed: bool = False) -> Fraction:
        """A length [mm]; with a minus before it where `signed`. Without an entry its default, else a problem.

        >>> Form({"units": "mm", "board": {"bow": "-3"}}, "board").length("bow", "Bow", signed=True)
        Fraction(-3, 1)
        """
        text = numbers.spelled_out(self.text(name)).strip() or (default or "")
        below = signed and text.startswith("-")
        bare = text.removeprefix("-" if below else "+").strip()
        try:
            value = lengths.read(bare, self.units, default is not None)
        except lengths.LengthError as error:
            self.problems.append(Problem(f"{self.key}.{name}", f"{label}: {error}"))
            return Fraction(1)
        return -value if below else value

    def number(self, name: str, label: str, default: str) -> Fraction:
        """A plain number [as asked].

        >>> Form({"need": {"waste": "20"}}, "need").number("waste", "Waste", "0")
        Fraction(20, 1)
        """
        try:
            return numbers.read(self.text(name) or default)
        except numbers.NumberError as error:
            self.problems.append(Problem(f"{self.key}.{name}", f"{label}: {error}. Write a number like 10 or 12.5."))
            return Fraction(1)

    def whole(self, name: str, label: str, default: str) -> Fraction:
        """A count [as asked].

        >>> Form({"need": {"count": "6"}}, "need").whole("count", "Parts", "1")
        Fraction(6, 1)
        """
        text = self.text(name) or default
        try:
            found = numbers.read(text)
        except numbers.NumberError:
            found = Fraction(0)
        if found.denominator != 1 or found < 1:
            said = f"{label}: {lengths.shown(text)} is no whole number from 1. Write how many there are, like 6."
            self.problems.append(Problem(f"{self.key}.{name}", said))
            return Fraction(1)
        return found

    def text(self, name: str) -> str:
        """What stands in a field, as text.

        >>> Form({"need": {"waste": 20}}, "need").text("waste")
        '20'
        """
        value = self.given.get(name)
        plain = isinstance(value, str | int | float | Decimal) and not isinstance(value, bool)
        return str(value).strip() if plain else ""

    def check(self) -> None:
        """Raise the problems met so far."""
        if self.problems:
            raise ProblemsError(self.problems)
