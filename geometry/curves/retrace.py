"""A traced outline drawn clean: corners where its sides meet, straight sides straight, curves without the shake."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Point, Points, as_point, frozen_points
from geometry.curves.corners import SAMPLE_MM, resampled, side_course, traced_corners
from geometry.tolerance import RETRACE_MM, THINNED_MM, TRACE_STRAIGHT_MM

_HALF_WINDOW = 8
"""Samples on either side in the moving parabola: shake of 0.1 mm is left as 0.04, a bend of 25 mm radius is kept."""

_WIDEST_HALF_WINDOW = 24
"""No wider, however much may be moved: a bend of 75 mm radius is kept."""

_CORNER_SHARE = 4.0
"""A sharp corner that was rounded in tracing may be put this many times the stated distance from where it was cut."""

_NEAR = 8
"""Points of the neighbouring sides that may be nearer than the side itself."""

_AVERAGED = 9
"""Samples averaged when asking whether a side bends."""

_CORNER_MM = 1.5
"""Points this near a corner do not help to tell where a straight side lies."""

_MOST_ROUNDS = 40
"""Cap on halvings while thinning: more would mean more points than any outline has."""


@dataclass(frozen=True, slots=True)
class TraceCorner:
    """A place on a traced outline where its direction jumps.

    Attributes:
        at_mm: Length along the ring, as traced.
        place: The traced point nearest to it.
        inside_deg: The angle inside the piece, where the ring runs counter-clockwise.
    """

    at_mm: float
    place: Point
    inside_deg: float


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a clean outline.

    Attributes:
        chain: As drawn clean, or as traced where that was asked for.
        traced: The points that were traced, from corner to corner.
        is_line: Whether it was meant as one straight line.
        is_clean: Whether it was drawn clean.
        moved_mm: The furthest any of its traced points lies from the clean outline.
    """

    chain: Points
    traced: Points
    is_line: bool
    is_clean: bool
    moved_mm: float


@dataclass(frozen=True, slots=True)
class Retraced:
    """A clean outline: its sides counter-clockwise as the trace was, each starting where the one before ends."""

    sides: tuple[Side, ...]

    @property
    def chains(self) -> tuple[Points, ...]:
        """The sides as drawn."""
        return tuple(side.chain for side in self.sides)

    @property
    def straightened(self) -> int:
        """How many sides were drawn as one straight line."""
        return sum(side.is_line and side.is_clean for side in self.sides)

    @property
    def smoothed(self) -> int:
        """How many were smoothed."""
        return sum(side.is_clean for side in self.sides) - self.straightened

    @property
    def moved_mm(self) -> float:
        """The furthest any traced point lies from the clean outline."""
        return max(side.moved_mm for side in self.sides)


def trace_corners(ring: Points) -> tuple[TraceCorner, ...]:
    """The corners of a traced closed ring of shape (n, 2), in order."""
    samples, step_mm = resampled(ring)
    found = []
    for at_mm in traced_corners(ring):
        index = round(at_mm / step_mm) % len(samples)
        before, after = (side_course(samples, step_mm, index, sign)[1] for sign in (-1, 1))
        inside_deg = math.degrees(math.atan2(*_cross_and_dot(after, before))) % 360.0
        found.append(TraceCorner(at_mm, as_point(ring[_nearest(ring, samples[index])]), inside_deg))
    return tuple(found)


def retraced(
    ring: Points,
    *,
    corners_mm: Sequence[float] | None = None,
    as_traced: Collection[int] = (),
    within_mm: float = RETRACE_MM,
) -> Retraced:
    """A traced closed ring drawn clean.

    A side whose course, its shake averaged out, stays within ``TRACE_STRAIGHT_MM`` of one line becomes that line.
    Any other is smoothed by moving parabolas and thinned to points that keep within ``THINNED_MM`` of the smooth
    curve; the parabolas are shortened until no traced point lies further away than ``within_mm``. Corners are where
    the courses of their sides meet. A ring without two corners is cut at its first point and at the one furthest
    from there.

    Args:
        ring: The traced points, shape (n, 2), mm.
        corners_mm: Lengths along the ring at which it has corners; those found where ``None``.
        as_traced: Numbers of the sides that stay as they were traced, point by point, with the corners at their ends.
        within_mm: The furthest a point may be moved; what counts as straight and how much is smoothed go with it.
    """
    trace = _cut_up(ring, corners_mm, within_mm)
    kept, at_vertices = set(as_traced), set[int]()
    sides = trace.sides(kept, at_vertices)
    for widened in (at_vertices, kept):  # first its corners go back to where they were traced, then the side itself
        astray = {index for index, side in enumerate(sides) if side.is_clean and side.moved_mm > within_mm}
        if astray:
            widened |= astray
            sides = trace.sides(kept, at_vertices)
    return Retraced(sides)


