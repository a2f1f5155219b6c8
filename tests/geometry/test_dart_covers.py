"""What a dart covers when it is sewn, asked of shapely as well."""

from __future__ import annotations

import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import Point, frozen_points
from geometry.model.dart import Dart
from geometry.model.edge import Edge
from geometry.model.piece import Piece

CORNERS = [(0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0)]
EDGES = tuple(
    Edge(name, frozen_points([start, end]))
    for name, start, end in zip(("waist", "side", "hem", "centre"), CORNERS, [*CORNERS[1:], CORNERS[0]], strict=True)
)
SKIRT = Piece("skirt", EDGES, darts=(Dart("dart", "waist", 80.0, 110.0, (100.0, 90.0)),))
places = st.tuples(st.floats(60.0, 130.0), st.floats(-20.0, 110.0))


@given(places)
def test_a_dart_covers_what_lies_between_its_legs(place: Point) -> None:
    wedge = shapely.Polygon([(80.0, 0.0), (110.0, 0.0), (100.0, 90.0)])
    if wedge.exterior.distance(shapely.Point(place)) > 1e-9:  # on the line itself either answer will do
        assert SKIRT.covers(SKIRT.darts[0], place) is wedge.contains(shapely.Point(place))
