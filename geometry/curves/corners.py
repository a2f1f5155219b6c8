"""Corners of a closed outline: where its direction jumps instead of turning gradually.

A corner is a jump of at least ``CORNER_DEG``. An outline that was drawn is judged by its vertices; one that was
traced by hand, whose points shake, by smooth curves laid through the points on either side.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Points, frozen_points
from geometry.curves import polyline
from geometry.tolerance import ROUGH_MM

CORNER_DEG = 30.0
"""The smallest jump that counts as a corner: those of garments turn by 50 to 130 degrees (interior 130 to 50), while
the vertices of a coarsely drawn armhole stay below 25 (common practice, no source)."""

SAMPLE_MM = 1.0
"""Traces are looked at in steps of this length, the usual spacing of a digitiser's stream."""

_WINDOW_MM = 1.5
"""A corner may be spread over this much of the outline on either side: a mended gap, a tiny fillet."""

_LONG_MM = 25.0
"""Segments at least this long are sides of a polygon, not chords of a curve."""

_SIDE_MM = 12.0
"""Length of the curve laid through the points on each side of a place on a trace."""

_SKIPPED_MM = 1.5
"""Points this near a corner of a trace belong to neither side."""

_CHORD_MM = 8.0
"""Length of the chords whose angle finds the candidates on a trace."""


def roughness_mm(ring: Points) -> float:
    """How much the points of a closed ring shake: median deviation from their neighbours' smooth course.

    0 for drawn curves and polygons, about 1.2 times the shake of a trace; only points whose neighbours are within
    ``5 * SAMPLE_MM`` count, and where these are less than half the points the answer is 0.
    """
    before, after = np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0)
    chord = after - before
    size = np.hypot(chord[:, 0], chord[:, 1])
    near = (np.hypot(*(ring - before).T) < 5 * SAMPLE_MM) & (np.hypot(*(after - ring).T) < 5 * SAMPLE_MM)
    if 2 * np.count_nonzero(near) < len(ring):
        return 0.0
    side = ring - before
    off = (chord[:, 0] * side[:, 1] - chord[:, 1] * side[:, 0]) / np.where(size > 0, size, 1.0)
    shake = np.abs(off - (np.roll(off, 1) + np.roll(off, -1)) / 2)
    return float(np.median(shake[near]))


def is_rough(ring: Points) -> bool:
    """Whether a closed ring is a trace whose points shake by more than ``ROUGH_MM``."""
    return len(ring) >= 40 and roughness_mm(ring) > ROUGH_MM


def turns_rad(ring: Points) -> NDArray[np.float64]:
    """The turn at each vertex of a closed ring, counter-clockwise positive, shape (n,)."""
    arriving = ring - np.roll(ring, 1, axis=0)
    leaving = np.roll(arriving, -1, axis=0)
    cross = arriving[:, 0] * leaving[:, 1] - arriving[:, 1] * leaving[:, 0]
    turns: NDArray[np.float64] = np.arctan2(cross, np.einsum("ij,ij->i", arriving, leaving))
    return turns


def drawn_corners(ring: Points) -> tuple[int, ...]:
    """Indices of the corner vertices of a drawn ring of shape (n, 2), n >= 3, in order.

    The turn is summed over ``_WINDOW_MM`` on both sides, so that a corner cut off by a hair still counts. A turn
    below 60 degrees is a corner only if it stands out from the vertices around it or between long sides.
    """
    turn = turns_rad(ring)
    sides = np.hypot(*(np.roll(ring, -1, axis=0) - ring).T)
    total = float(sides.sum())
    at = np.concatenate([[0.0], np.cumsum(sides)[:-1]])
    stations = np.concatenate([at - total, at, at + total])
    sums = np.concatenate([[0.0], np.cumsum(np.tile(turn, 3))])
    low = np.searchsorted(stations, at - _WINDOW_MM)
    high = np.searchsorted(stations, at + _WINDOW_MM, side="right")
    summed = np.abs(sums[high] - sums[low])
    candidates = np.flatnonzero((summed >= math.radians(CORNER_DEG)) & (np.abs(turn) > summed / 8))
    strongest = _suppressed(candidates, at, summed + np.abs(turn) / 8, total, 2 * _WINDOW_MM)
    return tuple(i for i in strongest if _stands_out(i, turn, sides, float(summed[i])))


