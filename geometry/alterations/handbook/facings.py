"""Facings and collars that an alteration left as they were although the edge they are sewn to changed."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.alterations.handbook.panels import PieceRole, role_of
from geometry.findings import Finding, Level
from geometry.model.edge import EdgeRole
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import WARN_MM

_FACED = {
    PieceRole.FRONT_FACING: (PieceRole.FRONT_BODICE,),
    PieceRole.BACK_FACING: (PieceRole.BACK_BODICE,),
    PieceRole.COLLAR: (PieceRole.FRONT_BODICE, PieceRole.BACK_BODICE),
    PieceRole.WAISTBAND: (
        PieceRole.FRONT_SKIRT,
        PieceRole.BACK_SKIRT,
        PieceRole.FRONT_TROUSERS,
        PieceRole.BACK_TROUSERS,
    ),
}
_EDGES = (EdgeRole.NECK, EdgeRole.ARMHOLE, EdgeRole.SHOULDER, EdgeRole.WAIST)


def left_behind(before: Pattern, after: Pattern) -> Iterator[Finding]:
    """A warning for each facing, collar or band that was not altered while an edge it faces was."""
    known = {piece.name: piece for piece in before.pieces}
    altered = [(known[piece.name], piece) for piece in after.pieces if known.get(piece.name, piece) is not piece]
    for piece in after.pieces:
        faced = _FACED.get(role) if (role := role_of(piece)) else None
        if faced is None or known.get(piece.name) is not piece:
            continue
        olds = [old for old, new in altered if role_of(new) in faced]
        for edge in _EDGES:
            grown_mm = sum(_grown_mm(old, new, edge) for old, new in altered if role_of(new) in faced)
            if _is_sewn_to(piece, edge, olds) and abs(grown_mm) > WARN_MM:
                yield Finding(
                    "facing-not-changed",
                    Level.WARN,
                    f'The {edge.value} that "{piece.name}" is sewn to is {abs(grown_mm):.1f} mm '
                    f'{"longer" if grown_mm > 0 else "shorter"} now: alter "{piece.name}" by as much.',
                    piece=piece.name,
                    measured_mm=grown_mm,
                )


def _is_sewn_to(piece: Piece, role: EdgeRole, faced: list[Piece]) -> bool:
    """Whether a piece has such an edge, as long as that it lies on: most facings take up a part of a shoulder only."""
    own_mm = sum(piece.sewn_length_mm(edge.id) for edge in piece.edges_with_role(role))
    if role is not EdgeRole.SHOULDER:
        return own_mm > 0.0
    return any(
        abs(old.sewn_length_mm(edge.id) - own_mm) <= WARN_MM for old in faced for edge in old.edges_with_role(role)
    )


def _grown_mm(before: Piece, after: Piece, role: EdgeRole) -> float:
    return sum(
        after.sewn_length_mm(edge.id) - before.sewn_length_mm(edge.id)
        for edge in after.edges_with_role(role)
        if any(old.id == edge.id for old in before.edges)
    )
