"""The normal law, Student's t and the estimates against scipy.stats."""

import numpy as np
import pytest
from scipy import stats
from thickset.trade import caliper, normal, trials

SOURCE = "scipy.stats"


@pytest.mark.parametrize("share", [0.5, 0.15, 0.1, 0.05, 0.01, 0.00135, 1e-6])
def test_deviations(share, check):
    check(
        name=f"statistics/deviations {share}",
        what=f"standard deviations that leave {share:g} under a limit",
        source=SOURCE,
        known="derived",
        expected=float(stats.norm.isf(share)),
        got=normal.deviations_for(share),
        tolerance=1e-9,
        why="the library's quantile is good to about 16 figures, 9 are plenty here",
    )


@pytest.mark.parametrize("freedom", [0.5, 1, 2.5, 4, 7.3, 30, 400])
@pytest.mark.parametrize("width", [0.01, 0.7, 2.0, 9.0])
def test_student_within(width, freedom, check):
    check(
        name=f"statistics/student {width} {freedom}",
        what=f"chance that Student's t with {freedom} degrees of freedom is within {width}",
        source=SOURCE,
        known="derived",
        expected=float(stats.t.cdf(width, freedom) - stats.t.cdf(-width, freedom)),
        got=normal.student_within(width, freedom),
        tolerance=1e-12,
        why="both are computed to about 14 figures",
    )


@pytest.mark.parametrize("freedom", [0.5, 1, 4, 60])
@pytest.mark.parametrize("chance", [0.5, 0.95, 0.99])
def test_student_width(chance, freedom, check):
    check(
        name=f"statistics/student width {chance} {freedom}",
        what=f"half width that keeps Student's t with {freedom} degrees of freedom with a chance of {chance}",
        source=SOURCE,
        known="derived",
        expected=float(stats.t.ppf((1 + chance) / 2, freedom)),
        got=normal.student_width(chance, freedom),
        tolerance=1e-9,
        relative=True,
        why="solved by halving to the last place",
    )


@pytest.mark.slow
def test_belief_is_the_exact_posterior(check):
    """Against the posterior summed over a grid of offset and spread, without the closed form."""
    prior = caliper.Belief(0.05, 2.0, 0.06, 5.0)
    readings = [0.20, 0.11, 0.16]
    offsets = np.linspace(-0.6, 0.9, 1501)[:, None]
    spreads = np.geomspace(0.005, 1.5, 1200)[None, :]
    variance = spreads**2
    density = stats.norm.pdf(offsets, prior.offset, spreads / np.sqrt(prior.offset_readings))
    scale = prior.spread_readings * prior.spread**2 / 2
    density = density * stats.invgamma.pdf(variance, prior.spread_readings / 2, scale=scale)
    for reading in readings:
        density = density * stats.norm.pdf(reading, offsets, spreads)
    weight = density * variance  # an even step of log(spread) is spread^2 in the variance
    weight /= weight.sum()
    after = caliper.update(prior, readings)
    low, high = caliper.offset_interval(after, 0.9)
    inside = float(weight[(offsets[:, 0] > low) & (offsets[:, 0] < high)].sum())
    target = stats.norm.cdf(0.1, offsets - after.offset, spreads) - stats.norm.cdf(
        -0.1, offsets - after.offset, spreads
    )
    check(
        name="statistics/posterior",
        what="offset after three readings, chance within its 90 % interval, chance that the next setting is within 0.1 mm",
        source="the posterior summed over a grid with scipy.stats, no closed form",
        known="derived",
        expected=[float((weight * offsets).sum()), inside, float((weight * target).sum())],
        got=[after.offset, 0.9, caliper.hit_chance(after, 0.1)],
        tolerance=0.001,
        why="the step of the grid",
    )


@pytest.mark.parametrize(("tolerance", "spread", "unsure"), [(0.13, 0.05, 0.4), (0.05, 0.03, 0.1), (0.1, 0.08, 0.0)])
def test_chances_of_the_first_tries(tolerance, spread, unsure, check):
    expected, got = [], []
    for number in (1, 2, 3):
        known = (1 / unsure**2 if unsure else np.inf) + (number - 1) / spread**2
        law = stats.norm(0, np.sqrt(spread**2 + 1 / known))
        expected += [
            float(law.cdf(-tolerance)),
            float(law.cdf(tolerance) - law.cdf(-tolerance)),
            float(law.sf(tolerance)),
        ]
        got += list(trials.chances_of_try(number, tolerance, spread, unsure))
    check(
        name=f"statistics/tries {tolerance} {spread} {unsure}",
        what=f"chances of thin, hit and proud for the first three tries, tolerance {tolerance}, spread {spread}, unsure {unsure}",
        source=SOURCE,
        known="derived",
        expected=expected,
        got=got,
        tolerance=1e-12,
        why="floating point",
    )
