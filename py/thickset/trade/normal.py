"""The normal law and Student's t, without a statistics library."""

import math
from statistics import NormalDist

from thickset.trade.limits import LARGEST, OutOfRangeError, above_zero, within

STANDARD = NormalDist()


def share_under(limit: float, mean: float, spread: float) -> float:
    """Share of pieces under a limit [1].

    limit, mean: [mm]; spread: standard deviation [mm].

    Valid: spread above zero; sizes that scatter by the normal law.
    Source: P = Phi((L - mu)/sigma), derived.

    >>> round(share_under(20.0, 20.1, 0.05), 4)
    0.0228
    """
    above_zero("spread", spread, "mm")
    within("limit", limit, -LARGEST, LARGEST, "mm")
    within("mean", mean, -LARGEST, LARGEST, "mm")
    return STANDARD.cdf((limit - mean) / spread)


def deviations_for(share: float) -> float:
    """Standard deviations above a limit that leave a share under it [1].

    share: allowed under the limit [1].

    Valid: share between 0 and 1, neither allowed.
    Source: z(1 - a) of the normal law, derived.

    >>> round(deviations_for(0.05), 3)
    1.645
    """
    if not 0 < share < 1:
        raise OutOfRangeError("share", "must be between 0 and 1")
    return -STANDARD.inv_cdf(share)


def aim_for(limit: float, share: float, spread: float) -> float:
    """Mean to aim for so that no more than a share ends under a limit [mm].

    limit: [mm]; share: allowed under it [1]; spread: standard deviation [mm].

    Valid: share between 0 and 1, spread above zero.
    Source: mu = L + z(1 - a) sigma, derived.

    >>> round(aim_for(20.0, 0.05, 0.05), 3)
    20.082
    """
    above_zero("spread", spread, "mm")
    within("limit", limit, -LARGEST, LARGEST, "mm")
    return limit + deviations_for(share) * spread


def resolution_uncertainty(resolution: float) -> float:
    """Standard uncertainty of a reading from the last step of its scale [mm].

    resolution: of the caliper or scale [mm].

    Valid: resolution above zero; every value within a step equally likely.
    Source: u = d / sqrt(12), GUM, form from memory.

    >>> round(resolution_uncertainty(0.01), 6)
    0.002887
    """
    above_zero("resolution", resolution, "mm")
    return resolution / math.sqrt(12)


def student_within(width: float, freedom: float) -> float:
    """Chance that Student's t falls within +/- a width [1].

    width: in units of the scale [1]; freedom: degrees of freedom [1].

    Valid: width zero or more, freedom above zero.
    Source: 1 - I_x(freedom/2, 1/2), x = freedom/(freedom + width^2), derived.

    >>> round(student_within(2.0, 4), 4)
    0.8839
    """
    within("width", width, 0, math.inf, "")
    above_zero("freedom", freedom, "")
    if width == 0:
        return 0.0
    square = width * width
    return _incomplete_beta(0.5, freedom / 2, square / (freedom + square), freedom / (freedom + square))


def student_width(chance: float, freedom: float) -> float:
    """Half width that Student's t keeps within with a chance [1].

    chance: wanted [1]; freedom: degrees of freedom [1].

    Valid: chance 0 to 0.999999, freedom from 0.5.
    Source: student_within solved by halving, derived.

    >>> round(student_width(0.95, 4), 3)
    2.776
    """
    within("chance", chance, 0, 0.999999, "")
    within("freedom", freedom, 0.5, math.inf, "")
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
