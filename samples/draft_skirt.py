"""Front and back skirt, each hanging from the bodice above it, dart under dart.

Centre line at x = 0, waist near y = 0, side at +x. Both side seams are the same line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from geometry.affine import Point, Points, frozen_points
from geometry.curves import polyline
from samples.bodice_lines import Seam
from samples.drafting import arc, bezier, opened, solved, toward
from samples.size_table import Figures

FRONT_DART_MM, FRONT_DART_LENGTH_MM = 19.0, 95.0
"""Front skirt dart 1/2 to 3/4 in wide, 3 to 4 in long, from memory."""

BACK_DART_MM, BACK_DART_LENGTH_MM = 37.0, 135.0
"""Back skirt dart 3/4 to 1 1/2 in wide, 4 1/2 to 5 1/2 in long, from memory."""

WAIST_TO_HEM_MM = 600.0
"""To the knee, along the side: own choice."""

FLARE_RAD = math.radians(3.5)
"""How far the side leans out below the hip: own choice."""


@dataclass(frozen=True, slots=True)
class Skirt:
    """The drafted lines of a skirt, each running the way it lies round the piece, hem first."""

    hem: Points
    side: Points
    waist: Seam
    tip: Point
    hip_y: float
    hip_on_side_mm: float


@dataclass(frozen=True, slots=True)
class _Panel:
    """What differs between front and back: the bodice above, the dart, the place of the waist at the centre."""

    sewn_mm: float
    dart_at_mm: float
    dart_length_mm: float
    side_x: float
    centre_y: float = 0.0


def draft_skirts(figures: Figures, *, front_waist: Seam, back_waist: Seam) -> tuple[Skirt, Skirt]:
    """Front and back skirt under the bodice waists given (their chains start at the centre)."""
    front_mm, back_mm = _sewn_mm(front_waist), _sewn_mm(back_waist)
    shaped_mm = figures.half_width_at_hip_mm - front_mm - back_mm
    side_mm = (shaped_mm - FRONT_DART_MM - BACK_DART_MM) / 2
    front = _Panel(front_mm, front_waist.from_mm, FRONT_DART_LENGTH_MM, front_mm + FRONT_DART_MM)
    back = _Panel(back_mm, back_waist.from_mm, BACK_DART_LENGTH_MM, back_mm + BACK_DART_MM)
    hip_y = -figures.waist_to_hip_mm
    waist_rad, front_seam, front_tip = _settled_waist(front, side_mm, hip_y)
    level, _ = _waist(back, waist_rad)
    lifted = _Panel(back.sewn_mm, back.dart_at_mm, back.dart_length_mm, back.side_x, front_seam.end[1] - level.end[1])
    back_seam, back_tip = _waist(lifted, waist_rad)
    return (
        _below(front_seam, front_tip, side_mm, hip_y, waist_rad),
        _below(back_seam, back_tip, side_mm, hip_y, waist_rad),
    )


def _sewn_mm(waist: Seam) -> float:
    return polyline.length_mm(waist.chain) - (waist.to_mm - waist.from_mm)


def _settled_waist(panel: _Panel, side_mm: float, hip_y: float) -> tuple[float, Seam, Point]:
    """The lean of the side seam at the waist that makes the hip curve even, and the waist square to it."""
    lean_rad = 2 * FLARE_RAD
    for _ in range(20):
        corner = _waist(panel, lean_rad)[0].end
        lean_rad = 2 * math.atan2(side_mm, corner[1] - hip_y) - FLARE_RAD
    return lean_rad, *_waist(panel, lean_rad)


def _waist(panel: _Panel, lean_rad: float) -> tuple[Seam, Point]:
    """The waist from the centre, an arc with the dart folded, square to the centre and to the side; the dart's tip."""

    def at_angle(dart_rad: float) -> tuple[Seam, Point]:
        folded = arc((0.0, panel.centre_y), lean_rad + dart_rad, panel.sewn_mm)
        mouth = polyline.point_at(folded, panel.dart_at_mm)
        tip = toward(mouth, dart_rad / 2 - math.pi / 2, panel.dart_length_mm)
        return Seam(*opened(folded, panel.dart_at_mm, tip, -dart_rad)), tip

    return at_angle(solved(lambda dart_rad: at_angle(dart_rad)[0].end[0] - panel.side_x, 0.01, 0.6))


def _below(waist: Seam, tip: Point, side_mm: float, hip_y: float, lean_rad: float) -> Skirt:
    """The skirt below a waist: hip curve, straight side, hem square to the side and to the centre."""
    corner, hip = waist.end, (waist.end[0] + side_mm, hip_y)
    third_mm = math.dist(corner, hip) / 3
    hip_curve = bezier(
        corner, toward(corner, lean_rad - math.pi / 2, third_mm), toward(hip, FLARE_RAD + math.pi / 2, third_mm), hip
    )
    bottom = toward(hip, FLARE_RAD - math.pi / 2, WAIST_TO_HEM_MM + hip_y)
    unit = arc((0.0, 0.0), FLARE_RAD, bottom[0])
    hem = unit * (bottom[0] / unit[-1, 0])
    side = np.vstack([hip_curve, [bottom]])[::-1]
    return Skirt(
        hem=frozen_points(hem + [0.0, bottom[1] - hem[-1, 1]]),
        side=frozen_points(side),
        waist=_from_side(waist),
        tip=tip,
        hip_y=hip_y,
        hip_on_side_mm=math.dist(hip, bottom),
    )


def _from_side(seam: Seam) -> Seam:
    whole_mm = polyline.length_mm(seam.chain)
    return Seam(frozen_points(seam.chain[::-1]), whole_mm - seam.to_mm, whole_mm - seam.from_mm)
