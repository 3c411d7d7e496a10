"""Why the minutes of the two ways by habit are what they are, and what the plan costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from thickset.ground.notation.lengths import near
from thickset.planning.passes.costs import cost_of, wood_in
from thickset.planning.passes.habits import (
    Habit,
    all_at_every_setting,
    board_by_board,
    even_step,
)
from thickset.planning.passes.lot import pieces_of
from thickset.planning.passes.model import Plan
from thickset.planning.passes.rules import PRACTICE, RULES, Rule
from thickset.planning.stock.buying import SOLD_IN
from thickset.planning.why.passes import ruled
from thickset.planning.why.reason import Quantity, Reason, count, length

HABITS = (
    ("time.all_at_every_setting", "all boards through", all_at_every_setting),
    ("time.board_by_board", "one by one", board_by_board),
)
EVEN = Rule(
    "By habit one goes down in even steps to the same last settings as the plan: even steps above the first of them, as many as the thick spot "
    "needs. With a rest, to the stop before it and on from there.",
    PRACTICE,
    "common practice",
    "A habit is a guess at how a lot would be planed without a plan. Yours may be another.",
)
STEP = Rule(
    "The planned cut, no more than the planer's deepest cut and, with a proven cut, what the motor takes of the hardest board at the slowest feed, "
    "in whole steps of the scale.",
    PRACTICE,
    "common practice",
    "One by one, a board that the motor takes more of has a step of its own.",
)
COST = Rule(
    "Rates times hours, and the wood of the lot as it is before planing.",
    "product, derived",
    "derived",
    "As good as the rates entered. What nobody gave a rate for is left out.",
)

MOST_SHOWN = 12
"""Settings that are named one by one."""


def habit_reasons(plan: Plan, what: str = "") -> Iterator[Reason]:
    """The reasons for the minutes and settings of both habits, and for the cost [min, count, money].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [one.at for one in habit_reasons(make_plan(small_job()), "time")][:3]
    ['time.even_step', 'time.all_at_every_setting.minutes', 'time.all_at_every_setting.settings']
    """
    if plan.passes and (not what or what.startswith("time")):
        yield _step(plan)
        for at, name, habit in HABITS:
            found = habit(plan.job)
            if found:
                yield _minutes(plan, found, f"{at}.minutes", f"Minutes, {name}")
                yield _settings(plan, found, f"{at}.settings", f"Settings, {name}")
    if not what or what.startswith("cost"):
        yield from _cost(plan)


def _step(plan: Plan) -> Reason:
    job = plan.job
    found = even_step(job, max(piece.load for piece in pieces_of(job.boards, job.planer.known_cut)))
    put_in = [
        length("C", "planned cut", job.practice.cut),
        length("D", "the planer's deepest cut", job.planer.deepest_cut),
        length("q", "step of the scale", job.planer.step),
    ]
    limits = "C, D"
    if found.by_load is not None:
        put_in.append(length("A", "what the motor takes of the hardest board at the slowest feed", found.by_load))
        limits = "C, D, A"
    steps = (("c", f"floor(min({limits}) / q) × q"),)
    return ruled(
        "time.even_step", "Even step by habit", length("c", "even step", found.step), STEP, tuple(put_in), steps
    )


def _settings(plan: Plan, habit: Habit, at: str, title: str) -> Reason:
    """Ways down of so many settings each, and how many times such a way is gone."""
    ways: Counter[int] = Counter()
    for one in habit.ways:
        ways[len(one.settings)] += one.times
    put_in: list[Quantity] = []
    for n, (settings, times) in enumerate(sorted(ways.items()), 1):
        put_in += [count(f"n{n}", "settings on a way down", settings), count(f"k{n}", "times so", times)]
    steps = (("N", " + ".join(f"k{n} × n{n}" for n in range(1, len(ways) + 1))),)
    longest = max(habit.ways, key=lambda one: len(one.settings)).settings
    told = [near(each, plan.job.units, 3) for each in longest]
    if len(told) > MOST_SHOWN:
        told = [*told[: MOST_SHOWN // 2], "and so on", *told[-MOST_SHOWN // 2 :]]
    also = f"The longest way down: {', '.join(told)}." if told else ""
    return ruled(at, title, count("N", "settings", habit.settings), EVEN, tuple(put_in), steps, also=also)


def _minutes(plan: Plan, habit: Habit, at: str, title: str) -> Reason:
    job, practice = plan.job, plan.job.practice
    put_in = [
        count("N", "settings", habit.settings),
        Quantity("s", "to set the planer", practice.set_seconds, "seconds"),
        count("b", "boards fed, each as often as it goes through", habit.fed),
        Quantity("h", "to handle a board", practice.handle_seconds, "seconds"),
        count("k", "test pieces", habit.checked),
        Quantity("c", "to measure a test piece", practice.measure_seconds, "seconds"),
    ]
    per = "12" if job.units == "in" else "1000"
    feeding = []
    for n, (long, feed) in enumerate(zip(habit.lengths, job.planer.feeds, strict=True), 1):
        if long:
            put_in += [
                length(f"l{n}", "boards fed at this feed, end to end", long),
                Quantity(f"v{n}", "feed", feed, "feed"),
            ]
            feeding.append(f" + l{n} / ({per} × v{n})")
    steps = (("t", f"(N × s + b × h + k × c) / 60{''.join(feeding)}"),)
    return ruled(at, title, Quantity("t", "minutes", habit.shares.total, "minutes"), RULES[8], tuple(put_in), steps)


def _cost(plan: Plan) -> Iterator[Reason]:
    job, rates = plan.job, plan.job.rates
    parts = (
        ("p × t / 60", Quantity("p", "people, for an hour", rates.people, "given")),
        ("m × t / 60", Quantity("m", "planer, for an hour", rates.machine, "given")),
        ("w × V", Quantity("w", f"wood, for one of {SOLD_IN[job.units]}", rates.wood, "given")),
    )
    known = [(term, rate) for term, rate in parts if rate.value is not None]
    if not known:
        return
    put_in = [rate for _, rate in known]
    if rates.people is not None or rates.machine is not None:
        put_in.append(Quantity("t", "minutes of the plan", plan.minutes, "minutes"))
    if rates.wood is not None:
        put_in.append(Quantity("V", "wood of the lot", wood_in(job), "given", SOLD_IN[job.units]))
    result = Quantity("c", "cost", cost_of(job, plan.minutes).total, "share")
    yield ruled("cost", "Cost", result, COST, tuple(put_in), (("c", " + ".join(term for term, _ in known)),))
