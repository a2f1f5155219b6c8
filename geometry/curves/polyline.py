"""Chains of points: length, place and direction at a length, nearest place, split, joining.

A chain is an array of shape (n, 2), n >= 1, in millimetres. ``s_mm`` is always a length along it from its
first point; values outside the chain are clamped to its ends.
"""

from __future__ import annotations

import math
from bisect import bisect_right

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Point, Points, frozen_points
from geometry.curves.once_per_chain import once_per_chain
from geometry.curves.rings import ring_of
from geometry.curves.segments import complexes, segments_of
from geometry.tolerance import FLOAT_MM, SAME_POINT_MM


@once_per_chain
def stations_mm(chain: Points) -> NDArray[np.float64]:
    """Length along the chain at each of its points, read-only, shape (n,), first 0."""
    stations = np.zeros(len(chain))
    if len(chain) > 1:
        steps = chain[1:] - chain[:-1]
        np.hypot(steps[:, 0], steps[:, 1]).cumsum(out=stations[1:])
    stations.flags.writeable = False
    return stations


def length_mm(chain: Points) -> float:
    """Length of the chain; 0 for a single point."""
    return float(stations_mm(chain)[-1])


def point_at(chain: Points, s_mm: float) -> Point:
    """The point at a length along the chain."""
    stations, numbers = _listed(chain)
    if s_mm <= 0.0 or len(stations) == 1:
        return (numbers[0], numbers[1])
    index = min(bisect_right(stations, s_mm), len(stations) - 1)
    start, end = stations[index - 1], stations[index]
    share = min((s_mm - start) / (end - start), 1.0) if end > start else 0.0
    x0, y0, x1, y1 = numbers[2 * index - 2 : 2 * index + 2]
    return (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)


@once_per_chain
def _listed(chain: Points) -> tuple[list[float], list[float]]:
    """Stations of a chain, and x and y of its points by turns, as plain numbers: sooner asked for a single place."""
    return stations_mm(chain).tolist(), chain.ravel().tolist()


def direction_at(chain: Points, s_mm: float, *, arriving: bool = False) -> Point:
    """Unit direction of travel at a length along the chain.

    At a vertex it is the direction of the segment that follows, or with ``arriving`` of the one before; at the ends, of
    the only one there is. A chain without length, but for float noise, gives (0, 0).
    """
    stations = stations_mm(chain)
    total = float(stations[-1])
    if total <= FLOAT_MM:
        return (0.0, 0.0)
    at = min(max(s_mm, 0.0), total)
    found = stations.searchsorted(at - FLOAT_MM) if arriving else stations.searchsorted(at + FLOAT_MM, side="right")
    index = min(max(int(found), 1), len(chain) - 1)
    while index > 1 and stations[index] - stations[index - 1] <= FLOAT_MM:
        index -= 1
    step = chain[index] - chain[index - 1]
    size = math.hypot(float(step[0]), float(step[1]))
    return (float(step[0]) / size, float(step[1]) / size) if size > 0 else (0.0, 0.0)


def nearest(chain: Points, place: Point) -> tuple[float, float]:
    """Length along the chain of its point nearest to a place, and the distance to it (both mm).

    Of several equally near points the first is taken.
    """
    if len(chain) == 1:
        return 0.0, math.hypot(place[0] - chain[0, 0], place[1] - chain[0, 1])
    if len(chain) == 2:
        return _nearest_on_segment(chain, place)
    shares, ways = segments_of(chain).gaps(complex(*place))
    gaps = np.abs(ways)
    index = int(gaps.argmin())
    start_mm, end_mm = stations_mm(chain)[index : index + 2].tolist()
    return start_mm + float(shares[index]) * (end_mm - start_mm), float(gaps[index])


def _nearest_on_segment(chain: Points, place: Point) -> tuple[float, float]:
    (x, y), (x1, y1) = chain.tolist()
    dx, dy = x1 - x, y1 - y
    size = dx * dx + dy * dy
    share = min(max(((place[0] - x) * dx + (place[1] - y) * dy) / max(size, FLOAT_MM * FLOAT_MM), 0.0), 1.0)
    return share * math.sqrt(size), math.hypot(x + share * dx - place[0], y + share * dy - place[1])


