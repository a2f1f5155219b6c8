"""Corners across seams that an alteration left, drawn in one smooth line."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.edge_ends import End
from geometry.checks.corners import standing_corners
from geometry.checks.limits import DEFAULT_LIMITS
from geometry.checks.pairing import seams_of
from geometry.model.pattern import Pattern, Seam


def corner_steps(before: Pattern, after: Pattern) -> tuple[JoinCorner, ...]:
    """Steps for the corners at which a line ran smoothly across a seam before and does not now; the corners stay."""
    known = {piece.name: piece for piece in before.pieces}
    changed = {piece.name for piece in after.pieces if known.get(piece.name) is not piece}
    seams = [
        seam for seam in seams_of(after) if not changed.isdisjoint(ref.piece for ref in (*seam.first, *seam.second))
    ]
    left = dict.fromkeys(_corners(after, seams))
    there = frozenset(_corners(before, seams)) if left else frozenset()
    return tuple(step for step in left if step not in there)


def _corners(pattern: Pattern, seams: list[Seam]) -> Iterator[JoinCorner]:
    """The steps that would put right the corners at the ends of some seams of a pattern."""
    pieces = {piece.name: piece for piece in pattern.pieces}
    for seam in seams:
        for first, second in standing_corners(pieces, seam, DEFAULT_LIMITS):
            yield JoinCorner(
                first.piece.name,
                first.crossing.id,
                End(first.at),
                second.piece.name,
                second.crossing.id,
                End(second.at),
                keep_corner=True,
            )
