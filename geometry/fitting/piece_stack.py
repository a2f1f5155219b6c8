"""A piece laid up for blending: its outlines in all sizes with the same number of points, point on matching point.

Points are seen from each piece's centre line, as mm out and mm up. Stations along an edge are sewn ones: a dart's
mouth has no length, so that all its points lie at one station.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Point, frozen_points
from geometry.alterations.frame import Frame
from geometry.alterations.handbook.landmarks import CAP_TOP, landmark
from geometry.alterations.handbook.panels import Panel
from geometry.curves import polyline
from geometry.errors import PatternError
from geometry.model.edge import Edge, EdgeRole
from geometry.model.garment import Part, part_of
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM

Floats = NDArray[np.float64]

_LEVEL_WORDS = {EdgeRole.SIDE: ("bust", "waist", "hip"), EdgeRole.CAP: ("shoulder",)}
"""Words of notches that say at which level they lie; the shoulder notch of a cap is its top."""

_SIDE_PARTS = 24
"""A straight side seam that runs through several levels is laid up in so many parts, so that it can bend."""


@dataclass(frozen=True, slots=True, eq=False)
class EdgeStack:
    """One edge in all sizes.

    Attributes:
        edge: The edge in the sample size.
        first: Number of its first point in the ring.
        count: How many points it has, both corners counted.
        share: Sewn share of its length at each point, shape (count,), in the sample size.
        sewn_mm: Its sewn length in each size, shape (sizes,).
        is_straight: Whether it is straight between its darts in every size.
        mouths: For each dart its id and the numbers of its mouth points, counted along the edge.
        notches: For each notch its id and its sewn share in each size.
        laid: Ids of the notches that lie on one another in the laid-up edges.
        words: Sewn share in the sample size of each notch named after a level, with that word.
    """

    edge: Edge
    first: int
    count: int
    share: Floats
    sewn_mm: Floats
    is_straight: bool
    mouths: tuple[tuple[str, int, int], ...]
    notches: tuple[tuple[str, Floats], ...]
    laid: frozenset[str]
    words: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class PieceStack:
    """One piece in all sizes.

    Attributes:
        piece: The piece in the sample size.
        sizes: The piece in each size.
        frame: Out and up in the sample size.
        ring: Points of shape (sizes, points, 2): mm out from the centre line, mm up.
        centre_mm: How far out on the table the centre line lies in each size, shape (sizes,).
        edges: Its edges in ring order.
        frames: Out and up in each size.
    """

    piece: Piece
    sizes: tuple[Piece, ...]
    frame: Frame
    ring: Floats
    centre_mm: Floats
    edges: tuple[EdgeStack, ...]
    frames: tuple[Frame, ...]

    def seen(self, places: tuple[Point, ...]) -> Floats:
        """One place in each size, seen from the centre line; shape (sizes, 2)."""
        axes = np.array([(frame.out, frame.up) for frame in self.frames])
        seen: Floats = np.einsum("kij,kj->ki", axes, np.array(places))
        seen[:, 0] -= self.centre_mm
        return seen


def piece_stack(piece: Piece, nest: Nest, sample: Pattern) -> PieceStack:
    """A piece of the sample size with its like in every size.

    Raises:
        PatternError: another size lacks the piece or has other edges or darts on it.
    """
    sizes = tuple(_same_piece(piece, pattern, sample.size) for pattern in nest.patterns)
    frames = tuple(Panel(size).frame for size in sizes)
    edges, rings, first = [], [], 0
    for edge in piece.edges:
        stack, points = _edge_stack(edge, piece, sizes, first)
        edges.append(stack)
        rings.append(points[:, :-1])
        first += stack.count - 1
    axes = np.array([(frame.out, frame.up) for frame in frames])
    ring: Floats = np.einsum("kij,knj->kni", axes, np.concatenate(rings, axis=1))
    centre = np.array([_centre_mm(size, frame) for size, frame in zip(sizes, frames, strict=True)])
    ring[:, :, 0] -= centre[:, None]
    return PieceStack(piece, sizes, Panel(piece).frame, ring, centre, tuple(edges), frames)


def _same_piece(piece: Piece, pattern: Pattern, sample: str) -> Piece:
    """The piece in another size, refused if it is built differently."""
    other = pattern.piece(piece.name)
    for kind, mine, theirs in (
        ("edges", [edge.id for edge in piece.edges], [edge.id for edge in other.edges]),
        ("darts", sorted((d.id, d.edge) for d in piece.darts), sorted((d.id, d.edge) for d in other.darts)),
    ):
        if mine != theirs:
            raise PatternError(
                f'The piece "{piece.name}" has other {kind} in size {pattern.size} than in size {sample}; '
                "sizes can be blended only where they are built alike: choose one size.",
                code="sizes-differ",
            )
    return other


def _edge_stack(edge: Edge, piece: Piece, sizes: tuple[Piece, ...], first: int) -> tuple[EdgeStack, Floats]:
    """An edge in all sizes and its points, shape (sizes, count, 2)."""
    darts, words = piece.darts_on(edge.id), _level_notches(edge, sizes)
    marks = [mark for dart in darts for mark in (dart.from_mm, dart.to_mm)]
    breaks = _breaks(piece, edge.id, words)
    at_mm = _with_breaks(polyline.stations_mm(edge.points), [*breaks, *_more_breaks(piece, edge, words)])
    points = np.empty((len(sizes), len(at_mm), 2))
    for number, size in enumerate(sizes):
        chain = size.edge(edge.id).points
        stations = polyline.stations_mm(chain)
        there = np.interp(at_mm, breaks, _breaks(size, edge.id, words))
        points[number, :, 0] = np.interp(there, stations, chain[:, 0])
        points[number, :, 1] = np.interp(there, stations, chain[:, 1])
    folded = sum((np.clip(at_mm - a, 0.0, b - a) for a, b in zip(marks[::2], marks[1::2], strict=True)), start=0.0)
    sewn = np.array([size.sewn_length_mm(edge.id) for size in sizes])
    share = (at_mm - folded) / max(piece.sewn_length_mm(edge.id), SAME_POINT_MM)
    mouths = tuple((d.id, _number(at_mm, d.from_mm), _number(at_mm, d.to_mm)) for d in darts)
    stack = EdgeStack(
        edge,
        first,
        len(at_mm),
        share,
        sewn,
        all(_is_straight(size, edge.id) for size in sizes),
        mouths,
        _notch_shares(edge, sizes),
        frozenset() if marks else frozenset(name for name, _ in words),
        tuple((word, _share_of(piece, notch)) for notch, word in words),
    )
    return stack, points


def _level_notches(edge: Edge, sizes: tuple[Piece, ...]) -> list[tuple[str, str]]:
    """Notches of a side seam or cap named after a level, in every size, with that word."""
    found = []
    for notch in sizes[0].notches_on(edge.id):
        name = f"{notch.id} {notch.partner}".lower()
        word = next((word for word in _LEVEL_WORDS.get(edge.role, ()) if word in name), "")
        if word and all(notch.id in {n.id for n in size.notches_on(edge.id)} for size in sizes):
            found.append((notch.id, word))
    return found


def _breaks(piece: Piece, edge_id: str, words: list[tuple[str, str]]) -> list[float]:
    """Lengths along an edge that must lie on one another in all sizes, smallest first.

    Kept in order: a notch that lies on the other side of a dart in some size could not be matched by sorting, so
    notches within a mouth's reach are left to the share of their length.
    """
    marks = [mark for dart in piece.darts_on(edge_id) for mark in (dart.from_mm, dart.to_mm)]
    notches = [piece.notch(name).at_mm for name, _ in words] if not marks else []
    return [0.0, *sorted([*marks, *notches]), piece.edge(edge_id).length_mm]


def _more_breaks(piece: Piece, edge: Edge, words: list[tuple[str, str]]) -> Floats:
    """Places where a long straight side may bend: between waist, hip and hem."""
    bends = part_of(piece) in (Part.SKIRT, Part.TROUSERS) or any(word != "bust" for _, word in words)
    if edge.role is not EdgeRole.SIDE or not bends or len(edge.points) > _SIDE_PARTS or piece.darts_on(edge.id):
        return np.empty(0)
    return np.linspace(0.0, edge.length_mm, _SIDE_PARTS + 1)


def _with_breaks(stations: Floats, breaks: list[float]) -> Floats:
    """The stations with the breaks put in, where none lies there already."""
    near = np.abs(stations[:, None] - np.array(breaks)[None, :]).min(axis=1) <= SAME_POINT_MM
    merged: Floats = np.unique(np.concatenate([stations[~near], np.array(breaks)]))
    return merged


def _number(stations: Floats, at_mm: float) -> int:
    return int(np.argmin(np.abs(stations - at_mm)))


def _is_straight(piece: Piece, edge_id: str) -> bool:
    """Whether every part of an edge between its darts is straight."""
    edge = piece.edge(edge_id)
    marks = [0.0, *(mark for d in piece.darts_on(edge_id) for mark in (d.from_mm, d.to_mm)), edge.length_mm]
    parts = (
        polyline.part_between(edge.points, a, b) for a, b in zip(marks[::2], marks[1::2], strict=True) if b - a > 0
    )
    return all(Edge("", frozen_points(part)).is_straight for part in parts)


def _notch_shares(edge: Edge, sizes: tuple[Piece, ...]) -> tuple[tuple[str, Floats], ...]:
    """The sewn share of each notch that every size has on this edge."""
    known = [{notch.id: notch for notch in size.notches_on(edge.id)} for size in sizes]
    common = [name for name in known[0] if all(name in size for size in known)]
    return tuple((name, np.array([_share_of(size, name) for size in sizes])) for name in common)


def _share_of(piece: Piece, notch_id: str) -> float:
    notch = piece.notch(notch_id)
    return piece.sewn_station_mm(notch.edge, notch.at_mm) / max(piece.sewn_length_mm(notch.edge), SAME_POINT_MM)


def _centre_mm(piece: Piece, frame: Frame) -> float:
    """How far out the line lies that widths of a piece are counted from."""
    panel = Panel(piece)
    centres = [piece.edge(piece.fold)] if piece.fold is not None else []
    centres += [edge for role in (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK) for edge in panel.edges(role)]
    part = part_of(piece)
    if part is Part.SLEEVE:
        place = panel.point(landmark(panel, CAP_TOP))
    elif part is Part.TROUSERS and piece.grain is not None:
        place = piece.grain.start
    elif centres:
        place = centres[0].start
    else:
        out = piece.outline @ np.asarray(frame.out)
        return float(out.min() + out.max()) / 2
    return place[0] * frame.out[0] + place[1] * frame.out[1]
