"""Linings that follow the piece they line once that was altered."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.affine import Affine, as_point
from geometry.alterations.edge_steps import old_edges
from geometry.alterations.sewn_side import turn_rad
from geometry.alterations.step import OnOnePiece, Outcome, WithoutAmount, piece_outcome
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.edge import Edge, EdgeRole
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece

_HOLDS = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)


@dataclass(frozen=True, slots=True)
class FollowPiece(OnOnePiece, WithoutAmount):
    """Give a lining the stitching line, darts and notches of the piece it lines, laid where the lining lies.

    Both must have edges of the same names. The lining keeps its name, cloth, quantity, grain, words and allowances;
    what is drawn inside it comes with the piece. Its fold or centre line stays where it starts.

    Attributes:
        piece: Name of the lining.
        other_piece: Name of the piece it lines.
    """

    kind: ClassVar[str] = "follow-piece"

    piece: str
    other_piece: str

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the lining cut like its piece; the very same if it is."""
        lining, shell = pattern.piece(self.piece), pattern.piece(self.other_piece)
        if {edge.id for edge in lining.edges} != {edge.id for edge in shell.edges} or lining is shell:
            raise StepError(
                f'"{lining.name}" and "{shell.name}" do not have edges of the same names, so that it cannot be told '
                "which belongs to which; name them alike first."
            )
        laid = shell.moved(_motion(shell, lining))
        after = replace(
            lining,
            edges=tuple(_like(lining.edge(edge.id), edge) for edge in laid.edges),
            darts=laid.darts,
            double_darts=laid.double_darts,
            notches=laid.notches,
            inner_lines=laid.inner_lines,
            marks=laid.marks,
        )
        return piece_outcome(pattern, lining, after, chalk=old_edges(lining, after))


def _like(old: Edge, edge: Edge) -> Edge:
    """An edge as it lies on the piece, with the allowance and corners of the lining."""
    return replace(old, points=edge.points)


def _motion(shell: Piece, lining: Piece) -> Affine:
    """Lays the piece on the lining: fold on fold, else centre on centre, else first edge on first edge."""
    held = lining.edge(lining.fold) if lining.fold is not None else None
    if held is None:
        held = next((edge for edge in lining.edges if edge.role in _HOLDS), lining.edges[0])
    edge = shell.edge(held.id)
    turn = turn_rad(polyline.direction_at(edge.points, 0.0), polyline.direction_at(held.points, 0.0))
    (x, y), (u, v) = as_point(edge.points[0]), as_point(held.points[0])
    return Affine.turned(turn, (x, y)).then(Affine.moved(u - x, v - y))
