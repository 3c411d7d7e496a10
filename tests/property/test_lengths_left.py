"""Before the cut and after the run: rough lengths hold their parts, and what is made of a short board is thick enough."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from strategies import exact
from thickset.ground.job.example import small_job
from thickset.ground.job.job import Part
from thickset.ground.notation.places import ACROSS, ALONG, Place
from thickset.planning.run.report import Final, target_of
from thickset.planning.run.snipe import ENDS
from thickset.planning.stock.leaving import rough_lengths
from thickset.planning.stock.rescue import narrower_part, shorter_part

JOB = small_job()
AT = [Place(along, across) for along in ALONG for across in ACROSS]


@given(
    exact(20, 900), st.integers(1, 9), exact(0, 8), exact(0, 40), exact(0, 120), exact(0, 900), st.sampled_from(ENDS)
)
def test_a_rough_length_holds_its_parts_the_saw_and_both_ends_and_is_not_too_short_to_feed(
    length, count, kerf, trim, snipe, shortest, ends
):
    planer = replace(JOB.planer, snipe_lead=snipe, snipe_trail=snipe / 2, shortest=shortest)
    cutting = replace(JOB.cutting, kerf=kerf, trim=trim)
    (rough,) = rough_lengths(replace(JOB, planer=planer, cutting=cutting, parts=(Part("p", length, count),)), ends)
    end = max(trim, snipe) if ends == "alone" else trim
    need = rough.parts_in_one * length + (rough.parts_in_one - 1) * kerf + 2 * end
    assert 1 <= rough.parts_in_one <= count
    assert rough.length == max(need, shortest)
    # No more in one than the planer's shortest board asks for.
    assert rough.parts_in_one == 1 or need - length - kerf < shortest


@given(st.lists(exact(0, 3), min_size=9, max_size=9))
def test_what_is_made_of_a_short_board_is_thick_enough_wherever_it_was_measured(over):
    target = target_of(JOB)
    final = Final(0, tuple(target + value - Fraction(1) for value in over), Fraction(-1), False, tuple(AT))
    board = JOB.boards[0]
    good = {place: value >= target - JOB.tolerance for place, value in zip(AT, final.readings, strict=True)}
    for found, size, lines in (
        (shorter_part(final, JOB), board.length, [(a, [p for p in AT if p.along == a]) for a in ALONG]),
        (narrower_part(final, JOB), board.width, [(a, [p for p in AT if p.across == a]) for a in ACROSS]),
    ):
        spots = [Fraction(0), size / 2, size]
        whole = [all(good[place] for place in places) for _, places in lines]
        assert (found is not None) == any(whole)
        if found:
            inside = [holds for spot, holds in zip(spots, whole, strict=True) if found[0] <= spot <= found[1]]
            assert inside
            assert all(inside)
