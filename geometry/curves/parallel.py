"""Parallels of chains: the line at a constant distance beside another one."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Points, frozen_points
from geometry.curves.polyline import signed_area_mm2, without_doubled_points
from geometry.tolerance import FLOAT_MM, PARALLEL_MM, RING_ROUNDS, SAME_POINT_MM

_ROWS = 256
"""Segments compared with all others in one go, so that dense rings stay within some megabytes."""

_TURNED = np.array([1.0, -1.0])
"""(y, x) times this is (x, y) turned to the right."""


@dataclass(frozen=True, slots=True)
class Parallel:
    """A parallel and where it had to be cut short.

    Attributes:
        points: The parallel, shape (n, 2), n >= 2, in the direction of the chain it was made from.
        lost: Places on the first chain, shape (m, 2), beside which it has no point of its own because the bend
            is tighter than the distance; empty if there are none.
    """

    points: Points
    lost: Points


def parallel(chain: Points, distance_mm: float) -> Parallel:
    """The parallel of an open chain at a distance to its right (negative: to its left).

    Every segment moves by exactly the distance. Outside a bend the gap is closed by the shortest polygon that
    stays within ``PARALLEL_MM`` outside the true arc; inside a bend neighbouring segments are cut where they
    meet, and segments that would run backwards are left out. Its two ends stand square to the ends of the
    chain. Chains that come near themselves further along are not looked at: see ``without_loops``.

    Args:
        chain: Shape (n, 2), n >= 2, mm. One without length comes back unmoved.
        distance_mm: To the right of the direction of travel, which is the outside of a counter-clockwise ring.
    """
    clean = without_doubled_points(chain)
    steps = np.diff(clean, axis=0)
    sizes = np.hypot(steps[:, 0], steps[:, 1])
    nothing_lost = frozen_points(np.empty((0, 2)))
    if distance_mm == 0.0 or sizes.max() <= SAME_POINT_MM:
        return Parallel(clean, nothing_lost)
    along = steps / sizes[:, None]
    if len(along) == 1:
        return Parallel(frozen_points(clean + _right_of(along) * distance_mm), nothing_lost)
    kept, joints = _forward_segments(clean, along, distance_mm)
    lost = clean[:-1][~kept]
    return Parallel(_joined(clean, along, kept, joints, distance_mm), frozen_points(lost))


def _right_of(along: Points) -> Points:
    right: Points = along[:, ::-1] * _TURNED
    return right


def _forward_segments(chain: Points, along: Points, distance_mm: float) -> tuple[NDArray[np.bool_], Points]:
    """Which segments still run forwards once those that run backwards have gone, and where they then meet."""
    kept = np.ones(len(along), dtype=np.bool_)
    for _ in range(RING_ROUNDS):
        index = np.flatnonzero(kept)
        joints = _meeting_points(chain, along, index, distance_mm)
        if len(index) < 2:
            break
        aside = _right_of(along[index]) * distance_mm
        starts, ends = chain[index] + aside, chain[index + 1] + aside
        starts[1:], ends[:-1] = joints, joints
        backwards = np.einsum("ij,ij->i", ends - starts, along[index]) < -FLOAT_MM
        if not backwards.any():
            break
        kept[index[backwards]] = False
        if not kept.any():
            kept[0] = True
    else:
        joints = _meeting_points(chain, along, np.flatnonzero(kept), distance_mm)
    return kept, joints


def _meeting_points(chain: Points, along: Points, index: NDArray[np.intp], distance_mm: float) -> Points:
    """Where the moved lines of consecutive kept segments meet, shape (len(index) - 1, 2)."""
    before, after = along[index[:-1]], along[index[1:]]
    right_before, right_after = _right_of(before), _right_of(after)
    cosine = np.einsum("ij,ij->i", before, after)
    mitre = (right_before + right_after) * (distance_mm / np.maximum(1.0 + cosine, PARALLEL_MM))[:, None]
    joints: Points = chain[index[1:]] + mitre
    for row in np.flatnonzero(np.diff(index) > 1):  # segments between them were left out: no common vertex
        end = chain[index[row] + 1] + right_before[row] * distance_mm
        start = chain[index[row + 1]] + right_after[row] * distance_mm
        sine = before[row, 0] * after[row, 1] - before[row, 1] * after[row, 0]
        gap = start - end
        reach = (gap[0] * after[row, 1] - gap[1] * after[row, 0]) / sine if abs(sine) > PARALLEL_MM else math.inf
        far = abs(reach) > float(np.hypot(*gap)) + 4.0 * abs(distance_mm)
        joints[row] = (start + end) / 2 if far else end + before[row] * reach
    return joints


def _joined(chain: Points, along: Points, kept: NDArray[np.bool_], joints: Points, distance_mm: float) -> Points:
    index = np.flatnonzero(kept)
    right = _right_of(along)
    first = chain[index[0]] + right[index[0]] * distance_mm
    last = chain[index[-1] + 1] + right[index[-1]] * distance_mm
    before, after = along[index[:-1]], along[index[1:]]
    turn = np.arctan2(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], np.einsum("ij,ij->i", before, after))
    widest = 2.0 * math.acos(abs(distance_mm) / (abs(distance_mm) + PARALLEL_MM))
    outside = turn * math.copysign(1.0, distance_mm) > widest
    outside &= np.diff(index) == 1
    parts: list[Points] = [first[None, :]]
    done = 0
    for row in np.flatnonzero(outside).tolist():
        parts.append(joints[done:row])
        parts.append(_arc(chain[index[row + 1]], right[index[row]], float(turn[row]), distance_mm, widest))
        done = row + 1
    parts.extend([joints[done:], last[None, :]])
    return frozen_points(np.vstack(parts))


def _arc(centre: Points, right: Points, turn_rad: float, distance_mm: float, widest_rad: float) -> Points:
    """The polygon round the arc from one segment's side to the next one's, touching it in its middle points."""
    count = math.ceil(abs(turn_rad) / widest_rad)
    angles = turn_rad * (np.arange(count) + 0.5) / count
    radius = distance_mm / math.cos(turn_rad / count / 2)
    cos, sin = np.cos(angles), np.sin(angles)
    spokes = np.column_stack([right[0] * cos - right[1] * sin, right[0] * sin + right[1] * cos])
    arc: Points = centre + spokes * radius
    return arc


def without_loops(ring: Points) -> tuple[Points, Points]:
    """A closed ring without the loops its crossings make, and the crossings at which it was cut.

    At each crossing, or place where it touches itself, the ring falls into two; the one with more area inside,
    counted counter-clockwise, stays.
    A ring without crossings comes back as the same object with an empty array. After ``RING_ROUNDS`` crossings
    the ring is returned as far as it has come.
    """
    places: list[Points] = []
    for _ in range(RING_ROUNDS):
        found = _first_crossing(ring)
        if found is None:
            break
        i, j, place = found
        inner = np.vstack([place[None, :], ring[i + 1 : j + 1]])
        outer = np.vstack([ring[: i + 1], place[None, :], ring[j + 1 :]])
        ring = frozen_points(outer if signed_area_mm2(outer) >= signed_area_mm2(inner) else inner)
        places.append(place)
    return ring, frozen_points(np.array(places).reshape(-1, 2))


def _first_crossing(ring: Points) -> tuple[int, int, Points] | None:
    """Two segments that cross or touch, i < j, and where; ``None`` if no two do but neighbours."""
    step = np.roll(ring, -1, axis=0) - ring
    for first in range(0, len(ring), _ROWS):
        found = _crossing_from(ring, step, first)
        if found is not None:
            return found
    return None


def _crossing_from(ring: Points, step: Points, first: int) -> tuple[int, int, Points] | None:
    """The same among ``_ROWS`` segments from a first one and all that follow."""
    mine, start = step[first : first + _ROWS, None, :], ring[first : first + _ROWS, None, :]
    gap = ring[None, :, :] - start
    sine = mine[..., 0] * step[:, 1] - mine[..., 1] * step[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (gap[..., 0] * step[:, 1] - gap[..., 1] * step[:, 0]) / sine
        share_of_other = (gap[..., 0] * mine[..., 1] - gap[..., 1] * mine[..., 0]) / sine
    low, high = -FLOAT_MM, 1.0 + FLOAT_MM
    hits = (share >= low) & (share <= high) & (share_of_other >= low) & (share_of_other <= high)
    hits = np.triu(hits, k=first + 2)
    if first == 0:
        hits[0, -1] = False  # the last segment ends where the first one starts
    rows, columns = np.nonzero(hits)
    if len(rows) == 0:
        return None
    i, j = int(rows[0]), int(columns[0])
    place: Points = ring[first + i] + step[first + i] * share[i, j]
    return first + i, j, place
