"""The place meant by the pointer: a corner, notch, dart tip or landmark nearby, a right angle to the grain, an edge."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

import numpy as np

from geometry.affine import Point, Points, distance_mm, frozen_points, unit_vector
from geometry.alterations.anchors import Anchor, On, free, on_edge, resolve
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.identity import Same
from geometry.model.marks import MarkKind
from geometry.model.piece import Piece

REACH_PX = 11.0
"""How near on the screen a thing must be to be meant."""

ANGLE_DEG = 4.0
"""How near to the grain, or square to it, a line must run to be taken to do so."""


class SnapKind(StrEnum):
    """What was caught; the first four are named points, which outrank edges."""

    CORNER = "corner"
    NOTCH = "notch"
    TIP = "tip"
    LANDMARK = "landmark"
    MIDDLE = "middle"
    EDGE = "edge"
    GRAIN = "grain"
    FREE = "free"


@dataclass(frozen=True, slots=True)
class Snap:
    """A place on a piece that is meant.

    Attributes:
        at: The place, in the piece's coordinates.
        anchor: The lasting way to point at it.
        kind: What was caught.
        words: What a person would call it.
    """

    at: Point
    anchor: Anchor
    kind: SnapKind
    words: str

    @property
    def on_outline(self) -> bool:
        """Whether it lies on the stitching line."""
        return self.anchor.on in (On.EDGE, On.NOTCH)


@dataclass(frozen=True, slots=True, eq=False)
class Targets:
    """The named points of a piece, with their places as one array of shape (n, 2)."""

    snaps: tuple[Snap, ...]
    places: Points


def snapped(piece: Piece, place: Point, *, reach_mm: float, start: Point | None = None, square: bool = False) -> Snap:
    """The place meant by the pointer on a piece.

    Args:
        piece: The piece pointed at.
        place: Where the pointer is, in its coordinates.
        reach_mm: How near a thing must be to be caught.
        start: Where the line being drawn starts; directions are taken from there.
        square: Keep to the grain or square to it, however far the pointer strays.
    """
    if not square:
        named = _nearest_target(targets(piece), place, reach_mm)
        if named is not None:
            return named
    if start is not None:
        ruled = _along_grain(piece, place, start, reach_mm, square)
        if ruled is not None:
            return ruled
    edge = _nearest_edge(piece, place, reach_mm)
    if edge is not None:
        return edge
    stopped = _stopped(piece, start, place, reach_mm, "") if start is not None else None
    return stopped or Snap(place, free(place), SnapKind.FREE, "")


def snapped_to_cut(
    piece: Piece, place: Point, *, reach_mm: float, start: Point | None = None, square: bool = False
) -> Snap:
    """As ``snapped``, but a place in the allowance means the stitching line beside it.

    The paper's rim is what the eye takes for the edge of a piece, and a line begun there is meant to run from edge to
    edge.
    """
    snap = snapped(piece, place, reach_mm=reach_mm, start=start, square=square)
    if snap.kind is not SnapKind.FREE or polyline.contains(piece.outline, np.array([place]))[0]:
        return snap
    return _nearest_edge(piece, place, math.inf) or snap


def targets(piece: Piece) -> Targets:
    """The named points of a piece in a stable order: round the outline, then inside. Kept for the very same piece."""
    return _targets(Same(piece))


@lru_cache(maxsize=64)
def _targets(key: Same[Piece]) -> Targets:
    snaps = tuple(_named_points(key.value))
    return Targets(snaps, frozen_points([snap.at for snap in snaps]))


def _named_points(piece: Piece) -> Iterator[Snap]:
    previous = piece.edges[-1].id
    for edge in piece.edges:
        yield Snap(edge.start, on_edge(edge.id, 0.0), SnapKind.CORNER, f"corner of {previous} and {edge.id}")
        yield from _along_edge(piece, edge.id)
        previous = edge.id
    for dart in piece.darts:
        yield Snap(dart.tip, Anchor(On.TIP, dart.id), SnapKind.TIP, f"tip of the {dart.id}")
    for mark in piece.marks:
        if mark.kind is MarkKind.LANDMARK:
            yield Snap(mark.at, Anchor(On.LANDMARK, mark.id), SnapKind.LANDMARK, mark.id)
    for dart in piece.darts:
        if dart.aim is not None and not any(distance_mm(dart.aim, mark.at) < 1.0 for mark in piece.marks):
            yield Snap(dart.aim, Anchor(On.AIM, dart.id), SnapKind.LANDMARK, f"aim of the {dart.id}")


def _along_edge(piece: Piece, edge_id: str) -> Iterator[Snap]:
    edge = piece.edge(edge_id)
    length = edge.length_mm
    found: list[tuple[float, Snap]] = []
    for notch in piece.notches_on(edge_id):
        at = edge.point_at(notch.at_mm)
        words = f"notch {notch.partner or notch.id}"
        found.append((notch.at_mm, Snap(at, Anchor(On.NOTCH, notch.id), SnapKind.NOTCH, words)))
    for dart in piece.darts_on(edge_id):
        middle = (dart.from_mm + dart.to_mm) / 2
        for at_mm, words in (
            (dart.from_mm, f"leg of the {dart.id}"),
            (middle, f"middle of the {dart.id}"),
            (dart.to_mm, f"leg of the {dart.id}"),
        ):
            anchor = on_edge(edge_id, at_mm / length)
            found.append((at_mm, Snap(edge.point_at(at_mm), anchor, SnapKind.NOTCH, words)))
    anchor = on_edge(edge_id, 0.5)
    found.append((length / 2, Snap(edge.point_at(length / 2), anchor, SnapKind.MIDDLE, f"middle of {edge_id}")))
    yield from (snap for _, snap in sorted(found, key=lambda row: row[0]))


def _nearest_target(found: Targets, place: Point, reach_mm: float) -> Snap | None:
    gaps = np.hypot(found.places[:, 0] - place[0], found.places[:, 1] - place[1])
    near = [(float(gaps[i]), found.snaps[i]) for i in np.nonzero(gaps <= reach_mm)[0]]
    if not near:
        return None
    # The middle of an edge is a convenience: it must be hit more closely, and gives way to a real mark.
    firm = [row for row in near if row[1].kind is not SnapKind.MIDDLE]
    close = [row for row in near if row[1].kind is SnapKind.MIDDLE and row[0] <= reach_mm / 2]
    rows = firm or close
    return min(rows, key=lambda row: row[0])[1] if rows else None


def _nearest_edge(piece: Piece, place: Point, reach_mm: float) -> Snap | None:
    near = [(polyline.nearest(edge.points, place), edge) for edge in piece.edges]
    (at_mm, gap_mm), edge = min(near, key=lambda row: row[0][1])
    if gap_mm > reach_mm:
        return None
    anchor = on_edge(edge.id, at_mm / edge.length_mm)
    return Snap(resolve(piece, anchor), anchor, SnapKind.EDGE, edge.id)


def _along_grain(piece: Piece, place: Point, start: Point, reach_mm: float, square: bool) -> Snap | None:
    """The place dropped on the line through ``start`` along or square to the grain, if it runs nearly so."""
    if distance_mm(start, place) <= reach_mm:
        return None
    for towards, words in _grain_directions(piece):
        along = (place[0] - start[0]) * towards[0] + (place[1] - start[1]) * towards[1]
        off = abs((place[0] - start[0]) * towards[1] - (place[1] - start[1]) * towards[0])
        limit_deg = 45.0 if square else ANGLE_DEG
        if math.degrees(math.atan2(off, abs(along))) > limit_deg:
            continue
        at = (start[0] + along * towards[0], start[1] + along * towards[1])
        return _stopped(piece, start, at, reach_mm, words) or Snap(at, free(at), SnapKind.GRAIN, words)
    return None


def _grain_directions(piece: Piece) -> tuple[tuple[Point, str], tuple[Point, str]]:
    if piece.grain is None:
        return ((0.0, 1.0), "upright"), ((1.0, 0.0), "level")
    ux, uy = unit_vector(piece.grain.start, piece.grain.end)
    return ((ux, uy), "along the grain"), ((-uy, ux), "square to the grain")


def _stopped(piece: Piece, start: Point, at: Point, reach_mm: float, words: str) -> Snap | None:
    """Where a line from ``start`` first meets the outline, if it ends near there or beyond it."""
    ux, uy = unit_vector(start, at)
    length = distance_mm(start, at)
    ruled = np.array([start, (at[0] + ux * reach_mm, at[1] + uy * reach_mm)])
    met = [
        (crossing.first_mm, crossing, edge)
        for edge in piece.edges
        for crossing in crossings(ruled, edge.points)
        if crossing.first_mm > reach_mm / 2
    ]
    if not met:
        return None
    first_mm, crossing, edge = min(met, key=lambda row: row[0])
    if first_mm < length - reach_mm and polyline.contains(piece.outline, np.array([at]))[0]:
        return None
    anchor = on_edge(edge.id, min(max(crossing.second_mm / edge.length_mm, 0.0), 1.0))
    kind = SnapKind.GRAIN if words else SnapKind.EDGE
    return Snap(crossing.at, anchor, kind, f"{edge.id}, {words}" if words else edge.id)
