"""Darts made, moved, widened, lengthened, aimed and pressed; a dart is turned to another edge by a dart transfer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.affine import Point, distance_mm, midpoint
from geometry.alterations.anchors import Anchor, resolve
from geometry.alterations.dart_sliding import slid, widened
from geometry.alterations.dart_transfer import DEFAULT_STAND_OFF_MM, unused_dart_id
from geometry.alterations.mouths import (
    around_mouth,
    room_around,
    settled,
    spot,
    stood_off,
    with_dart,
    with_mouth,
)
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount, WithoutAmount, piece_outcome
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import Edge
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class MakeDart(OnOnePiece, WithAmount):
    """Draw a dart into an edge, its legs equally long.

    Attributes:
        piece: Name of the piece.
        at: Middle of its mouth, a place on an edge.
        tip: Where its legs meet.
        amount_mm: How much it takes in: the edge is sewn shorter by just this. Where the dart stands square to a
            straight edge it is the width of its mouth; a slanted dart's mouth is a little wider.
        dart: Id of the new dart; "" makes one up.
        aims: Whether the tip given is the body point: the dart then stops ``stand_off_mm`` short of it.
        stand_off_mm: Distance from the tip to the body point.
    """

    kind: ClassVar[str] = "make-dart"

    piece: str
    at: Anchor
    tip: Anchor
    amount_mm: float
    dart: str = ""
    aims: bool = False
    stand_off_mm: float = DEFAULT_STAND_OFF_MM

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart drawn; a dart that takes in nothing is not drawn."""
        piece = pattern.piece(self.piece)
        edge, at_mm = spot(piece, self.at, "The mouth of a dart")
        if self.amount_mm == 0:
            return piece_outcome(pattern, piece, piece)
        if self.amount_mm < 0:
            raise StepError(f'A dart on "{piece.name}" needs a width above 0; type how much it is to take in.')
        low, high = at_mm - self.amount_mm / 2, at_mm + self.amount_mm / 2
        _refuse_no_room(piece, edge, at_mm, self.amount_mm)
        name = self.dart or unused_dart_id(piece, f"{edge.id} dart")
        if any(dart.id == name for dart in piece.darts):
            raise StepError(f'"{piece.name}" has a dart "{name}" already; give the new one another name.')
        apex = resolve(piece, self.tip)
        tip = stood_off(apex, edge.point_at(at_mm), self.stand_off_mm) if self.aims else apex
        dart = Dart(name, edge.id, low, high, tip, apex if self.aims else None)
        before = polyline.part_between(edge.points, 0.0, low)
        after = polyline.part_between(edge.points, high, edge.length_mm)
        drawn = with_mouth(piece, dart, before, after, aimed=self.aims)
        return piece_outcome(pattern, piece, settled(piece, drawn, name))


