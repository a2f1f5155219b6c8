"""A plain bodice drawn from a few round figures, so that closed forms and worked examples can be compared with it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from geometry.affine import Affine, Points, frozen_points
from geometry.alterations.single_pieces import mirrored
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, Mark, MarkKind, Notch
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece

NECK_MM, NECK_Y, WAIST_MM, UNDERARM = 70.0, 420.0, 240.0, (240.0, 210.0)


def half(name: str, *, run_mm: float = 120.0, drop_mm: float = 40.0, on_fold: bool = False) -> Piece:
    """A half front or back: centre at x = 0, neck a quarter circle, armhole upright above its notch, side upright."""
    is_front = "front" in name
    centre = EdgeRole.CENTRE_FRONT if is_front else EdgeRole.CENTRE_BACK
    tip = (NECK_MM + run_mm, NECK_Y - drop_mm)
    turns = np.linspace(0.0, -math.pi / 2, 181)
    neck = np.column_stack([NECK_MM * np.cos(turns), NECK_Y + NECK_MM * np.sin(turns)])
    low = (0.0, NECK_Y - NECK_MM)
    neck[0], neck[-1] = (NECK_MM, NECK_Y), low
    corner = (WAIST_MM, 0.0)
    edges = (
        _edge(EdgeRole.WAIST, frozen_points([(0.0, 0.0), corner])),
        _edge(EdgeRole.SIDE, frozen_points([corner, UNDERARM])),
        _edge(EdgeRole.ARMHOLE, _armhole(tip)),
        _edge(EdgeRole.SHOULDER, frozen_points([tip, (NECK_MM, NECK_Y)])),
        _edge(EdgeRole.NECK, frozen_points(neck)),
        _edge(centre, frozen_points([low, (0.0, 0.0)])),
    )
    mark = Mark("bust point" if is_front else "shoulder blade", (95.0, 160.0 if is_front else 300.0), MarkKind.LANDMARK)
    piece = Piece(
        name,
        edges,
        quantity=1 if on_fold else 2,
        fold=centre.value if on_fold else None,
        grain=Grain((40.0, 60.0), (40.0, 300.0)),
        notches=(Notch(f"{'front' if is_front else 'back'} armhole", "armhole", 80.0),),
        marks=(mark,),
    )
    return piece if is_front else mirrored(piece, Affine(a=-1.0))


def bodice(**figures: float) -> Pattern:
    return Pattern((half("front bodice", **figures), half("back bodice", **figures)))


def one_piece_back(width_mm: float, neck_above_mm: float, below_mm: float = 600.0) -> Piece:
    """A back without a waist seam on the fold; its waist is marked at the side, level with y = 0."""
    top = neck_above_mm + 30.0
    corners = [
        (EdgeRole.HEM, (0.0, -below_mm)),
        (EdgeRole.SIDE, (width_mm, -below_mm)),
        (EdgeRole.ARMHOLE, (width_mm, neck_above_mm * 0.4)),
        (EdgeRole.SHOULDER, (width_mm * 0.8, top - 20.0)),
        (EdgeRole.NECK, (70.0, top)),
        (EdgeRole.CENTRE_BACK, (0.0, neck_above_mm)),
    ]
    ends = [place for _, place in corners[1:]] + [corners[0][1]]
    edges = tuple(_edge(role, frozen_points([start, end])) for (role, start), end in zip(corners, ends, strict=True))
    waist = Mark("waist at side", (width_mm, 0.0), MarkKind.LANDMARK)
    return Piece("back", edges, fold="centre back", grain=Grain((30.0, -400.0), (30.0, 100.0)), marks=(waist,))


def level_neck(piece: Piece) -> Piece:
    """The piece with a neck that runs level from the centre line and rises only at its side."""
    ring = [edge.id for edge in piece.edges]
    neck, centre = piece.edge("neck"), piece.edges[(ring.index("neck") + 1) % len(ring)]
    side_first = centre.id.startswith("centre")
    side, low = (neck.start, neck.end) if side_first else (neck.end, neck.start)
    raised = (low[0], side[1] - 10.0)
    chain = [raised, (side[0], raised[1]), side]
    points = frozen_points(chain[::-1] if side_first else chain)

    def redrawn(edge: Edge) -> Edge:
        if edge.id == "neck":
            return replace(edge, points=points)
        if edge.id.startswith("centre"):
            ends = [raised if end == low else end for end in (edge.start, edge.end)]
            return replace(edge, points=frozen_points(ends))
        return edge

    return replace(piece, edges=tuple(map(redrawn, piece.edges)))


def _edge(role: EdgeRole, points: Points) -> Edge:
    return Edge(role.value, points, role)


def _armhole(tip: tuple[float, float]) -> Points:
    """From the underarm in a quarter ellipse to the height of the notch, then straight up to the tip."""
    x, y = UNDERARM
    rise = 60.0
    turns = np.linspace(-math.pi / 2, -math.pi, 61)
    curve = np.column_stack([x + (x - tip[0]) * np.cos(turns), y + rise + rise * np.sin(turns)])
    curve[0], curve[-1] = UNDERARM, (tip[0], y + rise)
    return frozen_points(np.vstack([curve, tip]))
