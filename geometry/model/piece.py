"""A pattern piece: a closed counter-clockwise ring of named edges, and what is marked on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from geometry.affine import Affine, Point, Points, distance_mm, frozen_points, midpoint, unit_vector
from geometry.curves import polyline
from geometry.errors import MissingPartError
from geometry.model.dart import Dart, DoubleDart
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, InnerLine, Label, Mark, MarkKind, Notch
from geometry.tolerance import FLOAT_MM

Part = TypeVar("Part", Edge, Dart, Notch, Mark, InnerLine)


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece in one size. Its edges are the stitching line; the cutting line is derived from their allowances.

    Attributes:
        name: What it is called, unique in its pattern, for example "front bodice".
        edges: Ring of edges, counter-clockwise; each starts where the one before ends.
        size: Name of the size it was drawn or blended for, "" if none.
        quantity: How many to cut.
        material: What it is cut from, "" if nothing is said.
        fold: Id of the edge that lies on the fold, ``None`` for a whole piece.
        grain: The grain line, ``None`` if none is known.
    """

    name: str
    edges: tuple[Edge, ...]
    size: str = ""
    quantity: int = 1
    material: str = ""
    fold: str | None = None
    grain: Grain | None = None
    darts: tuple[Dart, ...] = ()
    double_darts: tuple[DoubleDart, ...] = ()
    notches: tuple[Notch, ...] = ()
    inner_lines: tuple[InnerLine, ...] = ()
    marks: tuple[Mark, ...] = ()
    labels: tuple[Label, ...] = ()

    @property
    def outline(self) -> Points:
        """The stitching line as one ring of shape (n, 2), its first point not repeated."""
        return frozen_points(np.vstack([edge.points[:-1] for edge in self.edges]))

    @property
    def area_mm2(self) -> float:
        """Area inside the stitching line, darts open."""
        return polyline.signed_area_mm2(self.outline)

    @property
    def bounds_mm(self) -> tuple[float, float, float, float]:
        """Smallest x, smallest y, largest x, largest y of the stitching line."""
        low, high = self.outline.min(axis=0), self.outline.max(axis=0)
        return (float(low[0]), float(low[1]), float(high[0]), float(high[1]))

    def edge(self, edge_id: str) -> Edge:
        """The edge of that id; ``MissingPartError`` if there is none."""
        return self._part("edge", self.edges, edge_id)

    def edges_with_role(self, role: EdgeRole) -> tuple[Edge, ...]:
        """Its edges of that role, in ring order; may be empty."""
        return tuple(edge for edge in self.edges if edge.role is role)

    def dart(self, dart_id: str) -> Dart:
        """The dart of that id; ``MissingPartError`` if there is none."""
        return self._part("dart", self.darts, dart_id)

    def notch(self, notch_id: str) -> Notch:
        """The notch of that id; ``MissingPartError`` if there is none."""
        return self._part("notch", self.notches, notch_id)

    def landmark(self, name: str) -> Point:
        """Where the landmark of that name is; ``MissingPartError`` if there is none."""
        landmarks = tuple(mark for mark in self.marks if mark.kind is MarkKind.LANDMARK)
        return self._part("landmark", landmarks, name).at

    def nearest_edge(self, place: Point) -> tuple[Edge, float, float]:
        """The edge nearest to a place, the length along it of its nearest point, and how far off that is (mm).

        Of edges equally near the first in ring order is taken.
        """
        best = self.edges[0], *polyline.nearest(self.edges[0].points, place)
        for edge in self.edges[1:]:
            if best[2] <= FLOAT_MM:
                break
            at_mm, gap_mm = polyline.nearest(edge.points, place)
            if gap_mm < best[2]:
                best = edge, at_mm, gap_mm
        return best

    def darts_on(self, edge_id: str) -> tuple[Dart, ...]:
        """The darts that open on an edge, in the order met along it."""
        return tuple(sorted((d for d in self.darts if d.edge == edge_id), key=lambda dart: dart.from_mm))

    def notches_on(self, edge_id: str) -> tuple[Notch, ...]:
        """The notches of an edge, in the order met along it."""
        return tuple(sorted((n for n in self.notches if n.edge == edge_id), key=lambda notch: notch.at_mm))

    def mouth(self, dart: Dart) -> tuple[Point, Point]:
        """The two points of a dart's mouth, in the order met along its edge."""
        edge = self.edge(dart.edge)
        return edge.point_at(dart.from_mm), edge.point_at(dart.to_mm)

    def covers(self, dart: Dart, place: Point) -> bool:
        """Whether a place lies within a dart: between its legs, and beyond the straight line across its mouth."""
        corners = (*self.mouth(dart), dart.tip)
        turns = [
            (bx - ax) * (place[1] - ay) - (by - ay) * (place[0] - ax)
            for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True)
        ]
        return all(turn > 0 for turn in turns) or all(turn < 0 for turn in turns)

    def legs_mm(self, dart: Dart) -> tuple[float, float]:
        """The lengths of a dart's two legs, in the order of its mouth points."""
        a, b = self.mouth(dart)
        return distance_mm(a, dart.tip), distance_mm(b, dart.tip)

    def intake_mm(self, dart: Dart) -> float:
        """Width of a dart's mouth, straight from leg to leg."""
        return distance_mm(*self.mouth(dart))

    def aim_missed_mm(self, dart: Dart) -> float:
        """How far the line through the middle of a dart's mouth and its tip passes the point it aims at; 0 without."""
        if dart.aim is None:
            return 0.0
        ux, uy = unit_vector(midpoint(*self.mouth(dart)), dart.tip)
        return abs((dart.aim[0] - dart.tip[0]) * uy - (dart.aim[1] - dart.tip[1]) * ux)

    def sewn_length_mm(self, edge_id: str) -> float:
        """Length of an edge with its darts folded out."""
        return self.edge(edge_id).length_mm - sum(
            dart.to_mm - dart.from_mm for dart in self.darts if dart.edge == edge_id
        )

    def sewn_station_mm(self, edge_id: str, at_mm: float) -> float:
        """How far along an edge a place is once its darts are folded; inside a mouth, where the mouth closes."""
        folded = sum(min(max(at_mm - dart.from_mm, 0.0), dart.to_mm - dart.from_mm) for dart in self.darts_on(edge_id))
        return at_mm - folded

    def notch_point(self, notch: Notch) -> Point:
        """Where a notch lies on the stitching line."""
        return self.edge(notch.edge).point_at(notch.at_mm)

    def moved(self, motion: Affine) -> Piece:
        """The whole piece carried by a motion that keeps lengths; a mirroring one would need its ring reversed."""
        if motion.is_identity:
            return self
        return replace(
            self,
            edges=tuple(edge.moved(motion) for edge in self.edges),
            grain=self.grain.moved(motion) if self.grain else None,
            darts=tuple(moved_dart(dart, motion) for dart in self.darts),
            double_darts=tuple(moved_double_dart(dart, motion) for dart in self.double_darts),
            inner_lines=tuple(
                InnerLine(line.id, motion.points(line.points), line.kind, line.closed) for line in self.inner_lines
            ),
            marks=tuple(Mark(mark.id, motion.point(mark.at), mark.kind) for mark in self.marks),
            labels=tuple(Label(label.text, motion.point(label.at)) for label in self.labels),
        )

    def _part(self, kind: str, parts: Iterable[Part], part_id: str) -> Part:
        known = tuple(parts)
        for part in known:
            if part.id == part_id:
                return part
        names = ", ".join(f'"{part.id}"' for part in known) or "none"
        raise MissingPartError(
            f'The piece "{self.name}" has no {kind} called "{part_id}"; it has {names}.', code=f"no-such-{kind}"
        )


def moved_dart(dart: Dart, motion: Affine) -> Dart:
    """A dart whose tip and aim are carried by a motion; its mouth travels with its edge."""
    return replace(dart, tip=motion.point(dart.tip), aim=None if dart.aim is None else motion.point(dart.aim))


def moved_double_dart(dart: DoubleDart, motion: Affine) -> DoubleDart:
    """A dart with two tips carried by a motion."""
    corners = (motion.point(corner) for corner in (dart.tip_start, dart.tip_end, dart.left, dart.right))
    return DoubleDart(dart.id, *corners)
