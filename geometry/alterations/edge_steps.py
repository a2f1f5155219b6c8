"""Edges trued: straightened, blended, square to the centre, centre lines straight."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

import numpy as np

from geometry.affine import Point, Points, as_point, distance_mm, frozen_points, unit_vector
from geometry.alterations.anchors import Anchor
from geometry.alterations.edge_ends import End, away_from, free_mm, neighbour, with_start_drawn
from geometry.alterations.folded_edge import fold, with_folded_part
from geometry.alterations.mouths import station_on
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount, WithoutAmount, piece_outcome
from geometry.alterations.trueing import DEFAULT_REACH_MM, with_chains, with_straight_edge
from geometry.curves import polyline
from geometry.curves.smooth import bridged
from geometry.errors import StepError
from geometry.findings import Finding, Level
from geometry.model.edge import Edge
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import NOTABLE_MM, SAME_POINT_MM, STRAIGHT_MM

SQUARE_MM = 9.525
"""3/8 in: an edge runs square to a fold for at least 1/4 to 1/2 in, 6 to 12 mm (common practice, from memory)."""

_LEAST_SQUARE = 0.5
"""Cosine of 60 degrees: an edge that leaves the centre line more than 60 degrees off square was not meant square."""


@dataclass(frozen=True, slots=True)
class StraightenEdge(OnOnePiece, WithoutAmount):
    """Draw an edge straight between two places, with the darts between them folded shut.

    Attributes:
        piece: Name of the piece.
        edge: Id of the edge.
        start: A place on the edge.
        end: Another place on it.
    """

    kind: ClassVar[str] = "straighten-edge"

    piece: str
    edge: str
    start: Anchor
    end: Anchor

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the edge straight there; the very same if it is."""
        piece = pattern.piece(self.piece)
        edge, folded = piece.edge(self.edge), fold(piece, self.edge)
        low, high = sorted(folded.folded_mm(station_on(piece, edge, place)) for place in (self.start, self.end))
        if high - low <= SAME_POINT_MM:
            raise StepError(
                f'The two places on the edge "{edge.id}" of "{piece.name}" are the same; choose places apart.'
            )
        if polyline.offset_from_chord_mm(polyline.part_between(folded.chain, low, high)) <= SAME_POINT_MM:
            return piece_outcome(pattern, piece, piece)
        line = frozen_points([folded.place(low), folded.place(high)])
        return edge_outcome(pattern, piece, with_folded_part(folded, low, high, line))


@dataclass(frozen=True, slots=True)
class BlendEdge(OnOnePiece, WithAmount):
    """Smooth an edge round a place, with the darts near it folded shut.

    Attributes:
        piece: Name of the piece.
        edge: Id of the edge.
        at: The place; in a dart's mouth, where the dart closes.
        amount_mm: How far the blend reaches to either side, darts folded.
    """

    kind: ClassVar[str] = "blend-edge"

    piece: str
    edge: str
    at: Anchor
    amount_mm: float = DEFAULT_REACH_MM

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the edge smooth there; the very same if it is straight there or the reach is nothing."""
        piece = pattern.piece(self.piece)
        edge, folded = piece.edge(self.edge), fold(piece, self.edge)
        if self.amount_mm < 0:
            raise StepError(f'The reach of the blend on the edge "{edge.id}" of "{piece.name}" cannot be below 0.')
        middle = folded.folded_mm(station_on(piece, edge, self.at))
        low, high = max(middle - self.amount_mm, 0.0), min(middle + self.amount_mm, polyline.length_mm(folded.chain))
        part = polyline.part_between(folded.chain, low, high)
        if self.amount_mm == 0 or polyline.offset_from_chord_mm(part) <= SAME_POINT_MM:
            return piece_outcome(pattern, piece, piece)
        return edge_outcome(pattern, piece, with_folded_part(folded, low, high, bridged(folded.chain, low, high)))


@dataclass(frozen=True, slots=True)
class SquareCorner(OnOnePiece, WithAmount):
    """Let an edge leave the fold or centre line at a right angle, so that no peak or hollow shows when it is opened.

    Attributes:
        piece: Name of the piece.
        edge: Id of the edge that is redrawn; its neighbour at the corner, the centre line, stays.
        at: The end of the edge where it meets the centre line.
        amount_mm: How far it runs square before it is blended.
        reach_mm: How far from the corner the blend reaches; at least twice the amount, at most to the next dart.
    """

    kind: ClassVar[str] = "square-corner"

    piece: str
    edge: str
    at: End
    amount_mm: float = SQUARE_MM
    reach_mm: float = DEFAULT_REACH_MM

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the corner square; the very same if it is or the amount is nothing."""
        piece = pattern.piece(self.piece)
        if self.amount_mm < 0:
            raise StepError(f'The square part of the edge "{self.edge}" of "{piece.name}" cannot be below 0 mm long.')
        squared = with_square_corner(piece, self.edge, self.at, self.amount_mm, self.reach_mm)
        return edge_outcome(pattern, piece, squared)


class Hold(StrEnum):
    """What stays when a bent line is drawn straight."""

    ENDS = "ends"
    START = "start"
    END = "end"


