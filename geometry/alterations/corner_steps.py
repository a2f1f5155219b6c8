"""The corner two pieces make across a seam: drawn straight through, so that neither peak nor hollow shows."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from geometry.affine import Affine, Point, Points, angle_between, as_point, distance_mm, frozen_points
from geometry.alterations.edge_ends import End, away_from, free_mm, neighbour, with_end_at, with_start_drawn
from geometry.alterations.edge_steps import old_edges
from geometry.alterations.folded_edge import inverse
from geometry.alterations.step import Outcome, WithAmount, edge_changes
from geometry.alterations.trueing import DEFAULT_REACH_MM
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.curves.smooth import bridge
from geometry.errors import StepError
from geometry.model.edge import Edge
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import PARALLEL_RAD, SAME_POINT_MM

_LEAST_REACH_MM = 2.0
"""A blend shorter than this cannot be cut with scissors; own choice."""

_OWN_SHARE = 0.45
"""How much of an edge a blend may take where both its ends belong to the corner."""


_RUN_MM = 1.0
"""The new line runs straight for this far on either side of the seam, so that its angles add up exactly."""


@dataclass(frozen=True, slots=True)
class JoinCorner(WithAmount):
    """Lay two pieces together along their seam and draw the edge that crosses it in one smooth line.

    The angles the two edges make with the seam add up to 180 degrees afterwards. Both seam edges become shorter or
    longer by the same amount, unless the corner is kept; then only the crossing edges change.

    Attributes:
        piece: Name of one piece.
        edge: Id of its edge that runs on across the seam, for example the armhole or hem.
        at: The end of that edge at the seam.
        other_piece: Name of the piece it is sewn to; the same for a seam of a piece with itself.
        other_edge: Id of the edge that takes the line on.
        other_at: The end of that edge at the seam. The same end as ``at`` means that one of the two pieces is drawn
            mirrored; it is turned over to be laid against the other.
        amount_mm: How far the new line reaches on either side of the seam, at most to the next dart.
        keep_corner: Whether the line goes through the old corner.
    """

    kind: ClassVar[str] = "join-corner"

    piece: str
    edge: str
    at: End
    other_piece: str
    other_edge: str
    other_at: End
    amount_mm: float = DEFAULT_REACH_MM
    keep_corner: bool = False

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The pieces that meet at the corner."""
        return (self.piece,) if self.piece == self.other_piece else (self.piece, self.other_piece)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the corner straight through; the very same if it is, or if the reach is nothing."""
        first = _Side.of(pattern.piece(self.piece), self.edge, self.at)
        second = _Side.of(pattern.piece(self.other_piece), self.other_edge, self.other_at)
        if self.amount_mm < 0:
            raise StepError(f'The reach of the corner on "{self.piece}" cannot be below 0; give how far it is blended.')
        is_itself = first == second
        lay = _laid_on(first, second, mirrored=self.at is self.other_at)
        after = pattern
        if self.amount_mm > 0 and not _runs_through(first, second, lay):
            ours, theirs = _joined_line(first, second, lay, self)
            after = ours.drawn_into(after, first)
            after = after if is_itself else theirs.drawn_into(after, second)
        names = self.piece_names
        changes = tuple(change for name in names for change in edge_changes(pattern.piece(name), after.piece(name)))
        chalk = tuple(line for name in names for line in old_edges(pattern.piece(name), after.piece(name)))
        return Outcome(after, changes, (), chalk)


@dataclass(frozen=True, slots=True)
class _Side:
    """One piece at the corner: the edge that crosses the seam and the seam edge, both seen from the corner."""

    piece: Piece
    edge: Edge
    at: End
    seam: Edge

    @staticmethod
    def of(piece: Piece, edge_id: str, at: End) -> _Side:
        return _Side(piece, piece.edge(edge_id), at, neighbour(piece, edge_id, at))

    @property
    def crossing(self) -> Points:
        return away_from(self.edge, self.at)

    @property
    def corner(self) -> Point:
        return as_point(self.crossing[0])

    @property
    def along_seam(self) -> Point:
        return polyline.direction_at(away_from(self.seam, self.at.other), 0.0)

    def reach_mm(self, wanted_mm: float, *, is_alone: bool) -> float:
        """How far the new line can reach on this side."""
        room = free_mm(self.piece, self.edge, self.at) if is_alone else self.edge.length_mm * _OWN_SHARE
        reach = min(wanted_mm, room)
        if reach < _LEAST_REACH_MM:
            raise StepError(
                f'The edge "{self.edge.id}" of "{self.piece.name}" has only {reach:.0f} mm up to its next dart or end, '
                "too little for a smooth line across the seam."
            )
        return reach


@dataclass(frozen=True, slots=True)
class _Line:
    """The new line of one side, seen from the new corner, and how much shorter its seam edge gets."""

    points: Points
    reach_mm: float
    shorter_mm: float

    def drawn_into(self, pattern: Pattern, side: _Side) -> Pattern:
        piece = pattern.piece(side.piece.name)
        drawn = with_start_drawn(piece, piece.edge(side.edge.id), side.at, self.reach_mm, self.points)
        if self.shorter_mm:
            seam = drawn.edge(side.seam.id)
            if self.shorter_mm >= free_mm(drawn, seam, side.at.other) - SAME_POINT_MM:
                raise StepError(
                    f'A smooth line across the seam would cut the whole edge "{seam.id}" of "{piece.name}" away; give '
                    "a smaller reach or keep the corner."
                )
            drawn = with_end_at(drawn, seam, side.at.other, -self.shorter_mm, as_point(self.points[0]))
        return pattern.with_piece(drawn)


def _laid_on(first: _Side, second: _Side, *, mirrored: bool) -> Affine:
    """The motion that lays the second piece against the first: corners and seams on one another."""
    (x, y), (ux, uy) = second.corner, second.along_seam
    over = Affine.mirrored(second.corner, (x + ux, y + uy)) if mirrored else Affine()
    turned = over.then(Affine.turned(angle_between((0.0, 0.0), second.along_seam, first.along_seam), second.corner))
    return turned.then(Affine.moved(first.corner[0] - x, first.corner[1] - y))


def _headings(first: _Side, second: _Side, lay: Affine) -> tuple[Point, Point]:
    """Directions of travel into the corner on the first side and out of it on the second, laid together."""
    (ax, ay), out = polyline.direction_at(first.crossing, 0.0), polyline.direction_at(lay.points(second.crossing), 0.0)
    return (-ax, -ay), out


def _runs_through(first: _Side, second: _Side, lay: Affine) -> bool:
    return abs(angle_between((0.0, 0.0), *_headings(first, second, lay))) <= PARALLEL_RAD


def _joined_line(first: _Side, second: _Side, lay: Affine, step: JoinCorner) -> tuple[_Line, _Line]:
    is_alone = first.piece is not second.piece or first.edge is not second.edge or first == second
    ours = first.reach_mm(step.amount_mm, is_alone=is_alone)
    theirs = second.reach_mm(step.amount_mm, is_alone=is_alone)
    laid = lay.points(second.crossing)
    start, end = polyline.point_at(first.crossing, ours), polyline.point_at(laid, theirs)
    (hx, hy), arriving = polyline.direction_at(first.crossing, ours), polyline.direction_at(laid, theirs)
    heading = (-hx, -hy)
    if step.keep_corner:
        corner, through, shorter = first.corner, _middle_direction(*_headings(first, second, lay)), 0.0
    else:
        line = bridge(start, heading, end, arriving)
        at_mm, shorter = _met_seam(first, line, step.amount_mm)
        corner, through = polyline.point_at(line, at_mm), polyline.direction_at(line, at_mm)
    into = _run_in(start, heading, corner, through)
    out = _run_in(end, (-arriving[0], -arriving[1]), corner, (-through[0], -through[1]))
    their_points = np.array(inverse(lay).points(out))
    their_points[-1] = polyline.point_at(second.crossing, theirs)
    if step.keep_corner:
        their_points[0] = second.corner
    return _Line(into, ours, shorter), _Line(frozen_points(their_points), theirs, shorter)


def _run_in(start: Point, heading: Point, corner: Point, arriving: Point) -> Points:
    """A smooth line from a start to the corner, straight for its last bit; seen from the corner."""
    run_mm = min(_RUN_MM, distance_mm(start, corner) / 4)
    turn = (corner[0] - run_mm * arriving[0], corner[1] - run_mm * arriving[1])
    return frozen_points(np.vstack([[corner], bridge(start, heading, turn, arriving)[::-1]]))


def _middle_direction(a: Point, b: Point) -> Point:
    size = math.hypot(a[0] + b[0], a[1] + b[1])
    return ((a[0] + b[0]) / size, (a[1] + b[1]) / size) if size > 0 else a


def _met_seam(first: _Side, line: Points, reach_mm: float) -> tuple[float, float]:
    """Where a line crosses the seam taken straight on, as length along the line and distance inside the corner."""
    (x, y), (ux, uy) = first.corner, first.along_seam
    far = 2 * reach_mm
    seam = frozen_points([(x - far * ux, y - far * uy), (x + far * ux, y + far * uy)])
    met = crossings(line, seam)
    if not met:
        raise StepError(
            f'The edge "{first.edge.id}" of "{first.piece.name}" does not run on across the seam: it and its '
            "partner lie on one side of it there. Redraw it first, or keep the corner."
        )
    nearest = min(met, key=lambda crossing: abs(crossing.second_mm - far))
    return nearest.first_mm, nearest.second_mm - far
