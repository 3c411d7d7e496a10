"""Why a board that came out thin still makes a part so much shorter or narrower: its readings and where they stand."""

from __future__ import annotations

from collections.abc import Iterator

from thickset.planning.passes.model import Plan
from thickset.planning.passes.rules import PRACTICE, Rule
from thickset.planning.run.report import finals_of, target_of
from thickset.planning.stock.rescue import parts_of
from thickset.planning.why.passes import ruled
from thickset.planning.why.reason import Check, Quantity, Reason, length

WHERE = (
    "A reading with a place stands for the board half way to the next place: ends and edges for a quarter, the middle for half. A place "
    "holds when every reading there is no thinner than the target less the tolerance."
)
SHORTER = Rule(
    f"The longest stretch that holds the target. {WHERE} Readings without places are taken as even from end 1 to end 2.",
    PRACTICE,
    "common practice",
    "What was not measured does not count. Measure both ends of the stretch before cutting.",
)
NARROWER = Rule(
    f"The widest strip that holds the target all along. {WHERE}",
    PRACTICE,
    "common practice",
    "Readings at more than one place across. What was not measured does not count.",
)


def rescue_reasons(plan: Plan, what: str = "") -> Iterator[Reason]:
    """The reasons for the parts that boards which came out thin still make [mm long, or mm wide].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> list(rescue_reasons(make_plan(small_job())))
    []
    """
    if what and not what.startswith("rescue"):
        return
    job = plan.job
    least = length("", "target less tolerance", target_of(job) - job.tolerance)
    for one in finals_of(job).finals:
        board = job.boards[one.board]
        for part, (begins, ends) in parts_of(one, job):
            along = part == "shorter"
            size, edge = (board.length, "end 1") if along else (board.width, "the left edge, seen from end 1")
            put_in = (
                length("L", "length of the board" if along else "width of the board", size),
                Quantity("p", f"share of it from {edge}, where the part begins", begins, "share"),
                Quantity("q", "share where it ends", ends, "share"),
            )
            between = (length("a", "begins", begins * size), length("b", "ends", ends * size))
            steps = (("a", "p × L"), ("b", "q × L"), ("l", "b − a"))
            places = (*one.places, *[None] * (len(one.readings) - len(one.places)))
            checks = tuple(
                Check(length("", f"at {place.words}" if place else f"reading {n}", value), "≥", least)
                for n, (value, place) in enumerate(zip(one.readings, places, strict=True), 1)
            )
            result = length("l", f"{'length' if along else 'width'} of the part", (ends - begins) * size)
            yield ruled(
                f"rescue[{one.board}].{part}",
                f"Board {board.name}: the {part} part",
                result,
                SHORTER if along else NARROWER,
                put_in,
                steps,
                checks,
                between=between,
            )
