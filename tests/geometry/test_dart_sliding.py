"""Darts moved and widened in edges that run smoothly when folded: as on paper, folded shut and opened elsewhere."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import angle_between, distance_mm
from geometry.alterations.anchors import free, on_edge
from geometry.alterations.dart_steps import MakeDart, MoveDart, WidenDart
from geometry.alterations.edge_steps import StraightenEdge
from geometry.alterations.folded_edge import fold
from geometry.checks.run import check_pattern
from geometry.curves import polyline
from samples.draft_dress import draft_nest
from tests.geometry.drawn_darts import assert_same_shape, assert_sound, waist_dart
from tests.geometry.drawn_panels import done
from tests.geometry.drawn_pieces import rectangle

DRESS = draft_nest().sample
"""Its waist darts were trued with the darts folded; those of the bodice aim at a body point, those of the skirt not."""

PIECES = st.sampled_from(["front bodice", "back bodice", "front skirt", "back skirt"])
MOVES = st.floats(-20.0, 20.0).filter(lambda by: abs(by) > 0.1)
BACK_WITHIN_MM = 1e-5
"""What may be left of a move after the move back: the samples' legs differ by less than this before it."""


def stepped(step):
    return step.apply(DRESS).pattern


def assert_legs_equal(piece):
    for dart in piece.darts:
        one, other = piece.legs_mm(dart)
        assert one == pytest.approx(other, abs=1e-6)


def kinks(pattern):
    return [found for found in check_pattern(pattern, base=DRESS) if found.code == "edge-kinked"]


@given(name=PIECES, by=MOVES)
def test_a_moved_dart_leaves_the_folded_edge_the_very_same_line(name, by):
    before, after = DRESS.piece(name), stepped(MoveDart(name, "waist dart", by)).piece(name)
    assert after.sewn_length_mm("waist") == pytest.approx(before.sewn_length_mm("waist"), abs=1e-6)
    was, now = (fold(piece, "waist").chain for piece in (before, after))
    turn = angle_between((0.0, 0.0), tuple(was[-1] - was[0]), tuple(now[-1] - now[0]))
    assert abs(math.degrees(turn)) < 20.0
    cos, sin = math.cos(turn), math.sin(turn)
    laid = (was - was[0]) @ np.array([[cos, sin], [-sin, cos]]) + now[0]
    assert polyline.distances_mm(now, laid).max() < 1e-6
    assert polyline.distances_mm(laid, now).max() < 1e-6


@given(name=PIECES, by=MOVES)
def test_a_moved_dart_closes_as_much_further_along_and_its_legs_are_equal(name, by):
    before, after = DRESS.piece(name), stepped(MoveDart(name, "waist dart", by)).piece(name)
    was, now = before.dart("waist dart"), after.dart("waist dart")
    assert now.from_mm - was.from_mm == pytest.approx(by, abs=1e-6)
    assert_legs_equal(after)
    assert_sound(after)
    assert (after.edge("waist").start, after.edge("waist").end) == (
        before.edge("waist").start,
        before.edge("waist").end,
    )
    if was.aim is not None:
        assert distance_mm(now.tip, now.aim) == pytest.approx(distance_mm(was.tip, was.aim), abs=1e-6)
    notches = zip(before.notches_on("waist"), after.notches_on("waist"), strict=True)
    for old, new in notches:
        places = (piece.sewn_station_mm("waist", notch.at_mm) for piece, notch in ((before, old), (after, new)))
        assert next(places) == pytest.approx(next(places), abs=1e-6)


@given(name=PIECES, by=MOVES)
def test_a_dart_moved_there_and_back_in_a_trued_edge_is_where_it_was(name, by):
    there = MoveDart(name, "waist dart", by).apply(DRESS).pattern
    back = MoveDart(name, "waist dart", -by).apply(there).pattern.piece(name)
    assert_same_shape(back, DRESS.piece(name), within_mm=BACK_WITHIN_MM)
    tips = (piece.dart("waist dart").tip for piece in (back, DRESS.piece(name)))
    assert next(tips) == pytest.approx(next(tips), abs=BACK_WITHIN_MM)


@given(name=PIECES, by=st.floats(-8.0, 15.0).filter(lambda by: abs(by) > 0.1))
def test_a_widened_dart_takes_in_just_its_amount_and_its_folded_edge_is_smooth(name, by):
    before, pattern = DRESS.piece(name), stepped(WidenDart(name, "waist dart", by))
    after = pattern.piece(name)
    assert after.sewn_length_mm("waist") == pytest.approx(before.sewn_length_mm("waist") - by, abs=1e-6)
    assert after.dart("waist dart").tip == before.dart("waist dart").tip
    assert_legs_equal(after)
    assert_sound(after)
    chain = fold(after, "waist").chain
    steps = np.diff(chain, axis=0)
    turns = np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
    assert turns.max() < math.radians(3.0)


@pytest.mark.parametrize("name", ["front bodice", "back bodice", "front skirt", "back skirt"])
@pytest.mark.parametrize(
    "make", [lambda name: MoveDart(name, "waist dart", 18.0), lambda name: WidenDart(name, "waist dart", 15.0)]
)
def test_the_checks_see_no_corner_where_a_dart_was_moved_or_widened(name, make):
    assert kinks(stepped(make(name))) == []


@pytest.mark.parametrize("kind", [MoveDart, WidenDart])
def test_nothing_gives_the_very_same_piece(kind):
    assert stepped(kind("front bodice", "waist dart", 0.0)) is DRESS


@given(by=st.floats(-40.0, 40.0).filter(lambda by: abs(by) > 0.1))
def test_the_other_dart_of_an_edge_keeps_its_tip_and_the_whole_folded_edge_stays_straight(by):
    second = MakeDart("panel", free((100.0, 600.0)), free((100.0, 500.0)), 30.0, "other")
    whole = StraightenEdge("panel", "waist", on_edge("waist", 0.0), on_edge("waist", 1.0))
    before = done(rectangle(), waist_dart(), second, whole)
    after = done(before, MoveDart("panel", "waist dart", by))
    assert after.dart("other").tip == before.dart("other").tip
    assert polyline.offset_from_chord_mm(fold(after, "waist").chain) < 1e-6
    assert after.sewn_length_mm("waist") == pytest.approx(before.sewn_length_mm("waist"), abs=1e-6)
    assert_legs_equal(after)
    assert_sound(after)
    back = done(after, MoveDart("panel", "waist dart", -by))
    assert_same_shape(back, before, within_mm=BACK_WITHIN_MM)
