"""Every reason is worked out anew from what it puts in and its steps alone, and comes to the result that it gives.

The steps are read here by Python itself: what the page works them out by is not asked.
"""

import math
import random
import re
from dataclasses import replace
from fractions import Fraction
from statistics import NormalDist

import pytest
import strategies
from amounts import times
from independent import INCH
from thickset.ground.job import document
from thickset.ground.job.job import ProblemsError
from thickset.planning.passes.planner import make_plan
from thickset.planning.stock.buying import Need, amount, fitting
from thickset.planning.stock.slab import RoughBoard, best_slab, whole_slab
from thickset.planning.why.ask import reasons
from thickset.planning.why.buying import buying_reasons, slab_reasons

LOTS = max(60, times(60))  # with fewer, not every kind of reason is met
LAW = NormalDist()
IN_PYTHON = {"×": "*", "^": "**", "−": "-", "≤": "<=", "≥": ">="}
TOOLS = {
    "√": math.sqrt,
    **{name: getattr(math, name) for name in ("acos", "sin", "cos", "log10", "floor")},
    "π": math.pi,
    "min": lambda *each: min(each),
    "max": lambda *each: max(each),
    "Φ": LAW.cdf,
    "z": lambda share: LAW.inv_cdf(1 - share),
}
PART = re.compile(r"\d+(?:\.\d+)?|[^\W\d_]+\d*′?|√|\S")
FOOT = 12 * INCH / 1000
DIGITS, FINEST = 1e-5, 1e-6
"""What is measured or worked in between is told to six digits or to the sixth decimal, whichever is coarser."""

NO_STEPS = re.compile(
    r"scale\.\w+|shavings\.empty|targets\[\]\.\w+|parts\.waste|loads\[\]\.(watts_order_of_magnitude|energy)"
    r"|record\.\w+"
)
"""Answers that no steps give: a table looked up, a search, a count of boards, what stands as it was entered."""


def in_the_jobs_unit(quantity, units):
    """A number as the person who checks it reads it: lengths in inches and feeds in ft/min for a job in inches."""
    if quantity.value is None or isinstance(quantity.value, str):
        return quantity.value
    per = {"length": INCH, "feed": FOOT}.get(quantity.kind, 1) if units == "in" else 1
    return Fraction(quantity.value) / per


def worked_out(expression, known):
    """An expression with the numbers put in, exactly where it has no roots and the like."""
    names = {**TOOLS, **known}
    parts, used = [], {}
    for part in PART.findall(expression):
        if part[0].isdigit():
            parts.append(f"number('{part}')")
        elif part in names:
            used[f"n{len(used)}"] = names[part]
            parts.append(f"n{len(used) - 1}")
        else:
            assert part in "×^−+/(),<>≤≥", f"{part} of {expression} is not known"
            parts.append(IN_PYTHON.get(part, part))
    return eval(" ".join(parts), {"__builtins__": {}}, {"number": Fraction, **used})  # noqa: S307


def slack(expression, known, loose):
    """How far a result may be off because numbers put in are told rounded."""
    value, off = worked_out(expression, known), FINEST
    for symbol in loose:
        if isinstance(known[symbol], Fraction | int | float):
            nudged = known[symbol] + loose[symbol]
            off += abs(worked_out(expression, {**known, symbol: nudged}) - value)
    return off + DIGITS * abs(value)


def work_out(reason, units, finest=0.0):
    """Hold a reason to its steps: exactly, but where numbers are told rounded, or to `finest`."""
    known = {each.symbol: in_the_jobs_unit(each, units) for each in reason.put_in}
    assert len(known) == len(reason.put_in), "one symbol stands for one thing"
    told = {each.symbol: in_the_jobs_unit(each, units) for each in reason.between}
    rounded = finest > 0 or any(each.kind == "given" for each in (*reason.put_in, reason.result))
    loose = {}
    if rounded:
        numbers = {symbol: value for symbol, value in known.items() if isinstance(value, Fraction | int)}
        loose = {symbol: max(DIGITS * abs(value), FINEST, finest) for symbol, value in numbers.items()}

    def hold(value, said, expression):
        if not rounded and isinstance(value, Fraction | int):
            assert value == said, f"{expression} is {value}, not {said}"
        else:
            assert abs(value - said) <= slack(expression, known, loose) + finest, f"{expression} is {value}, not {said}"

    result = in_the_jobs_unit(reason.result, units)
    for symbol, expression in reason.steps:
        value = worked_out(expression, known)
        if symbol in told:
            hold(value, told[symbol], expression)
        if (symbol, expression) == reason.steps[-1] and not isinstance(result, str):
            hold(value, result, expression)
        if loose:
            loose[symbol] = slack(expression, known, loose)
        known[symbol] = value
    if isinstance(value, bool):
        assert result in (("yes", "finish") if value else ("no", "rough"))
    elif isinstance(result, str):
        assert symbol in told, "the number behind a word is told"
    return {**known, **told}