@dataclass(frozen=True, slots=True)
class MoveDart(OnOnePiece, WithAmount):
    """Slide a dart along its edge, which is sewn as long as before.

    A dart that aims at a body point keeps pointing at it with its stand-off; any other tip moves with its mouth. An
    edge that runs smoothly with its darts folded is the very same line, folded, afterwards.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        amount_mm: How far its mouth moves along the edge, positive towards the end of the edge.
    """

    kind: ClassVar[str] = "move-dart"

    piece: str
    dart: str
    amount_mm: float

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart slid."""
        piece = pattern.piece(self.piece)
        return piece_outcome(pattern, piece, slid(piece, piece.dart(self.dart), self.amount_mm))


@dataclass(frozen=True, slots=True)
class WidenDart(OnOnePiece, WithAmount):
    """Let a dart take in more, or less with a negative amount; its tip stays, the edge is sewn shorter by the amount.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        amount_mm: How much more it takes in, half of it on either side.
    """

    kind: ClassVar[str] = "widen-dart"

    piece: str
    dart: str
    amount_mm: float

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart widened."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.dart)
        if self.amount_mm == 0:
            return piece_outcome(pattern, piece, piece)
        if piece.intake_mm(dart) + self.amount_mm <= SAME_POINT_MM:
            raise StepError(
                f'The dart "{dart.id}" on "{piece.name}" is {piece.intake_mm(dart):.0f} mm wide and cannot take in '
                f"{-self.amount_mm:.0f} mm less; release it instead."
            )
        edge = piece.edge(dart.edge)
        low, high = room_around(piece, edge, (dart.from_mm + dart.to_mm) / 2, but=dart.id)
        half = self.amount_mm / 2
        if half >= min(dart.from_mm - low, high - dart.to_mm) - SAME_POINT_MM:
            raise StepError(
                f'There is no room to widen the dart "{dart.id}" on "{piece.name}" by {self.amount_mm:.0f} mm; '
                "give a smaller amount."
            )
        return piece_outcome(pattern, piece, widened(piece, dart, self.amount_mm))


@dataclass(frozen=True, slots=True)
class LengthenDart(OnOnePiece, WithAmount):
    """Move a dart's tip along the dart: longer with a positive amount, shorter with a negative one.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        amount_mm: How far the tip moves away from the mouth.
    """

    kind: ClassVar[str] = "lengthen-dart"

    piece: str
    dart: str
    amount_mm: float

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart's legs redrawn from its unchanged mouth."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.dart)
        if self.amount_mm == 0:
            return piece_outcome(pattern, piece, piece)
        middle = midpoint(*piece.mouth(dart))
        length = distance_mm(middle, dart.tip)
        if length + self.amount_mm <= SAME_POINT_MM:
            raise StepError(
                f'The dart "{dart.id}" on "{piece.name}" is {length:.0f} mm long and cannot be shortened by '
                f"{-self.amount_mm:.0f} mm; release it instead."
            )
        longer = replace(dart, tip=stood_off(dart.tip, middle, -self.amount_mm))
        return piece_outcome(pattern, piece, settled(piece, with_dart(piece, longer), dart.id))


@dataclass(frozen=True, slots=True)
class AimDart(OnOnePiece, WithAmount):
    """Point a dart at a body point and let it stop short of it: legs equal, edge sewn as long as before.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        aim: The body point.
        amount_mm: The stand-off, distance from the tip to the body point.
    """

    kind: ClassVar[str] = "aim-dart"

    piece: str
    dart: str
    aim: Anchor
    amount_mm: float = DEFAULT_STAND_OFF_MM

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart's legs redrawn; the very same if it points there already."""
        piece = pattern.piece(self.piece)
        dart, aim = piece.dart(self.dart), resolve(piece, self.aim)
        middle = midpoint(*piece.mouth(dart))
        if not 0 <= self.amount_mm < distance_mm(middle, aim):
            raise StepError(
                f'The dart "{dart.id}" on "{piece.name}" opens {distance_mm(middle, aim):.0f} mm from the body point; '
                "choose a stand-off from 0 to less than that."
            )
        return piece_outcome(pattern, piece, _aimed(piece, dart, aim, self.amount_mm))


@dataclass(frozen=True, slots=True)
class PressDart(OnOnePiece, WithoutAmount):
    """Say which way a dart is pressed; its cap on the cutting line follows.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        pressed: Towards the start or the end of its edge.
    """

    kind: ClassVar[str] = "press-dart"

    piece: str
    dart: str
    pressed: Pressed

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart pressed that way."""
        piece = pattern.piece(self.piece)
        pressed = replace(piece.dart(self.dart), pressed=self.pressed)
        return piece_outcome(pattern, piece, with_dart(piece, pressed))


def _aimed(piece: Piece, dart: Dart, aim: Point, stand_off_mm: float) -> Piece:
    tip = stood_off(aim, midpoint(*piece.mouth(dart)), stand_off_mm)
    if dart.aim == aim and distance_mm(tip, dart.tip) <= SAME_POINT_MM:
        return piece
    aimed = replace(dart, tip=tip, aim=aim)
    return settled(piece, with_mouth(piece, aimed, *around_mouth(piece, dart), aimed=True), dart.id)


def _refuse_no_room(piece: Piece, edge: Edge, at_mm: float, width_mm: float) -> None:
    low, high = room_around(piece, edge, at_mm)
    room = 2 * min(at_mm - low, high - at_mm)
    if width_mm >= room - SAME_POINT_MM:
        raise StepError(
            f'A dart {width_mm:.0f} mm wide does not fit there on the edge "{edge.id}" of "{piece.name}": there is '
            f"room for {max(room, 0.0):.0f} mm up to the next corner or dart."
        )
