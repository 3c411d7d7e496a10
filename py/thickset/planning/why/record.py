"""Why the figures of the planer's record are what they are: scale, spread, seconds, snipe, length fed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import fsum, sqrt

from thickset.ground.job.job import Job, Record
from thickset.planning.passes.model import Plan
from thickset.planning.passes.rules import PRACTICE, Rule
from thickset.planning.run.follow import follow
from thickset.planning.run.pace import LEAST_SEEN, PAUSE_HANDLE, PAUSE_SET, pace_of
from thickset.planning.run.record import MOST_OFFSET_WORTH, MOST_SPREAD_WORTH
from thickset.planning.run.report import fed_length, learned, measured_snipe
from thickset.planning.why.passes import ruled
from thickset.planning.why.reason import Quantity, Reason, count, length
from thickset.trade.caliper import Belief

FOOT = Fraction("0.3048")
OPENS_MORE, REPEATS = "opens more than the scale reads", "settings repeat to"
TITLES = "What the planer opens more than its scale reads", "What its settings repeat to"
NORMAL = "normal law with unknown mean and spread, updated by each reading"

OFFSET = Rule(
    "The mean of what measured pieces were over the scale, test pieces and boards alike. What was known before counts as so many "
    "readings. Of a planer without a record, or of a scale that was moved since, next to nothing is known.",
    NORMAL,
    "derived",
    f"One planer whose scale is not touched. In the next run worth no more than {MOST_OFFSET_WORTH} readings, for a scale is "
    "knocked (common practice, no source).",
)
SPREAD = Rule(
    "How far settings stray about what they should be: the root of the mean of the squares, of what was known before, of the "
    "readings about their mean, and of how far that mean is from what was known.",
    NORMAL,
    "derived",
    f"The caliper's own error counts in it. In the next run worth no more than {MOST_SPREAD_WORTH} readings (common practice, no "
    "source).",
)
SECONDS = Rule(
    "In a run the middle one of the times between its taps counts. Of several runs the mean, each run alike.",
    PRACTICE,
    "common practice",
    f"At least {LEAST_SEEN} times seen. Setting that took over {PAUSE_SET} s, or a board over {PAUSE_HANDLE} s, was a pause.",
)
SNIPE = Rule(
    "The longest snipe that was measured, so that what is cut off is enough.",
    PRACTICE,
    "common practice",
    "The planer as it was set up then. A table set anew can snipe more or less.",
)
FED = Rule(
    "The lengths of all boards that were fed, pass by pass, since the knives were changed.",
    "follows from the runs",
    "derived",
    "Runs in the book.",
)


def record_reasons(plan: Plan, what: str = "") -> Iterator[Reason]:
    """The reasons for the planer's record with this run in it, or without where it taught nothing [mm, s, m or ft].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> list(record_reasons(make_plan(small_job())))
    []
    """
    if what and not what.startswith("record"):
        return
    now = learned(plan.job)
    record = now or plan.job.planer.record
    if record is not None:
        yield from _caliper(plan.job, record, now is not None)
        yield from _seconds(plan.job, record, now is not None)
        yield from _snipe(plan.job, record, now is not None)
        yield _fed(plan.job, record, now is not None)


def _kept(at: str, title: str, result: Quantity, rule: Rule, runs: int) -> Reason:
    also = "This run changed nothing of it: it is as it stands in the planer's record."
    return ruled(at, title, result, rule, (count("n", "runs it rests on", runs),), also=also)


def _caliper(job: Job, record: Record, new: bool) -> Iterator[Reason]:
    offset, spread = length("o", OPENS_MORE, record.offset), length("s", REPEATS, record.spread)
    state = follow(job)
    offs = state.offs if new else ()
    if not offs:
        if job.planer.record is not None:
            yield _kept("record.offset", TITLES[0], offset, OFFSET, record.runs)
            yield _kept("record.spread", TITLES[1], spread, SPREAD, record.runs)
        return
    rests = f"With this run it rests on {'1 run or scrap' if record.runs == 1 else f'{record.runs} runs and scraps'}."
    yield from belief_reasons("record", state.known, offs, (record.offset, record.spread), rests)


def belief_reasons(
    at: str, before: Belief, offs: Sequence[Fraction], now: tuple[Fraction, Fraction], also: str = ""
) -> Iterator[Reason]:
    """How readings that were so far over the scale [mm] change what is believed of it: its offset and its spread [mm].

    >>> from thickset.trade.caliper import unknown_planer
    >>> offs = [Fraction(1, 10)]
    >>> [one.at for one in belief_reasons("scrap", unknown_planer(), offs, (Fraction(1, 10), Fraction(1, 10)))]
    ['scrap.offset', 'scrap.spread']
    """
    mean = sum(offs, Fraction(0)) / len(offs)
    stray = sqrt(fsum(float(off - mean) ** 2 for off in offs) / len(offs))
    readings = (
        Quantity("m", "readings that the scale known before is worth", _short(before.offset_readings), "given"),
        length("o0", "over the scale, known before", _short(before.offset)),
        count("n", "readings now", len(offs)),
        length("d", "over the scale now, on the mean", mean),
    )
    result = length("o", OPENS_MORE, now[0])
    yield ruled(f"{at}.offset", TITLES[0], result, OFFSET, readings, (("o", "(m × o0 + n × d) / (m + n)"),), also=also)
    known = (
        Quantity("k", "readings that the spread known before is worth", _short(before.spread_readings), "given"),
        length("s0", "repeats to, known before", _short(before.spread)),
        length("e", "readings now about their mean", _short(stray)),
    )
    steps = (("s", "√((k × s0^2 + n × e^2 + m × n / (m + n) × (d − o0)^2) / (k + n))"),)
    result = length("s", REPEATS, now[1])
    yield ruled(f"{at}.spread", TITLES[1], result, SPREAD, (*known, *readings), steps, also=also)


def _seconds(job: Job, record: Record, new: bool) -> Iterator[Reason]:
    pace, before = pace_of(job), job.planer.record
    for key, title, seen in (
        ("set_seconds", "Seconds to set the planer", pace.sets),
        ("handle_seconds", "Seconds to handle a board", pace.handles),
    ):
        value, now = getattr(record, key), getattr(pace, key) if new else None
        if value is None:
            continue
        result = Quantity("t", title.lower(), value, "seconds")
        if now is None:
            yield _kept(f"record.{key}", title, result, SECONDS, record.timed)
            continue
        put_in: tuple[Quantity, ...] = (Quantity("c", f"this run: the middle one of {seen} times", now, "seconds"),)
        steps = (("t", "c"),)
        earlier = getattr(before, key) if before else None
        if before is not None and earlier is not None:
            put_in += (count("k", "runs before", before.timed), Quantity("t0", "their mean", earlier, "seconds"))
            steps = (("t", "(k × t0 + c) / (k + 1)"),)
        yield ruled(f"record.{key}", title, result, SECONDS, put_in, steps)


def _snipe(job: Job, record: Record, new: bool) -> Iterator[Reason]:
    event = measured_snipe(job) if new else None
    for key, end in (("lead", "leads"), ("trail", "trails")):
        value, title = getattr(record, key), f"Snipe at the end that {end}"
        if value is None:
            continue
        result = length("l", title.lower(), value)
        if event is None:
            yield _kept(f"record.{key}", title, result, SNIPE, record.sniped)
            continue
        put_in: tuple[Quantity, ...] = (length("a", "measured in this run", getattr(event, key)),)
        steps = (("l", "a"),)
        earlier = getattr(job.planer.record, key) if job.planer.record else None
        if earlier is not None:
            put_in, steps = (*put_in, length("b", "longest before", earlier)), (("l", "max(a, b)"),)
        yield ruled(f"record.{key}", title, result, SNIPE, put_in, steps)


def _fed(job: Job, record: Record, new: bool) -> Reason:
    def far(symbol: str, words: str, meters: Fraction) -> Quantity:
        return Quantity(
            symbol, words, meters / FOOT if job.units == "in" else meters, "given", "ft" if job.units == "in" else "m"
        )

    title, result = "Fed since the knives were changed", far("f", "fed", record.fed)
    if not new:
        return _kept("record.fed", title, result, FED, record.runs)
    before = job.planer.record.fed if job.planer.record else Fraction(0)
    put_in = (far("a", "before this run", before), far("b", "in this run", fed_length(follow(job))))
    return ruled("record.fed", title, result, FED, put_in, (("f", "a + b"),))


def _short(value: float) -> Fraction:
    return Fraction(str(round(value, 6)))
