"""What is told to the cutter put right: grain lines, numbers to cut, drill holes of darts."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.affine import Point, distance_mm, frozen_points, midpoint, unit_vector
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount, WithoutAmount, piece_outcome
from geometry.curves import polyline
from geometry.errors import MissingPartError, StepError
from geometry.model.marks import Grain, Label, Mark, MarkKind
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM

HOLE_INSIDE_MM = 12.7
"""A dart's hole is about 1/2 in inside its tip: onlinefabricstore.com, how to sew a dart."""

_GRAIN_SHARE = 0.6
"""A new grain line is this much of the length of the edge it runs along: own choice."""

_SHORTER = 8
"""Most times a new grain line is made shorter until it lies inside its piece."""

_CUT = re.compile(r"\bcut\s+(\d+|one|two)\b", re.IGNORECASE)
_ON_FOLD = re.compile(r"\s*,?\s*on\s+(?:the\s+|a\s+)?fold\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class DrawGrain(OnOnePiece, WithoutAmount):
    """Draw the grain line along an edge, or at an angle to it; through the middle of the old one and as long as that.

    Attributes:
        piece: Name of the piece.
        edge: Id of the edge; the line between its corners counts.
        turn_deg: How far the grain is turned against it, degrees, counter-clockwise positive.
    """

    kind: ClassVar[str] = "draw-grain"

    piece: str
    edge: str
    turn_deg: float = 0.0

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the grain line drawn; the very same if it lies so."""
        piece = pattern.piece(self.piece)
        edge = piece.edge(self.edge)
        if distance_mm(edge.start, edge.end) <= SAME_POINT_MM:
            raise StepError(f'The edge "{edge.id}" of "{piece.name}" has no direction to draw the grain along.')
        x, y = unit_vector(edge.start, edge.end)
        angle = math.radians(self.turn_deg)
        way = (x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle))
        return piece_outcome(pattern, piece, replace(piece, grain=_grain_along(piece, way, edge.length_mm)))


@dataclass(frozen=True, slots=True)
class SetQuantity(OnOnePiece, WithoutAmount):
    """Say how many are cut of a piece; words to the cutter on it are put right.

    Attributes:
        piece: Name of the piece.
        quantity: How many to cut, at least 1.
    """

    kind: ClassVar[str] = "set-quantity"

    piece: str
    quantity: int

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the number and the words; the very same if they are so."""
        piece = pattern.piece(self.piece)
        if self.quantity < 1:
            raise StepError(f'"{piece.name}" must be cut at least once; give a number from 1.')
        labels = tuple(Label(self._words(piece, label.text), label.at) for label in piece.labels)
        return piece_outcome(pattern, piece, replace(piece, quantity=self.quantity, labels=labels))

    def _words(self, piece: Piece, text: str) -> str:
        if not _CUT.search(text):
            return text
        fold = " on the fold" if piece.fold is not None else ""
        return _CUT.sub(f"Cut {self.quantity}{fold}", _ON_FOLD.sub("", text), count=1)


@dataclass(frozen=True, slots=True)
class PlaceHole(OnOnePiece, WithAmount):
    """Put the drill hole of a dart on the middle of the dart, so far inside its tip.

    Attributes:
        piece: Name of the piece.
        hole: Id of the hole.
        dart: Id of the dart that covers it.
        amount_mm: How far inside the tip it is.
    """

    kind: ClassVar[str] = "place-hole"

    piece: str
    hole: str
    dart: str
    amount_mm: float = HOLE_INSIDE_MM

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the hole in its dart; the very same if it is there."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.dart)
        known = next((mark for mark in piece.marks if (mark.id, mark.kind) == (self.hole, MarkKind.DRILL)), None)
        if known is None:
            raise MissingPartError(f'"{piece.name}" has no drill hole called "{self.hole}".', code="no-such-hole")
        middle = midpoint(*piece.mouth(dart))
        length_mm = distance_mm(dart.tip, middle)
        if not 0.0 <= self.amount_mm <= length_mm or length_mm <= SAME_POINT_MM:
            raise StepError(
                f'The dart "{dart.id}" of "{piece.name}" is {length_mm:.0f} mm long; its hole must lie inside.'
            )
        ux, uy = unit_vector(dart.tip, middle)
        moved = Mark(known.id, (dart.tip[0] + ux * self.amount_mm, dart.tip[1] + uy * self.amount_mm), known.kind)
        if distance_mm(moved.at, known.at) <= SAME_POINT_MM:
            return piece_outcome(pattern, piece, piece)
        marks = tuple(moved if mark is known else mark for mark in piece.marks)
        return piece_outcome(pattern, piece, replace(piece, marks=marks))


def holes_left(before: Pattern, after: Pattern) -> tuple[PlaceHole, ...]:
    """Steps for the holes that darts covered before and left behind when they were altered."""
    found = []
    known = {piece.name: piece for piece in before.pieces}
    for piece in after.pieces:
        old = known.get(piece.name)
        for mark in piece.marks if old is not None and old is not piece else ():
            if mark.kind is not MarkKind.DRILL or old is None:
                continue
            was = next((each for each in old.marks if (each.id, each.kind) == (mark.id, mark.kind)), None)
            for dart in piece.darts:
                twin = next((each for each in old.darts if each.id == dart.id), None)
                if was and twin and old.covers(twin, was.at):
                    if not piece.covers(dart, mark.at):
                        length_mm = distance_mm(dart.tip, midpoint(*piece.mouth(dart)))
                        inside_mm = min(distance_mm(was.at, twin.tip), length_mm)
                        found.append(PlaceHole(piece.name, mark.id, dart.id, inside_mm))
                    break
    return tuple(found)


def holed(before: Pattern, outcome: Outcome) -> Outcome:
    """What a step did to darts, with the holes brought along that they covered before."""
    pattern = outcome.pattern
    for step in holes_left(before, pattern):
        pattern = step.apply(pattern).pattern
    return outcome if pattern is outcome.pattern else replace(outcome, pattern=pattern)


def _grain_along(piece: Piece, way: Point, edge_mm: float) -> Grain:
    """The grain line in a direction; a new one through the middle of the piece, short enough to lie inside."""
    if piece.grain is not None and distance_mm(piece.grain.start, piece.grain.end) > 0:
        middle = midpoint(piece.grain.start, piece.grain.end)
        return _line(middle, way, distance_mm(piece.grain.start, piece.grain.end))
    left, low, right, high = piece.bounds_mm
    middle, length_mm = ((left + right) / 2, (low + high) / 2), _GRAIN_SHARE * edge_mm
    for _ in range(_SHORTER):
        line = _line(middle, way, length_mm)
        if polyline.contains(piece.outline, frozen_points([line.start, line.end])).all():
            return line
        length_mm *= 0.75
    raise StepError(f'There is no room for a grain line in the middle of "{piece.name}"; draw it where it belongs.')


def _line(middle: Point, way: Point, length_mm: float) -> Grain:
    dx, dy = way[0] * length_mm / 2, way[1] * length_mm / 2
    return Grain((middle[0] - dx, middle[1] - dy), (middle[0] + dx, middle[1] + dy))
