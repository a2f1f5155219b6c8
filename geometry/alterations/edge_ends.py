"""Ends of edges: taken on or cut back, with the neighbour drawn to the new corner."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum

import numpy as np

from geometry.affine import Point, Points, as_point, frozen_points
from geometry.alterations.mouths import with_edge
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.edge import Edge
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM


class End(StrEnum):
    """An end of an edge, seen in the direction it runs round its piece."""

    START = "start"
    END = "end"

    @property
    def other(self) -> End:
        """The opposite end."""
        return End.END if self is End.START else End.START


def neighbour(piece: Piece, edge_id: str, end: End) -> Edge:
    """The edge that meets an edge at one of its ends."""
    index = piece.edges.index(piece.edge(edge_id))
    return piece.edges[(index + (1 if end is End.END else -1)) % len(piece.edges)]


def away_from(edge: Edge, end: End) -> Points:
    """The chain of an edge, seen from one of its ends."""
    return edge.points if end is End.START else frozen_points(edge.points[::-1])


def free_mm(piece: Piece, edge: Edge, end: End) -> float:
    """How far an edge runs from one of its ends to the nearest dart mouth, else to its other end."""
    stops = [dart.from_mm if end is End.START else edge.length_mm - dart.to_mm for dart in piece.darts_on(edge.id)]
    return min(stops, default=edge.length_mm)


def lengthened(chain: Points, by_mm: float) -> Points:
    """The chain taken on straight at its end by a length, or cut back with a negative one."""
    total = polyline.length_mm(chain)
    if by_mm <= 0:
        return polyline.part_between(chain, 0.0, total + by_mm)
    (x, y), (ux, uy) = as_point(chain[-1]), polyline.direction_at(chain, total)
    return frozen_points(np.vstack([chain[:-1], [(x + ux * by_mm, y + uy * by_mm)]]))


def with_end_moved(piece: Piece, edge_id: str, end: End, by_mm: float) -> Piece:
    """The piece with an edge made longer by an amount at one end, straight on, or shorter with a negative amount.

    The neighbour follows to the new corner, in proportion from its nearest dart or its far end, so that a straight
    one stays straight; every other edge is the same object. Nothing gives the very same piece.

    Raises:
        StepError: the edge or its neighbour would be used up, or a dart is in the way.
    """
    if by_mm == 0:
        return piece
    edge, beside = piece.edge(edge_id), neighbour(piece, edge_id, end)
    if -by_mm >= free_mm(piece, edge, end) - SAME_POINT_MM:
        raise StepError(
            f'The edge "{edge.id}" of "{piece.name}" cannot be made {-by_mm:.0f} mm shorter at its {end.value}: '
            "a dart or its other end is in the way; give a smaller amount or use the other end."
        )
    chain = lengthened(away_from(edge, end.other), by_mm)
    corner = as_point(chain[-1])
    moved = with_chain_from(piece, edge, end.other, chain)
    return with_corner_at(moved, beside, end.other, corner)


def with_corner_at(piece: Piece, edge: Edge, end: End, corner: Point) -> Piece:
    """The piece with one end of an edge drawn to a new corner, in proportion from its nearest dart or far end."""
    chain = away_from(edge, end)
    reach_mm = free_mm(piece, edge, end)
    if reach_mm <= SAME_POINT_MM:
        raise StepError(
            f'A dart opens at the very end of the edge "{edge.id}" of "{piece.name}", so that its corner cannot move; '
            "move the dart first."
        )
    head = polyline.part_between(chain, 0.0, reach_mm)
    left = 1.0 - polyline.stations_mm(head) / polyline.length_mm(head)
    vector = np.asarray(corner) - chain[0]
    drawn = head + left[:, None] * vector
    drawn[0] = corner
    rest = polyline.part_between(chain, reach_mm, polyline.length_mm(chain))
    whole = frozen_points(drawn) if reach_mm >= polyline.length_mm(chain) else polyline.joined((drawn, rest))
    return with_chain_from(piece, edge, end, whole, before=head, after=frozen_points(drawn))


def with_chain_from(
    piece: Piece, edge: Edge, end: End, chain: Points, *, before: Points | None = None, after: Points | None = None
) -> Piece:
    """The piece with another chain for an edge, seen from one of its ends.

    What lies on the edge keeps its length from that end, up to the end of the chain. Where the first stretch was
    drawn anew point by point (``before`` to ``after``) it keeps its place on it, and its length from the far end
    beyond it.
    """
    old_mm, new_mm = edge.length_mm, polyline.length_mm(chain)
    seen = _drawn_anew(before, after, new_mm - old_mm) if before is not None and after is not None else _kept(new_mm)

    def station(at_mm: float) -> float:
        from_end_mm = seen(at_mm if end is End.START else old_mm - at_mm)
        return from_end_mm if end is End.START else new_mm - from_end_mm

    points = chain if end is End.START else frozen_points(chain[::-1])
    return with_edge(piece, edge.id, points, station)


def _kept(length_mm: float) -> Callable[[float], float]:
    return lambda at_mm: min(at_mm, length_mm)


def _drawn_anew(before: Points, after: Points, longer_mm: float) -> Callable[[float], float]:
    was, now = polyline.stations_mm(before), polyline.stations_mm(after)
    return lambda at_mm: float(np.interp(at_mm, was, now)) if at_mm <= was[-1] else at_mm + longer_mm
