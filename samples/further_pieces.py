"""Pieces that the sample styles do not have: a front without darts, a front with a princess seam, collars."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from geometry.affine import Points, frozen_points
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, Notch
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM
from samples.draft_dress import draft_nest


@cache
def dartless_dress(size: str) -> Pattern:
    """The dress with the darts left out of its front; the bust point stays marked."""
    pattern = draft_nest().pattern(size)
    front = pattern.piece("front bodice")
    return pattern.with_piece(replace(front, darts=()))


@cache
def princess_front(size: str) -> Pattern:
    """A front in two panels with a straight side and a rounded seam over the bust, drawn from a few figures."""
    scale = float(size) / 10 if size.isdigit() else 1.0
    grow = 1 + (scale - 1) / 10

    def edge(role: EdgeRole, *points: tuple[float, float], name: str = "") -> Edge:
        return Edge(name or role.value, frozen_points([(x * grow, y * grow) for x, y in points]), role)

    seam = ((85.0, 0.0), (95.0, 90.0), (100.0, 165.0), (90.0, 300.0), (120.0, 405.0))
    centre = Piece(
        "front bodice",
        (
            edge(EdgeRole.WAIST, (0.0, 0.0), seam[0]),
            edge(EdgeRole.OTHER, *seam, name="princess"),
            edge(EdgeRole.SHOULDER, seam[-1], (70.0, 425.0)),
            edge(EdgeRole.NECK, (70.0, 425.0), (55.0, 370.0), (0.0, 350.0)),
            edge(EdgeRole.CENTRE_FRONT, (0.0, 350.0), (0.0, 0.0)),
        ),
        fold="centre front",
        grain=Grain((30.0, 60.0), (30.0, 280.0)),
    )
    other = tuple((x + 60.0, y) for x, y in ((85.0, 0.0), (72.0, 90.0), (65.0, 165.0), (85.0, 300.0), (122.0, 405.0)))
    side = Piece(
        "side front",
        (
            edge(EdgeRole.WAIST, other[0], (245.0, 0.0)),
            edge(EdgeRole.SIDE, (245.0, 0.0), (270.0, 210.0)),
            edge(EdgeRole.ARMHOLE, (270.0, 210.0), (230.0, 235.0), (222.0, 300.0), (240.0, 380.0)),
            edge(EdgeRole.SHOULDER, (240.0, 380.0), other[-1]),
            edge(EdgeRole.OTHER, *other[::-1], name="princess"),
        ),
        grain=Grain((190.0, 60.0), (190.0, 280.0)),
    )
    return Pattern(tuple(_with_bust_notch(piece, 165.0 * grow) for piece in (centre, side)), size=size)


def _with_bust_notch(piece: Piece, y: float) -> Piece:
    edge = piece.edge("princess")
    stations = [i for i, point in enumerate(edge.points.tolist()) if abs(point[1] - y) < SAME_POINT_MM]
    at_mm = Edge("part", edge.points[: stations[0] + 1]).length_mm
    return replace(piece, notches=(Notch("bust", "princess", at_mm, partner="bust"),))


@cache
def collars(size: str) -> Pattern:
    """A half collar on the fold at the centre back and a whole one, their long edges gently curved."""
    reach = 180.0 + float(size)

    def curved(start: float, end: float, low: float, rise: float) -> Points:
        x = np.linspace(start, end, 41)
        return frozen_points(np.column_stack([x, low + rise * (x / reach) ** 2]))

    half = Piece(
        "half collar",
        (
            Edge("neck", curved(0.0, reach, 0.0, 10.0), EdgeRole.NECK),
            Edge("front end", frozen_points([(reach, 10.0), (reach, 75.0)])),
            Edge("outer", curved(reach, 0.0, 66.0, 9.0)),
            Edge("centre back", frozen_points([(0.0, 66.0), (0.0, 0.0)]), EdgeRole.CENTRE_BACK),
        ),
        fold="centre back",
        grain=Grain((20.0, 10.0), (20.0, 55.0)),
    )
    whole = Piece(
        "whole collar",
        (
            Edge("neck", curved(-reach, reach, 0.0, 8.0), EdgeRole.NECK),
            Edge("right end", frozen_points([(reach, 8.0), (reach, 75.0)])),
            Edge("outer", curved(reach, -reach, 66.0, 9.0)),
            Edge("left end", frozen_points([(-reach, 75.0), (-reach, 8.0)])),
        ),
        grain=Grain((0.0, 10.0), (0.0, 55.0)),
    )
    return Pattern((half, whole), size=size)
