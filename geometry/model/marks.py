"""What is marked on a piece: notches, inner lines, points, words, grain."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from geometry.affine import Affine, Point, Points


class NotchKind(StrEnum):
    """Shape of a notch, as the layers of ASTM D6673 tell them apart (layer 4 and 80-83; numbers from memory)."""

    SLIT = "slit"
    V = "v"
    T = "t"
    CASTLE = "castle"
    CHECK = "check"
    U = "u"


@dataclass(frozen=True, slots=True)
class Notch:
    """A mark on an edge that must meet its partner when the seam is sewn.

    Attributes:
        id: Stable name, unique in its piece.
        edge: Id of its edge.
        at_mm: Length along the edge, darts open.
        kind: Its shape.
        depth_mm: How far it is cut in from the cutting line.
        width_mm: How wide it is; 0 for a slit.
        partner: A word shared by the notches that must meet, or "" where none is known.
    """

    id: str
    edge: str
    at_mm: float
    kind: NotchKind = NotchKind.SLIT
    depth_mm: float = 6.0
    width_mm: float = 0.0
    partner: str = ""


class InnerKind(StrEnum):
    """What a line inside a piece means."""

    LINE = "line"
    CUTOUT = "cutout"
    STRIPE = "stripe"
    PLAID = "plaid"


@dataclass(frozen=True, slots=True, eq=False)
class InnerLine:
    """A line inside a piece: a chain of shape (n, 2), n >= 2, mm."""

    id: str
    points: Points
    kind: InnerKind = InnerKind.LINE
    closed: bool = False

    def __eq__(self, other: object) -> bool:
        """Equal if everything is, to the last bit of each coordinate."""
        if not isinstance(other, InnerLine):
            return NotImplemented
        mine, theirs = (self.id, self.kind, self.closed), (other.id, other.kind, other.closed)
        return self is other or (mine == theirs and np.array_equal(self.points, other.points))

    def __hash__(self) -> int:
        """Equal lines hash alike."""
        return hash((self.id, self.kind, self.closed, self.points.tobytes()))


class MarkKind(StrEnum):
    """What a marked point means."""

    DRILL = "drill hole"
    LANDMARK = "landmark"
    CURVE_POINT = "curve point"


@dataclass(frozen=True, slots=True)
class Mark:
    """A point inside or on a piece: a drill hole, a landmark such as "bust point", a curve point of the digitiser."""

    id: str
    at: Point
    kind: MarkKind = MarkKind.DRILL


@dataclass(frozen=True, slots=True)
class Label:
    """Words written on a piece, placed by the point where they start."""

    text: str
    at: Point


@dataclass(frozen=True, slots=True)
class Grain:
    """The grain line, from one end to the other."""

    start: Point
    end: Point

    def moved(self, motion: Affine) -> Grain:
        """The same line carried by a motion."""
        return Grain(motion.point(self.start), motion.point(self.end))
