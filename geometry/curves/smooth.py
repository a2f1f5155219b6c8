"""A smooth curve in place of a broken one."""

from __future__ import annotations

import math

import numpy as np

from geometry.affine import Point, Points, distance_mm, frozen_points
from geometry.curves import polyline
from geometry.tolerance import FLOAT_MM, SAME_POINT_MM

_STEP_MM = 2.0
"""Distance of the points put on a smoothed curve: its chords then stay within 0.02 mm of a curve of 25 mm radius."""

_FEWEST_STEPS = 8

_HALVINGS = 60
"""Halvings that take a share of some tenths below float noise."""

_FULLEST = 2.0
"""A blend is made at most this much rounder to be as long as what it replaces; own choice."""


def bridge(start: Point, heading: Point, end: Point, arriving: Point) -> Points:
    """A smooth chain from start to end that leaves and arrives in the given unit directions.

    A cubic with handles a third of the distance long; shape (n, 2), n >= 9, its ends exact.
    """
    handle = distance_mm(start, end) / 3
    steps = max(_FEWEST_STEPS, math.ceil(3 * handle / _STEP_MM))
    t = np.linspace(0.0, 1.0, steps + 1)[:, None]
    p0, p3 = np.asarray(start), np.asarray(end)
    p1, p2 = p0 + handle * np.asarray(heading), p3 - handle * np.asarray(arriving)
    chain = (1 - t) ** 3 * p0 + 3 * (1 - t) ** 2 * t * p1 + 3 * (1 - t) * t**2 * p2 + t**3 * p3
    chain[0], chain[-1] = p0, p3
    return frozen_points(chain)


def bridged(chain: Points, from_mm: float, to_mm: float) -> Points:
    """A smooth bridge over the stretch of a chain between two lengths, tangent to what lies on both sides of it.

    At an end of the chain the bridge keeps the direction the chain has there.
    """
    heading = polyline.direction_at(chain, from_mm, arriving=True)
    arriving = polyline.direction_at(chain, to_mm)
    return bridge(polyline.point_at(chain, from_mm), heading, polyline.point_at(chain, to_mm), arriving)


def blended(chain: Points, from_mm: float, to_mm: float) -> Points:
    """The chain with its stretch between two lengths replaced by a smooth bridge that meets both sides tangentially."""
    before = polyline.part_between(chain, 0.0, from_mm)
    after = polyline.part_between(chain, to_mm, polyline.length_mm(chain))
    parts = (before, bridged(chain, from_mm, to_mm), after)
    return polyline.without_doubled_points(polyline.joined(parts))


def blended_as_long(chain: Points, low: float, high: float) -> Points:
    """The chain blended between two lengths, the blend as long as what it replaces.

    The blend is brought to its length by making it flatter or rounder over its chord. Where that does not reach, or
    there is nothing between the two, the chain itself is returned.
    """
    wanted_mm = high - low
    if wanted_mm <= SAME_POINT_MM:
        return chain
    line = bridged(chain, low, high)
    if polyline.length_mm(_rounder(line, _FULLEST)) < wanted_mm - FLOAT_MM:
        return chain
    if abs(polyline.length_mm(line) - wanted_mm) > FLOAT_MM:
        flat, fullest = 0.0, _FULLEST
        for _ in range(_HALVINGS):
            half = (flat + fullest) / 2
            is_short = polyline.length_mm(_rounder(line, half)) < wanted_mm
            flat, fullest = (half, fullest) if is_short else (flat, half)
        line = _rounder(line, flat)
    before = polyline.part_between(chain, 0.0, low)
    after = polyline.part_between(chain, high, polyline.length_mm(chain))
    return polyline.without_doubled_points(polyline.joined((before, line, after)))


def _rounder(bridge: Points, share: float) -> Points:
    """The bridge with its distances from its chord multiplied by a share; its ends stay."""
    along = bridge[-1] - bridge[0]
    shares = (bridge - bridge[0]) @ along / (along @ along)
    on_chord = bridge[0] + shares[:, None] * along
    drawn = np.asarray(on_chord + (bridge - on_chord) * share)
    drawn[0], drawn[-1] = bridge[0], bridge[-1]
    return frozen_points(drawn)
