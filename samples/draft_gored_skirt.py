"""The sample skirt: six gores and a waistband in seven sizes.

Front and back gore lie on the fold, the gores beside them are cut twice. All gores have the same seam, so that every
seam meets. Each lies with its middle at x = 0 and the waist near y = 0; fronts show their right half, backs their left.
"""

from __future__ import annotations

import math
from functools import cache

from geometry.affine import Affine, Points, frozen_points
from geometry.curves import polyline
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, Label, Notch
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece
from samples.bodice_lines import UP_RAD
from samples.drafting import arc, bezier, toward
from samples.piece_marks import LENGTHEN, line_across, mirrored, x_at
from samples.size_table import SAMPLE_SIZE, SIZES, Figures, figures
from samples.waistband import waistband

STYLE_NAME = "Gored skirt"
MATERIAL = "skirt cloth"

GORES = 6
"""A six-gore skirt has six seams and twelve seam edges."""

SEAM_MM = 15.0
"""The home standard, 5/8 in."""

HEM_MM = 30.0
"""A flared skirt: 1 to 1 1/2 in, from memory."""

WAIST_TO_HEM_MM = 650.0
FLARE_RAD = math.radians(5.0)
"""Length along the seam, and how far it leans out below the hip: own choice."""

BELOW_HIP_MM = 152.0
"""A skirt is lengthened 6 in below the hip (The New Dressmaker, 1921, p. 26)."""


@cache
def draft_nest() -> Nest:
    """The skirt in all sizes."""
    return Nest(STYLE_NAME, tuple(draft_pattern(size) for size in SIZES), SAMPLE_SIZE)


def draft_pattern(size: str) -> Pattern:
    """The skirt in one size."""
    body = figures(size)
    front = _half_gore(body, "front gore", EdgeRole.CENTRE_FRONT)
    back = mirrored(_half_gore(body, "back gore", EdgeRole.CENTRE_BACK))
    side_front, side_back = _whole_gore(body, "side front gore"), mirrored(_whole_gore(body, "side back gore"))
    return Pattern((front, side_front, side_back, back, waistband(body, MATERIAL)), size=size)


def _lines(body: Figures) -> tuple[Points, Points, Points, float]:
    """The right half of a gore: hem and side seam and waist, as they run round the piece, and the hip level."""
    waist_mm, hip_x = 2 * body.half_waist_mm / GORES / 2, 2 * body.half_width_at_hip_mm / GORES / 2
    hip_y = -body.waist_to_hip_mm
    lean_rad = 2 * FLARE_RAD
    for _ in range(20):
        waist = arc((0.0, 0.0), lean_rad, waist_mm)
        x, y = (float(value) for value in waist[-1])
        lean_rad = 2 * math.atan2(hip_x - x, y - hip_y) - FLARE_RAD
    hip = (hip_x, hip_y)
    third_mm = math.dist((x, y), hip) / 3
    below = toward(hip, FLARE_RAD - UP_RAD, WAIST_TO_HEM_MM + hip_y)
    curve = bezier((x, y), toward((x, y), lean_rad - UP_RAD, third_mm), toward(hip, FLARE_RAD + UP_RAD, third_mm), hip)
    side = polyline.joined((curve, frozen_points([hip, below])))
    unit = arc((0.0, 0.0), FLARE_RAD, below[0])
    hem = unit * (below[0] / unit[-1, 0])
    placed = frozen_points(hem + [0.0, below[1] - hem[-1, 1]])
    return placed, frozen_points(side[::-1]), frozen_points(waist[::-1]), hip_y


def _half_gore(body: Figures, name: str, centre: EdgeRole) -> Piece:
    hem, side, waist, hip_y = _lines(body)
    edges = (
        Edge("hem", hem, EdgeRole.HEM, HEM_MM),
        Edge("side", side, EdgeRole.SIDE, SEAM_MM),
        Edge("waist", waist, EdgeRole.WAIST, SEAM_MM),
        Edge(centre.value, frozen_points([waist[-1], hem[0]]), centre, 0.0),
    )
    return Piece(
        name,
        edges,
        size=body.size,
        material=MATERIAL,
        fold=centre.value,
        grain=Grain((25.0, -480.0), (25.0, -250.0)),
        notches=(_hip_notch(edges[1], "hip", hip_y),),
        inner_lines=tuple(line_across(words, y, 0.0, x_at(edges[1], y)) for words, y in _levels(hip_y)),
        labels=(Label("Cut 1 on the fold", (40.0, -330.0)),),
    )


def _whole_gore(body: Figures, name: str) -> Piece:
    hem, side, waist, hip_y = _lines(body)
    over = Affine(a=-1.0)
    hem = polyline.joined((frozen_points(over.points(hem)[::-1]), hem))
    waist = polyline.joined((waist, frozen_points(over.points(waist)[::-1])))
    other = frozen_points(over.points(side)[::-1])
    edges = (
        Edge("hem", hem, EdgeRole.HEM, HEM_MM),
        Edge("side", side, EdgeRole.SIDE, SEAM_MM),
        Edge("waist", waist, EdgeRole.WAIST, SEAM_MM),
        Edge("panel side", other, EdgeRole.SIDE, SEAM_MM),
    )
    return Piece(
        name,
        edges,
        size=body.size,
        quantity=2,
        material=MATERIAL,
        grain=Grain((0.0, -480.0), (0.0, -250.0)),
        notches=(_hip_notch(edges[1], "hip", hip_y), _hip_notch(edges[3], "panel hip", hip_y)),
        inner_lines=tuple(line_across(words, y, x_at(edges[3], y), x_at(edges[1], y)) for words, y in _levels(hip_y)),
        labels=(Label("Cut 2", (20.0, -330.0)),),
    )


def _levels(hip_y: float) -> tuple[tuple[str, float], ...]:
    return (("hip line", hip_y), (LENGTHEN, hip_y - BELOW_HIP_MM))


def _hip_notch(edge: Edge, name: str, hip_y: float) -> Notch:
    at_mm, _ = polyline.nearest(edge.points, (x_at(edge, hip_y), hip_y))
    return Notch(name, edge.id, at_mm, partner="hip")
