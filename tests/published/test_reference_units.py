"""Conversions and constants against an independent table of units (scipy.constants)."""

from fractions import Fraction

import pytest
from scipy import constants
from thickset.ground.notation import lengths, units
from thickset.trade import chips, load, marks, measure, movement, sizes

CHECKS = {
    "marks/in from metric": (
        constants.inch / 1,
        marks.MARKS_FROM_METRIC[0] / marks.MARKS_FROM_METRIC[1],
        1e-15,
        "exact",
    ),
    "hp min/in3 in J/cm3": (
        constants.hp * 60 / (constants.inch**3 * 1e6),
        load.JOULES_PER_CM3_IN_HP_MIN_PER_IN3,
        2e-6,
        "stated to 6 figures",
    ),
    "board foot in m3": (144 * constants.inch**3, measure.CUBIC_METERS_PER_BOARD_FOOT, 1e-14, "exact"),
    "ft3/min in m3/h": (constants.foot**3 * 60, chips.M3H_PER_CFM, 1e-8, "stated to 9 figures"),
    "4000 ft/min in m/s": (4000 * constants.foot / 60, chips.TRANSPORT_SPEED, 1e-12, "exact"),
    "1 hp in W": (745.69987, constants.hp, 1e-8, "stated to 8 figures"),
    "1/64 in in mm": (0.396875, constants.inch * 1000 / 64, 1e-14, "exact"),
}


@pytest.mark.parametrize("name", CHECKS)
def test_conversion(name, check):
    expected, got, tolerance, why = CHECKS[name]
    check(
        name=f"units/{name}",
        what=name,
        source="scipy.constants, an independent table of units",
        known="derived",
        expected=expected,
        got=got,
        tolerance=tolerance,
        relative=True,
        why=why,
    )


PER = constants.minute
UNITS = {
    ("in", "mm"): constants.inch / constants.milli,
    ("ft", "mm"): constants.foot / constants.milli,
    ("cm", "mm"): constants.centi / constants.milli,
    ("m", "mm"): 1 / constants.milli,
    ("ft/min", "m/min"): constants.foot,
    ("in/s", "m/min"): constants.inch * PER,
    ("m/s", "m/min"): PER,
    ("h", "s"): constants.hour,
    ("lb", "kg"): constants.lb,
    ("oz", "kg"): constants.oz,
    ("lb/ft3", "kg/m**3"): constants.lb / constants.foot**3,
    ("ft2", "m**2"): constants.foot**2,
    ("in3", "m**3"): constants.inch**3,
}


@pytest.mark.parametrize(("given", "to"), UNITS, ids=[f"{given} to {to}" for given, to in UNITS])
def test_unit_a_person_may_write(given, to, check):
    check(
        name=f"units/{given} in {to}",
        what=f"one {given} in {to}",
        source="scipy.constants, an independent table of units",
        known="derived",
        expected=UNITS[given, to],
        got=float(units.factor(given, to)),
        tolerance=1e-14,
        relative=True,
        why="exact definitions; the last places of a double",
    )


LENGTHS = [("1/16 in", 1.5875), ("1/32 in", 0.79375), ("1/64 in", 0.396875), ("1 in", 25.4)]


@pytest.mark.parametrize(("text", "millimeters"), LENGTHS)
def test_length_as_written(text, millimeters, check):
    check(
        name=f"lengths/{text}",
        what=f"{text} in mm",
        source="1 in = 25.4 mm exactly, NIST SP 811",
        known="derived",
        expected=millimeters,
        got=float(lengths.read(text, "mm")),
        tolerance=0,
        why="exact",
    )


def test_nineteen_millimeters(check):
    inches = lengths.read("19 mm", "in") / lengths.INCH
    check(
        name="lengths/19 mm",
        what="19 mm in inches, and to the nearest 1/64 in",
        source="1 in = 25.4 mm exactly, NIST SP 811",
        known="derived",
        expected=[0.748031, 0.75],
        got=[round(float(inches), 6), round(inches * 64) / 64],
        tolerance=0,
        why="six decimals given; a fraction",
    )


def test_a_green_board_of_one_inch_dries_to_just_above_its_dry_size(check):
    green, dry = sizes.dressed_softwood("1", green=True), sizes.dressed_softwood("1")
    dried = float(green) * (1 - movement.softwood_shrinkage_from_green(15, "thickness") / 100)
    check(
        name="sizes/25-32 dried",
        what="25/32 in green, shrunk by 2.35 %, in inches",
        source="PS 20 and FPL-RP-489 (Green 1989), both read; the product derived",
        known="derived",
        expected=0.7629,
        got=dried,
        tolerance=0.00006,
        why="four decimals; 2.347 % stands rounded as 2.35",
    )
    assert dried > dry


@pytest.mark.parametrize(
    ("feed", "expected"), [(16, Fraction(49, 2)), (28, Fraction(14)), (26, Fraction(196, 13))], ids=["16", "28", "26"]
)
def test_marks_per_inch_is_exact_with_fractions(feed, expected):
    got = marks.marks_per_inch(Fraction(4704), 1, feed * Fraction(3048, 10000))
    assert got == expected
