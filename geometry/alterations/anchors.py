"""Places that steps point at, by name and share, so that they survive another size or an earlier amount."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from geometry.affine import Point, distance_mm
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.marks import MarkKind
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM


class On(StrEnum):
    """What an anchor holds on to."""

    EDGE = "edge"
    TIP = "tip"
    AIM = "aim"
    NOTCH = "notch"
    LANDMARK = "landmark"
    FREE = "free"


@dataclass(frozen=True, slots=True)
class Anchor:
    """A place on a piece.

    Attributes:
        on: What it holds on to.
        name: Id of the edge, dart, notch or landmark; "" for a free point.
        share: For an edge, how far along its length, 0 at its start to 1 at its end.
        x: For a free point, its x in mm.
        y: For a free point, its y in mm.
    """

    on: On
    name: str = ""
    share: float = 0.0
    x: float = 0.0
    y: float = 0.0


def on_edge(edge_id: str, share: float) -> Anchor:
    """An anchor at a share of an edge's length."""
    return Anchor(On.EDGE, edge_id, share)


def free(place: Point) -> Anchor:
    """An anchor at a fixed place."""
    return Anchor(On.FREE, x=place[0], y=place[1])


def resolve(piece: Piece, anchor: Anchor) -> Point:
    """Where an anchor is on this piece, in mm.

    Raises:
        MissingPartError: what it holds on to is not there.
        StepError: its share is not within 0 to 1.
    """
    match anchor.on:
        case On.EDGE:
            edge = piece.edge(anchor.name)
            if not 0.0 <= anchor.share <= 1.0:
                raise StepError(
                    f'On the piece "{piece.name}" a place on the edge "{anchor.name}" has the share {anchor.share:g}; '
                    "give a share from 0 (its start) to 1 (its end)."
                )
            return edge.point_at(anchor.share * edge.length_mm)
        case On.TIP:
            return piece.dart(anchor.name).tip
        case On.AIM:
            return piece.dart(anchor.name).apex
        case On.NOTCH:
            return piece.notch_point(piece.notch(anchor.name))
        case On.LANDMARK:
            return piece.landmark(anchor.name)
        case On.FREE:
            return (anchor.x, anchor.y)


def anchor_at(piece: Piece, place: Point, *, within_mm: float = ON_EDGE_MM) -> Anchor:
    """The most lasting way to point at a place.

    A named point within ``within_mm`` is taken first (dart tip, landmark, notch, corner, the nearest of them),
    then an edge, else the place itself as a free point.
    """
    named = [(distance_mm(resolve(piece, anchor), place), index, anchor) for index, anchor in enumerate(_named(piece))]
    if named and min(named)[0] <= within_mm:
        return min(named)[2]
    near = [(polyline.nearest(edge.points, place), edge) for edge in piece.edges]
    (at_mm, gap_mm), edge = min(near, key=lambda row: row[0][1])
    if gap_mm <= within_mm:
        return on_edge(edge.id, at_mm / edge.length_mm)
    return free(place)


def _named(piece: Piece) -> Iterator[Anchor]:
    yield from (Anchor(On.TIP, dart.id) for dart in piece.darts)
    yield from (Anchor(On.LANDMARK, mark.id) for mark in piece.marks if mark.kind is MarkKind.LANDMARK)
    yield from (Anchor(On.NOTCH, notch.id) for notch in piece.notches)
    yield from (on_edge(edge.id, 0.0) for edge in piece.edges)
