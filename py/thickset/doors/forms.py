"""Reads the small forms beside the plan: a question of their own, no job document. All problems at once, each at its field."""

from __future__ import annotations

from typing import Any

from thickset.ground.job import entries
from thickset.ground.job.fields import Field
from thickset.ground.job.form_fields import FORMS
from thickset.ground.job.job import Problem, ProblemsError, problem_with
from thickset.ground.notation.lengths import Units
from thickset.ground.notation.slips import SlipError
from thickset.trade.limits import OutOfRangeError


class Form:
    """The entries of a form, `values` by their keys. `check` raises all problems that were met."""

    def __init__(self, asked: dict[str, Any], name: str) -> None:
        form = FORMS[name]
        given = asked.get(form.key)
        self.key = form.key
        self.given: dict[str, Any] = given if isinstance(given, dict) else {}
        self.units: Units = "mm" if asked.get("units") == "mm" else "in"
        self.problems: list[Problem] = []
        self.fields = {field.key: field for field in form.fields}
        self.values = {key: self._value(field) for key, field in self.fields.items()}

    def _value(self, field: Field) -> Any:
        """What stands in a field, else its default; None where it has none, and where there is a problem.

        >>> Form({"units": "mm", "board": {"bow": "-3"}}, "slab").values["bow"]
        Fraction(-3, 1)
        """
        given = self.given.get(field.key)
        if given is None or (isinstance(given, str) and not given.strip()):
            given = field.inch if self.units == "in" else field.metric
            if given is None:
                if field.required:
                    self.missing(field.key)
                return None
        try:
            return entries.read(given, field, self.units)[0]
        except ValueError as error:
            self.problem(field.key, str(error), error.cures if isinstance(error, SlipError) else ())
            return None

    def missing(self, key: str) -> None:
        """A problem where something has to be entered."""
        self.problem(key, f"nothing is entered. {entries.how_to_write(self.fields[key], self.units)}")

    def problem(self, key: str, said: str, cures: tuple[str, ...] = ()) -> None:
        """A problem at a field, named as the page names it."""
        field = self.fields[key]
        group = field.asks[0].place if field.asks else ""
        label = f"{group}, {field.label[:1].lower()}{field.label[1:]}" if group else field.label
        self.problems.append(problem_with(label, f"{self.key}.{key}", said, cures))

    def refused(self, error: OutOfRangeError, names: dict[str, str]) -> ProblemsError:
        """The same of a formula that takes no such number; `names` says what it calls fields that have another key here."""
        self.problem(names.get(error.field, error.field), error.text)
        return ProblemsError(self.problems)

    def check(self) -> None:
        """Raise the problems met so far, in the order of the form."""
        if self.problems:
            order = [f"{self.key}.{key}" for key in self.fields]
            raise ProblemsError(sorted(self.problems, key=lambda problem: order.index(problem.at)))
