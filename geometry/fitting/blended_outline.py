"""Blended outlines, and the small movements of corners and caps that make what is sewn together match again."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.fitting.nest_stack import NestStack, SeamStack, SideStack
from geometry.fitting.piece_stack import EdgeStack, Floats, PieceStack
from geometry.fitting.size_weights import PieceWeights, mean_weights
from geometry.model.edge import EdgeRole

MATCHED_MM = 0.5
"""Sides of a seam that match in every size match in a blend to this."""

_ENOUGH_MM = 0.01
"""Seams are brought nearer to one another than this, a hundredth of what a pencil can show."""

_ROUNDS = 6
"""Cap on rounds of moving corners; each leaves a small part of what the one before left, two or three are usual."""

_FARTHEST_MM = 40.0
"""A corner or cap that would have to move further says that the levels do not go together."""

_UP, _OUT, _CAP = 1.0, 0.02, 8.0
"""How willingly corners move up or down and in or out, and a cap's top up or down: widths were chosen and are kept,
heights of corners give way a little, the cap is what a fitter changes first. Own choice."""


@dataclass(frozen=True, slots=True, eq=False)
class Outline:
    """A blended piece seen from its centre line.

    Attributes:
        ring: Its points, shape (points, 2).
        moved_mm: How far its corners and its cap were moved to match, the largest.
    """

    ring: Floats
    moved_mm: float


def blended_outlines(
    stack: NestStack, weights: tuple[PieceWeights, ...]
) -> tuple[tuple[Outline, ...], tuple[tuple[SeamStack, float], ...]]:
    """The outlines of all pieces, and the seams that still do not match, each with what is missing in mm."""
    rings = [blended_ring(piece, own) for piece, own in zip(stack.pieces, weights, strict=True)]
    wanted = np.array([_blended_ease_mm(seam, stack, weights) for seam in stack.seams])
    modes = [_Modes(piece) for piece in stack.pieces]
    moves = [np.zeros(mode.count) for mode in modes]
    matched, missing = rings, np.zeros(0)
    for _ in range(_ROUNDS):
        matched = [ring + mode.displacement(move) for ring, mode, move in zip(rings, modes, moves, strict=True)]
        lengths, slopes = _lengths(stack, matched, modes)
        missing = wanted - _ease(stack, lengths)
        if not missing.size or np.abs(missing).max() <= _ENOUGH_MM:
            break
        moves = _moved(stack, moves, modes, slopes, missing)
    farthest = [float(np.abs(move).max(initial=0.0)) for move in moves]
    if max(farthest, default=0.0) > _FARTHEST_MM:
        lengths, _ = _lengths(stack, rings, modes)
        matched, farthest, missing = rings, [0.0] * len(rings), wanted - _ease(stack, lengths)
    apart = tuple((seam, float(mm)) for seam, mm in zip(stack.seams, missing, strict=True) if abs(mm) > MATCHED_MM)
    return tuple(Outline(ring, mm) for ring, mm in zip(matched, farthest, strict=True)), apart


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

    It is closed on the centre edge, else on the hem, else all round.
    """
    steps = np.roll(piece.ring[0], -1, axis=0) - piece.ring[0]
    sizes = np.hypot(steps[:, 0], steps[:, 1])
    for roles in ((EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK), (EdgeRole.HEM,)):
        open_here = np.zeros(len(sizes))
        for edge in piece.edges:
            if edge.edge.role in roles:
                open_here[edge.first : edge.first + edge.count - 1] = 1.0
        if open_here.any():
            sizes = sizes * open_here
            break
    shares: Floats = sizes / sizes.sum()
    return shares


def edge_points(ring: Floats, edge: EdgeStack) -> Floats:
    """The points of an edge out of a ring, both corners included."""
    numbers = np.arange(edge.first, edge.first + edge.count) % len(ring)
    return ring[numbers]


