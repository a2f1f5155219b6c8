"""A traced outline drawn clean: corners where its sides meet, straight sides straight, curves without the shake."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.affine import Points, frozen_points
from geometry.curves.corners import SAMPLE_MM, resampled, side_course, traced_corners
from geometry.tolerance import RETRACE_MM, THINNED_MM, TRACE_STRAIGHT_MM

_HALF_WINDOW = 8
"""Samples on either side in the moving parabola: shake of 0.1 mm is left as 0.04, a bend of 25 mm radius is kept."""

_AVERAGED = 9
"""Samples averaged when asking whether a side bends."""

_CORNER_MM = 1.5
"""Points this near a corner do not help to tell where a straight side lies."""

_MOST_ROUNDS = 40
"""Cap on halvings while thinning: more would mean more points than any outline has."""


@dataclass(frozen=True, slots=True)
class Retraced:
    """A clean outline.

    Attributes:
        chains: One per side, counter-clockwise as the trace was, each starting where the one before ends.
        straightened: How many sides were drawn as one straight line.
        smoothed: How many were smoothed.
        moved_mm: The furthest any traced point lies from the clean outline.
    """

    chains: tuple[Points, ...]
    straightened: int
    smoothed: int
    moved_mm: float


def retraced(ring: Points) -> Retraced:
    """A traced closed ring drawn clean.

    A side whose course, its shake averaged out, stays within ``TRACE_STRAIGHT_MM`` of one line becomes that line.
    Any other is smoothed by moving parabolas and thinned to points that keep within ``THINNED_MM`` of the smooth
    curve; where it would end up further than ``RETRACE_MM`` from a traced point it is only thinned. Corners are where
    the courses of their sides meet. A ring without two corners is cut at its first point and at the one furthest
    from there.
    """
    samples, step_mm = resampled(ring)
    cuts, is_corner = _cuts(samples, [round(at / step_mm) % len(samples) for at in traced_corners(ring)])
    runs = [
        frozen_points(samples[np.arange(start, end + 1) % len(samples)])
        for start, end in zip(cuts, [*cuts[1:], cuts[0] + len(samples)], strict=True)
    ]
    lines = [_line(run, step_mm) for run in runs]
    places = []
    for index, start in enumerate(cuts):
        after = lines[index] or side_course(samples, step_mm, start, 1)
        before = lines[index - 1] or side_course(samples, step_mm, start, -1)
        places.append(_meeting(before, after, samples[start]) if is_corner else samples[start])
    chains = []
    for index, (run, line) in enumerate(zip(runs, lines, strict=True)):
        ends = np.array([places[index], places[(index + 1) % len(places)]])
        chains.append(frozen_points(ends) if line else _clean(run, ends))
    outline = frozen_points(np.vstack([*chains, chains[0][:1]]))
    straightened = sum(line is not None for line in lines)
    moved_mm = float(_distances(outline, ring).max())
    return Retraced(tuple(chains), straightened, len(chains) - straightened, moved_mm)


def _cuts(samples: Points, corners: list[int]) -> tuple[list[int], bool]:
    if len(corners) >= 2:
        return corners, True
    start = corners[0] if corners else 0
    away = np.hypot(*(samples - samples[start]).T)
    return sorted({start, int(np.argmax(away))}), False


def _line(run: Points, step_mm: float) -> tuple[Points, Points] | None:
    """Middle and direction of the line a run follows; ``None`` if it bends."""
    ends = round(_CORNER_MM / step_mm)
    inner = run[ends : len(run) - ends] if len(run) > 2 * ends + 4 else run
    middle = inner.mean(axis=0)
    along = np.linalg.svd(inner - middle, full_matrices=False)[2][0]
    off = (inner[:, 0] - middle[0]) * along[1] - (inner[:, 1] - middle[1]) * along[0]
    width = min(_AVERAGED, len(off))
    course = np.convolve(off, np.full(width, 1.0 / width), mode="valid")
    straight = float(np.abs(course).max()) <= TRACE_STRAIGHT_MM and float(np.abs(off).max()) <= RETRACE_MM
    return (middle, along) if straight else None


def _meeting(before: tuple[Points, Points], after: tuple[Points, Points], near: Points) -> Points:
    """Where two courses meet; the sample itself where that is not near it."""
    (place, along), (other, back) = before, after
    sine = along[0] * back[1] - along[1] * back[0]
    gap = other - place
    meeting: Points = place + along * ((gap[0] * back[1] - gap[1] * back[0]) / (sine or 1.0))
    return meeting if float(np.hypot(*(meeting - near))) <= 2 * SAMPLE_MM else near


def _clean(run: Points, ends: Points) -> Points:
    anchored = frozen_points(np.vstack([ends[:1], run[1:-1], ends[1:]]))
    smooth = _smoothed(anchored)
    if float(_distances(smooth, anchored).max()) > RETRACE_MM:
        smooth = anchored
    return thinned(smooth, within_mm=THINNED_MM)


def _smoothed(run: Points) -> Points:
    """Moving least-squares parabolas over an evenly spaced chain; its ends stay."""
    half = min(_HALF_WINDOW, (len(run) - 1) // 2)
    if half < 2:
        return run
    offsets = np.arange(-half, half + 1)
    powers = np.vander(offsets, 3, increasing=True)
    weights = np.linalg.pinv(powers)[0]
    padded = np.vstack([2 * run[0] - run[half:0:-1], run, 2 * run[-1] - run[-2 : -half - 2 : -1]])
    smooth = np.column_stack([np.convolve(padded[:, axis], weights, mode="valid") for axis in (0, 1)])
    smooth[0], smooth[-1] = run[0], run[-1]
    return frozen_points(smooth)


def thinned(chain: Points, *, within_mm: float) -> Points:
    """The chain without points that lie within a distance of the line through their kept neighbours; ends stay."""
    kept = np.zeros(len(chain), dtype=np.bool_)
    kept[[0, -1]] = True
    spans = [(0, len(chain) - 1)]
    for _ in range(_MOST_ROUNDS):
        wider = []
        for start, end in spans:
            part = chain[start : end + 1]
            away = _distances(frozen_points(part[[0, -1]]), part)
            worst = int(np.argmax(away))
            if away[worst] > within_mm:
                kept[start + worst] = True
                wider.extend([(start, start + worst), (start + worst, end)])
        spans = wider
        if not spans:
            break
    return frozen_points(chain[kept])


def _distances(chain: Points, places: Points) -> Points:
    """Distance of each place from a chain, shape (m,)."""
    start, step = chain[:-1], np.diff(chain, axis=0)
    sizes = np.einsum("ij,ij->i", step, step)
    gap = places[:, None, :] - start[None, :, :]
    shares = np.einsum("mij,ij->mi", gap, step) / np.where(sizes > 0, sizes, 1.0)
    gap -= step * np.clip(shares, 0.0, 1.0)[..., None]
    distances: Points = np.sqrt(np.einsum("mij,mij->mi", gap, gap).min(axis=1))
    return distances
