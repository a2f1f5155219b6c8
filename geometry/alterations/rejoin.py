"""Parts moved and put together again: edges bridged, marks carried, nothing trued yet."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.affine import Affine, Point, Points, as_point, distance_mm, frozen_points, midpoint
from geometry.alterations.parts import Parts, Run
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.model.dart import Dart
from geometry.model.edge import Edge
from geometry.model.marks import Grain, InnerLine, Label, Mark, Notch
from geometry.model.piece import Piece, moved_dart, moved_double_dart
from geometry.tolerance import SAME_DIRECTION_RAD, SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class Joint:
    """A place on an edge where two parts were put together.

    Attributes:
        edge: Id of the edge.
        before: Where the part before it ends.
        after: Where the part after it begins; the same point where a hinge lies on the edge.
        cut_mm: Length along the edge as it was where the cut met it.
    """

    edge: str
    before: Point
    after: Point
    cut_mm: float

    @property
    def gap_mm(self) -> float:
        """How far the two parts were moved from or over one another."""
        return distance_mm(self.before, self.after)


@dataclass(frozen=True, slots=True)
class Rejoined:
    """A piece put together again, its crossed edges bridged straight across.

    Attributes:
        piece: The piece, not yet trued.
        joints: Where edges were crossed or turned at a hinge, in ring order.
    """

    piece: Piece
    joints: tuple[Joint, ...]


def rejoined(parts: Parts, motions: tuple[Affine, ...], *, folded: frozenset[int] = frozenset()) -> Rejoined:
    """The piece with each part carried by its motion.

    Given one motion per part; ``folded`` names parts that vanish (the wedge of a dart that is closed). If no
    part moves, the piece is returned as the very same object.
    """
    if not folded and all(motion.is_identity for motion in motions):
        return Rejoined(parts.piece, ())
    piece = parts.piece
    runs = tuple(run for run in parts.runs if run.part not in folded)
    edges, joints = _edges(piece, runs, motions)
    after = replace(piece, edges=edges, darts=(), notches=())
    carry = _Carry(parts, motions, folded)
    return Rejoined(
        replace(
            after,
            darts=tuple(carry.dart(dart, after) for dart in piece.darts if not _is_folded(parts, dart, folded)),
            double_darts=tuple(moved_double_dart(dart, carry.motion_at(dart.left)) for dart in piece.double_darts),
            notches=tuple(carry.notch(notch, after) for notch in piece.notches),
            inner_lines=tuple(carry.inner_line(line) for line in piece.inner_lines),
            marks=carry.marks(piece.marks),
            labels=tuple(Label(label.text, carry.point(label.at)) for label in piece.labels),
            grain=carry.grain(piece.grain) if piece.grain else None,
        ),
        joints,
    )


def _is_folded(parts: Parts, dart: Dart, folded: frozenset[int]) -> bool:
    return bool(folded) and parts.run_at(dart.edge, (dart.from_mm + dart.to_mm) / 2).part in folded


def _edges(piece: Piece, runs: Sequence[Run], motions: Sequence[Affine]) -> tuple[tuple[Edge, ...], tuple[Joint, ...]]:
    chains = [motions[run.part].points(run.points) for run in runs]
    edges, joints = [], []
    for edge in piece.edges:
        own = [index for index, run in enumerate(runs) if run.edge == edge.id]
        if not own:
            continue
        for a, b in itertools.pairwise(own):
            joints.append(Joint(edge.id, as_point(chains[a][-1]), as_point(chains[b][0]), runs[a].to_mm))
        following = (own[-1] + 1) % len(runs)
        pieces_of_edge = [chains[index] for index in own]
        corner, next_corner = as_point(chains[own[-1]][-1]), as_point(chains[following][0])
        if distance_mm(corner, next_corner) > SAME_POINT_MM:  # opened at a corner: this edge bridges the gap
            pieces_of_edge.append(frozen_points([next_corner]))
            joints.append(Joint(edge.id, corner, next_corner, runs[own[-1]].to_mm))
        if len(pieces_of_edge) == 1:
            points = pieces_of_edge[0]
        else:
            points = _without_retraced(polyline.joined(tuple(pieces_of_edge)))
        edges.append(edge if points is edge.points else replace(edge, points=points))
    return tuple(edges), tuple(joints)


def _without_retraced(chain: Points) -> Points:
    """The chain without the points at which it turns straight back on itself.

    Folding out lays one part of an edge over the other; where both run along one line, going there and back
    encloses nothing and is left out. Each pass drops at least one point, so the work is bounded by their number.
    """
    points = [as_point(point) for point in chain]
    index = 1
    while index < len(points) - 1:
        a, b, c = points[index - 1 : index + 2]
        if distance_mm(a, b) <= SAME_POINT_MM:
            del points[index]
        elif _turns_back(a, b, c):
            del points[index]
            if index < len(points) and distance_mm(points[index - 1], points[index]) <= SAME_POINT_MM:
                del points[index]
            index = max(index - 1, 1)
        else:
            index += 1
    return frozen_points(points) if len(points) < len(chain) else chain


def _turns_back(a: Point, b: Point, c: Point) -> bool:
    ux, uy, vx, vy = a[0] - b[0], a[1] - b[1], c[0] - b[0], c[1] - b[1]
    across, along = abs(ux * vy - uy * vx), ux * vx + uy * vy
    sizes = math.hypot(ux, uy) * math.hypot(vx, vy)
    shorter = min(math.hypot(ux, uy), math.hypot(vx, vy))
    return along > 0 and (across <= SAME_DIRECTION_RAD * sizes or across * shorter <= SAME_POINT_MM * sizes)


class _Carry:
    """Carries what is marked on a piece along with its parts."""

    def __init__(self, parts: Parts, motions: tuple[Affine, ...], folded: frozenset[int]) -> None:
        self.parts, self.motions, self.folded = parts, motions, folded

    def motion_at(self, place: Point) -> Affine:
        return self.motions[self.parts.part_at(place)]

    def point(self, place: Point) -> Point:
        """Where a place goes; on a cut, the middle of where the parts beside it take it."""
        return _middle(motion.point(place) for motion in self.motions_at(place))

    def marks(self, marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
        """The marks carried, all at once: a digitised piece has hundreds."""
        if not marks:
            return ()
        parts = self.parts.parts_at(frozen_points([mark.at for mark in marks]))
        return tuple(
            Mark(mark.id, _middle(motion.point(mark.at) for motion in self._of(own)), mark.kind)
            for mark, own in zip(marks, parts, strict=True)
        )

    def _of(self, parts: tuple[int, ...]) -> list[Affine]:
        return [self.motions[part] for part in parts if part not in self.folded] or [self.motions[parts[0]]]

    def motions_at(self, place: Point) -> list[Affine]:
        """The motions of the parts a place belongs to; several on a cut."""
        return self._of(self.parts.parts_touching(place))

    def dart(self, dart: Dart, after: Piece) -> Dart:
        edge = self.parts.piece.edge(dart.edge)
        before, behind = (self.motions[run.part] for run in self.parts.mouth_runs(dart))
        chain = after.edge(dart.edge).points
        from_mm = polyline.nearest(chain, before.point(edge.point_at(dart.from_mm)))[0]
        to_mm = polyline.nearest(chain, behind.point(edge.point_at(dart.to_mm)))[0]
        placed = replace(dart, from_mm=from_mm, to_mm=to_mm)
        if before == behind:
            return self._dart_of_one_part(placed, before)
        return self._crossed_dart(
            placed, before, behind, polyline.point_at(chain, from_mm), polyline.point_at(chain, to_mm)
        )

    def _dart_of_one_part(self, dart: Dart, mouth: Affine) -> Dart:
        if self._on_cut(dart.tip):
            return moved_dart(dart, mouth)
        tip = self.motion_at(dart.tip)
        aim = (
            None
            if dart.aim is None
            else (mouth if self._on_cut(dart.aim) else self.motion_at(dart.aim)).point(dart.aim)
        )
        return replace(dart, tip=tip.point(dart.tip), aim=aim)

    def _crossed_dart(self, dart: Dart, before: Affine, behind: Affine, a: Point, b: Point) -> Dart:
        """A dart whose mouth was opened or closed: redrawn about its middle, with the stand-off it had."""
        if dart.aim is None:
            return replace(dart, tip=midpoint(before.point(dart.tip), behind.point(dart.tip)))
        aim = midpoint(before.point(dart.aim), behind.point(dart.aim))
        middle = midpoint(a, b)
        stand_off, reach = distance_mm(dart.tip, dart.aim), distance_mm(aim, middle)
        share = min(stand_off / reach, 1.0) if reach > 0 else 0.0
        tip = (aim[0] + (middle[0] - aim[0]) * share, aim[1] + (middle[1] - aim[1]) * share)
        return replace(dart, tip=tip, aim=aim)

    def _on_cut(self, place: Point) -> bool:
        return any(polyline.nearest(np.array(line), place)[1] <= SAME_POINT_MM for line in self.parts.lines)

    def notch(self, notch: Notch, after: Piece) -> Notch:
        edge = self.parts.piece.edge(notch.edge)
        run = self.parts.run_at(notch.edge, notch.at_mm)
        place = self.motions[run.part].point(edge.point_at(notch.at_mm))
        return replace(notch, at_mm=polyline.nearest(after.edge(notch.edge).points, place)[0])

    def inner_line(self, line: InnerLine) -> InnerLine:
        stops = sorted(
            {0.0, polyline.length_mm(line.points)}
            | {crossing.first_mm for cut in self.parts.lines for crossing in crossings(line.points, np.array(cut))}
        )
        stretches = [
            (polyline.part_between(line.points, a, b), self.motion_at(polyline.point_at(line.points, (a + b) / 2)))
            for a, b in itertools.pairwise(stops)
            if b - a > SAME_POINT_MM
        ]
        if len({motion for _, motion in stretches}) == 1:
            return replace(line, points=stretches[0][1].points(line.points))
        moved = polyline.joined(tuple(motion.points(chain) for chain, motion in stretches))
        return replace(line, points=frozen_points(moved[[0, -1]]) if len(line.points) == 2 else moved)

    def grain(self, grain: Grain) -> Grain:
        """Rejoined straight: as long as its ends reach, turned as the part is that holds its middle."""
        start, end = self.point(grain.start), self.point(grain.end)
        motions = self.motions_at(midpoint(grain.start, grain.end))
        turned = sum(motion.angle_rad for motion in motions) / len(motions)
        ahead = math.atan2(grain.end[1] - grain.start[1], grain.end[0] - grain.start[0]) + turned
        ux, uy = math.cos(ahead), math.sin(ahead)
        half = ((end[0] - start[0]) * ux + (end[1] - start[1]) * uy) / 2
        x, y = midpoint(start, end)
        return Grain((x - half * ux, y - half * uy), (x + half * ux, y + half * uy))


def _middle(places: Iterable[Point]) -> Point:
    x, y = zip(*places, strict=True)
    return (sum(x) / len(x), sum(y) / len(y))
