"""Why numbers beside the plan are what they are: how long to leave a part, and how much of the boards is waste."""

from __future__ import annotations

from collections.abc import Iterator

from thickset.planning.passes.model import Plan
from thickset.planning.passes.rules import PRACTICE, Rule
from thickset.planning.stock.leaving import NONE, rough_lengths
from thickset.planning.stock.parts import cutting_plan
from thickset.planning.why.passes import ruled
from thickset.planning.why.reason import Check, Quantity, Reason, count, length

LEAVE = Rule(
    "A part is left longer by what both its ends lose: the longer snipe, for either end may lead, or the trim where that is more. "
    "What is then shorter than the planer takes is left several in one, a saw cut between each two.",
    PRACTICE,
    "common practice",
    "Boards fed alone and planed on both faces. Butted or guarded, only the trim is lost.",
)
WASTE = Rule(
    "The share of the boards that are cut into which does not become a part.",
    "follows from the cutting plan",
    "derived",
    "By length. A part narrower than its board leaves more.",
)


def cutting_reasons(plan: Plan, what: str = "") -> Iterator[Reason]:
    """The reasons for the numbers of the cutting plan, or for those of one part of it [mm, 1].

    >>> from dataclasses import replace
    >>> from fractions import Fraction
    >>> from thickset.ground.job.example import small_job
    >>> from thickset.ground.job.job import Part
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(replace(small_job(), parts=(Part("rail", Fraction(440), 3),)))
    >>> [reason.at for reason in cutting_reasons(plan)]
    ['parts[0]', 'parts.waste']
    """
    if not plan.job.parts or (what and not what.startswith("parts")):
        return
    for n, reason in enumerate(_rough(plan)):
        if what in ("", "parts", f"parts[{n}]"):
            yield reason
    if what in ("", "parts", "parts.waste"):
        yield _waste(plan)


def _rough(plan: Plan) -> Iterator[Reason]:
    job = plan.job
    snipe = max(job.planer.snipe_lead or NONE, job.planer.snipe_trail or NONE)
    for n, one in enumerate(rough_lengths(job, "alone")):
        put_in: tuple[Quantity, ...] = (
            length("p", "the part", one.part.length),
            count("k", "parts in one", one.parts_in_one),
            length("s", "saw cut", job.cutting.kerf),
            length("e", "lost at each end: the longer snipe, at least the trim", max(snipe, job.cutting.trim)),
        )
        bare = one.parts_in_one * one.part.length + (one.parts_in_one - 1) * job.cutting.kerf
        steps: tuple[tuple[str, str], ...] = (("L", "k × p + (k − 1) × s + 2 × e"),)
        checks: tuple[Check, ...] = ()
        result = length("L", "left so long", one.length)
        if job.planer.shortest:
            shortest = length("m", "the planer's shortest board", job.planer.shortest)
            checks = (Check(result, "≥", shortest),)
            if bare + 2 * max(snipe, job.cutting.trim) < job.planer.shortest:
                put_in, steps = (*put_in, shortest), (("L", "max(k × p + (k − 1) × s + 2 × e, m)"),)
        yield ruled(f"parts[{n}]", f"How long to leave {one.part.name}", result, LEAVE, put_in, steps, checks)


def _waste(plan: Plan) -> Reason:
    made = cutting_plan(plan)
    put_in = (length("u", "boards cut into, together", made.used), length("m", "parts in them, together", made.made))
    result = Quantity("w", "waste", made.waste, "share")
    steps = (("w", "1 − m / u"),) if made.used else ()
    proved = (
        "No way of cutting one behind the other wastes less."
        if made.proved
        else "It is not proved that no way of cutting wastes less."
    )
    return ruled("parts.waste", "Waste of the cutting plan", result, WASTE, put_in, steps, also=proved)
