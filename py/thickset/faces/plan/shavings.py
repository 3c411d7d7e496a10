"""The folded part "Shavings, air, noise": what to have ready for what comes off, and what the planned minutes do to ears."""

from __future__ import annotations

from thickset.faces.why.words import LITERS_PER_FT3
from thickset.faces.words import digits, words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.job.job import Job
from thickset.planning.figures.shavings import Air, Exposure, Noise, Shavings, air, exposures, noise, shavings
from thickset.planning.passes.model import Plan
from thickset.trade.chips import M3H_PER_CFM, TRANSPORT_SPEED
from thickset.trade.formula import number
from thickset.trade.noise import LIMIT, LOWER_ACTION, UPPER_ACTION

LITERS_PER_GALLON = 3.785411784
"""One US gallon, 231 in3 [L], exact."""

DUST = "Wood dust harms lungs. Extract it and wear a mask. Your local rules set the limits."
EARS = "Wear ear protection whatever the figure says."


def shaving_part(plan: Plan) -> Markup:
    """Shavings, air and noise of a plan, folded; nothing when nothing is cut.

    >>> from thickset.faces.words.example import lot
    >>> "bag" in shaving_part(lot("7/8")), shaving_part(lot("3/4")) == ""
    (True, True)
    """
    if not plan.passes:
        return EMPTY
    return el(
        "details",
        el("summary", "Shavings, air, noise"),
        *_shavings(shavings(plan), plan.job),
        *_air(air(plan), plan.job),
        *_noise(plan),
        class_="folded shavings",
    )


def volume(value: float, job: Job) -> str:
    """A volume [L] in the unit of the job.

    >>> from thickset.faces.words.example import lot
    >>> volume(40.0, lot("7/8").job)
    '1.4 ft³'
    """
    return f"{digits.rounded(value / LITERS_PER_FT3)} ft³" if job.units == "in" else f"{digits.rounded(value)} L"


def _shavings(found: Shavings, job: Job) -> list[Markup]:
    solid, loose = found.total
    size = (
        f"{digits.rounded(found.bag / LITERS_PER_GALLON)} gal"
        if job.units == "in"
        else f"{digits.rounded(found.bag)} L"
    )
    parts = [
        el("h3", "Shavings"),
        el("p", f"{volume(solid, job)} of solid wood comes off, some {volume(loose, job)} of loose shavings."),
    ]
    when = found.when
    if when:
        parts.append(el("p", f"That fills {_bags(when.filled)} of {size}. {_empty(when.after, when.during)}"))
    return [*parts, ask_button("shavings", "Why these figures?", "Why these figures of the shavings?")]


def _bags(filled: float) -> str:
    if filled < 0.1:
        return "under a tenth of a bag"
    return f"{digits.rounded(filled)} of a bag" if filled <= 1 else f"{digits.rounded(filled)} bags"


def _empty(after: tuple[int, ...], during: tuple[int, ...]) -> str:
    said = []
    if after:
        said.append(f"Empty it after {words.pass_numbers(after)}.")
    if during:
        said.append(f"It fills up during {words.pass_numbers(during)}: watch it.")
    return " ".join(said) or "Begin with an empty one and it lasts."


def _air(found: Air, job: Job) -> list[Markup]:
    lines = []
    if found.usual:
        lines.append(
            f"Usual airflow for a planer this wide: {_flow(number(found.usual), job)}. The manual comes first."
        )
    if found.needed:
        lines.append(
            f"This duct carries shavings well from an airflow of {_flow(number(found.needed), job)}, at {_speed(TRANSPORT_SPEED, job)}."
        )
    if found.speed:
        enough = "enough to carry them"
        if number(found.speed) < TRANSPORT_SPEED:
            enough = "too slow, shavings may settle in the duct"
        elif found.usual and job.shop and job.shop.air is not None and float(job.shop.air) < number(found.usual):
            enough += ", though the airflow is less than is usual for a planer this wide"
        lines.append(f"Its air now runs at {_speed(number(found.speed), job)}: {enough}.")
    if job.shop and job.shop.air is not None and job.shop.duct is None:
        lines.append("Enter the duct's diameter as well. Then the plan says how fast the air runs in it.")
    if not lines:
        lines.append(
            "Enter the planer's widest board, the duct and the airflow. Then the plan says whether the air carries the shavings."
        )
    asks = (
        [ask_button("air", "Why these figures?", "Why these figures of the air?")]
        if found.usual or found.needed
        else []
    )
    return [el("h3", "Air"), *(el("p", line) for line in lines), el("p", DUST, class_="hint"), *asks]


def _flow(value: float, job: Job) -> str:
    return f"{digits.rounded(value / M3H_PER_CFM, 3)} cfm" if job.units == "in" else f"{digits.rounded(value, 3)} m³/h"


def _speed(value: float, job: Job) -> str:
    return f"{digits.rounded(value / 0.00508, 3)} ft/min" if job.units == "in" else f"{digits.rounded(value, 3)} m/s"


def _noise(plan: Plan) -> list[Markup]:
    found, european = noise(plan), exposures(plan)
    levels = sorted({*(one.level for one in found), *(one.level for one in european)})
    if not levels:
        return []
    given = f"{digits.rounded(levels[0], 3)} dBA" if len(levels) == 1 else "100 to 104 dBA, as is usual"
    said = f"{words.minutes(plan.minutes)} at {given}: {_exposed(european) if european else _dosed(found)}."
    return [
        el("h3", "Noise"),
        el("p", figure(said)),
        el("p", EARS, class_="hint"),
        ask_button("noise", "Why these figures?", "Why these figures of the noise?"),
    ]


def _dosed(found: list[Noise]) -> str:
    doses: dict[str, list[float]] = {}
    for one in found:
        doses.setdefault(one.rule, []).append(number(one.dose))
    return words.listed([f"{_range(each)} of a day's dose by {rule}" for rule, each in doses.items()])


def _exposed(found: list[Exposure]) -> str:
    daily = dict.fromkeys(f"{number(one.daily):.0f}" for one in found)
    return (
        f"a daily exposure of {' to '.join(daily)} dBA. The European action values are {LOWER_ACTION:g} and {UPPER_ACTION:g}, the "
        f"limit under ear protection is {LIMIT:g}"
    )


def _range(doses: list[float]) -> str:
    low, high = (f"{max(round(one), 1)}" for one in (min(doses), max(doses)))
    return f"{low} %" if low == high else f"{low} to {high} %"
