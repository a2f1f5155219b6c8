"""Where an outline moved most between two states of a pattern: for arrows and for handles to pull."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geometry.affine import Point, distance_mm, unit_vector
from geometry.curves import polyline
from geometry.model.edge import Edge
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import STRAIGHT_MM

_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Places looked at on every edge: enough to find where a part moved as a whole."""

_ALONG = math.cos(math.radians(20.0))
"""A place between corners that moved nearly along its edge only shows that the edge became longer; own choice."""

_MARKS_MORE = 3.4
"""A dart or notch that moved so many times as far as any place of the outline is what it is about; own choice."""


@dataclass(frozen=True, slots=True)
class Shift:
    """A place of an outline before and after.

    Attributes:
        piece: Name of the piece.
        before: Where it was, mm.
        after: Where it is, mm.
    """

    piece: str
    before: Point
    after: Point

    @property
    def length_mm(self) -> float:
        """How far it moved."""
        return distance_mm(self.before, self.after)


def shifts(before: Pattern, after: Pattern) -> tuple[Shift, ...]:
    """Places of outlines that moved by more than a hair, the farthest first.

    Only pieces and edges that both patterns have are compared, place by place at the same shares of their length. On a
    piece whose outline keeps still, or moves much less than they do, its notches and dart tips are.
    """
    known = {piece.name: piece for piece in before.pieces}
    found = [
        shift
        for piece in after.pieces
        if piece.name in known and known[piece.name] is not piece
        for shift in _of_piece(known[piece.name], piece)
    ]
    return tuple(sorted(found, key=lambda shift: -round(shift.length_mm, 2)))  # equal but for noise: as they come


def _of_piece(before: Piece, after: Piece) -> list[Shift]:
    outline, marks = _far(_of_outline(before, after)), _far(_of_marks(before, after))
    return marks if _most_mm(marks) > _MARKS_MORE * _most_mm(outline) else outline


def _of_outline(before: Piece, after: Piece) -> list[Shift]:
    edges = {edge.id: edge for edge in after.edges}
    return [
        Shift(before.name, old.point_at(share * old.length_mm), edges[old.id].point_at(share * edges[old.id].length_mm))
        for old in before.edges
        if old.id in edges
        for share in _SHARES
        if share in (0.0, 1.0) or not _slides(old, edges[old.id], share)
    ]


def _slides(old: Edge, new: Edge, share: float) -> bool:
    """Whether a place of an edge moved nearly along that edge."""
    at, there = old.point_at(share * old.length_mm), new.point_at(share * new.length_mm)
    (dx, dy), (ux, uy) = polyline.direction_at(old.points, share * old.length_mm), unit_vector(at, there)
    return abs(dx * ux + dy * uy) > _ALONG


def _of_marks(before: Piece, after: Piece) -> list[Shift]:
    """Tips of darts, or where none moved, notches."""
    tips = {dart.id: dart.tip for dart in after.darts}
    moved = _far([Shift(before.name, dart.tip, tips[dart.id]) for dart in before.darts if dart.id in tips])
    places = {notch.id: after.notch_point(notch) for notch in after.notches}
    return moved or [
        Shift(before.name, before.notch_point(notch), places[notch.id])
        for notch in before.notches
        if notch.id in places
    ]


def _far(found: list[Shift]) -> list[Shift]:
    return [shift for shift in found if shift.length_mm > STRAIGHT_MM]


def _most_mm(found: list[Shift]) -> float:
    return max((shift.length_mm for shift in found), default=0.0)
