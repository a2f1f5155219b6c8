"""Dart caps in a cutting line: the zig-zag across a mouth, taken off so that the edge stays one edge."""

from collections.abc import Iterator, Sequence

import numpy as np

from editor.formats.drawing import Shape
from editor.formats.recognise_sketches import LOOSE
from geometry.affine import Point, Points, as_point, distance_mm, frozen_points
from geometry.curves import polyline
from geometry.curves.corners import turns_rad
from geometry.tolerance import ON_EDGE_MM

WIDEST_MOUTH_MM = 150.0
STRAIGHT_ON_DEG = 40.0
"""At the foot of a dart whose cap was taken off, the edge turns by no more than this; else a corner is there."""

_LONGEST_WAY = 2.0
_TIPS_MEET_MM = 1.0


def without_caps(ring: Points, shapes: Sequence[Shape]) -> tuple[Points, Points]:
    """A counter-clockwise ring that runs straight across the darts whose legs end on it, and their feet there.

    Only what stands out of the ring between two legs is taken off, and no more than a cap can be: at most
    ``_LONGEST_WAY`` times as long as the mouth is wide. Where there is none the ring is the same object.
    """
    feet: list[Point] = []
    for start, tip, end in _dart_lines(shapes):
        found = _cap_between(ring, start, tip, end)
        if found is not None:
            first, last = found
            feet.extend([as_point(ring[first]), as_point(ring[last])])
            ring = frozen_points(
                ring[first : last + 1] if first > last else np.vstack([ring[: first + 1], ring[last:]])
            )
    return ring, frozen_points(np.array(feet).reshape(-1, 2))


def _dart_lines(shapes: Sequence[Shape]) -> Iterator[tuple[Point, Point, Point]]:
    """Every line or pair of lines that might be two legs: foot, tip, foot."""
    lines = [s.points for s in shapes if s.kind == "path" and not s.closed and s.layer in (LOOSE, "0", "8")]
    straight = []
    for points in lines:
        start, end = as_point(points[0]), as_point(points[-1])
        away = np.hypot(*(points - (np.add(start, end) / 2)).T)
        if len(points) > 2 and polyline.offset_from_chord_mm(points) > ON_EDGE_MM:
            yield start, as_point(points[int(np.argmax(away))]), end
        else:
            straight.append((start, end))
    for row, one in enumerate(straight):
        for other in straight[row + 1 :]:
            for foot, tip in (one, one[::-1]):
                for end, same_tip in (other, other[::-1]):
                    if distance_mm(tip, same_tip) <= _TIPS_MEET_MM:
                        yield foot, tip, end


def _cap_between(ring: Points, start: Point, tip: Point, end: Point) -> tuple[int, int] | None:
    """The vertices between which a cap stands out of the ring; ``None`` if there is none."""
    mouth_mm = distance_mm(start, end)
    gaps = [np.hypot(*(ring - foot).T) for foot in (start, end)]
    at = [int(np.argmin(gap)) for gap in gaps]
    if max(float(gap.min()) for gap in gaps) > ON_EDGE_MM or not 0.0 < mouth_mm <= WIDEST_MOUTH_MM:
        return None
    for first, last in (at, at[::-1]):
        index = np.arange(first, last + 1 if last > first else last + 1 + len(ring)) % len(ring)
        part = frozen_points(ring[index])
        if len(part) > 2 and polyline.length_mm(part) <= _LONGEST_WAY * mouth_mm and _stands_out(part, tip):
            return first, last
    return None


def _stands_out(part: Points, tip: Point) -> bool:
    """Whether a stretch of a ring bows to the right of its chord, with the tip to the left."""
    chord = part[-1] - part[0]
    size = float(np.hypot(*chord)) or 1.0
    x, y = (np.vstack([part, [tip]]) - part[0]).T
    left = (chord[0] * y - chord[1] * x) / size
    return float(left[:-1].min()) < -ON_EDGE_MM and float(left[:-1].max()) <= ON_EDGE_MM and float(left[-1]) > 0.0


def corners_beside(ring: Points, corners: Sequence[int], feet: Points) -> list[int]:
    """The corners without those at feet of darts where the ring runs on nearly straight."""
    if len(feet) == 0:
        return list(corners)
    turn_deg = np.abs(np.degrees(turns_rad(ring)))
    at_foot = np.hypot(*(ring[:, None, :] - feet[None, :, :]).transpose(2, 0, 1)).min(axis=1) <= ON_EDGE_MM
    return [index for index in corners if not at_foot[index] or turn_deg[index] > STRAIGHT_ON_DEG]
