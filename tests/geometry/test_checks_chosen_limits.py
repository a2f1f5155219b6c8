"""Limits that a project chose: plain values and back, and a sentence for each that makes no sense."""

import math
from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.checks.chosen_limits import changed_limits, limits_from
from geometry.checks.limits import DEFAULT_LIMITS, LIMITS_TOLD, Limits
from geometry.errors import PatternError

BANDS = [field.name for field in fields(Limits) if isinstance(getattr(DEFAULT_LIMITS, field.name), tuple)]
SINGLE = [field.name for field in fields(Limits) if field.name not in BANDS and "_warn_" not in field.name]
lengths_mm = st.floats(4.0, 9_000.0)


def test_the_usual_limits_are_no_change() -> None:
    assert changed_limits(DEFAULT_LIMITS) == {}
    assert limits_from({}) == DEFAULT_LIMITS


single_limits = st.dictionaries(st.sampled_from(SINGLE), lengths_mm)
bands_limits = st.dictionaries(st.sampled_from(BANDS), st.tuples(lengths_mm, lengths_mm))


@given(single_limits, bands_limits)
def test_what_is_changed_comes_back(single: dict[str, float], bands: dict[str, tuple[float, float]]) -> None:
    chosen = limits_from(single | {name: sorted(band) for name, band in bands.items()})
    assert limits_from(changed_limits(chosen)) == chosen
    assert set(changed_limits(chosen)) <= set(single) | set(bands)


def test_whole_numbers_are_lengths_too() -> None:
    assert limits_from({"cloth_mm": 1150, "cap_dress_mm": [20, 30]}) == Limits(
        cloth_mm=1150.0, cap_dress_mm=(20.0, 30.0)
    )


@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf, 1e9, "3", None, True, [1.0, 2.0]])
def test_what_is_no_length_is_refused_by_name(value: object) -> None:
    with pytest.raises(PatternError, match=r'"cloth_mm" is .*give a number from 0'):
        limits_from({"cloth_mm": value})


@pytest.mark.parametrize("value", [3.0, [1.0], [1.0, 2.0, 3.0], [2.0, 1.0], [-1.0, 1.0], ["a", "b"]])
def test_what_is_no_band_is_refused_by_name(value: object) -> None:
    with pytest.raises(PatternError, match=r'"cap_dress_mm" is .*two numbers'):
        limits_from({"cap_dress_mm": value})


def test_an_unknown_limit_is_refused_with_those_there_are() -> None:
    with pytest.raises(PatternError, match=r'no limit called "seam_mm"; there are seam_warn_mm'):
        limits_from({"seam_mm": 1.0})


def test_what_warns_does_not_lie_beyond_what_stops() -> None:
    with pytest.raises(PatternError, match=r'"seam_warn_mm" is 5 and "seam_stop_mm" is 3'):
        limits_from({"seam_warn_mm": 5.0})
    assert limits_from({"seam_warn_mm": 5.0, "seam_stop_mm": 6.0}).seam_warn_mm == 5.0


def test_every_limit_says_what_it_means_and_where_it_comes_from() -> None:
    assert list(LIMITS_TOLD) == [field.name for field in fields(Limits)]
    assert all(told.words and told.source for told in LIMITS_TOLD.values())
