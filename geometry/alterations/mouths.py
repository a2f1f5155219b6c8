"""Where a dart opens on its edge: places on edges, mouths drawn so that both legs are equally long."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from geometry.affine import Point, Points, as_point, distance_mm, frozen_points, midpoint, unit_vector
from geometry.alterations.anchors import Anchor, On, resolve
from geometry.alterations.redrawn_edges import with_edge
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.dart import Dart
from geometry.model.edge import Edge
from geometry.model.marks import Mark, MarkKind
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM, SAME_POINT_MM

_HALVINGS = 60
"""Halvings that take a turn of some degrees below float noise."""

_FURTHEST_TURN_RAD = math.pi / 4
"""An edge turned by more than this to make the legs of a dart equal would no longer be that edge; own choice."""


def station_on(piece: Piece, edge: Edge, anchor: Anchor) -> float:
    """How far along an edge of the piece an anchor lies, mm, darts open.

    Raises:
        StepError: it does not lie on that edge.
        MissingPartError: what it holds on to is not there.
    """
    if anchor.on is On.NOTCH and piece.notch(anchor.name).edge == edge.id:
        return piece.notch(anchor.name).at_mm
    place = resolve(piece, anchor)
    if anchor.on is On.EDGE and anchor.name == edge.id:
        return anchor.share * edge.length_mm
    at_mm, gap_mm = polyline.nearest(edge.points, place)
    if gap_mm > ON_EDGE_MM:
        raise StepError(
            f'A place for the edge "{edge.id}" of "{piece.name}" lies {gap_mm:.0f} mm off it; choose one on that edge.'
        )
    return at_mm


def spot(piece: Piece, anchor: Anchor, what: str) -> tuple[Edge, float]:
    """The edge an anchor lies on and how far along it, mm; ``what`` names for a sentence what is to lie there.

    Raises:
        StepError: it lies on no edge.
        MissingPartError: what it holds on to is not there.
    """
    if anchor.on in (On.EDGE, On.NOTCH):
        edge = piece.edge(anchor.name if anchor.on is On.EDGE else piece.notch(anchor.name).edge)
        return edge, station_on(piece, edge, anchor)
    place = resolve(piece, anchor)
    near = [(polyline.nearest(edge.points, place), edge) for edge in piece.edges]
    (at_mm, gap_mm), edge = min(near, key=lambda row: row[0][1])
    if gap_mm > ON_EDGE_MM:
        raise StepError(f'{what} on "{piece.name}" must lie on an edge; choose a place on the outline.')
    return edge, at_mm


def open_station_mm(piece: Piece, edge_id: str, sewn_mm: float) -> float:
    """How far along an edge, darts open, a sewn length lies; where a dart closes, the start of its mouth."""
    at_mm = sewn_mm
    for dart in piece.darts_on(edge_id):
        at_mm += dart.to_mm - dart.from_mm if at_mm > dart.from_mm + SAME_POINT_MM else 0.0
    return at_mm


def room_around(piece: Piece, edge: Edge, at_mm: float, *, but: str = "") -> tuple[float, float]:
    """The stretch of an edge around a place, mm, up to the next corner or dart mouth on each side.

    The dart called ``but`` does not count. Inside a mouth the stretch is that mouth's nearer leg alone.
    """
    low, high = 0.0, edge.length_mm
    for dart in piece.darts_on(edge.id):
        if dart.id == but:
            continue
        if dart.to_mm <= at_mm + SAME_POINT_MM:
            low = max(low, dart.to_mm)
        elif dart.from_mm >= at_mm - SAME_POINT_MM:
            high = min(high, dart.from_mm)
        else:
            leg = dart.from_mm if at_mm < (dart.from_mm + dart.to_mm) / 2 else dart.to_mm
            return leg, leg
    return low, high


def unused_id(wanted: str, taken: set[str]) -> str:
    """The wanted id, with a number behind it where it is taken."""
    number, name = 2, wanted
    while name in taken:
        name, number = f"{wanted} {number}", number + 1
    return name


def with_dart(piece: Piece, dart: Dart) -> Piece:
    """The piece with a dart put in place of the one of that id, or added."""
    if any(old.id == dart.id for old in piece.darts):
        return replace(piece, darts=tuple(dart if old.id == dart.id else old for old in piece.darts))
    return replace(piece, darts=(*piece.darts, dart))


def without_dart(piece: Piece, dart_id: str) -> Piece:
    """The piece without the dart of that id."""
    return replace(piece, darts=tuple(dart for dart in piece.darts if dart.id != dart_id))


def stood_off(aim: Point, middle: Point, stand_off_mm: float) -> Point:
    """The place that far from an aim towards the middle of a mouth, not beyond it; negative is beyond the aim."""
    share = min(stand_off_mm / max(distance_mm(aim, middle), SAME_POINT_MM), 1.0)
    return (aim[0] + (middle[0] - aim[0]) * share, aim[1] + (middle[1] - aim[1]) * share)


def around_mouth(piece: Piece, dart: Dart) -> tuple[Points, Points]:
    """The chain of a dart's edge up to its mouth and the chain beyond it."""
    edge = piece.edge(dart.edge)
    return (
        polyline.part_between(edge.points, 0.0, dart.from_mm),
        polyline.part_between(edge.points, dart.to_mm, edge.length_mm),
    )


