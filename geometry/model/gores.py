"""Gores: which of the long edges of a panel lies at the side seam."""

from __future__ import annotations

import re
from collections.abc import Iterable

from geometry.model.edge import Edge, EdgeRole
from geometry.model.garment import half_of, is_beside, layer_of, part_of
from geometry.model.piece import Piece

_INNER = re.compile(r"\b(panel|gore|princess|inner|centre|center)\b")


def side_seam_edge(piece: Piece, pieces: Iterable[Piece]) -> Edge | None:
    """The edge of a panel at the side seam of the garment; ``None`` if no edge is known as a side.

    A panel beside the centre one has two long edges. That towards the centre is told by its words ("panel side",
    "princess"); else by the drawing: pieces lie face up, so that the rings of two edges that are sewn together run
    against each other, and the edge at the side seam runs as that of the centre panel does. Of a panel that is
    neither front nor back the edge away from the front is given.

    Args:
        piece: The panel.
        pieces: The pieces of the pattern.
    """
    edges = piece.edges_with_role(EdgeRole.SIDE)
    if len(edges) != 2 or not is_beside(piece):
        return edges[0] if edges else None
    told = [edge for edge in edges if not _INNER.search(edge.id.lower())]
    centre = next((other for other in pieces if _is_beside_centre(piece, other)), None)
    drawn = [edge for edge in edges if centre is not None and _goes_down(piece, edge) is _goes_down(centre)]
    return next((found[0] for found in (told, drawn) if len(found) == 1), edges[0])


def _is_beside_centre(piece: Piece, other: Piece) -> bool:
    half = half_of(piece) or "front"
    alike = part_of(other) is part_of(piece) and layer_of(other) == layer_of(piece)
    return alike and half_of(other) == half and not is_beside(other) and bool(other.edges_with_role(EdgeRole.SIDE))


def _goes_down(piece: Piece, edge: Edge | None = None) -> bool:
    """Whether an edge, or the first side, runs from the waist down in ring order."""
    edge = edge or piece.edges_with_role(EdgeRole.SIDE)[0]
    return piece.edges[piece.edges.index(edge) - 1].role is EdgeRole.WAIST