def _stands_out(index: int, turn: NDArray[np.float64], sides: NDArray[np.float64], summed_rad: float) -> bool:
    count = len(turn)
    if summed_rad >= math.radians(60) or min(sides[index], sides[index - 1]) >= _LONG_MM:
        return True
    beyond = max(abs(float(turn[index - 1])), abs(float(turn[(index + 1) % count])))
    return summed_rad >= 2 * beyond or beyond > summed_rad


def _suppressed(
    candidates: NDArray[np.intp],
    at: NDArray[np.float64],
    strength: NDArray[np.float64],
    total_mm: float,
    apart_mm: float,
) -> list[int]:
    """The candidates that are strongest within a distance along the ring, in ring order."""
    kept: list[int] = []
    for index in sorted(candidates.tolist(), key=lambda i: (-float(strength[i]), i)):
        gaps = [abs(float(at[index] - at[other])) for other in kept]
        if all(min(gap, total_mm - gap) > apart_mm for gap in gaps):
            kept.append(index)
    return sorted(kept)


def traced_corners(ring: Points) -> tuple[float, ...]:
    """Lengths along a traced closed ring at which it has corners, in order, to about ``SAMPLE_MM``.

    Candidates are the places where chords of ``_CHORD_MM`` meet at an angle; they count if parabolas laid through
    the ``_SIDE_MM`` before and after them still differ in direction by ``CORNER_DEG``, so a bend of small radius
    is no corner.
    """
    samples, step_mm = resampled(ring)
    count = len(samples)
    chord = max(2, round(_CHORD_MM / step_mm))
    arriving = samples - np.roll(samples, chord, axis=0)
    leaving = np.roll(samples, -chord, axis=0) - samples
    cross = arriving[:, 0] * leaving[:, 1] - arriving[:, 1] * leaving[:, 0]
    turn = np.abs(np.arctan2(cross, np.einsum("ij,ij->i", arriving, leaving)))
    at: NDArray[np.float64] = np.arange(count, dtype=np.float64) * step_mm
    candidates = np.flatnonzero(turn >= math.radians(CORNER_DEG) * 0.7)
    peaks = _suppressed(candidates, at, turn, count * step_mm, _CHORD_MM * 0.75)
    return tuple(float(at[i]) for i in peaks if _jump_rad(samples, step_mm, i) >= math.radians(CORNER_DEG))


def resampled(ring: Points) -> tuple[Points, float]:
    """A closed ring in equal steps of about ``SAMPLE_MM`` from its first point, and the step's length."""
    closed = np.vstack([ring, ring[:1]])
    stations = polyline.stations_mm(closed)
    count = max(16, round(float(stations[-1]) / SAMPLE_MM))
    at = np.linspace(0.0, float(stations[-1]), count, endpoint=False)
    x, y = np.interp(at, stations, closed[:, 0]), np.interp(at, stations, closed[:, 1])
    return frozen_points(np.column_stack([x, y])), float(stations[-1]) / count


def _jump_rad(samples: Points, step_mm: float, index: int) -> float:
    """Angle between the directions in which parabolas fitted before and after a place arrive and leave there."""
    before, after = (side_course(samples, step_mm, index, sign)[1] for sign in (-1, 1))
    arriving = -before
    cross = arriving[0] * after[1] - arriving[1] * after[0]
    return abs(math.atan2(cross, float(arriving @ after)))


def side_course(
    samples: Points, step_mm: float, index: int, sign: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Place and direction, away from the corner, of the parabola through the samples on one side of it."""
    first, last = math.ceil(_SKIPPED_MM / step_mm), round((_SKIPPED_MM + _SIDE_MM) / step_mm)
    reach = np.arange(first, last + 1)
    points = samples[(index + sign * reach) % len(samples)]
    powers = np.vander(reach * step_mm, 3, increasing=True)
    solution = np.linalg.lstsq(powers, points, rcond=None)[0]
    return solution[0], solution[1]
