"""Loose paths chained into closed contours and open lines, and which contours lie inside which.

Digitisers and some drawing programs send outlines as single segments in no order, their ends a little
apart. All lengths here are millimetres.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from editor.formats.end_joining import LADDER_MM, ends_of, join_ends
from editor.formats.outline_walk import Walk, closed_walks, signed_area, walked_points
from geometry.affine import Points, frozen_points
from geometry.tolerance import DOUBLED_POINT_MM

MOST_CELLS = 4_000_000
"""Points times edges looked at in one go, so that a large trace stays within tens of megabytes."""

LEVELS = np.array([0.11, 0.26, 0.41, 0.53, 0.68, 0.79, 0.92])
"""Heights, as shares of a contour's own, at which places within it are sought: uneven, to miss its corners."""


@dataclass(frozen=True, slots=True)
class Chained:
    """What loose paths make: contours run counter-clockwise from their leftmost point and do not repeat it.

    ``gap_count`` joints were wider than a hundredth of a millimetre, the widest ``largest_gap_mm``.
    """

    contours: tuple[Points, ...] = ()
    lines: tuple[Points, ...] = ()
    gap_count: int = 0
    largest_gap_mm: float = 0.0


def chain(paths: Sequence[Points], *, gap_mm: float) -> Chained:
    """Chain open paths into contours and lines; ends up to ``gap_mm`` apart meet midway.

    Smaller gaps are closed first, and an end that has found its neighbour looks no farther. The result
    does not depend on the order or direction of the paths, save where ends are equally good matches.
    """
    clean = [path for path in (drop_doubled(path) for path in paths) if len(path) > 1]
    if not clean:
        return Chained()
    closed, opened = closed_walks(clean, join_ends(ends_of(clean), gap_mm=gap_mm))
    contours = [_from_leftmost(drop_doubled(walked_points(clean, walk, closed=True), closed=True)) for walk in closed]
    lines = [_from_left(drop_doubled(walked_points(clean, walk, closed=False))) for walk in opened]
    told = [
        _gaps(clean, walk, closed=walk_closes)
        for walks, walk_closes in ((closed, True), (opened, False))
        for walk in walks
    ]
    gaps = np.concatenate([np.empty(0), *told])  # no walk is left where every line is a mere dot
    wide = gaps[gaps > LADDER_MM[0]]
    return Chained(
        tuple(sorted((c for c in contours if len(c) > 2), key=_place)),
        tuple(sorted((line for line in lines if len(line) > 1), key=_place)),
        len(wide),
        float(wide.max(initial=0.0)),
    )


def drop_doubled(points: Points, *, closed: bool = False, within_mm: float = DOUBLED_POINT_MM) -> Points:
    """Return the points without those nearer than ``within_mm`` to the one kept before them; ends stay."""
    if len(points) < 2:
        return frozen_points(points)
    steps = np.hypot(*np.diff(points, axis=0).T)
    if steps.min() < within_mm:
        points = points[_kept(points, within_mm)]
    while closed and len(points) > 2 and float(np.hypot(*(points[0] - points[-1]))) < within_mm:
        points = points[:-1]
    return frozen_points(points)


def _kept(points: Points, within_mm: float) -> list[int]:
    kept = [0]
    for at in range(1, len(points)):
        if float(np.hypot(*(points[at] - points[kept[-1]]))) >= within_mm:
            kept.append(at)
    if kept[-1] != len(points) - 1:
        kept[-1:] = [len(points) - 1] if len(kept) > 1 else [0]
    return kept


def _gaps(paths: Sequence[Points], walk: Walk, *, closed: bool) -> npt.NDArray[np.float64]:
    firsts = np.array([paths[entry >> 1][-(entry & 1)] for entry in walk])
    lasts = np.array([paths[entry >> 1][(entry & 1) - 1] for entry in walk])
    apart: npt.NDArray[np.float64] = np.hypot(*(firsts - np.roll(lasts, 1, axis=0)).T)
    return apart if closed else apart[1:]


def _from_leftmost(points: Points) -> Points:
    turned = points if signed_area(points) >= 0 else points[::-1]
    return frozen_points(np.roll(turned, -int(np.lexsort((turned[:, 1], turned[:, 0]))[0]), axis=0))


def _from_left(points: Points) -> Points:
    return points if tuple(points[0]) <= tuple(points[-1]) else frozen_points(points[::-1])


def _place(points: Points) -> tuple[float, ...]:
    return (*points[0].tolist(), *points[-1].tolist(), float(len(points)))


# ---- what lies inside what ----


def inside(places: Points, contour: Points) -> npt.NDArray[np.bool_]:
    """Tell for each place whether it lies inside the contour, by the even-odd rule; on the edge either may come."""
    found = np.zeros(len(places), dtype=bool)
    rows = max(1, MOST_CELLS // max(1, len(contour)))
    for start in range(0, len(places), rows):
        found[start : start + rows] = _crossings(places[start : start + rows], contour) % 2 == 1
    return found


def _crossings(places: Points, contour: Points) -> npt.NDArray[np.intp]:
    """Count how often a ray to the right of each place crosses the contour."""
    x, y = places[:, 0, np.newaxis], places[:, 1, np.newaxis]
    x0, y0 = contour.T
    x1, y1 = np.roll(contour, -1, axis=0).T
    spans = (y0 > y) != (y1 > y)
    rise = np.where(y1 == y0, 1.0, y1 - y0)
    counts: npt.NDArray[np.intp] = np.count_nonzero(spans & (x < x0 + (y - y0) * (x1 - x0) / rise), axis=1)
    return counts


def _inner_places(contour: Points) -> Points:
    """Return a few places within a contour: the middle of the widest stretch on some level lines."""
    low, high = contour[:, 1].min(), contour[:, 1].max()
    x0, y0 = contour.T
    x1, y1 = np.roll(contour, -1, axis=0).T
    places = []
    for y in (low + (high - low) * LEVELS).tolist():
        cut = (y0 > y) != (y1 > y)
        x = np.sort(x0[cut] + (y - y0[cut]) * (x1[cut] - x0[cut]) / (y1[cut] - y0[cut]))
        if len(x):
            widest = int(np.argmax(x[1::2] - x[0::2]))
            places.append(((x[2 * widest] + x[2 * widest + 1]) / 2, y))
    return frozen_points(places)


def outermost(contours: Sequence[Points]) -> tuple[tuple[int, tuple[int, ...]], ...]:
    """Return (index of an outermost contour, indices of all contours inside it), in order of the index.

    A contour counts as inside when most of a few places within it are, so one that touches the outline
    still does, and of two equal ones the first holds the second.
    """
    if len(contours) == 1:
        return ((0, ()),)
    areas = [abs(signed_area(contour)) for contour in contours]
    boxes = np.array([(*contour.min(axis=0), *contour.max(axis=0)) for contour in contours]).reshape(-1, 4)
    held: dict[int, list[int]] = {}
    for at in sorted(range(len(contours)), key=lambda index: (-areas[index], index)):
        holder = next((outer for outer in held if _holds(contours, boxes, outer, at)), None)
        if holder is None:
            held[at] = []
        else:
            held[holder].append(at)
    return tuple((outer, tuple(sorted(held[outer]))) for outer in sorted(held))


def _holds(contours: Sequence[Points], boxes: Points, outer: int, inner: int) -> bool:
    a, b = boxes[outer], boxes[inner]
    if b[2] < a[0] or b[0] > a[2] or b[3] < a[1] or b[1] > a[3]:
        return False
    places = _inner_places(contours[inner])
    return 2 * int(np.count_nonzero(inside(places, contours[outer]))) > len(places)
