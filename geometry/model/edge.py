"""An edge: the stitching line between two corners of a piece."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from geometry.affine import Affine, Point, Points, as_point
from geometry.curves import polyline
from geometry.tolerance import STRAIGHT_MM


class EdgeRole(StrEnum):
    """What an edge is on the garment, in the words of the trade."""

    CENTRE_FRONT = "centre front"
    CENTRE_BACK = "centre back"
    NECK = "neck"
    SHOULDER = "shoulder"
    ARMHOLE = "armhole"
    SIDE = "side"
    WAIST = "waist"
    HEM = "hem"
    CAP = "cap"
    UNDERARM = "underarm"
    INSEAM = "inseam"
    CROTCH = "crotch"
    OTHER = "other"


class CornerCut(StrEnum):
    """How an edge's allowance is cut where it meets the next one's.

    Mitred: both run on until they meet. Squared: this seam is sewn first, so its allowance ends square to it where its
    stitching line, taken on, meets the other's cutting line. Mirrored: this allowance is turned up on the piece, so it
    is cut as the piece is above the fold.
    """

    MITRED = "mitred"
    SQUARED = "squared"
    MIRRORED = "mirrored"


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """A named stretch of the stitching line from corner to corner, travelled counter-clockwise round the piece.

    Attributes:
        id: Stable name that steps refer to; unique in its piece and kept through every alteration.
        points: Chain of shape (n, 2), n >= 2, mm; its ends are the corners. Across a dart's mouth it runs straight.
        role: What it is on the garment.
        allowance_mm: Seam or hem allowance outside the stitching line; 0 on a fold.
        start_cut: How the allowance is cut at the start of the edge.
        end_cut: The same at its end.
    """

    id: str
    points: Points
    role: EdgeRole = EdgeRole.OTHER
    allowance_mm: float = 15.0
    start_cut: CornerCut = CornerCut.MITRED
    end_cut: CornerCut = CornerCut.MITRED

    def __eq__(self, other: object) -> bool:
        """Equal if everything is, to the last bit of each coordinate."""
        if not isinstance(other, Edge):
            return NotImplemented
        return self is other or (self._words == other._words and np.array_equal(self.points, other.points))

    def __hash__(self) -> int:
        """Equal edges hash alike."""
        return hash((self._words, self.points.tobytes()))

    @property
    def _words(self) -> tuple[str | float, ...]:
        """All but its points."""
        return self.id, self.role, self.allowance_mm, self.start_cut, self.end_cut

    @property
    def start(self) -> Point:
        """The corner it starts from."""
        return as_point(self.points[0])

    @property
    def end(self) -> Point:
        """The corner it runs to."""
        return as_point(self.points[-1])

    @property
    def length_mm(self) -> float:
        """Its length with darts open."""
        return polyline.length_mm(self.points)

    @property
    def is_straight(self) -> bool:
        """Whether it stays within a hairline of the straight line between its corners."""
        return polyline.offset_from_chord_mm(self.points) <= STRAIGHT_MM

    def point_at(self, s_mm: float) -> Point:
        """The point at a length along it from its start."""
        return polyline.point_at(self.points, s_mm)

    def moved(self, motion: Affine) -> Edge:
        """The same edge carried by a motion."""
        return replace(self, points=motion.points(self.points))
