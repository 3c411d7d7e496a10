"""How long to leave the parts before they are planed, and boards butted end to end: their order and the minutes it saves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from thickset.ground.job.job import Ends, Job, Part
from thickset.planning.passes.model import Feeding, Plan
from thickset.planning.passes.pricing import Takes, takes
from thickset.planning.run.snipe import is_even, planned_feedings, trains
from thickset.planning.run.state import State

NONE = Fraction(0)


@dataclass(frozen=True)
class Rough:
    """How long to leave a part: pieces of so many parts in one [count], crosscut to a rough length [mm].

    `held`: the planer's shortest board, not snipe, decides the length.
    """

    part: Part
    parts_in_one: int
    length: Fraction
    held: bool


def feeding_order(plan: Plan) -> tuple[int, ...]:
    """An order for feeding the boards [index] one after another: thick to thin, so that like stands beside like.

    In no pass does a thinner board run between two thicker ones, since what was planed before is thicker than what waited.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> feeding_order(make_plan(small_job()))
    (0, 1)
    """
    boards = plan.job.boards
    return tuple(sorted(range(len(boards)), key=lambda n: (-boards[n].thick, n)))


def rough_lengths(job: Job, ends: Ends) -> tuple[Rough, ...]:
    """How long to crosscut each part before it is planed, one or several in one [mm].

    Both ends of a board lead in turn, so alone each end loses the longer snipe. Valid: boards planed on both faces.

    >>> from dataclasses import replace
    >>> from thickset.ground.job.example import small_job
    >>> from thickset.ground.job.job import Part
    >>> job = replace(small_job(), parts=(Part("rail", Fraction(600), 2),))
    >>> rough_lengths(job, "alone")[0].length
    Fraction(600, 1)
    """
    planer, cutting = job.planer, job.cutting
    snipe = max(planer.snipe_lead or NONE, planer.snipe_trail or NONE) if ends == "alone" else NONE
    loss = 2 * max(snipe, cutting.trim)
    shortest = planer.shortest or NONE
    made = []
    for part in job.parts:
        one = part.length + loss
        in_one = max(1, ceil((shortest - loss + cutting.kerf) / (part.length + cutting.kerf)))
        in_one = min(in_one, part.count)
        length = in_one * part.length + (in_one - 1) * cutting.kerf + loss
        made.append(Rough(part, in_one, max(length, shortest), one < shortest))
    return tuple(made)


def butted_now(state: State) -> tuple[tuple[int, ...], ...]:
    """The rows of boards [index] that can be butted of those that the pass in hand of a run still waits for, each thick to thin.

    A row of one holds several boards alike. Boards that go alone are in none of them.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> butted_now(begin(small_job()))
    ()
    """
    opening, left = state.opening(), set(state.remaining())
    ways = [
        Feeding(len(state.done) + 1, one.board, one.next_placement(), one.thick, one.thin, opening, bool(before))
        for one in state.pieces
        if one.board in left
        for before in [state.went_in(one.board)]
    ]
    return _rows(state.job, ways)


def butted_in(plan: Plan) -> tuple[tuple[tuple[int, ...], ...], ...]:
    """The same for each pass of a plan: its rows of boards [index].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> butted_in(make_plan(small_job()))
    ((), (), ((0, 1),), ((0, 1),))
    """
    ways = _by_pass(plan)
    return tuple(_rows(plan.job, ways[one.number]) for one in plan.passes)


def butted_if_wanted(plan: Plan) -> tuple[tuple[tuple[int, ...], ...], ...]:
    """The same rows of boards [index], with none in any pass where the boards of the job are fed each alone.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> butted_if_wanted(make_plan(small_job()))
    ((), (), (), ())
    """
    return ((),) * len(plan.passes) if plan.job.cutting.ends == "alone" else butted_in(plan)


def _by_pass(plan: Plan) -> dict[int, list[Feeding]]:
    ways: dict[int, list[Feeding]] = {}
    for way in planned_feedings(plan):
        ways.setdefault(way.number, []).append(way)
    return ways


def _rows(job: Job, ways: Sequence[Feeding]) -> tuple[tuple[int, ...], ...]:
    return tuple(
        tuple(way.board for way in row)
        for row in trains(job, ways)
        if is_even(row[0], job) and sum(job.boards[way.board].count for way in row) > 1
    )


def butted_minutes(plan: Plan) -> Fraction:
    """Minutes of a plan whose boards are butted end to end, each taken up while the one before it runs [min].

    Valid: boards at one thickness with the one before; the others are fed alone. Two people, or a table behind the planer that
    the boards run out on; common practice, no source.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> float(butted_minutes(plan)) < float(plan.minutes)
    True
    """
    return plan.minutes - sum(butted_savings(plan), NONE)


def butted_savings(plan: Plan) -> tuple[Fraction, ...]:
    """What each pass of a plan saves when its boards are butted [min]; as `butted_minutes`.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [float(saved) > 0 for saved in butted_savings(make_plan(small_job()))]
    [False, False, True, True]
    """
    ways, job = _by_pass(plan), plan.job
    each = {feed: takes(job, feed) for feed in {one.feed for one in plan.passes}}
    return tuple(
        sum((_saved(plan, train, each[one.feed]) for train in trains(job, ways[one.number])), NONE)
        for one in plan.passes
    )


def _saved(plan: Plan, train: Sequence[Feeding], each: Takes) -> Fraction:
    """Of handling and running each piece, only the longer counts, and one piece's handling beside."""
    if not is_even(train[0], plan.job):
        return NONE
    lengths: Counter[Fraction] = Counter()
    for one in train:
        lengths[plan.job.boards[one.board].length] += plan.job.boards[one.board].count
    shorter = sum((many * min(each.board, length * each.length) for length, many in lengths.items()), NONE)
    return max(shorter - each.board, NONE)
