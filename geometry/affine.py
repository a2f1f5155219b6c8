"""Points, arrays of points, and the motions that carry them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Point = tuple[float, float]
Points = NDArray[np.float64]


def frozen_points(points: ArrayLike) -> Points:
    """The points as a read-only float array of shape (n, 2); the input is copied unless it already is one."""
    if isinstance(points, np.ndarray) and points.dtype == np.float64 and not points.flags.writeable:
        return points
    array = np.array(points, dtype=np.float64).reshape(-1, 2)
    array.flags.writeable = False
    return array


def as_point(pair: ArrayLike) -> Point:
    """A plain (x, y) tuple of Python floats."""
    x, y = np.asarray(pair, dtype=np.float64).tolist()
    return (x, y)


def distance_mm(a: Point, b: Point) -> float:
    """Distance between two points."""
    return math.hypot(b[0] - a[0], b[1] - a[1])


def midpoint(a: Point, b: Point) -> Point:
    """The point half-way between two points."""
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def unit_vector(a: Point, b: Point) -> Point:
    """Direction from a to b with length 1; (0, 0) where they coincide."""
    length = distance_mm(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length > 0 else (0.0, 0.0)


def angle_between(apex: Point, a: Point, b: Point) -> float:
    """Signed angle in radians at the apex from a to b, counter-clockwise positive, in (-pi, pi]."""
    ux, uy = a[0] - apex[0], a[1] - apex[1]
    vx, vy = b[0] - apex[0], b[1] - apex[1]
    return math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)


@dataclass(frozen=True, slots=True)
class Affine:
    """A motion: ``x' = a x + b y + e``, ``y' = c x + d y + f``."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @staticmethod
    def moved(dx: float, dy: float) -> Affine:
        """A shift by (dx, dy) mm."""
        return Affine(e=dx, f=dy)

    @staticmethod
    def turned(angle_rad: float, about: Point = (0.0, 0.0)) -> Affine:
        """A turn about a point, counter-clockwise positive."""
        cos, sin = math.cos(angle_rad), math.sin(angle_rad)
        x, y = about
        return Affine(cos, -sin, sin, cos, x - cos * x + sin * y, y - sin * x - cos * y)

    @staticmethod
    def mirrored(a: Point, b: Point) -> Affine:
        """A reflection in the line through a and b (which must differ)."""
        ux, uy = unit_vector(a, b)
        m, n = ux * ux - uy * uy, 2 * ux * uy
        return Affine(m, n, n, -m, a[0] - m * a[0] - n * a[1], a[1] - n * a[0] + m * a[1])

    @property
    def is_identity(self) -> bool:
        """Whether this leaves every point exactly where it is."""
        return self is IDENTITY or self == IDENTITY

    @property
    def angle_rad(self) -> float:
        """How far a direction along x is turned."""
        return math.atan2(self.c, self.a)

    def then(self, after: Affine) -> Affine:
        """First this motion, then the other."""
        return Affine(
            after.a * self.a + after.b * self.c,
            after.a * self.b + after.b * self.d,
            after.c * self.a + after.d * self.c,
            after.c * self.b + after.d * self.d,
            after.a * self.e + after.b * self.f + after.e,
            after.c * self.e + after.d * self.f + after.f,
        )

    def point(self, p: Point) -> Point:
        """Where a point goes."""
        return (self.a * p[0] + self.b * p[1] + self.e, self.c * p[0] + self.d * p[1] + self.f)

    def points(self, points: Points) -> Points:
        """Where points of shape (n, 2) go; the identity returns the very same array."""
        if self.is_identity:
            return points
        moved = np.empty_like(points)
        x, y = points[:, 0], points[:, 1]
        moved[:, 0] = self.a * x + self.b * y + self.e
        moved[:, 1] = self.c * x + self.d * y + self.f
        moved.flags.writeable = False
        return moved


IDENTITY = Affine()
