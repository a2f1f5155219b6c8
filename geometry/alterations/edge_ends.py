"""Ends of edges: taken on or cut back, with the neighbour drawn to the new corner."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum

import numpy as np

from geometry.affine import Point, Points, as_point, frozen_points
from geometry.alterations.redrawn_edges import with_edge
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
    edge = piece.edge(edge_id)
    if -by_mm >= free_mm(piece, edge, end) - SAME_POINT_MM:
        raise StepError(
            f'The edge "{edge.id}" of "{piece.name}" cannot be made {-by_mm:.0f} mm shorter at its {end.value}: '
            "a dart or its other end is in the way; give a smaller amount or use the other end."
        )
    chain = lengthened(away_from(edge, end.other), by_mm)
    return with_corner_at(_with_end_of(piece, edge, end, chain), edge_id, end, as_point(chain[-1]))


def with_corner_at(piece: Piece, edge_id: str, end: End, corner: Point) -> Piece:
    """The piece with the neighbour at one end of an edge drawn to the corner where that edge now ends.

    Its points move in proportion to their length from its nearest dart or far end, which stays.
    """
    beside = neighbour(piece, edge_id, end)
    reach_mm = free_mm(piece, beside, end.other)
    if reach_mm <= SAME_POINT_MM:
        raise StepError(
            f'A dart opens at the very end of the edge "{beside.id}" of "{piece.name}", so that its corner cannot '
            "move; move the dart first."
        )
    head = polyline.part_between(away_from(beside, end.other), 0.0, reach_mm)
    left = 1.0 - polyline.stations_mm(head) / polyline.length_mm(head)
    drawn = head + left[:, None] * (np.asarray(corner) - head[0])
    drawn[0] = corner
    return with_start_drawn(piece, beside, end.other, reach_mm, frozen_points(drawn))


def with_start_drawn(piece: Piece, edge: Edge, end: End, reach_mm: float, drawn: Points) -> Piece:
    """The piece with the stretch of an edge nearest to one of its ends replaced by another line.

    Args:
        piece: The piece.
        edge: One of its edges.
        end: The end.
        reach_mm: How long the stretch is that goes.
        drawn: The new line, seen from that end; it ends where the stretch ended.

    Notches and darts keep their share of the stretch, and beyond it their distance from the far end.
    """
    chain = away_from(edge, end)
    rest = polyline.part_between(chain, reach_mm, polyline.length_mm(chain))
    whole = drawn if reach_mm >= edge.length_mm - SAME_POINT_MM else polyline.joined((drawn, rest))
    share = polyline.length_mm(drawn) / reach_mm
    longer_mm = polyline.length_mm(whole) - edge.length_mm
    return _with_seen(piece, edge, end, whole, lambda at: at * share if at <= reach_mm else at + longer_mm)


def with_end_at(piece: Piece, edge: Edge, end: End, by_mm: float, corner: Point) -> Piece:
    """The piece with an edge made longer or shorter at one end, its new end put exactly on a corner beside it."""
    chain = np.array(lengthened(away_from(edge, end.other), by_mm))
    chain[-1] = corner
    return _with_end_of(piece, edge, end, frozen_points(chain))


def _with_end_of(piece: Piece, edge: Edge, end: End, chain: Points) -> Piece:
    """The piece with another chain for an edge, given as seen from its other end, where everything keeps its length."""
    new_mm = polyline.length_mm(chain)
    return _with_seen(piece, edge, end.other, chain, lambda at_mm: min(at_mm, new_mm))


def _with_seen(piece: Piece, edge: Edge, end: End, chain: Points, seen: Callable[[float], float]) -> Piece:
    """The piece with another chain for an edge, chain and lengths given as seen from one of its ends."""
    old_mm, new_mm = edge.length_mm, polyline.length_mm(chain)
    if end is End.START:
        return with_edge(piece, edge.id, chain, seen)
    return with_edge(piece, edge.id, frozen_points(chain[::-1]), lambda at_mm: new_mm - seen(old_mm - at_mm))
