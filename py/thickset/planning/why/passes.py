"""Why a pass is as it is: setting, turns, feed, marks, test piece, minutes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction

from thickset.ground.job.job import Job
from thickset.ground.notation.lengths import Units
from thickset.planning.passes.descent import (
    evenest_above,
    half_way,
    last_setting,
    one_cut_above,
    rough_setting,
    two_cuts_above,
)
from thickset.planning.passes.model import Pass, Plan
from thickset.planning.passes.planner import turns_between
from thickset.planning.passes.pricing import checked_pass_minutes, pass_minutes
from thickset.planning.passes.rules import PRACTICE, RULES, Rule
from thickset.planning.why.other_settings import with_setting_changed
from thickset.planning.why.reason import Check, Choice, Kind, Quantity, Reason, Value, count, length
from thickset.trade.formula import FORMULAS
from thickset.trade.marks import marks_per_inch

MOST_LENGTHS = 12
"""Lengths that are added up one by one; of more the sum is given."""


def ruled(
    at: str,
    title: str,
    result: Quantity,
    rule: Rule,
    put_in: tuple[Quantity, ...] = (),
    steps: tuple[tuple[str, str], ...] = (),
    checks: tuple[Check, ...] = (),
    choices: tuple[Choice, ...] = (),
    also: str = "",
    between: tuple[Quantity, ...] = (),
) -> Reason:
    """A reason by a rule of the plan.

    >>> ruled("minutes", "Minutes", count("t", "time", 3), RULES[8]).known
    'common practice'
    """
    words = f"{rule.words} {also}".rstrip()
    return Reason(
        at, title, result, words, put_in, steps, checks, choices, rule.source, rule.known, rule.limits, between
    )


KINDS: dict[str, Kind] = {
    "mm": "length",
    "m/min": "feed",
    "rpm": "speed",
    "marks/in": "marks",
    "count": "count",
    "s": "seconds",
    "min": "minutes",
    "turns": "turns",
    "1": "share",
}
"""What kind of number a formula's unit stands for."""


def computed(
    at: str,
    title: str,
    value: Fraction | None,
    function: Callable[..., object],
    units: Units,
    numbers: Mapping[str, Value] | None = None,
    also: str = "",
) -> Reason:
    """A reason by the function that computed a number of the plan [the formula's unit]; its steps only where there are numbers.

    >>> from thickset.trade.marks import pitch
    >>> computed("x", "Pitch", Fraction(1), pitch, "mm", {"speed": 5000, "knives": 1, "feed": 5}).steps
    (('p', '1000 × v / (n × z)'),)
    """
    formula, steps = FORMULAS[function], FORMULAS[function].steps_in(units)
    result = Quantity(steps[-1][0], formula.title, value, KINDS[formula.unit])
    put_in = (
        tuple(Quantity(each.symbol, each.words, numbers[each.name], KINDS[each.unit]) for each in formula.inputs)
        if numbers
        else ()
    )
    return Reason(
        at,
        title,
        result,
        f"{formula.words} {also}".rstrip(),
        put_in,
        steps if numbers else (),
        source=formula.source,
        known=formula.known,
        limits=formula.limits,
    )


def setting(plan: Plan, one: Pass, at: str) -> Reason:
    """Why a pass has its setting (rules 1, 3, 4 and 9).

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> [setting(plan, one, "").steps for one in plan.passes[1:]]
    [(('S', 'T + 2 × f'),), (('S', 'T + f'),), (('S', 'T'),)]
    """
    job, title, value = plan.job, f"Setting of pass {one.number}", one.setting
    target, finish, step = job.target, job.practice.finish_cut, job.planer.step
    thickest, before_last = plan.decides.thickness, len(plan.passes) - one.number
    limits = tuple(_spacing(plan, one))
    if before_last == 0:
        reason = computed(at, title, value, last_setting, job.units, {"target": target})
    elif thickest - target <= 2 * finish:
        reason = _between(at, title, value, job, thickest)
    elif before_last <= 2:
        above = one_cut_above if before_last == 1 else two_cuts_above
        reason = computed(at, title, value, above, job.units, {"target": target, "finish_cut": finish})
    else:
        numbers = {"target": target, "finish_cut": finish, "step": step}
        steps_above = int((value - two_cuts_above(target, finish)) / step)
        only = "Between the fixed last settings and the thick spot only whole steps are open."
        reason = computed(at, title, value, rough_setting, job.units, {**numbers, "steps_above": steps_above}, only)
        reason = replace(reason, choices=with_setting_changed(plan, one.number - 1))
    return replace(reason, checks=limits)


