"""The cap of a dart: the cutting line across its mouth, so that its folded cloth is caught in the seam."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Affine, Point, Points, angle_between, as_point, distance_mm, frozen_points, unit_vector
from geometry.curves import polyline
from geometry.curves.mitre import cornered
from geometry.tolerance import SAME_POINT_MM

_LARGEST = 3.0
"""A cap that stands further from the mouth than this many (mouth + allowance) is not a cap but a misdrawn dart."""


def capped(before: Points, after: Points, start: Point, end: Point, tip: Point) -> tuple[Points, Points, Points] | None:
    """The cutting line past a dart that is pressed towards ``start``.

    The dart is folded shut by turning what comes after it about the tip; the two cutting lines are joined, cut
    across all layers of the fold, and opened again: the half of the intake next to ``start`` shows the line before
    the dart mirrored in that leg, the other half the same mirrored in the dart's middle line.

    Args:
        before: Cutting line up to the mouth, ending beside ``start``.
        after: Cutting line from the mouth on, beginning beside ``end``.
        start: Mouth point of the leg it is pressed towards.
        end: The other mouth point.
        tip: Where the legs meet.

    Returns:
        The line before, the cap and the line after, each starting where the one before ends; ``None`` where the
        dart has no width or the lines do not meet its legs, so that no cap can be drawn.
    """
    angle = angle_between(tip, end, start)
    if abs(angle) * distance_mm(tip, start) <= SAME_POINT_MM or distance_mm(tip, end) <= SAME_POINT_MM:
        return None
    fold = Affine.turned(angle, tip)
    seam_before, seam_after = cornered(before, fold.points(after), start, distance_mm(as_point(before[-1]), start))
    seam = polyline.joined((seam_before, seam_after))
    split = _cut_by_ray(seam, tip, start)
    if split is None:
        return None
    to_leg, from_leg = split
    middle = Affine.turned(-angle / 2, tip).point(start)
    half = Affine.mirrored(tip, start).points(frozen_points(to_leg[::-1]))
    width_mm = distance_mm(start, end) + distance_mm(as_point(to_leg[-1]), start)
    inner = _up_to_ray(half, tip, middle, spare_mm=4.0 * width_mm)
    if inner is None or np.hypot(*(inner - start).T).max() > _LARGEST * width_mm:
        return None
    outer = Affine.mirrored(tip, middle).points(frozen_points(inner[::-1]))
    unfold = Affine.turned(-angle, tip)
    return to_leg, polyline.joined((inner, outer)), unfold.points(from_leg)


def _cut_by_ray(chain: Points, tip: Point, through: Point) -> tuple[Points, Points] | None:
    """The chain cut where it crosses the ray from the tip, at the crossing nearest to ``through``."""
    place, index = _ray_crossing(chain, tip, through, nearest=True)
    if place is None:
        return None
    return (
        frozen_points(np.vstack([chain[: index + 1], [place]])),
        frozen_points(np.vstack([[place], chain[index + 1 :]])),
    )


def _up_to_ray(chain: Points, tip: Point, through: Point, *, spare_mm: float) -> Points | None:
    """The chain up to where it first crosses the ray, lengthened straight by ``spare_mm`` if it must be."""
    (x, y), (ux, uy) = as_point(chain[-1]), polyline.direction_at(chain, math.inf)
    longer = np.vstack([chain, [(x + ux * spare_mm, y + uy * spare_mm)]])
    place, index = _ray_crossing(longer, tip, through, nearest=False)
    return None if place is None else frozen_points(np.vstack([longer[: index + 1], [place]]))


def _ray_crossing(chain: Points, tip: Point, through: Point, *, nearest: bool) -> tuple[Point | None, int]:
    ux, uy = unit_vector(tip, through)
    x, y = chain[:, 0] - tip[0], chain[:, 1] - tip[1]
    side, along = ux * y - uy * x, ux * x + uy * y
    shares, index = _sign_changes(side)
    reach = along[index] + (along[index + 1] - along[index]) * shares
    ahead = np.flatnonzero(reach > 0)
    if len(ahead) == 0:
        return None, 0
    target = distance_mm(tip, through)
    best = ahead[np.argmin(np.abs(reach[ahead] - target))] if nearest else ahead[0]
    at = int(index[best])
    place = chain[at] + (chain[at + 1] - chain[at]) * shares[best]
    return as_point(place), at


def _sign_changes(side: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.intp]]:
    """Shares along, and indices of, the segments whose ends lie on different sides."""
    index = np.flatnonzero((side[:-1] > 0) != (side[1:] > 0))
    return side[index] / (side[index] - side[index + 1]), index
