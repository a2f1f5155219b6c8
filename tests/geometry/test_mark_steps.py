"""Notches moved along their edge, landmarks placed."""

import pytest

from geometry.alterations.anchors import free, on_edge
from geometry.alterations.mark_steps import PlaceLandmark
from geometry.alterations.notch_steps import MoveNotch
from geometry.errors import StepError
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import half_front, rectangle


def test_a_notch_goes_along_its_edge_and_nothing_else_moves():
    piece = rectangle()
    after = MoveNotch("panel", "hip", -30.0).apply(Pattern((piece,))).pattern.pieces[0]
    assert after.notch_point(after.notch("hip")) == pytest.approx((400.0, 390.0))
    assert after.edges == piece.edges


def test_a_notch_does_not_leave_its_edge():
    with pytest.raises(StepError, match='would leave the edge "side"'):
        MoveNotch("panel", "hip", 500.0).apply(Pattern((rectangle(),)))


def test_a_landmark_is_new_where_there_was_none_and_moves_where_there_was_one():
    pattern = Pattern((half_front(),))
    first = PlaceLandmark("front bodice", "elbow", free((10.0, 20.0))).apply(pattern).pattern
    assert first.pieces[0].landmark("elbow") == (10.0, 20.0)
    moved = PlaceLandmark("front bodice", "bust point", on_edge("waist", 0.5)).apply(first).pattern.pieces[0]
    assert moved.landmark("bust point") == pytest.approx((112.5, 0.0))
    assert [mark.id for mark in moved.marks] == ["bust point", "elbow"]


def test_a_landmark_placed_where_it_is_changes_nothing():
    pattern = Pattern((half_front(),))
    assert PlaceLandmark("front bodice", "bust point", free((90.0, 190.0))).apply(pattern).pattern is pattern


def test_a_landmark_without_a_name_is_refused():
    with pytest.raises(StepError, match="is called"):
        PlaceLandmark("front bodice", " ", free((1.0, 2.0))).apply(Pattern((half_front(),)))
