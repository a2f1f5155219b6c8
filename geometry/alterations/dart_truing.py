"""A dart trued: both legs equally long."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from geometry.alterations.mouths import around_mouth, settled, with_mouth
from geometry.alterations.step import Outcome, piece_outcome
from geometry.model.pattern import Pattern
from geometry.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class TrueDart:
    """Draw a dart with legs equally long: its tip stays, the edge is turned a little on both sides of its mouth.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
    """

    kind: ClassVar[str] = "true-dart"

    piece: str
    dart: str

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The piece with the dart."""
        return (self.piece,)

    @property
    def amount_mm(self) -> float:
        """It has no amount."""
        return 0.0

    def with_amount_mm(self, amount_mm: float) -> TrueDart:
        """The step itself: it has no amount."""
        return self

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
