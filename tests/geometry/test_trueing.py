"""What a cut touched is trued: straight seams straight, curves without corners, folds and grain true."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.alterations.anchors import on_edge
from geometry.alterations.edge_ends import End, with_end_moved
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.curves import polyline
from geometry.model.marks import Mark, MarkKind
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import disc, half_front, rectangle

AMOUNTS = st.floats(-40.0, 60.0).filter(lambda amount: abs(amount) > 0.5)


def after(piece, *cuts):
    return Slash(piece.name, cuts).apply(Pattern((piece,))).pattern.pieces[0]


def across(opening_mm, hinge=Hinge.NONE):
    return SlashCut((on_edge("side", 0.3), on_edge("centre front", 0.7)), opening_mm, hinge, Side.LEFT)


@given(amount=AMOUNTS)
def test_a_crossed_straight_seam_is_redrawn_straight_end_to_end(amount):
    piece = after(rectangle(), across(amount))
    for edge_id in ("side", "centre front"):
        assert len(piece.edge(edge_id).points) == 2
        assert piece.edge(edge_id).length_mm == pytest.approx(600.0 + amount, abs=1e-6)


@given(share=st.floats(0.1, 0.9), amount=AMOUNTS, hinge=st.sampled_from(list(Hinge)))
def test_a_crossed_curve_has_no_corner_left(share, amount, hinge):
    cut = SlashCut((on_edge("edge 1", share), on_edge("edge 3", share)), amount, hinge, Side.LEFT)
    piece = after(disc(), cut)
    for edge in piece.edges:
        steps = np.diff(edge.points, axis=0)
        turns = np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
        assert turns.max() < math.radians(8.0)  # the round piece turns 1 degree a step; a left corner would be sharper


@given(amount=AMOUNTS, hinge=st.sampled_from(list(Hinge)))
def test_notches_stay_on_their_edge_and_edges_meet_at_corners(amount, hinge):
    piece = after(rectangle(), across(amount, hinge))
    for edge, following in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
        assert edge.end == pytest.approx(following.start, abs=1e-6)
    (notch,) = piece.notches
    assert 0.0 < notch.at_mm < piece.edge("side").length_mm


@given(amount=st.floats(2.0, 40.0))
def test_a_fold_bent_by_a_wedge_is_straight_again_with_the_grain_along_it(amount):
    piece = after(rectangle(), across(amount, Hinge.START))
    fold = piece.edge("centre front")
    assert len(fold.points) == 2
    ahead = np.subtract(fold.end, fold.start)
    along = np.subtract(piece.grain.end, piece.grain.start)
    assert abs(ahead[0] * along[1] - ahead[1] * along[0]) < 1e-6 * np.linalg.norm(ahead) * np.linalg.norm(along)


def test_the_width_a_straightened_fold_moved_is_reported():
    outcome = Slash("panel", (across(20.0, Hinge.START),)).apply(Pattern((rectangle(),)))
    codes = [finding.code for finding in outcome.findings]
    assert codes.count("fold-straightened") == 1
    longer = {change.edge: change.change_mm for change in outcome.changes}
    assert abs(longer["waist"]) + abs(longer["hem"]) == pytest.approx(outcome.findings[0].measured_mm, abs=0.2)


@given(amount=AMOUNTS)
def test_a_dart_whose_tip_and_mouth_part_gets_longer_with_straight_equal_legs(amount):
    piece = half_front()
    cut = SlashCut((on_edge("centre front", 0.8), on_edge("side", 0.15)), amount, Hinge.NONE, Side.RIGHT)
    before, now = piece.dart("waist dart"), after(piece, cut).dart("waist dart")
    changed = after(piece, cut)
    a, b = changed.legs_mm(now)
    assert a == pytest.approx(b, rel=0.02)
    assert changed.intake_mm(now) == pytest.approx(piece.intake_mm(before), abs=1e-6)


def test_a_blend_stays_within_its_reach():
    piece = disc()
    cut = SlashCut((on_edge("edge 1", 0.5), on_edge("edge 3", 0.5)), 10.0, Hinge.END, Side.LEFT)
    rough, fine = (
        Slash("disc", (cut,), reach_mm=reach).apply(Pattern((piece,))).pattern.pieces[0].edge("edge 1")
        for reach in (60.0, 30.0)
    )
    same = [tuple(point) for point in fine.points if polyline.nearest(rough.points, tuple(point))[1] > 1e-9]
    middle = fine.point_at(fine.length_mm / 2)
    assert same
    assert max(math.dist(place, middle) for place in same) < 60.0 + 10.0


@given(amount=st.floats(1.0, 40.0))
def test_the_edge_runs_straight_across_the_mouth_of_a_dart_that_a_cut_ran_through(amount):
    piece = half_front()
    dart = piece.dart("waist dart")
    middle = (dart.from_mm + dart.to_mm) / 2 / piece.edge("waist").length_mm
    cut = SlashCut((on_edge("waist", middle), on_edge("shoulder", 0.5)), amount, Hinge.END, Side.RIGHT)
    changed = after(piece, cut)
    now = changed.dart("waist dart")
    assert now.to_mm - now.from_mm == pytest.approx(changed.intake_mm(now), abs=1e-6)
    assert changed.intake_mm(now) > piece.intake_mm(dart)


def marked(piece, name, at):
    return replace(piece, marks=(*piece.marks, Mark(name, at, MarkKind.LANDMARK)))


@given(amount=AMOUNTS)
def test_landmarks_on_the_ends_of_a_fold_stay_on_its_corners(amount):
    piece = marked(marked(rectangle(), "waist", (0.0, 600.0)), "hem", (0.0, 0.0))
    trued = after(piece, across(amount, Hinge.START))
    assert trued.landmark("waist") == pytest.approx(trued.edge("waist").end, abs=1e-9)
    assert trued.landmark("hem") == pytest.approx(trued.edge("hem").start, abs=1e-9)


@given(amount=AMOUNTS)
def test_a_landmark_on_a_blended_edge_stays_on_it(amount):
    piece = marked(rectangle(), "hip", (400.0, 310.0))
    trued = after(piece, SlashCut((on_edge("side", 0.5), on_edge("centre front", 0.5)), amount, Hinge.START, Side.LEFT))
    assert polyline.nearest(trued.edge("side").points, trued.landmark("hip"))[1] == pytest.approx(0.0, abs=1e-9)


def test_a_hole_on_a_corner_that_two_edges_are_drawn_to_goes_there_once():
    piece = replace(rectangle(), marks=(Mark("loop", (400.0, 600.0), MarkKind.DRILL),))
    for by_mm in (0.3, 25.0, -0.3, -25.0):
        drawn = with_end_moved(piece, "side", End.END, by_mm)
        assert drawn.marks[0].at == pytest.approx((400.0, 600.0 + by_mm), abs=1e-9)
