"""Drawings for the tests of recognition, put together by hand."""

import math
from itertools import pairwise

import numpy as np

from editor.formats.drawing import Block, Drawing, Shape
from geometry.affine import frozen_points
from geometry.curves import polyline
from geometry.curves.corners import resampled

RECTANGLE = [(0, 0), (200, 0), (200, 300), (0, 300)]


def path(points, *, layer="0", closed=False):
    entity = "LINE" if len(points) == 2 else "POLYLINE"
    return Shape(layer, "path", frozen_points(points), closed=closed, entity=entity)


def outline(points, *, layer="0"):
    return path(points, layer=layer, closed=True)


def point(place, *, layer="0", **values):
    return Shape(layer, "point", frozen_points([place]), entity="POINT", **values)


def text(words, place, *, layer="0"):
    return Shape(layer, "text", frozen_points([place]), text=words, entity="TEXT")


def loose(*shapes):
    return Drawing(loose=shapes)


def blocks(**shapes):
    return Drawing(blocks=tuple(Block(name, tuple(found)) for name, found in shapes.items()))


def segments(points, *, closed=True, layer="0"):
    """An outline as single lines."""
    ring = [*points, points[0]] if closed else list(points)
    return [path([start, end], layer=layer) for start, end in pairwise(ring)]


def shaken_segments(points, *, seed, by_mm=0.05, gap_mm=0.2):
    """An outline as a digitiser leaves it: lines of 1 mm in random order and direction, unsteady, ends apart."""
    hand = np.random.default_rng(seed)
    samples, _ = resampled(frozen_points(points))
    samples = samples + hand.uniform(-by_mm, by_mm, samples.shape)
    following = np.roll(samples, -1, axis=0)
    along = (following - samples) / np.hypot(*(following - samples).T)[:, None]
    starts, ends = samples + along * gap_mm / 2, following - along * gap_mm / 2
    lines = [path([a, b] if hand.random() < 0.5 else [b, a]) for a, b in zip(starts, ends, strict=True)]
    hand.shuffle(lines)
    return lines


def cubic(p0, p1, p2, p3, count=30):
    t = np.linspace(0, 1, count)[:, None]
    a, b, c, d = (np.array(p, dtype=float) for p in (p0, p1, p2, p3))
    return (1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t**2 * c + t**3 * d


def front():
    """A front without darts: six corners, waist, armhole and neck curved; the outline and its six sides."""
    corners = [(0, 0), (225, 10), (240, 210), (190, 400), (75, 425), (0, 345)]
    sides = [
        cubic(corners[0], (70, -4), (150, -2), corners[1]),
        np.array([corners[1], corners[2]], dtype=float),
        cubic(corners[2], (170, 215), (165, 310), corners[3], 45),
        np.array([corners[3], corners[4]], dtype=float),
        cubic(corners[4], (70, 370), (40, 345), corners[5]),
        np.array([corners[5], corners[0]], dtype=float),
    ]
    return np.vstack([side[:-1] for side in sides]), sides


def middle(side):
    chain = frozen_points(side)
    return polyline.point_at(chain, polyline.length_mm(chain) / 2)


def circle(centre, radius, count=24):
    angles = np.linspace(0, 2 * math.pi, count, endpoint=False)
    return np.column_stack([centre[0] + radius * np.cos(angles), centre[1] + radius * np.sin(angles)])
