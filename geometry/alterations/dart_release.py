"""Darts let out: their cloth stays in the edge as ease or gathers, or is folded in as a tuck."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import ClassVar

from geometry.affine import distance_mm, frozen_points, midpoint
from geometry.alterations.mouths import room_around, unused_id, with_dart, without_dart
from geometry.alterations.redrawn_edges import with_edge
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount, piece_outcome
from geometry.curves import polyline
from geometry.curves.smooth import blended_as_long
from geometry.errors import StepError
from geometry.model.dart import Dart
from geometry.model.marks import InnerLine, Notch
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM


class Release(StrEnum):
    """What becomes of the cloth a dart took in."""

    EASE = "ease"
    GATHERS = "gathers"
    TUCK = "tuck"


@dataclass(frozen=True, slots=True)
class ReleaseDart(OnOnePiece, WithAmount):
    """Let a dart out.

    Eased and gathered edges keep all the cloth of the dart: they are blended over the old mouth, as long as they
    were open, with a notch at each end of the fullness. A tuck is folded in like the dart, but not sewn: its two
    lines run square in from the edge.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        into: What it becomes.
        amount_mm: For ease and gathers how far the fullness reaches beyond each side of the old mouth; for a tuck
            the length of its lines.
    """

    kind: ClassVar[str] = "release-dart"

    piece: str
    dart: str
    into: Release
    amount_mm: float = 30.0

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart let out and its edge marked."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.dart)
        if self.amount_mm < 0:
            raise StepError(f'The length for the released dart "{dart.id}" on "{piece.name}" cannot be below 0.')
        draw = _tucked if self.into is Release.TUCK else _full
        return piece_outcome(pattern, piece, draw(piece, dart, self))


def _tucked(piece: Piece, dart: Dart, step: ReleaseDart) -> Piece:
    """Two lines from the mouth inwards, along the middle line of the dart."""
    a, b = piece.mouth(dart)
    middle = midpoint(a, b)
    inward = distance_mm(middle, dart.tip)
    if not 0 < step.amount_mm <= inward:
        raise StepError(
            f'The lines of a tuck for the dart "{dart.id}" on "{piece.name}" can be up to {inward:.0f} mm long; '
            "give a length above 0 and up to that."
        )
    ux, uy = (dart.tip[0] - middle[0]) / inward, (dart.tip[1] - middle[1]) / inward
    taken = {line.id for line in piece.inner_lines}
    lines = tuple(
        InnerLine(
            unused_id(f"{dart.id} tuck {number}", taken),
            frozen_points([end, (end[0] + ux * step.amount_mm, end[1] + uy * step.amount_mm)]),
        )
        for number, end in ((1, a), (2, b))
    )
    folded = with_dart(piece, replace(dart, stitched=False))
    return replace(folded, inner_lines=(*piece.inner_lines, *lines))


def _full(piece: Piece, dart: Dart, step: ReleaseDart) -> Piece:
    """The edge blended over the mouth with a notch at each end of the fullness, where that is not a corner."""
    edge = piece.edge(dart.edge)
    low, high = room_around(piece, edge, (dart.from_mm + dart.to_mm) / 2, but=dart.id)
    low, high = max(dart.from_mm - step.amount_mm, low), min(dart.to_mm + step.amount_mm, high)
    chain = blended_as_long(edge.points, low, high)
    longer_mm = polyline.length_mm(chain) - edge.length_mm

    def station(at_mm: float) -> float:
        return at_mm if at_mm <= low else at_mm + longer_mm * min((at_mm - low) / (high - low), 1.0)

    smooth = with_edge(without_dart(piece, dart.id), edge.id, chain, station)
    taken = {notch.id for notch in piece.notches}
    total = polyline.length_mm(chain)
    notches = tuple(
        Notch(unused_id(f"{dart.id} {step.into.value} {number}", taken), edge.id, at_mm)
        for number, at_mm in ((1, low), (2, high + longer_mm))
        if SAME_POINT_MM < at_mm < total - SAME_POINT_MM
    )
    return replace(smooth, notches=(*smooth.notches, *notches))
