"""The words of small figures: pitch, wave heights, shares, power. To as many digits as the figure is worth."""

from __future__ import annotations

from thickset.ground.notation.lengths import INCH, Units


def rounded(value: float, count: int = 2) -> str:
    """A number [as given] to so many digits [count] that count, without idle zeros.

    >>> rounded(0.05283), rounded(14.881, 3), rounded(1234.0), rounded(0.0)
    ('0.053', '14.9', '1,200', '0')
    """
    if value == 0:
        return "0"
    rounded = float(f"{value:.{count - 1}e}")
    text = f"{rounded:,.10f}".rstrip("0").rstrip(".")
    return text if text not in ("", "-0") else "0"


def pitch(value: float, units: Units) -> str:
    """A pitch [mm] in the unit of the job.

    >>> pitch(0.9754, "mm"), pitch(0.9754, "in")
    ('0.98 mm', '0.038 in')
    """
    return f"{rounded(value)} mm" if units == "mm" else f"{rounded(value / float(INCH))} in"


def wave(value: float, units: Units) -> str:
    """A wave height [mm], in thousandths of a millimeter or of an inch.

    >>> wave(0.0029, "mm"), wave(0.0029, "in")
    ('2.9 µm', '0.11 thou')
    """
    return f"{rounded(value * 1000)} µm" if units == "mm" else f"{rounded(value * 1000 / float(INCH))} thou"


def share(low: float, high: float) -> str:
    """A share or a range of shares [1] in per cent.

    >>> share(0.444, 0.444), share(0.444, 0.49), share(0.004, 0.004)
    ('44 %', '44 to 49 %', '0.4 %')
    """
    first, last = (rounded(100 * each) for each in (low, high))
    return f"{first} %" if first == last else f"{first} to {last} %"


def watts(low: float, high: float) -> str:
    """A range of power [W] that is known by its order of magnitude only.

    >>> watts(600.0, 3600.0)
    '600 to 3,600 W'
    """
    return f"{rounded(low, 1)} to {rounded(high, 2)} W"
