"""What of every outline is sewn in a blend, and how notches slide where a seam over part of an edge ends."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.affine import frozen_points
from geometry.curves import polyline
from geometry.fitting.nest_stack import NestStack, SideStack
from geometry.fitting.piece_stack import EdgeStack, Floats, PieceStack
from geometry.fitting.size_weights import PieceWeights
from geometry.model.pattern import EdgePlace

_End = tuple[int, int, str]
"""Number of a piece and of its edge, and a notch of that edge at which a seam starts or stops."""

Covered = tuple[tuple[tuple[tuple[int, Floats], ...], tuple[tuple[int, Floats], ...]], ...]
"""For both sides of every seam its edges: number of the piece, and the share of each step of its ring that is sewn."""


@dataclass(frozen=True, slots=True, eq=False)
class SewnParts:
    """The seams of a nest over the outlines of one blend.

    Attributes:
        stack: The nest.
        weights: How much of each size goes into every point.
        rings: The outlines before anything is matched.
        ends: The notches at which seams start or stop; each may slide along its edge.
    """

    stack: NestStack
    weights: tuple[PieceWeights, ...]
    rings: list[Floats]
    ends: tuple[_End, ...]

    @staticmethod
    def of(stack: NestStack, weights: tuple[PieceWeights, ...], rings: list[Floats]) -> SewnParts:
        """The seams of a nest over these outlines."""
        found = {
            (*edge, place.notch): None
            for seam in stack.seams
            for side in (seam.first, seam.second)
            for edge, stretch in zip(side.edges, side.stretches, strict=True)
            for place in (stretch.start, stretch.end)
            if place.notch
        }
        return SewnParts(stack, weights, rings, tuple(found))

    def covered(self, slid_mm: Floats) -> Covered:
        """How much of each step of the outlines each seam has, its end notches slid by so much."""
        return tuple((self._side(seam.first, slid_mm), self._side(seam.second, slid_mm)) for seam in self.stack.seams)

    def slides(self) -> Floats:
        """What sliding each end notch by 1 mm adds to the ease of every seam; shape (seams, ends)."""
        table = np.zeros((len(self.stack.seams), len(self.ends)))
        for row, seam in enumerate(self.stack.seams):
            for side, sign in ((seam.first, 1.0), (seam.second, -1.0)):
                for edge, stretch in zip(side.edges, side.stretches, strict=True):
                    for place, way in ((stretch.start, -sign), (stretch.end, sign)):
                        if place.notch:
                            table[row, self.ends.index((*edge, place.notch))] += way
        return table

    def share(self, end: _End, slid_mm: Floats) -> float:
        """Where on its laid-up edge an end notch lies, slid."""
        piece, edge = self.stack.pieces[end[0]], self.stack.edge(end[:2])
        slid = slid_mm[self.ends.index(end)] / piece.piece.sewn_length_mm(edge.edge.id)
        return min(max(notch_share(end[2], piece, edge, self.weights[end[0]]) + float(slid), 0.0), 1.0)

    def _side(self, side: SideStack, slid_mm: Floats) -> tuple[tuple[int, Floats], ...]:
        found = []
        for (piece, number), stretch in zip(side.edges, side.stretches, strict=True):
            edge, covered = self.stack.edge((piece, number)), np.zeros(len(self.rings[piece]))
            part = slice(edge.first, edge.first + edge.count - 1)
            covered[part] = 1.0
            if not stretch.is_whole:
                low, high = (self._share_at(place, (piece, number), slid_mm) for place in (stretch.start, stretch.end))
                steps = np.maximum(np.diff(edge.share), np.finfo(float).tiny)
                sewn = np.minimum(edge.share[1:], high) - np.maximum(edge.share[:-1], low)
                covered[part] = np.clip(sewn / steps, 0.0, 1.0)
            found.append((piece, covered))
        return tuple(found)

    def _share_at(self, place: EdgePlace, edge: tuple[int, int], slid_mm: Floats) -> float:
        """Where on a laid-up edge a seam starts or stops, as a share like those of its points."""
        if place.notch:
            return self.share((*edge, place.notch), slid_mm)
        stack = self.stack.edge(edge)
        stations = polyline.stations_mm(frozen_points(edge_points(self.rings[edge[0]], stack)))
        return float(np.interp(place.share * stations[-1], stations, stack.share))


def edge_points(ring: Floats, edge: EdgeStack) -> Floats:
    """The points of an edge out of a ring, both corners included."""
    if edge.first + edge.count <= len(ring):
        return ring[edge.first : edge.first + edge.count]
    return np.concatenate([ring[edge.first :], ring[:1]])


def notch_share(name: str, piece: PieceStack, edge: EdgeStack, weights: PieceWeights) -> float:
    """Where on a laid-up edge a notch lies in a blend: where the sizes that go into its edge have it."""
    if name in edge.laid:
        old = piece.piece.notch(name)
        return piece.piece.sewn_station_mm(old.edge, old.at_mm) / piece.piece.sewn_length_mm(old.edge)
    mean = weights.points[edge.first : edge.first + edge.count - 1].mean(axis=0)
    return float(mean @ dict(edge.notches)[name])
