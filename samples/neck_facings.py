"""Neck facings for the sample dress: cut like the neck they lie on, of one depth all round."""

from __future__ import annotations

from functools import cache

import numpy as np

from geometry.affine import Point, Points, frozen_points
from geometry.curves import polyline
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, Label
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece
from samples.draft_dress import MATERIAL, SEAM_MM, draft_nest

DEPTH_MM = 60.0
"""How deep a facing is: own choice."""

CENTRE_BACK_MM = 20.0
"""As the centre back seam of the dress."""

STYLE_NAME = "Concert dress with neck facings"


@cache
def faced_nest() -> Nest:
    """The dress in all sizes, with a front and a back neck facing."""
    nest = draft_nest()
    return Nest(STYLE_NAME, tuple(with_neck_facings(pattern) for pattern in nest.patterns), nest.sample_size)


def with_neck_facings(pattern: Pattern) -> Pattern:
    """The dress with its neck facings as further pieces."""
    faced = (("front bodice", EdgeRole.CENTRE_FRONT), ("back bodice", EdgeRole.CENTRE_BACK))
    facings = tuple(_facing(pattern.piece(name), centre) for name, centre in faced)
    return Pattern((*pattern.pieces, *facings), pattern.seams, pattern.size)


def _facing(piece: Piece, centre: EdgeRole) -> Piece:
    neck, shoulder, middle = (piece.edges_with_role(role)[0] for role in (EdgeRole.NECK, EdgeRole.SHOULDER, centre))
    starts_at_centre = middle.end == neck.start
    down = _along(middle, away_from=neck)
    out = _along(shoulder, away_from=neck)
    ends = (down, out) if starts_at_centre else (out, down)
    outer = _between(frozen_points(_inside(neck.points)[::-1]), ends[1], ends[0])
    roles = (centre, EdgeRole.SHOULDER) if starts_at_centre else (EdgeRole.SHOULDER, centre)
    is_front = centre is EdgeRole.CENTRE_FRONT
    edges = (
        Edge("neck", neck.points, EdgeRole.NECK, SEAM_MM),
        _end(roles[1], frozen_points([neck.end, ends[1]])),
        Edge("outer edge", outer, EdgeRole.OTHER, 0.0),
        _end(roles[0], frozen_points([ends[0], neck.start])),
    )
    x = 15.0 if down[0] <= out[0] else -15.0
    return Piece(
        f"{'front' if is_front else 'back'} neck facing",
        edges,
        size=piece.size,
        quantity=1 if is_front else 2,
        material=MATERIAL,
        fold=centre.value if is_front else None,
        grain=Grain((x, down[1] + 8.0), (x, down[1] + DEPTH_MM - 8.0)),
        labels=(Label("Cut 1 on the fold" if is_front else "Cut 2", (2 * x, down[1] + 25.0)),),
    )


def _inside(chain: Points) -> Points:
    """A smooth line a facing's depth to the left of another one."""
    ahead = np.gradient(chain, polyline.stations_mm(chain), axis=0)
    ahead /= np.hypot(*ahead.T)[:, None]
    return frozen_points(chain + DEPTH_MM * np.column_stack([-ahead[:, 1], ahead[:, 0]]))


def _between(chain: Points, start: Point, end: Point) -> Points:
    """A line with its ends moved to places beside them, all of it going along evenly."""
    share = (polyline.stations_mm(chain) / polyline.length_mm(chain))[:, None]
    moved = chain + (1.0 - share) * (np.array(start) - chain[0]) + share * (np.array(end) - chain[-1])
    moved[0], moved[-1] = start, end
    return frozen_points(moved)


def _end(role: EdgeRole, points: Points) -> Edge:
    widths = {EdgeRole.CENTRE_FRONT: 0.0, EdgeRole.CENTRE_BACK: CENTRE_BACK_MM}
    return Edge(role.value, points, role, widths.get(role, SEAM_MM))


def _along(edge: Edge, *, away_from: Edge) -> Point:
    """The place on an edge a facing's depth away from where it meets another one."""
    at_start = edge.start == away_from.end
    return polyline.point_at(edge.points, DEPTH_MM if at_start else edge.length_mm - DEPTH_MM)
