"""The trade's formulas: what holds for all numbers; nonsense is an error, never a number."""

import inspect
import math
from fractions import Fraction

import pytest
from amounts import examples
from hypothesis import assume, given
from hypothesis import strategies as st
from strategies import any_number, between, exact
from thickset.ground.woods import species
from thickset.ground.woods.species import all_species
from thickset.planning.stock.slab import RoughBoard, best_slab, slab_of, whole_slab
from thickset.trade import caliper, chips, load, marks, measure, moisture, movement, noise, sizes, trials
from thickset.trade.beam import overhang, sag
from thickset.trade.formula import FORMULAS as BY_FUNCTION
from thickset.trade.limits import OutOfRangeError

FORMULAS = {function.__name__: formula for function, formula in BY_FUNCTION.items()}
NUMBERS = {float: any_number(), int: st.one_of(st.integers(), st.integers(1, 9)), float | None: any_number()}
FUZZED = {}
for _name, _formula in FORMULAS.items():
    _kinds = [each.annotation for each in inspect.signature(_formula.function).parameters.values()]
    if all(kind in NUMBERS or kind is marks.Num or kind is load.Num for kind in _kinds):
        FUZZED[_name] = st.tuples(*(NUMBERS.get(kind, any_number()) for kind in _kinds))


def finite(value):
    if isinstance(value, list | tuple):
        return all(finite(each) for each in value)
    return value is None or isinstance(value, str) or math.isfinite(value)


def test_most_formulas_are_fuzzed():
    assert len(FUZZED) > 40


@pytest.mark.parametrize("name", FUZZED)
@examples(40)
@given(data=st.data())
def test_any_numbers_give_a_number_or_an_error_at_a_field(name, data):
    numbers = data.draw(FUZZED[name])
    if name == "wave_profile":
        assume(numbers[2] < 50)
        assume(numbers[3] < 50)
    try:
        value = FORMULAS[name].function(*numbers)
    except OutOfRangeError as refused:
        value = 0.0 if refused.field and refused.text else math.nan
    assert finite(value), f"{numbers} gave {value}"


HEADS = (exact(1000, 9000), st.integers(1, 8), exact(1, 40))


@given(*HEADS)
def test_marks_and_pitch_fill_the_inch_exactly(speed, knives, feed):
    assert marks.marks_per_inch(speed, knives, feed) * marks.pitch(speed, knives, feed) == Fraction(254, 10)
    wanted = marks.marks_per_inch(speed, knives, feed)
    assert marks.feed_for_marks(speed, knives, wanted) == feed
    assert marks.pitch(speed, knives, feed) * knives == marks.pitch(speed, 1, feed)


@given(between(0.05, 6), st.integers(1, 6), between(40, 200))
def test_waves_are_in_order(pitch, knives, diameter):
    exact_wave = marks.wave_height(pitch, diameter)
    assert marks.wave_height_trochoid(pitch, knives, diameter) < exact_wave
    if pitch < diameter / 16:
        assert marks.wave_height_approx(pitch, diameter) <= exact_wave * (1 + 1e-12)


CUT = st.tuples(exact(20, 600), exact(1, 30), st.fractions(Fraction(1, 4), 1, max_denominator=100))


@examples(40)
@given(CUT, CUT, exact(1, 8), exact(1, 8))
def test_a_cut_at_its_load_limit_loads_as_the_known_cut_does(board, known, depth, known_depth):
    width, feed, gravity = board
    known_cut = (known[0], known_depth, known[1], known[2])
    limit = load.load_limit(width, feed, gravity, *known_cut)
    assert load.load_ratio(width, limit, feed, gravity, *known_cut) == 1
    assert (load.load_ratio(width, depth, feed, gravity, *known_cut) <= 1) == (depth <= limit)
    assert load.widest_for_cut(limit, feed, gravity, *known_cut) == width


@given(between(0.01, 3), between(0.1, 5))
def test_the_load_range_holds_the_load(ratio, chip_ratio):
    low, high = load.load_range(ratio, chip_ratio)
    assert low <= ratio <= high
    assert ratio in {low, high}


@given(between(0.05, 4), between(0.05, 6), between(40, 200))
def test_chips_hold_what_the_knife_takes(pitch, depth, diameter):
    mean, arc = chips.mean_chip(pitch, depth, diameter), chips.arc(depth, diameter)
    assert mean * arc == pytest.approx(pitch * depth, rel=1e-12)
    assert mean <= chips.thickest_chip(pitch, depth, diameter) <= pitch
    assert arc > depth


@given(st.lists(between(0, 500), min_size=1, max_size=12), between(20, 400))
def test_no_container_runs_over(passes, size):
    plan = chips.when_to_empty(passes, size)
    held = 0.0
    for number, loose in enumerate(passes, start=1):
        if number in plan.during:
            assert loose > size
            assert held == 0
            held = math.fmod(loose, size)
        else:
            held += loose
        assert held <= size
        if number in plan.after:
            assert held + passes[number] > size, "emptied before it had to be"
            held = 0.0
    assert plan.filled == pytest.approx(sum(passes) / size)


