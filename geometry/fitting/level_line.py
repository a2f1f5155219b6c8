"""A line laid straight across a piece, the cloth inside its darts left out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Point, Points, angle_between
from geometry.curves import polyline
from geometry.model.dart import Dart
from geometry.model.edge import Edge, EdgeRole
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM

Stretch = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class LevelLine:
    """A line from a place in a piece straight to its outline.

    Attributes:
        length_mm: How much cloth it crosses: its length less what lies inside darts.
        parts: The parts that count, each (start, end), in order.
        edge: The edge it ends on.
        at_mm: Length along that edge where it ends.
    """

    length_mm: float
    parts: tuple[Stretch, ...]
    edge: Edge
    at_mm: float


def level_line(piece: Piece, start: Point, heading: Point, *, over: tuple[Dart, ...] = ()) -> LevelLine | None:
    """The line from a place in a piece or on its outline in a unit direction to the outline.

    What it crosses of a dart is folded away on the garment and left out, but for darts in ``over``. ``None`` where
    no outline is ahead.
    """
    leaving = _exit(piece, start, heading)
    if leaving is None:
        return None
    reach_mm, edge, at_mm = leaving
    gaps = sorted(
        gap for wedge in _wedges(piece, over) if (gap := _inside(wedge, start, heading, reach_mm)) is not None
    )
    parts, from_mm = [], 0.0
    for low, high in [*gaps, (reach_mm, reach_mm)]:
        if low > from_mm:
            parts.append((from_mm, low))
        from_mm = max(from_mm, high)
    (x, y), (dx, dy) = start, heading
    places = tuple(((x + a * dx, y + a * dy), (x + b * dx, y + b * dy)) for a, b in parts)
    return LevelLine(sum(b - a for a, b in parts), places, edge, at_mm)


def level_beside_side_dart(piece: Piece, apex: Point, heading: Point, up: Point) -> tuple[Point, tuple[Dart, ...]]:
    """How a level line goes on from an apex to the side where a dart of the side seam points at it.

    The dart closes downwards, so cloth above it lies turned on the table by the dart's angle; a level line that
    passes above the closed dart is drawn with that turn. Returns the heading and the darts it does not cross.
    """
    for edge in piece.edges_with_role(EdgeRole.SIDE):
        for dart in piece.darts_on(edge.id):
            mouth = piece.mouth(dart)
            low, high = sorted(mouth, key=lambda place: place[0] * up[0] + place[1] * up[1])
            below = (low[0] - apex[0]) * up[0] + (low[1] - apex[1]) * up[1] < 0
            outward = (low[0] - apex[0]) * heading[0] + (low[1] - apex[1]) * heading[1] > 0
            if below and outward:
                return _turned(heading, angle_between(apex, low, high)), (dart,)
            return heading, (dart,)
    return heading, ()


def _exit(piece: Piece, at: Point, ahead: Point) -> tuple[float, Edge, float] | None:
    """How far the outline is, the edge met there, and the place along it."""
    best: tuple[float, Edge, float] | None = None
    for edge in piece.edges:
        distances, along = _hits(edge.points, at, ahead)
        ahead_of_start = distances > SAME_POINT_MM
        if ahead_of_start.any():
            index = int(np.argmin(np.where(ahead_of_start, distances, np.inf)))
            if best is None or distances[index] < best[0]:
                best = (float(distances[index]), edge, float(along[index]))
    return best


def _hits(chain: Points, at: Point, ahead: Point) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Distances (negative: behind) at which a straight line meets a chain, and the lengths along the chain."""
    step = chain[1:] - chain[:-1]
    gap = chain[:-1] - np.asarray(at)
    turn = ahead[0] * step[:, 1] - ahead[1] * step[:, 0]
    safe = np.where(turn == 0.0, 1.0, turn)
    distance = (gap[:, 0] * step[:, 1] - gap[:, 1] * step[:, 0]) / safe
    share = (gap[:, 0] * ahead[1] - gap[:, 1] * ahead[0]) / safe
    sizes = np.hypot(step[:, 0], step[:, 1])
    slack = SAME_POINT_MM / np.maximum(sizes, SAME_POINT_MM)
    met = (turn != 0.0) & (share >= -slack) & (share <= 1.0 + slack)
    stations = polyline.stations_mm(chain)[:-1]
    return distance[met], (stations + np.clip(share, 0.0, 1.0) * sizes)[met]


def _wedges(piece: Piece, over: tuple[Dart, ...]) -> list[Points]:
    """The cloth that darts fold away, as closed chains."""
    single = [(dart.tip, *piece.mouth(dart), dart.tip) for dart in piece.darts if dart not in over]
    double = [(each.tip_start, each.left, each.tip_end, each.right, each.tip_start) for each in piece.double_darts]
    return [np.array(corners) for corners in (*single, *double)]


def _inside(wedge: Points, at: Point, ahead: Point, reach_mm: float) -> tuple[float, float] | None:
    """From where to where a line runs inside a wedge, ``None`` if it misses it."""
    distances, _ = _hits(wedge, at, ahead)
    if distances.size < 2:
        return None
    low, high = max(float(distances.min()), 0.0), min(float(distances.max()), reach_mm)
    return (low, high) if high > low else None


def _turned(ahead: Point, angle_rad: float) -> Point:
    cos, sin = float(np.cos(angle_rad)), float(np.sin(angle_rad))
    return (cos * ahead[0] - sin * ahead[1], sin * ahead[0] + cos * ahead[1])