def settled(before: Piece, after: Piece, dart_id: str) -> Piece:
    """The piece with a dart drawn anew, holes drilled in the dart brought along: as far inside its tip as they were.

    Raises:
        StepError: the dart's tip does not lie inside the piece.
    """
    dart = after.dart(dart_id)
    if not polyline.contains(after.outline, frozen_points([dart.tip]))[0]:
        raise StepError(f'The tip of the dart "{dart.id}" would lie outside "{after.name}"; make the dart shorter.')
    old = next((each for each in before.darts if each.id == dart_id), None)
    if old is None:
        return after
    ux, uy = unit_vector(dart.tip, midpoint(*after.mouth(dart)))

    def drilled(mark: Mark) -> Mark:
        inside_mm = distance_mm(mark.at, old.tip)
        is_in_dart = inside_mm <= ON_EDGE_MM or before.covers(old, mark.at)
        if mark.kind is not MarkKind.DRILL or not is_in_dart:
            return mark
        return Mark(mark.id, (dart.tip[0] + inside_mm * ux, dart.tip[1] + inside_mm * uy), mark.kind)

    marks = tuple(map(drilled, after.marks))
    return after if marks == after.marks else replace(after, marks=marks)


def with_mouth(piece: Piece, dart: Dart, before: Points, after: Points, *, aimed: bool = False) -> Piece:
    """The piece with a dart whose edge is the chain up to its mouth, straight across, and the chain beyond it.

    Where the legs differ, both chains are turned by the same small angle about the next corner or dart on either
    side until the legs are equal: no length along the edge changes. The dart may be a new one; what else lies on
    the edge keeps its distance from the corner on its side of the mouth, and a notch on a leg keeps to the leg.
    ``aimed``: its tip is put on the line from the middle of its mouth to its aim, with the stand-off it has.

    Raises:
        StepError: no small turn makes the legs equal.
    """
    edge = piece.edge(dart.edge)
    before, after = _with_equal_legs(piece, dart, dart.apex if aimed else dart.tip, before, after)
    from_mm = polyline.length_mm(before)
    to_mm = from_mm + distance_mm(as_point(before[-1]), as_point(after[0]))
    chain = polyline.without_doubled_points(polyline.joined((before, after)))
    placed = replace(dart, from_mm=from_mm, to_mm=to_mm)
    if aimed:
        middle = midpoint(as_point(before[-1]), as_point(after[0]))
        placed = replace(placed, tip=stood_off(dart.apex, middle, distance_mm(dart.tip, dart.apex)))
    old_mm, new_mm = edge.length_mm, polyline.length_mm(chain)
    after_mm = polyline.length_mm(after)

    def station(at_mm: float) -> float:
        if at_mm <= from_mm:
            return at_mm
        if old_mm - at_mm <= after_mm:
            return new_mm - (old_mm - at_mm)
        share = (at_mm - from_mm) / (old_mm - after_mm - from_mm)
        return from_mm + share * (to_mm - from_mm)

    return with_dart(with_edge(piece, edge.id, chain, _legs_first(piece, placed, station), but=dart.id), placed)


