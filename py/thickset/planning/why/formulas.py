"""Why a figure of the trade is what it is: its formula worked with the numbers put in, as a reason."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import islice

from thickset.ground.job.entries import show_feed
from thickset.planning.figures.loads import loads
from thickset.planning.figures.overhangs import hangings, longest
from thickset.planning.figures.shavings import air, exposures, noise, shavings
from thickset.planning.figures.surface import surfaces, wanted
from thickset.planning.passes.model import Plan
from thickset.planning.passes.moisture import in_service, proud
from thickset.planning.passes.scale import fineness
from thickset.planning.run.follow import follow
from thickset.planning.run.next_step import next_step
from thickset.planning.why.arithmetic import worked_steps
from thickset.planning.why.reason import Quantity, Reason
from thickset.trade.caliper import Belief, hit_chance, offset_interval
from thickset.trade.formula import Worked, within_range
from thickset.trade.trials import pieces_that_suffice

DIGITS = 6
"""Digits that a figure is told to; nobody measures more in a shop."""

POWERS = ("energy", "power_lowest", "power_highest")
"""The paths of the cutting energy and of the power it takes."""

_NO_UNIT = ("1", "count", "name")


def of_formula(at: str, title: str, answer: Worked) -> Reason:
    """A worked formula as a reason, in the units of the formula.

    >>> from thickset.trade.formula import worked
    >>> from thickset.trade.load import removal_rate
    >>> reason = of_formula("x", "Removal", worked(removal_rate, width=300.0, depth=1.5, feed=8.0))
    >>> reason.result, reason.steps
    (Quantity(symbol='Q', words='removal rate', value=Fraction(3600, 1), kind='given', unit='cm3/min'), (('Q', 'b × d × v'),))
    """
    formula = answer.formula
    if formula is None:
        raise ValueError("this answer was worked without a formula")
    put_in = tuple(_quantity(each.symbol, each.words, value, each.unit) for each, value in answer.put_in)
    symbol = formula.steps[-1][0] if formula.steps else ""
    result = _quantity(symbol, formula.title, answer.value, formula.unit)
    steps, between = formula.steps, tuple(_between(answer, formula.steps))
    return Reason(
        at, title, result, formula.words, put_in, steps, (), (), formula.source, formula.known, formula.limits, between
    )


def _between(answer: Worked, steps: tuple[tuple[str, str], ...]) -> Iterator[Quantity]:
    """What the steps before the result come to; of several results each is a step of its own."""
    if isinstance(answer.value, tuple):
        several = answer.value[-len(steps) :] if steps else ()
        yield from (
            _quantity(name, "", value, "") for (name, _), value in zip(steps[-len(several) :], several, strict=False)
        )
    elif len(steps) > 1:
        known = {
            each.symbol: float(value) for each, value in answer.put_in if isinstance(value, int | float | Fraction)
        }
        for symbol, value in islice(worked_steps(steps, known), len(steps) - 1):
            yield _quantity(symbol, "", value, "")


def _quantity(symbol: str, words: str, value: object, unit: str) -> Quantity:
    unit = "" if unit in _NO_UNIT else unit
    if isinstance(value, list):
        told = "; ".join(" h at ".join(f"{each:.4g}" for each in pair) + " dBA" for pair in value)
        return Quantity(symbol, words, told, "word")
    if isinstance(value, Belief):
        told = (
            f"offset {value.offset:.3f} mm, worth {value.offset_readings:.3g} readings; "
            f"spread {value.spread:.3f} mm, worth {value.spread_readings:.3g} readings"
        )
        return Quantity(symbol, words, told, "word")
    if isinstance(value, tuple):
        ends = " to ".join(f"{float(f'{float(each):.3g}'):,g}" for each in value)
        return Quantity(symbol, words, f"{ends} {unit}".rstrip(), "word")
    if isinstance(value, str) or value is None:
        return Quantity(symbol, words, value, "word")
    number = value if isinstance(value, Fraction | int) else Fraction(f"{float(str(value)):.{DIGITS}g}")
    return Quantity(symbol, words, number, "given", unit)


def figures(plan: Plan, what: str = "") -> Iterator[tuple[str, str, Worked]]:
    """Every figure beside the plan with its path and title; of one part only, if `what` begins with its name.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [at for at, _, _ in figures(make_plan(small_job()), "noise")]
    ['noise[0].daily_exposure', 'noise[1].daily_exposure']
    """
    for part, figures_of in PARTS.items():
        if not what or what.startswith(part):
            yield from figures_of(plan)


def _surface(plan: Plan) -> Iterator[tuple[str, str, Worked]]:
    for n, one in enumerate(surfaces(plan)):
        who = "one proud knife" if one.knives == 1 else "both knives" if one.knives == 2 else f"all {one.knives} knives"
        at, feed = f"surface[{n}]", show_feed(one.feed, plan.job.units).partition(" (")[0]
        for worked in (one.marks, one.pitch, *one.waves):
            yield f"{at}.{_key(worked)}", f"{_title(worked)}, {who} at {feed}", worked
    for aim in wanted(plan.job):
        yield f"surface.{aim.stage}", f"{_title(aim.feed)}, {aim.stage} passes", aim.feed


def _loads(plan: Plan) -> Iterator[tuple[str, str, Worked]]:
    for one in loads(plan):
        at = f"loads[{one.number - 1}]"
        if one.known_chip and any(board.worked for board in one.boards):
            yield f"{at}.known_chip", "Mean chip of the proven cut", one.known_chip
        for n, board in enumerate(one.boards):
            if board.worked and board.chip:
                name = plan.job.boards[board.board].name
                yield f"{at}.boards[{n}]", f"Load of board {name}, thin chips counted", board.worked
                yield f"{at}.boards[{n}].chip", f"Mean chip of board {name}", board.chip
        yield from _some(at, f", pass {one.number}", (one.widest, one.watts))
        for key, after, power in zip(POWERS, (", its weight", ", lowest", ", highest"), one.powers, strict=False):
            yield f"{at}.{key}", f"{_title(power)}{after}, pass {one.number}", power
        yield from _some(at, f", pass {one.number}", one.chips)


def _movement(plan: Plan) -> Iterator[tuple[str, str, Worked]]:
    found = in_service(plan.job)
    if found:
        yield from _some("movement", ", the room", (found.room,))
        for n, one in enumerate(found.changes):
            yield from _some(f"movement[{n}]", f", {one.wood}", (one.change, one.today))
    yield from _some("movement", "", (proud(plan.job),))


def _shavings(plan: Plan) -> Iterator[tuple[str, str, Worked]]:
    found = shavings(plan)
    for n, (solid, loose) in enumerate(zip(found.solid, found.loose, strict=True)):
        yield from _some(f"shavings[{n}]", f", pass {plan.passes[n].number}", (solid, loose))


def _air(plan: Plan) -> Iterator[tuple[str, str, Worked]]:
    found = air(plan)
    yield from _some("air", "", (found.usual, found.needed, found.speed))


def _noise(plan: Plan) -> Iterator[tuple[str, str, Worked]]:
    for n, one in enumerate(noise(plan)):
        yield from _some(f"noise[{n}]", f" by {one.rule} at {one.level:g} dBA", (one.dose,))
    for n, exposure in enumerate(exposures(plan)):
        yield from _some(f"noise[{n}]", f" at {exposure.level:g} dBA", (exposure.daily,))


def _support(plan: Plan) -> Iterator[tuple[str, str, Worked]]:
    found = hangings(plan.job)
    if found:
        most = longest(found)
        yield from _some(
            "support", f", board {plan.job.boards[most.board].name}", (most.free, most.stiffness, most.sag)
        )


def _scale(plan: Plan) -> Iterator[tuple[str, str, Worked]]:
    """What the caliper says of the scale at this point of the run."""
    state = follow(plan.job)
    tolerance = fineness(plan.job)
    one = next_step(state)
    belief = state.belief
    spread = {
        "spread": belief.spread,
        "offset_uncertainty": belief.offset_uncertainty,
        "spread_readings": belief.spread_readings,
    }
    yield from _some(
        "scale",
        "",
        (
            within_range(offset_interval, belief=state.belief),
            within_range(hit_chance, belief=state.belief, tolerance=tolerance),
            within_range(pieces_that_suffice, tolerance=tolerance, **spread, aim=float(one.aim)),
        ),
    )


PARTS = {
    "surface": _surface,
    "loads": _loads,
    "movement": _movement,
    "shavings": _shavings,
    "air": _air,
    "noise": _noise,
    "support": _support,
    "scale": _scale,
}
"""The parts beside the plan, by the first word of their paths."""


def _some(at: str, after: str, found: Iterable[Worked | None]) -> Iterator[tuple[str, str, Worked]]:
    for one in found:
        if one:
            yield f"{at}.{_key(one)}", f"{_title(one)}{after}", one


def _key(worked: Worked) -> str:
    return worked.formula.function.__name__ if worked.formula else ""


def _title(worked: Worked) -> str:
    return worked.formula.title[:1].upper() + worked.formula.title[1:] if worked.formula else ""
