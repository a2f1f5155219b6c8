"""Trueing what a cut touched: straight seams straight again, curves blended, the fold straight, grain along it."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from functools import partial

import numpy as np

from geometry.affine import Affine, Point, Points, angle_between, distance_mm, frozen_points, midpoint, unit_vector
from geometry.alterations.level_lines import with_lines_put_right
from geometry.alterations.redrawn_edges import Drawn, with_edges
from geometry.alterations.rejoin import Joint, Rejoined
from geometry.curves import polyline
from geometry.curves.crossing import met_by_line
from geometry.curves.smooth import blended
from geometry.findings import Finding, Level
from geometry.model.dart import Dart
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain
from geometry.model.piece import Piece
from geometry.tolerance import NOTABLE_MM, PARALLEL_RAD, SAME_POINT_MM, STRAIGHT_MM

DEFAULT_REACH_MM = 30.0
"""How far a blend reaches on each side of a joint: the handbooks draw 1 to 3 in with the curve ruler; this is the
shorter half of it, so that short edges keep their character."""


def trued(before: Piece, joined: Rejoined, *, reach_mm: float = DEFAULT_REACH_MM) -> tuple[Piece, tuple[Finding, ...]]:
    """The rejoined piece with its crossed edges trued, and what that moved.

    A crossed straight stretch is redrawn straight between its ends (corners or dart mouths); every other broken
    stretch is blended within ``reach_mm`` on each side of the joint, or further where more was moved there. Hems
    are blended unless they come out straight. A fold is straightened along its longest unmoved part, its
    neighbours lengthened square to it or cut back, and the width that moved is a finding. Lines for lengthening are
    level, and creases on the grain, again.
    """
    piece = joined.piece
    if not joined.joints:
        return piece, ()
    chains = {}
    for edge in piece.edges:
        joints = [joint for joint in joined.joints if joint.edge == edge.id and not _in_mouth(piece, edge, joint)]
        if joints and edge.id != piece.fold:
            chains[edge.id] = _trued_chain(before, piece, edge, joints, reach_mm)
    piece = _with_straight_mouths(with_chains(piece, chains), {joint.edge for joint in joined.joints})
    piece, findings = _with_straight_fold(before, piece)
    return with_lines_put_right(before, _with_grain_along_fold(before, piece)), findings


def with_chains(piece: Piece, chains: dict[str, Points]) -> Piece:
    """The piece with the chains of some edges replaced; what lies on them goes to the nearest place."""

    def station(edge: Edge, at_mm: float) -> float:
        return polyline.nearest(chains[edge.id], edge.point_at(at_mm))[0]

    edges = {edge_id: piece.edge(edge_id) for edge_id in chains}
    return with_edges(piece, {name: Drawn(chains[name], partial(station, edge)) for name, edge in edges.items()})


def _with_straight_mouths(piece: Piece, crossed: set[str]) -> Piece:
    """The piece with its crossed edges straight across every dart mouth that a cut ran through."""
    chains: dict[str, Points] = {}
    for dart in piece.darts:
        if dart.edge not in crossed:
            continue
        chain = chains.get(dart.edge, piece.edge(dart.edge).points)
        a, b = piece.mouth(dart)
        low, high = (polyline.nearest(chain, leg)[0] for leg in (a, b))
        if high - low - distance_mm(a, b) > SAME_POINT_MM:
            head = polyline.part_between(chain, 0.0, low)
            chains[dart.edge] = polyline.joined((head, polyline.part_between(chain, high, polyline.length_mm(chain))))
    return with_chains(piece, chains)


def _in_mouth(piece: Piece, edge: Edge, joint: Joint) -> bool:
    slack = 4 * SAME_POINT_MM
    for dart in piece.darts_on(edge.id):
        a, b = piece.mouth(dart)
        near = any(distance_mm(corner, place) <= slack for corner in (a, b) for place in (joint.before, joint.after))
        at_mm = polyline.nearest(edge.points, midpoint(joint.before, joint.after))[0]
        if dart.from_mm - slack <= at_mm <= dart.to_mm + slack and (near or joint.gap_mm > slack):
            return True
    return False


def _stops(length_mm: float, darts: tuple[Dart, ...]) -> list[float]:
    return [0.0, *(stop for dart in darts for stop in (dart.from_mm, dart.to_mm)), length_mm]


def _around(stops: list[float], at_mm: float) -> tuple[float, float]:
    """The neighbouring stops that enclose a length."""
    for low, high in itertools.pairwise(stops):
        if low <= at_mm <= high and high - low > SAME_POINT_MM:
            return low, high
    return stops[0], stops[-1]


def _trued_chain(before: Piece, piece: Piece, edge: Edge, joints: list[Joint], reach_mm: float) -> Points:
    chain = edge.points
    stops = _stops(edge.length_mm, piece.darts_on(edge.id))
    straightened: list[tuple[float, float]] = []
    curved: list[Joint] = []
    for joint in joints:
        low, high = _around(stops, polyline.nearest(chain, midpoint(joint.before, joint.after))[0])
        if _redraws_straight(before, edge, joint, polyline.part_between(chain, low, high)):
            straightened.append((low, high))
        else:
            curved.append(joint)
    curved = [joint for joint in curved if not any(low <= _at(chain, joint) <= high for low, high in straightened)]
    chain = _blended_joints(chain, curved, stops, reach_mm)
    for low, high in set(straightened):
        ends = polyline.point_at(edge.points, low), polyline.point_at(edge.points, high)
        a, b = (polyline.nearest(chain, end)[0] for end in ends)
        head = polyline.part_between(chain, 0.0, a)
        tail = polyline.part_between(chain, b, polyline.length_mm(chain))
        chain = polyline.without_doubled_points(polyline.joined((head, frozen_points(ends), tail)))
    return chain


def _at(chain: Points, joint: Joint) -> float:
    return polyline.nearest(chain, midpoint(joint.before, joint.after))[0]


def _redraws_straight(before: Piece, edge: Edge, joint: Joint, stretch: Points) -> bool:
    """Whether a joint lies on a stretch that was straight and was crossed, or came out straight anyway."""
    if polyline.offset_from_chord_mm(stretch) <= STRAIGHT_MM:
        return True
    if joint.gap_mm <= SAME_POINT_MM or edge.role is EdgeRole.HEM:
        return False
    old = before.edge(edge.id)
    low, high = _around(_stops(old.length_mm, before.darts_on(edge.id)), joint.cut_mm)
    return polyline.offset_from_chord_mm(polyline.part_between(old.points, low, high)) <= STRAIGHT_MM


def _blended_joints(chain: Points, joints: list[Joint], stops: list[float], reach_mm: float) -> Points:
    """The chain with each joint blended, the last first so that the lengths of the earlier ones still hold.

    A blend ends at the corner or dart mouth, or half-way to the next joint, where its reach would go beyond.
    """
    spans = sorted(
        tuple(sorted(polyline.nearest(chain, place)[0] for place in (joint.before, joint.after))) for joint in joints
    )
    for index in reversed(range(len(spans))):
        low, high = spans[index]
        reach = max(reach_mm, _blend_mm(joints[index], polyline.direction_at(chain, low)))
        floor, ceiling = _around(stops, (low + high) / 2)
        if index > 0:
            floor = max(floor, (spans[index - 1][1] + low) / 2)
        if index + 1 < len(spans):
            ceiling = min(ceiling, (high + spans[index + 1][0]) / 2)
        chain = blended(chain, max(low - reach, floor), min(high + reach, ceiling))
    return chain


def _blend_mm(joint: Joint, heading: Point) -> float:
    """How long the blend of an edge that goes on in a direction should be on each side of a joint.

    Twice what it is set off or laid over itself; what opens along it is no step, and half of that is enough.
    """
    dx, dy = joint.after[0] - joint.before[0], joint.after[1] - joint.before[1]
    opens = dx * heading[0] + dy * heading[1] > 0
    aside_mm = abs(dx * heading[1] - dy * heading[0])
    return max(2 * aside_mm, joint.gap_mm) if opens else 2 * joint.gap_mm


def _with_straight_fold(before: Piece, piece: Piece) -> tuple[Piece, tuple[Finding, ...]]:
    if piece.fold is None:
        return piece, ()
    fold, old = piece.edge(piece.fold), before.edge(piece.fold)
    if fold.points is old.points or polyline.offset_from_chord_mm(fold.points) <= SAME_POINT_MM:
        if len(fold.points) > 2 and fold.points is not old.points:
            return with_chains(piece, {fold.id: frozen_points(fold.points[[0, -1]])}), ()
        return piece, ()
    return with_straight_edge(piece, fold.id, *_fold_line(fold.points, old.points))


def with_straight_edge(piece: Piece, edge_id: str, base: Point, ahead: Point) -> tuple[Piece, tuple[Finding, ...]]:
    """The piece with an edge drawn straight along a line, and what that moved.

    Given a point of the line and its unit direction, that of the edge. The neighbours are lengthened square to it or
    cut back; each that changed by more than can be seen gives a finding with the width that moved.
    """
    index = piece.edges.index(piece.edge(edge_id))
    edge = piece.edges[index]
    previous, following = piece.edges[index - 1], piece.edges[(index + 1) % len(piece.edges)]
    into_start = _met(previous.points, base, ahead)
    into_end = _met(frozen_points(following.points[::-1]), base, ahead)
    chains = {edge.id: frozen_points([into_start[-1], into_end[-1]])}
    if into_start is not previous.points:
        chains[previous.id] = into_start
    if len(into_end) != len(following.points) or (into_end[::-1] != following.points).any():
        chains[following.id] = frozen_points(into_end[::-1])
    straight = with_chains(piece, chains)
    findings = tuple(
        _width_moved(piece, edge, neighbour, corner, _inside_mm(corner, base, ahead))
        for neighbour, corner in ((previous, edge.start), (following, edge.end))
        if abs(_inside_mm(corner, base, ahead)) > NOTABLE_MM
    )
    return straight, findings


def _fold_line(chain: Points, old: Points) -> tuple[Point, Point]:
    """A point and the direction of the line a bent fold is straightened along: its unmoved end, else its longest."""
    steps = np.diff(chain, axis=0)
    sizes = np.hypot(steps[:, 0], steps[:, 1])
    index = int(np.argmax(sizes))
    if distance_mm(chain[0], old[0]) <= SAME_POINT_MM:
        index = 0
    elif distance_mm(chain[-1], old[-1]) <= SAME_POINT_MM:
        index = len(steps) - 1
    a, b = (float(chain[index, 0]), float(chain[index, 1])), (float(chain[index + 1, 0]), float(chain[index + 1, 1]))
    return a, unit_vector(a, b)


def _inside_mm(place: Point, base: Point, ahead: Point) -> float:
    """How far a place lies to the left of a line, which is the inside of a counter-clockwise piece."""
    return (place[1] - base[1]) * ahead[0] - (place[0] - base[0]) * ahead[1]


def _met(chain: Points, base: Point, ahead: Point) -> Points:
    """A neighbour's chain whose last point is brought onto the fold line: lengthened square to it, or cut back."""
    corner = (float(chain[-1, 0]), float(chain[-1, 1]))
    inside = _inside_mm(corner, base, ahead)
    if abs(inside) <= SAME_POINT_MM:
        return chain
    if inside < 0:
        met = met_by_line(chain, base, ahead)
        if met:
            return polyline.part_between(chain, 0.0, met[-1][1])
    foot = (corner[0] + inside * ahead[1], corner[1] - inside * ahead[0])
    return frozen_points(np.vstack([chain if inside > 0 else chain[:-1], foot]))


