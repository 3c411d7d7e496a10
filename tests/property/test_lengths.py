"""Lengths are read exactly, and what is shown reads back as the same length."""

from fractions import Fraction

import pytest
from amounts import examples
from hypothesis import given
from hypothesis import strategies as st
from independent import INCH
from strategies import NO_LENGTH, NOTHING, exact_lengths, typed_lengths
from thickset.ground.notation.lengths import LengthError, near, read, show

UNITS = st.sampled_from(["in", "mm"])


@examples(500)
@given(exact_lengths, UNITS, UNITS)
def test_what_is_shown_reads_back_the_same(length: Fraction, shown_in: str, read_in: str) -> None:
    assert read(show(length, shown_in), read_in) == length


@examples(500)
@given(exact_lengths, UNITS)
def test_what_is_shown_names_its_unit(length: Fraction, units: str) -> None:
    assert show(length, units).rpartition(" ")[2] in ("in", "mm")


@examples(300)
@given(exact_lengths, UNITS)
def test_a_rounded_length_is_near(length: Fraction, units: str) -> None:
    assert abs(read(near(length + 1, units), units) - length - 1) <= (
        INCH / 2000 if units == "in" else Fraction(1, 200)
    )


@examples(500)
@given(typed_lengths())
def test_what_people_type_is_read_exactly(typed: tuple[str, str, Fraction]) -> None:
    text, units, length = typed
    assert read(text, units) == length


@pytest.mark.parametrize("text", [bad for bad in [*NO_LENGTH, *NOTHING] if isinstance(bad, str)])
@pytest.mark.parametrize("units", ["in", "mm"])
def test_nonsense_is_refused_with_what_was_typed_and_how_to_write_it(text: str, units: str) -> None:
    with pytest.raises(LengthError, match="Write it like") as caught:
        read(text, units)
    if text.strip().isprintable():
        assert text.strip()[:20] in str(caught.value)


@examples(200)
@given(st.text(max_size=30), UNITS)
def test_any_text_is_read_or_refused(text: str, units: str) -> None:
    try:
        length = read(text, units)
    except LengthError:
        return
    assert length > 0


@pytest.mark.parametrize(
    ("text", "units", "mm"),
    [
        ("1 3/32", "in", "27.78125"),
        ("1-3/32", "in", "27.78125"),
        ("35/32", "in", "27.78125"),
        ("1.09375", "in", "27.78125"),
        (".75", "in", "19.05"),
        ("27,8", "mm", "27.8"),
        ("27.8 mm", "in", "27.8"),
        ('1 1/16"', "mm", "26.9875"),
        ("3/4 in", "mm", "19.05"),
        ("½", "in", "12.7"),
        ("1 ½ ″", "mm", "38.1"),
        ("2.5 cm", "in", "25"),
    ],
)
def test_the_ways_of_writing_that_must_be_known(text: str, units: str, mm: str) -> None:
    assert read(text, units) == Fraction(mm)
