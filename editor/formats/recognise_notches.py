"""Notches in a drawing: the place on the stitching line that a mark on the cutting line belongs to."""

from collections.abc import Sequence

from geometry.affine import Point
from geometry.curves import polyline
from geometry.model.edge import Edge
from geometry.tolerance import SAME_POINT_MM


def place_on_edges(edges: Sequence[Edge], place: Point, *, towards: Point = (0.0, 0.0)) -> tuple[int, float, float]:
    """Index of the edge nearest to a place, length along it, and the distance.

    At a corner both its edges are equally near: then the one whose outside faces most along ``towards`` (either way
    round) is taken.
    """
    found = []
    for index, edge in enumerate(edges):
        at_mm, gap_mm = polyline.nearest(edge.points, place)
        found.append((gap_mm, index, at_mm))
    least = min(found)[0]
    best, best_facing = min(found), -1.0
    for row in found:
        if row[0] <= least + SAME_POINT_MM:
            ux, uy = polyline.direction_at(edges[row[1]].points, row[2])
            facing = abs(uy * towards[0] - ux * towards[1])
            if facing > best_facing:
                best, best_facing = row, facing
    return best[1], best[2], best[0]
