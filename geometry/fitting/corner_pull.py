"""Sizes chosen on the outline itself: a corner of the nest pulled from one size to another."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from geometry.affine import Point, frozen_points
from geometry.curves import polyline
from geometry.fitting.levels import BodyLevel, CornerPull, SizeBlend, corner_level
from geometry.model.pattern import Nest


def level_at_corner(nest: Nest, piece: str, edge: str) -> BodyLevel:
    """The level that the corner where an edge starts belongs to; ``MissingPartError`` if there is no such edge."""
    own = nest.patterns[0].piece(piece)
    return corner_level(own, own.edges.index(own.edge(edge)))


def position_at(nest: Nest, piece: str, edge: str, place: Point) -> float:
    """The place between sizes that a corner has been pulled to.

    The corner is held on the line from its place in one size to that in the next, as the sizes lie on one another.
    Where it lies at the same place in all sizes, the answer is 0.
    """
    places = frozen_points([pattern.piece(piece).edge(edge).start for pattern in nest.patterns])
    if len(places) < 2:
        return 0.0
    at_mm, _ = polyline.nearest(places, place)
    stations = polyline.stations_mm(places)
    return float(np.interp(at_mm, stations, np.arange(len(places)))) if stations[-1] > 0 else 0.0


def pulled(choice: SizeBlend, piece: str, edge: str, position: float) -> SizeBlend:
    """The choice with one corner pulled; an earlier pull of it is replaced."""
    kept = tuple(pull for pull in choice.corners if (pull.piece, pull.edge) != (piece, edge))
    return replace(choice, corners=(*kept, CornerPull(piece, edge, position)))
