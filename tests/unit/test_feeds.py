"""A planer's feeds as a list, a range or both."""

from fractions import Fraction

import pytest
from thickset.doors.demo import DEMO_MM
from thickset.ground.job.document import read

FOOT = Fraction(3048, 10000)


def feeds(*given):
    return read({**DEMO_MM, "planer": {"feeds": list(given)}})


@pytest.mark.parametrize(
    ("given", "wanted"),
    [
        ("10 to 12 ft/min", [10 * FOOT, 11 * FOOT, 12 * FOOT]),
        ("4 to 5.2 m/min", [4, Fraction("4.5"), 5, Fraction("5.2")]),
        ("4 m/min – 5 m/min", [4, Fraction("4.5"), 5]),
        ("3.048 m/min to 12 ft/min", [10 * FOOT, 11 * FOOT, 12 * FOOT]),
        ("0.5..1.5 m/min", [Fraction("0.5"), 1, Fraction("1.5")]),
    ],
)
def test_a_range_is_all_its_feeds_in_steps_with_both_ends(given, wanted):
    assert list(feeds(given).job.planer.feeds) == wanted


def test_ranges_and_single_feeds_are_put_together_once_each():
    result = feeds("6 m/min", "5 to 7 m/min", "8 m/min")
    assert [float(feed) for feed in result.job.planer.feeds] == [5, 5.5, 6, 6.5, 7, 8]
    assert result.understood["planer.feeds[1]"] == "5 m/min to 7 m/min in steps of 0.5 m/min"


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ("10 to 25", "names no unit"),
        ("25 to 10 ft/min", "from a slower feed to a faster one"),
        ("10 to 10 ft/min", "from a slower feed to a faster one"),
        ("0 to 10 ft/min", "above zero"),
        ("-3 to 10 ft/min", "cannot be read"),
        ("5 to 60 ft/min", "more than 40 feeds"),
        ("10 to ft/min", "cannot be read"),
        ("10 to 20 kg", "kg is a weight"),
        ("0", "above zero"),
        ("fast", "it has no number"),
    ],
)
def test_a_range_that_cannot_be_is_a_problem_at_its_field(given, said):
    (problem,) = feeds("6 m/min", given).problems
    assert problem.at == "planer.feeds[1]"
    assert said in problem.text


def test_more_than_forty_feeds_in_all_are_too_many():
    (problem,) = feeds("1 to 12 m/min", "20 to 32 m/min").problems
    assert problem.at == "planer.feeds"
    assert "48 feeds" in problem.text
