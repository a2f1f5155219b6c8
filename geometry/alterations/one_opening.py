"""The openings of single cuts that together move the parts of a piece as a full bust or a full upper arm does."""

from __future__ import annotations

import math

from geometry.affine import Point, distance_mm, unit_vector
from geometry.alterations.anchors import Anchor
from geometry.alterations.slash import Hinge, Side, SlashCut


def turned_cut(
    line: tuple[Anchor, Anchor], ends: tuple[Point, Point], hinge: Hinge, moving: Side, angle_rad: float
) -> SlashCut:
    """A straight cut whose moving side turns about its hinge by an angle, counter-clockwise positive.

    Given its ends as anchors and as places. With both sides moving the angle is that of the left one as the right one
    sees it.
    """
    opens_left = (moving is not Side.RIGHT) is (hinge is Hinge.START)
    sign = 1.0 if opens_left else -1.0
    return SlashCut(line, 2 * distance_mm(*ends) * math.sin(sign * angle_rad / 2), hinge, moving)


def shifted_cut(line: tuple[Anchor, Anchor], ends: tuple[Point, Point], moving: Side, way: Point) -> SlashCut:
    """A straight cut whose moving side goes a way that is square to it."""
    ux, uy = unit_vector(*ends)
    across_mm = way[1] * ux - way[0] * uy
    return SlashCut(line, across_mm if moving is Side.LEFT else -across_mm, Hinge.NONE, moving)