@given(between(0, 54), between(0, 94), between(0.1, 1))
def test_damper_air_makes_wetter_wood_and_both_forms_agree(temperature, humidity, more):
    dry = moisture.emc(temperature, humidity)
    assert 0 <= dry < moisture.emc(temperature, humidity + more) < 30
    assert moisture.emc_fahrenheit(temperature * 1.8 + 32, humidity) == pytest.approx(dry, abs=0.03)


MOISTURE = between(0, 30)


@given(between(5, 300), between(1, 15), MOISTURE, MOISTURE)
def test_wood_that_comes_back_to_its_moisture_comes_back_to_its_size(size, shrinkage, now, later):
    then = size + movement.change_by_shrinkage(size, shrinkage, now, later)
    back = then + movement.change_by_shrinkage(then, shrinkage, later, now)
    assert back == pytest.approx(size, rel=1e-12)
    assert (then >= size) == (later >= now) or then == pytest.approx(size)


@given(between(5, 80), MOISTURE, MOISTURE, between(1, 15))
def test_planed_to_today_it_is_as_wanted_in_service(wanted, now, in_service, shrinkage):
    coefficient = movement.coefficient_from_shrinkage(shrinkage)
    for known in (None, coefficient):
        plan = movement.thickness_today(wanted, now, in_service, shrinkage, known)
        if plan.equation == "13-2":
            change = movement.change_by_coefficient(plan.today, coefficient, now, in_service)
        elif plan.equation == "13-2 and 13-3":
            change = movement.change_in_stretches(plan.today, shrinkage, coefficient, now, in_service)
        else:
            change = movement.change_by_shrinkage(plan.today, shrinkage, now, in_service)
        assert plan.today + change == pytest.approx(wanted, rel=1e-12)
        assert plan.change == pytest.approx(change, abs=1e-9)


WOODS = [wood for wood in all_species() if wood.radial_shrinkage and wood.tangential_shrinkage]


@given(st.sampled_from(WOODS), st.booleans(), between(0, 22), between(0, 22), between(0.001, 1))
def test_every_wood_moves_on_without_a_jump_as_its_moisture_does(wood, flat, now, then, more):
    pairs = (wood.radial_shrinkage, wood.radial_change), (wood.tangential_shrinkage, wood.tangential_change)
    shrinkage, coefficient = pairs[0] if flat else pairs[1]
    for known in (None, coefficient):
        off = [
            movement.thickness_today(40, one, other, shrinkage, known, wood.saturation).off_if_ignored
            for one, other in ((now, then), (now, then + more), (now + more, then))
        ]
        assert 0 < off[1] - off[0] < 0.25 * more, "damper in service is thicker"
        assert 0 < off[0] - off[2] < 0.25 * more, "damper now is thinner later"


def test_the_woods_whose_two_figures_disagree_by_more_than_a_tenth_are_marked():
    def apart(change, shrinkage, saturation):
        return abs(change / movement.coefficient_from_shrinkage(shrinkage, saturation) - 1) > 0.1

    for wood in WOODS:
        pairs = (wood.radial_change, wood.radial_shrinkage), (wood.tangential_change, wood.tangential_shrinkage)
        found = [apart(change, shrinkage, wood.saturation) for change, shrinkage in pairs if change]
        assert wood.change_disputed == any(found), wood.name


@given(between(5, 80), between(6, 14), between(6, 14), between(2, 12))
def test_both_equations_nearly_agree_in_a_heated_room(wanted, now, in_service, shrinkage):
    coefficient = movement.coefficient_from_shrinkage(shrinkage)
    one = movement.thickness_today(wanted, now, in_service, shrinkage, coefficient)
    other = movement.thickness_today(wanted, now, in_service, shrinkage)
    assert one.today == pytest.approx(other.today, rel=0.0015)


@given(between(80, 130), between(0.1, 8), between(80, 130), between(0.1, 8))
def test_doses_add_up_and_the_stricter_rule_gives_more(level, hours, other, more):
    both = noise.dose([(hours, level), (more, other)], "OSHA")
    assert both == pytest.approx(noise.dose([(hours, level)], "OSHA") + noise.dose([(more, other)], "OSHA"))
    assert noise.dose([(hours, level)], "NIOSH") > noise.dose([(hours, level)], "OSHA")


@given(st.lists(between(-1, 1), min_size=1, max_size=8), st.randoms(use_true_random=False))
def test_the_order_of_readings_does_not_matter_and_each_counts(readings, rng):
    prior = caliper.unknown_planer()
    shuffled = list(readings)
    rng.shuffle(shuffled)
    after = caliper.update(prior, readings)
    assert after == pytest.approx(caliper.update(caliper.update(prior, shuffled[:1]), shuffled[1:]), abs=1e-9)
    assert min([*readings, 0]) - 1e-9 <= after.offset <= max([*readings, 0]) + 1e-9
    assert after.offset_readings == pytest.approx(prior.offset_readings + len(readings))


