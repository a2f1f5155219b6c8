"""Darts made, moved, lengthened, pressed and released; turning, splitting and merging are dart transfers."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import ClassVar

from geometry.affine import Point, Points, distance_mm, frozen_points, midpoint
from geometry.alterations.anchors import Anchor, resolve
from geometry.alterations.dart_transfer import unused_dart_id
from geometry.alterations.step import Outcome, edge_changes
from geometry.alterations.trueing import with_chains
from geometry.curves import polyline
from geometry.curves.smooth import blended
from geometry.errors import StepError
from geometry.model.dart import Dart, DoubleDart, Pressed
from geometry.model.edge import Edge
from geometry.model.marks import InnerLine, Notch
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM, SAME_POINT_MM

_HALVINGS = 60
"""Halvings that take a span of metres below float noise."""


def _outcome(pattern: Pattern, before: Piece, after: Piece) -> Outcome:
    return Outcome(pattern.with_piece(after), edge_changes(before, after))


@dataclass(frozen=True, slots=True)
class MakeDart:
    """Draw a dart into an edge; the edge is sewn shorter by its width.

    Attributes:
        piece: Name of the piece.
        dart: Id of the new dart; "" makes one up.
        at: Middle of its mouth, a place on an edge.
        tip: Where its legs meet.
        amount_mm: Width of its mouth, straight across.
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
    stand_off_mm: float = 25.4

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The piece the dart is drawn into."""
        return (self.piece,)

    def with_amount_mm(self, amount_mm: float) -> MakeDart:
        """The same dart with another width."""
        return replace(self, amount_mm=amount_mm)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart drawn."""
        piece = pattern.piece(self.piece)
        middle, apex = resolve(piece, self.at), resolve(piece, self.tip)
        if self.amount_mm <= 0:
            raise StepError(f'A dart on "{piece.name}" needs a width above 0; type how much it is to take in.')
        edge, at_mm = _edge_at(piece, middle)
        low, high = _mouth_stations(edge.points, at_mm, self.amount_mm)
        _refuse_overlap(piece, edge.id, low, high, but="")
        tip = _stood_off(apex, middle, self.stand_off_mm) if self.aims else apex
        name = self.dart or unused_dart_id(piece, f"{edge.id} dart")
        dart = Dart(name, edge.id, low, high, tip, apex if self.aims else None)
        return _outcome(pattern, piece, _with_straight_mouth(replace(piece, darts=(*piece.darts, dart)), dart))


@dataclass(frozen=True, slots=True)
class MoveDart:
    """Slide a whole dart along its edge, its size and direction kept.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        amount_mm: How far its mouth moves along the edge, positive towards the end of the edge.
    """

    kind: ClassVar[str] = "move-dart"

    piece: str
    dart: str
    amount_mm: float

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The piece with the dart."""
        return (self.piece,)

    def with_amount_mm(self, amount_mm: float) -> MoveDart:
        """The same move by another distance."""
        return replace(self, amount_mm=amount_mm)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart slid."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.dart)
        edge = piece.edge(dart.edge)
        width = piece.intake_mm(dart)
        old = edge.point_at((dart.from_mm + dart.to_mm) / 2)
        low, high = _mouth_stations(edge.points, (dart.from_mm + dart.to_mm) / 2 + self.amount_mm, width)
        _refuse_overlap(piece, edge.id, low, high, but=dart.id)
        new = midpoint(edge.point_at(low), edge.point_at(high))
        dx, dy = new[0] - old[0], new[1] - old[1]
        aim = None if dart.aim is None else (dart.aim[0] + dx, dart.aim[1] + dy)
        moved = replace(dart, from_mm=low, to_mm=high, tip=(dart.tip[0] + dx, dart.tip[1] + dy), aim=aim)
        return _outcome(pattern, piece, _with_straight_mouth(_with_dart(piece, moved), moved))


@dataclass(frozen=True, slots=True)
class LengthenDart:
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

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The piece with the dart."""
        return (self.piece,)

    def with_amount_mm(self, amount_mm: float) -> LengthenDart:
        """The same change by another length."""
        return replace(self, amount_mm=amount_mm)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart's legs redrawn from its unchanged mouth."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.dart)
        middle = midpoint(*piece.mouth(dart))
        length = distance_mm(middle, dart.tip)
        if length + self.amount_mm <= SAME_POINT_MM:
            raise StepError(
                f'The dart "{dart.id}" on "{piece.name}" is {length:.0f} mm long and cannot be shortened by '
                f"{-self.amount_mm:.0f} mm; release it instead."
            )
        share = (length + self.amount_mm) / length
        tip = (middle[0] + (dart.tip[0] - middle[0]) * share, middle[1] + (dart.tip[1] - middle[1]) * share)
        return _outcome(pattern, piece, _with_dart(piece, replace(dart, tip=tip)))


