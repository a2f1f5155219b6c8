"""Whether the pieces can be cut from the cloth there is."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geometry.affine import distance_mm, midpoint, unit_vector
from geometry.checks.subject import Check, Subject
from geometry.checks.wording import mm
from geometry.findings import Finding, Level
from geometry.model.piece import Piece
from geometry.tolerance import FLOAT_MM


def cloth_width(subject: Subject) -> Iterator[Finding]:
    """Pieces that are wider than the cloth when they lie on its grain, allowances included, folded ones opened."""
    for piece in subject.pieces:
        if piece.grain is None or distance_mm(piece.grain.start, piece.grain.end) == 0:
            continue
        wide_mm = _across_mm(piece)
        if wide_mm > subject.limits.cloth_mm + FLOAT_MM:
            text = (
                f'"{piece.name}" is {mm(wide_mm)} wide across the grain{" when it is opened" if piece.fold else ""} '
                f"and the cloth {mm(subject.limits.cloth_mm)}; piece it with a seam, turn it to the cross grain if the "
                "cloth allows, or take a wider one."
            )
            where = midpoint(piece.grain.start, piece.grain.end)
            yield Finding("cloth-width", Level.WARN, text, piece.name, where, wide_mm, subject.limits.cloth_mm)


def _across_mm(piece: Piece) -> float:
    assert piece.grain is not None
    ux, uy = unit_vector(piece.grain.start, piece.grain.end)
    across = piece.outline @ np.array([-uy, ux])
    widest_mm = max(edge.allowance_mm for edge in piece.edges)
    if piece.fold is None:
        return float(np.ptp(across)) + 2 * widest_mm
    x, y = piece.edge(piece.fold).start
    return 2 * (float(np.abs(across - (y * ux - x * uy)).max()) + widest_mm)


CHECKS = (Check("cloth-width", "No piece is wider than the cloth", cloth_width, ("cloth_mm",)),)
