"""Seam and hem allowances, edge by edge and corner by corner."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.alterations.edge_ends import End
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount, WithoutAmount, piece_outcome
from geometry.errors import StepError
from geometry.model.edge import CornerCut
from geometry.model.pattern import Pattern


@dataclass(frozen=True, slots=True)
class SetAllowance(OnOnePiece, WithAmount):
    """Give an edge another allowance; the stitching line stays, the cutting line follows.

    Attributes:
        piece: Name of the piece.
        edge: Id of the edge.
        amount_mm: Width of the allowance, square to the stitching line; 0 for none.
    """

    kind: ClassVar[str] = "set-allowance"

    piece: str
    edge: str
    amount_mm: float

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with that width; the very same if the edge has it."""
        piece = pattern.piece(self.piece)
        edge = piece.edge(self.edge)
        if self.amount_mm < 0:
            raise StepError(
                f'The allowance of the edge "{edge.id}" of "{piece.name}" cannot be {self.amount_mm:g} mm; give 0 or '
                "more."
            )
        if piece.fold == edge.id and self.amount_mm > 0:
            raise StepError(
                f'The edge "{edge.id}" of "{piece.name}" lies on the fold and has no allowance; unfold the piece first '
                "if it is to have a seam there."
            )
        wider = replace(edge, allowance_mm=float(self.amount_mm))
        edges = tuple(wider if old is edge else old for old in piece.edges)
        return piece_outcome(pattern, piece, replace(piece, edges=edges))


@dataclass(frozen=True, slots=True)
class CutCorner(OnOnePiece, WithoutAmount):
    """Say how an edge's allowance is cut at one of its ends: mitred, squared, or mirrored for a turned-up hem.

    Attributes:
        piece: Name of the piece.
        edge: Id of the edge.
        at: The end of the edge.
        shape: How the allowance is cut there.
    """

    kind: ClassVar[str] = "cut-corner"

    piece: str
    edge: str
    at: End
    shape: CornerCut

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the allowance cut that way; the very same if it is."""
        piece = pattern.piece(self.piece)
        edge = piece.edge(self.edge)
        cut = replace(edge, start_cut=self.shape) if self.at is End.START else replace(edge, end_cut=self.shape)
        edges = tuple(cut if old is edge else old for old in piece.edges)
        return piece_outcome(pattern, piece, replace(piece, edges=edges))
