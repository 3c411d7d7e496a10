"""Out of range is an error at its field, never a number."""

import math

import pytest
from thickset.ground.woods import species
from thickset.trade import (
    beam,
    caliper,
    chips,
    load,
    marks,
    measure,
    moisture,
    movement,
    noise,
    normal,
    sizes,
    surface,
    trials,
)
from thickset.trade.limits import OutOfRangeError

NAN, INF = math.nan, math.inf
KNOWN = (300.0, 1.5, 8.0, 0.6)

BAD = [
    ("feed", marks.marks_per_inch, (5000, 3, 0)),
    ("feed", marks.marks_per_inch, (5000, 3, NAN)),
    ("feed", marks.pitch, (5000, 3, -4)),
    ("speed", marks.pitch, (0, 3, 8)),
    ("speed", marks.pitch, (INF, 3, 8)),
    ("knives", marks.marks_per_inch, (5000, 0, 8)),
    ("knives", marks.marks_per_inch, (5000, 2.5, 8)),
    ("marks", marks.feed_for_marks, (5000, 1, 0)),
    ("diameter", marks.wave_height, (1.0, 0)),
    ("pitch", marks.wave_height, (101.0, 100)),
    ("pitch", marks.wave_height_approx, (6.5, 100)),
    ("pitch", marks.wave_height_trochoid_approx, (5.1, 1, 100)),
    ("pitch", marks.wave_height_trochoid_approx, (4.0, 4, 100)),
    ("width", load.load_limit, (0, 8.0, 0.6, *KNOWN)),
    ("feed", load.load_limit, (150.0, 0, 0.6, *KNOWN)),
    ("gravity", load.load_limit, (150.0, 8.0, -0.1, *KNOWN)),
    ("depth", load.load_limit, (150.0, 8.0, 0.6, 300.0, 0, 8.0, 0.6)),
    ("depth", load.widest_for_cut, (0, 8.0, 0.6, *KNOWN)),
    ("chip_ratio", load.load_range, (0.5, 0)),
    ("energy", load.cutting_power, (0, 300, 1, 8)),
    ("gravity", load.watts_order_of_magnitude, (300, 1, 8, 60)),
    ("diameter", chips.engagement_angle, (30, 50)),
    ("depth", chips.mean_chip, (1, 0, 50)),
    ("pitch", chips.thickest_chip, (0, 1, 50)),
    ("area", chips.solid_volume, (-1, 1)),
    ("size", chips.when_to_empty, ([1, 2], 0)),
    ("loose", chips.when_to_empty, ([1, -2], 10)),
    ("diameter", chips.duct_speed, (1000, 0)),
    ("humidity", moisture.emc, (20, 110)),
    ("humidity", moisture.emc, (20, -5)),
    ("humidity", moisture.emc_fahrenheit, (70, NAN)),
    ("temperature", moisture.emc, (70, 50)),
    ("temperature", moisture.emc_fahrenheit, (20, 50)),
    ("moisture", moisture.density, (0.6, -1)),
    ("moisture now", movement.change_by_coefficient, (20, 0.002, -8, 8)),
    ("moisture later", movement.change_by_coefficient, (20, 0.002, 8, 15)),
    ("moisture now", movement.change_by_shrinkage, (20, 5, 45, 8)),
    ("shrinkage", movement.change_by_shrinkage, (20, 0, 12, 8)),
    ("shrinkage", movement.coefficient_from_shrinkage, (30,)),
    ("grain", movement.thickness_way, ("riftsawn", 1, 2)),
    ("moisture later", movement.thickness_today, (20, 12, 300, 5)),
    ("wanted", movement.thickness_today, (0, 12, 8, 5)),
    ("allowance", movement.stop_proud, (20, -1)),
    ("moisture", movement.softwood_shrinkage_from_green, (25, "width")),
    ("level", noise.allowed_hours, (300, "OSHA")),
    ("time", noise.dose, ([(20, 85), (6, 85)], "NIOSH")),
    ("dose", noise.time_weighted_average, (0,)),
    ("spread", normal.share_under, (20, 20, 0)),
    ("share", normal.deviations_for, (1.0,)),
    ("share", normal.deviations_for, (0,)),
    ("nominal", sizes.dressed_softwood, ("7/3",)),
    ("rough", sizes.surfaced_hardwood, ("9/4",)),
    ("planing", sizes.sizes_to_buy, (20, 2, -2, False, 8)),
    ("width", measure.surface_measure, (0, 8)),
    ("waste", measure.to_buy, (10, 100)),
    ("rate", measure.price, (10, -1)),
    ("tolerance", caliper.hit_chance, (caliper.unknown_planer(), 0)),
    ("spread", caliper.unknown_planer, (0.4, 0)),
    ("number", trials.spread_of_try, (0, 0.05, 0.4)),
    ("tolerance", trials.aim_of_first_try, (0, 0.05, 0.4)),
    ("shrinkage", trials.target_size, (20, 1, 100)),
    ("gravity", beam.stiffness, (6, "hardwood")),
    ("length", beam.sag, (6000, 6, 600, 10)),
    ("allowed", beam.wants_support, (beam.Overhang(1.0, 1.0, False), -1)),
    ("pitch", surface.wave_profile, (101, 100, 3, 8)),
    ("marks", surface.wave_profile, (1, 100, 0, 8)),
    ("points", surface.wave_profile, (1, 100, 3, 1)),
    ("table", beam.overhang, (600, -1, 20, 600, 10)),
]


@pytest.mark.parametrize(("field", "function", "args"), BAD)
def test_out_of_range_names_its_field(field, function, args):
    with pytest.raises(OutOfRangeError) as caught:
        function(*args)
    assert caught.value.field == field
    assert str(caught.value) == f"{field}: {caught.value.text}"


@pytest.mark.parametrize(("density", "moisture_now"), [(0.6, 12), (6000, 12), (600, 80)])
def test_a_density_of_another_unit_is_refused(density, moisture_now):
    with pytest.raises(ValueError, match=r"must be|is outside 100 to 1400 kg/m3"):
        species.by_density(density, moisture_now)


def test_a_long_thin_board_that_sags_past_the_formula_still_wants_support():
    over = beam.overhang(6000, 600, 6, 600, 10)
    assert over.sag is None
    assert beam.wants_support(over)


def test_a_bad_thickness_of_an_overhang_is_still_an_error():
    with pytest.raises(OutOfRangeError, match="thickness"):
        beam.overhang(1500, 600, 0, 600, 10)


@pytest.mark.parametrize(("pitch", "diameter"), [(0.5, 82.55), (1.27, 100), (3.0, 60)])
def test_the_ridges_of_the_picture_stand_as_high_as_the_waves(pitch, diameter):
    profile = surface.wave_profile(pitch, diameter, 4, 16)
    assert len(profile) == 4 * 16 + 1
    assert profile[-1][0] == pytest.approx(4 * pitch)
    assert max(height for _, height in profile) == pytest.approx(marks.wave_height(pitch, diameter))
    assert sum(height == 0 for _, height in profile) == 4


def test_a_board_of_which_just_half_is_off_the_table_lies_still_and_a_sag_that_is_let_pass_wants_no_help():
    assert not beam.overhang(1200, 600, 25, 600, 11).tips
    assert beam.overhang(1201, 600, 25, 600, 11).tips
    assert not beam.wants_support(beam.Overhang(600.0, 3.0, False))
    assert beam.wants_support(beam.Overhang(600.0, 3.01, False))
