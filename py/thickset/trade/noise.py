"""Noise dose of the planned minutes. Ear protection is worn whatever the figure says."""

import math
from collections.abc import Iterable
from typing import Literal

from thickset.trade.formula import formula
from thickset.trade.limits import above_zero, within

Rule = Literal["OSHA", "NIOSH"]

CRITERIA: dict[Rule, tuple[float, float]] = {"OSHA": (90.0, 5.0), "NIOSH": (85.0, 3.0)}
"""Level allowed for 8 hours [dBA] and exchange rate that halves the time [dB]; 29 CFR
1910.95 App. A and NIOSH, read; exact by definition."""

LOWER_ACTION, UPPER_ACTION, LIMIT = 80.0, 85.0, 87.0
"""Daily exposure from which protection is offered, and worn, and that is not passed under it [dBA]; Directive 2003/10/EC,
article 3, read."""

PLANER_LEVEL = (100.0, 104.0)
"""Usual level beside a planer [dBA]; HSE WIS13 from memory, medium-high. Measure yours."""


@formula(
    "time allowed [h]",
    "Eight hours at the criterion level, halved with each exchange step above it.",
    level="L [dBA] level",
    rule="rule [OSHA or NIOSH] rule",
    limits="70 to 140 dBA.",
    source="T = 8 / 2^((L - 90)/5), OSHA 29 CFR 1910.95 App. A; T = 8 / 2^((L - 85)/3), NIOSH; both read.",
    known="read",
)
def allowed_hours(level: float, rule: Rule) -> float:
    """Time a day at a steady level that makes up a whole dose.

    >>> allowed_hours(100, "OSHA"), allowed_hours(100, "NIOSH")
    (2.0, 0.25)
    """
    within("level", level, 70, 140, "dBA")
    criterion, exchange = CRITERIA[rule]
    return float(8 / 2 ** ((level - criterion) / exchange))


@formula(
    "noise dose [%]",
    "Shares of the time allowed at each level, added up.",
    exposures="C [h and dBA] times and levels",
    rule="rule [OSHA or NIOSH] rule",
    limits="Levels 70 to 140 dBA, each time above zero, 24 h together at most.",
    source="D = 100 sum(C/T), OSHA 29 CFR 1910.95 App. A, read.",
    known="read",
)
def dose(exposures: Iterable[tuple[float, float]], rule: Rule) -> float:
    """Noise dose of a day.

    >>> dose([(2, 100), (6, 85)], "OSHA")
    137.5
    """
    share = total = 0.0
    for hours, level in exposures:
        above_zero("time", hours, "h")
        total += hours
        share += hours / allowed_hours(level, rule)
    within("time", total, 0, 24, "h")
    return 100 * share


@formula(
    "noise dose [%]",
    "The time over the time that is allowed at this level.",
    hours="C [h] time",
    level="L [dBA] level",
    criterion="K [dBA] level allowed for 8 hours",
    exchange="q [dB] step that halves the time allowed",
    steps="T = 8 / 2^((L − K) / q); D = 100 × C / T",
    limits="70 to 140 dBA, time above zero and 24 h at most.",
    source="D = 100 C/T, T = 8 / 2^((L - K)/q): K 90 and q 5 by OSHA 29 CFR 1910.95 App. A, K 85 and q 3 by NIOSH, read.",
    known="read",
)
def steady_dose(hours: float, level: float, criterion: float, exchange: float) -> float:
    """Noise dose of some time at one steady level.

    >>> steady_dose(2, 100, 90, 5), steady_dose(0.25, 100, 85, 3)
    (100.0, 100.0)
    """
    above_zero("time", hours, "h")
    within("time", hours, 0, 24, "h")
    within("level", level, 70, 140, "dBA")
    within("criterion", criterion, 70, 100, "dBA")
    within("exchange", exchange, 3, 5, "dB")
    return float(100 * hours / (8 / 2 ** ((level - criterion) / exchange)))


@formula(
    "daily noise exposure [dBA]",
    "The steady level over eight hours that carries the same energy: half the time, 3 dB less.",
    hours="C [h] time",
    level="L [dBA] level",
    steps="LEX = L + 10 × log10(C / 8)",
    limits="70 to 140 dBA, time above zero and 24 h at most.",
    source="LEX = L + 10 log10(C/8), the energy of sound, derived; action values 80 and 85, limit 87 by Directive 2003/10/EC, read.",
    known="derived",
)
def daily_exposure(hours: float, level: float) -> float:
    """Daily exposure from some time at one steady level.

    >>> daily_exposure(8, 85), round(daily_exposure(0.25, 100), 1)
    (85.0, 84.9)
    """
    above_zero("time", hours, "h")
    within("time", hours, 0, 24, "h")
    within("level", level, 70, 140, "dBA")
    return level + 10 * math.log10(hours / 8)


@formula(
    "steady level of the same dose [dBA]",
    "The level that gives this dose in eight hours.",
    dose="D [%] dose",
    steps="TWA = 16.61 × log10(D / 100) + 90",
    limits="Dose above zero.",
    source="TWA = 16.61 log10(D/100) + 90, OSHA 29 CFR 1910.95 App. A, read.",
    known="read",
)
def time_weighted_average(dose: float) -> float:
    """Steady level over 8 hours that gives the same OSHA dose.

    >>> round(time_weighted_average(137.5), 2)
    92.3
    """
    above_zero("dose", dose, "%")
    return 16.61 * math.log10(dose / 100) + 90
