"""Edges drawn anew, with what lies on them: dart mouths, notches and marks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import NamedTuple

from geometry.affine import Point, Points, as_point, distance_mm
from geometry.curves import polyline
from geometry.model.edge import Edge
from geometry.model.marks import Mark
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM, SAME_POINT_MM


class Drawn(NamedTuple):
    """The new chain of an edge, and where along it lies what lay at a length along the old one (both mm)."""

    chain: Points
    station: Callable[[float], float]


def with_edges(piece: Piece, drawn: Mapping[str, Drawn], *, but: str = "") -> Piece:
    """The piece with other chains for some edges, and what lay on them where ``station`` says; dart ``but`` stays.

    A mark within ``ON_EDGE_MM`` of such an edge goes along with it, one at a corner with the corner. No edges give the
    very same piece.
    """
    if not drawn:
        return piece
    return replace(
        piece,
        edges=tuple(replace(edge, points=drawn[edge.id].chain) if edge.id in drawn else edge for edge in piece.edges),
        darts=tuple(
            replace(dart, from_mm=on.station(dart.from_mm), to_mm=on.station(dart.to_mm))
            if (on := drawn.get(dart.edge)) and dart.id != but
            else dart
            for dart in piece.darts
        ),
        notches=tuple(
            replace(notch, at_mm=on.station(notch.at_mm)) if (on := drawn.get(notch.edge)) else notch
            for notch in piece.notches
        ),
        marks=tuple(_carried(piece, mark, drawn) for mark in piece.marks),
    )


def with_edge(piece: Piece, edge_id: str, chain: Points, station: Callable[[float], float], *, but: str = "") -> Piece:
    """The piece with another chain for one edge; see ``with_edges``."""
    return with_edges(piece, {edge_id: Drawn(chain, station)}, but=but)


def _carried(piece: Piece, mark: Mark, drawn: Mapping[str, Drawn]) -> Mark:
    """A mark on an edge that is drawn anew taken along, as far off the edge as it was; any other as it is."""
    for edge_id, on in drawn.items():
        edge = piece.edge(edge_id)
        if polyline.least_gap_mm(edge.points, mark.at) > ON_EDGE_MM:
            continue
        at_mm, gap_mm = polyline.nearest(edge.points, mark.at)
        if gap_mm <= ON_EDGE_MM:
            (x, y), (new_x, new_y) = _places(edge, at_mm, on)
            # Where two edges are drawn to a new corner one after the other, the first has taken the mark there.
            if distance_mm((x, y), (new_x, new_y)) == 0.0 or distance_mm(mark.at, (new_x, new_y)) <= SAME_POINT_MM:
                return mark
            return replace(mark, at=(mark.at[0] + new_x - x, mark.at[1] + new_y - y))
    return mark


def _places(edge: Edge, at_mm: float, on: Drawn) -> tuple[Point, Point]:
    """A place of an edge, before and now; near a corner that corner."""
    if at_mm <= ON_EDGE_MM:
        return edge.start, as_point(on.chain[0])
    if edge.length_mm - at_mm <= ON_EDGE_MM:
        return edge.end, as_point(on.chain[-1])
    return edge.point_at(at_mm), polyline.point_at(on.chain, on.station(at_mm))
