"""The small movements a piece may make so that what is sewn together matches: its corners, and the tops of its caps."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.fitting.piece_stack import EdgeStack, Floats, PieceStack
from geometry.model.edge import EdgeRole
from geometry.tolerance import STRAIGHT_MM

_UP, _OUT, _CAP = 1.0, 0.02, 8.0
"""How willingly corners move up or down and in or out, and a cap's top up or down: widths were chosen and are kept,
heights of corners give way a little, the cap is what a fitter changes first. Own choice."""

NOTCH = 8.0
"""How willingly a notch slides at which a seam over part of an edge ends: it changes no shape. Own choice."""

_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)


@dataclass(frozen=True, slots=True, eq=False)
class Moves:
    """The movements of one piece: every corner out, every corner up, every cap up at its top.

    Attributes:
        shift: What each movement by 1 mm does to the ring, shape (movements, points, 2).
        willing: How willingly each is made, 0 for not at all, shape (movements,).
        sewn: 1 for each step of the ring, 0 for steps across a dart's mouth, shape (points,).
    """

    shift: Floats
    willing: Floats
    sewn: Floats

    def moved(self, ring: Floats, by_mm: Floats) -> Floats:
        """The ring with every movement made by so much."""
        result: Floats = ring + np.einsum("m,mni->ni", by_mm, self.shift)
        return result

    def lengths(self, ring: Floats) -> tuple[Floats, Floats]:
        """Sewn length of every step of the ring, and how it changes with each movement: a column a step."""
        step = _steps(ring)
        size = np.hypot(step[:, 0], step[:, 1])
        heading = step * (self.sewn / np.where(size > 0, size, 1.0))[:, None]
        return size * self.sewn, np.einsum("mni,ni->mn", _steps(self.shift), heading)


def moves_of(piece: PieceStack) -> Moves:
    """The movements of a piece; corners on its centre line stay on it, and those of a level hem go up together."""
    corners, points = len(piece.edges), piece.ring.shape[1]
    caps = [edge for edge in piece.edges if edge.edge.role is EdgeRole.CAP]
    shift = np.zeros((2 * corners + len(caps), points, 2))
    sewn = np.ones(points)
    for number, edge in enumerate(piece.edges):
        part = slice(edge.first, edge.first + edge.count - 1)
        for corner, share in ((number, 1.0 - edge.share[:-1]), ((number + 1) % corners, edge.share[:-1])):
            shift[corner, part, 0] = shift[corners + corner, part, 1] = share
        for _, start, end in edge.mouths:
            sewn[edge.first + start : edge.first + end] = 0.0
    for number, edge in enumerate(caps):
        shift[2 * corners + number, edge.first : edge.first + edge.count - 1, 1] = _rise(edge, piece)[:-1]
    on_centre = [edge.edge.role in _CENTRES for edge in piece.edges]
    out = [0.0 if on_centre[n] or on_centre[n - 1] else _OUT for n in range(corners)]
    willing = np.array([*out, *[_UP] * corners, *[_CAP] * len(caps)])
    for number, edge in enumerate(piece.edges):
        if edge.edge.role is EdgeRole.HEM and _is_level(edge, piece):
            one, other = corners + number, corners + (number + 1) % corners
            shift[one] += shift[other]
            willing[other] = 0.0
    return Moves(shift, willing, sewn)


def _steps(ring: Floats) -> Floats:
    """From each point of one or several rings to the next."""
    steps = np.empty_like(ring)
    steps[..., :-1, :] = ring[..., 1:, :] - ring[..., :-1, :]
    steps[..., -1, :] = ring[..., 0, :] - ring[..., -1, :]
    return steps


def _is_level(edge: EdgeStack, piece: PieceStack) -> bool:
    """Whether an edge is square to the centre line in every size."""
    heights = piece.ring[:, np.arange(edge.first, edge.first + edge.count) % piece.ring.shape[1], 1]
    return bool(np.ptp(heights, axis=1).max() <= STRAIGHT_MM)


def _rise(edge: EdgeStack, piece: PieceStack) -> Floats:
    """How high each point of a cap lies between its ends (0) and its top (1)."""
    mean = piece.ring.mean(axis=0)
    heights = mean[np.arange(edge.first, edge.first + edge.count) % len(mean), 1]
    foot = heights[0] + (heights[-1] - heights[0]) * edge.share
    shares: Floats = np.clip((heights - foot) / max(float((heights - foot).max()), 1.0), 0.0, 1.0)
    return shares
