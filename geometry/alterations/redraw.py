"""Redraw: pull places of the outline to where they should be; what lies between follows evenly."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import ClassVar

import numpy as np

from geometry.affine import Points, frozen_points
from geometry.alterations.anchors import Anchor, On, resolve
from geometry.alterations.line_ends import lines_drawn_anew
from geometry.alterations.one_piece import Altered, outcome_on
from geometry.alterations.redrawn_edges import Drawn, with_edges
from geometry.alterations.step import OnOnePiece, Outcome
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM, SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class Pull:
    """A place on the outline and how far it moves; (0, 0) holds it where it is."""

    at: Anchor
    dx_mm: float = 0.0
    dy_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Redraw(OnOnePiece):
    """Move places of the outline; between two of them every point moves in proportion to its length along the edge.

    A straight edge between two pulled places stays straight, a curve keeps its character. The ring between the last
    and the first pull, in ring order, is left alone if both hold still.

    Attributes:
        piece: Name of the piece.
        pulls: The places, in any order; at least two, so that it is said what is held.
        amount_mm: How far the largest pull goes; changing it scales them all.
    """

    kind: ClassVar[str] = "redraw"

    piece: str
    pulls: tuple[Pull, ...]

    @property
    def amount_mm(self) -> float:
        """How far the largest pull goes."""
        return max((float(np.hypot(pull.dx_mm, pull.dy_mm)) for pull in self.pulls), default=0.0)

    def with_amount_mm(self, amount_mm: float) -> Redraw:
        """All pulls scaled so that the largest goes that far; a negative amount pulls the other way."""
        old = self.amount_mm
        if old == 0.0:
            return self
        share = amount_mm / old
        scaled = (replace(pull, dx_mm=pull.dx_mm * share, dy_mm=pull.dy_mm * share) for pull in self.pulls)
        return replace(self, pulls=tuple(scaled))

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the piece redrawn."""
        return outcome_on(pattern, self.piece, self, _altered)


def _altered(piece: Piece, step: Redraw) -> Altered:
    return Altered(redrawn(piece, step.pulls))


def redrawn(piece: Piece, pulls: tuple[Pull, ...]) -> Piece:
    """The piece with places of its outline moved, the ring between them in proportion.

    Marks inside stay where they are; notches, dart mouths and marks on the outline go with their edge, a dart's tip
    stays. Lines across that are drawn up to a redrawn edge end as far from it as before. Moving by nothing gives the
    very same object.

    Raises:
        StepError: fewer than two places, or a place that is not on the outline.
    """
    if len(pulls) < 2:
        raise StepError(f'To redraw "{piece.name}", say at least one place that moves and one that stays.')
    if all((pull.dx_mm, pull.dy_mm) == (0.0, 0.0) for pull in pulls):
        return piece
    starts = np.concatenate([[0.0], np.cumsum([edge.length_mm for edge in piece.edges])])
    placed = sorted((_ring_station(piece, starts, pull.at), (pull.dx_mm, pull.dy_mm)) for pull in pulls)
    stations = np.array([station for station, _ in placed])
    if np.diff(stations).min() <= SAME_POINT_MM:
        raise StepError(f'Two places to redraw on "{piece.name}" are the same; choose places apart.')
    vectors = np.array([vector for _, vector in placed])
    drawn: dict[str, Drawn] = {}
    chains = []
    for edge, start in zip(piece.edges, starts, strict=False):
        before = _with_points_at(edge.points, stations - start)
        moves = _moves(start + polyline.stations_mm(before), stations, vectors, float(starts[-1]))
        if np.abs(moves).max() > 0.0:
            after = frozen_points(before + moves)
            stations_mm = polyline.stations_mm(before), polyline.stations_mm(after)
            drawn[edge.id] = Drawn(after, partial(_station_mm, *stations_mm))
            chains.append((edge.points, after))
    lines = lines_drawn_anew(piece.inner_lines, tuple(chains))
    return replace(with_edges(piece, drawn), inner_lines=lines)


def _station_mm(before_mm: Points, after_mm: Points, at_mm: float) -> float:
    return float(np.interp(at_mm, before_mm, after_mm))


def _ring_station(piece: Piece, starts: Points, anchor: Anchor) -> float:
    """Where on the ring a place is, mm from the start of the first edge."""
    place = resolve(piece, anchor)
    if anchor.on is On.EDGE:
        edge = piece.edge(anchor.name)
        at_mm = anchor.share * edge.length_mm
    else:
        edge, at_mm, gap_mm = piece.nearest_edge(place)
        if gap_mm > ON_EDGE_MM:
            raise StepError(
                f'A place to redraw on "{piece.name}" is {gap_mm:.0f} mm off its outline; choose one on an edge.'
            )
    station = float(starts[[each.id for each in piece.edges].index(edge.id)]) + at_mm
    return 0.0 if abs(station - float(starts[-1])) <= SAME_POINT_MM else station


def _with_points_at(chain: Points, extra_mm: Points) -> Points:
    """The chain with points put in where pulls take hold, so that a straight edge can bend there."""
    total = polyline.length_mm(chain)
    known = polyline.stations_mm(chain)
    new = [at for at in extra_mm.tolist() if SAME_POINT_MM < at < total - SAME_POINT_MM]
    new = [at for at in new if np.abs(known - at).min() > SAME_POINT_MM]
    if not new:
        return chain
    stations = np.sort(np.concatenate([known, new]))
    return frozen_points(
        np.column_stack([np.interp(stations, known, chain[:, 0]), np.interp(stations, known, chain[:, 1])])
    )


def _moves(at_mm: Points, stations: Points, vectors: Points, ring_mm: float) -> Points:
    """Vectors at lengths along the ring, interpolated between the pulls all the way round."""
    around = np.concatenate([[stations[-1] - ring_mm], stations, [stations[0] + ring_mm]])
    turned = np.vstack([vectors[-1], vectors, vectors[0]])
    return np.column_stack([np.interp(at_mm, around, turned[:, 0]), np.interp(at_mm, around, turned[:, 1])])