def _between(at: str, title: str, value: Fraction, job: Job, thickest: Fraction) -> Reason:
    """The setting before the last of a lot with no more than two finish cuts to go: half way, or the evenest that keeps the limits."""
    target, finish, step = job.target, job.practice.finish_cut, job.planer.step
    if value == half_way(thickest, target, step):
        numbers: dict[str, Value] = {"thickest": thickest, "target": target, "step": step}
        half = length("f′", "half of what is over, down to a whole step", value - target)
        return replace(computed(at, title, value, half_way, job.units, numbers), between=(half,))
    only = "Half of what is over would break a limit."
    steps_above = (value - target) / step
    if steps_above.denominator == 1:
        steps: dict[str, Value] = {"target": target, "step": step, "steps_above": int(steps_above)}
        return computed(at, title, value, evenest_above, job.units, steps, only)
    return computed(at, title, value, one_cut_above, job.units, {"target": target, "finish_cut": finish}, only)


def _spacing(plan: Plan, one: Pass) -> list[Check]:
    """The cut of the thickest boards of the pass against the limits that hold for it."""
    job = plan.job
    high = plan.passes[one.number - 2].setting if one.number > 1 else plan.decides.thickness
    cut = length("c", "thick spot at that time less the setting", high - one.setting)
    found = [
        Check(cut, "≤", length("C", "planned cut", job.practice.cut)),
        Check(cut, "≤", length("D", "the planer's deepest cut", job.planer.deepest_cut)),
    ]
    if one.number > 1:
        found.append(Check(cut, "≥", length("m", "lightest cut", job.planer.lightest_cut)))
    return found


def turns(plan: Plan, one: Pass, at: str) -> Reason:
    """Why the handle is turned so far.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> turns(plan, plan.passes[0], "").result.value is None
    True
    """
    title, units, turn = f"Turns of the handle before pass {one.number}", plan.job.units, plan.job.planer.turn
    if one.turns is None or turn is None:
        missing = "The first setting is set by the scale." if one.number == 1 else "What one turn moves is not entered."
        return computed(at, title, None, turns_between, units, also=missing)
    numbers = {"before": plan.passes[one.number - 2].setting, "setting": one.setting, "turn": turn}
    return computed(at, title, one.turns, turns_between, units, numbers)


def feed(plan: Plan, one: Pass, at: str) -> Reason:
    """Why a pass runs at its feed (rules 5 and 6): every feed of the planer, the fastest first.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> [choice.taken for choice in feed(plan, plan.passes[0], "").choices]
    [True]
    """
    job, head = plan.job, plan.job.planer.head
    wanted = job.practice.finish_marks if one.stage == "finish" else job.practice.rough_marks
    aim = Quantity("", "wanted", wanted, "marks")
    heaviest = max((fed.load for fed in one.fed if fed.load is not None), default=None)
    choices = []
    for speed in reversed(job.planer.feeds):
        checks = []
        if head:
            left = marks_per_inch(head.speed, head.marking_knives, speed)
            checks.append(Check(Quantity("KM", "marks per inch", left, "marks"), "≥", aim))
        if heaviest is not None:
            load = Quantity("L", "heaviest load", heaviest * speed / one.feed, "share")
            checks.append(Check(load, "≤", Quantity("", "", 1, "share")))
        taken = speed == one.feed
        verdict = "this one" if taken else "slower than need be" if speed < one.feed else _not(checks, one)
        choices.append(Choice("", tuple(checks), Quantity("v", "feed", speed, "feed"), verdict, taken))
    result = Quantity("v", "feed", one.feed, "feed")
    return ruled(at, f"Feed of pass {one.number}", result, RULES[6], choices=tuple(choices))


def _not(checks: list[Check], one: Pass) -> str:
    if not checks:
        return f"too fast for a {one.stage} pass"
    return "not taken" if all(check.holds for check in checks) else "not allowed"


def marks(plan: Plan, one: Pass, at: str) -> Reason:
    """Why a pass leaves so many marks per inch: the formula of the trade, in the job's unit.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> marks(plan, plan.passes[0], "").result.value is None
    True
    """
    title, head, units = f"Marks per inch of pass {one.number}", plan.job.planer.head, plan.job.units
    if head is None:
        missing = "Without the head's speed and knives they are not known."
        return computed(at, title, None, marks_per_inch, units, also=missing)
    numbers: dict[str, Value] = {"speed": head.speed, "knives": head.marking_knives, "feed": one.feed}
    return computed(at, title, one.marks, marks_per_inch, units, numbers)


