"""One side of a seam laid along the other, as far as it is walked: where the pieces touch and how they lie."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.affine import Affine, Point, angle_between
from geometry.checks.walking import side_mm
from geometry.curves import polyline
from geometry.model.pattern import EdgeRef, Pattern, Seam, SeamSide

_TANGENT_MM = 2.0
"""The direction of an edge is taken over this much to either side, so that a traced edge does not shake; own choice."""


@dataclass(frozen=True, slots=True)
class Contact:
    """A place on one side of a seam.

    Attributes:
        ref: The edge.
        at_mm: Length along that edge with its darts open; at a dart, where its first leg is met.
        place: The place on its piece, mm.
        ahead: Unit direction in which the seam is walked there.
        body_is_left: Whether the piece lies to the left of that direction.
    """

    ref: EdgeRef
    at_mm: float
    place: Point
    ahead: Point
    body_is_left: bool


@dataclass(frozen=True, slots=True)
class Laid:
    """Two pieces touching at one place of a seam.

    Attributes:
        still: The contact on the piece that lies still.
        moving: The contact on the piece laid against it.
        motion: From the coordinates of the moving piece to those of the still one; mirroring where it is turned over.
    """

    still: Contact
    moving: Contact
    motion: Affine


def lay(pattern: Pattern, seam: Seam, walked_mm: float, *, from_end: bool = False, swapped: bool = False) -> Laid:
    """The pieces after walking so far: contact on contact, stitching lines along each other, bodies on either side.

    Darts are left out: a contact skips a mouth, as folding it would. Beyond the end of a side its end stays in touch.

    Args:
        pattern: The pattern.
        seam: The seam.
        walked_mm: Sewn length from the end walked from.
        from_end: Walk from the end of the seam.
        swapped: The second side lies still, else the first.

    Raises:
        MissingPartError: a piece or edge is not in the pattern.
    """
    sides = [contact(pattern, side, walked_mm, from_end=from_end) for side in seam.sides]
    still, moving = sides[::-1] if swapped else sides
    return Laid(still, moving, _motion(still, moving))


def contact(pattern: Pattern, side: SeamSide, walked_mm: float, *, from_end: bool) -> Contact:
    """The place on a side after walking so far from one of its ends."""
    total_mm = side_mm(pattern, side)
    from_start_mm = min(max(total_mm - walked_mm if from_end else walked_mm, 0.0), total_mm)
    ref, is_backward, sewn_mm = _edge_at(pattern, side, from_start_mm)
    edge = pattern.piece(ref.piece).edge(ref.edge)
    at_mm = _open_mm(pattern, ref, sewn_mm)
    x, y = _direction(pattern, ref, at_mm)
    turned = is_backward is not from_end
    ahead = (-x, -y) if turned else (x, y)
    return Contact(ref, at_mm, edge.point_at(at_mm), ahead, not turned)


def _edge_at(pattern: Pattern, side: SeamSide, from_start_mm: float) -> tuple[EdgeRef, bool, float]:
    """The edge met so far from the start of a side, whether it is walked backward, and the sewn length along it."""
    rest_mm = from_start_mm
    lengths = [stretch.sewn_mm(pattern.piece(ref.piece), ref.edge) for ref, _, stretch in side.parts]
    at = 0
    while at < len(lengths) - 1 and rest_mm > lengths[at]:
        rest_mm -= lengths[at]
        at += 1
    ref, is_backward, stretch = side.parts[at]
    piece = pattern.piece(ref.piece)
    before_mm = piece.sewn_station_mm(ref.edge, stretch.bounds_mm(piece, ref.edge)[0])
    return ref, is_backward, before_mm + (lengths[at] - rest_mm if is_backward else rest_mm)


def _motion(still: Contact, moving: Contact) -> Affine:
    (x, y), (ux, uy) = moving.place, moving.ahead
    over = Affine()
    if still.body_is_left is moving.body_is_left:
        over = Affine.mirrored(moving.place, (x + ux, y + uy))
    turned = over.then(Affine.turned(angle_between((0.0, 0.0), moving.ahead, still.ahead), moving.place))
    return turned.then(Affine.moved(still.place[0] - x, still.place[1] - y))


def _open_mm(pattern: Pattern, ref: EdgeRef, sewn_mm: float) -> float:
    """A sewn length along an edge as a length with its darts open."""
    at_mm = sewn_mm
    for dart in pattern.piece(ref.piece).darts_on(ref.edge):
        if at_mm > dart.from_mm:
            at_mm += dart.to_mm - dart.from_mm
    return at_mm


def _direction(pattern: Pattern, ref: EdgeRef, at_mm: float) -> Point:
    """Direction of the edge round a place, not across a mouth."""
    piece = pattern.piece(ref.piece)
    edge = piece.edge(ref.edge)
    stops = [0.0, *(stop for dart in piece.darts_on(ref.edge) for stop in (dart.from_mm, dart.to_mm)), edge.length_mm]
    low = max((stop for stop in stops if stop <= at_mm), default=0.0)
    high = min((stop for stop in stops if stop >= at_mm and stop > low), default=edge.length_mm)
    (ax, ay), (bx, by) = (
        edge.point_at(max(at_mm - _TANGENT_MM, low)),
        edge.point_at(min(at_mm + _TANGENT_MM, high)),
    )
    size = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    if size == 0:
        return polyline.direction_at(edge.points, at_mm)
    return ((bx - ax) / size, (by - ay) / size)
