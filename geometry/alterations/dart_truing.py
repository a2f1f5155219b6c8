"""A dart trued: both legs equally long."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from geometry.alterations.mouths import around_mouth, settled, with_mouth
from geometry.alterations.step import OnOnePiece, Outcome, WithoutAmount, piece_outcome
from geometry.model.pattern import Pattern
from geometry.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class TrueDart(OnOnePiece, WithoutAmount):
    """Draw a dart with legs equally long: its tip stays, the edge is turned a little on both sides of its mouth.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
    """

    kind: ClassVar[str] = "true-dart"

    piece: str
    dart: str

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart's legs equal and its edge sewn as long as before; the very same if they are."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.dart)
        one, other = piece.legs_mm(dart)
        if abs(one - other) <= SAME_POINT_MM:
            return piece_outcome(pattern, piece, piece)
        return piece_outcome(
            pattern, piece, settled(piece, with_mouth(piece, dart, *around_mouth(piece, dart)), dart.id)
        )
