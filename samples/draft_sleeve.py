"""The set-in sleeve: a cap for the armhole given, straight tapering seams, no elbow dart.

Cap top at x = 0, biceps line at y = 0, front at -x, back at +x.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from geometry.affine import Point, Points, frozen_points
from geometry.curves import polyline
from geometry.units import MM_PER_INCH
from samples.drafting import arc, bezier, meeting, solved
from samples.size_table import Figures

FRONT_EASE_MM = 14.0
BACK_EASE_MM = 18.0
"""Textbooks give 1 to 1 1/2 in of cap ease in all; more at the back than in front, from memory."""

BICEPS_EASE_MM = 2 * MM_PER_INCH
"""At least 2 in round the upper arm (Threads, set-in sleeve solutions, 2021)."""

WRIST_MM = 250.0
"""Width at the hem for a hand to pass: own choice."""


@dataclass(frozen=True, slots=True)
class _CapShape:
    """Where half of the cap turns from hollow to round, as shares of its width (from the top) and height."""

    across: float
    up: float
    steeper_rad: float


_FRONT = _CapShape(0.56, 0.46, math.radians(19.0))
_BACK = _CapShape(0.60, 0.45, math.radians(14.0))


@dataclass(frozen=True, slots=True)
class Sleeve:
    """The drafted lines of the sleeve, each running the way it lies round the piece."""

    cap: Points
    front_underarm: Points
    hem: Points
    back_underarm: Points
    cap_top_mm: float
    cap_height_mm: float


def draft_sleeve(figures: Figures, *, front_armhole_mm: float, back_armhole_mm: float) -> Sleeve:
    """The sleeve of a size for the two armholes."""
    width = figures.upper_arm_mm + BICEPS_EASE_MM
    taper = (width - WRIST_MM) / 2

    def lean_rad(height: float) -> float:
        return math.atan2(taper, figures.sleeve_length_mm - height)

    def halves(height: float) -> tuple[Points, Points]:
        front = _half_cap(_FRONT, height, lean_rad(height), front_armhole_mm + FRONT_EASE_MM)
        return front, _half_cap(_BACK, height, lean_rad(height), back_armhole_mm + BACK_EASE_MM)

    height = solved(lambda h: sum(float(half[0, 0]) for half in halves(h)) - width, 95.0, 150.0)
    front, back = halves(height)
    front_x, back_x = float(front[0, 0]), float(back[0, 0])
    hem_y = height - figures.sleeve_length_mm
    left, right = (-front_x + taper, hem_y), (back_x - taper, hem_y)
    return Sleeve(
        cap=frozen_points(np.vstack([back, (front * [-1.0, 1.0])[-2::-1]])),
        front_underarm=frozen_points([(-front_x, 0.0), left]),
        hem=_hem(left, right, lean_rad(height)),
        back_underarm=frozen_points([right, (back_x, 0.0)]),
        cap_top_mm=polyline.length_mm(back),
        cap_height_mm=height,
    )


def _half_cap(shape: _CapShape, height: float, lean_rad: float, length_mm: float) -> Points:
    """Half of a cap of given height and length, from the underarm at +x to the top."""

    def of_width(width: float) -> Points:
        start, top = (width, 0.0), (0.0, height)
        turn = (shape.across * width, shape.up * height)
        rise_rad = math.pi - math.atan2(height, width) - shape.steeper_rad
        low = meeting(start, math.pi - lean_rad, turn, rise_rad)
        high = meeting(turn, rise_rad, top, 0.0)
        # The inner pulling points lie on the line through the turning point, where the curve is then straight.
        lower = bezier(start, low, _between(low, turn, 0.35), turn)
        upper = bezier(turn, _between(turn, high, 0.55), high, top)
        return polyline.joined((lower, upper))

    return of_width(solved(lambda w: polyline.length_mm(of_width(w)) - length_mm, 0.45 * length_mm, 0.98 * length_mm))


def _between(a: Point, b: Point, share: float) -> Point:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _hem(left: Point, right: Point, lean_rad: float) -> Points:
    """The hem, square to both underarm seams: an arc that rises a little in the middle."""
    flat = arc((0.0, 0.0), -2 * lean_rad, right[0] - left[0])
    cos, sin = math.cos(lean_rad), math.sin(lean_rad)
    x, y = flat[:, 0] * cos - flat[:, 1] * sin, flat[:, 0] * sin + flat[:, 1] * cos
    scale = (right[0] - left[0]) / x[-1]
    hem = np.stack([left[0] + x * scale, left[1] + y * scale], axis=1)
    hem[-1] = right
    return frozen_points(hem)
