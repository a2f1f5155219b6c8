"""The front bodice: drafted with the bust dart on the shoulder, then the dart is moved to the side seam.

Centre front at x = 0, waist at y = 0, side at +x.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from geometry.affine import Point, Points, frozen_points
from geometry.curves import polyline
from samples.bodice_lines import UP_RAD, Seam, armhole, waist
from samples.draft_back_bodice import (
    ARMHOLE_CORNER_RAD,
    NECK_CORNER_RAD,
    NECK_RISE_MM,
    SIDE_SHAPING_MM,
    underarm_x,
    waist_dart_mm,
)
from samples.drafting import bezier, direction_rad, solved, toward, turned
from samples.size_table import Figures

BUST_POINT_BELOW_CHEST_MM = 25.0
"""The bust point lies 2.5 cm below the chest line (metric draft)."""

SHOULDER_SLOPE_RAD = math.radians(22.0)
"""Own choice, steeper than the back."""

SIDE_STAND_OFF_MM = 30.0
"""The side dart ends 1 to 1 1/2 in before the bust point (Threads 181, where to place bust-dart points)."""

WAIST_STAND_OFF_MM = 20.0
"""The waist dart ends 1/2 to 1 in below it, from memory."""

MOUTH_BELOW_UNDERARM_MM = 65.0
"""Where the side dart lies on the side seam: 1 to 3 in below the underarm, from memory."""


@dataclass(frozen=True, slots=True)
class FrontBodice:
    """The drafted lines of the front, each running the way it lies round the piece, waist first."""

    waist: Seam
    side: Seam
    armhole: Points
    shoulder: Points
    neck: Points
    waist_tip: Point
    side_tip: Point
    bust_point: Point


@dataclass(frozen=True, slots=True)
class _Side:
    """The side seam once its dart is drawn."""

    dart_rad: float
    tip: Point
    underarm_folded: Point


def draft_front_bodice(figures: Figures, *, side_mm: float, back_neck_mm: float) -> FrontBodice:
    """The front bodice of a size, its side seam as long as the back's, its neck making up the whole neck seam."""
    chest_y = figures.nape_to_waist_mm - figures.armhole_depth_mm
    bust_point = (figures.bust_mm / 10 + 2.0, chest_y - BUST_POINT_BELOW_CHEST_MM)
    neck_point = (figures.front_neck_width_mm, figures.nape_to_waist_mm + NECK_RISE_MM)
    shoulder_end = toward(neck_point, -SHOULDER_SLOPE_RAD, figures.shoulder_mm)
    underarm_drafted = (figures.half_width_at_bust_mm - underarm_x(figures), chest_y)
    leg_mm = math.dist(bust_point, toward(neck_point, -SHOULDER_SLOPE_RAD, figures.shoulder_mm / 2))
    dart_rad = 2 * math.asin(figures.bust_dart_mm / 2 / leg_mm)
    underarm = turned(underarm_drafted, bust_point, dart_rad)

    waist_tip = (bust_point[0], bust_point[1] - WAIST_STAND_OFF_MM)
    side_x = underarm_drafted[0] - SIDE_SHAPING_MM
    sewn_waist = side_x - waist_dart_mm(figures)
    side_rad = UP_RAD
    seam = waist(sewn_waist, waist_tip, side_x, side_rad)
    for _ in range(20):  # the waist is square to the side seam, which starts where the waist ends
        side = _side(seam.end, underarm, bust_point, dart_rad, side_mm)
        side_rad = direction_rad(seam.end, side.underarm_folded)
        seam = waist(sewn_waist, waist_tip, side_x, side_rad)
    side = _side(seam.end, underarm, bust_point, dart_rad, side_mm)

    inmost = (figures.half_chest_mm, underarm[1] + 0.42 * (shoulder_end[1] - underarm[1]))
    leaving_rad = -SHOULDER_SLOPE_RAD - ARMHOLE_CORNER_RAD
    hole = armhole(shoulder_end, leaving_rad, inmost, underarm, side_rad - UP_RAD + side.dart_rad)
    return FrontBodice(
        waist=seam,
        side=_side_seam(seam.end, underarm, side),
        armhole=frozen_points(hole[::-1]),
        shoulder=frozen_points([shoulder_end, neck_point]),
        neck=_neck(neck_point, figures.neck_seam_mm / 2 - back_neck_mm),
        waist_tip=waist_tip,
        side_tip=side.tip,
        bust_point=bust_point,
    )


def _side(waist_corner: Point, underarm: Point, bust_point: Point, moved_rad: float, side_mm: float) -> _Side:
    """The side dart's tip and angle: folded, the seam is straight and ``side_mm`` long."""
    chest_drafted = turned(underarm, bust_point, -moved_rad)
    along = MOUTH_BELOW_UNDERARM_MM / math.dist(waist_corner, chest_drafted)
    lower = tuple(c + along * (w - c) for c, w in zip(chest_drafted, waist_corner, strict=True))
    tip = toward(bust_point, direction_rad(bust_point, (lower[0], lower[1])) + moved_rad / 2, SIDE_STAND_OFF_MM)
    dart_rad = solved(lambda a: math.dist(turned(underarm, tip, -a), waist_corner) - side_mm, 0.0, 1.2)
    return _Side(dart_rad, tip, turned(underarm, tip, -dart_rad))


def _side_seam(waist_corner: Point, underarm: Point, side: _Side) -> Seam:
    below_mm = math.dist(waist_corner, side.underarm_folded) - MOUTH_BELOW_UNDERARM_MM
    lower = toward(waist_corner, direction_rad(waist_corner, side.underarm_folded), below_mm)
    upper = turned(lower, side.tip, side.dart_rad)
    return Seam(frozen_points([waist_corner, lower, upper, underarm]), below_mm, below_mm + math.dist(lower, upper))


def _neck(neck_point: Point, length_mm: float) -> Points:
    """The front neck of a given length; how deep it comes at the centre follows."""
    leaving_rad = -SHOULDER_SLOPE_RAD - (math.pi - NECK_CORNER_RAD)

    def of_depth(depth: float) -> Points:
        centre = (0.0, neck_point[1] - depth)
        first = toward(neck_point, leaving_rad, 0.55 * depth)
        return bezier(neck_point, first, (0.58 * neck_point[0], centre[1]), centre)

    return of_depth(solved(lambda depth: polyline.length_mm(of_depth(depth)) - length_mm, 40.0, 140.0))