def decided(reason, known):
    """Hold a reason with choices to them: the first of those that stand open, by limits or by what was counted, is the one."""
    taken = [choice for choice in reason.choices if choice.taken]
    assert len(taken) == 1
    key = reason.at.rpartition(".")[2]
    if key in ("up", "leads"):
        even = known["k"] % 2 == 0
        assert taken[0] is reason.choices[0 if even else 1]
        assert reason.result.value == {"up": "BA", "leads": "12"}[key][0 if even else 1]
    elif key == "outcome":
        assert taken[0] is next(one for one in reason.choices if all(check.holds for check in one.checks))
        assert reason.result.value == taken[0].words
    elif key == "feed_mm_per_s":
        assert taken[0].result.value == reason.result.value
        open_to = [one for one in reason.choices if one.checks and all(check.holds for check in one.checks)]
        if open_to and any(check.left.symbol == "KM" for check in taken[0].checks):
            assert taken[0] is open_to[0]
    else:
        assert key == "setting_mm"
        minutes = [one.result.value for one in reason.choices if one.result]
        assert taken[0].result.value == min(minutes)


def held(reason, units, finest=0.0):
    """A reason held to what it says; how many steps that took."""
    known = {each.symbol: each.value for each in reason.put_in}
    if reason.steps:
        known = work_out(reason, units, finest)
    if reason.choices:
        decided(reason, known)
    elif not reason.steps:
        at = re.sub(r"\[\d+\]", "[]", reason.at)
        assert reason.result.value is None or NO_STEPS.fullmatch(at), f"{at} has no steps"
    return len(reason.steps)


def run_of(plan, chance):
    """A run down the plan that stops anywhere, each opening a little off, with what is measured on the way."""
    events = []
    off = chance.choice([0, 0, 4, -3])
    for one in plan.passes[: chance.randint(0, len(plan.passes))]:
        setting = f"{strategies.decimal(round(one.setting, 4))} mm"
        events.append({"did": "feed", "setting": setting, "scale": setting, "after": chance.randint(10, 90)})
        if chance.random() < 0.6:
            thick = round(one.setting + Fraction(off + chance.randint(-2, 2), 100), 4)
            events.append({"did": "check", "thickness": f"{strategies.decimal(thick)} mm", "after": 8})
    if len(events) > 1 and chance.random() < 0.5:
        places = ["end 1 left", "middle center", "end 2 right"]
        for board in plan.job.boards:
            thick = [round(plan.job.target + Fraction(chance.randint(-40, 20), 100), 4) for _ in places]
            told = [f"{strategies.decimal(each)} mm" for each in thick]
            events.append({"did": "measure", "board": board.name, "readings": told, "places": places})
    if events and chance.random() < 0.3:
        events.append({"did": "snipe", "lead": "65 mm", "trail": "12 mm"})
    return events


def plans():
    """Plans of random lots, and the same lots somewhere in their run."""
    for seed in range(LOTS):
        entered = strategies.whole_shop(seed)
        found = document.read(entered)
        assert found.job, found.problems
        try:
            plan = make_plan(found.job)
        except ProblemsError:
            continue
        yield plan
        begun = document.read({**entered, "run": run_of(plan, random.Random(seed))})
        assert begun.job, begun.problems
        yield make_plan(begun.job)


@pytest.mark.slow
def test_every_reason_of_random_lots_comes_of_its_steps():
    worked, paths = 0, set()
    for plan in plans():
        for reason in reasons(plan):
            try:
                worked += held(reason, plan.job.units) > 0
            except AssertionError as error:
                raise AssertionError(f"{reason.at}: {error}\n{reason}") from error
            paths.add(re.sub(r"\[\d+\]", "[]", reason.at))
    assert worked > 84 * LOTS, "over 5,000 of the usual 60 lots"
    assert len(paths) > 60


@pytest.mark.parametrize("seed", range(times(20)))
def test_every_reason_about_wood_before_it_is_a_lot_comes_of_its_steps(seed):
    chance = random.Random(seed)
    rows = tuple(tuple(round(chance.uniform(22, 30), 1) for _ in range(2)) for _ in range(3))
    board = RoughBoard(2000, 160, rows, chance.randint(-3, 3), chance.randint(-8, 8), chance.randint(-4, 4))
    units = chance.choice(["mm", "in"])
    told = list(slab_reasons(whole_slab(board), best_slab(board, 900, 120), Fraction(20), units))
    need = Need(
        units,
        *(Fraction(each) for each in (chance.randint(15, 40), 2, chance.randint(1, 5))),
        width=Fraction(chance.randint(60, 200)),
        length=Fraction(chance.randint(400, 1800)),
        many=Fraction(chance.randint(1, 9)),
        rate=Fraction(chance.randint(0, 1) * 8),
    )
    best = fitting(need)[0]
    told += buying_reasons(need, best, amount(need, best))
    steps = [held(reason, units, finest=1e-4) for reason in told]
    assert len(steps) >= 9
    assert all(steps)


def test_a_wrong_step_is_found():
    plan = next(plans())
    for reason in reasons(plan):
        if reason.steps and not isinstance(reason.result.value, str):
            symbol, expression = reason.steps[-1]
            with pytest.raises(AssertionError):
                held(
                    replace(reason, steps=(*reason.steps[:-1], (symbol, f"({expression}) × 1.01 + 1 / 100"))),
                    plan.job.units,
                )
