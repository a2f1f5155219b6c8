"""A piece as painter paths, built once per piece in its own millimetres; panning and zooming only transform them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shiboken6
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath, QPolygonF

from editor.selection import Selection
from geometry.affine import Point, Points, distance_mm, frozen_points, midpoint, unit_vector
from geometry.allowance import cutting_line
from geometry.curves import polyline
from geometry.model.edge import Edge
from geometry.model.marks import Mark, MarkKind, Notch, NotchKind
from geometry.model.piece import Piece

_HEAD_MM = 9.0
"""Length of an arrow head on the grain line."""

_CLEAR_EVERY_MM = 20.0
"""How close together the points are that a label keeps clear of."""

_ROOM_STEPS = 15
"""The label is put at the roomiest of this many places squared."""


@dataclass(frozen=True, eq=False)
class PiecePaths:
    """Everything that is drawn of a piece.

    Attributes:
        piece: The piece.
        ring: Its cutting line.
        sheet: The cutting line as a closed path.
        stitching: The stitching line, open across dart mouths.
        wedges: What the darts fold away.
        ink: Thin lines: legs, notches, grain, inner lines, marks.
        solid: Small filled shapes: arrow heads, notch triangles.
        label_like: Paths whose label stays where it is, so that it keeps still while an amount is dragged.
    """

    piece: Piece
    ring: Points
    sheet: QPainterPath
    stitching: QPainterPath
    wedges: QPainterPath
    ink: QPainterPath
    solid: QPainterPath
    label_like: PiecePaths | None = None

    @property
    def words(self) -> tuple[str, ...]:
        """The lines of its label, the name first."""
        return words_on(self.piece)

    @cached_property
    def room(self) -> tuple[Point, float]:
        """The middle of its label and how wide that may be, mm; found when it is first drawn large enough for one."""
        return self.label_like.room if self.label_like is not None else roomiest(self.piece)


def paths_of(piece: Piece, *, label_like: PiecePaths | None = None) -> PiecePaths:
    """The paths of a piece."""
    ring = cutting_line(piece)
    stitching, wedges, ink, solid = QPainterPath(), QPainterPath(), QPainterPath(), QPainterPath()
    for edge in piece.edges:
        if edge.allowance_mm > 0:
            for chain in _between_mouths(piece, edge):
                add_chain(stitching, chain)
    _add_darts(piece, wedges, ink)
    _add_marks(piece, ink, solid)
    return PiecePaths(piece, ring, closed_path(ring), stitching, wedges, ink, solid, label_like)


def polygon(points: Points) -> QPolygonF:
    """The points as a polygon, copied as one block of memory."""
    found = QPolygonF()
    found.resize(len(points))
    memory = shiboken6.VoidPtr(found.data(), 16 * len(points), True)  # type: ignore[call-arg, arg-type]
    np.frombuffer(memory, np.float64).reshape(-1, 2)[:] = points  # type: ignore[call-overload]
    return found


def add_chain(path: QPainterPath, points: Points, *, closed: bool = False) -> None:
    """Add a chain of points to a path."""
    path.addPolygon(polygon(points))
    if closed:
        path.closeSubpath()


def closed_path(ring: Points) -> QPainterPath:
    """A ring as a path."""
    path = QPainterPath()
    add_chain(path, ring, closed=True)
    return path


def picked_path(piece: Piece, picked: Selection) -> QPainterPath:
    """The edge or dart that is picked out on a piece; empty if none of it is."""
    path = QPainterPath()
    for edge in piece.edges:
        if edge.id == picked.edge:
            add_chain(path, edge.points)
    for dart in piece.darts:
        if dart.id == picked.dart:
            start, end = piece.mouth(dart)
            add_chain(path, frozen_points([start, dart.tip, end]))
    for double in piece.double_darts:
        if double.id == picked.dart:
            add_chain(path, frozen_points([double.tip_start, double.right, double.tip_end, double.left]), closed=True)
    return path


def words_on(piece: Piece) -> tuple[str, ...]:
    """The lines of a piece's label: its name, its size, how it is cut."""
    count = f"cut {piece.quantity}" + (" on the fold" if piece.fold is not None else "")
    return (piece.name, f"size {piece.size}", count) if piece.size else (piece.name, count)


def roomiest(piece: Piece) -> tuple[Point, float]:
    """The place inside a piece farthest from its lines, sideways distance counting less, and the width free there."""
    outline = piece.outline
    low, high = outline.min(axis=0), outline.max(axis=0)
    shares = (np.arange(_ROOM_STEPS) + 0.5) / _ROOM_STEPS
    grid = np.stack(np.meshgrid(*(low[i] + shares * (high[i] - low[i]) for i in (0, 1))), axis=-1).reshape(-1, 2)
    inside = grid[polyline.contains(outline, grid)]
    if not len(inside):
        return midpoint((float(low[0]), float(low[1])), (float(high[0]), float(high[1]))), float(high[0] - low[0])
    obstacles = _obstacles(piece)
    gaps = np.abs(inside[:, None, :] - obstacles[None, :, :])
    free = np.maximum(gaps[..., 0], gaps[..., 1] * 2.2).min(axis=1)
    # Words sit best a little above the middle, where the eye looks first; at the end of a band they would hang over.
    ideal = low + (high - low) * (0.5, 0.56)
    best = int(np.argmax(free - np.abs(inside - ideal) @ (0.06, 0.12)))
    return (float(inside[best, 0]), float(inside[best, 1])), float(2 * free[best])


