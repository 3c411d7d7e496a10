"""How long setting the planer and handling a board took in a run, from the seconds between its taps.

Only what can be told apart counts. From one tap of feeding to the next in the same pass, or from the test piece that came
out right to the first boards: boards run and are handled. From the last boards of a pass to the first of the next, without
a test piece between them: the planer is set as well. What takes too long is a pause and teaches nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from statistics import median

from thickset.ground.job.job import Job
from thickset.ground.job.run_events import Event
from thickset.planning.run.follow import after, begin
from thickset.planning.run.state import State

LEAST_SEEN = 3
"""Times from which on a figure is told [count]; the middle one of them is taken. Common practice, no source."""

PAUSE_SET, PAUSE_HANDLE = 600, 120
"""Setting the planer, or handling one board, that takes longer is a pause [s]; common practice, no source."""


@dataclass(frozen=True)
class Pace:
    """Seconds to set the planer and to handle a board [s], None where too few were seen, and of how many taps each is the middle [count]."""

    set_seconds: Fraction | None
    handle_seconds: Fraction | None
    sets: int
    handles: int


def pace_of(job: Job) -> Pace:
    """The seconds of a job's run, as far as its events say how long after the one before they came [s].

    >>> from thickset.ground.job.example import small_job
    >>> pace_of(small_job())
    Pace(set_seconds=None, handle_seconds=None, sets=0, handles=0)
    """
    handling, between = [], []
    state, last = begin(job), None
    for event in job.run:
        following = after(state, event)
        seen = _fed(state, event)
        if seen is not None and last is not None:
            count, running = seen
            left = (event.after or Fraction(0)) - running
            if (last == "test" and state.tries) or (last == "feed" and state.fed):
                handling.append(left / count)
            elif last == "feed":
                between.append((left, count))
        state, last = following, event.did
    handles = [each for each in handling if 0 < each <= PAUSE_HANDLE]
    if len(handles) < LEAST_SEEN:
        return Pace(None, None, 0, len(handles))  # without it nobody knows what setting took of the rest
    handle = Fraction(median(handles))
    sets = [one for left, count in between if 0 < (one := left - count * handle) <= PAUSE_SET]
    return Pace(Fraction(median(sets)) if len(sets) >= LEAST_SEEN else None, handle, len(sets), len(handles))


def _fed(state: State, event: Event) -> tuple[int, Fraction] | None:
    """How many boards an event fed [count] and how long they ran [s]; None when it fed none or says no time."""
    if event.did != "feed" or event.after is None or not state.rest:
        return None
    boards = state.job.boards
    named = [n for n in state.remaining() if not event.boards or boards[n].name in event.boards]
    count = sum(boards[n].count for n in named)
    length = sum((boards[n].length * boards[n].count for n in named), Fraction(0))
    return (count, length / 1000 / state.rest[0].feed * 60) if count else None
