"""Corners of allowances that are not mitred: squared for a seam sewn first, mirrored for a hem turned up."""

from __future__ import annotations

import math

import numpy as np

from geometry.affine import Affine, Point, Points, as_point, distance_mm, frozen_points
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.curves.mitre import MITRE_LIMIT

_FAR = 10.0
"""Chains are taken on straight by this many allowances to find where they meet."""

Sides = tuple[Points, Points]


def squared(
    before: Points, after: Points, corner: Point, ahead: Point, width_mm: float, reach_mm: float
) -> Sides | None:
    """Two cutting lines brought together so that the allowance of the first ends square to its stitching line.

    Args:
        before: Cutting line beside the edge whose allowance is squared, ending near the corner.
        after: Cutting line of its neighbour, starting near the corner.
        corner: Where the two stitching lines meet.
        ahead: Unit direction in which the first stitching line arrives at the corner.
        width_mm: How far ``before`` lies beside it: positive to its right, negative to its left.
        reach_mm: The larger of the two allowances.

    Returns:
        Both chains, the second starting where the first ends; ``None`` where the first stitching line, taken on, does
        not meet the neighbour's cutting line nearby.
    """
    rest = _from_line(_taken_back(after, reach_mm), corner, ahead, reach_mm)
    if rest is None:
        return None
    place = as_point(rest[0])
    beyond_mm = (place[0] - corner[0]) * ahead[0] + (place[1] - corner[1]) * ahead[1]
    if not 0.0 <= beyond_mm <= MITRE_LIMIT * reach_mm:
        return None
    square = (place[0] + ahead[1] * width_mm, place[1] - ahead[0] * width_mm)
    return frozen_points(np.vstack([before, [square], [place]])), rest


def mirrored(before: Points, after: Points, corner: Point, ahead: Point, reach_mm: float) -> Sides | None:
    """Two cutting lines brought together so that the allowance of the first, turned up, lies on the second's.

    Arguments as for ``squared``; the first is turned up along its stitching line, taken straight at the corner. From
    there outwards the cutting line is the mirror image of the neighbour's from there inwards.

    Returns:
        Both chains, the mirrored stretch at the start of the second; ``None`` where they do not meet nearby.
    """
    rest = _from_line(_taken_back(after, reach_mm), corner, ahead, reach_mm)
    if rest is None:
        return None
    over = Affine.mirrored(corner, (corner[0] + ahead[0], corner[1] + ahead[1])).points(rest)
    longer = _taken_on(before, reach_mm)
    found = crossings(over, longer)
    if not found:
        return None
    down = polyline.part_between(over, 0.0, found[0].first_mm)
    return polyline.part_between(longer, 0.0, found[0].second_mm), polyline.joined((frozen_points(down[::-1]), rest))


def reversed_sides(sides: Sides | None) -> Sides | None:
    """Both chains seen the other way round, in the other order."""
    return None if sides is None else (frozen_points(sides[1][::-1]), frozen_points(sides[0][::-1]))


def _from_line(chain: Points, corner: Point, ahead: Point, reach_mm: float) -> Points | None:
    """A chain from where it crosses the line through the corner, nearest to it; ``None`` if it does not nearby."""
    far = _FAR * reach_mm
    line = frozen_points([(corner[0] + sign * far * ahead[0], corner[1] + sign * far * ahead[1]) for sign in (-1, 1)])
    found = crossings(chain, line)
    if not found:
        return None
    nearest = min(found, key=lambda crossing: distance_mm(crossing.at, corner))
    return polyline.part_between(chain, nearest.first_mm, math.inf)


def _taken_on(chain: Points, reach_mm: float) -> Points:
    (x, y), (ux, uy) = as_point(chain[-1]), polyline.direction_at(chain, math.inf)
    return frozen_points(np.vstack([chain, [(x + ux * _FAR * reach_mm, y + uy * _FAR * reach_mm)]]))


def _taken_back(chain: Points, reach_mm: float) -> Points:
    return frozen_points(_taken_on(frozen_points(chain[::-1]), reach_mm)[::-1])