def checked(plan: Plan, one: Pass, at: str) -> Reason:
    """Why a piece is measured first, or not: since the target is near, or since nothing is known of the scale.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> checked(plan, plan.passes[0], "").result.value
    'yes'
    """
    job = plan.job
    if one.for_scale:
        return for_scale(plan, one, at)
    rule = Rule(
        "A test piece goes first when the setting is as near the target as this.",
        "common practice, no source",
        "common practice",
        "A test piece of about the lot's thickness. Measure it before the lot goes through.",
    )
    put_in = (
        length("S", "setting", one.setting),
        length("T", "target", job.target),
        length("a", "near the target", job.practice.near),
    )
    result = Quantity("S ≤ T + a", "test piece first", "yes" if one.checked else "no", "word")
    steps = (("", "S ≤ T + a"),)
    return ruled(at, f"Test piece before pass {one.number}", result, rule, put_in, steps)


def for_scale(plan: Plan, one: Pass, at: str) -> Reason:
    """Why the first piece is measured though the target is not near.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> for_scale(plan, plan.passes[0], "").steps
    (('', 'n < 1'),)
    """
    rule = Rule(
        "As long as no piece that was measured tells how far the scale is off, one is measured before the boards follow, and the rest is "
        "planned from it. A scrap guards every board. The thickest board, fed alone, guards the others.",
        PRACTICE,
        "common practice",
        "One reading. It is off by what settings stray.",
    )
    record = plan.job.planer.record
    known = Quantity("n", "readings that the scale's offset is known by", record.offset_worth if record else 0, "given")
    result = Quantity("n < 1", "one piece measured first", "yes", "word")
    title = f"{'Unknown scale in' if at.endswith('for_scale') else 'Test piece before'} pass {one.number}"
    return ruled(at, title, result, rule, (known,), (("", "n < 1"),))


def minutes(plan: Plan, one: Pass, at: str) -> Reason:
    """Why a pass takes so long (rule 8).

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> minutes(plan, plan.passes[0], "").steps[-1]
    ('t', '(s + N × h + 60 × l / (1000 × v) + c) / 60')
    """
    job, practice = plan.job, plan.job.practice
    lengths: dict[Fraction, int] = {}
    for fed in one.fed:
        board = job.boards[fed.board]
        lengths[board.length] = lengths.get(board.length, 0) + board.count
    together = sum((each * many for each, many in lengths.items()), Fraction(0))
    numbers: dict[str, Value] = {
        "set_seconds": practice.set_seconds,
        "boards": sum(lengths.values()),
        "handle_seconds": practice.handle_seconds,
        "feed": one.feed,
        "length": together,
        "measure_seconds": practice.measure_seconds,
    }
    function = checked_pass_minutes if one.checked else pass_minutes
    reason = computed(at, f"Minutes of pass {one.number}", one.minutes, function, job.units, numbers)
    if len(lengths) > MOST_LENGTHS:
        return reason
    place = next(n for n, each in enumerate(reason.put_in) if each.symbol == "l")
    each_length = [
        quantity
        for n, (each, many) in enumerate(lengths.items(), 1)
        for quantity in (count(f"k{n}", "boards of this length", many), length(f"l{n}", "length", each))
    ]
    added = " + ".join(f"k{n} × l{n}" for n in range(1, len(lengths) + 1))
    put_in = (*reason.put_in[:place], *each_length, *reason.put_in[place + 1 :])
    return replace(reason, put_in=put_in, steps=(("l", added), *reason.steps), between=(reason.put_in[place],))


def stage(plan: Plan, one: Pass, at: str) -> Reason:
    """Why a pass is rough or finish.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> stage(plan, plan.passes[0], "").result.value
    'rough'
    """
    rule = Rule(
        "The last two passes, or the one, are finish passes. All others are rough ones.",
        "common practice, no source",
        "common practice",
        "One light cut on each face at the end.",
    )
    put_in = (count("p", "this pass", one.number), count("K", "passes", len(plan.passes)))
    result = Quantity("p > K − 2", "finish pass", one.stage, "word")
    return ruled(at, f"Stage of pass {one.number}", result, rule, put_in, (("", "p > K − 2"),))


Ask = Callable[[Plan, Pass, str], Reason]

ABOUT_A_PASS: dict[str, Ask] = {
    "setting_mm": setting,
    "turns": turns,
    "feed_mm_per_s": feed,
    "marks_per_inch": marks,
    "checked": checked,
    "for_scale": for_scale,
    "minutes": minutes,
    "stage": stage,
}
"""What of a pass can be asked, by its key in the plan document."""
