"""Edges trued: straight, smooth, square; what is not touched stays to the last bit."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import distance_mm, frozen_points
from geometry.alterations.anchors import Anchor, On, free, on_edge
from geometry.alterations.dart_steps import MakeDart
from geometry.alterations.edge_ends import End
from geometry.alterations.edge_steps import BlendEdge, Hold, SquareCorner, StraightenCentre, StraightenEdge
from geometry.alterations.folded_edge import fold, with_folded_part
from geometry.curves import polyline
from geometry.errors import MissingPartError, StepError
from geometry.model.edge import Edge
from geometry.model.marks import Notch
from geometry.model.pattern import Pattern
from tests.geometry.drawn_panels import DARTED, assert_closed_and_simple, curved, done, panel
from tests.geometry.drawn_pieces import disc, half_front

QUARTER_TURN = math.pi / 2


def sharpest_turn(chain):
    steps = np.diff(chain, axis=0)
    return np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0])))).max(initial=0.0)


DIP = panel(waist=((300.0, 600.0), (200.0, 590.0), (120.0, 605.0)))


# straightening


def test_an_edge_is_straight_end_to_end_and_the_rest_is_the_same_object():
    step = StraightenEdge("panel", "waist", on_edge("waist", 0.0), on_edge("waist", 1.0))
    after = done(DIP, step)
    assert len(after.edge("waist").points) == 2
    assert after.edge("waist").length_mm == pytest.approx(300.0)
    for edge_id in ("hem", "side", "centre front"):
        assert after.edge(edge_id) is DIP.edge(edge_id)


@given(low=st.floats(0.0, 0.45), high=st.floats(0.55, 1.0))
def test_an_edge_is_straight_between_two_places_and_untouched_beyond_them(low, high):
    piece = disc()
    edge = piece.edge("edge 1")
    a, b = (edge.point_at(share * edge.length_mm) for share in (low, high))
    after = done(piece, StraightenEdge("disc", "edge 1", on_edge("edge 1", high), on_edge("edge 1", low)))
    # a chord of a circle of radius 200 mm
    chord_mm = distance_mm(a, b)
    now = after.edge("edge 1")
    assert now.length_mm == pytest.approx(edge.length_mm * (1 - high + low) + chord_mm, abs=1e-6)
    stations = polyline.stations_mm(edge.points)
    beyond = edge.points[(stations < low * edge.length_mm - 1e-6) | (stations > high * edge.length_mm + 1e-6)]
    assert {tuple(point) for point in beyond} <= {tuple(point) for point in now.points}
    assert (now.start, now.end) == (edge.start, edge.end)
    assert_closed_and_simple(after)


def test_an_edge_with_a_dart_is_straight_once_the_dart_is_folded_and_its_legs_are_equal():
    # a folded dart leaves a straight seam: fold, cut along the seam, open again (common practice, no source)
    assert polyline.offset_from_chord_mm(fold(DARTED, "waist").chain) > 1.0
    after = done(DARTED, StraightenEdge("panel", "waist", on_edge("waist", 0.0), on_edge("waist", 1.0)))
    folded = fold(after, "waist")
    assert polyline.offset_from_chord_mm(folded.chain) == pytest.approx(0.0, abs=1e-6)
    dart = after.dart("waist dart")
    a, b = after.legs_mm(dart)
    assert a == pytest.approx(b, abs=1e-6)
    assert after.sewn_length_mm("waist") == pytest.approx(polyline.length_mm(folded.chain), abs=1e-6)
    assert after.intake_mm(dart) == pytest.approx(dart.to_mm - dart.from_mm)
    assert_closed_and_simple(after)


def test_a_line_that_misses_the_legs_of_a_dart_is_refused():
    folded = fold(DARTED, "waist")
    below = frozen_points([folded.place(0.0), (150.0, 300.0), folded.place(260.0)])
    with pytest.raises(StepError, match='"waist" on "panel" does not meet the legs of the dart "waist dart"'):
        with_folded_part(folded, 0.0, 260.0, below)


# blending


@given(reach=st.floats(15.0, 80.0), deep=st.floats(4.0, 20.0))
def test_a_corner_in_an_edge_is_smooth_and_the_edge_untouched_beyond_the_reach(reach, deep):
    piece = panel(waist=((300.0, 600.0), (150.0, 600.0 - deep)))
    after = done(piece, BlendEdge("panel", "waist", free((150.0, 600.0 - deep)), reach))
    chain = after.edge("waist").points
    assert sharpest_turn(chain) < sharpest_turn(piece.edge("waist").points) / 2
    assert distance_mm(tuple(chain[0]), tuple(chain[1])) == pytest.approx(math.hypot(150.0, deep) - reach, abs=1e-6)
    assert (after.edge("waist").start, after.edge("waist").end) == ((300.0, 600.0), (0.0, 600.0))
    assert_closed_and_simple(after)


def test_the_angle_that_a_folded_dart_shows_is_blended():
    after = done(DARTED, BlendEdge("panel", "waist", Anchor(On.FREE, x=150.0, y=600.0), 60.0))
    folded = fold(after, "waist").chain
    assert sharpest_turn(folded) < sharpest_turn(fold(DARTED, "waist").chain) / 4
    a, b = after.legs_mm(after.dart("waist dart"))
    assert a == pytest.approx(b, abs=1e-6)
    assert after.dart("waist dart").tip == DARTED.dart("waist dart").tip
    assert_closed_and_simple(after)


@given(at=st.floats(0.05, 0.95))
def test_a_blend_on_a_round_edge_keeps_it_round(at):
    # a smooth curve blended again stays within half a millimetre: 30 mm of a circle of 200 mm radius
    piece = disc()
    after = done(piece, BlendEdge("disc", "edge 1", on_edge("edge 1", at), 30.0))
    radii = np.hypot(*after.edge("edge 1").points.T)
    assert np.abs(radii - 200.0).max() < 0.5


# square corners


@given(drop=st.floats(-12.0, 12.0), square=st.floats(6.0, 12.0))
def test_an_edge_leaves_the_fold_at_a_right_angle_for_the_amount(drop, square):
    # square to the fold for at least 1/4 to 1/2 in, 6 to 12 mm (common practice, from memory)
    piece = panel(waist=((300.0, 600.0 + drop), (60.0, 600.0 + drop / 5)))
    after = done(piece, SquareCorner("panel", "waist", End.END, square))
    edge = after.edge("waist")
    assert edge.end == (0.0, 600.0)
    part = polyline.part_between(edge.points, edge.length_mm - square, edge.length_mm)
    assert part[:, 1] == pytest.approx(np.full(len(part), 600.0), abs=1e-6)
    for edge_id in ("hem", "side", "centre front"):
        assert after.edge(edge_id) is piece.edge(edge_id)
    assert_closed_and_simple(after)


def test_a_neck_that_leans_over_the_fold_is_squared_and_smooth():
    neck = curved(((300.0, 600.0), (120.0, 500.0), (0.0, 560.0)))
    piece = panel(waist=neck, centre=((0.0, 560.0),))
    after = done(piece, SquareCorner("panel", "waist", End.END, 9.5, 60.0))
    chain = after.edge("waist").points
    first = chain[-2] - chain[-1]
    assert math.atan2(first[1], first[0]) == pytest.approx(0.0, abs=1e-9)
    assert sharpest_turn(chain) < math.radians(12.0)
    assert done(after, SquareCorner("panel", "waist", End.END, 9.5, 60.0)) is after


def test_a_corner_far_from_square_or_with_a_dart_near_is_refused():
    sharp = panel(waist=((300.0, 700.0),), centre=((0.0, 600.0),), hem=((0.0, 590.0),))
    with pytest.raises(StepError, match="far from square"):
        done(sharp, SquareCorner("panel", "hem", End.START, 9.5))
    near = done(panel(), MakeDart("panel", free((20.0, 600.0)), free((20.0, 500.0)), 20.0))
    tilted = replace(near, edges=(*near.edges[:3], Edge("centre front", frozen_points([(0, 600), (1, 0)]))))
    with pytest.raises(StepError, match='"waist" of "panel" has 10 mm up to its next dart'):
        done(tilted, SquareCorner("panel", "waist", End.END, 9.5))


# centre lines


def test_a_bent_centre_is_drawn_between_its_ends_and_the_width_moved_is_said():
    piece = panel(centre=((0.0, 600.0), (4.0, 300.0)))
    outcome = StraightenCentre("panel", "centre front").apply(Pattern((piece,)))
    after = outcome.pattern.pieces[0]
    assert after.edge("centre front").points.tolist() == [[0.0, 600.0], [0.0, 0.0]]
    for edge_id in ("hem", "side", "waist"):
        assert after.edge(edge_id) is piece.edge(edge_id)
    (finding,) = outcome.findings
    assert finding.code == "edge-straightened"
    assert finding.measured_mm == pytest.approx(4.0)
    assert "4.0 mm wider" in finding.text


@given(lean=st.floats(2.0, 30.0))
def test_a_centre_bent_by_a_hinge_is_drawn_along_its_lower_half_and_the_neck_grows_by_the_lean(lean):
    # a straight centre back turned about a hinge leans by h sin(angle) at height h: the neck takes that up
    piece = panel(waist=((300.0, 600.0),), centre=((lean, 600.0), (0.0, 300.0)))
    outcome = StraightenCentre("panel", "centre front", Hold.END).apply(Pattern((piece,)))
    after = outcome.pattern.pieces[0]
    assert after.edge("centre front").points[:, 0] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert after.edge("waist").length_mm == pytest.approx(300.0)
    assert after.edge("hem") is piece.edge("hem")
    (finding,) = outcome.findings
    assert finding.measured_mm == pytest.approx(lean)
    (change,) = [change for change in outcome.changes if change.edge == "waist"]
    assert change.change_mm == pytest.approx(lean)


def test_a_centre_with_a_dart_is_not_straightened():
    piece = done(panel(), MakeDart("panel", on_edge("centre front", 0.5), free((60.0, 300.0)), 20.0))
    with pytest.raises(StepError, match='A dart opens on "centre front"'):
        done(piece, StraightenCentre("panel", "centre front"))


# what all steps keep to


@pytest.mark.parametrize(
    "step",
    [
        StraightenEdge("panel", "side", on_edge("side", 0.1), on_edge("side", 0.8)),
        BlendEdge("panel", "waist", on_edge("waist", 0.5), 0.0),
        BlendEdge("panel", "side", on_edge("side", 0.5), 30.0),
        SquareCorner("panel", "waist", End.END, 0.0),
        SquareCorner("panel", "hem", End.START),
        StraightenCentre("panel", "centre front"),
    ],
    ids=lambda step: f"{step.kind} {step.amount_mm}",
)
def test_what_is_true_already_or_an_amount_of_nothing_leaves_the_same_object(step):
    pattern = Pattern((replace(DIP, notches=(Notch("hip", "side", 200.0),)),))
    assert step.apply(pattern).pattern is pattern
    assert step.with_amount_mm(step.amount_mm) == step


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (StraightenEdge("panel", "waist", free((0.0, 0.0)), on_edge("waist", 1.0)), "lies 600 mm off it"),
        (
            StraightenEdge("panel", "waist", on_edge("waist", 1.0), on_edge("waist", 1.0)),
            '"waist" of "panel" are the same',
        ),
        (BlendEdge("panel", "waist", on_edge("waist", 0.5), -3.0), '"waist" of "panel" cannot be below 0'),
        (SquareCorner("panel", "waist", End.END, -3.0), '"waist" of "panel" cannot be below 0'),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence_that_names_it(step, words):
    pattern = Pattern((replace(DIP, notches=(Notch("hip", "side", 200.0),)),))
    with pytest.raises(StepError, match=words):
        step.apply(pattern)


def test_edges_that_are_not_there_are_named():
    for step in (BlendEdge("panel", "yoke", on_edge("yoke", 0.5)), SquareCorner("panel", "yoke", End.START)):
        with pytest.raises(MissingPartError, match='"panel" has no edge called "yoke"'):
            done(DIP, step)


def test_the_edge_as_it_was_is_told_for_drawing():
    outcome = BlendEdge("panel", "waist", on_edge("waist", 0.5), 40.0).apply(Pattern((DIP,)))
    (line,) = outcome.chalk
    assert line is DIP.edge("waist").points
    assert [change.edge for change in outcome.changes] == ["hem", "side", "waist", "centre front"]


@given(at=st.floats(0.0, 1.0), amount=st.floats(5.0, 60.0))
def test_notches_and_darts_stay_on_an_edge_that_is_blended(at, amount):
    piece = replace(half_front(), notches=(Notch("hip", "side", 30.0), Notch("leg", "waist", 105.0)))
    after = done(piece, BlendEdge("front bodice", "waist", on_edge("waist", at), amount))
    dart = after.dart("waist dart")
    assert after.notch("leg").at_mm == pytest.approx(dart.to_mm, abs=1e-6)
    assert after.notch("hip") == piece.notch("hip")
    assert after.intake_mm(dart) == pytest.approx(dart.to_mm - dart.from_mm, abs=1e-6)
    assert_closed_and_simple(after)
