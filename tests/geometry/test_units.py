"""Lengths as people write them. 1 in = 25.4 mm exactly (international yard and pound agreement, 1959)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import PatternError
from geometry.units import MM_PER_INCH, Unit, format_length, parse_length_mm

TYPED = [
    ("5/8", 15.875),
    ('1 1/2"', 38.1),
    ("12.7mm", 12.7),
    ("1,5 cm", 15.0),
    ("1-1/2 in", 38.1),
    ("½", 12.7),
    ("1½ in", 38.1),
    ("-3/4", -19.05),
    ("− 3/4", -19.05),
    (" .5in ", 12.7),
    ("3,", 30.0),
    ("2", 20.0),
    ("10 mm.", 10.0),
    ("4 inches", 101.6),
    ("0", 0.0),
]


@pytest.mark.parametrize(("text", "expected_mm"), TYPED)
def test_what_people_type_is_read(text, expected_mm):
    assert parse_length_mm(text, default=Unit.CM) == pytest.approx(expected_mm, abs=1e-12)


@pytest.mark.parametrize(
    "text", ["", "abc", "1/0", "1..2", "1 2", "nan", "inf", "1e5", "12.5 1/2", "5 ft", "--1", "1/2/3"]
)
def test_what_is_no_length_is_refused_with_examples(text):
    with pytest.raises(PatternError, match="is not a length; type for example 5/8"):
        parse_length_mm(text, default=Unit.MM)


def test_a_length_beyond_any_garment_is_refused():
    with pytest.raises(PatternError, match="more than 100 m"):
        parse_length_mm("5000 in", default=Unit.MM)


@given(sixteenths=st.integers(-2000, 2000))
def test_sixteenths_of_an_inch_survive_writing_and_reading(sixteenths):
    length_mm = sixteenths * MM_PER_INCH / 16
    assert parse_length_mm(format_length(length_mm, Unit.INCH), default=Unit.MM) == pytest.approx(length_mm, abs=1e-9)


@given(length_mm=st.floats(-5000, 5000), unit=st.sampled_from([Unit.MM, Unit.CM]))
def test_metric_lengths_survive_to_the_digit_shown(length_mm, unit):
    assert parse_length_mm(format_length(length_mm, unit), default=unit) == pytest.approx(length_mm, abs=0.0501)


def test_an_inch_that_is_only_near_a_fraction_is_marked():
    assert format_length(10.0, Unit.INCH) == '~3/8"'
    assert format_length(9.525, Unit.INCH) == '3/8"'
