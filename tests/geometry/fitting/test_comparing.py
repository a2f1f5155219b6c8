"""Two patterns laid over one another by grain and one point; what differs is listed and dimensioned."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import Affine
from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.alterations.handbook.alteration import Alteration
from geometry.errors import PatternError
from geometry.fitting.comparing import compare, laid_over
from geometry.fitting.measures import Measure
from samples.draft_dress import draft_nest

PATTERN = draft_nest().sample
LONGER = Alteration("A01", 20.0).apply(PATTERN).pattern


def of(comparison, name):
    return next(each for each in comparison.pieces if each.piece == name)


def test_a_pattern_compared_with_itself_shows_nothing() -> None:
    comparison = compare(PATTERN, PATTERN)
    assert comparison.only_first == comparison.only_second == ()
    for piece in comparison.pieces:
        assert piece.dimensions == ()
        assert not any(change.is_notable for change in (*piece.edges, *piece.intakes))
    assert not any(change.is_notable for change in comparison.seams)


@given(angle=st.floats(-3.0, 3.0), dx=st.floats(-900.0, 900.0), dy=st.floats(-900.0, 900.0))
def test_where_and_how_a_piece_lies_on_the_table_is_no_difference(angle, dx, dy) -> None:
    motion = Affine.turned(angle).then(Affine.moved(dx, dy))
    other = replace(PATTERN, pieces=tuple(piece.moved(motion) for piece in PATTERN.pieces))
    comparison = compare(PATTERN, other)
    assert all(piece.dimensions == () for piece in comparison.pieces)
    assert comparison.pieces[0].turned_deg == pytest.approx(-math.degrees(angle), abs=1e-6)


def test_a_lengthened_bodice_is_20_mm_longer_seam_by_seam() -> None:
    comparison = compare(PATTERN, LONGER)
    for name in ("front bodice", "back bodice"):
        changes = {change.what: change for change in of(comparison, name).edges}
        assert changes["side"].change_mm == pytest.approx(20.0, abs=0.3)
        assert not changes["armhole"].is_notable
    assert not of(comparison, "sleeve").dimensions
    measured = dict(comparison.finished)
    assert measured[Measure.BACK_LENGTH].change_mm == pytest.approx(20.0, abs=0.01)
    assert not any(change.is_notable for change in comparison.seams)


def test_the_chosen_point_lies_on_itself_and_the_rest_shows() -> None:
    """Laid at the waist the shoulders are 20 mm apart, laid at the neck the waists are."""
    at_waist = of(compare(PATTERN, LONGER), "back bodice")
    shown = {dimension.what: dimension.length_mm for dimension in at_waist.dimensions}
    assert shown["corner of neck and shoulder"] == pytest.approx(20.0, abs=0.01)
    assert "corner of waist and centre back" not in shown
    at_neck = of(compare(PATTERN, LONGER, at={"back bodice": on_edge("shoulder", 0.0)}), "back bodice")
    shown = {dimension.what: dimension.length_mm for dimension in at_neck.dimensions}
    assert shown["corner of waist and centre back"] == pytest.approx(20.0, abs=0.01)
    assert "corner of neck and shoulder" not in shown


def test_the_widest_difference_comes_first() -> None:
    for piece in compare(PATTERN, LONGER).pieces:
        lengths = [dimension.length_mm for dimension in piece.dimensions]
        assert lengths == sorted(lengths, reverse=True)


def test_darts_that_got_wider_are_listed() -> None:
    fuller = Alteration("D01", 12.7).apply(PATTERN).pattern
    intakes = {change.what: change for change in of(compare(PATTERN, fuller), "front bodice").intakes}
    assert intakes["side dart"].change_mm > 8.0


def test_a_piece_that_only_one_has_is_named() -> None:
    without = replace(PATTERN, pieces=PATTERN.pieces[:-1])
    assert compare(PATTERN, without).only_first == ("back skirt",)
    assert compare(without, PATTERN).only_second == ("back skirt",)


def test_sizes_of_the_nest_can_be_compared() -> None:
    smaller, larger = draft_nest().patterns[0], draft_nest().patterns[6]
    measured = dict(compare(smaller, larger).finished)
    assert measured[Measure.WAIST].change_mm == pytest.approx((36.0 - 27.625) * 25.4, abs=0.3)  # ASTM D5585-11e1


def test_a_point_that_one_piece_lacks_is_refused() -> None:
    front = PATTERN.piece("front bodice")
    with pytest.raises(PatternError, match='no dart called "neck dart"'):
        laid_over(front, front, Anchor(On.TIP, "neck dart"))
