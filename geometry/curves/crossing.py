"""Where two chains of points cross or touch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Point, Points
from geometry.curves import polyline
from geometry.curves.segments import complexes
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
    met = _may_meet(first, second) if len(first) <= len(second) else _may_meet(second, first).T
    found = [crossing for i, j in np.argwhere(met).tolist() if (crossing := _crossing(first, i, second, j))]
    found.sort(key=lambda crossing: (crossing.first_mm, crossing.second_mm))
    single: list[Crossing] = []
    for crossing in found:
        if not single or crossing.first_mm - single[-1].first_mm > SAME_POINT_MM:
            single.append(crossing)
    return tuple(single)


def met_by_line(chain: Points, place: Point, ahead: Point) -> list[tuple[float, float]]:
    """Where a line without ends crosses a chain, in order along the chain; a line that only touches it does not.

    Given a place on the line and its unit direction. For each crossing its lengths along the line from that place,
    negative behind it, and along the chain (both mm).
    """
    to_x, to_y = chain[:, 0] - place[0], chain[:, 1] - place[1]
    across = to_x * ahead[1] - to_y * ahead[0]
    is_left = across > 0
    found = []
    for index in np.flatnonzero(is_left[1:] != is_left[:-1]).tolist():
        share = float(across[index] / (across[index] - across[index + 1]))
        along = to_x[index : index + 2] * ahead[0] + to_y[index : index + 2] * ahead[1]
        stations = polyline.stations_mm(chain)[index : index + 2]
        found.append(
            (
                float(along[0] + share * (along[1] - along[0])),
                float(stations[0] + share * (stations[1] - stations[0])),
            )
        )
    return found


def _may_meet(short: Points, long: Points) -> NDArray[np.bool_]:
    """Which segments of two chains may meet, shape (short, long): of a single one it is enough to ask from its side."""
    met = _met_by_lines(short, long)
    return met if len(short) == 2 else met & _met_by_lines(long, short).T


def _met_by_lines(first: Points, second: Points) -> NDArray[np.bool_]:
    """Which segments of the second chain may meet the line through which of the first, shape (first, second).

    All whose ends are not on one side of the line, further from it than a point is wide, and now and then one more.
    """
    corners = complexes(first)
    starts, steps = corners[:-1, None], (corners[1:] - corners[:-1])[:, None]
    sides = (steps.conj() * (complexes(second) - starts)).imag
    slack = SAME_POINT_MM * np.abs(steps)
    met: NDArray[np.bool_] = sides[:, 1:] * sides[:, :-1] <= slack * slack
    return met


def _crossing(first: Points, i: int, second: Points, j: int) -> Crossing | None:
    """Where a segment of the first chain and one of the second meet; ``None`` if they do not, or are parallel."""
    (a, r), (c, q) = _segment(first, i), _segment(second, j)
    turn, sizes = (r.conjugate() * q).imag, (abs(r), abs(q))
    if abs(turn) <= FLOAT_MM * sizes[0] * sizes[1]:
        return None
    back = (c - a).conjugate()
    shares = (back * q).imag / turn, (back * r).imag / turn
    if any((abs(share - 0.5) - 0.5) * size > SAME_POINT_MM for share, size in zip(shares, sizes, strict=True)):
        return None
    share, other = (min(max(each, 0.0), 1.0) for each in shares)
    place = a + share * r
    first_mm, second_mm = float(polyline.stations_mm(first)[i]), float(polyline.stations_mm(second)[j])
    return Crossing((place.real, place.imag), first_mm + share * sizes[0], second_mm + other * sizes[1])


def _segment(chain: Points, number: int) -> tuple[complex, complex]:
    """Where a segment of a chain starts, and the way to its end."""
    (x0, y0), (x1, y1) = chain[number : number + 2].tolist()
    return complex(x0, y0), complex(x1 - x0, y1 - y0)
