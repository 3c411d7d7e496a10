"""Measurements of a run to ask about: far from what is known of the board, or from what was to come out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from thickset.ground.job.job import Problem, problem_with
from thickset.ground.job.run_events import Event
from thickset.ground.notation.lengths import Units, near, show
from thickset.planning.run.state import State

LEAST_ROOM = Fraction(3)
"""What is no more than this off is never asked about [mm]; common practice, no source."""


class Known(NamedTuple):
    """From where to where a measurement is expected [mm], and how each of the two is told."""

    low: Fraction
    least: str
    high: Fraction
    most: str


def doubts(state: State, event: Event) -> Iterator[Problem]:
    """What to ask about a measurement, each at its field of `event`.

    Wood does not grow, and no pass takes more than the planer's deepest cut: so much room is left around what is known of a test
    piece, and of a board down to the target.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> measured = Event("measure", boards=("A",), readings=(Fraction(60), Fraction(23)))
    >>> next(doubts(begin(small_job()), measured)).text
    'Run, reading 1: board A was at its thickest 24 mm, and 60 mm is 36 mm more. Measure again; if it is meant, enter 60 mm.'
    """
    known = known_before(state, event)
    if known is None:
        return
    job = state.job
    room = max(job.planer.deepest_cut, LEAST_ROOM)
    readings = [(f"readings[{n}]", f"reading {n + 1}", found) for n, found in enumerate(event.readings)]
    for at, about, found in readings or [("thickness", "thickness", event.thickness)]:
        if found > known.high + room:
            said = _told(known.most, known.high, found, job.units)
        elif found < known.low - room:
            said = _told(known.least, known.low, found, job.units)
        else:
            continue
        meant = show(found, job.units)
        asked = f"{said}. Measure again; if it is meant, enter {meant}."
        yield problem_with(f"Run, {about}", f"event.{at}", asked, (meant,))


def known_before(state: State, event: Event) -> Known | None:
    """What is known of a thickness before it is measured; None of what is no measurement, or of a board that is gone.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> float(known_before(begin(small_job()), Event("test", setting=Fraction(23))).high)
    23.0
    """
    if event.did == "test":
        return _to_come_out(event.setting)
    if event.did == "check" and state.just_fed(event.setting):
        return _to_come_out(state.opening())
    if event.did == "check" and state.done:
        return _to_come_out(state.done[-1].opening)
    piece = next((one for one in state.pieces if state.job.boards[one.board].name in event.boards), None)
    if event.did != "measure" or piece is None:
        return None
    board = state.job.boards[piece.board]
    since = (r for one in state.job.run if one.did == "measure" and board.name in one.boards for r in one.readings)
    name = f"board {board.name}"
    # It may have gone down to the target in passes that nobody ticked off.
    low, least = min((piece.thin, f"{name} is at its thinnest"), (state.job.target, "the target is"))
    return Known(low, least, max((board.thick, *since)), f"{name} was at its thickest")


def _to_come_out(opening: Fraction) -> Known:
    return Known(opening, "it was to come out at", opening, "it was to come out at")


def _told(said: str, known: Fraction, found: Fraction, units: Units) -> str:
    off = f"{near(abs(found - known), units)} {'more' if found > known else 'less'}"
    return f"{said} {near(known, units)}, and {show(found, units)} is {off}"