class _Modes:
    """The movements a piece may make: each corner in or out and up or down, and each cap's top up or down."""

    def __init__(self, piece: PieceStack) -> None:
        self.piece = piece
        self.corners = len(piece.edges)
        self.caps = [number for number, edge in enumerate(piece.edges) if edge.edge.role is EdgeRole.CAP]
        self.count = 2 * self.corners + len(self.caps)
        self.rises = [_rise(edge, piece) for number, edge in enumerate(piece.edges) if number in self.caps]
        on_centre = [edge.edge.role in (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK) for edge in piece.edges]
        held = np.array([on_centre[n] or on_centre[n - 1] for n in range(self.corners)])
        self.willing = np.concatenate(
            [np.where(held, 0.0, _OUT), np.full(self.corners, _UP), np.full(len(self.caps), _CAP)]
        )

    def displacement(self, move: Floats) -> Floats:
        """How far each point of the ring is moved, in or out and up, straight between corners."""
        corner = np.stack([move[: self.corners], move[self.corners : 2 * self.corners]], axis=1)
        parts = []
        for number, edge in enumerate(self.piece.edges):
            share = edge.share[:-1, None]
            parts.append(corner[number] * (1.0 - share) + corner[(number + 1) % self.corners] * share)
        for rise, cap, by_mm in zip(self.rises, self.caps, move[2 * self.corners :], strict=True):
            parts[cap][:, 1] += rise[:-1] * by_mm
        return np.concatenate(parts)


def _rise(edge: EdgeStack, piece: PieceStack) -> Floats:
    """How high each point of a cap lies between its ends (0) and its top (1)."""
    heights = edge_points(piece.ring.mean(axis=0), edge)[:, 1]
    foot = heights[0] + (heights[-1] - heights[0]) * edge.share
    shares: Floats = np.clip((heights - foot) / max(float((heights - foot).max()), 1.0), 0.0, 1.0)
    return shares


def _lengths(stack: NestStack, rings: list[Floats], modes: list[_Modes]) -> tuple[list[Floats], list[list[Floats]]]:
    """Sewn length of every edge of every piece, and how it changes with each movement of its piece."""
    lengths, slopes = [], []
    for ring, mode in zip(rings, modes, strict=True):
        own_lengths, own_slopes = [], []
        for number, edge in enumerate(mode.piece.edges):
            step = np.diff(edge_points(ring, edge), axis=0)
            share = np.diff(edge.share)
            size = np.hypot(step[:, 0], step[:, 1])
            heading = step / np.where(size > 0, size, 1.0)[:, None]
            for _, start, end in edge.mouths:
                size[start:end] = 0.0
            own_lengths.append(float(size.sum()))
            pull = share @ heading
            slope = np.zeros(mode.count)
            following = (number + 1) % mode.corners
            slope[[number, following]] = -pull[0], pull[0]
            slope[[mode.corners + number, mode.corners + following]] = -pull[1], pull[1]
            if number in mode.caps:
                at = mode.caps.index(number)
                slope[2 * mode.corners + at] = np.diff(mode.rises[at]) @ heading[:, 1]
            own_slopes.append(slope)
        lengths.append(np.array(own_lengths))
        slopes.append(own_slopes)
    return lengths, slopes


def _ease(stack: NestStack, lengths: list[Floats]) -> Floats:
    return np.array([_side_mm(seam.first, lengths) - _side_mm(seam.second, lengths) for seam in stack.seams])


def _side_mm(side: SideStack, lengths: list[Floats]) -> float:
    return sum(float(lengths[piece][edge]) for piece, edge in side.edges)


def _blended_ease_mm(seam: SeamStack, stack: NestStack, weights: tuple[PieceWeights, ...]) -> float:
    """The ease a seam has in the blend of its sizes, each size as far as it is in its second side."""
    return float(mean_weights(seam.second, stack, weights) @ seam.ease_mm)


def _moved(
    stack: NestStack, moves: list[Floats], modes: list[_Modes], slopes: list[list[Floats]], missing: Floats
) -> list[Floats]:
    """The movements after one more round: the smallest that bring every seam to its wanted ease."""
    starts = np.concatenate([[0], np.cumsum([mode.count for mode in modes])])
    table = np.zeros((len(stack.seams), int(starts[-1])))
    for row, seam in enumerate(stack.seams):
        for side, sign in ((seam.first, 1.0), (seam.second, -1.0)):
            for piece, edge in side.edges:
                table[row, starts[piece] : starts[piece + 1]] += sign * slopes[piece][edge]
    willing = np.concatenate([mode.willing for mode in modes])
    scaled = table * willing
    more = willing * np.linalg.lstsq(scaled, missing, rcond=None)[0]
    return [move + more[a:b] for move, a, b in zip(moves, starts[:-1], starts[1:], strict=True)]
