"""The drafter's table: curves of a few points, arcs, and finding the one figure that makes a seam fit."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from geometry.affine import Affine, Point, Points, distance_mm, frozen_points
from geometry.curves import polyline

POINT_SPACING_MM = 4.0
"""How near the points of a drafted curve are to each other."""

_FINE_POINTS = 2001
_ROUNDS = 100
_CLOSED = 1e-11


def bezier(start: Point, first: Point, second: Point, end: Point) -> Points:
    """A cubic curve by its ends and the two points that pull it, as points spaced evenly along it."""
    t = np.linspace(0.0, 1.0, _FINE_POINTS)
    stations = polyline.stations_mm(_cubic(start, first, second, end, t))
    pieces = max(2, round(float(stations[-1]) / POINT_SPACING_MM))
    even = np.interp(np.linspace(0.0, stations[-1], pieces + 1), stations, t)
    points = _cubic(start, first, second, end, even)
    points[0], points[-1] = start, end
    return frozen_points(points)


def _cubic(start: Point, first: Point, second: Point, end: Point, t: Points) -> Points:
    u = 1.0 - t
    weights = np.stack([u**3, 3 * u * u * t, 3 * u * t * t, t**3], axis=1)
    return np.asarray(weights @ np.array([start, first, second, end]))


def arc(start: Point, turn_rad: float, length_mm: float) -> Points:
    """A circular arc that leaves a point along x and has turned left by an angle after a length."""
    pieces = max(2, round(length_mm / POINT_SPACING_MM))
    angle = np.linspace(0.0, turn_rad, pieces + 1)
    # The chords together measure length_mm, so that seams measured along their points fit to the last digit.
    chord = length_mm / pieces
    radius = chord / (2 * math.sin(turn_rad / pieces / 2))
    x, y = start[0] + radius * np.sin(angle), start[1] + radius * (1 - np.cos(angle))
    return frozen_points(np.stack([x, y], axis=1))


def solved(excess: Callable[[float], float], low: float, high: float) -> float:
    """The figure between two bounds where ``excess`` passes zero, by false position (the Illinois rule)."""
    at_low, at_high = excess(low), excess(high)
    if at_low * at_high > 0:
        raise ValueError("The draft does not close between the bounds given.")
    middle = low
    for _ in range(_ROUNDS):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        at_middle = excess(middle)
        if abs(at_middle) < _CLOSED:
            break
        if at_middle * at_high < 0:
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = middle, at_middle
    return middle


def toward(start: Point, angle_rad: float, length_mm: float) -> Point:
    """The point at a length from another in a direction, counter-clockwise from x."""
    return (start[0] + length_mm * math.cos(angle_rad), start[1] + length_mm * math.sin(angle_rad))


def turned(place: Point, about: Point, angle_rad: float) -> Point:
    """A point turned about another, counter-clockwise positive."""
    return Affine.turned(angle_rad, about).point(place)


def direction_rad(start: Point, end: Point) -> float:
    """The direction from one point to another."""
    return math.atan2(end[1] - start[1], end[0] - start[0])


def meeting(a: Point, a_rad: float, b: Point, b_rad: float) -> Point:
    """Where the line through a in one direction meets the line through b in another."""
    ux, uy = math.cos(a_rad), math.sin(a_rad)
    vx, vy = math.cos(b_rad), math.sin(b_rad)
    along = ((b[0] - a[0]) * vy - (b[1] - a[1]) * vx) / (ux * vy - uy * vx)
    return (a[0] + along * ux, a[1] + along * uy)


def opened(chain: Points, at_mm: float, tip: Point, angle_rad: float) -> tuple[Points, float, float]:
    """A seam drawn with its dart folded, cut at a length and the part beyond turned open about the dart's tip.

    Returns the chain with the dart open and the lengths where the mouth begins and ends.
    """
    whole_mm = polyline.length_mm(chain)
    before = polyline.part_between(chain, 0.0, at_mm)
    beyond = Affine.turned(angle_rad, tip).points(polyline.part_between(chain, at_mm, whole_mm))
    mouth_mm = distance_mm(tuple(before[-1]), tuple(beyond[0]))
    return frozen_points(np.vstack([before, beyond])), at_mm, at_mm + mouth_mm
