"""The back bodice: neck, shoulder dart, armhole, side, waist dart; centre back at x = 0, side at +x."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from geometry.affine import Point, Points, frozen_points
from samples.bodice_lines import UP_RAD, Seam, armhole, waist
from samples.drafting import bezier, direction_rad, opened, toward
from samples.size_table import Figures

NECK_RISE_MM = 20.0
"""How far the side of the neck is above the nape: from memory."""

SHOULDER_SLOPE_RAD = math.radians(16.0)
"""Own choice; with the front's slope it averages about 20 degrees."""

NECK_CORNER_RAD = math.radians(106.0)
"""Angle between shoulder and back neck; the front neck makes up the straight angle."""

ARMHOLE_CORNER_RAD = math.radians(95.0)
"""Angle between shoulder and back armhole; the front armhole makes up the straight angle."""

SHOULDER_DART_WIDTH_MM = 10.0
SHOULDER_DART_LENGTH_MM = 50.0
"""The back shoulder dart is 1 cm wide and 5 cm long (metric draft)."""

SIDE_SHAPING_MM = 22.0
"""How far each side seam comes in from underarm to waist: own choice."""

UNDERARM_SHARE = 0.46
"""How much of the armhole's width belongs to the back: own choice; the rest is the front's."""


@dataclass(frozen=True, slots=True)
class BackBodice:
    """The drafted lines of the back, each running the way it lies round the piece, waist first."""

    waist: Seam
    side: Points
    armhole: Points
    shoulder: Seam
    neck: Points
    waist_tip: Point
    shoulder_tip: Point
    blade: Point

    @property
    def side_mm(self) -> float:
        """Length of the side seam."""
        return math.dist(self.side[0], self.side[1])


def underarm_x(figures: Figures) -> float:
    """How far the back reaches at the underarm."""
    chest_with_half_dart = figures.half_chest_mm + figures.bust_dart_mm / 2
    armhole_width = figures.half_width_at_bust_mm - figures.half_back_mm - chest_with_half_dart
    return figures.half_back_mm + UNDERARM_SHARE * armhole_width


def waist_dart_mm(figures: Figures) -> float:
    """What front and back waist dart each take in: half of what the side seams leave to be shaped."""
    return (figures.half_width_at_bust_mm - 2 * SIDE_SHAPING_MM - figures.half_waist_mm) / 2


def draft_back_bodice(figures: Figures) -> BackBodice:
    """The back bodice of a size."""
    underarm = (underarm_x(figures), figures.nape_to_waist_mm - figures.armhole_depth_mm)
    blade = (figures.half_back_mm / 2, underarm[1] + 0.52 * figures.armhole_depth_mm)
    waist_tip = (blade[0], underarm[1])
    side_x = underarm[0] - SIDE_SHAPING_MM
    seam = waist(side_x - waist_dart_mm(figures), waist_tip, side_x, UP_RAD)
    for _ in range(20):  # the waist is square to the side seam, which starts where the waist ends
        side_rad = direction_rad(seam.end, underarm)
        seam = waist(side_x - waist_dart_mm(figures), waist_tip, side_x, side_rad)
    neck_point = (figures.back_neck_width_mm, figures.nape_to_waist_mm + NECK_RISE_MM)
    shoulder, tip = _shoulder(neck_point, figures.shoulder_mm, blade)
    outer_rad = direction_rad(tuple(shoulder.chain[-2]), shoulder.end)
    inmost = (figures.half_back_mm, underarm[1] + 0.46 * (shoulder.end[1] - underarm[1]))
    hole = armhole(shoulder.end, outer_rad - (math.pi - ARMHOLE_CORNER_RAD), inmost, underarm, side_rad - UP_RAD)
    return BackBodice(
        waist=seam,
        side=frozen_points([seam.end, underarm]),
        armhole=frozen_points(hole[::-1]),
        shoulder=_reversed(shoulder),
        neck=_neck(neck_point, (0.0, figures.nape_to_waist_mm)),
        waist_tip=waist_tip,
        shoulder_tip=tip,
        blade=blade,
    )


def _shoulder(neck_point: Point, length_mm: float, blade: Point) -> tuple[Seam, Point]:
    """The shoulder from the neck, straight once its dart is folded, and the dart's tip."""
    folded = frozen_points([neck_point, toward(neck_point, -SHOULDER_SLOPE_RAD, length_mm)])
    middle = toward(neck_point, -SHOULDER_SLOPE_RAD, length_mm / 2)
    tip = toward(middle, direction_rad(middle, blade), SHOULDER_DART_LENGTH_MM)
    half_rad = math.asin(SHOULDER_DART_WIDTH_MM / 2 / SHOULDER_DART_LENGTH_MM)
    return Seam(*opened(folded, length_mm / 2, tip, -2 * half_rad)), tip


def _reversed(seam: Seam) -> Seam:
    whole_mm = float(np.hypot(*np.diff(seam.chain, axis=0).T).sum())
    return Seam(frozen_points(seam.chain[::-1]), whole_mm - seam.to_mm, whole_mm - seam.from_mm)


def _neck(neck_point: Point, nape: Point) -> Points:
    leaving_rad = -SHOULDER_SLOPE_RAD - NECK_CORNER_RAD
    width = neck_point[0]
    return bezier(neck_point, toward(neck_point, leaving_rad, 0.26 * width), (0.56 * width, nape[1]), nape)
