"""What a plan costs, as far as rates are given."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from thickset.ground.job.job import Job


@dataclass(frozen=True)
class Cost:
    """What a plan costs [money]: people, planer, wood; None where no rate is given."""

    people: Fraction | None
    machine: Fraction | None
    wood: Fraction | None

    @property
    def total(self) -> Fraction:
        """All that is known [money]."""
        return sum((part for part in (self.people, self.machine, self.wood) if part is not None), Fraction(0))


def cost_of(job: Job, minutes: Fraction) -> Cost:
    """What so many minutes [min] and the lot's wood cost [money], as far as rates are given.

    >>> from thickset.ground.job.example import small_job
    >>> cost_of(small_job(), Fraction(6)).people is None
    True
    """
    rates, hours = job.rates, minutes / 60
    return Cost(
        None if rates.people is None else rates.people * hours,
        None if rates.machine is None else rates.machine * hours,
        None if rates.wood is None else rates.wood * wood_in(job),
    )


def wood_in(job: Job) -> Fraction:
    """The lot's wood as it is before planing [board feet or m3].

    >>> from thickset.ground.job.example import small_job
    >>> float(wood_in(small_job()))
    0.0056808
    """
    cubic_mm = sum((b.thick * b.width * b.length * b.count for b in job.boards), Fraction(0))
    unit = Fraction(254, 10) ** 3 * 144 if job.units == "in" else Fraction(10**9)
    return cubic_mm / unit
