"""What comes off the lot and goes through the air: shavings of each pass, bags, the air that carries them, noise."""

from __future__ import annotations

from dataclasses import dataclass

from thickset.ground.job.job import Job
from thickset.planning.passes.model import Pass, Plan
from thickset.trade import chips
from thickset.trade.chips import TRANSPORT_SPEED, Emptying
from thickset.trade.formula import Worked, number, telling, within_range
from thickset.trade.noise import CRITERIA, PLANER_LEVEL, Rule, daily_exposure, steady_dose

SQUARE_METER = 1_000_000
"""mm2."""

FROM_READINGS = {
    "area": "width times length of each board fed",
    "depth": "what stands above the setting at each reading, no more than up to the setting before: the mean of a board's readings, "
    "and of all boards, each by its area",
}
"""Where area and depth come from: each reading stands for an equal share of its board."""

RULES: tuple[Rule, ...] = ("OSHA", "NIOSH")


@dataclass(frozen=True)
class Shavings:
    """Solid and loose volume of each pass [L], and when to empty a bag of a size [L]."""

    solid: tuple[Worked, ...]
    loose: tuple[Worked, ...]
    bag: float
    emptying: Worked | None

    @property
    def total(self) -> tuple[float, float]:
        """All of it, solid and loose [L]."""
        return sum(map(number, self.solid)), sum(map(number, self.loose))

    @property
    def when(self) -> Emptying | None:
        """When to empty."""
        found = self.emptying.value if self.emptying else None
        return found if isinstance(found, Emptying) else None


def shavings(plan: Plan) -> Shavings:
    """The shavings of a plan, by the readings: each stands for an equal share of its board.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [round(part, 2) for part in shavings(make_plan(small_job())).total]
    [0.78, 3.12]
    """
    solid = [one for place in range(len(plan.passes)) if (one := _solid(plan, place))]
    loose = [one for each in solid if (one := within_range(chips.loose_volume, solid=number(each)))]
    bag = float(plan.job.shop.bag) if plan.job.shop else 100.0
    emptying = within_range(chips.when_to_empty, loose=[number(one) for one in loose], size=bag) if loose else None
    return Shavings(tuple(solid), tuple(loose), bag, emptying)


def _solid(plan: Plan, place: int) -> Worked | None:
    """A pass's area and mean depth: volume over area."""
    one = plan.passes[place]
    low = float(one.setting)
    high = float(plan.passes[place - 1].setting) if place else float("inf")
    area = volume = 0.0
    for fed in one.fed:
        board = plan.job.boards[fed.board]
        depths = [max(0.0, min(float(reading), high) - low) for reading in board.readings]
        face = float(board.width) * float(board.length) * board.count
        area += face
        volume += face * sum(depths) / len(depths)
    if not area:
        return None
    found = within_range(chips.solid_volume, area=area / SQUARE_METER, depth=volume / area)
    return telling(found, FROM_READINGS) if found else None


@dataclass(frozen=True)
class Noise:
    """The dose of the planned minutes at a level [dBA] by a rule, in per cent of a day's."""

    level: float
    rule: Rule
    dose: Worked


@dataclass(frozen=True)
class Exposure:
    """The daily exposure that the planned minutes at a level [dBA] come to by the European rule."""

    level: float
    daily: Worked


def is_european(job: Job) -> bool:
    """Whose limits for noise are told: those that were chosen, else the European ones to who works in millimeters.

    >>> from thickset.ground.job.example import small_job
    >>> is_european(small_job())
    True
    """
    chosen = job.shop.limits if job.shop else None
    return chosen == "european" if chosen else job.units == "mm"


def exposures(plan: Plan) -> list[Exposure]:
    """The daily exposure by the European rule, of both ends of the usual range where no level is entered.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [one.level for one in exposures(make_plan(small_job()))]
    [100.0, 104.0]
    """
    if not is_european(plan.job):
        return []
    hours, told = running_hours(plan.passes), {"hours": "all of the planned minutes over 60"}
    found = [(level, within_range(daily_exposure, hours=hours, level=level)) for level in _levels(plan)]
    return [Exposure(level, telling(one, told)) for level, one in found if one]


def _levels(plan: Plan) -> tuple[float, ...]:
    given = plan.job.shop.noise if plan.job.shop else None
    return (float(given),) if given is not None else PLANER_LEVEL


def noise(plan: Plan) -> list[Noise]:
    """The noise dose of the planned minutes by the American rules; of both ends of the usual range where no level is entered.

    >>> from dataclasses import replace
    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> [(one.level, one.rule) for one in noise(make_plan(replace(small_job(), units="in")))]
    [(100.0, 'OSHA'), (100.0, 'NIOSH'), (104.0, 'OSHA'), (104.0, 'NIOSH')]
    """
    if is_european(plan.job):
        return []
    hours = running_hours(plan.passes)
    return [
        Noise(level, rule, dose) for level in _levels(plan) for rule in RULES if (dose := _dose(hours, level, rule))
    ]


def _dose(hours: float, level: float, rule: Rule) -> Worked | None:
    criterion, exchange = CRITERIA[rule]
    found = within_range(steady_dose, hours=hours, level=level, criterion=criterion, exchange=exchange)
    told = {"hours": "all of the planned minutes over 60", "criterion": rule, "exchange": rule}
    return telling(found, told) if found else None


def running_hours(passes: tuple[Pass, ...]) -> float:
    """How long the planer runs [h]: all of the planned minutes, on the safe side.

    >>> running_hours(())
    0.0
    """
    return float(sum(one.minutes for one in passes)) / 60


@dataclass(frozen=True)
class Air:
    """The usual flow for the planer's width [m3/h], and the speed of the air in the duct [m/s] where flow and duct are entered."""

    usual: Worked | None
    speed: Worked | None
    needed: Worked | None


def air(plan: Plan) -> Air:
    """The air that carries the shavings.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> air(make_plan(small_job()))
    Air(usual=None, speed=None, needed=None)
    """
    shop, widest = plan.job.shop, plan.job.planer.widest
    usual = within_range(chips.exhaust_for_planer, knife_length=float(widest)) if widest else None
    usual = telling(usual, {"knife_length": "taken as the widest board the planer takes"}) if usual else None
    if shop is None or shop.duct is None:
        return Air(usual, None, None)
    needed = within_range(chips.duct_flow, speed=TRANSPORT_SPEED, diameter=float(shop.duct))
    speed = within_range(chips.duct_speed, flow=float(shop.air), diameter=float(shop.duct)) if shop.air else None
    return Air(usual, speed, needed)
