"""Where the parallels of neighbouring edges meet: mitred, squared, trimmed or stepped corners."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

import numpy as np

from geometry.affine import Point, Points, as_point, distance_mm, frozen_points
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.tolerance import FLOAT_MM, SAME_POINT_MM

MITRE_LIMIT = 3.0
"""A mitre longer than this many allowances is cut square.

Corners sharper than 39 degrees are; common practice, no source.
"""

_REACH = 8.0
"""Parallels that cross at a hollow corner do so within this many allowances of it."""


Cut = Callable[[Points, Points], tuple[Points, Points] | None]
"""Brings two chains to one common point in a way of its own; ``None`` where that cannot be done."""


def cornered_ring(
    sides: Sequence[Points],
    widths_mm: Sequence[float],
    corners: Sequence[Point],
    cuts: Mapping[int, Cut] = MappingProxyType({}),
) -> tuple[Points, ...]:
    """The sides of a ring, each brought to the corner it shares with the next.

    Args:
        sides: A chain per edge, beside it, in ring order.
        widths_mm: How far beside; the sign does not matter.
        corners: The end of each edge itself.
        cuts: For corners that are not mitred, by the number of the edge that ends there, how they are cut.

    Returns:
        The chains; each ends exactly where the next one starts.
    """
    done = list(sides)
    for index, corner in enumerate(corners):
        after = (index + 1) % len(done)
        width = max(abs(widths_mm[index]), abs(widths_mm[after]))
        cut = cuts[index](done[index], done[after]) if index in cuts else None
        done[index], done[after] = cut or cornered(done[index], done[after], corner, width)
    return tuple(frozen_points(side) for side in done)


def cornered(before: Points, after: Points, corner: Point, width_mm: float) -> tuple[Points, Points]:
    """Two chains brought to one common point near a corner.

    Where both have to grow they are mitred, or cut square if the mitre would reach further than
    ``MITRE_LIMIT`` widths; where they cross they are trimmed; where neither is possible (different widths at a
    shallow corner) a step leads from one to the other.
    """
    end, start = as_point(before[-1]), as_point(after[0])
    if distance_mm(end, start) <= SAME_POINT_MM:
        return frozen_points(np.vstack([before[:-1], after[:1]])), after
    arriving = polyline.direction_at(before, math.inf)
    leaving = polyline.direction_at(after, 0.0)
    sine = arriving[0] * leaving[1] - arriving[1] * leaving[0]
    gap = (start[0] - end[0], start[1] - end[1])
    if abs(sine) > FLOAT_MM:
        grows = (gap[0] * leaving[1] - gap[1] * leaving[0]) / sine
        shrinks = (gap[0] * arriving[1] - gap[1] * arriving[0]) / sine
        if grows >= -FLOAT_MM and shrinks <= FLOAT_MM:
            mitre = (end[0] + arriving[0] * grows, end[1] + arriving[1] * grows)
            if distance_mm(mitre, corner) <= MITRE_LIMIT * width_mm:
                return _ending(before[:-1], mitre), _starting(after[1:], mitre)
            return _squared(before, after, min(grows, width_mm), min(-shrinks, width_mm))
    return (
        _trimmed(before, after, _REACH * width_mm)
        or _run_up(before, after, arriving, leaving, width_mm)
        or (_ending(before, start), after)
    )


def _ending(chain: Points, place: Point) -> Points:
    return frozen_points(np.vstack([chain, [place]]))


def _starting(chain: Points, place: Point) -> Points:
    return frozen_points(np.vstack([[place], chain]))


def _squared(before: Points, after: Points, grows_mm: float, back_mm: float) -> tuple[Points, Points]:
    (x0, y0), (ux, uy) = as_point(before[-1]), polyline.direction_at(before, math.inf)
    (x1, y1), (vx, vy) = as_point(after[0]), polyline.direction_at(after, 0.0)
    place = (x1 - vx * back_mm, y1 - vy * back_mm)
    turn = (x0 + ux * grows_mm, y0 + uy * grows_mm)
    return _ending(_ending(before[:-1], turn), place), _starting(after[1:], place)


def _run_up(
    before: Points, after: Points, arriving: Point, leaving: Point, width_mm: float
) -> tuple[Points, Points] | None:
    """One chain run straight on past the corner and the other trimmed where it meets it.

    So the cutting line of a neck that leans over the fold ends on the fold.
    """
    (x0, y0), (x1, y1) = as_point(before[-1]), as_point(after[0])
    reach = MITRE_LIMIT * width_mm
    longer_before = _ending(before, (x0 + arriving[0] * reach, y0 + arriving[1] * reach))
    longer_after = _starting(after, (x1 - leaving[0] * reach, y1 - leaving[1] * reach))
    return _trimmed(before, longer_after, reach) or _trimmed(longer_before, after, reach)


def _trimmed(before: Points, after: Points, reach_mm: float) -> tuple[Points, Points] | None:
    """Both chains cut where they cross near their common corner; ``None`` if they do not."""
    length = polyline.length_mm(before)
    near = polyline.part_between(before, length - reach_mm, length)
    found = crossings(near, polyline.part_between(after, 0.0, reach_mm))
    if not found:
        return None
    last = found[-1]
    first_part = polyline.part_between(before, 0.0, max(length - reach_mm, 0.0) + last.first_mm)
    second_part = polyline.part_between(after, last.second_mm, polyline.length_mm(after))
    return _ending(first_part[:-1], last.at), _starting(second_part[1:], last.at)
