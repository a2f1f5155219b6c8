"""Edges redrawn fair: in full at one place, to nothing at another, without a bend on the way or at the ends.

A run says how much of a move each place of an edge gets. Corners where two runs meet can be moved so that both edges
come out as long as they should be.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from geometry.affine import Point, Points, distance_mm
from geometry.alterations.anchors import Anchor, on_edge
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.mouths import station_on
from geometry.alterations.redraw import Pull, Redraw
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.edge import Edge
from geometry.tolerance import FLOAT_MM, SAME_POINT_MM

_PULLS = 16
"""Places pulled along a run: the bend at each then stays below a degree for 10 mm over 20 cm."""

_SHEARED_PULLS = 24
"""Places pulled along a sheared edge: between two of them a leg is as good as straight."""

_ROUNDS = 25
"""Cap on the corrections of a corner; each leaves a tenth of the error or less."""

_LONGEST_MOVE_MM = 15.0
"""A corner is not moved further in one correction, so that it does not jump across the piece; own choice."""

_CORNER_TRIAL_MM = 0.5
"""How far a corner is tried out in each direction to see how the edges answer."""


@dataclass(frozen=True, slots=True)
class Run:
    """How much of a move the places along an edge get.

    Attributes:
        edge: The edge.
        stations_mm: Lengths along it, rising.
        shares: The share of the move at each of them; between them in proportion.
    """

    edge: Edge
    stations_mm: tuple[float, ...]
    shares: tuple[float, ...]

    def pulls(self, way: Point) -> list[Pull]:
        """The pulls for a move by a vector."""
        length_mm = self.edge.length_mm
        return [
            Pull(on_edge(self.edge.id, min(at_mm / length_mm, 1.0)), share * way[0], share * way[1])
            for at_mm, share in zip(self.stations_mm, self.shares, strict=True)
        ]

    def growth(self) -> Callable[[Point], float]:
        """By how much the edge, sewn, gets longer in a move by a vector, mm. Mouths of darts keep their width."""
        chain = self.edge.points
        known = polyline.stations_mm(chain)
        inside = (known > self.stations_mm[0]) & (known < self.stations_mm[-1])
        at_mm = np.unique(np.concatenate([known[inside], self.stations_mm]))
        steps = [np.diff(np.interp(at_mm, known, chain[:, axis])) for axis in (0, 1)]
        rising = np.diff(np.interp(at_mm, self.stations_mm, self.shares))
        length_mm = float(np.hypot(*steps).sum())
        return lambda way: float(np.hypot(steps[0] + rising * way[0], steps[1] + rising * way[1]).sum()) - length_mm


def fair(panel: Panel, edge: Edge, held: Anchor, moved: Anchor) -> Run:
    """From nothing at one place of an edge to everything at another, along half a wave.

    A dart in between goes along unbent, with the share of the place where it closes.
    """
    return _run(panel, edge, held, moved, wave, _PULLS)


def wave_between(panel: Panel, edge: Edge, held: Anchor, moved: Anchor, low: float, high: float) -> Run:
    """The part of such a half wave from one share of its length to another, where it goes on across a seam."""
    return _run(panel, edge, held, moved, lambda share: wave(low + (high - low) * share), _PULLS)


def wave(share: float) -> float:
    """How much of a move is due at a share of the length of half a wave."""
    return (1 - math.cos(math.pi * share)) / 2


def even(panel: Panel, edge: Edge, held: Anchor, moved: Anchor) -> Run:
    """From nothing at one place of an edge to everything at another, in proportion, so that straight stays straight."""
    return _run(panel, edge, held, moved, lambda share: share, 1)


def sheared(panel: Panel, edge: Edge, held: Anchor, moved: Anchor) -> Run:
    """From nothing at one place of an edge to everything at another, in proportion to the height between them.

    Two edges sheared alike between the same levels keep their distance at every level.
    """
    base, top = panel.point(held), panel.point(moved)
    _, height_mm = panel.frame.seen(top, base)

    def share(at_mm: float) -> float:
        return panel.frame.seen(edge.point_at(at_mm), base)[1] / height_mm

    low, high = sorted(station_on(panel.piece, edge, place) for place in (held, moved))
    places = [low + (high - low) * number / _SHEARED_PULLS for number in range(_SHEARED_PULLS + 1)]
    return Run(edge, tuple(places), tuple(share(at_mm) for at_mm in places))


def whole(panel: Panel, edge: Edge, start: Anchor, end: Anchor) -> Run:
    """Everything between two places of an edge."""
    low, high = sorted(station_on(panel.piece, edge, place) for place in (start, end))
    return Run(edge, (low, high), (1.0, 1.0))


def joined(first: Run, second: Run) -> Run:
    """Two runs of one edge that follow each other, as one."""
    if first.stations_mm[0] > second.stations_mm[0]:
        first, second = second, first
    skipped = 1 if second.stations_mm[0] - first.stations_mm[-1] <= SAME_POINT_MM else 0
    stations, shares = second.stations_mm[skipped:], second.shares[skipped:]
    return Run(first.edge, first.stations_mm + stations, first.shares + shares)


def _run(panel: Panel, edge: Edge, held: Anchor, moved: Anchor, shape: Callable[[float], float], steps: int) -> Run:
    from_mm, to_mm = (station_on(panel.piece, edge, place) for place in (held, moved))
    if abs(to_mm - from_mm) <= SAME_POINT_MM:
        raise StepError(
            f'On the edge "{edge.id}" of "{panel.name}" the place that moves is the one that stays; choose them apart.'
        )
    low, high = min(from_mm, to_mm), max(from_mm, to_mm)
    sewn = [panel.piece.sewn_station_mm(edge.id, at_mm) for at_mm in (from_mm, to_mm)]

    def share(at_mm: float) -> float:
        return shape((panel.piece.sewn_station_mm(edge.id, at_mm) - sewn[0]) / (sewn[1] - sewn[0]))

    mouths = [
        (max(dart.from_mm, low), min(dart.to_mm, high))
        for dart in panel.piece.darts_on(edge.id)
        if dart.from_mm < high and dart.to_mm > low
    ]
    even_places = [low + (high - low) * number / steps for number in range(steps + 1)]
    places = [at for at in even_places if not any(a - SAME_POINT_MM < at < b + SAME_POINT_MM for a, b in mouths)]
    places += [low, high] + [stop for mouth in mouths for stop in mouth]
    placed = sorted(places)
    kept = [placed[0], *(b for a, b in itertools.pairwise(placed) if b - a > SAME_POINT_MM)]
    return Run(edge, tuple(kept), tuple(share(at_mm) for at_mm in kept))


def redraw(panel: Panel, *pulls: Pull) -> Redraw:
    """The pulls as one step; a corner that two edges pull alike is pulled once."""
    found: list[tuple[Point, Pull]] = []
    for pull in pulls:
        place = panel.point(pull.at)
        if all(distance_mm(place, other) > SAME_POINT_MM for other, _ in found):
            found.append((place, pull))
    return Redraw(panel.name, tuple(pull for _, pull in found))


def corner_way(
    panel: Panel, first: Callable[[Point], float], second: Callable[[Point], float], *, start: Point
) -> Point:
    """The vector for which two errors, in mm, both vanish.

    Raises:
        StepError: none is found near the vector it starts from.
    """
    way, step = np.array(start), _CORNER_TRIAL_MM

    def errors(at: Points) -> Points:
        point = (float(at[0]), float(at[1]))
        return np.array([first(point), second(point)])

    here = errors(way)
    slopes = np.column_stack([(errors(way + step * axis) - here) / step for axis in np.eye(2)])
    for _ in range(_ROUNDS):
        if np.abs(here).max() <= FLOAT_MM:
            return (float(way[0]), float(way[1]))
        if abs(np.linalg.det(slopes)) <= FLOAT_MM:
            break
        move = -np.linalg.solve(slopes, here)
        move *= min(1.0, _LONGEST_MOVE_MM / float(np.hypot(*move)))
        way, before = way + move, here
        here = errors(way)
        slopes = slopes + np.outer(here - before - slopes @ move, move) / (move @ move)  # Broyden's update
    if np.abs(here).max() <= SAME_POINT_MM:
        return (float(way[0]), float(way[1]))
    raise StepError(f'No corner on "{panel.name}" makes both edges as long as they should be; give a smaller amount.')


def grow_corner(
    bench: Bench, panel: Panel, first: Run, second: Run, *, first_mm: float = 0.0, second_mm: float = 0.0
) -> None:
    """Move the corner that ends two runs so that each edge is sewn longer by just so much."""
    along_first, along_second = first.growth(), second.growth()
    way = corner_way(
        panel, lambda by: along_first(by) - first_mm, lambda by: along_second(by) - second_mm, start=(0.0, 0.0)
    )
    if way != (0.0, 0.0):
        bench.do(redraw(panel, *first.pulls(way), *second.pulls(way)))