def _width_moved(piece: Piece, edge: Edge, neighbour: Edge, corner: Point, moved_mm: float) -> Finding:
    verb = "longer" if moved_mm > 0 else "shorter"
    what = "fold" if edge.id == piece.fold else f'edge "{edge.id}"'
    return Finding(
        "fold-straightened" if edge.id == piece.fold else "edge-straightened",
        Level.NOTE,
        f'On "{piece.name}" the {what} was drawn straight again; that made the edge "{neighbour.id}" '
        f"{abs(moved_mm):.1f} mm {verb} there. Take it up in a dart or ease, or alter what is sewn to it.",
        piece=piece.name,
        where=corner,
        measured_mm=abs(moved_mm),
        expected_mm=0.0,
    )


def _with_grain_along_fold(before: Piece, piece: Piece) -> Piece:
    """Grain that was parallel to the fold is parallel to it again, turned about its own middle."""
    if piece.fold is None or piece.grain is None or before.grain is None:
        return piece
    old, new = before.edge(piece.fold), piece.edge(piece.fold)
    apart = _turn(unit_vector(old.start, old.end), unit_vector(before.grain.start, before.grain.end))
    if min(abs(apart), math.pi - abs(apart)) > PARALLEL_RAD:
        return piece
    now = _turn(unit_vector(new.start, new.end), unit_vector(piece.grain.start, piece.grain.end))
    amount = apart - now
    if amount == 0.0:
        return piece
    grain = piece.grain.moved(Affine.turned(amount, midpoint(piece.grain.start, piece.grain.end)))
    return replace(piece, grain=Grain(grain.start, grain.end))


def _turn(a: Point, b: Point) -> float:
    return angle_between((0.0, 0.0), a, b)
