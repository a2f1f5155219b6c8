"""Chains of points against closed forms and shapely."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import frozen_points
from geometry.curves import polyline

COORDINATES = st.floats(-500, 500).map(lambda value: round(value, 3))
CHAINS = st.lists(st.tuples(COORDINATES, COORDINATES), min_size=2, max_size=30, unique=True).map(frozen_points)


def quadrant(steps):
    angles = np.linspace(0, math.pi / 2, steps + 1)
    return frozen_points(100.0 * np.column_stack([np.cos(angles), np.sin(angles)]))


@pytest.mark.parametrize("steps", [10, 100, 1000])
def test_a_quadrant_of_chords_has_the_length_of_its_chords(steps):
    assert polyline.length_mm(quadrant(steps)) == pytest.approx(steps * 200 * math.sin(math.pi / 4 / steps), rel=1e-12)


@given(chain=CHAINS, share=st.floats(0, 1))
def test_places_lengths_and_nearest_agree_with_shapely(chain, share):
    line = shapely.LineString(chain)
    assert polyline.length_mm(chain) == pytest.approx(line.length, abs=1e-9)
    place = polyline.point_at(chain, share * line.length)
    assert place == pytest.approx(line.interpolate(share, normalized=True).coords[0], abs=1e-6)
    far = (place[0] + 13.0, place[1] - 7.0)
    assert polyline.nearest(chain, far)[1] == pytest.approx(line.distance(shapely.Point(far)), abs=1e-9)
    assert polyline.distances_mm(chain, frozen_points([far]))[0] == pytest.approx(
        line.distance(shapely.Point(far)), abs=1e-9
    )


@given(chain=CHAINS, shares=st.tuples(st.floats(0, 1), st.floats(0, 1)))
def test_a_chain_cut_in_three_and_joined_is_as_long_and_passes_the_same_corners(chain, shares):
    total = polyline.length_mm(chain)
    a, b = sorted(share * total for share in shares)
    parts = (polyline.part_between(chain, *ends) for ends in ((0.0, a), (a, b), (b, total)))
    whole = polyline.joined(tuple(parts))
    assert polyline.length_mm(whole) == pytest.approx(total, abs=1e-6)
    assert max(polyline.nearest(whole, tuple(corner))[1] for corner in chain) < 1e-6


@given(
    radii=st.lists(st.floats(20, 300), min_size=3, max_size=20),
    places=st.lists(st.tuples(COORDINATES, COORDINATES), min_size=1, max_size=20),
)
def test_area_and_inside_agree_with_shapely(radii, places):
    angles = np.arange(len(radii)) * math.tau / len(radii)
    ring = frozen_points(np.array(radii)[:, None] * np.column_stack([np.cos(angles), np.sin(angles)]))
    polygon = shapely.Polygon(ring)
    assert polyline.signed_area_mm2(ring) == pytest.approx(polygon.area, rel=1e-9)
    assert polyline.signed_area_mm2(frozen_points(ring[::-1])) == pytest.approx(-polygon.area, rel=1e-9)
    clear = [place for place in places if polygon.boundary.distance(shapely.Point(place)) > 1e-6]
    if clear:
        inside = polyline.contains(ring, frozen_points(clear))
        assert inside.tolist() == [polygon.contains(shapely.Point(place)) for place in clear]


@pytest.mark.parametrize(
    ("points", "expected_mm"),
    [
        ([(0, 0), (10, 0)], 0.0),
        ([(0, 0), (5, 2), (10, 0)], 2.0),
        ([(0, 0), (12, 0), (10, 0)], 2.0),
        ([(0, 0), (3, 4), (0, 0)], 5.0),
    ],
)
def test_offset_from_the_chord_counts_overshoot_and_closed_chains_too(points, expected_mm):
    assert polyline.offset_from_chord_mm(frozen_points(points)) == pytest.approx(expected_mm)


def test_direction_at_a_corner_is_that_of_the_segment_that_follows():
    chain = frozen_points([(0, 0), (10, 0), (10, 10)])
    assert polyline.direction_at(chain, 10.0) == (0.0, 1.0)
    assert polyline.direction_at(chain, 9.9) == (1.0, 0.0)
    assert polyline.direction_at(chain, 25.0) == (0.0, 1.0)
    assert polyline.direction_at(frozen_points([(3, 3), (3, 3)]), 0.0) == (0.0, 0.0)


def test_doubled_points_are_dropped_but_the_ends_stay():
    chain = frozen_points([(0, 0), (0, 1e-9), (5, 0), (10, 0), (10, 1e-9)])
    kept = polyline.without_doubled_points(chain)
    assert len(kept) == 3
    assert tuple(kept[0]) == (0, 0)
    assert tuple(kept[-1]) == (10, 1e-9)


def test_what_is_known_of_a_chain_goes_with_it() -> None:
    """New chains come to lie where old ones lay; none may be taken for another."""
    for number in range(1, 2000):
        chain = frozen_points([(0.0, 0.0), (float(number), 0.0)])
        assert polyline.length_mm(chain) == number
        assert polyline.point_at(chain, number / 2) == (number / 2, 0.0)


@given(CHAINS, st.tuples(COORDINATES, COORDINATES))
def test_no_place_is_nearer_than_the_least_gap(chain, place):
    assert polyline.least_gap_mm(chain, place) <= shapely.LineString(chain).distance(shapely.Point(place)) + 1e-9
