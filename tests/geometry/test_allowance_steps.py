"""Allowances edge by edge and corner by corner: the stitching line stays, the cutting line follows."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry import regions
from geometry.affine import frozen_points
from geometry.allowance import cutting_line
from geometry.alterations.allowance_steps import CutCorner, SetAllowance
from geometry.alterations.edge_ends import End
from geometry.curves import polyline
from geometry.errors import MissingPartError, StepError
from geometry.model.edge import CornerCut, Edge
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from tests.geometry.drawn_pieces import rectangle

PATTERN = Pattern((rectangle(),))


def done(pattern, *steps):
    for step in steps:
        pattern = step.apply(pattern).pattern
    return pattern.pieces[0]


@given(hem=st.floats(0.0, 75.0), side=st.floats(0.0, 25.4))
def test_the_cutting_line_stands_off_each_edge_by_its_own_width(hem, side):
    # hems of straight skirts 2 to 3 in, fitting seams 1 in (common practice, from memory)
    after = done(PATTERN, SetAllowance("panel", "hem", hem), SetAllowance("panel", "side", side))
    x0, y0, x1, y1 = after.bounds_mm
    low, high = cutting_line(after).min(axis=0), cutting_line(after).max(axis=0)
    assert (low[1], high[0]) == pytest.approx((y0 - hem, x1 + side), abs=1e-6)
    assert high[1] == pytest.approx(y1 + rectangle().edge("waist").allowance_mm)
    assert x0 == 0.0


def test_only_the_width_of_that_edge_changes():
    piece = rectangle()
    after = done(Pattern((piece,)), SetAllowance("panel", "hem", 50.8))
    assert after.edge("hem").allowance_mm == 50.8
    assert np.array_equal(after.outline, piece.outline)
    assert [edge is old for edge, old in zip(after.edges, piece.edges, strict=True)] == [False, True, True, True]
    assert polyline.length_mm(after.edge("hem").points) == 400.0


def test_the_width_an_edge_has_changes_nothing():
    step = SetAllowance("panel", "hem", PATTERN.pieces[0].edge("hem").allowance_mm)
    assert step.apply(PATTERN).pattern is PATTERN
    assert step.with_amount_mm(step.amount_mm) == step


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (SetAllowance("panel", "hem", -1.0), '"hem" of "panel" cannot be -1 mm'),
        (SetAllowance("panel", "centre front", 15.0), '"centre front" of "panel" lies on the fold'),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence_that_names_it(step, words):
    with pytest.raises(StepError, match=words):
        step.apply(PATTERN)


def test_an_edge_that_is_not_there_is_named():
    with pytest.raises(MissingPartError, match='"panel" has no edge called "yoke"'):
        SetAllowance("panel", "yoke", 10.0).apply(PATTERN)


# corners


def flared(lean_mm, hem_mm=40.0, side_mm=15.0):
    """A skirt panel 300 mm high whose sides lean out by an amount, its hem at y = 0."""
    corners = [(0.0, 0.0), (400.0, 0.0), (400.0 - lean_mm, 300.0), (lean_mm, 300.0)]
    names = (("hem", hem_mm), ("right", side_mm), ("waist", 10.0), ("left", side_mm))
    edges = tuple(
        Edge(name, frozen_points([corners[i], corners[(i + 1) % 4]]), allowance_mm=width)
        for i, (name, width) in enumerate(names)
    )
    return Piece("panel", edges)


def across_mm(ring, y):
    """How wide a ring is at a height."""
    line = shapely.LineString([(-500.0, y), (1000.0, y)])
    return shapely.Polygon(ring).intersection(line).length


@given(lean=st.floats(-80.0, 80.0), up=st.floats(0.5, 39.5))
def test_a_turned_up_hem_is_as_wide_as_the_piece_it_is_turned_up_on(lean, up):
    # the corner of an allowance reflects the folded seam: a hem turn-up mirrors the side seam (common practice)
    corners = (CutCorner("panel", "hem", end, CornerCut.MIRRORED) for end in End)
    ring = cutting_line(done(Pattern((flared(lean),)), *corners))
    assert regions.is_simple(ring)
    assert across_mm(ring, -up) == pytest.approx(across_mm(ring, up), abs=1e-6)
    assert ring[:, 1].min() == pytest.approx(-40.0)


def test_a_mitred_hem_of_a_flared_skirt_is_wider_than_what_it_is_turned_up_on():
    ring = cutting_line(flared(60.0))
    # two sides leaning 60 in 300 mm: 2 x 2 x 30 x 60/300 = 24 mm too wide 30 mm below the fold
    assert across_mm(ring, -30.0) - across_mm(ring, 30.0) == pytest.approx(24.0)


@given(lean=st.floats(-80.0, 80.0), end=st.sampled_from(list(End)))
def test_a_seam_sewn_first_ends_square_where_its_line_meets_the_other_cutting_line(lean, end):
    piece = done(Pattern((flared(lean, hem_mm=10.0),)), CutCorner("panel", "right", end, CornerCut.SQUARED))
    right = piece.edge("right")
    corner = np.array(right.start if end is End.START else right.end)
    along = np.subtract(right.end, right.start) / right.length_mm * (1.0 if end is End.END else -1.0)
    # straight on until 10 mm beyond the level of the hem or waist, then 15 mm square out
    met = corner + along * 10.0 / abs(along[1])
    outer = met + 15.0 * np.array([abs(along[1]), along[0] * (-1.0 if along[1] > 0 else 1.0)])
    ring = cutting_line(piece)
    assert regions.is_simple(ring)
    for place in (met, outer):
        assert np.hypot(*(ring - place).T).min() == pytest.approx(0.0, abs=1e-6)
    assert abs(float((outer - met) @ along)) < 1e-9


def test_corners_are_mitred_again_and_only_then_the_same_object_comes_back():
    pattern = Pattern((flared(60.0),))
    squared = CutCorner("panel", "right", End.START, CornerCut.SQUARED).apply(pattern).pattern
    mitred = CutCorner("panel", "right", End.START, CornerCut.MITRED)
    assert mitred.apply(squared).pattern == pattern
    assert mitred.apply(pattern).pattern is pattern
    assert mitred.with_amount_mm(9.0) is mitred
    assert hash(squared.pieces[0].edge("right")) != hash(pattern.pieces[0].edge("right"))


def test_a_hem_that_meets_the_fold_ends_on_the_fold():
    plain, turned = rectangle(), done(PATTERN, CutCorner("panel", "hem", End.START, CornerCut.MIRRORED))
    assert cutting_line(turned).tolist() == cutting_line(plain).tolist()


def test_a_mirrored_corner_wins_over_a_squared_one():
    both = (
        CutCorner("panel", "right", End.START, CornerCut.SQUARED),
        CutCorner("panel", "hem", End.END, CornerCut.MIRRORED),
    )
    one, other = (done(Pattern((flared(60.0),)), *steps) for steps in (both, both[1:]))
    assert cutting_line(one).tolist() == cutting_line(other).tolist()


def test_a_curved_side_is_mirrored_as_it_curves():
    side = np.column_stack([400.0 - 30.0 * np.sin(np.linspace(0.0, 1.0, 61)), np.linspace(0.0, 300.0, 61)])
    old = flared(0.0)
    end = tuple(side[-1])
    edges = (
        old.edges[0],
        replace(old.edges[1], points=frozen_points(side)),
        replace(old.edges[2], points=frozen_points([end, (0.0, 300.0)])),
        old.edges[3],
    )
    piece = done(Pattern((replace(old, edges=edges),)), CutCorner("panel", "hem", End.END, CornerCut.MIRRORED))
    ring = cutting_line(piece)
    for up in (5.0, 20.0, 35.0):
        right = [shapely.Polygon(ring).intersection(shapely.LineString([(200, y), (900, y)])).length for y in (-up, up)]
        assert right[0] == pytest.approx(right[1], abs=1e-6)
