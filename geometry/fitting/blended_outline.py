"""Blended outlines, and the small movements of corners and caps that make what is sewn together match again."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.fitting.matching_moves import NOTCH
from geometry.fitting.nest_stack import NestStack, SeamStack
from geometry.fitting.piece_stack import Floats, PieceStack
from geometry.fitting.sewn_parts import Covered, SewnParts
from geometry.fitting.size_weights import PieceWeights, mean_weights
from geometry.model.edge import EdgeRole
from geometry.tolerance import STRAIGHT_MM

MATCHED_MM = 0.5
"""Sides of a seam that match in every size match in a blend to this."""

_ENOUGH_MM = 0.01
"""Seams are brought nearer to one another than this, a hundredth of what a pencil can show."""

_ROUNDS = 6
"""Cap on rounds of moving corners; each leaves a small part of what the one before left, two or three are usual."""

_FARTHEST_MM = 40.0
"""A corner or cap that would have to move further says that the levels do not go together."""


@dataclass(frozen=True, slots=True, eq=False)
class Outline:
    """A blended piece seen from its centre line.

    Attributes:
        ring: Its points, shape (points, 2).
        moved_mm: How far its corners and its cap were moved to match, the largest.
        notches: The notches that slid along their edges because a seam over part of it ends there, each with its
            sewn share of the edge, like those of the laid-up edge.
    """

    ring: Floats
    moved_mm: float
    notches: tuple[tuple[str, float], ...]


def blended_outlines(
    stack: NestStack, weights: tuple[PieceWeights, ...]
) -> tuple[tuple[Outline, ...], tuple[tuple[SeamStack, float], ...]]:
    """The outlines of all pieces, and the seams that still do not match, each with what is missing in mm."""
    rings = [blended_ring(piece, own) for piece, own in zip(stack.pieces, weights, strict=True)]
    wanted = np.array([_blended_ease_mm(seam, stack, weights) for seam in stack.seams])
    sewn = SewnParts.of(stack, weights, rings)
    moves = [np.zeros(len(own.willing)) for own in stack.moves]
    slid, matched, missing = np.zeros(len(sewn.ends)), rings, np.zeros(0)
    for _ in range(_ROUNDS):
        matched = [own.moved(ring, by) for own, ring, by in zip(stack.moves, rings, moves, strict=True)]
        measured = [own.lengths(ring) for own, ring in zip(stack.moves, matched, strict=True)]
        covered = sewn.covered(slid)
        missing = wanted - _ease(covered, [lengths for lengths, _ in measured])
        if not missing.size or np.abs(missing).max() <= _ENOUGH_MM:
            break
        table = np.hstack([_table(stack, covered, [slopes for _, slopes in measured]), sewn.slides()])
        *more, more_slid = _least(stack, table, missing)
        moves, slid = [move + by for move, by in zip(moves, more, strict=True)], slid + more_slid
    farthest = [float(np.abs(move).max(initial=0.0)) for move in moves]
    if max([*farthest, *np.abs(slid).tolist()], default=0.0) > _FARTHEST_MM:
        matched, farthest, slid = rings, [0.0] * len(rings), np.zeros(len(sewn.ends))
        lengths = [own.lengths(ring)[0] for own, ring in zip(stack.moves, rings, strict=True)]
        missing = wanted - _ease(sewn.covered(slid), lengths)
    apart = tuple((seam, float(mm)) for seam, mm in zip(stack.seams, missing, strict=True) if abs(mm) > MATCHED_MM)
    return tuple(
        Outline(ring, mm, _slid_notches(sewn, number, slid))
        for number, (ring, mm) in enumerate(zip(matched, farthest, strict=True))
    ), apart


def _slid_notches(sewn: SewnParts, piece: int, slid: Floats) -> tuple[tuple[str, float], ...]:
    return tuple(
        (end[2], sewn.share(end, slid))
        for end, by_mm in zip(sewn.ends, slid.tolist(), strict=True)
        if end[0] == piece and abs(by_mm) > STRAIGHT_MM
    )


def blended_ring(piece: PieceStack, weights: PieceWeights) -> Floats:
    """The outline before anything is matched: widths blended in place, heights step by step."""
    out: Floats = np.einsum("nk,kn->n", weights.points, piece.ring[:, :, 0])
    level: Floats = np.einsum("nk,kn->n", weights.points, piece.ring[:, :, 1])
    rise = np.roll(piece.ring[:, :, 1], -1, axis=1) - piece.ring[:, :, 1]
    steps = np.einsum("nk,kn->n", weights.steps, rise)
    steps -= steps.sum() * _slack(piece)
    up = np.concatenate([[0.0], np.cumsum(steps)[:-1]])
    return np.stack([out, up + (level - up).mean()], axis=1)


def _slack(piece: PieceStack) -> Floats:
    """How the ring is closed where the heights of its two sides differ: a share for each step, summing to 1.

    It is closed on the centre edge; else on the crotch, which is sewn to its own mirror image and may change alone;
    else on the hem, else all round.
    """
    steps = np.roll(piece.ring[0], -1, axis=0) - piece.ring[0]
    sizes = np.hypot(steps[:, 0], steps[:, 1])
    for roles in ((EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK), (EdgeRole.CROTCH,), (EdgeRole.HEM,)):
        open_here = np.zeros(len(sizes))
        for edge in piece.edges:
            if edge.edge.role in roles:
                open_here[edge.first : edge.first + edge.count - 1] = 1.0
        if open_here.any():
            sizes = sizes * open_here
            break
    shares: Floats = sizes / sizes.sum()
    return shares


def _ease(covered: Covered, lengths: list[Floats]) -> Floats:
    eases = (
        [sum(float(part @ lengths[piece]) for piece, part in side) for side in (first, second)]
        for first, second in covered
    )
    return np.array([first_mm - second_mm for first_mm, second_mm in eases])


def _blended_ease_mm(seam: SeamStack, stack: NestStack, weights: tuple[PieceWeights, ...]) -> float:
    """The ease a seam has in the blend of its sizes, each size as far as it is in its second side."""
    return float(mean_weights(seam.second, stack, weights) @ seam.ease_mm)


def _table(stack: NestStack, covered: Covered, slopes: list[Floats]) -> Floats:
    """What each movement by 1 mm adds to the ease of every seam; shape (seams, movements of all pieces)."""
    starts = np.cumsum([0, *(len(own.willing) for own in stack.moves)])
    table = np.zeros((len(covered), int(starts[-1])))
    for row, sides in enumerate(covered):
        for side, sign in zip(sides, (1.0, -1.0), strict=True):
            for piece, part in side:
                table[row, starts[piece] : starts[piece + 1]] += sign * (slopes[piece] @ part)
    return table


def _least(stack: NestStack, table: Floats, missing: Floats) -> list[Floats]:
    """The smallest movements that bring every seam to its wanted ease: of each piece, and of the end notches."""
    counts = [len(own.willing) for own in stack.moves]
    slides = np.full(table.shape[1] - sum(counts), NOTCH)
    willing = np.concatenate([*(own.willing for own in stack.moves), slides])
    least = willing * np.linalg.lstsq(table * willing, missing, rcond=None)[0]
    return np.split(least, np.cumsum(counts))
