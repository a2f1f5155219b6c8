"""What the drafter marks on every piece: drill holes, lines across, grain, words; and the left half from the right."""

from __future__ import annotations

from dataclasses import replace

from geometry.affine import Affine, Point, frozen_points, midpoint, unit_vector
from geometry.curves import polyline
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import Edge
from geometry.model.marks import InnerLine, Label, Mark, MarkKind, Notch
from geometry.model.piece import Piece, moved_dart

DRILLED_BEFORE_TIP_MM = 12.0
"""The hole is punched about 1/2 in inside the dart, so that the seam hides it (onlinefabricstore.com, how to sew a
dart)."""

CLEAR_OF_EDGE_MM = 8.0
"""Lines across a piece end this far inside it: own choice."""

LENGTHEN = "lengthen or shorten"


def with_drill_holes(piece: Piece) -> Piece:
    """The piece with a hole marked inside every dart."""
    holes = []
    for dart in piece.darts:
        middle = midpoint(*piece.mouth(dart))
        ux, uy = unit_vector(dart.tip, middle)
        at = (dart.tip[0] + DRILLED_BEFORE_TIP_MM * ux, dart.tip[1] + DRILLED_BEFORE_TIP_MM * uy)
        holes.append(Mark(dart.id, at, MarkKind.DRILL))
    return replace(piece, marks=piece.marks + tuple(holes))


def line_across(name: str, y: float, from_x: float, to_x: float) -> InnerLine:
    """A level line, clear of the edges at both ends."""
    return InnerLine(name, frozen_points([(from_x + CLEAR_OF_EDGE_MM, y), (to_x - CLEAR_OF_EDGE_MM, y)]))


def landmark(name: str, at: Point) -> Mark:
    """A body point marked on the piece."""
    return Mark(name, at, MarkKind.LANDMARK)


def mirrored(piece: Piece) -> Piece:
    """The piece turned over along its centre line x = 0, its ring counter-clockwise again; words keep their side."""
    over = Affine(a=-1.0)
    lengths = {edge.id: edge.length_mm for edge in piece.edges}
    return replace(
        piece,
        edges=tuple(
            Edge(e.id, frozen_points(over.points(e.points)[::-1]), e.role, e.allowance_mm) for e in piece.edges[::-1]
        ),
        darts=tuple(_mirrored_dart(dart, lengths[dart.edge], over) for dart in piece.darts),
        notches=tuple(_mirrored_notch(notch, lengths[notch.edge]) for notch in piece.notches),
        inner_lines=tuple(
            InnerLine(line.id, frozen_points(over.points(line.points)), line.kind) for line in piece.inner_lines
        ),
        marks=tuple(Mark(mark.id, over.point(mark.at), mark.kind) for mark in piece.marks),
        labels=tuple(Label(label.text, over.point(label.at)) for label in piece.labels),
        grain=piece.grain.moved(over) if piece.grain else None,
    )


def _mirrored_dart(dart: Dart, edge_mm: float, over: Affine) -> Dart:
    pressed = Pressed.TO_END if dart.pressed is Pressed.TO_START else Pressed.TO_START
    return replace(moved_dart(dart, over), from_mm=edge_mm - dart.to_mm, to_mm=edge_mm - dart.from_mm, pressed=pressed)


def _mirrored_notch(notch: Notch, edge_mm: float) -> Notch:
    return replace(notch, at_mm=edge_mm - notch.at_mm)


def x_at(edge: Edge, y: float) -> float:
    """How far out an edge is at a level it crosses once."""
    low, high = 0.0, edge.length_mm
    rising = edge.end[1] > edge.start[1]
    for _ in range(60):
        middle = (low + high) / 2
        if (polyline.point_at(edge.points, middle)[1] < y) == rising:
            low = middle
        else:
            high = middle
    return polyline.point_at(edge.points, low)[0]
