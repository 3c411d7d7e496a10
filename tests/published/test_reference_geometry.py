"""Waves and chips against the same geometry worked out to 30 digits and more."""

import math

import mpmath
import pytest
from thickset.trade import chips, marks

mpmath.mp.dps = 40
SOURCE = "plane geometry worked out to 40 digits with mpmath"
WHY = "a few units of the last place of a double"

WAVES = [(p, d) for d in (50.0, 75.0, 100.0, 125.0) for p in (0.01, 0.5283, 1.27, 3.0, 12.0)]


@pytest.mark.parametrize(("pitch", "diameter"), WAVES)
def test_wave_of_a_circle(pitch, diameter, check):
    radius, half = mpmath.mpf(diameter) / 2, mpmath.mpf(pitch) / 2
    check(
        name=f"geometry/wave {pitch} {diameter}",
        what=f"wave height in mm, pitch {pitch}, circle {diameter}",
        source=SOURCE,
        known="derived",
        expected=float(radius - mpmath.sqrt(radius**2 - half**2)),
        got=marks.wave_height(pitch, diameter),
        tolerance=4e-16,
        relative=True,
        why=WHY,
    )


@pytest.mark.parametrize("knives", [1, 2, 3, 4, 6])
@pytest.mark.parametrize(("pitch", "diameter"), [(0.5, 82.55), (1.5, 100.0), (2.54, 75.0), (6.0, 60.0)])
def test_wave_of_a_moving_board(pitch, knives, diameter, check):
    radius, advance = mpmath.mpf(diameter) / 2, mpmath.mpf(pitch) * knives / (2 * mpmath.pi)
    half = mpmath.mpf(pitch) / 2
    angle = mpmath.findroot(
        lambda a: advance * a + radius * mpmath.sin(a) - half, (0, mpmath.pi / 2), solver="anderson", tol=1e-60
    )
    check(
        name=f"geometry/trochoid {pitch} {knives} {diameter}",
        what=f"wave height in mm with the board moving, pitch {pitch}, {knives} knives, circle {diameter}",
        source="the path of a knife met by the next, solved to 30 digits with mpmath",
        known="derived",
        expected=float(radius * (1 - mpmath.cos(angle))),
        got=marks.wave_height_trochoid(pitch, knives, diameter),
        tolerance=1e-14,
        relative=True,
        why=WHY,
    )


@pytest.mark.parametrize("knives", [1, 2, 3, 4])
def test_the_short_trochoid_formula_keeps_its_two_parts_in_a_thousand(knives, check):
    pitch = 0.999 * min(0.1, 0.3 / knives) * 50
    check(
        name=f"geometry/short trochoid {knives}",
        what=f"short trochoid formula at the edge of its range, {knives} knives",
        source="the exact path of the knife",
        known="derived",
        expected=marks.wave_height_trochoid(pitch, knives, 100.0),
        got=marks.wave_height_trochoid_approx(pitch, knives, 100.0),
        tolerance=0.002,
        relative=True,
        why="0.2 % is what the formula is stated to keep",
    )


@pytest.mark.parametrize("diameter", [50.0, 75.0, 100.0, 125.0])
def test_the_short_wave_formula_is_under_a_thousandth_low(diameter):
    pitch = diameter / 16 * 0.999
    exact, short = marks.wave_height(pitch, diameter), marks.wave_height_approx(pitch, diameter)
    assert 0 < (exact - short) / exact < 0.001


CUTS = [(f, d, c) for c in (50.0, 75.0, 125.0) for f, d in ((0.5, 0.001), (1.0, 0.4), (1.27, 1.588), (2.0, 3.2))]


@pytest.mark.parametrize(("pitch", "depth", "diameter"), CUTS)
def test_chip(pitch, depth, diameter, check):
    f, d, c = (mpmath.mpf(value) for value in (pitch, depth, diameter))
    angle = mpmath.acos(1 - 2 * d / c)
    exact = [angle, c * angle / 2, f * mpmath.sin(angle), 2 * f * d / (c * angle)]
    check(
        name=f"geometry/chip {pitch} {depth} {diameter}",
        what=f"angle in rad, arc, thickest and mean chip in mm; feed per knife {pitch}, cut {depth}, circle {diameter}",
        source=SOURCE,
        known="derived",
        expected=[float(value) for value in exact],
        got=[
            chips.engagement_angle(depth, diameter),
            chips.arc(depth, diameter),
            chips.thickest_chip(pitch, depth, diameter),
            chips.mean_chip(pitch, depth, diameter),
        ],
        tolerance=1e-15,
        relative=True,
        why=WHY,
    )
    assert math.isclose(chips.mean_chip(pitch, depth, diameter) * chips.arc(depth, diameter), pitch * depth)
