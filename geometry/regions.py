"""Questions about areas: the only place where shapely is used.

Everything goes in and comes out as arrays of points of shape (n, 2) in millimetres. A ring is closed by itself: its
first point is not repeated. Nothing here changes a pattern.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from geometry.affine import Point, Points, frozen_points
from geometry.curves.polyline import signed_area_mm2
from geometry.tolerance import SAME_POINT_MM


def is_simple(ring: Points) -> bool:
    """Whether a ring neither crosses nor touches itself; ``False`` for fewer than three different points."""
    points = _without_repeats(ring)
    return len(points) >= 3 and bool(shapely.is_simple(shapely.linearrings(points)))


def self_crossings(ring: Points) -> tuple[Point, ...]:
    """The places where a ring crosses, touches or runs back over itself, in the order met along it.

    Where it runs over itself for a length, the middle of that length is given. A ring of fewer than three different
    points gives none.
    """
    points = _without_repeats(ring)
    if len(points) < 3 or is_simple(points):
        return ()
    segments = shapely.linestrings(np.stack([points, np.roll(points, -1, axis=0)], axis=1))
    first, second = shapely.STRtree(segments).query(segments, predicate="intersects")
    once = first < second
    first, second = first[once], second[once]
    meetings = shapely.intersection(segments[first], segments[second])
    apart = np.minimum(second - first, first + len(points) - second) > 1
    is_overlap = shapely.get_type_id(meetings) == shapely.GeometryType.LINESTRING
    found = (apart | is_overlap) & ~shapely.is_empty(meetings)
    order = np.lexsort((second[found], first[found]))
    return _different(shapely.get_coordinates(shapely.centroid(meetings[found][order])))


def inside(ring: Points, places: Points) -> NDArray[np.bool_]:
    """For each place of shape (m, 2) whether it is inside a ring or on it; the ring must be simple."""
    area = shapely.polygons(ring)
    shapely.prepare(area)
    answer: NDArray[np.bool_] = shapely.intersects_xy(area, places[:, 0], places[:, 1])
    return answer


def parts_of(lines: Sequence[Points]) -> tuple[Points, ...]:
    """The smallest closed rings that a bundle of chains makes, counter-clockwise, largest area first.

    Chains are split where they cross or touch; loose ends are left out. No chain, or none that closes: empty.
    """
    chains = [shapely.linestrings(line) for line in lines if len(line) >= 2]
    if not chains:
        return ()
    pieces = shapely.get_parts(shapely.polygonize([shapely.union_all(chains)]))
    pieces = pieces[np.argsort(-shapely.area(pieces), kind="stable")]
    rings = (shapely.get_coordinates(shapely.get_exterior_ring(piece))[:-1] for piece in pieces)
    return tuple(frozen_points(ring if signed_area_mm2(ring) > 0 else ring[::-1]) for ring in rings)


def _without_repeats(ring: Points) -> Points:
    """The ring without points equal to the one before them, so that neighbours really share one point."""
    return ring[np.any(ring != np.roll(ring, 1, axis=0), axis=1)]


def _different(places: Points) -> tuple[Point, ...]:
    """The places in order, one of each heap closer together than a point is wide."""
    kept: list[Point] = []
    for x, y in places.tolist():
        if all(max(abs(x - other[0]), abs(y - other[1])) > SAME_POINT_MM for other in kept):
            kept.append((x, y))
    return tuple(kept)