@dataclass(frozen=True, slots=True)
class AimDart:
    """Point a dart at a body point and let it stop short of it; its mouth stays.

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
    amount_mm: float

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The piece with the dart."""
        return (self.piece,)

    def with_amount_mm(self, amount_mm: float) -> AimDart:
        """The same aim with another stand-off."""
        return replace(self, amount_mm=amount_mm)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart's legs redrawn."""
        piece = pattern.piece(self.piece)
        dart, aim = piece.dart(self.dart), resolve(piece, self.aim)
        middle = midpoint(*piece.mouth(dart))
        if not 0 <= self.amount_mm < distance_mm(middle, aim):
            raise StepError(
                f'The dart "{dart.id}" on "{piece.name}" opens {distance_mm(middle, aim):.0f} mm from the body point; '
                "choose a stand-off from 0 to less than that."
            )
        tip = _stood_off(aim, middle, self.amount_mm)
        return _outcome(pattern, piece, _with_dart(piece, replace(dart, tip=tip, aim=aim)))


@dataclass(frozen=True, slots=True)
class PressDart:
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

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The piece with the dart."""
        return (self.piece,)

    @property
    def amount_mm(self) -> float:
        """It has no amount."""
        return 0.0

    def with_amount_mm(self, amount_mm: float) -> PressDart:
        """The step itself: it has no amount."""
        return self

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart pressed that way."""
        piece = pattern.piece(self.piece)
        return _outcome(pattern, piece, _with_dart(piece, replace(piece.dart(self.dart), pressed=self.pressed)))


class Release(StrEnum):
    """What becomes of the cloth a dart took in."""

    EASE = "ease"
    GATHERS = "gathers"
    TUCK = "tuck"


