"""What is marked on a piece, carried along with the parts it was cut into."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from geometry.affine import Affine, Point, Points, distance_mm, frozen_points, midpoint, unit_vector
from geometry.alterations.parts import Parts
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.model.dart import Dart, DoubleDart
from geometry.model.edge import Edge
from geometry.model.marks import Grain, InnerLine, Label, Mark, MarkKind, Notch
from geometry.model.piece import Piece, moved_dart, moved_double_dart
from geometry.tolerance import ON_EDGE_MM, SAME_POINT_MM

_Owners = tuple[int, ...]
"""The parts a place belongs to: one, or on a cut all that meet there."""


def carried(parts: Parts, motions: tuple[Affine, ...], folded: frozenset[int], after: Piece) -> Piece:
    """The piece with all that is marked on it carried by the motion of the part it lies in.

    Given the piece with its new edges as ``after``; darts whose wedge is in ``folded`` are gone. A place on a cut
    goes to the middle of where the parts beside it take it.
    """
    piece, belongings = parts.piece, _belongings(parts)
    carrier = _Carrier(parts, motions, folded, after, belongings.owners)
    return replace(
        after,
        darts=tuple(carrier.dart(dart) for dart in piece.darts if not carrier.is_folded(dart)),
        double_darts=tuple(map(carrier.double_dart, piece.double_darts)),
        notches=tuple(map(carrier.notch, piece.notches)),
        inner_lines=tuple(map(carrier.inner_line, piece.inner_lines, belongings.stretches)),
        marks=tuple(map(carrier.mark, piece.marks)),
        labels=tuple(map(carrier.label, piece.labels)),
        grain=carrier.grain(piece.grain, belongings.grain) if piece.grain else None,
    )


@dataclass(frozen=True, slots=True)
class _Belongings:
    """Which parts everything marked belongs to. It does not depend on how far the parts move."""

    owners: dict[Point, _Owners]
    grain: tuple[_Owners, ...]
    stretches: tuple[tuple[Points, ...], ...]


@lru_cache(maxsize=64)
def _belongings(parts: Parts) -> _Belongings:
    """All places are looked up at once: one question about a hundred places costs little more than about one."""
    piece = parts.piece
    stretches = tuple(_stretches(parts, line) for line in piece.inner_lines)
    places = {
        *(mark.at for mark in piece.marks),
        *(label.at for label in piece.labels),
        *(dart.tip for dart in piece.darts),
        *(dart.aim for dart in piece.darts if dart.aim is not None),
        *(dart.left for dart in piece.double_darts),
        *(_middle_of(chain) for chains in stretches for chain in chains),
    }
    grain = _grain_places(piece.grain) if piece.grain else ()
    if not places and not grain:
        return _Belongings({}, (), stretches)
    # A grain line drawn by hand along a cut leaves it by as much as a hand does, and must not tip to one side.
    within_mm = np.array([SAME_POINT_MM] * len(places) + [ON_EDGE_MM] * len(grain))
    owners = parts.parts_at(frozen_points([*places, *grain]), within_mm=within_mm)
    return _Belongings(dict(zip(places, owners, strict=False)), owners[len(places) :], stretches)


def _grain_places(grain: Grain) -> tuple[Point, ...]:
    """The ends of a grain line, its middle and its thirds."""
    (x0, y0), (x1, y1) = grain.start, grain.end
    inside = ((x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for share in (1 / 2, 1 / 3, 2 / 3))
    return grain.start, grain.end, *inside


def _stretches(parts: Parts, line: InnerLine) -> tuple[Points, ...]:
    """The stretches of an inner line between the cuts; a cut it runs along does not part it."""
    met = [(crossings(line.points, cut), cut) for cut in parts.chains]
    parted = [found for found, cut in met if found and polyline.distances_mm(cut, line.points).max() > ON_EDGE_MM]
    if not parted:
        return (line.points,)
    stops = sorted({0.0, polyline.length_mm(line.points)} | {each.first_mm for found in parted for each in found})
    return tuple(
        polyline.part_between(line.points, a, b) for a, b in itertools.pairwise(stops) if b - a > SAME_POINT_MM
    )


def _middle_of(chain: Points) -> Point:
    return polyline.point_at(chain, polyline.length_mm(chain) / 2)


@dataclass(frozen=True, slots=True)
class _Carrier:
    parts: Parts
    motions: tuple[Affine, ...]
    folded: frozenset[int]
    after: Piece
    owners: dict[Point, _Owners]

    def is_folded(self, dart: Dart) -> bool:
        middle_mm = (dart.from_mm + dart.to_mm) / 2
        return bool(self.folded) and self.parts.run_at(dart.edge, middle_mm).part in self.folded

    def point(self, place: Point) -> Point:
        return _middle(motion.point(place) for motion in self._motions_of(self.owners[place]))

    def _motions_of(self, owners: _Owners) -> list[Affine]:
        return [self.motions[part] for part in owners if part not in self.folded] or [self.motions[owners[0]]]

    def mark(self, mark: Mark) -> Mark:
        dart = self._crossed_dart_round(mark)
        at = self.point(mark.at) if dart is None else self._kept_from_tip(dart, mark.at)
        return Mark(mark.id, at, mark.kind)

    def _crossed_dart_round(self, mark: Mark) -> Dart | None:
        """The dart a hole is drilled in, if a cut opened or closed it: the hole marks where that dart ends."""
        if mark.kind is not MarkKind.DRILL:
            return None
        for dart in self.parts.piece.darts:
            before, behind = (self.motions[run.part] for run in self.parts.mouth_runs(dart))
            if before != behind and not self.is_folded(dart) and self.parts.piece.covers(dart, mark.at):
                return dart
        return None

    def _kept_from_tip(self, dart: Dart, place: Point) -> Point:
        """As far inside the dart as the place was, on its middle line."""
        moved = self.dart(dart)
        chain = self.after.edge(dart.edge).points
        mouth = midpoint(polyline.point_at(chain, moved.from_mm), polyline.point_at(chain, moved.to_mm))
        ux, uy = unit_vector(moved.tip, mouth)
        inside_mm = distance_mm(place, dart.tip)
        return (moved.tip[0] + inside_mm * ux, moved.tip[1] + inside_mm * uy)

    def label(self, label: Label) -> Label:
        return Label(label.text, self.point(label.at))

    def double_dart(self, dart: DoubleDart) -> DoubleDart:
        return moved_double_dart(dart, self.motions[self.owners[dart.left][0]])

    def dart(self, dart: Dart) -> Dart:
        edge = self.parts.piece.edge(dart.edge)
        before, behind = (self.motions[run.part] for run in self.parts.mouth_runs(dart))
        chain = self.after.edge(dart.edge).points
        from_mm, to_mm = (
            self.station_mm(edge, at_mm, motion) for at_mm, motion in ((dart.from_mm, before), (dart.to_mm, behind))
        )
        placed = replace(dart, from_mm=from_mm, to_mm=to_mm)
        if before == behind:
            return self._dart_of_one_part(placed, before)
        mouth = polyline.point_at(chain, from_mm), polyline.point_at(chain, to_mm)
        return _crossed_dart(placed, before, behind, midpoint(*mouth))

    def _dart_of_one_part(self, dart: Dart, mouth: Affine) -> Dart:
        """A dart whose mouth stayed whole: it keeps its legs where a cut only touches its tip."""
        if len(self.owners[dart.tip]) > 1:
            return moved_dart(dart, mouth)
        tip = self.motions[self.owners[dart.tip][0]]
        if dart.aim is None:
            return replace(dart, tip=tip.point(dart.tip))
        owners = self.owners[dart.aim]
        aim = mouth if len(owners) > 1 else self.motions[owners[0]]
        return replace(dart, tip=tip.point(dart.tip), aim=aim.point(dart.aim))

    def notch(self, notch: Notch) -> Notch:
        edge = self.parts.piece.edge(notch.edge)
        before, behind = (self.motions[run.part] for run in self.parts.runs_beside(notch.edge, notch.at_mm))
        if before == behind:
            return replace(notch, at_mm=self.station_mm(edge, notch.at_mm, before))
        at = edge.point_at(notch.at_mm)
        between = midpoint(before.point(at), behind.point(at))
        return replace(notch, at_mm=polyline.nearest(self.after.edge(edge.id).points, between)[0])

    def station_mm(self, edge: Edge, at_mm: float, motion: Affine) -> float:
        """Where along its edge a place lies that was carried by a motion; on an edge moved as a whole, where it was."""
        chain = self.after.edge(edge.id).points
        if len(chain) == len(edge.points) and not self.parts.is_cut(edge.id):
            return at_mm
        return polyline.nearest(chain, motion.point(edge.point_at(at_mm)))[0]

    def inner_line(self, line: InnerLine, stretches: tuple[Points, ...]) -> InnerLine:
        motions = [self.motions[self.owners[_middle_of(chain)][0]] for chain in stretches]
        if all(motion == motions[0] for motion in motions):
            return replace(line, points=motions[0].points(line.points))
        chains = (motion.points(chain) for motion, chain in zip(motions, stretches, strict=True))
        moved = polyline.joined(tuple(chains))
        return replace(line, points=frozen_points(moved[[0, -1]]) if len(line.points) == 2 else moved)

    def grain(self, grain: Grain, owners: tuple[_Owners, ...]) -> Grain:
        """Rejoined straight: as long as its ends reach, turned as the part is that holds its middle.

        A part that stays where it is and holds a third of the line or more keeps it unturned: a sleeve that is bent at
        the elbow hangs by its upper half.
        """
        start, end = (
            _middle(motion.point(place) for motion in self._motions_of(own))
            for place, own in zip((grain.start, grain.end), owners, strict=False)
        )
        stays = any(motion.is_identity for own in owners[2:] for motion in self._motions_of(own))
        motions = self._motions_of(owners[2])
        turned = 0.0 if stays else sum(motion.angle_rad for motion in motions) / len(motions)
        ahead = math.atan2(grain.end[1] - grain.start[1], grain.end[0] - grain.start[0]) + turned
        ux, uy = math.cos(ahead), math.sin(ahead)
        half = ((end[0] - start[0]) * ux + (end[1] - start[1]) * uy) / 2
        x, y = midpoint(start, end)
        return Grain((x - half * ux, y - half * uy), (x + half * ux, y + half * uy))


def _crossed_dart(dart: Dart, before: Affine, behind: Affine, middle: Point) -> Dart:
    """A dart whose mouth was opened or closed: redrawn about its mouth's middle, with the stand-off it had."""
    if dart.aim is None:
        return replace(dart, tip=midpoint(before.point(dart.tip), behind.point(dart.tip)))
    aim = midpoint(before.point(dart.aim), behind.point(dart.aim))
    stand_off, reach = distance_mm(dart.tip, dart.aim), distance_mm(aim, middle)
    share = min(stand_off / reach, 1.0) if reach > 0 else 0.0
    tip = (aim[0] + (middle[0] - aim[0]) * share, aim[1] + (middle[1] - aim[1]) * share)
    return replace(dart, tip=tip, aim=aim)


def _middle(places: Iterable[Point]) -> Point:
    """The middle of the different places among those given: two parts that move alike count once."""
    different: list[Point] = []
    for place in places:
        if all(distance_mm(place, other) > SAME_POINT_MM for other in different):
            different.append(place)
    x, y = zip(*different, strict=True)
    return (sum(x) / len(x), sum(y) / len(y))
