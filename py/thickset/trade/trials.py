"""How many test pieces the last setting wants, where to aim the first, target sizes.

The model: each try opens to what is wanted, off by the offset's remaining uncertainty and
by the spread of settings. Each measured try corrects the next. What the tries miss by, each
after the corrections before it, is then independent (the innovations of a normal model),
so the chance that all miss is the product of their chances. The spread of settings is itself
known by few readings: the chance is taken over all the spreads that they leave possible.
"""

import math
from itertools import accumulate
from typing import NamedTuple

from thickset.trade.formula import formula
from thickset.trade.limits import LARGEST, OutOfRangeError, above_zero, within
from thickset.trade.normal import STANDARD, deviations_for, spreads_believed

SURE_ENOUGH = 0.99
"""Chance with which the test pieces must suffice [1]; a choice, not a measurement."""

MOST_TRIES = 60
"""More tries than anyone would make [count]; a planer that needs them needs repair."""


NEVER = 1e-5
"""Chance that no try has landed yet below which no further try is counted [1]; too small to change a count."""


class TryChances(NamedTuple):
    """Chances of one try: thin (spends the piece), hit, proud [1].

    Valid: they add up to 1. Source: see chances_of_try.

    >>> TryChances(0.1, 0.8, 0.1).hit
    0.8
    """

    thin: float
    hit: float
    proud: float


@formula(
    "spread of a try [mm]",
    "What is still unknown of the offset after the tries before, and the spread of the setting itself.",
    number="n [count] number of the try",
    spread="s [mm] spread of settings",
    offset_uncertainty="u [mm] uncertainty of the offset",
    steps="σ = √(s^2 + u^2 × s^2 / (s^2 + (n − 1) × u^2))",
    limits="Number from 1, spread above zero, uncertainty zero or more.",
    source="sqrt(s^2 + u^2 s^2/(s^2 + (n - 1) u^2)), normal law with known spread, derived.",
    known="derived",
)
def spread_of_try(number: int, spread: float, offset_uncertainty: float) -> float:
    """Spread of what a try misses by, the tries before it measured and corrected.

    >>> round(spread_of_try(1, 0.03, 0.4), 4), round(spread_of_try(2, 0.03, 0.4), 4)
    (0.4011, 0.0424)
    """
    within("number", number, 1, 1000, "")
    above_zero("spread", spread, "mm")
    within("offset_uncertainty", offset_uncertainty, 0, math.inf, "mm")
    one, unsure = spread**2, offset_uncertainty**2
    return math.sqrt(one + unsure * one / (one + (number - 1) * unsure))


@formula(
    "chances of a try [1]",
    "The normal law below, within and above the tolerance.",
    number="n [count] number of the try",
    tolerance="t [mm] tolerance",
    spread="s [mm] spread of settings",
    offset_uncertainty="u [mm] uncertainty of the offset",
    aim="a [mm] aim above target",
    steps=(
        "σ = √(s^2 + u^2 × s^2 / (s^2 + (n − 1) × u^2)); "
        "thin = Φ((−t − a) / σ); "
        "hit = Φ((t − a) / σ) − Φ((−t − a) / σ); "
        "proud = 1 − Φ((t − a) / σ)"
    ),
    limits="Tolerance and spread above zero.",
    source="normal law, derived.",
    known="derived",
)
def chances_of_try(
    number: int, tolerance: float, spread: float, offset_uncertainty: float, aim: float = 0.0
) -> TryChances:
    """Chances that a try ends thin, within the tolerance, or proud.

    >>> [round(chance, 3) for chance in chances_of_try(2, 0.1, 0.03, 0.4)]
    [0.009, 0.982, 0.009]
    """
    above_zero("tolerance", tolerance, "mm")
    within("aim", aim, -LARGEST, LARGEST, "mm")
    width = spread_of_try(number, spread, offset_uncertainty)
    thin = STANDARD.cdf((-tolerance - aim) / width)
    proud = STANDARD.cdf((aim - tolerance) / width)
    return TryChances(thin, 1 - thin - proud, proud)


@formula(
    "aim of the first try [mm]",
    "As many spreads above the least thickness allowed as the risk asks for.",
    tolerance="t [mm] tolerance",
    spread="s [mm] spread of settings",
    offset_uncertainty="u [mm] uncertainty of the offset",
    risk="a [1] risk to spend the piece",
    steps="aim = max(0, z(1 − a) × √(s^2 + u^2) − t)",
    limits="Tolerance and spread above zero, risk between 0 and 1.",
    source="mu = L + z(1 - a) sigma with L the least thickness allowed, derived.",
    known="derived",
)
def aim_of_first_try(
    tolerance: float, spread: float, offset_uncertainty: float, risk: float = 1 - SURE_ENOUGH
) -> float:
    """How far above the target to aim the first try so that it seldom ends thin.

    >>> round(aim_of_first_try(0.13, 0.05, 0.2), 2), aim_of_first_try(0.5, 0.05, 0.1)
    (0.35, 0.0)
    """
    above_zero("tolerance", tolerance, "mm")
    width = spread_of_try(1, spread, offset_uncertainty)
    return max(0.0, deviations_for(risk) * width - tolerance)


