"""Why the figures of two lots for one, of butting and of what came out after the run are what they are."""

from __future__ import annotations

from collections.abc import Iterator

from thickset.planning.passes.model import Plan
from thickset.planning.passes.outcomes import both_faces
from thickset.planning.passes.rules import PRACTICE, Rule
from thickset.planning.passes.split import best_split
from thickset.planning.run.report import finals_of, target_of
from thickset.planning.stock.leaving import butted_minutes, butted_savings
from thickset.planning.why.passes import ruled
from thickset.planning.why.reason import Check, Quantity, Reason, count, length

SPLIT = Rule(
    "Of the ways to split the lot by thickness, width, wood or load that were tried, the one with most boards more on both faces and, of equal ones, "
    "most minutes less. No board may come out worse. Each of the two is planned like a lot of its own, to the same target.",
    "follows from the plans of the two lots",
    "derived",
    "Of many sizes only some are tried. Nothing is counted for sorting the boards.",
)
BUTTED = Rule(
    "Boards that come to a pass at one thickness, the same as the board before, are butted. Of handling and running each of them only "
    "the longer counts, for the next board is picked up while one runs. Of the first board the handling counts too. The others go alone.",
    PRACTICE,
    "common practice",
    "Two people, or a table behind the planer that the boards run out on.",
)
SPREAD = Rule(
    "The thickest of all readings after the last pass less the thinnest.",
    "follows from the readings",
    "derived",
    "Boards measured after they were last fed.",
)
OFF = Rule(
    "The thinnest reading where that is too thin, else the reading farthest from the target, less the target. The board is right when that is no more than "
    "the tolerance less what the gauge may be off by, but no less than half the tolerance: a guard band. From there to the tolerance the gauge cannot tell.",
    "follows from the readings; the guard band: ISO 14253-1 and JCGM 106, from memory",
    "derived",
    "The spots that were measured.",
)


def split_and_report_reasons(plan: Plan, what: str = "") -> Iterator[Reason]:
    """The reasons for minutes and boards that a split or butting gains, and for what came out [min, count, mm].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [one.at for one in split_and_report_reasons(make_plan(small_job()))]
    ['butting.saved']
    """
    for name, reasons in (("split", _split), ("butting", _butting), ("after", _after)):
        if not what or what.startswith(name):
            yield from reasons(plan)


def _split(plan: Plan) -> Iterator[Reason]:
    found = best_split(plan)
    if found is None:
        return
    one, two = found.halves
    minutes = (
        Quantity("t", "minutes as one lot", plan.minutes, "minutes"),
        Quantity("t1", "minutes of the first of two", one.minutes, "minutes"),
        Quantity("t2", "minutes of the second", two.minutes, "minutes"),
    )
    saved = Quantity("s", "saved", found.saved, "minutes")
    yield ruled("split.saved", "Minutes less as two lots", saved, SPLIT, minutes, (("s", "t − t1 − t2"),))
    boards = (
        count("N", "both faces as one lot", both_faces(plan.job, plan.outcomes)),
        count("n1", "both faces in the first of two", one.both_faces),
        count("n2", "both faces in the second", two.both_faces),
    )
    gained = count("g", "gained", found.gained)
    yield ruled("split.gained", "Boards more on both faces as two lots", gained, SPLIT, boards, (("g", "n1 + n2 − N"),))


def _butting(plan: Plan) -> Iterator[Reason]:
    if not plan.passes:
        return
    saved = tuple(
        Quantity(f"s{one.number}", f"saved in pass {one.number}", each, "minutes")
        for one, each in zip(plan.passes, butted_savings(plan), strict=True)
    )
    result = Quantity("s", "saved", plan.minutes - butted_minutes(plan), "minutes")
    steps = (("s", " + ".join(each.symbol for each in saved)),)
    yield ruled("butting.saved", "Minutes saved by butting", result, BUTTED, saved, steps)


def _after(plan: Plan) -> Iterator[Reason]:
    job = plan.job
    made = finals_of(job)
    if not made.finals:
        return
    every = [(job.boards[one.board].name, value) for one in made.finals for value in one.readings]
    (thick, most), (thin, least) = max(every, key=lambda one: one[1]), min(every, key=lambda one: one[1])
    put_in = (
        length("a", f"thickest reading, board {thick}", most),
        length("b", f"thinnest reading, board {thin}", least),
    )
    yield ruled("after.spread", "Spread", length("s", "spread", made.spread), SPREAD, put_in, (("s", "a − b"),))
    target = length("T", "target", target_of(job))
    for one in made.finals:
        name = job.boards[one.board].name
        off = length("o", f"board {name}, off by", one.off)
        size = length("o", f"board {name}, off by", abs(one.off))
        numbers = (
            length(
                "r",
                "thinnest reading where that is too thin, else the one farthest from the target",
                target.number + one.off,
            ),
            target,
        )
        checks = (
            Check(size, "≤", length("", "tolerance less the guard band", job.accepted)),
            Check(size, "≤", length("", "tolerance", job.tolerance)),
        )
        yield ruled(
            f"after[{one.board}].off", f"Board {name}, off the target", off, OFF, numbers, (("o", "r − T"),), checks
        )
