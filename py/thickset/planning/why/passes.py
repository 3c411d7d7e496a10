"""Why a pass is as it is: setting, turns, feed, marks, test piece, minutes."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from thickset.planning.passes.model import Pass, Plan
from thickset.planning.why.other_settings import beside
from thickset.planning.why.reason import Check, Choice, Quantity, Reason, count, length
from thickset.planning.why.rules import RULES, Rule
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


def setting(plan: Plan, one: Pass, at: str) -> Reason:
    """Why a pass has its setting (rules 1, 3, 4 and 9).

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> [setting(plan, one, "").steps for one in plan.passes[1:]]
    [(('S', 'T + 2 × f'),), (('S', 'T + f'),), (('S', 'T'),)]
    """
    job, last = plan.job, len(plan.passes)
    title, result = f"Setting of pass {one.number}", length("S", "setting", one.setting)
    target, finish = length("T", "target", job.target), length("f", "finish cut", job.practice.finish_cut)
    thickest, step = length("H", "thick spot of the lot", plan.decides.thickness), length("q", "step", job.planer.step)
    over = plan.decides.thickness - job.target
    limits = tuple(_spacing(plan, one))
    before_last = last - one.number
    rule = RULES[1]
    if before_last == 0:
        return ruled(at, title, result, rule, (target,), (("S", "T"),), limits)
    if over <= 2 * job.practice.finish_cut:
        half = length("f′", "half of what is over, down to a whole step", one.setting - job.target)
        steps = (("f′", "floor((H − T) / (2 × q)) × q"), ("S", "T + f′"))
        return ruled(at, title, result, rule, (thickest, target, step), steps, limits, between=(half,))
    if before_last <= 2:
        sum_ = "T + f" if before_last == 1 else "T + 2 × f"
        return ruled(at, title, result, rule, (target, finish), (("S", sum_),), limits)
    whole = (one.setting - job.target - 2 * job.practice.finish_cut) / job.planer.step
    return ruled(
        at,
        title,
        result,
        RULES[9],
        (target, finish, step, count("n", "whole steps above the settings that are fixed", int(whole))),
        (("S", "T + 2 × f + n × q"),),
        limits,
        beside(plan, one.number - 1),
        "Between the fixed last settings and the thick spot only whole steps are open.",
    )


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
    title, result = f"Turns of the handle before pass {one.number}", Quantity("N", "turns", one.turns, "turns")
    rule = Rule(
        "From the setting before to this one, over what one turn moves.",
        "a screw moves its lead in each turn",
        "derived",
        "the screw without play: come to the setting always from the same side.",
    )
    if one.turns is None or plan.job.planer.turn is None:
        missing = "The first setting is set by the scale." if one.number == 1 else "What one turn moves is not entered."
        return ruled(at, title, result, rule, also=missing)
    before = length("S1", "setting before", plan.passes[one.number - 2].setting)
    put_in = (before, length("S2", "this setting", one.setting), length("u", "one turn", plan.job.planer.turn))
    return ruled(at, title, result, rule, put_in, (("N", "(S1 − S2) / u"),))


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
    formula, head = FORMULAS[marks_per_inch], plan.job.planer.head
    title = f"Marks per inch of pass {one.number}"
    result = Quantity("KM", "marks per inch", one.marks, "marks")
    if head is None:
        words = f"{formula.words} Without the head's speed and knives they are not known."
        return Reason(at, title, result, words, source=formula.source, known=formula.known, limits=formula.limits)
    put_in = (
        Quantity("n", "speed of the head", head.speed, "speed"),
        count("z", "knives that mark", head.marking_knives),
        Quantity("v", "feed", one.feed, "feed"),
    )
    steps = (("KM", "n × z / (12 × v)"),) if plan.job.units == "in" else formula.steps
    words = formula.words
    return Reason(at, title, result, words, put_in, steps, (), (), formula.source, formula.known, formula.limits)


def checked(plan: Plan, one: Pass, at: str) -> Reason:
    """Why a test piece goes first, or not.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> checked(plan, plan.passes[0], "").result.value
    'no'
    """
    job = plan.job
    rule = Rule(
        "A test piece goes first when the setting is as near the target as this.",
        "common practice, no source",
        "common practice",
        "a test piece of about the lot's thickness; measure it before the lot goes through.",
    )
    put_in = (
        length("S", "setting", one.setting),
        length("T", "target", job.target),
        length("a", "near the target", job.practice.near),
    )
    result = Quantity("S ≤ T + a", "test piece first", "yes" if one.checked else "no", "word")
    steps = (("", "S ≤ T + a"),)
    return ruled(at, f"Test piece before pass {one.number}", result, rule, put_in, steps)


def minutes(plan: Plan, one: Pass, at: str) -> Reason:
    """Why a pass takes so long (rule 8).

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> minutes(plan, plan.passes[0], "").steps[-1]
    ('t', '(s + N × h + 60 × l / (1000 × v)) / 60')
    """
    job, practice = plan.job, plan.job.practice
    lengths: dict[Fraction, int] = {}
    for fed in one.fed:
        board = job.boards[fed.board]
        lengths[board.length] = lengths.get(board.length, 0) + board.count
    put_in = [
        Quantity("s", "to set the planer", practice.set_seconds, "seconds"),
        count("N", "boards fed", sum(lengths.values())),
        Quantity("h", "to handle a board", practice.handle_seconds, "seconds"),
        Quantity("v", "feed", one.feed, "feed"),
    ]
    together = length("l", "their lengths together", sum((each * many for each, many in lengths.items()), Fraction(0)))
    steps = []
    if len(lengths) <= MOST_LENGTHS:
        for n, (each, many) in enumerate(lengths.items(), 1):
            put_in += [count(f"k{n}", "boards of this length", many), length(f"l{n}", "length", each)]
        steps.append(("l", " + ".join(f"k{n} × l{n}" for n in range(1, len(lengths) + 1))))
    else:
        put_in.append(together)
    measuring = ""
    if one.checked:
        put_in.append(Quantity("c", "to measure the test piece", practice.measure_seconds, "seconds"))
        measuring = " + c"
    per = "12" if job.units == "in" else "1000"
    steps.append(("t", f"(s + N × h + 60 × l / ({per} × v){measuring}) / 60"))
    result = Quantity("t", "minutes", one.minutes, "minutes")
    between = (together,) if len(steps) > 1 else ()
    return ruled(at, f"Minutes of pass {one.number}", result, RULES[8], tuple(put_in), tuple(steps), between=between)


def stage(plan: Plan, one: Pass, at: str) -> Reason:
    """Why a pass is rough or finish.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> stage(plan, plan.passes[0], "").result.value
    'rough'
    """
    rule = Rule(
        "The last two passes, or the one, are finish passes; all others are rough ones.",
        "common practice, no source",
        "common practice",
        "one light cut on each side at the end.",
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
    "minutes": minutes,
    "stage": stage,
}
"""What of a pass can be asked, by its key in the plan document."""