@given(between(0.05, 0.5), between(0.02, 0.15), between(0, 0.6), between(0, 0.5))
def test_a_wider_tolerance_asks_for_no_more_test_pieces(tolerance, spread, unsure, more):
    assume(tolerance > spread / 2)
    pieces = trials.pieces_that_suffice(tolerance, spread, unsure)
    assert pieces >= 1
    assert trials.pieces_that_suffice(tolerance + more, spread, unsure) <= pieces
    assert sum(trials.chances_of_try(1, tolerance, spread, unsure)) == pytest.approx(1)


@given(exact(1, 30), st.integers(1, 16))
def test_surface_measure_is_the_nearest_whole_foot(width, length):
    measured = measure.surface_measure(width, length)
    assert abs(measured - width * length / 12) <= Fraction(1, 2)
    assert measure.surface_measure(width, length + Fraction(11, 12)) == measured


@given(between(5, 60), between(0, 6), between(0, 6), st.booleans(), between(6, 20))
def test_a_size_to_buy_holds_the_part_and_the_next_thinner_does_not(finished, jointing, planing, metric, wet):
    found = sizes.sizes_to_buy(finished, jointing, planing, metric, wet)
    everything = sizes.sizes_to_buy(0.001, 0, 0, metric, wet)
    need = finished + jointing + planing
    assert all(buy.measures >= need for buy in found)
    assert all(buy.measures < need for buy in everything[: len(everything) - len(found)])


@given(st.sampled_from(species.all_species()), st.data())
def test_part_of_a_name_finds_the_wood(wood, data):
    start = data.draw(st.integers(0, len(wood.name) - 1))
    end = data.draw(st.integers(start + 1, len(wood.name)))
    part = wood.name[start:end]
    assume(part.strip(" ,():-"))
    assert wood in species.search(part)
    assert wood in species.search(part.upper())


@given(between(-6, 6), between(-15, 15), between(-10, 10), between(0.2, 1), between(0.2, 1), between(1, 5))
def test_a_thicker_board_holds_a_slab_thicker_by_as_much(cup, bow, twist, along, across, more):
    def slab(thick):
        board = RoughBoard(2000, 200, ((thick,),), cup=cup, bow=bow, twist=twist)
        return slab_of(board, 0, 0, 2000 * along, 200 * across).thickness

    assert slab(30 + more) == pytest.approx(slab(30) + more, abs=1e-9)
    assert slab(30) <= 30 + 1e-9


@given(free=between(200, 3000), thick=between(10, 80), density=between(300, 1100))
def test_the_sag_of_a_free_end_is_its_bending_added_up_twice(free, thick, density):
    stiff = 10.0
    steps = 2000
    step = free / 1000 / steps
    slope = drop = 0.0
    for n in range(steps):
        left = free / 1000 - (n + 0.5) * step
        bend = density * 9.80665 * (thick / 1000) * left**2 / 2 / (stiff * 1e9 * (thick / 1000) ** 3 / 12)
        drop += (slope + bend * step / 2) * step
        slope += bend * step
    if drop * 10 > free / 1000 * 0.999:
        return
    assert sag(free, thick, density, stiff) == pytest.approx(drop * 1000, rel=1e-4)


@given(length=between(100, 5000), table=between(0, 2000))
def test_a_board_tips_when_its_middle_is_off_the_table(length, table):
    over = overhang(length, table, 25, 600, 11)
    assert over.length == max(0, length - table)
    assert over.tips == (length - table > length / 2 and length > table)


@examples(30)
@given(
    st.lists(st.lists(between(18, 32), min_size=3, max_size=3), min_size=3, max_size=3),
    between(-6, 6),
    between(-12, 12),
    between(-8, 8),
    between(0.2, 1),
    between(0.2, 1),
)
def test_a_smaller_part_holds_a_thicker_slab_and_none_is_thicker_than_its_wood(rows, cup, bow, twist, along, across):
    board = RoughBoard(1800, 160, tuple(map(tuple, rows)), cup, bow, twist)
    whole, best = whole_slab(board), best_slab(board, 1800 * along, 160 * across)
    # The faces are looked at on a grid, between whose spots an arc hides up to 0.4 % of its height.
    assert best.thickness >= whole.thickness - 0.004 * (abs(cup) + abs(bow)) - 1e-6
    assert best.thickness <= max(map(max, rows)) + 1e-6
    mirrored = RoughBoard(1800, 160, tuple(map(tuple, rows[::-1])), cup, bow, -twist)
    assert whole_slab(mirrored).thickness == pytest.approx(whole.thickness, abs=1e-6)