def least_gap_mm(chain: Points, place: Point) -> float:
    """A distance that the place is from the chain at least, sooner worked out than the distance; may be negative.

    Half of what the way from end to end over the place is longer than the chain.
    """
    _, numbers = _listed(chain)
    start, end = (numbers[0], numbers[1]), (numbers[-2], numbers[-1])
    return (math.dist(start, place) + math.dist(place, end) - length_mm(chain)) / 2


def distances_mm(chain: Points, places: Points) -> NDArray[np.float64]:
    """Distance of each place of shape (m, 2) from the chain (n >= 2 points), shape (m,)."""
    _, ways = segments_of(chain).gaps(complexes(places)[:, None])
    distances: NDArray[np.float64] = np.abs(ways).min(axis=1)
    return distances


def part_between(chain: Points, from_mm: float, to_mm: float) -> Points:
    """The part of the chain between two lengths (from_mm <= to_mm), its ends put in; at least one point."""
    stations = stations_mm(chain)
    total = float(stations[-1])
    if from_mm <= 0 and to_mm >= total:
        return chain
    low, high = stations.searchsorted((from_mm + FLOAT_MM, to_mm - FLOAT_MM)).tolist()
    part = np.empty((max(high - low, 0) + 2, 2))
    part[0] = chain[0] if from_mm <= 0 else point_at(chain, from_mm)
    part[1:-1] = chain[low:high]
    part[-1] = chain[-1] if to_mm >= total else point_at(chain, to_mm)
    part.flags.writeable = False
    return part


def joined(chains: tuple[Points, ...]) -> Points:
    """The chains one after the other; where one starts where the last ended, that point is kept once."""
    parts = [chains[0]]
    for chain in chains[1:]:
        gap = chain[0] - parts[-1][-1]
        parts.append(chain[1:] if math.hypot(float(gap[0]), float(gap[1])) <= SAME_POINT_MM else chain)
    return frozen_points(np.vstack(parts))


def without_doubled_points(chain: Points, *, within_mm: float = SAME_POINT_MM) -> Points:
    """The chain without points nearer than ``within_mm`` to the last one kept; its end point always stays."""
    if len(chain) < 2:
        return chain
    steps = np.diff(chain, axis=0)
    near = np.hypot(steps[:, 0], steps[:, 1]) <= within_mm
    if not near.any():
        return chain
    kept = [chain[0]]
    for point in chain[1:]:
        if math.hypot(point[0] - kept[-1][0], point[1] - kept[-1][1]) > within_mm:
            kept.append(point)
    if len(kept) > 1:
        kept[-1] = chain[-1]
    else:
        kept.append(chain[-1])
    return frozen_points(np.array(kept))


def offset_from_chord_mm(chain: Points) -> float:
    """The largest distance of the chain's points from the straight line between its ends.

    Where the ends coincide, the largest distance from them.
    """
    if len(chain) <= 2:
        return 0.0
    from_start = chain - chain[0]
    ux, uy = from_start[-1]
    size = math.hypot(float(ux), float(uy))
    if size <= SAME_POINT_MM:
        return float(np.hypot(from_start[:, 0], from_start[:, 1]).max())
    along = (from_start[:, 0] * ux + from_start[:, 1] * uy) / size
    across = np.abs(from_start[:, 1] * ux - from_start[:, 0] * uy) / size
    beyond = np.maximum(np.maximum(-along, along - size), 0.0)
    return float(np.maximum(across, beyond).max())


def signed_area_mm2(ring: Points) -> float:
    """Area inside a closed ring (its first point not repeated); positive if it runs counter-clockwise."""
    x, y = ring[:, 0] - ring[0, 0], ring[:, 1] - ring[0, 1]  # the first point is 0, 0: the closing segment adds nothing
    return float(np.dot(x[:-1], y[1:]) - np.dot(y[:-1], x[1:])) / 2


def contains(ring: Points, places: Points) -> NDArray[np.bool_]:
    """For each place of shape (m, 2) whether it is inside the closed ring (even-odd rule)."""
    return ring_of(ring).holding(complexes(places))[:, 0]
