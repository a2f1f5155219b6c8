"""Where an outline moved most between two states of a pattern: for arrows and for handles to pull."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.affine import Point, distance_mm
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import STRAIGHT_MM

_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Places looked at on every edge: enough to find where a part moved as a whole."""


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

    Only pieces and edges that both patterns have are compared, place by place at the same shares of their length; on a
    piece whose outline keeps still, its notches and dart tips are.
    """
    known = {piece.name: piece for piece in before.pieces}
    found = [
        shift
        for piece in after.pieces
        if piece.name in known and known[piece.name] is not piece
        for shift in _of_piece(known[piece.name], piece)
    ]
    return tuple(sorted(found, key=lambda shift: -shift.length_mm))


def _of_piece(before: Piece, after: Piece) -> list[Shift]:
    edges = {edge.id: edge for edge in after.edges}
    pairs = [(edge, edges[edge.id]) for edge in before.edges if edge.id in edges]
    found = [
        Shift(before.name, old.point_at(share * old.length_mm), new.point_at(share * new.length_mm))
        for old, new in pairs
        for share in _SHARES
    ]
    return _far(found) or _far(_of_marks(before, after))


def _of_marks(before: Piece, after: Piece) -> list[Shift]:
    now = {mark.id: after.notch_point(mark) for mark in after.notches} | {dart.id: dart.tip for dart in after.darts}
    then = {mark.id: before.notch_point(mark) for mark in before.notches} | {dart.id: dart.tip for dart in before.darts}
    return [Shift(before.name, place, now[name]) for name, place in then.items() if name in now]


def _far(found: list[Shift]) -> list[Shift]:
    return [shift for shift in found if shift.length_mm > STRAIGHT_MM]
