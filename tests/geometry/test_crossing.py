"""Where chains cross, against shapely."""

import numpy as np
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import frozen_points
from geometry.curves.crossing import crossings

COORDINATES = st.integers(-200, 200).map(lambda number: number + 0.137 * (number % 7))
CHAINS = st.lists(st.tuples(COORDINATES, COORDINATES), min_size=2, max_size=12, unique=True).map(frozen_points)


@given(first=CHAINS, second=CHAINS)
def test_every_crossing_lies_on_both_chains(first, second):
    lines = shapely.LineString(first), shapely.LineString(second)
    for crossing in crossings(first, second):
        place = shapely.Point(crossing.at)
        assert lines[0].distance(place) < 1e-5
        assert lines[1].distance(place) < 1e-5
        assert lines[0].interpolate(crossing.first_mm).distance(place) < 1e-5
        assert lines[1].interpolate(crossing.second_mm).distance(place) < 1e-5


@given(first=CHAINS, second=CHAINS)
def test_every_crossing_point_shapely_finds_is_found(first, second):
    meeting = shapely.LineString(first).intersection(shapely.LineString(second))
    points = [part for part in shapely.get_parts(meeting) if part.geom_type == "Point"]
    found = np.array([crossing.at for crossing in crossings(first, second)]).reshape(-1, 2)
    for point in points:
        assert np.hypot(*(found - point.coords[0]).T).min(initial=np.inf) < 1e-4


def test_chains_that_only_touch_meet_once():
    found = crossings(frozen_points([(0, 0), (10, 0)]), frozen_points([(5, 5), (5, 0)]))
    assert [crossing.at for crossing in found] == [(5.0, 0.0)]


def test_chains_side_by_side_do_not_meet():
    assert crossings(frozen_points([(0, 0), (10, 0)]), frozen_points([(0, 1), (10, 1)])) == ()
    assert crossings(frozen_points([(0, 0)]), frozen_points([(0, 1), (10, 1)])) == ()
