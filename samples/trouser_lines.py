"""The lines of front and back trousers: crease at x = 0, crotch level at y = 0, side at +x.

A plain straight-leg block. Its rules are from memory, as evening classes teach them, unless a comment names a published
figure or says that a choice is our own.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from geometry.affine import Affine, Point, Points, frozen_points
from geometry.curves import polyline
from geometry.units import MM_PER_INCH
from samples.bodice_lines import UP_RAD, Seam
from samples.drafting import arc, bezier, direction_rad, opened, solved, toward
from samples.size_table import Figures

FRONT_HIP_LESS_MM = 5.0
"""The front is so much less than a quarter of the hip, the back so much more; at the waist the reverse: own choice."""

FRONT_FORK_SHARE, BACK_FORK_SHARE = 0.045, 0.105
"""How far the fork reaches beyond the centre line, as shares of the finished hip: from memory."""

CENTRE_FRONT_LEAN_RAD, CENTRE_BACK_LEAN_RAD = math.radians(3.5), math.radians(7.0)
"""How far centre front and seat seam lean in towards the waist: own choice."""

BACK_SIDE_BEYOND_MM = 15.0
"""How much further from the crease the side of the back lies than that of the front: own choice."""

FRONT_DART = (17.0, 85.0)
"""Width and length: front 1/2 to 3/4 in wide, 3 to 4 in long, from memory."""

BACK_DART = (28.0, 125.0)
"""Width and length: back 3/4 to 1 1/2 in wide, 4 1/2 to 5 1/2 in long, from memory."""

DART_SHARE = 0.46
"""Where the darts lie on the waist, from the centre: own choice."""

INSIDE_LEG_MM, KNEE_ABOVE_MIDDLE_MM = 780.0, 50.0
"""Inside leg, and how far the knee lies above its middle: from memory."""

HEM_MM, KNEE_MM, HEM_GRADE = 19 * MM_PER_INCH, 21 * MM_PER_INCH, 0.12
"""Hem and knee round for a hip of 1 m, and how much each grows with the hip: own choice."""

LEG_RULE_MM = MM_PER_INCH
"""Each side of the crease is a quarter of hem or knee, less 1 in in front and plus 1 in behind (Threads, easy ways to
taper trousers, taunton.com/threads/pages/t00068.asp)."""


@dataclass(frozen=True, slots=True)
class Leg:
    """The drafted lines of a front or back, each running the way it lies round the piece, hem first."""

    hem: Points
    side: Points
    waist: Seam
    crotch: Points
    inseam: Points
    tip: Point
    hip: Point
    knee: Point

    @property
    def waist_mm(self) -> float:
        """Length of the waist, dart folded."""
        return polyline.length_mm(self.waist.chain) - (self.waist.to_mm - self.waist.from_mm)


@dataclass(frozen=True, slots=True)
class _Half:
    """The figures of a front or back.

    Attributes:
        hip: Where the side crosses the hip level.
        centre_x: Where the centre line crosses it.
        fork: The crotch point.
        lean_rad: Lean of the centre line.
        waist: Where the waist leaves the centre line.
        sewn_mm: Length of the waist, dart folded.
        dart: Width and length of its dart.
        knee: Where the side crosses the knee level.
        hem: Where the side ends.
    """

    hip: Point
    centre_x: float
    fork: Point
    lean_rad: float
    waist: Point
    sewn_mm: float
    dart: tuple[float, float]
    knee: Point
    hem: Point

    def dropped(self, by_mm: float) -> _Half:
        """With the crotch point so much lower."""
        return replace(self, fork=(self.fork[0], -by_mm))

    def raised(self, by_mm: float) -> _Half:
        """With the waist so much higher, the centre line taken on to it."""
        x, y = self.waist
        return replace(self, waist=(x + by_mm * math.tan(self.lean_rad), y + by_mm))


def draft_legs(figures: Figures) -> tuple[Leg, Leg]:
    """Front and back of a size; the back's fork and waist lie where side seams and inseams come out alike."""
    front_half, back_half = _halves(figures)
    front = _leg(front_half)
    inseam_mm, side_mm = polyline.length_mm(front.inseam), polyline.length_mm(front.side)
    drop_mm = solved(lambda mm: polyline.length_mm(_inseam(back_half.dropped(mm))) - inseam_mm, -10.0, 60.0)
    back_half = back_half.dropped(drop_mm)
    rise_mm = solved(lambda mm: polyline.length_mm(_leg(back_half.raised(mm)).side) - side_mm, -40.0, 80.0)
    return front, _leg(back_half.raised(rise_mm))


