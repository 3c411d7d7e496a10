"""Test pieces and the caliper, by simulating many runs of a planer."""

import math
import random

import pytest
from amounts import times
from thickset.trade import caliper, trials
from thickset.trade.limits import OutOfRangeError
from thickset.trade.normal import student_width

RUNS = 4000


def room(share: float, runs: int) -> float:
    """Four standard errors of a counted share: a right program fails once in 16,000."""
    return 4 * math.sqrt(max(share * (1 - share), 1 / runs) / runs)


def pieces_spent(rng, tolerance, spread, unsure, aim, most=1000):
    """Test pieces spent before one lands, the scale corrected after each."""
    offset = rng.gauss(0, unsure)
    precision, guess = 1 / unsure**2, 0.0
    spent = 0
    for number in range(most):
        over = 0.0 if number else aim
        miss = over + offset - guess + rng.gauss(0, spread)
        if abs(miss) <= tolerance:
            return spent
        spent += miss < -tolerance
        seen = miss - over + guess
        guess = (guess * precision + seen / spread**2) / (precision + 1 / spread**2)
        precision += 1 / spread**2
    return most


@pytest.mark.parametrize(
    ("tolerance", "spread", "unsure", "aim"),
    [(0.13, 0.05, 0.4, 0.0), (0.13, 0.05, 0.4, 0.8), (0.05, 0.03, 0.1, 0.0), (0.08, 0.08, 0.3, 0.4)],
)
def test_pieces_suffice_as_often_as_stated_where_the_spread_is_known(tolerance, spread, unsure, aim):
    rng = random.Random(17)
    runs = [pieces_spent(rng, tolerance, spread, unsure, aim) for _ in range(RUNS)]
    pieces = trials.pieces_that_suffice(tolerance, spread, unsure, aim)
    assert sum(spent < pieces for spent in runs) / RUNS >= 0.99 - room(0.01, RUNS)
    fewer = sum(spent < pieces - 1 for spent in runs) / RUNS
    assert fewer < 0.99 + room(0.01, RUNS), "one piece fewer would have done"


@pytest.mark.parametrize("tolerance", [0.05, 0.1, 0.127, 0.2, 0.3])
@pytest.mark.parametrize("spread", [0.05, 0.1])
@pytest.mark.parametrize("readings", [0, 1, 4, 40])
def test_pieces_suffice_as_often_as_stated_over_all_that_is_believed_of_a_planer(tolerance, spread, readings):
    """Offset and spread drawn from the belief that a record of so many readings leaves."""
    rng = random.Random(f"{tolerance} {spread} {readings}")
    belief = caliper.unknown_planer(spread=spread)
    belief = caliper.update(belief, [rng.gauss(0.2, spread) for _ in range(readings)])
    spread, unsure = belief.spread, belief.offset_uncertainty
    aim = trials.aim_of_first_try(tolerance, spread, unsure)
    pieces = trials.pieces_that_suffice(tolerance, spread, unsure, aim, belief.spread_readings)
    enough = 0
    draws = times(5000)
    for _ in range(draws):
        chi_square = 2 * rng.gammavariate(belief.spread_readings / 2, 1)
        drawn = spread * math.sqrt(belief.spread_readings / chi_square)
        enough += pieces_spent(rng, tolerance, drawn, unsure * drawn / spread, aim) < pieces
    assert enough / draws >= 0.99 - room(0.01, draws)


@pytest.mark.parametrize("number", [1, 2, 3])
def test_what_tries_miss_by_spreads_as_stated(number):
    rng = random.Random(5)
    spread, unsure = 0.05, 0.2
    misses = []
    for _ in range(RUNS):
        offset = rng.gauss(0, unsure)
        seen = [offset + rng.gauss(0, spread) for _ in range(number - 1)]
        guess = sum(seen) / spread**2 / (1 / unsure**2 + len(seen) / spread**2)
        misses.append(offset - guess + rng.gauss(0, spread))
    found = math.sqrt(math.fsum(miss**2 for miss in misses) / RUNS)
    assert found == pytest.approx(trials.spread_of_try(number, spread, unsure), rel=4 / math.sqrt(2 * RUNS))


