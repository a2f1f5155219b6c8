"""Where two chains of points cross or touch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.affine import Point, Points, as_point
from geometry.curves import polyline
from geometry.tolerance import FLOAT_MM, SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class Crossing:
    """A place where chains meet.

    Attributes:
        at: The place.
        first_mm: Length along the first chain.
        second_mm: Length along the second chain.
    """

    at: Point
    first_mm: float
    second_mm: float


def crossings(first: Points, second: Points) -> tuple[Crossing, ...]:
    """Every place where two chains cross or touch, in order along the first.

    Places nearer than ``SAME_POINT_MM`` along the first chain are one. Stretches that run along each other count
    only where their segments end on one another at an angle; parallel segments give nothing.
    """
    if len(first) < 2 or len(second) < 2:
        return ()
    a, r = first[:-1, None, :], np.diff(first, axis=0)[:, None, :]
    c, q = second[None, :-1, :], np.diff(second, axis=0)[None, :, :]
    turn = r[..., 0] * q[..., 1] - r[..., 1] * q[..., 0]
    gap = c - a
    size_r, size_q = np.hypot(r[..., 0], r[..., 1]), np.hypot(q[..., 0], q[..., 1])
    crosses = np.abs(turn) > FLOAT_MM * size_r * size_q
    safe = np.where(crosses, turn, 1.0)
    t = (gap[..., 0] * q[..., 1] - gap[..., 1] * q[..., 0]) / safe
    u = (gap[..., 0] * r[..., 1] - gap[..., 1] * r[..., 0]) / safe
    slack_t = SAME_POINT_MM / np.maximum(size_r, SAME_POINT_MM)
    slack_u = SAME_POINT_MM / np.maximum(size_q, SAME_POINT_MM)
    hit = crosses & (t >= -slack_t) & (t <= 1 + slack_t) & (u >= -slack_u) & (u <= 1 + slack_u)
    first_at, second_at = polyline.stations_mm(first), polyline.stations_mm(second)
    found = []
    for i, j in zip(*np.nonzero(hit), strict=True):
        share, other = min(max(float(t[i, j]), 0.0), 1.0), min(max(float(u[i, j]), 0.0), 1.0)
        place = as_point(first[i] + share * (first[i + 1] - first[i]))
        found.append(
            Crossing(place, float(first_at[i] + share * size_r[i, 0]), float(second_at[j] + other * size_q[0, j]))
        )
    found.sort(key=lambda crossing: (crossing.first_mm, crossing.second_mm))
    single: list[Crossing] = []
    for crossing in found:
        if not single or crossing.first_mm - single[-1].first_mm > SAME_POINT_MM:
            single.append(crossing)
    return tuple(single)
