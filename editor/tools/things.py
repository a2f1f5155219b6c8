"""What lies under the pointer on a piece: a notch, a dart, an edge."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from editor.tools.readings import both_units
from geometry.affine import Point, distance_mm, frozen_points
from geometry.curves import polyline
from geometry.model.piece import Piece

EDGE_REACH_PX = 7.0
"""How near a click must be to an edge to pick the edge and not the piece."""


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing on a piece by its id; "" for all where nothing is."""

    edge: str = ""
    dart: str = ""
    notch: str = ""


NOTHING = Thing()


def thing_at(piece: Piece, place: Point, *, reach_mm: float) -> Thing:
    """The notch at a place, else the dart it lies in or on, else the edge, each within reach."""
    notches = [(distance_mm(piece.notch_point(notch), place), notch.id) for notch in piece.notches]
    if notches and min(notches)[0] <= reach_mm * 0.8:
        return Thing(notch=min(notches)[1])
    dart = _dart_at(piece, place, reach_mm)
    if dart:
        return Thing(dart=dart)
    gap_mm, edge_id = min((polyline.nearest(edge.points, place)[1], edge.id) for edge in piece.edges)
    return Thing(edge=edge_id) if gap_mm <= reach_mm else NOTHING


def thing_words(piece: Piece, thing: Thing) -> tuple[str, ...]:
    """What it is called, and its size."""
    if thing.edge and any(edge.id == thing.edge for edge in piece.edges):
        return thing.edge, both_units(piece.sewn_length_mm(thing.edge))
    dart = next((dart for dart in piece.darts if dart.id == thing.dart), None)
    if dart is not None:
        return dart.id, f"takes in {both_units(piece.intake_mm(dart))}"
    double = next((dart for dart in piece.double_darts if dart.id == thing.dart), None)
    if double is not None:
        return double.id, f"takes in {both_units(distance_mm(double.left, double.right))}"
    notch = next((notch for notch in piece.notches if notch.id == thing.notch), None)
    return (f"notch {notch.partner or notch.id}",) if notch is not None else ()


def _dart_at(piece: Piece, place: Point, reach_mm: float) -> str:
    rings: list[tuple[str, tuple[Point, ...]]] = [(dart.id, (*piece.mouth(dart), dart.tip)) for dart in piece.darts]
    rings += [(dart.id, (dart.tip_start, dart.right, dart.tip_end, dart.left)) for dart in piece.double_darts]
    for dart_id, corners in rings:
        ring = frozen_points(corners)
        inside = bool(polyline.contains(ring, np.array([place]))[0])
        if inside or polyline.nearest(frozen_points([*corners, corners[0]]), place)[1] <= reach_mm * 0.6:
            return dart_id
    return ""