def _legs_first(piece: Piece, new: Dart, station: Callable[[float], float]) -> Callable[[float], float]:
    """The mapping of lengths along an edge, but what lies at a leg of a known dart stays at that leg."""
    old = next((dart for dart in piece.darts if dart.id == new.id), None)
    if old is None:
        return station
    legs = ((old.from_mm, new.from_mm), (old.to_mm, new.to_mm))

    def placed(at_mm: float) -> float:
        was, now = min(legs, key=lambda leg: abs(leg[0] - at_mm))
        return now + (at_mm - was) if abs(at_mm - was) <= ON_EDGE_MM else station(at_mm)

    return placed


def _with_equal_legs(piece: Piece, dart: Dart, apex: Point, before: Points, after: Points) -> tuple[Points, Points]:
    a, b = as_point(before[-1]), as_point(after[0])
    if abs(distance_mm(a, apex) - distance_mm(b, apex)) <= SAME_POINT_MM:
        return before, after
    first_mm, last_mm = _pivots(piece, dart, before, after)
    first, last = polyline.point_at(before, first_mm), polyline.point_at(after, last_mm)

    def difference(angle_rad: float) -> float:
        leg_a = distance_mm(_turned_point(first, a, angle_rad), apex)
        return leg_a - distance_mm(_turned_point(last, b, angle_rad), apex)

    low, high = -_FURTHEST_TURN_RAD, _FURTHEST_TURN_RAD
    if not difference(low) > 0 > difference(high):
        raise StepError(
            f'The dart "{dart.id}" on "{piece.name}" slants so much that its legs cannot be made equal; '
            "choose a tip that lies squarer to the edge."
        )
    for _ in range(_HALVINGS):
        half = (low + high) / 2
        low, high = (half, high) if difference(half) > 0 else (low, half)
    back = _turned_beyond(after[::-1], polyline.length_mm(after) - last_mm, high)
    return _turned_beyond(before, first_mm, high), frozen_points(back[::-1])


def _pivots(piece: Piece, dart: Dart, before: Points, after: Points) -> tuple[float, float]:
    """How far along the chains on both sides of a mouth they turn: at the next corner or dart mouth."""
    total, middle = piece.edge(dart.edge).length_mm, polyline.length_mm(before)
    others = [other for other in piece.darts_on(dart.edge) if other.id != dart.id]
    low = max((other.to_mm for other in others if other.to_mm <= middle + SAME_POINT_MM), default=0.0)
    high = min((other.from_mm for other in others if other.from_mm > middle + SAME_POINT_MM), default=total)
    return low, polyline.length_mm(after) - (total - high)


def _turned_point(pivot: Point, place: Point, angle_rad: float) -> Point:
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    x, y = place[0] - pivot[0], place[1] - pivot[1]
    return (pivot[0] + cos * x - sin * y, pivot[1] + sin * x + cos * y)


def _turned_beyond(chain: Points, pivot_mm: float, angle_rad: float) -> Points:
    """The chain with what lies beyond a length turned about the place there; what lies before stays to the last bit."""
    head = polyline.part_between(chain, 0.0, pivot_mm)
    rest = polyline.part_between(chain, pivot_mm, polyline.length_mm(chain))
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    turned = rest[0] + (rest - rest[0]) @ np.array([[cos, sin], [-sin, cos]])
    return frozen_points(turned) if pivot_mm <= 0 else polyline.joined((head, turned))
