"""Ways to spoil one thing on a good piece and nothing else: smooth bumps, tilted ends, changed parts."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from geometry.affine import Point, Points, frozen_points
from geometry.curves import polyline
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, Mark
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece


def with_parts(pattern: Pattern, name: str, **parts: object) -> Pattern:
    """The pattern with parts of one piece replaced."""
    return pattern.with_piece(replace(pattern.piece(name), **parts))  # type: ignore[arg-type]


def with_edge(pattern: Pattern, name: str, edge_id: str, **changes: object) -> Pattern:
    """The pattern with one edge changed."""
    edges = pattern.piece(name).edges
    changed = tuple(replace(e, **changes) if e.id == edge_id else e for e in edges)  # type: ignore[arg-type]
    return with_parts(pattern, name, edges=changed)


def with_dart(pattern: Pattern, name: str, dart_id: str, **changes: object) -> Pattern:
    """The pattern with one dart changed."""
    darts = pattern.piece(name).darts
    changed = tuple(replace(d, **changes) if d.id == dart_id else d for d in darts)  # type: ignore[arg-type]
    return with_parts(pattern, name, darts=changed)


def with_notch(pattern: Pattern, name: str, notch_id: str, **changes: object) -> Pattern:
    """The pattern with one notch changed."""
    notches = pattern.piece(name).notches
    changed = tuple(replace(n, **changes) if n.id == notch_id else n for n in notches)  # type: ignore[arg-type]
    return with_parts(pattern, name, notches=changed)


def with_piece(pattern: Pattern, piece: Piece) -> Pattern:
    """The pattern with one piece more."""
    return replace(pattern, pieces=(*pattern.pieces, piece))


def in_steps(edge: Edge) -> Points:
    """The points of an edge about every 2 mm."""
    stations = np.linspace(0.0, edge.length_mm, max(3, round(edge.length_mm / 2)))
    points = np.array([edge.point_at(float(at)) for at in stations])
    points[0], points[-1] = edge.points[0], edge.points[-1]
    return points


def pushed(edge: Edge, off_mm: np.ndarray) -> Points:
    """Its points in steps, each moved to the left of the line from end to end by so much."""
    points = in_steps(edge)
    ahead = points[-1] - points[0]
    left = np.array([-ahead[1], ahead[0]]) / math.hypot(*ahead)
    return frozen_points(points + off_mm[:, None] * left)


def bumped(pattern: Pattern, name: str, edge_id: str, by_mm: float, *, flat: float = 0.0) -> Pattern:
    """The pattern with an edge moved inwards (negative: outwards) in one smooth bump, a share of it by the whole."""
    edge = pattern.piece(name).edge(edge_id)
    share = np.linspace(0.0, 1.0, len(in_steps(edge)))
    ramp = (1.0 - flat) / 2
    rising = np.clip(np.minimum(share, 1.0 - share) / ramp, 0.0, 1.0)
    return with_edge(pattern, name, edge_id, points=pushed(edge, by_mm * np.sin(rising * math.pi / 2) ** 2))


def kinked(pattern: Pattern, name: str, edge_id: str, by_mm: float, *, reach: float = 0.2) -> Pattern:
    """The pattern with a corner in the middle of an edge, which stands out by so much over a share of its length."""
    edge = pattern.piece(name).edge(edge_id)
    share = np.linspace(0.0, 1.0, len(in_steps(edge)))
    off = -by_mm * np.clip(1.0 - np.abs(share - 0.5) / reach, 0.0, 1.0)
    return with_edge(pattern, name, edge_id, points=pushed(edge, off))


def tilted(pattern: Pattern, name: str, edge_id: str, by_deg: float, *, at_start: bool, over_mm: float) -> Pattern:
    """The pattern with an edge that leaves one of its ends at another angle and soon runs as before."""
    edge = pattern.piece(name).edge(edge_id)
    share = np.linspace(0.0, 1.0, len(in_steps(edge))) * edge.length_mm / over_mm
    along = share if at_start else share[::-1]
    slope = math.tan(math.radians(by_deg)) * over_mm
    off = slope * along * np.clip(1.0 - along, 0.0, 1.0) ** 2
    return with_edge(pattern, name, edge_id, points=pushed(edge, off))


def turned_grain(piece: Piece, by_deg: float) -> Grain:
    """The grain of a piece, turned about its start."""
    assert piece.grain is not None
    (x0, y0), (x1, y1) = piece.grain.start, piece.grain.end
    cos, sin = math.cos(math.radians(by_deg)), math.sin(math.radians(by_deg))
    dx, dy = x1 - x0, y1 - y0
    return Grain((x0, y0), (x0 + cos * dx - sin * dy, y0 + sin * dx + cos * dy))


def along_dart(piece: Piece, dart_id: str, by_mm: float) -> Point:
    """The place that far beyond the tip of a dart, in line with it."""
    dart = piece.dart(dart_id)
    a, b = (np.array(place) for place in piece.mouth(dart))
    ahead = np.array(dart.tip) - (a + b) / 2
    x, y = np.array(dart.tip) + ahead / math.hypot(*ahead) * by_mm
    return (float(x), float(y))


def rectangle(name: str, wide_mm: float, high_mm: float, **parts: object) -> Piece:
    """A piece of four straight edges with the grain upright in its middle, sewn to nothing."""
    corners = [(0.0, 0.0), (wide_mm, 0.0), (wide_mm, high_mm), (0.0, high_mm), (0.0, 0.0)]
    edges = tuple(Edge(f"edge {k + 1}", frozen_points(corners[k : k + 2]), EdgeRole.OTHER) for k in range(4))
    grain = Grain((wide_mm / 2, high_mm / 4), (wide_mm / 2, 3 * high_mm / 4))
    return replace(Piece(name, edges, grain=grain), **parts)  # type: ignore[arg-type]


def row_of_marks(word: str, places: list[Point]) -> tuple[Mark, ...]:
    """Marks called "button 1", "button 2" ..."""
    return tuple(Mark(f"{word} {number}", place) for number, place in enumerate(places, start=1))


def traced_by_hand(old: Piece, hand: np.random.Generator) -> Piece:
    """The piece as a hand leaves it on a digitiser: sampled every millimetre, each point off by up to 0.1 mm."""
    edges, shares = [], {}
    for edge in old.edges:
        stations = np.linspace(0, edge.length_mm, int(edge.length_mm) + 1)
        points = np.array([edge.point_at(station) for station in stations])
        points[1:-1] += hand.uniform(-0.1, 0.1, (len(points) - 2, 2))
        edges.append(replace(edge, points=frozen_points(points)))
        shares[edge.id] = edges[-1].length_mm / edge.length_mm
    darts = (replace(d, from_mm=d.from_mm * shares[d.edge], to_mm=d.to_mm * shares[d.edge]) for d in old.darts)
    notches = (replace(n, at_mm=n.at_mm * shares[n.edge]) for n in old.notches)
    return replace(old, edges=tuple(edges), darts=tuple(darts), notches=tuple(notches))


def across(pattern: Pattern, name: str, line_id: str) -> tuple[float, float, str, str]:
    """Where a line of a piece, taken on level, meets its outline: shares of two edges and the edges, left first."""
    piece = pattern.piece(name)
    y = float(next(line for line in piece.inner_lines if line.id == line_id).points[:, 1].mean())
    met = []
    for edge in piece.edges:
        heights = edge.points[:, 1] - y
        if heights[0] * heights[-1] < 0:
            crossing = np.interp(0.0, *_rising(heights, polyline.stations_mm(edge.points)))
            met.append((edge.point_at(float(crossing))[0], float(crossing) / edge.length_mm, edge.id))
    (_, one, first), (_, other, second) = sorted(met)
    return one, other, first, second


def _rising(values: np.ndarray, stations: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    return (values, stations) if values[-1] > values[0] else (values[::-1], stations[::-1])
