"""Half skirts on the fold with edges of any shape, and what tests of steps ask of every piece."""

import numpy as np
import pytest

from geometry import regions
from geometry.affine import frozen_points
from geometry.alterations.anchors import free
from geometry.alterations.dart_steps import MakeDart
from geometry.model.edge import Edge, EdgeRole
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece


def ring(name, *sides, **parts):
    """A piece from (edge id, role, points) with each edge ending where the next starts."""
    edges = []
    for (edge_id, role, points), (_, _, following) in zip(sides, (*sides[1:], sides[0]), strict=True):
        edges.append(Edge(edge_id, frozen_points([*points, following[0]]), role))
    return Piece(name, tuple(edges), **parts)


def panel(waist=((300.0, 600.0),), centre=((0.0, 600.0),), hem=((0.0, 0.0),), **parts):
    """A half skirt on the fold: hem, side, waist, centre front; each given by its points without the last."""
    return ring(
        "panel",
        ("hem", EdgeRole.HEM, hem),
        ("side", EdgeRole.SIDE, ((300.0, 0.0),)),
        ("waist", EdgeRole.WAIST, waist),
        ("centre front", EdgeRole.CENTRE_FRONT, centre),
        fold="centre front",
        **parts,
    )


def curved(points, steps=60):
    """A smooth chain of points through a parabola's three points, the last left out."""
    t = np.linspace(0.0, 1.0, steps)[:-1]
    (x0, y0), (x1, y1), (x2, y2) = points
    x = (1 - t) ** 2 * x0 + 2 * t * (1 - t) * x1 + t**2 * x2
    y = (1 - t) ** 2 * y0 + 2 * t * (1 - t) * y1 + t**2 * y2
    return tuple(map(tuple, np.column_stack([x, y]).tolist()))


def done(piece, *steps):
    pattern = Pattern((piece,))
    for step in steps:
        pattern = step.apply(pattern).pattern
    return pattern.pieces[0]


def assert_closed_and_simple(piece):
    assert regions.is_simple(piece.outline)
    for edge, following in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
        assert edge.end == pytest.approx(following.start, abs=1e-9)


DARTED = done(panel(), MakeDart("panel", free((150.0, 600.0)), free((150.0, 480.0)), 40.0, dart="waist dart"))
"""A panel with a dart square to its waist, 120 mm deep."""
