"""Moisture the wood comes to in a room, and what it weighs at that moisture."""

from thickset.trade.formula import formula
from thickset.trade.limits import within

FIBER_SATURATION = 30.0
"""Moisture above which wood no longer moves [%]; Wood Handbook chapter 4, from memory;
25 to 30 by species, 22 for redwood, western redcedar and northern white-cedar."""

TABLE_HUMIDITY = (0.0, 95.0)
"""Relative humidity the table of the handbook spans [%]; its first cell is 5, 0 is bone dry."""

TABLE_CELSIUS = (-1.2, 54.5)
"""Temperatures the table spans, 30 to 130 F [C]; Wood Handbook Table 4-2, from memory."""


@formula(
    "moisture wood comes to [%]",
    "Two ways in which wood holds water, added up.",
    temperature="T [C] temperature",
    humidity="H [%] relative humidity",
    steps=(
        "W = 349 + 1.29 × T + 0.0135 × T^2; "
        "K = 0.805 + 0.000736 × T − 0.00000273 × T^2; "
        "K1 = 6.27 − 0.00938 × T − 0.000303 × T^2; "
        "K2 = 1.91 + 0.0407 × T − 0.000293 × T^2; "
        "x = K × H / 100; "
        "EMC = (1800 / W) × (x / (1 − x) + (K1 × x + 2 × K1 × K2 × x^2) / (1 + K1 × x + K1 × K2 × x^2))"
    ),
    limits="-1 to 54 C and 0 to 95 % humidity. Wood takes weeks or months to get there, and wood that dries ends a little wetter than wood that takes moisture up.",
    source="Wood Handbook Eq 4-5 with the coefficients for C, transcribed.",
    known="transcribed",
)
def emc(temperature: float, humidity: float) -> float:
    """Equilibrium moisture content of wood in a room.

    >>> round(emc(21.1, 50), 1)
    9.2
    """
    _check(temperature, humidity, *TABLE_CELSIUS, "C")
    t = temperature
    return _hailwood_horrobin(
        humidity / 100,
        349 + 1.29 * t + 0.0135 * t**2,
        0.805 + 0.000736 * t - 0.00000273 * t**2,
        6.27 - 0.00938 * t - 0.000303 * t**2,
        1.91 + 0.0407 * t - 0.000293 * t**2,
    )


@formula(
    "moisture wood comes to (F) [%]",
    "Two ways in which wood holds water, added up.",
    temperature="T [F] temperature",
    humidity="H [%] relative humidity",
    steps=(
        "W = 330 + 0.452 × T + 0.00415 × T^2; "
        "K = 0.791 + 0.000463 × T − 0.000000844 × T^2; "
        "K1 = 6.34 + 0.000775 × T − 0.0000935 × T^2; "
        "K2 = 1.09 + 0.0284 × T − 0.0000904 × T^2; "
        "x = K × H / 100; "
        "EMC = (1800 / W) × (x / (1 − x) + (K1 × x + 2 × K1 × K2 × x^2) / (1 + K1 × x + K1 × K2 × x^2))"
    ),
    limits="30 to 130 F and 0 to 95 % humidity. Wood takes weeks or months to get there, and wood that dries ends a little wetter than wood that takes moisture up.",
    source="Wood Handbook Eq 4-5 with the coefficients for F, transcribed; Table 4-2 was computed from it.",
    known="transcribed",
)
def emc_fahrenheit(temperature: float, humidity: float) -> float:
    """Equilibrium moisture content by the coefficients for Fahrenheit.

    >>> round(emc_fahrenheit(70, 50), 1)
    9.2
    """
    _check(temperature, humidity, 30, 130, "F")
    t = temperature
    return _hailwood_horrobin(
        humidity / 100,
        330 + 0.452 * t + 0.00415 * t**2,
        0.791 + 0.000463 * t - 0.000000844 * t**2,
        6.34 + 0.000775 * t - 0.0000935 * t**2,
        1.09 + 0.0284 * t - 0.0000904 * t**2,
    )


@formula(
    "density [kg/m3]",
    "Weight of the dry wood and the water in it.",
    gravity="G [1] specific gravity at this moisture",
    moisture="x [%] moisture",
    steps="ρ = 1000 × G × (1 + x / 100)",
    limits="Gravity 0.1 to 1.3, moisture 0 to 200 %.",
    source="rho = 1000 G_x (1 + x/100), Wood Handbook Eq 4-14, transcribed.",
    known="transcribed",
)
def density(gravity: float, moisture: float) -> float:
    """Density of wood with the water in it.

    >>> round(density(0.60, 12), 6)
    672.0
    """
    within("gravity", gravity, 0.1, 1.3, "")
    within("moisture", moisture, 0, 200, "%", "enter per cent of the dry weight")
    return 1000 * gravity * (1 + moisture / 100)


def _hailwood_horrobin(h: float, w: float, k: float, k1: float, k2: float) -> float:
    kh = k * h
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (kh / (1 - kh) + bound)


def _check(temperature: float, humidity: float, low: float, high: float, unit: str) -> None:
    within("temperature", temperature, low, high, unit, "enter the temperature of the room")
    within("humidity", humidity, *TABLE_HUMIDITY, "%", "enter relative humidity in per cent")
