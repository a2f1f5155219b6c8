"""Notches moved, added, taken away."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.alterations.anchors import Anchor
from geometry.alterations.mouths import open_station_mm, spot, station_on, unused_id
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount, WithoutAmount, piece_outcome
from geometry.errors import StepError
from geometry.model.marks import Notch, NotchKind
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class MoveNotch(OnOnePiece, WithAmount):
    """Move a notch along its edge.

    Attributes:
        piece: Name of the piece.
        notch: Id of the notch.
        amount_mm: How far along the edge, darts folded; positive towards the end of the edge.
        to: The place it moves from: ``None`` from where it is, else first to that place on its edge.
    """

    kind: ClassVar[str] = "move-notch"

    piece: str
    notch: str
    amount_mm: float = 0.0
    to: Anchor | None = None

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the notch moved."""
        piece = pattern.piece(self.piece)
        notch = piece.notch(self.notch)
        at_mm = notch.at_mm if self.to is None else station_on(piece, piece.edge(notch.edge), self.to)
        return piece_outcome(
            pattern, piece, with_notch_at(piece, notch, _moved_mm(piece, notch, at_mm, self.amount_mm))
        )


@dataclass(frozen=True, slots=True)
class AddNotch(OnOnePiece, WithAmount):
    """Mark a place on an edge with a notch.

    Attributes:
        piece: Name of the piece.
        at: A place on an edge.
        amount_mm: How far from there along the edge, darts folded; positive towards the end of the edge.
        notch: Id of the new notch; "" makes one up.
        shape: Its shape.
        partner: A word it shares with the notch it must meet, "" for none.
        depth_mm: How far it is cut in from the cutting line.
        width_mm: How wide it is; 0 for a slit.
    """

    kind: ClassVar[str] = "add-notch"

    piece: str
    at: Anchor
    amount_mm: float = 0.0
    notch: str = ""
    shape: NotchKind = NotchKind.SLIT
    partner: str = ""
    depth_mm: float = 6.0
    width_mm: float = 0.0

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the notch added."""
        piece = pattern.piece(self.piece)
        edge, at_mm = spot(piece, self.at, "A notch")
        taken = {notch.id for notch in piece.notches}
        name = self.notch or unused_id(f"{edge.id} notch", taken)
        if name in taken:
            raise StepError(f'"{piece.name}" has a notch "{name}" already; give the new one another name.')
        if self.depth_mm < 0 or self.width_mm < 0:
            raise StepError(f'The notch "{name}" on "{piece.name}" cannot be cut less than 0 mm deep or wide.')
        notch = Notch(name, edge.id, at_mm, self.shape, self.depth_mm, self.width_mm, self.partner)
        placed = replace(notch, at_mm=_moved_mm(piece, notch, at_mm, self.amount_mm))
        return piece_outcome(pattern, piece, replace(piece, notches=(*piece.notches, placed)))


@dataclass(frozen=True, slots=True)
class RemoveNotch(OnOnePiece, WithoutAmount):
    """Take a notch away.

    Attributes:
        piece: Name of the piece.
        notch: Id of the notch.
    """

    kind: ClassVar[str] = "remove-notch"

    piece: str
    notch: str

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern without the notch."""
        piece = pattern.piece(self.piece)
        gone = piece.notch(self.notch)
        kept = tuple(notch for notch in piece.notches if notch.id != gone.id)
        return piece_outcome(pattern, piece, replace(piece, notches=kept))


def with_notch_at(piece: Piece, notch: Notch, at_mm: float) -> Piece:
    """The piece with a notch at another length along its edge, darts open; the very same if it is there."""
    if at_mm == notch.at_mm:
        return piece
    moved = replace(notch, at_mm=at_mm)
    return replace(piece, notches=tuple(moved if old.id == notch.id else old for old in piece.notches))


def _moved_mm(piece: Piece, notch: Notch, at_mm: float, by_mm: float) -> float:
    """A length along an edge moved by a sewn length; ``StepError`` if that leads off the edge."""
    if by_mm == 0:
        return at_mm
    sewn_mm = piece.sewn_station_mm(notch.edge, at_mm) + by_mm
    if not -SAME_POINT_MM <= sewn_mm <= piece.sewn_length_mm(notch.edge) + SAME_POINT_MM:
        raise StepError(
            f'The notch "{notch.id}" on "{piece.name}" would leave the edge "{notch.edge}"; move it by less.'
        )
    return open_station_mm(piece, notch.edge, sewn_mm)
