"""Plans the rest of a run anew: from where the boards now are, or under changed limits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from thickset.ground.job.job import Job, ProblemsError
from thickset.planning.passes.limits import problems_of
from thickset.planning.passes.lot import pieces_of
from thickset.planning.passes.model import Pass
from thickset.planning.passes.planner import passes_for
from thickset.planning.run.state import Done, State
from thickset.planning.run.surprises import Change

BROKEN_OFF = "This pass ends here. Put the boards that did not go through on the outfeed cart too, as they lie."
"""Said when a pass in hand is given up for another plan, so that all boards stand on one cart."""


def replan(state: State) -> State:
    """The exact plan of the rest from where the boards now are; stuck, with the reason, where there is none.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> state = begin(small_job())
    >>> replan(state).rest == state.rest
    True
    """
    try:
        return _planned(state)
    except ProblemsError as refused:
        said = (*state.said, *(problem.text for problem in refused.problems))
        return replace(closed(state), rest=(), said=said, stuck=True)


def _planned(state: State) -> State:
    if state.awaited:
        return state
    above = [piece for piece in state.pieces if not state.at_target(piece)]
    job = replace(state.job, target=state.goal)
    unknown = state.scale_is_unknown
    passes = tuple(passes_for(above, job, _stood(state), len(state.done) + 1, scale_unknown=unknown))
    if passes and state.rest and passes[0].setting == state.rest[0].setting:
        return replace(state, rest=passes, stuck=False)
    if not state.fed:
        return replace(state, rest=passes, trials=(), stuck=False)
    broken_off = closed(state)
    left_over = any(piece.board not in state.fed for piece in state.pieces)
    said = (*state.said, *([BROKEN_OFF] if left_over and passes else []))
    passes = tuple(passes_for(above, job, _stood(broken_off), len(broken_off.done) + 1))
    return replace(broken_off, rest=passes, stuck=False, said=said)


def _stood(state: State) -> Fraction | None:
    """The setting [mm] that handle turns are counted from; None where the planer may stand anywhere."""
    return state.done[-1].wanted if state.done and state.stands is not None else None


def replan_with(state: State, changes: Sequence[Change]) -> State:
    """The rest under the first of some changes that leaves a plan; as it was, with the reason, where none does.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> lower = replace(small_job(), target=Fraction(21))
    >>> float(replan_with(begin(small_job()), [Change("", lower)]).goal)
    21.0
    """
    refused: list[ProblemsError] = []
    for change in changes:
        try:
            return _with_job(replace(state, said=(*state.said, *filter(None, [change.said]))), change.job)
        except ProblemsError as problems:
            refused.append(problems)
    if not refused:
        return state
    why = tuple(problem.text for problem in refused[0].problems)
    return replace(state, said=(*state.said, "The plan stays as it is. With that change there is none:", *why))


def _with_job(state: State, job: Job) -> State:
    """The rest under changed limits. Raises ProblemsError where they leave no way on."""
    loads = {piece.board: piece.load for piece in pieces_of(job.boards, job.planer.known_cut)}
    pieces = tuple(replace(piece, load=loads[piece.board]) for piece in state.pieces)
    if problems := problems_of(job):
        raise ProblemsError(problems)
    return _planned(replace(state, job=job, pieces=pieces))


def closed(state: State) -> State:
    """The pass in hand is over for the boards that went through it; as it was, when none did.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> closed(begin(small_job())).done
    ()
    """
    if not state.fed:
        return state
    number = len(state.done) + 1
    opening = next(way.setting for way in reversed(state.feedings) if way.number == number)
    scale = opening if state.stands is None else state.stands
    done = Done(number, state.rest[0].setting, scale, opening, state.fed)
    return replace(state, fed=(), trials=(), done=(*state.done, done))


def numbered(passes: tuple[Pass, ...], first: int) -> tuple[Pass, ...]:
    """Passes with their numbers in order, from `first` [count] on.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [one.number for one in numbered(make_plan(small_job()).passes, 4)][0]
    4
    """
    return tuple(replace(one, number=first + n) for n, one in enumerate(passes))
