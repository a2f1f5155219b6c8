"""Finished measurement, body and ease before and after; what is below the least is said in words."""

from __future__ import annotations

import pytest

from geometry.alterations.handbook.alteration import Alteration
from geometry.fitting.body import body_of
from geometry.fitting.ease import GarmentEase
from geometry.fitting.finished import finished
from geometry.fitting.garment_table import Row, garment_table
from geometry.fitting.measures import Measure
from geometry.units import Unit
from samples.draft_dress import draft_nest

PATTERN = draft_nest().sample


def rows(body: dict[Measure, float], **more: object) -> dict[Measure, Row]:
    wider = Alteration("H01", 10.0).apply(PATTERN).pattern
    return {row.measure: row for row in garment_table(body_of(body), PATTERN, wider, **more)}  # type: ignore[arg-type]


def test_every_level_shows_garment_body_and_ease_before_and_after() -> None:
    hip = rows({Measure.HIP: 1000.0})[Measure.HIP]
    assert hip.before_mm == finished(PATTERN).mm(Measure.HIP)
    assert hip.ease_before_mm == pytest.approx(hip.before_mm - 1000.0)
    assert hip.ease_after_mm - hip.ease_before_mm == pytest.approx(40.0, abs=1.0)  # 10 mm on each of four edges


def test_rows_come_from_the_top_down_and_without_a_body_only_the_garment_shows() -> None:
    table = garment_table(body_of({}), PATTERN, PATTERN)
    order = [row.measure for row in table]
    assert order == sorted(order, key=list(Measure).index)
    assert all(row.ease_after_mm is None and not row.is_below and row.words(Unit.CM) == "" for row in table)


def test_too_little_ease_is_told_in_words() -> None:
    made = finished(PATTERN).mm(Measure.UPPER_ARM)
    row = rows({Measure.UPPER_ARM: made - 20.0})[Measure.UPPER_ARM]
    assert row.is_below
    assert row.words(Unit.CM) == "Too little ease at the upper arm girth: 2 cm, at least 3.81 cm is needed."


def test_a_garment_smaller_than_the_body_is_told_as_such() -> None:
    made = finished(PATTERN).mm(Measure.WAIST)
    row = rows({Measure.WAIST: made + 30.0})[Measure.WAIST]
    assert row.words(Unit.CM) == "Too small: the waist girth is 3 cm more than the garment."


def test_enough_ease_needs_no_words() -> None:
    made = finished(PATTERN).mm(Measure.WAIST)
    row = rows({Measure.WAIST: made - 25.4})[Measure.WAIST]
    assert (row.is_below, row.words(Unit.CM)) == (False, "")


def test_who_asks_for_less_ease_is_not_warned_of_it() -> None:
    made = finished(PATTERN).mm(Measure.UPPER_ARM)
    own = GarmentEase(((Measure.UPPER_ARM, 15.0),))
    assert not rows({Measure.UPPER_ARM: made - 20.0}, ease=own)[Measure.UPPER_ARM].is_below


def test_lengths_are_not_called_too_small() -> None:
    """A skirt may end above the knee."""
    assert not rows({Measure.WAIST_TO_HEM: 900.0})[Measure.WAIST_TO_HEM].is_below
