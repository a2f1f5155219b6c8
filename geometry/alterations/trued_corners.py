"""Corners across seams that an alteration left, drawn in one smooth line."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.edge_ends import End
from geometry.checks.corners import corner_across_seam
from geometry.checks.limits import DEFAULT_LIMITS
from geometry.checks.pairing import seams_of
from geometry.checks.subject import Subject, edge_names, has_edges
from geometry.checks.walking import Walk
from geometry.model.pattern import Pattern, Seam


def corner_steps(before: Pattern, after: Pattern) -> tuple[JoinCorner, ...]:
    """Steps for the corners at which a line ran smoothly across a seam before and does not now; the corners stay."""
    known = {piece.name: piece for piece in before.pieces}
    changed = {piece.name for piece in after.pieces if known.get(piece.name) is not piece}
    seams = [
        seam for seam in seams_of(after) if not changed.isdisjoint(ref.piece for ref in (*seam.first, *seam.second))
    ]
    left = dict(_corners(after, seams))
    if not left:
        return ()
    there = dict(_corners(before, seams))
    return tuple(step for place, step in left.items() if place not in there)


def _corners(pattern: Pattern, seams: list[Seam]) -> Iterator[tuple[tuple[str, ...], JoinCorner]]:
    """The corners of a pattern at the ends of some of its seams, by place, each with the step that puts it right."""
    names = edge_names(pattern)
    ends = tuple(Walk(seam, 0.0, 0.0, "", "", ()) for seam in seams if has_edges(names, seam))
    subject = Subject(pattern, pattern.pieces, pattern.pieces, ends, DEFAULT_LIMITS, None, {})
    for finding in corner_across_seam(subject):
        edge, at, other_piece, other_edge, other_at = finding.about
        piece = finding.piece or ""
        step = JoinCorner(piece, edge, End(at), other_piece, other_edge, End(other_at), keep_corner=True)
        yield (piece, *finding.about), step
