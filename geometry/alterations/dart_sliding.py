"""Darts slid along their edge and widened with the edge folded, as on paper: fold, mark the new place, unfold there."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

from geometry.affine import Affine, Point, Points, angle_between, as_point, distance_mm, frozen_points, midpoint
from geometry.alterations.edge_ends import lengthened
from geometry.alterations.folded_edge import (
    FoldedEdge,
    fold,
    folded_parts,
    inverse,
    laid_end_to_end,
    with_end,
    with_folded_part,
)
from geometry.alterations.mouths import around_mouth, room_around, settled, stood_off, with_mouth
from geometry.alterations.redrawn_edges import with_edge
from geometry.alterations.trueing import DEFAULT_REACH_MM
from geometry.curves import polyline
from geometry.curves.smooth import bridged
from geometry.errors import StepError
from geometry.model.dart import Dart
from geometry.model.piece import Piece
from geometry.tolerance import FLOAT_MM, ON_EDGE_MM, SAME_POINT_MM

_ROUNDS = 100
"""Cap on the rounds in which a tip follows its mouth, or a mouth the wanted length; each leaves a fraction."""


def slid(piece: Piece, dart: Dart, by_mm: float) -> Piece:
    """The piece with a dart slid along its edge by a sewn length, positive towards the end of the edge.

    An edge that runs smoothly with the dart folded is the very same line, folded, afterwards: only the place where it
    opens is another. For that it turns a little about its corners, which stay. An edge drawn with the dart open keeps
    its shape open: what lies between the old and the new mouth is shifted by the width of the mouth.

    Raises:
        StepError: a corner or another dart is in the way.
    """
    if by_mm == 0:
        return piece
    low, high = room_around(piece, piece.edge(dart.edge), (dart.from_mm + dart.to_mm) / 2, but=dart.id)
    if not low + SAME_POINT_MM < dart.from_mm + by_mm < high - (dart.to_mm - dart.from_mm) - SAME_POINT_MM:
        raise StepError(
            f'The dart "{dart.id}" on "{piece.name}" cannot move {abs(by_mm):.0f} mm along the edge "{dart.edge}": '
            "it would run into its end or into another dart; give a smaller amount."
        )
    if not _is_smooth_folded(piece, dart):
        return _shifted(piece, dart, by_mm)
    trued, dart = _with_equal_legs(piece, dart)
    folded = fold(trued, dart.edge)
    number, parts = folded.darts.index(dart), folded_parts(folded)
    line, old_mm = polyline.joined(tuple(parts[number : number + 2])), polyline.length_mm(parts[number])
    new_mm = old_mm + by_mm
    parts[number] = polyline.part_between(line, 0.0, new_mm)
    parts[number + 1] = polyline.part_between(line, new_mm, polyline.length_mm(line))
    moved = _aimed(folded, dart, parts) if dart.aim else _carried(folded, dart, line, (old_mm, new_mm))
    return settled(piece, _opened(folded, moved, parts), dart.id)


def widened(piece: Piece, dart: Dart, by_mm: float) -> Piece:
    """The piece with a dart that takes in more, half of it on either side of its mouth; its tip stays.

    An edge that ran smoothly with the dart folded is blended where the wider dart closes. What the blend changes of its
    length is made up at the mouth, so that it is sewn shorter by just the amount. There must be room for it.
    """
    if not _is_smooth_folded(piece, dart):
        return _cut_back(piece, dart, by_mm)
    wanted_mm, taken_mm = piece.sewn_length_mm(dart.edge) - by_mm, by_mm
    reach_mm = _blend_reach(fold(piece, dart.edge), dart, DEFAULT_REACH_MM + max(by_mm / 2, 0.0))
    for _ in range(_ROUNDS):
        drawn = _blended_folded(_cut_back(piece, dart, taken_mm), dart.edge, reach_mm)
        over_mm = drawn.sewn_length_mm(dart.edge) - wanted_mm
        if abs(over_mm) <= FLOAT_MM:
            break
        taken_mm += over_mm
    return drawn


def _cut_back(piece: Piece, dart: Dart, by_mm: float) -> Piece:
    before, after = around_mouth(piece, dart)
    back = lengthened(frozen_points(after[::-1]), -by_mm / 2)
    return with_mouth(piece, dart, lengthened(before, -by_mm / 2), frozen_points(back[::-1]))


def _blend_reach(folded: FoldedEdge, dart: Dart, reach_mm: float) -> tuple[float, float]:
    """Lengths from the start and from the end of a folded edge that a blend where a dart closes leaves as they are."""
    number, total_mm = folded.darts.index(dart), polyline.length_mm(folded.chain)
    floor, at_mm, ceiling = (*folded.starts_mm, total_mm)[number : number + 3]
    return max(at_mm - reach_mm, floor), total_mm - min(at_mm + reach_mm, ceiling)


def _blended_folded(piece: Piece, edge_id: str, left_mm: tuple[float, float]) -> Piece:
    """The piece with an edge blended, darts folded, but for the lengths left at its start and end.

    They do not move with the mouth: else the blend would jump from chord to chord of the curve it starts from, and no
    mouth might give the length wanted.
    """
    folded = fold(piece, edge_id)
    low, high = left_mm[0], polyline.length_mm(folded.chain) - left_mm[1]
    return with_folded_part(folded, low, high, bridged(folded.chain, low, high))


def _is_smooth_folded(piece: Piece, dart: Dart) -> bool:
    """Whether the edge turns less at the dart when it is folded than when it lies open."""
    before, after = around_mouth(piece, dart)
    open_rad = angle_between((0.0, 0.0), _arriving(before), polyline.direction_at(after, 0.0))
    return abs(math.remainder(open_rad - angle_between(dart.tip, *piece.mouth(dart)), math.tau)) < abs(open_rad)


def _arriving(chain: Points) -> Point:
    return polyline.direction_at(chain, polyline.length_mm(chain))


def _with_equal_legs(piece: Piece, dart: Dart) -> tuple[Piece, Dart]:
    one, other = piece.legs_mm(dart)
    if abs(one - other) <= FLOAT_MM:
        return piece, dart
    trued = with_mouth(piece, dart, *around_mouth(piece, dart))
    return trued, trued.dart(dart.id)


def _shifted(piece: Piece, dart: Dart, by_mm: float) -> Piece:
    before, after = around_mouth(piece, dart)
    a, b = as_point(before[-1]), as_point(after[0])
    mouth = (b[0] - a[0], b[1] - a[1])
    if by_mm > 0:
        passed = polyline.part_between(after, 0.0, by_mm)
        before = polyline.joined((before, frozen_points(passed - mouth)))
        after = polyline.part_between(after, by_mm, polyline.length_mm(after))
    else:
        passed = polyline.part_between(before, dart.from_mm + by_mm, dart.from_mm)
        before = polyline.part_between(before, 0.0, dart.from_mm + by_mm)
        after = polyline.joined((frozen_points(passed + mouth), after))
    if dart.aim is not None:
        return settled(piece, with_mouth(piece, dart, before, after, aimed=True), dart.id)
    dx, dy = float(before[-1, 0]) - a[0], float(before[-1, 1]) - a[1]
    moved = replace(dart, tip=(dart.tip[0] + dx, dart.tip[1] + dy))
    return settled(piece, with_mouth(piece, moved, before, after), dart.id)


def _carried(folded: FoldedEdge, dart: Dart, line: Points, places_mm: tuple[float, float]) -> Dart:
    """The dart with its tip moved as its place on the folded edge was, that edge laid along the open one."""
    (ax, ay), (bx, by) = (polyline.point_at(line, at_mm) for at_mm in places_mm)
    corner, end = folded.edge.start, folded.edge.end
    dx, dy = Affine.turned(angle_between(corner, as_point(folded.chain[-1]), end)).point((bx - ax, by - ay))
    return replace(dart, tip=(dart.tip[0] + dx, dart.tip[1] + dy))


def _aimed(folded: FoldedEdge, dart: Dart, parts: list[Points]) -> Dart:
    """The dart with its tip as far from its body point as it was, on the line from there to its new mouth."""
    number, stand_off_mm = folded.darts.index(dart), distance_mm(dart.tip, dart.apex)
    aimed = dart
    for _ in range(_ROUNDS):
        motions = _opening(folded, number, aimed, as_point(parts[-1][-1]))
        a, b = (motion.point(as_point(parts[number][-1])) for motion in motions[number : number + 2])
        tip = stood_off(dart.apex, midpoint(a, b), stand_off_mm)
        change_mm, aimed = distance_mm(tip, aimed.tip), replace(aimed, tip=tip)
        if change_mm <= FLOAT_MM:
            break
    return aimed


def _opening(folded: FoldedEdge, number: int, dart: Dart, end: Point) -> list[Affine]:
    """How the stretches of a folded edge are moved to lie open between the corners of the edge as it was.

    Every dart but that of the given number opens about its tip by its old angle. That one opens about its new tip, as
    far as takes the folded end of the edge to its corner, after a turn of the whole about the corner at its start.
    """
    corner = folded.edge.start
    before, after = inverse(folded.motions[number]), folded.motions[number + 1]
    pivot, folded_end = before.point(corner), before.point(end)
    goal = inverse(after).point(folded.motions[-1].point(folded.edge.end))
    near = _met(pivot, dart.tip, folded_end, distance_mm(dart.tip, goal))
    if near is None:
        raise StepError(
            f'The edge "{dart.edge}" of "{folded.piece.name}" cannot be opened at the dart "{dart.id}" so that its '
            "corners stay; give a smaller amount."
        )
    turned = Affine.turned(angle_between(pivot, folded_end, near), corner)
    opened = turned.then(before).then(Affine.turned(angle_between(dart.tip, near, goal), dart.tip)).then(after)
    return [
        (turned if index <= number else opened).then(inverse(motion)) for index, motion in enumerate(folded.motions)
    ]


def _met(pivot: Point, tip: Point, swung: Point, from_tip_mm: float) -> Point | None:
    """Where a place swung about a pivot comes to lie at a distance from a tip, the nearer of the two places."""
    base_mm, arm_mm = distance_mm(pivot, tip), distance_mm(pivot, swung)
    if min(base_mm, arm_mm) <= SAME_POINT_MM:
        return None
    cos = (base_mm**2 + arm_mm**2 - from_tip_mm**2) / (2 * base_mm * arm_mm)
    if abs(cos) > 1:
        return None
    now_rad = angle_between(pivot, tip, swung)
    return Affine.turned(math.copysign(math.acos(cos), now_rad) - now_rad, pivot).point(swung)


def _opened(folded: FoldedEdge, dart: Dart, parts: list[Points]) -> Piece:
    """The piece with an edge laid out open from its folded stretches, one of its darts with another tip."""
    piece, edge = folded.piece, folded.edge
    number = next(index for index, old in enumerate(folded.darts) if old.id == dart.id)
    motions = _opening(folded, number, dart, as_point(parts[-1][-1]))
    opened = [motion.points(part) for motion, part in zip(motions, parts, strict=True)]
    opened[0], opened[-1] = with_end(opened[0], 0, edge.start), with_end(opened[-1], -1, edge.end)
    chain, places = laid_end_to_end(opened)
    mouths = [
        replace(dart if old.id == dart.id else old, from_mm=before[1], to_mm=after[0])
        for old, (before, after) in zip(folded.darts, itertools.pairwise(places), strict=True)
    ]

    # what lies along the edge keeps its place on the folded edge, what lies at a leg keeps to the leg
    def station(at_mm: float) -> float:
        for old, new in zip(folded.darts, mouths, strict=True):
            for was, now in ((old.from_mm, new.from_mm), (old.to_mm, new.to_mm)):
                if abs(at_mm - was) <= ON_EDGE_MM:
                    return now + (at_mm - was)
        sewn_mm = piece.sewn_station_mm(edge.id, at_mm)
        for new in mouths:
            sewn_mm += new.to_mm - new.from_mm if sewn_mm > new.from_mm else 0.0
        return sewn_mm

    drawn = with_edge(piece, edge.id, chain, station)
    known = {new.id: new for new in mouths}
    return replace(drawn, darts=tuple(known.get(old.id, old) for old in drawn.darts))