@dataclass(frozen=True, slots=True)
class ReleaseDart:
    """Let a dart out: its cloth stays in the edge as ease, gathers or an unstitched tuck.

    Eased and gathered edges are blended and get a notch at each end of the fullness; a tuck keeps its two lines.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart.
        into: What it becomes.
        amount_mm: For ease and gathers how far the fullness reaches beyond each side of the old mouth; for a tuck
            the length of its lines.
    """

    kind: ClassVar[str] = "release-dart"

    piece: str
    dart: str
    into: Release
    amount_mm: float = 30.0

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The piece with the dart."""
        return (self.piece,)

    def with_amount_mm(self, amount_mm: float) -> ReleaseDart:
        """The same release over another length."""
        return replace(self, amount_mm=amount_mm)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart gone and its edge marked."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.dart)
        without = replace(piece, darts=tuple(other for other in piece.darts if other.id != dart.id))
        after = _tucked(without, piece, dart, self.amount_mm) if self.into is Release.TUCK else None
        return _outcome(pattern, piece, after or _gathered(without, dart, self.into, self.amount_mm))


@dataclass(frozen=True, slots=True)
class MakeDoubleDart:
    """Draw a dart with two tips inside a piece, widest half-way between them.

    Attributes:
        piece: Name of the piece.
        dart: Id of the new dart.
        start: One tip.
        end: The other tip.
        amount_mm: Width in the middle.
    """

    kind: ClassVar[str] = "make-double-dart"

    piece: str
    dart: str
    start: Anchor
    end: Anchor
    amount_mm: float

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The piece the dart is drawn into."""
        return (self.piece,)

    def with_amount_mm(self, amount_mm: float) -> MakeDoubleDart:
        """The same dart with another width."""
        return replace(self, amount_mm=amount_mm)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart drawn."""
        piece = pattern.piece(self.piece)
        start, end = resolve(piece, self.start), resolve(piece, self.end)
        length = distance_mm(start, end)
        if length <= SAME_POINT_MM or self.amount_mm <= 0:
            raise StepError(f'A dart with two tips on "{piece.name}" needs two different tips and a width above 0.')
        x, y = midpoint(start, end)
        nx, ny = -(end[1] - start[1]) / length * self.amount_mm / 2, (end[0] - start[0]) / length * self.amount_mm / 2
        dart = DoubleDart(self.dart, start, end, (x + nx, y + ny), (x - nx, y - ny))
        kept = tuple(other for other in piece.double_darts if other.id != self.dart)
        return _outcome(pattern, piece, replace(piece, double_darts=(*kept, dart)))


def _edge_at(piece: Piece, place: Point) -> tuple[Edge, float]:
    near = [(polyline.nearest(edge.points, place), edge) for edge in piece.edges]
    (at_mm, gap_mm), edge = min(near, key=lambda row: row[0][1])
    if gap_mm > ON_EDGE_MM:
        raise StepError(f'The mouth of a dart on "{piece.name}" must lie on an edge; choose a place on the outline.')
    return edge, at_mm


def _mouth_stations(chain: Points, middle_mm: float, width_mm: float) -> tuple[float, float]:
    """Lengths along a chain of two points equally far along it from a middle and ``width_mm`` apart, straight across.

    On a curve the points lie a little further apart along it; found by halving, to float accuracy.
    """
    total = polyline.length_mm(chain)
    room = 2 * min(middle_mm, total - middle_mm)
    if width_mm >= room:
        raise StepError(
            f"A mouth {width_mm:.0f} mm wide does not fit there; there is room for {max(room, 0.0):.0f} mm."
        )
    low, high = width_mm / 2, room / 2
    for _ in range(_HALVINGS):
        half = (low + high) / 2
        apart = distance_mm(polyline.point_at(chain, middle_mm - half), polyline.point_at(chain, middle_mm + half))
        low, high = (half, high) if apart < width_mm else (low, half)
    return middle_mm - low, middle_mm + low


def _refuse_overlap(piece: Piece, edge_id: str, low: float, high: float, *, but: str) -> None:
    for other in piece.darts_on(edge_id):
        if other.id != but and low < other.to_mm and other.from_mm < high:
            raise StepError(f'On "{piece.name}" the dart "{other.id}" is there already; choose a place beside it.')


def _stood_off(aim: Point, middle: Point, stand_off_mm: float) -> Point:
    share = min(stand_off_mm / max(distance_mm(aim, middle), SAME_POINT_MM), 1.0)
    return (aim[0] + (middle[0] - aim[0]) * share, aim[1] + (middle[1] - aim[1]) * share)


def _with_dart(piece: Piece, dart: Dart) -> Piece:
    return replace(piece, darts=tuple(dart if old.id == dart.id else old for old in piece.darts))


def _with_straight_mouth(piece: Piece, dart: Dart) -> Piece:
    """The piece with the edge drawn straight across a dart's mouth."""
    chain = piece.edge(dart.edge).points
    parts = (
        polyline.part_between(chain, 0.0, dart.from_mm),
        polyline.part_between(chain, dart.to_mm, polyline.length_mm(chain)),
    )
    return with_chains(piece, {dart.edge: polyline.without_doubled_points(polyline.joined(parts))})


def _tucked(without: Piece, before: Piece, dart: Dart, length_mm: float) -> Piece:
    """Two lines square to the mouth, from its points inwards."""
    a, b = before.mouth(dart)
    middle = midpoint(a, b)
    inward = distance_mm(middle, dart.tip)
    ux, uy = (dart.tip[0] - middle[0]) / inward, (dart.tip[1] - middle[1]) / inward
    lines = tuple(
        InnerLine(f"{dart.id} tuck {number}", frozen_points([end, (end[0] + ux * length_mm, end[1] + uy * length_mm)]))
        for number, end in ((1, a), (2, b))
    )
    return replace(without, inner_lines=(*without.inner_lines, *lines))


def _gathered(without: Piece, dart: Dart, into: Release, beyond_mm: float) -> Piece:
    chain = without.edge(dart.edge).points
    total = polyline.length_mm(chain)
    low, high = max(dart.from_mm - beyond_mm, 0.0), min(dart.to_mm + beyond_mm, total)
    ends = tuple(polyline.point_at(chain, at) for at in (low, high))
    smooth = with_chains(without, {dart.edge: blended(chain, low, high)})
    edge = smooth.edge(dart.edge)
    notches = tuple(
        Notch(f"{dart.id} {into.value} {number}", edge.id, polyline.nearest(edge.points, end)[0])
        for number, end in enumerate(ends, start=1)
        if SAME_POINT_MM < polyline.nearest(edge.points, end)[0] < edge.length_mm - SAME_POINT_MM
    )
    return replace(smooth, notches=(*smooth.notches, *notches))
