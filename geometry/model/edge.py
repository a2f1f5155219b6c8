"""An edge: the stitching line between two corners of a piece."""

from __future__ import annotations

from dataclasses import dataclass
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


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """A named stretch of the stitching line from corner to corner, travelled counter-clockwise round the piece.

    Attributes:
        id: Stable name that steps refer to; unique in its piece and kept through every alteration.
        points: Chain of shape (n, 2), n >= 2, mm; its ends are the corners. Across a dart's mouth it runs straight.
        role: What it is on the garment.
        allowance_mm: Seam or hem allowance outside the stitching line; 0 on a fold.
    """

    id: str
    points: Points
    role: EdgeRole = EdgeRole.OTHER
    allowance_mm: float = 15.0

    def __eq__(self, other: object) -> bool:
        """Equal if everything is, to the last bit of each coordinate."""
        if not isinstance(other, Edge):
            return NotImplemented
        return self is other or (
            (self.id, self.role, self.allowance_mm) == (other.id, other.role, other.allowance_mm)
            and np.array_equal(self.points, other.points)
        )

    def __hash__(self) -> int:
        """Equal edges hash alike."""
        return hash((self.id, self.role, self.allowance_mm, self.points.tobytes()))

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
        return Edge(self.id, motion.points(self.points), self.role, self.allowance_mm)
