"""Parallels against closed forms: straight lines, circles, bends that are too tight."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import Affine, frozen_points
from geometry.curves import polyline
from geometry.curves.parallel import parallel, without_loops


def arc(radius, from_deg, to_deg, count):
    angles = np.radians(np.linspace(from_deg, to_deg, count))
    return frozen_points(np.column_stack([radius * np.cos(angles), radius * np.sin(angles)]))


def test_straight_chain_moves_to_its_right():
    side = parallel(frozen_points([(0, 0), (40, 0), (100, 0)]), 15.0)
    assert side.points[:, 1] == pytest.approx([-15.0] * len(side.points), abs=1e-12)
    assert polyline.length_mm(side.points) == pytest.approx(100.0)
    assert len(side.lost) == 0


def test_distance_zero_changes_nothing():
    chain = arc(50, 0, 90, 20)
    assert parallel(chain, 0.0).points is chain


@pytest.mark.parametrize("count", [4, 10, 91])
@pytest.mark.parametrize("distance_mm", [6.0, 15.0, 50.0])
def test_outside_of_an_arc_is_the_larger_arc(count, distance_mm):
    chain = arc(80, 0, 90, count)
    radii = np.hypot(*parallel(chain, distance_mm).points.T)
    sagitta = 80 * (1 - math.cos(math.radians(45) / (count - 1)))
    assert radii.max() <= 80 + distance_mm + 0.02 + 1e-9
    assert radii.min() >= 80 + distance_mm - sagitta - 1e-9


def test_inside_of_an_arc_is_the_smaller_arc():
    side = parallel(arc(80, 0, 90, 181), -15.0)
    assert np.hypot(*side.points.T) == pytest.approx(np.full(len(side.points), 65.0), abs=0.01)
    overhang = 2 * 15 * math.sin(math.radians(0.25))  # its ends stand square to the end chords, not to the arc
    assert polyline.length_mm(side.points) == pytest.approx(65 * math.pi / 2 + overhang, abs=0.01)
    assert len(side.lost) == 0


def test_bend_tighter_than_the_distance_is_trimmed_and_told():
    bend = frozen_points([(-70, 0), (0, 0), *(arc(10, 270, 360, 30) + [0, 10])[1:], (10, 80)])
    side = parallel(bend, -25.0)
    assert len(side.lost) > 10
    assert shapely.LineString(side.points).is_simple
    assert shapely.LineString(side.points).distance(shapely.LineString(bend)) == pytest.approx(25.0, abs=0.01)
    corner = side.points[np.argmin(np.hypot(*(side.points - [-15, 25]).T))]
    assert corner == pytest.approx([-15, 25], abs=1e-6)


@given(
    steps=st.lists(st.tuples(st.floats(3, 30), st.floats(-25, 25)), min_size=1, max_size=25),
    distance_mm=st.floats(0.5, 20.0),
)
def test_no_point_of_a_parallel_is_nearer_than_the_distance(steps, distance_mm):
    points, heading, place = [(0.0, 0.0)], 0.0, np.zeros(2)
    for length, turn_deg in steps:
        heading += math.radians(abs(turn_deg) / 5)
        place = place + length * np.array([math.cos(heading), math.sin(heading)])
        points.append(tuple(place))
    chain = frozen_points(points)
    side = parallel(chain, distance_mm).points
    assert shapely.LineString(side).distance(shapely.LineString(chain)) == pytest.approx(distance_mm, abs=1e-6)


@given(angle=st.floats(-3, 3), distance_mm=st.floats(-20, 20))
def test_turning_the_chain_turns_its_parallel(angle, distance_mm):
    chain, turn = arc(60, 10, 70, 13), Affine.turned(angle, (5, 7))
    there = parallel(turn.points(chain), distance_mm).points
    np.testing.assert_allclose(there, turn.points(parallel(chain, distance_mm).points), atol=1e-9)


def test_ring_without_crossings_is_the_same_object():
    ring = frozen_points([(0, 0), (10, 0), (10, 10), (0, 10)])
    same, places = without_loops(ring)
    assert same is ring
    assert len(places) == 0


def test_loop_at_a_crossing_is_cut_off():
    ring = frozen_points([(0, 0), (100, 0), (100, 50), (45, 50), (55, 60), (55, 50.0001), (45, 60), (0, 60)])
    clean, places = without_loops(ring)
    assert len(places) > 0
    assert shapely.LinearRing(clean).is_simple
    assert shapely.Polygon(clean).area == pytest.approx(shapely.Polygon(ring).buffer(0).area, rel=0.02)


def test_loop_far_along_a_dense_ring_is_cut_off():
    ring = circle_with_loop(700)
    clean, places = without_loops(frozen_points(ring))
    assert len(places) > 0
    assert shapely.LinearRing(clean).is_simple
    assert shapely.Polygon(clean).area == pytest.approx(math.pi * 100**2, rel=0.01)


def circle_with_loop(count):
    angles = np.linspace(0, 2 * math.pi, count, endpoint=False)
    points = [(100 * math.cos(a), 100 * math.sin(a)) for a in angles]
    points[count - 60 : count - 58] = [points[count - 58], (90.0, -60.0), (85.0, -70.0), points[count - 60]]
    return points
