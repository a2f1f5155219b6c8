"""Dart transfer keeps the angle: width 2 = width 1 * leg 2 / leg 1 (exact for isosceles darts; own arithmetic)."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import frozen_points
from geometry.alterations.anchors import free, on_edge
from geometry.alterations.dart_transfer import DartTransfer, transferred
from geometry.errors import MissingPartError, StepError
from geometry.model.dart import Dart
from geometry.model.edge import Edge
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from tests.geometry.drawn_pieces import half_front

WORKED = [  # width, its legs, the legs of the new dart, its width; mm
    (70.0, 250.0, 150.0, 42.00),
    (70.0, 250.0, 130.0, 36.40),
    (30.0, 175.0, 120.0, 20.57),
    (25.4, 150.0, 200.0, 33.87),
    (20.0, 130.0, 130.0, 20.00),
]


def block(width_mm, leg_mm, other_leg_mm):
    """A piece with a dart on its right edge and, straight above the tip at (0, 0), an edge ``other_leg_mm`` away."""
    half = width_mm / 2
    right = math.sqrt(leg_mm**2 - half**2)
    corners = [(-300.0, -300.0), (right, -300.0), (right, other_leg_mm), (-300.0, other_leg_mm)]
    names = ("lower", "right", "upper", "left")
    edges = [Edge(name, frozen_points([corners[i], corners[(i + 1) % 4]])) for i, name in enumerate(names)]
    edges[1] = replace(edges[1], points=frozen_points([corners[1], (right, -half), (right, half), corners[2]]))
    return Piece("block", tuple(edges), darts=(Dart("dart", "right", 300.0 - half, 300.0 + half, (0.0, 0.0)),))


@pytest.mark.parametrize(("width", "leg", "other_leg", "expected"), WORKED)
def test_worked_transfers(width, leg, other_leg, expected):
    piece = block(width, leg, other_leg)
    after = transferred(piece, DartTransfer("block", "dart", (free((0.0, other_leg)),), new_dart="new"))[1].piece
    assert [dart.id for dart in after.darts] == ["new"]
    assert after.intake_mm(after.dart("new")) == pytest.approx(expected, abs=0.005)
    assert after.legs_mm(after.dart("new")) == pytest.approx((other_leg, other_leg), abs=1e-6)
    assert after.sewn_length_mm("right") == pytest.approx(piece.sewn_length_mm("right"), abs=1e-6)
    assert after.sewn_length_mm("upper") == pytest.approx(piece.sewn_length_mm("upper"), abs=1e-6)


@given(share=st.floats(0.05, 0.95), along=st.floats(0.15, 0.85))
def test_the_angle_moved_and_the_angle_left_add_up_to_the_first(share, along):
    before = half_front()
    step = DartTransfer("front bodice", "side dart", (on_edge("shoulder", along),), share=share)
    after = transferred(before, step)[1].piece

    def angle(piece, dart_id):
        a, b = (np.subtract(mouth, piece.dart(dart_id).aim) for mouth in piece.mouth(piece.dart(dart_id)))
        return math.acos(float(a @ b) / (np.linalg.norm(a) * np.linalg.norm(b)))

    whole = angle(before, "side dart")
    assert angle(after, "shoulder dart") == pytest.approx(whole * share, abs=1e-7)
    assert angle(after, "side dart") == pytest.approx(whole * (1 - share), abs=1e-7)


@given(along=st.floats(0.1, 0.9), edge_id=st.sampled_from(["shoulder", "neck", "waist", "centre front"]))
def test_no_sewn_length_changes_wherever_the_dart_goes(along, edge_id):
    before = half_front()
    step = DartTransfer("front bodice", "side dart", (on_edge(edge_id, along),))
    after = transferred(before, step)[1].piece
    for edge in before.edges:
        assert after.sewn_length_mm(edge.id) == pytest.approx(before.sewn_length_mm(edge.id), abs=1e-6)


def test_a_line_from_another_darts_mouth_widens_that_dart_instead_of_making_one():
    before = half_front()
    after = transferred(before, DartTransfer("front bodice", "side dart", (free((90.0, 0.0)),)))[1].piece
    assert [dart.id for dart in after.darts] == ["waist dart"]
    assert after.intake_mm(after.dart("waist dart")) > before.intake_mm(before.dart("waist dart"))


@given(along=st.floats(0.1, 0.9), dart_id=st.sampled_from(["side dart", "waist dart"]))
def test_the_fold_stays_where_it_lies(along, dart_id):
    before = half_front()
    after = transferred(before, DartTransfer("front bodice", dart_id, (on_edge("shoulder", along),)))[1].piece
    assert after.edge("centre front") == before.edge("centre front")


def test_a_dart_moved_and_moved_back_has_its_first_width():
    before = half_front()
    there = transferred(before, DartTransfer("front bodice", "side dart", (on_edge("shoulder", 0.5),)))[1].piece
    back_at = before.dart("side dart").from_mm / there.edge("side").length_mm
    back = transferred(there, DartTransfer("front bodice", "shoulder dart", (on_edge("side", back_at),), new_dart="b"))[
        1
    ].piece
    assert back.intake_mm(back.dart("b")) == pytest.approx(before.intake_mm(before.dart("side dart")), abs=1e-6)


def test_a_missing_dart_and_a_share_of_nothing_are_refused():
    pattern = Pattern((half_front(),))
    with pytest.raises(MissingPartError, match='no dart called "neck dart"; it has "side dart", "waist dart"'):
        DartTransfer("front bodice", "neck dart", (on_edge("neck", 0.5),)).apply(pattern)
    with pytest.raises(StepError, match="more than 0"):
        DartTransfer("front bodice", "side dart", (on_edge("neck", 0.5),), share=0.0).apply(pattern)
