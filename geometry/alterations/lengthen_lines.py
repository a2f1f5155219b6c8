"""Where a piece is lengthened or shortened: along the line printed for it, else where the handbook cuts it."""

from __future__ import annotations

from typing import Final

from geometry.affine import Points
from geometry.alterations.handbook.alteration import Alteration
from geometry.model.garment import is_lengthen_line
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece

_LENGTHS: Final = ("A01", "A04", "A06", "A08")
"""Lengths of bodice, skirt, sleeve and leg."""

_HARDLY_MM: Final = 0.1
"""Laying an alteration out takes an amount; by so little its lines lie where they would for none."""


def lengthen_lines(pattern: Pattern) -> dict[str, tuple[Points, ...]]:
    """For every piece by name, the chains along which it is lengthened or shortened, from edge to edge.

    A line printed on the piece wins; a piece that is known to nobody and has no such line is left out.
    """
    found: dict[str, tuple[Points, ...]] = {}
    if any(not _printed(piece) for piece in pattern.pieces):
        for code in _LENGTHS:
            for line in Alteration(code, _HARDLY_MM).laid_out(pattern).chalk:
                found[line.piece] = (*found.get(line.piece, ()), line.points)
    return found | {piece.name: lines for piece in pattern.pieces if (lines := _printed(piece))}


def _printed(piece: Piece) -> tuple[Points, ...]:
    return tuple(line.points for line in piece.inner_lines if is_lengthen_line(line.id))
