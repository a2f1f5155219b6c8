"""One dart split in two, two darts merged into one."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.affine import Point, Points, as_point, distance_mm, frozen_points, midpoint
from geometry.alterations.anchors import on_edge
from geometry.alterations.cutting_marks import holed
from geometry.alterations.dart_transfer import DartTransfer, unused_dart_id
from geometry.alterations.mouths import around_mouth, room_around
from geometry.alterations.redrawn_edges import with_edge
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount, WithoutAmount, piece_outcome
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.dart import Dart
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM, SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class SplitDart(OnOnePiece, WithAmount):
    """Make two darts of one, beside each other on the same edge, which is sewn as long as before.

    A dart that aims at a body point gives part of its angle to the new one, and both aim at that point: the angles
    add up. Any other gives part of its width, and both keep its direction and length: the widths add up.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        amount_mm: Cloth between the two; the new dart lies nearer the end of the edge, or with a negative amount
            nearer its start.
        share: How much of the dart the new one gets, above 0 and below 1.
        new_dart: Id of the new dart; "" makes one up.
    """

    kind: ClassVar[str] = "split-dart"

    piece: str
    dart: str
    amount_mm: float
    share: float = 0.5
    new_dart: str = ""

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with two darts in place of the one; with no cloth between them they stay one."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.dart)
        if self.amount_mm == 0:
            return piece_outcome(pattern, piece, piece)
        if not 0 < self.share < 1:
            raise StepError(
                f'The share of the dart "{dart.id}" that the new one gets is {self.share:g}; give more than 0 and '
                "less than 1."
            )
        name = self.new_dart or unused_dart_id(piece, f"{dart.edge} dart")
        if name in {other.id for other in piece.darts}:
            raise StepError(f'"{piece.name}" has a dart "{name}" already; give the new one another name.')
        _refuse_no_room(piece, dart, self.amount_mm)
        if dart.aim is None:
            return holed(pattern, piece_outcome(pattern, piece, _split_beside(piece, dart, self, name)))
        edge = piece.edge(dart.edge)
        at_mm = self.amount_mm + (dart.to_mm if self.amount_mm > 0 else dart.from_mm)
        line = (on_edge(edge.id, at_mm / edge.length_mm),)
        return holed(pattern, DartTransfer(self.piece, self.dart, line, self.share, name).apply(pattern))


@dataclass(frozen=True, slots=True)
class MergeDarts(OnOnePiece, WithoutAmount):
    """Make one dart of two: the first is closed and the second takes in as much more.

    Darts that aim at the same body point add their angles, wherever they open. Darts of one edge that aim at no
    common point add their widths; that edge is sewn as long as before.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart that is closed.
        into: Id of the dart that grows.
    """

    kind: ClassVar[str] = "merge-darts"

    piece: str
    dart: str
    into: str

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with one dart in place of the two."""
        piece = pattern.piece(self.piece)
        dart, into = piece.dart(self.dart), piece.dart(self.into)
        if dart.id == into.id:
            raise StepError(f'The dart "{dart.id}" on "{piece.name}" cannot be merged with itself; name another one.')
        if dart.aim and into.aim and distance_mm(dart.aim, into.aim) <= ON_EDGE_MM:
            edge = piece.edge(into.edge)
            line = (on_edge(edge.id, (into.from_mm + into.to_mm) / 2 / edge.length_mm),)
            return DartTransfer(self.piece, self.dart, line).apply(pattern)
        if dart.edge != into.edge:
            raise StepError(
                f'The darts "{dart.id}" and "{into.id}" on "{piece.name}" open on different edges and aim at different '
                "points; point both at the same body point first."
            )
        _refuse_dart_between(piece, dart, into)
        return piece_outcome(pattern, piece, _merged_beside(piece, dart, into))


def _split_beside(piece: Piece, dart: Dart, step: SplitDart, name: str) -> Piece:
    before, after = around_mouth(piece, dart)
    x, y = _across(before, after)
    goes = (x * step.share, y * step.share)
    first, second = dart, replace(dart, id=name)
    if step.amount_mm > 0:
        between = frozen_points(polyline.part_between(after, 0.0, step.amount_mm) - goes)
        after = polyline.part_between(after, step.amount_mm, polyline.length_mm(after))
    else:
        first, second = second, first
        total = polyline.length_mm(before)
        between = frozen_points(polyline.part_between(before, total + step.amount_mm, total) + goes)
        before = polyline.part_between(before, 0.0, total + step.amount_mm)
    chain, mouths = _with_two_mouths(before, between, after)
    placed = tuple(
        replace(each, from_mm=low, to_mm=high, tip=_tip_over(piece, dart, chain, low, high))
        for each, (low, high) in zip((first, second), mouths, strict=True)
    )
    return _redrawn(piece, dart.edge, chain, (dart,), placed)


