"""Cutting lines: widths square to the seam, mitred corners, dart caps, and the way back inwards."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from geometry import regions
from geometry.affine import Affine, as_point, distance_mm, frozen_points
from geometry.allowance import allowance_findings, cutting_chains, cutting_line, stitching_from_cutting
from geometry.curves import polyline
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import Edge
from geometry.model.marks import Mark, MarkKind, Notch
from geometry.model.piece import Piece


def piece_of(corners, allowances, **parts):
    ring = [*corners, corners[0]]
    edges = tuple(
        Edge(f"edge {i + 1}", frozen_points(ring[i : i + 2]), allowance_mm=float(width))
        for i, width in enumerate(allowances)
    )
    return Piece("piece", edges, **parts)


SQUARE = [(0, 0), (200, 0), (200, 300), (0, 300)]


def test_same_allowance_all_round_is_mitred():
    line = cutting_line(piece_of(SQUARE, [15] * 4))
    assert sorted(map(tuple, line.round(9).tolist())) == [(-15, -15), (-15, 315), (215, -15), (215, 315)]


def test_each_edge_keeps_its_own_allowance_and_the_fold_has_none():
    line = cutting_line(piece_of(SQUARE, [40, 15, 10, 0]))
    assert regions.is_simple(line)
    assert shapely.Polygon(line).bounds == pytest.approx((0, -40, 215, 310))
    assert polyline.signed_area_mm2(line) == pytest.approx(215 * 350)


def test_piece_without_allowance_is_its_own_cutting_line():
    piece = piece_of(SQUARE, [0] * 4)
    np.testing.assert_array_equal(cutting_line(piece), piece.outline)


def test_sharp_corner_is_cut_square():
    line = cutting_line(piece_of([(0, 0), (300, 0), (300, 60)], [10] * 3))
    reach = max(math.dist(point, (0, 0)) for point in line.tolist() if point[0] < 50)
    assert reach < 30
    assert shapely.Polygon(line).buffer(1e-6).contains(shapely.Polygon([(0, 0), (300, 0), (300, 60)]))


def test_hollow_corner_is_trimmed_where_the_parallels_meet():
    corners = [(0, 0), (200, 0), (200, 100), (100, 100), (100, 200), (0, 200)]
    line = cutting_line(piece_of(corners, [10] * 6))
    assert regions.is_simple(line)
    np.testing.assert_allclose(min(line, key=lambda p: math.dist(p, (110, 110))), (110, 110), atol=1e-9)


def test_shallow_corner_of_different_allowances_is_stepped():
    line = cutting_line(piece_of([(0, 0), (100, 0), (200, 2), (200, 100), (0, 100)], [10, 40, 10, 10, 10]))
    assert regions.is_simple(line)
    assert shapely.Polygon(line).contains(shapely.Point(150, -35))
    assert not shapely.Polygon(line).contains(shapely.Point(80, -15))


def test_curved_edge_keeps_its_width_everywhere():
    angles = np.radians(np.linspace(-60, 60, 200))
    bow = np.column_stack([200 * np.cos(angles), 200 * np.sin(angles)])
    ring = [(0.0, float(bow[0, 1])), *map(tuple, bow.tolist()), (0.0, float(bow[-1, 1]))]
    edges = (
        Edge("hem", frozen_points(ring[:2])),
        Edge("side", frozen_points(bow)),
        Edge("waist", frozen_points(ring[-2:])),
        Edge("centre", frozen_points([ring[-1], ring[0]]), allowance_mm=0.0),
    )
    line = shapely.LinearRing(cutting_line(Piece("bow", edges)))
    for angle in np.radians(np.linspace(-50, 50, 23)):
        spoke = shapely.LineString([(0, 0), (400 * math.cos(angle), 400 * math.sin(angle))])
        crossing = spoke.intersection(line)
        far = max(distance_mm((0, 0), as_point(p)) for p in shapely.get_coordinates(crossing))
        assert far == pytest.approx(215, abs=0.05)


def test_allowance_wider_than_a_bend_is_trimmed_and_found():
    angles = np.radians(np.linspace(180, 360, 40))
    slot = np.column_stack([100 + 12 * np.cos(angles), 100 + 12 * np.sin(angles)])
    slot[0], slot[-1] = (88, 100), (112, 100)
    ring = [(112, 200), *map(tuple, slot[::-1].tolist()), (88, 200)]
    edges = (
        Edge("hem", frozen_points([(0, 0), (200, 0)])),
        Edge("right", frozen_points([(200, 0), (200, 200)])),
        Edge("top right", frozen_points([(200, 200), (112, 200)])),
        Edge("slot", frozen_points(ring), allowance_mm=15.0),
        Edge("top left", frozen_points([(88, 200), (0, 200)])),
        Edge("left", frozen_points([(0, 200), (0, 0)])),
    )
    piece = Piece("slotted", edges)
    assert regions.is_simple(cutting_line(piece))
    findings = allowance_findings(piece)
    assert {finding.code for finding in findings} == {"allowance-trimmed"}
    assert '"slotted"' in findings[0].text
    assert '"slot"' in findings[0].text


def folded_dart_piece(pressed):
    dart = Dart("dart", "edge 1", 85.0, 115.0, (100.0, 120.0), pressed=pressed)
    return piece_of(SQUARE, [15] * 4, darts=(dart,))


@pytest.mark.parametrize("pressed", list(Pressed))
def test_folded_dart_shows_a_straight_cutting_line_on_every_layer(pressed):
    """Common practice, no source: the dart is folded the way it is pressed and cut straight across."""
    piece = folded_dart_piece(pressed)
    dart = piece.darts[0]
    chain = cutting_chains(piece)[0]
    start, end = piece.mouth(dart)
    near = start if pressed is Pressed.TO_START else end
    middle = (100.0, 0.0)
    flip = Affine.mirrored(dart.tip, near)  # the half next to the leg it is pressed towards, folded over that leg
    peak = chain[np.argmin(chain[:, 1])]
    low, high = sorted((middle[0], near[0] + math.copysign(2.0, near[0] - 100.0)))
    inner = [p for p in chain.tolist() if low - 1e-9 < p[0] < high + 1e-9]
    assert len(inner) >= 2
    for point in inner:
        assert flip.point(as_point(point))[1] == pytest.approx(-15.0, abs=1e-9)
    assert peak[0] == pytest.approx(100.0, abs=1e-9)  # legs are equal, so the fold is the middle line
    assert peak[1] < -15
    mirror = Affine.mirrored(dart.tip, middle)
    assert min(math.dist(mirror.point(as_point(peak)), p) for p in chain.tolist()) < 1e-9


def test_cap_of_a_symmetrical_dart_on_a_straight_edge_is_the_same_either_way():
    there, back = (cutting_line(folded_dart_piece(pressed)) for pressed in Pressed)
    assert shapely.Polygon(there).symmetric_difference(shapely.Polygon(back)).area < 1e-6


def test_edge_without_allowance_has_no_cap():
    piece = folded_dart_piece(Pressed.TO_END)
    bare = replace(piece, edges=tuple(replace(edge, allowance_mm=0.0) for edge in piece.edges))
    assert polyline.signed_area_mm2(cutting_line(bare)) == pytest.approx(200 * 300)


def test_stitching_line_comes_back_from_the_cutting_line():
    allowances = [40, 15, 10, 0]
    piece = piece_of(SQUARE, allowances)
    outside = replace(
        piece,
        edges=tuple(
            replace(edge, points=chain, allowance_mm=0.0)
            for edge, chain in zip(piece.edges, cutting_chains(piece), strict=True)
        ),
    )
    back, findings = stitching_from_cutting(
        outside, {edge.id: float(width) for edge, width in zip(piece.edges, allowances, strict=True)}
    )
    assert findings == ()
    np.testing.assert_allclose(back.outline, piece.outline, atol=1e-9)
    assert [edge.allowance_mm for edge in back.edges] == allowances


def test_darts_and_notches_follow_the_derived_stitching_line():
    cut = piece_of(
        SQUARE,
        [0] * 4,
        darts=(Dart("dart", "edge 1", 80.0, 120.0, (100.0, 160.0)),),
        notches=(Notch("notch 1", "edge 2", 100.0),),
    )
    inner, _ = stitching_from_cutting(cut, dict.fromkeys(["edge 1", "edge 2", "edge 3", "edge 4"], 16.0))
    start, end = inner.mouth(inner.darts[0])
    assert (*start, *end) == pytest.approx((82.0, 16.0, 118.0, 16.0))  # a tenth of the way along legs 160 mm high
    assert inner.notch_point(inner.notches[0]) == pytest.approx((184.0, 100.0))


@pytest.mark.parametrize("lean_mm", [-12.0, 0.0, 12.0])
def test_cutting_line_of_an_edge_that_leans_over_the_fold_ends_on_the_fold(lean_mm):
    line = cutting_line(piece_of([(0, 0), (200, 0), (200, 300), (60, 300), (0, 300 + lean_mm)], [15, 15, 15, 15, 0]))
    on_fold = line[np.abs(line[:, 0]) <= 1e-6]
    assert line[:, 0].min() >= -1e-6
    assert on_fold[:, 1].min() == pytest.approx(-15)
    square_to_edge = 15 * math.hypot(60, lean_mm) / 60
    assert on_fold[:, 1].max() == pytest.approx(300 + lean_mm + square_to_edge)


def test_marks_on_corner_and_edge_go_inwards_with_them_and_others_stay():
    marks = (
        Mark("corner", (0.2, 0.0), MarkKind.LANDMARK),
        Mark("edge", (100.0, 0.0), MarkKind.LANDMARK),
        Mark("inside", (90.0, 90.0)),
    )
    inner, _ = stitching_from_cutting(piece_of(SQUARE, [0] * 4, marks=marks), {"edge 1": 20.0, "edge 4": 5.0})
    assert [mark.at for mark in inner.marks] == [
        pytest.approx((5, 20)),
        pytest.approx((100, 20)),
        pytest.approx((90, 90)),
    ]


def test_hair_wide_dent_is_no_reason_for_a_finding():
    dent = [(0, 0), (100, 0), (100.05, 0.01), (100.1, 0.0), (200, 0)]
    piece = piece_of(SQUARE, [15] * 4)
    edges = (replace(piece.edges[0], points=frozen_points(dent)), *piece.edges[1:])
    assert allowance_findings(replace(piece, edges=edges)) == ()
