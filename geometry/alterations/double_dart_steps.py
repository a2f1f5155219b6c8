"""Darts with two tips: drawn, moved, widened."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.affine import Affine, Point, distance_mm, frozen_points, midpoint
from geometry.alterations.anchors import Anchor, resolve
from geometry.alterations.mouths import unused_id
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount, piece_outcome
from geometry.curves import polyline
from geometry.errors import MissingPartError, StepError
from geometry.model.dart import DoubleDart
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece, moved_double_dart
from geometry.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class MakeDoubleDart(OnOnePiece, WithAmount):
    """Draw a dart with two tips inside a piece, widest half-way between them.

    Attributes:
        piece: Name of the piece.
        start: One tip.
        end: The other tip.
        amount_mm: Width in the middle.
        dart: Id of the new dart; "" makes one up.
    """

    kind: ClassVar[str] = "make-double-dart"

    piece: str
    start: Anchor
    end: Anchor
    amount_mm: float
    dart: str = ""

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart drawn; one without width is not drawn."""
        piece = pattern.piece(self.piece)
        start, end = resolve(piece, self.start), resolve(piece, self.end)
        if self.amount_mm == 0:
            return piece_outcome(pattern, piece, piece)
        if distance_mm(start, end) <= SAME_POINT_MM or self.amount_mm < 0:
            raise StepError(f'A dart with two tips on "{piece.name}" needs two different tips and a width above 0.')
        taken = {dart.id for dart in piece.double_darts}
        name = self.dart or unused_id("double dart", taken)
        if name in taken:
            raise StepError(f'"{piece.name}" has a dart "{name}" already; give the new one another name.')
        left, right = _sides(start, end, self.amount_mm)
        dart = DoubleDart(name, start, end, left, right)
        _refuse_outside(piece, dart)
        return piece_outcome(pattern, piece, replace(piece, double_darts=(*piece.double_darts, dart)))


@dataclass(frozen=True, slots=True)
class MoveDoubleDart(OnOnePiece):
    """Move a dart with two tips as it is.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        dx_mm: How far to the right.
        dy_mm: How far up.
    """

    kind: ClassVar[str] = "move-double-dart"

    piece: str
    dart: str
    dx_mm: float = 0.0
    dy_mm: float = 0.0

    @property
    def amount_mm(self) -> float:
        """How far it moves."""
        return math.hypot(self.dx_mm, self.dy_mm)

    def with_amount_mm(self, amount_mm: float) -> MoveDoubleDart:
        """The same move, in the same direction, by another distance; up where it had no direction."""
        old = self.amount_mm
        if old == 0:
            return replace(self, dy_mm=amount_mm)
        return replace(self, dx_mm=self.dx_mm * amount_mm / old, dy_mm=self.dy_mm * amount_mm / old)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart moved."""
        piece = pattern.piece(self.piece)
        dart = _double_dart(piece, self.dart)
        if self.amount_mm == 0:
            return piece_outcome(pattern, piece, piece)
        return piece_outcome(
            pattern, piece, _with_double_dart(piece, moved_double_dart(dart, Affine.moved(self.dx_mm, self.dy_mm)))
        )


@dataclass(frozen=True, slots=True)
class WidenDoubleDart(OnOnePiece, WithAmount):
    """Let a dart with two tips take in more, or less with a negative amount, half of it on either side.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        amount_mm: By how much it is wider where it is widest.
    """

    kind: ClassVar[str] = "widen-double-dart"

    piece: str
    dart: str
    amount_mm: float

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart widened."""
        piece = pattern.piece(self.piece)
        dart = _double_dart(piece, self.dart)
        if self.amount_mm == 0:
            return piece_outcome(pattern, piece, piece)
        width_mm = distance_mm(dart.left, dart.right)
        if width_mm + self.amount_mm <= SAME_POINT_MM:
            raise StepError(
                f'The dart "{dart.id}" on "{piece.name}" is {width_mm:.0f} mm wide and cannot take in '
                f"{-self.amount_mm:.0f} mm less; give a smaller amount."
            )
        share = (width_mm + self.amount_mm) / width_mm
        x, y = midpoint(dart.left, dart.right)
        left, right = ((x + (px - x) * share, y + (py - y) * share) for px, py in (dart.left, dart.right))
        return piece_outcome(pattern, piece, _with_double_dart(piece, replace(dart, left=left, right=right)))


def _sides(start: Point, end: Point, width_mm: float) -> tuple[Point, Point]:
    """The places half the width to the left and right of the middle, seen from start to end."""
    length_mm = distance_mm(start, end)
    nx = -(end[1] - start[1]) / length_mm * width_mm / 2
    ny = (end[0] - start[0]) / length_mm * width_mm / 2
    x, y = midpoint(start, end)
    return (x + nx, y + ny), (x - nx, y - ny)


def _double_dart(piece: Piece, dart_id: str) -> DoubleDart:
    for dart in piece.double_darts:
        if dart.id == dart_id:
            return dart
    names = ", ".join(f'"{dart.id}"' for dart in piece.double_darts) or "none"
    raise MissingPartError(
        f'The piece "{piece.name}" has no dart with two tips called "{dart_id}"; it has {names}.', code="no-such-dart"
    )


def _with_double_dart(piece: Piece, dart: DoubleDart) -> Piece:
    _refuse_outside(piece, dart)
    darts = tuple(dart if old.id == dart.id else old for old in piece.double_darts)
    return replace(piece, double_darts=darts)


def _refuse_outside(piece: Piece, dart: DoubleDart) -> None:
    corners = frozen_points([dart.tip_start, dart.tip_end, dart.left, dart.right])
    if not polyline.contains(piece.outline, corners).all():
        raise StepError(
            f'The dart "{dart.id}" would leave "{piece.name}"; make it smaller or move it less, or draw a dart into '
            "the edge instead."
        )