def _merged_beside(piece: Piece, dart: Dart, into: Dart) -> Piece:
    first, second = sorted((dart, into), key=lambda each: each.from_mm)
    edge = piece.edge(dart.edge)
    before = polyline.part_between(edge.points, 0.0, first.from_mm)
    between = polyline.part_between(edge.points, first.to_mm, second.from_mm)
    after = polyline.part_between(edge.points, second.to_mm, edge.length_mm)
    if into is first:
        after = polyline.joined((frozen_points(between + _across(between, after)), after))
    else:
        before = polyline.joined((before, frozen_points(between - _across(before, between))))
    low = polyline.length_mm(before)
    high = low + math.hypot(*_across(before, after))
    chain = polyline.without_doubled_points(polyline.joined((before, after)))
    placed = replace(into, from_mm=low, to_mm=high, tip=_tip_over(piece, into, chain, low, high))
    return _redrawn(piece, edge.id, chain, (first, second), (placed,))


def _across(before: Points, after: Points) -> Point:
    """The step from the end of one chain to the start of the next."""
    return as_point(after[0] - before[-1])


def _tip_over(piece: Piece, dart: Dart, chain: Points, low: float, high: float) -> Point:
    """Where a dart's tip lies if its mouth is drawn elsewhere and the dart keeps its length and direction."""
    old, new = midpoint(*piece.mouth(dart)), midpoint(polyline.point_at(chain, low), polyline.point_at(chain, high))
    return (dart.tip[0] + new[0] - old[0], dart.tip[1] + new[1] - old[1])


def _with_two_mouths(before: Points, between: Points, after: Points) -> tuple[Points, tuple[tuple[float, float], ...]]:
    first = polyline.length_mm(before), polyline.length_mm(before) + math.hypot(*_across(before, between))
    low = first[1] + polyline.length_mm(between)
    second = low, low + math.hypot(*_across(between, after))
    return polyline.without_doubled_points(polyline.joined((before, between, after))), (first, second)


def _redrawn(piece: Piece, edge_id: str, chain: Points, old: tuple[Dart, ...], new: tuple[Dart, ...]) -> Piece:
    """The piece with darts of an edge exchanged for others; what lies on the edge keeps its place on the cloth."""

    def station(at_mm: float) -> float:
        """The length along the new edge: these darts folded, then the new ones opened again."""
        placed_mm = at_mm - sum(min(max(at_mm - dart.from_mm, 0.0), dart.to_mm - dart.from_mm) for dart in old)
        for dart in new:
            placed_mm += dart.to_mm - dart.from_mm if placed_mm > dart.from_mm + SAME_POINT_MM else 0.0
        return placed_mm

    bare = replace(piece, darts=tuple(dart for dart in piece.darts if dart not in old))
    drawn = with_edge(bare, edge_id, chain, station)
    return replace(drawn, darts=(*drawn.darts, *new))


def _refuse_no_room(piece: Piece, dart: Dart, amount_mm: float) -> None:
    low, high = room_around(piece, piece.edge(dart.edge), (dart.from_mm + dart.to_mm) / 2, but=dart.id)
    room = high - dart.to_mm if amount_mm > 0 else dart.from_mm - low
    if abs(amount_mm) >= room - SAME_POINT_MM:
        raise StepError(
            f'Beside the dart "{dart.id}" on "{piece.name}" there is room for {room:.0f} mm; bring the two darts '
            "nearer together."
        )


def _refuse_dart_between(piece: Piece, dart: Dart, into: Dart) -> None:
    low, high = sorted(((dart.from_mm + dart.to_mm) / 2, (into.from_mm + into.to_mm) / 2))
    for other in piece.darts_on(dart.edge):
        if other.id not in (dart.id, into.id) and low < other.from_mm < high:
            raise StepError(f'The dart "{other.id}" on "{piece.name}" lies between the two; merge with that one first.')