@dataclass(frozen=True, slots=True)
class StraightenCentre(OnOnePiece, WithoutAmount):
    """Draw a centre front or back straight, and say how much width that moved.

    Attributes:
        piece: Name of the piece.
        edge: Id of the centre line.
        hold: What stays: both its ends, or the straight part at its start or end, along which it is then drawn; the
            neighbour at the other end is lengthened square to it or cut back.
    """

    kind: ClassVar[str] = "straighten-centre"

    piece: str
    edge: str
    hold: Hold = Hold.ENDS

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the line straight, and findings with the width moved; the very same if it is straight."""
        piece = pattern.piece(self.piece)
        edge = piece.edge(self.edge)
        if piece.darts_on(edge.id):
            raise StepError(
                f'A dart opens on "{edge.id}" of "{piece.name}", so it cannot be drawn straight; turn the dart to '
                "another edge first."
            )
        if polyline.offset_from_chord_mm(edge.points) <= SAME_POINT_MM:
            return piece_outcome(pattern, piece, piece)
        if self.hold is Hold.ENDS:
            after, findings = _straight_between_ends(piece, edge)
        else:
            after, findings = with_straight_edge(piece, edge.id, *_line_at(edge, self.hold))
        return edge_outcome(pattern, piece, after, findings=findings)


def edge_outcome(pattern: Pattern, before: Piece, after: Piece, *, findings: tuple[Finding, ...] = ()) -> Outcome:
    """The outcome of a step that redrew edges of one piece, with the edges as they were for drawing."""
    return piece_outcome(pattern, before, after, findings=findings, chalk=old_edges(before, after))


def old_edges(before: Piece, after: Piece) -> tuple[Points, ...]:
    """The chains, before, of the edges that are not the same any more."""
    return tuple(
        old.points for old, new in zip(before.edges, after.edges, strict=True) if old is not new and old != new
    )


def with_square_corner(piece: Piece, edge_id: str, end: End, amount_mm: float, reach_mm: float) -> Piece:
    """The piece with an edge that leaves its neighbour at one end at a right angle, and is blended into its old line.

    The corner and the neighbour stay. An edge that is square there already, or no amount, gives the very same piece.

    Raises:
        StepError: the edge is too short, a dart is too near, or the corner is far from square.
    """
    edge = piece.edge(edge_id)
    beside = away_from(neighbour(piece, edge_id, end), end.other)
    chain = away_from(edge, end)
    square = _square_to(polyline.direction_at(beside, 0.0), polyline.direction_at(chain, 0.0))
    if square is None:
        raise StepError(
            f'The edge "{edge_id}" of "{piece.name}" meets its neighbour far from square; square it where it meets the '
            "centre line."
        )
    corner = as_point(chain[0])
    turn = (corner[0] + square[0] * amount_mm, corner[1] + square[1] * amount_mm)
    part = polyline.part_between(chain, 0.0, amount_mm)
    if amount_mm == 0 or distance_mm(as_point(part[-1]), turn) <= SAME_POINT_MM:
        return piece
    reach_mm = min(max(reach_mm, 2 * amount_mm), free_mm(piece, edge, end))
    if reach_mm < 2 * amount_mm:
        raise StepError(
            f'The edge "{edge_id}" of "{piece.name}" has {reach_mm:.0f} mm up to its next dart or end, too little to '
            f"run {amount_mm:.0f} mm square and be blended; give a smaller amount."
        )
    rest = polyline.part_between(chain, reach_mm, edge.length_mm)
    from_turn = polyline.joined((frozen_points([corner, turn]), rest if len(rest) > 1 else chain[-1:]))
    joined_mm = amount_mm + distance_mm(turn, as_point(rest[0]))
    blend = bridged(from_turn, amount_mm, joined_mm)
    return with_start_drawn(piece, edge, end, reach_mm, polyline.joined((frozen_points([corner]), blend)))


def _square_to(line: Point, towards: Point) -> Point | None:
    """The unit direction square to a line on the side of another direction; ``None`` if that is far from square."""
    square = (-line[1], line[0])
    along = square[0] * towards[0] + square[1] * towards[1]
    if abs(along) < _LEAST_SQUARE:
        return None
    return square if along > 0 else (-square[0], -square[1])


def _straight_between_ends(piece: Piece, edge: Edge) -> tuple[Piece, tuple[Finding, ...]]:
    """The edge as the straight line between its corners; the finding gives the furthest it moved."""
    line = frozen_points([edge.start, edge.end])
    ahead = unit_vector(edge.start, edge.end)
    from_line = (edge.points - edge.points[0]) @ np.array([-ahead[1], ahead[0]])
    index = int(np.argmax(np.abs(from_line)))
    moved_mm = float(from_line[index])
    straight = with_chains(piece, {edge.id: line})
    if abs(moved_mm) <= NOTABLE_MM:
        return straight, ()
    verb = "wider" if moved_mm > 0 else "narrower"
    text = (
        f'On "{piece.name}" the edge "{edge.id}" was drawn straight; that made the piece up to {abs(moved_mm):.1f} mm '
        f"{verb} there. Take it up in a dart or a seam, or alter what is sewn to it."
    )
    place = as_point(edge.points[index])
    return straight, (Finding("edge-straightened", Level.NOTE, text, piece.name, place, abs(moved_mm), 0.0),)


def _line_at(edge: Edge, hold: Hold) -> tuple[Point, Point]:
    """A point and the direction, that of the edge, of the straight part at its start or end."""
    chain = away_from(edge, End.START if hold is Hold.START else End.END)
    last = 1
    while last + 1 < len(chain) and polyline.offset_from_chord_mm(chain[: last + 2]) <= STRAIGHT_MM:
        last += 1
    ahead = unit_vector(as_point(chain[0]), as_point(chain[last]))
    return as_point(chain[0]), ahead if hold is Hold.START else (-ahead[0], -ahead[1])