def _obstacles(piece: Piece) -> Points:
    """Points along everything the label should keep clear of."""
    chains: list[Points] = [np.vstack([piece.outline, piece.outline[:1]])]
    for dart in piece.darts:
        first, second = piece.mouth(dart)
        chains.append(np.array([first, dart.tip, second]))
    for double in piece.double_darts:
        chains.append(np.array([double.tip_start, double.left, double.tip_end, double.right]))
    if piece.grain is not None:
        chains.append(np.array([piece.grain.start, piece.grain.end]))
    chains.extend(line.points for line in piece.inner_lines)
    chains.extend(np.array([mark.at]) for mark in piece.marks if mark.kind is not MarkKind.CURVE_POINT)
    return np.vstack([_every(chain, _CLEAR_EVERY_MM) for chain in chains])


def _every(chain: Points, step_mm: float) -> Points:
    stations = polyline.stations_mm(chain)
    at = np.arange(0.0, float(stations[-1]) + step_mm, step_mm)
    return np.column_stack([np.interp(at, stations, chain[:, 0]), np.interp(at, stations, chain[:, 1])])


def _between_mouths(piece: Piece, edge: Edge) -> Iterable[Points]:
    at_mm = 0.0
    for dart in piece.darts_on(edge.id):
        yield polyline.part_between(edge.points, at_mm, dart.from_mm)
        at_mm = dart.to_mm
    yield polyline.part_between(edge.points, at_mm, edge.length_mm)


def _add_darts(piece: Piece, wedges: QPainterPath, ink: QPainterPath) -> None:
    for dart in piece.darts:
        if not dart.stitched:
            continue
        first, second = piece.mouth(dart)
        legs = frozen_points([first, dart.tip, second])
        add_chain(wedges, legs, closed=True)
        add_chain(ink, legs)
    for double in piece.double_darts:
        corners = frozen_points([double.tip_start, double.right, double.tip_end, double.left])
        add_chain(wedges, corners, closed=True)
        add_chain(ink, corners, closed=True)


def _add_marks(piece: Piece, ink: QPainterPath, solid: QPainterPath) -> None:
    for notch in piece.notches:
        _add_notch(piece, notch, ink, solid)
    for line in piece.inner_lines:
        add_chain(ink, line.points, closed=line.closed)
    for mark in piece.marks:
        _add_mark(mark, ink)
    if piece.grain is not None and distance_mm(piece.grain.start, piece.grain.end) > 0:
        _add_arrow(piece.grain.start, piece.grain.end, ink, solid)
    if piece.fold is not None:
        _add_fold(piece.edge(piece.fold), ink, solid)


def _add_notch(piece: Piece, notch: Notch, ink: QPainterPath, solid: QPainterPath) -> None:
    """A notch from the cutting line inwards, with a short tick where it meets the stitching line."""
    edge = piece.edge(notch.edge)
    at = edge.point_at(notch.at_mm)
    tx, ty = polyline.direction_at(edge.points, notch.at_mm)
    out = (ty, -tx)
    outer = _along(at, out, edge.allowance_mm)
    inner = _along(outer, out, -max(notch.depth_mm, 4.0))
    if notch.kind is NotchKind.SLIT or notch.width_mm <= 0:
        add_chain(ink, frozen_points([outer, inner]))
    else:
        half = notch.width_mm / 2
        base = (_along(outer, (tx, ty), -half), inner, _along(outer, (tx, ty), half))
        add_chain(solid, frozen_points(base), closed=True)
    if edge.allowance_mm > 0:
        add_chain(ink, frozen_points([_along(at, out, 2.5), _along(at, out, -2.5)]))


def _add_mark(mark: Mark, ink: QPainterPath) -> None:
    if mark.kind is MarkKind.CURVE_POINT:
        return
    (x, y), arm = mark.at, 5.0
    ink.addEllipse(QPointF(x, y), arm * 0.6, arm * 0.6)
    if mark.kind is MarkKind.LANDMARK:
        add_chain(ink, frozen_points([(x - arm, y), (x + arm, y)]))
        add_chain(ink, frozen_points([(x, y - arm), (x, y + arm)]))


def _add_arrow(start: Point, end: Point, ink: QPainterPath, solid: QPainterPath) -> None:
    """A line with a head at either end."""
    add_chain(ink, frozen_points([start, end]))
    towards = unit_vector(start, end)
    _add_head(start, (-towards[0], -towards[1]), solid)
    _add_head(end, towards, solid)


def _add_head(tip: Point, towards: Point, solid: QPainterPath) -> None:
    back, side = _along(tip, towards, -_HEAD_MM), (-towards[1], towards[0])
    add_chain(solid, frozen_points([tip, _along(back, side, 3.0), _along(back, side, -3.0)]), closed=True)


def _add_fold(edge: Edge, ink: QPainterPath, solid: QPainterPath) -> None:
    """A bracket whose arrows point at the fold."""
    length = edge.length_mm
    inset = min(16.0, length / 8)
    ends: list[tuple[Point, Point]] = []
    for share in (0.14, 0.86):
        at = edge.point_at(share * length)
        tx, ty = polyline.direction_at(edge.points, share * length)
        inwards = (-ty, tx)
        ends.append((at, _along(at, inwards, inset)))
        _add_head(_along(at, inwards, 1.0), (ty, -tx), solid)
    (first, first_in), (last, last_in) = ends
    add_chain(ink, frozen_points([first, first_in, last_in, last]))


def _along(place: Point, direction: Point, by_mm: float) -> Point:
    return (place[0] + direction[0] * by_mm, place[1] + direction[1] * by_mm)
