"""Lengths and parallels of generated edges against scipy and shapely; what must come back when done and undone."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.interpolate import BPoly

from geometry.affine import frozen_points
from geometry.alterations.anchors import on_edge
from geometry.alterations.edge_steps import StraightenEdge
from geometry.alterations.folded_edge import fold
from geometry.curves import polyline
from geometry.curves.parallel import parallel
from geometry.model.dart import Dart
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import rectangle

EDGES = 200
LENGTH_WITHIN_MM = 0.01
"""A curve of half a metre is drawn with chords of a millimetre: these are shorter by some thousandths."""

OFFSET_WITHIN_MM = 0.05
WIDTHS_MM = (6.0, 15.0, 40.0)


def generated_edges():
    """Cubics as patterns have them: 80 to 500 mm long, bent by at most a third of that, no bend tighter than 60 mm."""
    hand = np.random.default_rng(20)
    edges = []
    while len(edges) < EDGES:
        span = hand.uniform(80, 500)
        bows = hand.uniform(-span / 3, span / 3, 2)
        corners = np.array([(0, 0), (span / 3, bows[0]), (2 * span / 3, bows[1]), (span, hand.uniform(-40, 40))])
        curve = BPoly(corners[:, None, :], [0, 1])
        t = np.linspace(0, 1, 1 + math.ceil(1.5 * span))
        (dx, dy), (ddx, ddy) = curve(t, 1).T, curve(t, 2).T
        bend = np.abs(dx * ddy - dy * ddx) / np.hypot(dx, dy) ** 3
        if bend.max() < 1 / 60:
            edges.append((curve, frozen_points(curve(t))))
    return edges


@pytest.fixture(scope="module")
def edges():
    return generated_edges()


def hausdorff_mm(one, other):
    """The furthest a point of either line is from the other, by shapely, looked at every half millimetre."""
    lines = [shapely.segmentize(shapely.LineString(chain), 0.5) for chain in (one, other)]
    return max(shapely.distance(shapely.points(shapely.get_coordinates(a)), b).max() for a, b in (lines, lines[::-1]))


def test_arc_lengths_agree_with_scipy_and_shapely(edges):
    assert len(edges) == EDGES
    for curve, chain in edges:
        true_mm, _ = quad(lambda t, curve=curve: float(np.hypot(*curve(t, 1))), 0, 1, epsabs=1e-9)
        assert polyline.length_mm(chain) == pytest.approx(true_mm, abs=LENGTH_WITHIN_MM)
        assert polyline.length_mm(chain) == pytest.approx(shapely.LineString(chain).length, abs=1e-9)
        half_mm = polyline.length_mm(chain) / 2
        place = shapely.LineString(chain).interpolate(half_mm)
        assert polyline.point_at(chain, half_mm) == pytest.approx((place.x, place.y), abs=1e-9)


@pytest.mark.parametrize("width_mm", WIDTHS_MM)
def test_offsets_agree_with_shapely_and_with_the_true_curve(edges, width_mm):
    for curve, chain in edges:
        ours = parallel(chain, width_mm).points
        theirs = shapely.LineString(chain).offset_curve(-width_mm, quad_segs=64)
        assert hausdorff_mm(ours, shapely.get_coordinates(theirs)) <= OFFSET_WITHIN_MM
        t = np.linspace(0.02, 0.98, 400)  # at its ends a parallel stands square to the end chords, not to the curve
        dx, dy = curve(t, 1).T
        true = curve(t) + width_mm * np.column_stack([dy, -dx]) / np.hypot(dx, dy)[:, None]
        away = shapely.distance(shapely.points(true), shapely.LineString(ours))
        assert away.max() <= OFFSET_WITHIN_MM


@given(
    turns_deg=st.lists(st.floats(0.2, 4.0), min_size=3, max_size=40),
    step_mm=st.floats(4.0, 15.0),
    width_mm=st.floats(1.0, 40.0),
)
def test_an_offset_inward_and_outward_again_is_the_convex_edge(turns_deg, step_mm, width_mm):
    headings = np.radians(np.cumsum([0.0, *turns_deg]))
    steps = step_mm * np.column_stack([np.cos(headings), np.sin(headings)])
    chain = frozen_points(np.vstack([[0.0, 0.0], np.cumsum(steps, axis=0)]))
    inner = parallel(chain, -width_mm)
    tightest_mm = min(step_mm / (2 * math.tan(math.radians(turn) / 2)) for turn in turns_deg)
    if width_mm >= 0.9 * tightest_mm:
        return  # wider than the bend has room for: nothing can come back, and a finding says so
    again = parallel(inner.points, width_mm).points
    assert hausdorff_mm(again, chain) <= OFFSET_WITHIN_MM


@given(
    share=st.floats(0.3, 0.7), width_mm=st.floats(8.0, 40.0), deep_mm=st.floats(60.0, 140.0), lean_mm=st.floats(-25, 25)
)
def test_a_folded_dart_leaves_a_straight_seam(share, width_mm, deep_mm, lean_mm):
    """Fold, cut along the seam, open again (common practice, no source): whatever the dart, no kink is left."""
    plain = rectangle()
    edge = plain.edges[0]
    middle = share * edge.length_mm
    x, y = edge.point_at(middle)
    (ax, ay), (bx, by) = edge.start, edge.end
    ux, uy = (bx - ax) / edge.length_mm, (by - ay) / edge.length_mm
    tip = (x + lean_mm * ux - deep_mm * uy, y + lean_mm * uy + deep_mm * ux)
    piece = replace(plain, darts=(Dart("dart", edge.id, middle - width_mm / 2, middle + width_mm / 2, tip),))
    step = StraightenEdge(piece.name, edge.id, on_edge(edge.id, 0.0), on_edge(edge.id, 1.0))
    whole = step.apply(Pattern((piece,))).pattern.piece(piece.name)
    folded = fold(whole, edge.id)
    line = shapely.LineString([folded.chain[0], folded.chain[-1]])
    assert shapely.distance(shapely.points(folded.chain), line).max() <= 1e-6
    legs = whole.legs_mm(whole.dart("dart"))
    assert legs[0] == pytest.approx(legs[1], abs=1e-6)