def _halves(figures: Figures) -> tuple[_Half, _Half]:
    hip_mm = 2 * figures.half_width_at_hip_mm
    quarter_hip, quarter_waist = hip_mm / 4, figures.half_waist_mm / 2
    front_hip = quarter_hip - FRONT_HIP_LESS_MM
    side_x = (front_hip + FRONT_FORK_SHARE * hip_mm) / 2
    grown_mm = HEM_GRADE * (hip_mm - 1000.0)
    knee_y = KNEE_ABOVE_MIDDLE_MM - INSIDE_LEG_MM / 2

    def half(
        side: float, width: float, fork: float, lean: float, sewn: float, dart: tuple[float, float], plus: float
    ) -> _Half:
        hip_y = figures.crotch_depth_mm - figures.waist_to_hip_mm
        centre_x = side - width
        return _Half(
            hip=(side, hip_y),
            centre_x=centre_x,
            fork=(centre_x - fork * hip_mm, 0.0),
            lean_rad=lean,
            waist=(centre_x + figures.waist_to_hip_mm * math.tan(lean), figures.crotch_depth_mm),
            sewn_mm=sewn,
            dart=dart,
            knee=((KNEE_MM + grown_mm + plus) / 4, knee_y),
            hem=((HEM_MM + grown_mm + plus) / 4, -INSIDE_LEG_MM),
        )

    front_figures = (FRONT_FORK_SHARE, CENTRE_FRONT_LEAN_RAD, quarter_waist + FRONT_HIP_LESS_MM, FRONT_DART)
    back_figures = (BACK_FORK_SHARE, CENTRE_BACK_LEAN_RAD, quarter_waist - FRONT_HIP_LESS_MM, BACK_DART)
    return (
        half(side_x, front_hip, *front_figures, -LEG_RULE_MM),
        half(side_x + BACK_SIDE_BEYOND_MM, quarter_hip + FRONT_HIP_LESS_MM, *back_figures, LEG_RULE_MM),
    )


def _leg(half: _Half) -> Leg:
    lean_rad, waist, tip = _settled_waist(half)
    hip_x, hip_y = half.hip
    corner = waist.end
    third_mm = math.dist(corner, half.hip) / 3
    down_rad = direction_rad(half.knee, half.hem)
    curve = bezier(corner, toward(corner, lean_rad - UP_RAD, third_mm), (hip_x, hip_y + third_mm), half.hip)
    third_mm = math.dist(half.hip, half.knee) / 3
    thigh = bezier(half.hip, (hip_x, hip_y - third_mm), toward(half.knee, down_rad + math.pi, third_mm), half.knee)
    side = polyline.joined((curve, thigh, frozen_points([half.knee, half.hem])))
    return Leg(
        hem=frozen_points([(-half.hem[0], half.hem[1]), half.hem]),
        side=_reversed(side),
        waist=_from_side(waist),
        crotch=_crotch(half),
        inseam=_inseam(half),
        tip=tip,
        hip=half.hip,
        knee=half.knee,
    )


def _settled_waist(half: _Half) -> tuple[float, Seam, Point]:
    """The lean of the side seam at the waist that makes the hip curve even, the waist square to it, its dart's tip."""
    lean_rad = 0.1
    for _ in range(20):
        x, y = _waist(half, lean_rad)[0].end
        lean_rad = 2 * math.atan2(half.hip[0] - x, y - half.hip[1])
    return lean_rad, *_waist(half, lean_rad)


def _waist(half: _Half, lean_rad: float) -> tuple[Seam, Point]:
    """The waist from the centre, an arc with the dart folded, square to the centre and to the side; the dart's tip."""
    width_mm, length_mm = half.dart
    dart_rad = 2 * math.asin(width_mm / 2 / math.hypot(width_mm / 2, length_mm))
    level = arc(half.waist, lean_rad + half.lean_rad + dart_rad, half.sewn_mm)
    folded = Affine.turned(-half.lean_rad, half.waist).points(level)
    at_mm = DART_SHARE * half.sewn_mm
    along = polyline.direction_at(folded, at_mm)
    mouth = polyline.point_at(folded, at_mm)
    tip = toward(mouth, math.atan2(along[1], along[0]) - UP_RAD, length_mm)
    return Seam(*opened(folded, at_mm, tip, -dart_rad)), tip


def _crotch(half: _Half) -> Points:
    """From the waist down the centre line and round to the crotch point, where it is square to the inseam."""
    joint = (half.centre_x, half.hip[1])
    across_mm = half.centre_x - half.fork[0]
    entering_rad = _inseam_rad(half) + UP_RAD
    low = toward(half.fork, entering_rad, 0.7 * across_mm)
    curve = bezier(joint, toward(joint, -UP_RAD - half.lean_rad, 0.8 * (joint[1] - low[1])), low, half.fork)
    return polyline.joined((frozen_points([half.waist, joint]), curve))


def _inseam(half: _Half) -> Points:
    """From the crotch point to the hem, straight below the knee."""
    knee, hem = (-half.knee[0], half.knee[1]), (-half.hem[0], half.hem[1])
    third_mm = math.dist(half.fork, knee) / 3
    up_rad = direction_rad(hem, knee)
    thigh = bezier(half.fork, toward(half.fork, _inseam_rad(half), third_mm), toward(knee, up_rad, third_mm), knee)
    return polyline.joined((thigh, frozen_points([knee, hem])))


def _inseam_rad(half: _Half) -> float:
    """The direction in which the inseam leaves the crotch point, so that it bends evenly down to the knee."""
    knee, hem = (-half.knee[0], half.knee[1]), (-half.hem[0], half.hem[1])
    return 2 * direction_rad(half.fork, knee) - direction_rad(knee, hem)


def _reversed(chain: Points) -> Points:
    return frozen_points(chain[::-1])


def _from_side(seam: Seam) -> Seam:
    whole_mm = polyline.length_mm(seam.chain)
    return Seam(_reversed(seam.chain), whole_mm - seam.to_mm, whole_mm - seam.from_mm)