def test_the_aim_of_the_first_try_keeps_its_risk():
    rng = random.Random(8)
    tolerance, spread, unsure = 0.1, 0.05, 0.25
    aim = trials.aim_of_first_try(tolerance, spread, unsure, risk=0.05)
    thin = sum(aim + rng.gauss(0, unsure) + rng.gauss(0, spread) < -tolerance for _ in range(RUNS)) / RUNS
    assert aim > 0
    assert abs(thin - 0.05) < room(0.05, RUNS)


def test_a_planer_that_never_repeats_is_an_error_and_no_number():
    with pytest.raises(OutOfRangeError, match="tolerance"):
        trials.pieces_that_suffice(0.01, 1.0, 1.0)


def test_a_known_scale_needs_one_piece():
    assert trials.pieces_that_suffice(0.2, 0.05, 0.0) == 1


@pytest.mark.slow
@pytest.mark.parametrize("readings", [1, 2, 3, 5])
def test_the_caliper_is_as_sure_as_it_should_be(readings):
    """Offset and spread drawn from the prior: the stated chance is the rate of landing."""
    rng = random.Random(readings)
    prior = caliper.unknown_planer(offset_uncertainty=0.2, spread=0.05, worth=6)
    half = student_width(0.9, prior.spread_readings + readings)
    landed = covered = stated = 0.0
    for _ in range(RUNS):
        variance = prior.spread_readings * prior.spread**2 / (2 * rng.gammavariate(prior.spread_readings / 2, 1))
        spread = math.sqrt(variance)
        offset = rng.gauss(prior.offset, spread / math.sqrt(prior.offset_readings))
        belief = caliper.update(prior, [offset + rng.gauss(0, spread) for _ in range(readings)])
        opening = caliper.scale_for(belief, 20.0) + offset + rng.gauss(0, spread)
        stated += caliper.hit_chance(belief, 0.13)
        landed += abs(opening - 20.0) <= 0.13
        covered += abs(offset - belief.offset) <= half * belief.offset_uncertainty
    assert abs(landed - stated) / RUNS < room(stated / RUNS, RUNS)
    assert abs(covered / RUNS - 0.9) < room(0.9, RUNS)


@pytest.mark.slow
@pytest.mark.parametrize("offset", [-0.6, 0.0, 0.35])
def test_a_planer_of_known_offset_and_spread_ends_within_tolerance(offset):
    """The planer is nothing like the prior's centre, and still lands after three readings."""
    rng = random.Random(3)
    spread, tolerance = 0.04, 0.13
    landed, stated, exact = 0, 0.0, 0.0
    for _ in range(RUNS):
        belief = caliper.update(caliper.unknown_planer(), [offset + rng.gauss(0, spread) for _ in range(3)])
        opening = caliper.scale_for(belief, 20.0) + offset + rng.gauss(0, spread)
        landed += abs(opening - 20.0) <= tolerance
        stated += caliper.hit_chance(belief, tolerance)
        exact += trials.chances_of_try(4, tolerance, spread, 1e6).hit
    assert landed / RUNS > 0.99
    assert landed / RUNS >= stated / RUNS - room(stated / RUNS, RUNS), "it promised more than it kept"
    assert abs(landed - exact) / RUNS < 0.01


def test_readings_one_by_one_or_together_say_the_same():
    together = caliper.update(caliper.unknown_planer(), [0.2, 0.25, 0.15])
    belief = caliper.unknown_planer()
    for reading in (0.2, 0.25, 0.15):
        belief = caliper.update(belief, [reading])
    assert belief == pytest.approx(together)


def test_no_readings_change_nothing():
    assert caliper.update(caliper.unknown_planer(), []) == caliper.unknown_planer()


def test_a_reading_of_another_unit_is_refused():
    with pytest.raises(OutOfRangeError, match="unit"):
        caliper.update(caliper.unknown_planer(), [27.0])
