"""Lines that the front and the back bodice share: armhole, waist with its dart."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geometry.affine import Point, Points
from geometry.curves import polyline
from samples.drafting import arc, bezier, opened, solved, toward

UP_RAD = math.pi / 2


@dataclass(frozen=True, slots=True)
class Seam:
    """A drafted seam with one dart: its chain with the dart open, and where the mouth begins and ends on it."""

    chain: Points
    from_mm: float
    to_mm: float

    @property
    def end(self) -> Point:
        """The last point of the chain."""
        x, y = self.chain[-1].tolist()
        return (x, y)


def armhole(shoulder: Point, leaving_rad: float, inmost: Point, underarm: Point, arriving_rad: float) -> Points:
    """The armhole from the shoulder's end past its inmost point to the underarm.

    Both halves have the same curvature where they meet at the inmost point, so that no flat or bump shows there.
    """
    drop = shoulder[1] - inmost[1]
    inward_mm = 0.5 * (shoulder[0] - inmost[0])
    first = toward(shoulder, leaving_rad, min(0.34 * drop, inward_mm / -math.cos(leaving_rad)))
    reach = math.dist(inmost, underarm)
    low = toward(underarm, arriving_rad + math.pi, 0.55 * (underarm[0] - inmost[0]))
    below_mm = 0.48 * reach
    above_mm = below_mm * math.sqrt((first[0] - inmost[0]) / (low[0] - inmost[0]))
    upper = bezier(shoulder, first, (inmost[0], inmost[1] + min(above_mm, 0.6 * drop)), inmost)
    return polyline.joined((upper, bezier(inmost, (inmost[0], inmost[1] - below_mm), low, underarm)))


def waist(sewn_mm: float, tip: Point, side_x: float, side_rad: float) -> Seam:
    """The waist of a bodice: an arc with the dart folded, square to the centre line and to the side seam.

    Args:
        sewn_mm: Its length with the dart folded.
        tip: The dart's tip; the open mouth comes to lie straight below it.
        side_x: How far from the centre line the side seam starts, dart open.
        side_rad: Direction of the side seam there, upwards.
    """

    def at_angle(dart_rad: float) -> Seam:
        folded = arc((0.0, 0.0), side_rad - UP_RAD - dart_rad, sewn_mm)

        def beside_mm(at_mm: float) -> float:
            x, y = polyline.point_at(folded, at_mm)
            return (x - tip[0]) + math.dist((x, y), tip) * math.sin(dart_rad / 2)

        return Seam(*opened(folded, solved(beside_mm, 0.0, sewn_mm), tip, dart_rad))

    return at_angle(solved(lambda dart_rad: at_angle(dart_rad).end[0] - side_x, 0.01, 0.6))
