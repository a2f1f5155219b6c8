"""What an alteration left crooked: corners across seams and at the fold, darts that miss their body point."""

from __future__ import annotations

import math
from collections.abc import Iterator

from geometry.alterations.anchors import Anchor, On
from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.dart_steps import AimDart
from geometry.alterations.edge_ends import End
from geometry.alterations.edge_steps import SquareCorner
from geometry.checks.corners import off_square, standing_corners
from geometry.checks.limits import DEFAULT_LIMITS
from geometry.checks.pairing import seams_of
from geometry.model.pattern import Pattern, Seam

_SQUARE_REACH_MM = 76.0
"""A line squared to the fold is blended over 3 in, the longest the handbooks draw: a shorter blend shows as a bend."""


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


def aim_steps(before: Pattern, after: Pattern) -> tuple[AimDart, ...]:
    """Steps for the darts that pointed at their body point before and do not now, because the two came apart."""
    known, limit_mm = {piece.name: piece for piece in before.pieces}, DEFAULT_LIMITS.dart_aim_mm
    found = []
    for piece in after.pieces:
        old = known.get(piece.name, piece)
        pointed = {dart.id for dart in old.darts if old is not piece and old.aim_missed_mm(dart) <= limit_mm}
        for dart in piece.darts:
            if dart.id in pointed and piece.aim_missed_mm(dart) > limit_mm:
                stand_off_mm = math.dist(dart.tip, dart.apex)
                found.append(AimDart(piece.name, dart.id, Anchor(On.AIM, dart.id), stand_off_mm))
    return tuple(found)


def square_steps(before: Pattern, after: Pattern) -> tuple[SquareCorner, ...]:
    """Steps for the edges that left the fold squarely before and do not now."""
    known = {piece.name: piece for piece in before.pieces}
    found = []
    for piece in after.pieces:
        old = known.get(piece.name)
        if old is None or old is piece:
            continue
        there = {(edge.id, at) for edge, at, _ in off_square(old, DEFAULT_LIMITS)}
        left = ((edge.id, at) for edge, at, _ in off_square(piece, DEFAULT_LIMITS))
        found += [
            SquareCorner(piece.name, edge, End(at), reach_mm=_SQUARE_REACH_MM)
            for edge, at in left
            if (edge, at) not in there
        ]
    return tuple(found)


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
