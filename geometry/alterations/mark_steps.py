"""Landmarks placed where the person puts them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.affine import distance_mm
from geometry.alterations.anchors import Anchor, resolve
from geometry.alterations.step import OnOnePiece, Outcome, WithoutAmount, piece_outcome
from geometry.errors import StepError
from geometry.model.marks import Mark, MarkKind
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class PlaceLandmark(OnOnePiece, WithoutAmount):
    """Mark a body point or level on a piece, or move its mark.

    Attributes:
        piece: Name of the piece.
        landmark: What it is called: "bust point", "elbow" ...
        at: Where it is.
    """

    kind: ClassVar[str] = "place-landmark"

    piece: str
    landmark: str
    at: Anchor

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the landmark where it is said; the very same if it is there already."""
        piece = pattern.piece(self.piece)
        if not self.landmark.strip():
            raise StepError(f'Say what the landmark on "{piece.name}" is called, for example "bust point".')
        return piece_outcome(
            pattern, piece, _marked(piece, Mark(self.landmark, resolve(piece, self.at), MarkKind.LANDMARK))
        )


def _marked(piece: Piece, mark: Mark) -> Piece:
    def is_same(old: Mark) -> bool:
        return old.id == mark.id and old.kind is MarkKind.LANDMARK

    known = next((old for old in piece.marks if is_same(old)), None)
    if known is None:
        return replace(piece, marks=(*piece.marks, mark))
    if distance_mm(known.at, mark.at) <= SAME_POINT_MM:
        return piece
    return replace(piece, marks=tuple(mark if is_same(old) else old for old in piece.marks))
