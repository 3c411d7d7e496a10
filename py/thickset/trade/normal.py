"""The normal law and Student's t, without a statistics library."""

import math
from functools import lru_cache
from statistics import NormalDist

from thickset.trade.formula import formula
from thickset.trade.limits import LARGEST, OutOfRangeError, above_zero, within

STANDARD = NormalDist()


@formula(
    "share under a limit [1]",
    "The normal law at the limit.",
    limit="L [mm] limit",
    mean="μ [mm] mean",
    spread="σ [mm] spread",
    steps="P = Φ((L − μ) / σ)",
    limits="Spread above zero. Sizes that scatter by the normal law.",
    source="P = Phi((L - mu)/sigma), derived.",
    known="derived",
)
def share_under(limit: float, mean: float, spread: float) -> float:
    """Share of pieces under a limit.

    >>> round(share_under(20.0, 20.1, 0.05), 4)
    0.0228
    """
    above_zero("spread", spread, "mm")
    within("limit", limit, -LARGEST, LARGEST, "mm")
    within("mean", mean, -LARGEST, LARGEST, "mm")
    return STANDARD.cdf((limit - mean) / spread)


@formula(
    "deviations for a share [1]",
    "How many spreads above the limit leave this share under it.",
    share="a [1] share",
    steps="z = z(1 − a)",
    limits="Share between 0 and 1, neither allowed.",
    source="z(1 - a) of the normal law, derived.",
    known="derived",
)
def deviations_for(share: float) -> float:
    """Standard deviations above a limit that leave a share under it.

    >>> round(deviations_for(0.05), 3)
    1.645
    """
    if not 0 < share < 1:
        raise OutOfRangeError("share", "must be between 0 and 1")
    return -STANDARD.inv_cdf(share)


@formula(
    "uncertainty of a reading [mm]",
    "Every value within one step equally likely.",
    resolution="d [mm] step of the scale",
    steps="u = d / √(12)",
    limits="Resolution above zero. Every value within a step equally likely.",
    source="u = d / sqrt(12), GUM, form from memory.",
    known="memory",
)
def resolution_uncertainty(resolution: float) -> float:
    """Standard uncertainty of a reading from the last step of its scale.

    >>> round(resolution_uncertainty(0.01), 6)
    0.002887
    """
    above_zero("resolution", resolution, "mm")
    return resolution / math.sqrt(12)


NO_SHARE = 1e-6
"""A spread with a smaller share is left out [1]."""

FINENESS = 0.5
"""Step between the spreads that are tried, in standard deviations of the logarithm of the spread [1]; a choice."""


@formula(
    "spreads that readings leave possible [mm, 1]",
    "The scaled inverse chi-square law of a spread that was estimated, in even steps of its logarithm.",
    spread="s [mm] spread estimated",
    readings="n [count] readings it rests on",
    limits="Spread above zero, readings from 0.5. Of readings without end only the spread itself is left.",
    source="density of ln sigma proportional to exp(-n x - n s^2 exp(-2 x) / 2), x = ln sigma, trapezoids, derived.",
    known="derived",
)
def spreads_believed(spread: float, readings: float) -> list[tuple[float, float]]:
    """Spreads that so many readings leave possible, each with its share; the shares add up to 1.

    >>> [round(sum(share * value for value, share in spreads_believed(0.05, 4)), 4), spreads_believed(0.05, math.inf)]
    [0.0627, [(0.05, 1.0)]]
    """
    above_zero("spread", spread, "mm")
    if readings == math.inf:
        return [(spread, 1.0)]
    within("readings", readings, 0.5, LARGEST, "")
    deviation = 1 / math.sqrt(2 * readings)
    step = FINENESS * deviation
    logs = [n * step for n in range(-round(7 / FINENESS), round((7 + 17 / (readings * deviation)) / FINENESS))]
    weights = [math.exp(readings * (0.5 - log - math.exp(-2 * log) / 2)) for log in logs]
    whole = math.fsum(weights)
    return [
        (spread * math.exp(log), weight / whole)
        for log, weight in zip(logs, weights, strict=True)
        if weight > whole * NO_SHARE
    ]


@formula(
    "chance within a width [1]",
    "Student's t.",
    width="w [1] half width",
    freedom="f [1] degrees of freedom",
    limits="Width zero or more, freedom above zero.",
    source="1 - I_x(freedom/2, 1/2), x = freedom/(freedom + width^2), derived.",
    known="derived",
)
def student_within(width: float, freedom: float) -> float:
    """Chance that Student's t falls within +/- a width.

    >>> round(student_within(2.0, 4), 4)
    0.8839
    """
    within("width", width, 0, math.inf, "")
    above_zero("freedom", freedom, "")
    if width == 0:
        return 0.0
    square = width * width
    return _incomplete_beta(0.5, freedom / 2, square / (freedom + square), freedom / (freedom + square))


@formula(
    "width for a chance [1]",
    "Student's t, backwards.",
    chance="c [1] chance",
    freedom="f [1] degrees of freedom",
    limits="Chance 0 to 0.999999, freedom from 0.5.",
    source="the chance within a width solved by halving, derived.",
    known="derived",
)
def student_width(chance: float, freedom: float) -> float:
    """Half width that Student's t keeps within with a chance.

    >>> round(student_width(0.95, 4), 3)
    2.776
    """
    within("chance", chance, 0, 0.999999, "")
    within("freedom", freedom, 0.5, math.inf, "")
    return _width(chance, freedom)


@lru_cache(maxsize=256)
def _width(chance: float, freedom: float) -> float:
    low, high = 0.0, 1.0
    while student_within(high, freedom) < chance:
        high *= 2
    while low < (middle := (low + high) / 2) < high:
        if student_within(middle, freedom) < chance:
            low = middle
        else:
            high = middle
    return high


def _incomplete_beta(a: float, b: float, x: float, rest: float) -> float:
    """Regularized incomplete beta function I_x(a, b), rest = 1 - x given without loss."""
    if x <= 0 or rest <= 0:
        return 0.0 if x <= 0 else 1.0
    front = math.exp(math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log(rest))
    if x < (a + 1) / (a + b + 2):
        return front * _continued_fraction(a, b, x) / a
    return 1 - front * _continued_fraction(b, a, rest) / b


def _continued_fraction(a: float, b: float, x: float) -> float:
    """Continued fraction of the incomplete beta function by Lentz's method."""
    tiny = 1e-300
    c, d = 1.0, 1 - (a + b) * x / (a + 1)
    d = 1 / (d if abs(d) > tiny else tiny)
    result = d
    for m in range(1, 1000):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for step in (even, odd):
            d = 1 + step * d
            d = 1 / (d if abs(d) > tiny else tiny)
            c = 1 + step / c
            c = c if abs(c) > tiny else tiny
            result *= d * c
        if abs(d * c - 1) < 1e-15:
            break
    return result
