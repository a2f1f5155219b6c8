import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry import regions
from geometry.affine import frozen_points

SQUARE = frozen_points([(0, 0), (10, 0), (10, 10), (0, 10)])
BOW = frozen_points([(0, 0), (10, 10), (10, 0), (0, 10)])
SPIKE = frozen_points([(0, 0), (10, 0), (10, 10), (5, 10), (5, 15), (5, 10), (0, 10)])

coordinate = st.integers(-40, 40)
rings = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=12, unique=True).map(frozen_points)


def test_a_square_is_simple_and_has_no_crossings() -> None:
    assert regions.is_simple(SQUARE)
    assert regions.self_crossings(SQUARE) == ()


def test_a_bow_crosses_itself_in_its_middle() -> None:
    assert not regions.is_simple(BOW)
    assert regions.self_crossings(BOW) == ((5.0, 5.0),)


def test_a_line_run_out_and_back_is_found_on_its_length() -> None:
    assert not regions.is_simple(SPIKE)
    ((x, y),) = [place for place in regions.self_crossings(SPIKE) if place[1] > 10]
    assert x == 5.0
    assert 10 < y < 15


def test_a_doubled_point_is_no_crossing() -> None:
    doubled = frozen_points([(0, 0), (10, 0), (10, 0), (10, 10), (0, 10), (0, 0)])
    assert regions.is_simple(doubled)
    assert regions.self_crossings(doubled) == ()


@pytest.mark.parametrize("ring", [[(0, 0), (1, 1)], [(0, 0), (0, 0), (0, 0)]])
def test_too_few_points_are_not_simple_and_give_no_places(ring: list[tuple[float, float]]) -> None:
    assert not regions.is_simple(frozen_points(ring))
    assert regions.self_crossings(frozen_points(ring)) == ()


@given(rings)
def test_crossings_are_found_exactly_where_shapely_calls_the_ring_not_simple(ring: np.ndarray) -> None:
    truth = shapely.LinearRing(ring)
    assert regions.is_simple(ring) == truth.is_simple
    places = regions.self_crossings(ring)
    assert bool(places) == (not truth.is_simple)
    for place in places:
        assert truth.distance(shapely.Point(place)) < 1e-9


@given(rings)
def test_places_are_inside_as_shapely_polygons_cover_them(ring: np.ndarray) -> None:
    if not regions.is_simple(ring):
        return
    grid = np.array([(x, y) for x in range(-40, 41, 8) for y in range(-40, 41, 8)], dtype=float)
    polygon = shapely.Polygon(ring)
    assert regions.inside(ring, grid).tolist() == [polygon.covers(shapely.Point(p)) for p in grid]


def test_a_square_cut_across_falls_into_its_two_parts() -> None:
    ring = frozen_points([*SQUARE.tolist(), (0, 0)])
    cut = frozen_points([(-5, 4), (15, 4)])
    parts = regions.parts_of([ring, cut])
    assert [shapely.Polygon(part).area for part in parts] == [60.0, 40.0]
    assert all(shapely.LinearRing(part).is_ccw for part in parts)


def test_an_open_chain_makes_no_part() -> None:
    assert regions.parts_of([frozen_points([(0, 0), (1, 0), (1, 1)])]) == ()
    assert regions.parts_of([]) == ()


@given(st.integers(2, 9))
def test_a_round_cut_from_its_middle_falls_into_as_many_parts_as_cuts(count: int) -> None:
    angles = np.linspace(0, 2 * math.pi, 8 * count + 1)
    round_points = np.column_stack([np.cos(angles), np.sin(angles)]) * 100
    circle = frozen_points(np.vstack([round_points[:-1], round_points[:1]]))
    cuts = [frozen_points([(0, 0), circle[8 * k]]) for k in range(count)]
    parts = regions.parts_of([circle, *cuts])
    assert len(parts) == (count if count > 1 else 1)
    assert sum(shapely.Polygon(part).area for part in parts) == pytest.approx(shapely.Polygon(circle).area)