@formula(
    "test pieces that suffice [count]",
    "Only a thin try spends a piece. The chance of so many thin tries before one lands, over every spread that the readings leave possible.",
    tolerance="t [mm] tolerance",
    spread="s [mm] spread of settings",
    offset_uncertainty="u [mm] uncertainty of the offset",
    aim="a [mm] aim of the first try",
    spread_readings="n [count] readings the spread rests on",
    chance="c [1] chance wanted",
    limits="Tolerance and spread above zero. A proud piece is cut again, so it must be thick enough for its pass. A thin one is spent. "
    "A spread so wide that 60 tries fail is an error. On average over what is believed of the planer.",
    source="chance of n thin tries before a hit, summed over the proud ones and over the scaled inverse chi-square law of s, derived.",
    known="derived",
)
def pieces_that_suffice(
    tolerance: float,
    spread: float,
    offset_uncertainty: float,
    aim: float = 0.0,
    spread_readings: float = math.inf,
    chance: float = SURE_ENOUGH,
) -> int:
    """Test pieces that suffice when only a thin try spends one, with a chance; the spread itself is known by so many readings.

    >>> pieces_that_suffice(0.13, 0.05, 0.4), pieces_that_suffice(0.13, 0.05, 0.4, aim=0.8)
    (3, 2)
    >>> pieces_that_suffice(0.13, 0.05, 0.4, aim=0.8, spread_readings=4)
    3
    """
    within("chance", chance, 0, 0.999999, "")
    landed = [0.0] * MOST_TRIES  # by pieces spent before: chance that a try has landed
    for one, share in spreads_believed(spread, spread_readings):
        # The offset is known by so many readings, whatever the spread turns out to be.
        for spent, lands in enumerate(_landed(tolerance, one, offset_uncertainty * one / spread, aim)):
            landed[spent] += share * lands
    for pieces, sure in enumerate(accumulate(landed), start=1):
        if sure >= chance:
            return pieces
    raise OutOfRangeError("tolerance", f"must be wider: settings that repeat to {spread:.3g} mm seldom land in it")


def _landed(tolerance: float, spread: float, offset_uncertainty: float, aim: float) -> list[float]:
    """By pieces spent before: chance that a try has landed, for a spread that is known."""
    landed: list[float] = []
    waiting = [1.0]  # by pieces spent: chance that no try has landed yet
    for number in range(1, MOST_TRIES + 1):
        first_aim = aim if number == 1 else 0.0
        thin, hit, proud = chances_of_try(number, tolerance, spread, offset_uncertainty, first_aim)
        landed = [before + one * hit for before, one in zip([*landed, 0.0], waiting, strict=True)]
        waiting = [one * proud + other * thin for one, other in zip([*waiting, 0.0], [0.0, *waiting], strict=True)]
        if sum(waiting) < NEVER:
            break
    return landed


@formula(
    "target size [as final]",
    "Room for planing and shrinking, and for the spread of sizes.",
    final="F [mm or in] final size",
    planing="P [same] planing allowance",
    shrinkage="S [%] shrinkage",
    deviations="Z [1] deviations",
    spread="s [same] spread",
    steps="target = (F + P) / (1 − S / 100) + Z × s",
    limits="Final above zero, the others zero or more, shrinkage under 100 %.",
    source="(F + P)/(1 - S) + Z s, form from memory (high); Brown 2000, EM 8731.",
    known="memory",
)
def target_size(
    final: float, planing: float, shrinkage: float = 0.0, deviations: float = 0.0, spread: float = 0.0
) -> float:
    """Size to saw or leave so that planing and shrinkage still give the final size.

    >>> round(target_size(1.500, 0.060, 2.35, 1.65, 0.025), 5)
    1.63879
    """
    above_zero("final", final, "mm")
    for name, value in (("planing", planing), ("deviations", deviations), ("spread", spread)):
        within(name, value, 0, math.inf, "")
    within("shrinkage", shrinkage, 0, 99, "%")
    return (final + planing) / (1 - shrinkage / 100) + deviations * spread


@formula(
    "the second head takes [as board]",
    "What the first head leaves above the final size.",
    board="B [mm or in] board",
    first_takes="a [same] taken by the first head",
    final="F [same] final size",
    steps="takes = B − a − F",
    limits="All zero or more.",
    source="Brown 2000, EM 8731, p. 5, read.",
    known="read",
)
def second_head_takes(board: float, first_takes: float, final: float) -> float:
    """What the second head takes off a board after the first; below zero is skip.

    >>> round(second_head_takes(1.580, 0.030, 1.500), 3)
    0.05
    """
    above_zero("board", board, "mm")
    within("first_takes", first_takes, 0, board, "mm")
    within("final", final, 0, math.inf, "mm")
    return board - first_takes - final
