"""After the last pass: what the boards measure, what is out of tolerance, and what the run taught about the planer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from thickset.ground.job.job import Job, Record
from thickset.ground.job.run_events import Event
from thickset.ground.notation.lengths import Units, near
from thickset.ground.notation.places import Place
from thickset.planning.run.follow import after, begin, follow
from thickset.planning.run.pace import pace_of
from thickset.planning.run.state import State
from thickset.trade.caliper import Belief

MOST_OFFSET_WORTH = 4
"""Readings the offset of a planer is worth in the next run at most [count]: a scale is knocked. Common practice, no source."""

MOST_SPREAD_WORTH = 40
"""The same for the spread, which a planer keeps longer [count]; common practice, no source."""


@dataclass(frozen=True)
class Final:
    """A board [index] after the last pass: its readings [mm], and how far the worst is off the target [mm, under: below zero].

    Too thin is worse than too thick: what is too thick can be fed once more.
    `places`: where the first of them were taken, as far as that was said.
    """

    board: int
    readings: tuple[Fraction, ...]
    off: Fraction
    good: bool
    places: tuple[Place | None, ...] = ()


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
            finals.append(Final(n, measured.readings, off, abs(off) <= job.tolerance, measured.places))
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


def learned(job: Job) -> Record | None:
    """The planer's record with what this run taught added to it; None where it taught nothing yet.

    A run that is through has fed boards in any case. Offset and spread are those believed at the end of the run (trade.caliper), worth no more readings than stated above;
    seconds are the mean of the timed runs, snipe [mm] the longest that was measured.

    >>> from thickset.ground.job.example import small_job
    >>> learned(small_job()) is None
    True
    """
    state = follow(job)
    before = job.planer.record
    pace = pace_of(job)
    snipe = measured_snipe(job)
    measured = bool(state.offs)
    timed = pace.set_seconds is not None or pace.handle_seconds is not None
    if not state.done or not (measured or timed or snipe or state.is_through()):
        return None
    record = _record(state.belief, before, fed_length(state), measured=measured)
    if timed:
        record = replace(
            record,
            set_seconds=_mean(record.set_seconds, pace.set_seconds, record.timed),
            handle_seconds=_mean(record.handle_seconds, pace.handle_seconds, record.timed),
            timed=record.timed + 1,
        )
    if snipe:
        lead, trail = max(record.lead or snipe.lead, snipe.lead), max(record.trail or snipe.trail, snipe.trail)
        record = replace(record, lead=_short(lead), trail=_short(trail), sniped=record.sniped + 1)
    return record


def measured_snipe(job: Job) -> Event | None:
    """The last time in a run that it was measured how far in snipe reaches; None where it was not.

    >>> from thickset.ground.job.example import small_job
    >>> measured_snipe(small_job()) is None
    True
    """
    return next((event for event in reversed(job.run) if event.did == "snipe"), None)


def _mean(before: Fraction | None, now: Fraction | None, runs: int) -> Fraction | None:
    """The mean of so many runs and one more; what one of them does not know, the other says."""
    if before is None or now is None:
        return before if now is None else _short(now)
    return _short((before * runs + now) / (runs + 1))


def record_document(record: Record) -> dict[str, float]:
    """A record as it stands in a job document; what is not known is left out [mm, s, m, count].

    >>> record_document(Record(Fraction(1, 10), Fraction(4), Fraction(1, 20), Fraction(5), 1, Fraction(0)))
    {'offset': 0.1, 'offset_worth': 4.0, 'spread': 0.05, 'spread_worth': 5.0, 'runs': 1, 'fed': 0.0}
    """
    later = {"timed", "sniped"}
    known = {key: value for key, value in vars(record).items() if value is not None and (value or key not in later)}
    return {key: value if isinstance(value, int) else float(value) for key, value in known.items()}


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


def _short(value: float | Fraction) -> Fraction:
    return Fraction(str(round(float(value), 6)))


def _record(belief: Belief, before: Record | None, fed: Fraction, *, measured: bool) -> Record:
    now = Record(
        offset=_short(belief.offset),
        offset_worth=_short(min(belief.offset_readings, MOST_OFFSET_WORTH)),
        spread=_short(max(belief.spread, 0.001)),
        spread_worth=_short(min(belief.spread_readings, MOST_SPREAD_WORTH)),
        runs=(before.runs if before else 0) + measured,
        fed=_short((before.fed if before else Fraction(0)) + fed),
    )
    if before is None:
        return now
    caliper = now if measured else before
    return replace(
        before,
        offset=caliper.offset,
        offset_worth=caliper.offset_worth,
        spread=caliper.spread,
        spread_worth=caliper.spread_worth,
        runs=caliper.runs,
        fed=now.fed,
    )
