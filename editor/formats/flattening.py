"""Arcs, bulges and ellipses as runs of points on the curve; chords stay within a stated distance of it."""

import math
from collections.abc import Sequence

import numpy as np

from geometry.affine import Points

MOST_STEPS = 4096
"""Cap on the chords of one curve, for radii that dwarf the tolerance."""


def chord_count(radius: float, sweep_rad: float, within: float) -> int:
    """Return how many equal chords keep an arc's sagitta, r (1 - cos(step / 2)), within the distance."""
    if radius <= within:
        return max(3, math.ceil(abs(sweep_rad)))
    step = 2 * math.acos(1 - within / radius)
    return max(1, min(MOST_STEPS, math.ceil(abs(sweep_rad) / step))) if step > 0 else MOST_STEPS


def ellipse_points(
    centre: Sequence[float],
    major: Sequence[float],
    minor: Sequence[float],
    start_rad: float,
    sweep_rad: float,
    *,
    within: float,
) -> Points:
    """Return points centre + cos(t) major + sin(t) minor for t from start over the sweep, both ends included.

    An ellipse is a squeezed circle, so chords fine enough for the circle about it are fine enough for it.
    """
    longest = max(math.hypot(major[0], major[1]), math.hypot(minor[0], minor[1]))
    steps = chord_count(longest, sweep_rad, within)
    turn = start_rad + sweep_rad * np.arange(steps + 1) / steps
    axes = np.array([(place[0], place[1]) for place in (centre, major, minor)], dtype=np.float64)
    return np.column_stack((np.ones_like(turn), np.cos(turn), np.sin(turn))) @ axes


def bulge_points(start: Sequence[float], end: Sequence[float], bulge: float, *, within: float) -> Points:
    """Return the points after ``start`` and before ``end`` of the arc between them.

    The bulge is the tangent of a quarter of the arc's sweep, positive counter-clockwise.
    """
    p, q = complex(start[0], start[1]), complex(end[0], end[1])
    if bulge == 0 or p == q:
        return np.empty((0, 2))
    centre = (p + q) / 2 + 1j * (q - p) * (1 - bulge * bulge) / (4 * bulge)
    sweep = 4 * math.atan(bulge)
    steps = chord_count(abs(p - centre), sweep, within)
    turned = centre + (p - centre) * np.exp(1j * sweep * np.arange(1, steps) / steps)
    return np.column_stack((turned.real, turned.imag))


def bulged_path(vertices: Points, bulges: Sequence[float], closed: bool, *, within: float) -> Points:
    """Return the vertices with the points of every bulged segment between them, the closing one included."""
    count = len(vertices)
    runs = []
    for at, (vertex, bulge) in enumerate(zip(vertices, bulges, strict=True)):
        runs.append(vertex.reshape(1, 2))
        if bulge and (closed or at + 1 < count):
            runs.append(bulge_points(vertex, vertices[(at + 1) % count], bulge, within=within))
    return np.concatenate(runs) if runs else np.empty((0, 2))
