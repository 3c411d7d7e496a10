"""After the last pass: what the boards measure, what is out of tolerance, and what the run taught about the planer."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from thickset.ground.job.job import Job, Record
from thickset.ground.job.run_events import Event
from thickset.ground.notation.lengths import Units, near
from thickset.ground.notation.places import Place
from thickset.planning.run.follow import after, begin, follow
from thickset.planning.run.pace import pace_of
from thickset.planning.run.record import Taught, added
from thickset.planning.run.state import State


@dataclass(frozen=True)
class Final:
    """A board [index] after the last pass: its readings [mm], and how far the worst is off the target [mm, under: below zero].

    Too thin is worse than too thick: what is too thick can be fed once more. `good`: it measures within the tolerance; `sure`: so far
    within that the gauge cannot be what made it so, as a test piece is judged.
    `places`: where the first of them were taken, as far as that was said.
    """

    board: int
    readings: tuple[Fraction, ...]
    off: Fraction
    good: bool
    places: tuple[Place | None, ...] = ()
    sure: bool = True


@dataclass(frozen=True)
class Finals:
    """Boards measured after the last pass, the spread of all their readings [mm], the worst board [index]."""

    finals: tuple[Final, ...]
    spread: Fraction
    worst: int | None


def finals_of(job: Job) -> Finals:
    """What boards measure that were measured after they were last fed [mm].

    >>> from thickset.ground.job.example import small_job
    >>> finals_of(small_job()).worst is None
    True
    """
    target = target_of(job)
    readings: dict[str, Event] = {}
    before_the_finish = measured_at_rest(job)
    for n, event in enumerate(job.run):
        if event.did == "feed":
            readings = {name: kept for name, kept in readings.items() if event.boards and name not in event.boards}
        elif event.did == "measure" and n not in before_the_finish:
            readings[event.boards[0]] = event
    finals = []
    for n, board in enumerate(job.boards):
        if measured := readings.get(board.name):
            off = max((value - target for value in measured.readings), key=abs)
            if (thin := min(measured.readings) - target) < -job.tolerance:
                off = thin
            good, sure = abs(off) <= job.tolerance, abs(off) <= job.accepted
            finals.append(Final(n, measured.readings, off, good, measured.places, sure))
    every = [value for one in finals for value in one.readings]
    worst = max(finals, key=lambda one: abs(one.off), default=None)
    spread = max(every) - min(every) if every else Fraction(0)
    return Finals(tuple(finals), spread, None if worst is None else worst.board)


def taken_out(job: Job) -> frozenset[int]:
    """The boards [index] that left the lot in a run: nothing of them is cut off.

    >>> from thickset.ground.job.example import small_job
    >>> sorted(taken_out(small_job()))
    []
    """
    return frozenset(one.board for one in follow(job).gone) if job.run else frozenset()


def target_of(job: Job) -> Fraction:
    """The target that a run ended with [mm].

    >>> from thickset.ground.job.example import small_job
    >>> target_of(small_job())
    Fraction(20, 1)
    """
    return next((event.thickness for event in reversed(job.run) if event.did == "retarget"), job.target)


def measured_at_rest(job: Job) -> frozenset[int]:
    """The events [index] of a run that measure boards between its two stages, and not what came out.

    >>> from thickset.ground.job.example import small_job
    >>> measured_at_rest(small_job())
    frozenset()
    """
    if job.service is None or job.service.rest is None:
        return frozenset()
    state, found = begin(job), []
    for n, event in enumerate(job.run):
        if event.did == "measure" and (state.awaited or state.proud):
            found.append(n)
        state = after(state, event)
    return frozenset(found)


def was_through(job: Job) -> bool:
    """Whether a run was ever through; what was measured since may want a board to go in once more.

    >>> from thickset.ground.job.example import small_job
    >>> was_through(small_job())
    False
    """
    state = begin(job)
    for event in job.run:
        state = after(state, event)
        if state.is_through():
            return True
    return False


def learned(job: Job) -> Record | None:
    """The planer's record with what this run taught added to it; None where it taught nothing yet.

    A run that is through has fed boards in any case. Offset and spread are those believed at the end of the run (trade.caliper), worth no more readings than stated above;
    seconds are the mean of the timed runs, snipe [mm] the longest that was measured.

    >>> from thickset.ground.job.example import small_job
    >>> learned(small_job()) is None
    True
    """
    taught = taught_by(job)
    return None if taught is None else added(job.planer.record, taught)


def taught_by(job: Job) -> Taught | None:
    """What a run taught of its planer; None where it taught nothing yet.

    >>> from thickset.ground.job.example import small_job
    >>> taught_by(small_job()) is None
    True
    """
    state = follow(job)
    pace, snipe = pace_of(job), measured_snipe(job)
    timed = pace.set_seconds is not None or pace.handle_seconds is not None
    if not state.done or not (state.offs or timed or snipe or was_through(job)):
        return None
    return Taught(
        tuple(map(float, state.read)),
        float(job.practice.gauge),
        _kept(pace.set_seconds),
        _kept(pace.handle_seconds),
        _kept(snipe.lead if snipe else None),
        _kept(snipe.trail if snipe else None),
        Fraction(str(float(fed_length(state)))),
    )


def _kept(value: Fraction | None) -> Fraction | None:
    """A figure as a planer's book keeps it."""
    return None if value is None else Fraction(str(float(value)))


def measured_snipe(job: Job) -> Event | None:
    """The last time in a run that it was measured how far in snipe reaches; None where it was not.

    >>> from thickset.ground.job.example import small_job
    >>> measured_snipe(small_job()) is None
    True
    """
    return next((event for event in reversed(job.run) if event.did == "snipe"), None)


def settings_of(record: Record, units: Units) -> dict[str, str]:
    """What the next job starts from beside the record: seconds and snipe, as they are typed in a job in `units`.

    >>> record = Record(Fraction(0), Fraction(1), Fraction(1, 20), Fraction(4), 1, Fraction(0), Fraction("24.6"), None, 1)
    >>> settings_of(record, "mm")
    {'practice.set_seconds': '25'}
    """
    seconds = {"practice.set_seconds": record.set_seconds, "practice.handle_seconds": record.handle_seconds}
    lengths = {"planer.snipe.lead": record.lead, "planer.snipe.trail": record.trail}
    return {key: str(max(1, round(value))) for key, value in seconds.items() if value is not None} | {
        key: near(value, units) for key, value in lengths.items() if value is not None
    }


def fed_length(state: State) -> Fraction:
    """Length of boards fed in a run, all passes together [m].

    >>> from thickset.ground.job.example import small_job
    >>> fed_length(follow(small_job()))
    Fraction(0, 1)
    """
    boards = state.job.boards
    return sum((boards[n].length * boards[n].count / 1000 for one in state.done for n in one.boards), Fraction(0))
