"""Where two chains of points cross or touch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Point, Points
from geometry.curves import polyline
from geometry.curves.segments import Floats, segments_of
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
    a, r = (each[:, None] for each in segments_of(first)[:2])
    c, q = segments_of(second)[:2]
    first_at, second_at = polyline.stations_mm(first), polyline.stations_mm(second)
    sizes_r, sizes_q = (first_at[1:] - first_at[:-1])[:, None], second_at[1:] - second_at[:-1]
    back_r = r.conj()
    turn = (back_r * q).imag
    crosses = np.abs(turn) > FLOAT_MM * sizes_r * sizes_q
    safe = np.where(crosses, turn, 1.0)
    gap = c - a
    t, u = (gap.conj() * q).imag / safe, -(back_r * gap).imag / safe
    hit = crosses & _within(t, sizes_r) & _within(u, sizes_q)
    found = []
    for i, j in np.argwhere(hit).tolist():
        share, other = min(max(float(t[i, j]), 0.0), 1.0), min(max(float(u[i, j]), 0.0), 1.0)
        place = complex(a[i, 0] + share * r[i, 0])
        first_mm = float(first_at[i] + share * sizes_r[i, 0])
        found.append(Crossing((place.real, place.imag), first_mm, float(second_at[j] + other * sizes_q[j])))
    found.sort(key=lambda crossing: (crossing.first_mm, crossing.second_mm))
    single: list[Crossing] = []
    for crossing in found:
        if not single or crossing.first_mm - single[-1].first_mm > SAME_POINT_MM:
            single.append(crossing)
    return tuple(single)


def _within(shares: Floats, sizes_mm: Floats) -> NDArray[np.bool_]:
    """Whether shares of segments lie on them, or before or after them by less than a point is wide."""
    beyond = np.abs(shares - 0.5) - 0.5
    on: NDArray[np.bool_] = beyond * sizes_mm <= SAME_POINT_MM
    return on