@dataclass(frozen=True, slots=True)
class _Trace:
    """A traced ring cut at its corners: samples, the lines that straight sides follow, the traced points."""

    ring: Points
    samples: Points
    step_mm: float
    cuts: Sequence[int]
    has_corners: bool
    runs: Sequence[Points]
    lines: Sequence[tuple[Points, Points] | None]
    within_mm: float

    def sides(self, as_traced: Collection[int], at_vertices: Collection[int]) -> tuple[Side, ...]:
        """The sides drawn clean, save those to be left; both corners of a side ``at_vertices`` are traced points."""
        count = len(self.cuts)
        vertices = [_nearest(self.ring, self.samples[cut]) for cut in self.cuts]
        traced = [
            _stretch(self.ring, start, end) for start, end in zip(vertices, [*vertices[1:], vertices[0]], strict=True)
        ]
        places = []
        for index, vertex in enumerate(vertices):
            stays = any(side % count in {*as_traced, *at_vertices} for side in (index, index - 1))
            places.append(self.ring[vertex] if stays else self._corner(index))
        chains = []
        for index, (run, line) in enumerate(zip(self.runs, self.lines, strict=True)):
            ends = np.array([places[index], places[(index + 1) % count]])
            drawn = frozen_points(ends) if line else _clean(run, ends, self.within_mm)
            chains.append(traced[index] if index in as_traced else drawn)
        return tuple(_sides(chains, traced, [line is not None for line in self.lines], as_traced))

    def _corner(self, index: int) -> Points:
        """Where the courses of the sides before and after a cut meet."""
        start = self.cuts[index]
        near: Points = self.samples[start]
        if not self.has_corners:
            return near
        after = self.lines[index] or side_course(self.samples, self.step_mm, start, 1)
        before = self.lines[index - 1] or side_course(self.samples, self.step_mm, start, -1)
        return _meeting(before, after, near, self.within_mm)


def _cut_up(ring: Points, corners_mm: Sequence[float] | None, within_mm: float) -> _Trace:
    samples, step_mm = resampled(ring)
    wanted = traced_corners(ring) if corners_mm is None else corners_mm
    cuts, has_corners = _cuts(samples, sorted({round(at / step_mm) % len(samples) for at in wanted}))
    runs = [
        frozen_points(samples[np.arange(start, end + 1) % len(samples)])
        for start, end in zip(cuts, [*cuts[1:], cuts[0] + len(samples)], strict=True)
    ]
    lines = [_line(run, step_mm, within_mm) for run in runs]
    return _Trace(ring, samples, step_mm, cuts, has_corners, runs, lines, within_mm)


def _sides(
    chains: Sequence[Points], traced: Sequence[Points], lines: Sequence[bool], as_traced: Collection[int]
) -> Iterator[Side]:
    for index, (chain, points, is_line) in enumerate(zip(chains, traced, lines, strict=True)):
        after = chains[(index + 1) % len(chains)]
        around = frozen_points(np.vstack([chains[index - 1][-_NEAR:], chain, after[:_NEAR]]))
        moved_mm = 0.0 if index in as_traced else float(_distances(around, points).max())
        yield Side(chain, points, is_line, index not in as_traced, moved_mm)


def _nearest(ring: Points, place: Points) -> int:
    return int(np.argmin(np.hypot(*(ring - place).T)))


def _stretch(ring: Points, start: int, end: int) -> Points:
    """The points of a closed ring from one to another, both included."""
    last = end if end > start else end + len(ring)
    return frozen_points(ring[np.arange(start, last + 1) % len(ring)])


def _cross_and_dot(one: NDArray[np.float64], other: NDArray[np.float64]) -> tuple[float, float]:
    return float(one[0] * other[1] - one[1] * other[0]), float(one @ other)


def _cuts(samples: Points, corners: list[int]) -> tuple[list[int], bool]:
    if len(corners) >= 2:
        return corners, True
    start = corners[0] if corners else 0
    away = np.hypot(*(samples - samples[start]).T)
    return sorted({start, int(np.argmax(away))}), False


def _line(run: Points, step_mm: float, within_mm: float) -> tuple[Points, Points] | None:
    """Middle and direction of the line a run follows; ``None`` if it bends."""
    ends = round(_CORNER_MM / step_mm)
    inner = run[ends : len(run) - ends] if len(run) > 2 * ends + 4 else run
    middle = inner.mean(axis=0)
    along = np.linalg.svd(inner - middle, full_matrices=False)[2][0]
    off = (inner[:, 0] - middle[0]) * along[1] - (inner[:, 1] - middle[1]) * along[0]
    width = min(_AVERAGED, len(off))
    course = np.convolve(off, np.full(width, 1.0 / width), mode="valid")
    bends_mm, strays_mm = float(np.abs(course).max()), float(np.abs(off).max())
    straight = bends_mm <= TRACE_STRAIGHT_MM * within_mm / RETRACE_MM and strays_mm <= within_mm
    return (middle, along) if straight else None


def _meeting(before: tuple[Points, Points], after: tuple[Points, Points], near: Points, within_mm: float) -> Points:
    """Where two courses meet; the sample itself where that is not near it."""
    (place, along), (other, back) = before, after
    sine = along[0] * back[1] - along[1] * back[0]
    gap = other - place
    meeting: Points = place + along * ((gap[0] * back[1] - gap[1] * back[0]) / (sine or 1.0))
    return meeting if float(np.hypot(*(meeting - near))) <= min(2 * SAMPLE_MM, _CORNER_SHARE * within_mm) else near


def _clean(run: Points, ends: Points, within_mm: float) -> Points:
    anchored = frozen_points(np.vstack([ends[:1], run[1:-1], ends[1:]]))
    half = min(round(_HALF_WINDOW * within_mm / RETRACE_MM), _WIDEST_HALF_WINDOW, (len(run) - 1) // 2)
    smooth = anchored
    while half >= 2:
        smooth = _smoothed(anchored, half)
        if float(np.hypot(*(smooth - anchored).T).max()) <= within_mm:
            break
        half, smooth = half // 2, anchored
    return thinned(smooth, within_mm=THINNED_MM)


def _smoothed(run: Points, half: int) -> Points:
    """Moving least-squares parabolas over an evenly spaced chain, this many samples to each side; its ends stay."""
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
