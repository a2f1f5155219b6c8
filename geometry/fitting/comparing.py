"""Two patterns laid one over the other, and what differs: edge by edge, seam by seam, point by point."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from geometry.affine import Affine, Point, Points, angle_between, as_point, distance_mm
from geometry.alterations.anchors import Anchor, On, resolve
from geometry.alterations.handbook.panels import Panel
from geometry.checks.pairing import seams_of
from geometry.checks.walking import side_mm
from geometry.curves import polyline
from geometry.errors import PatternError
from geometry.fitting.finished import finished
from geometry.fitting.measures import Measure
from geometry.model.marks import MarkKind
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import NOTABLE_MM


@dataclass(frozen=True, slots=True)
class Dimension:
    """A distance to be drawn on the first piece: from a place of it to where that place is on the second.

    Attributes:
        what: What the places are: a corner, the tip of a dart, a landmark, the widest gap of an edge.
        start: On the first pattern.
        end: On the second, laid over the first.
    """

    what: str
    start: Point
    end: Point

    @property
    def length_mm(self) -> float:
        """How far the places are apart."""
        return distance_mm(self.start, self.end)


@dataclass(frozen=True, slots=True)
class LengthChange:
    """One length on both patterns; ``None`` where a pattern has no such thing."""

    what: str
    first_mm: float | None
    second_mm: float | None

    @property
    def change_mm(self) -> float | None:
        """The second less the first."""
        return None if self.first_mm is None or self.second_mm is None else self.second_mm - self.first_mm

    @property
    def is_notable(self) -> bool:
        """Whether the lengths differ by more than the width of a pencil line, or only one is there."""
        change = self.change_mm
        return change is None or abs(change) > NOTABLE_MM


@dataclass(frozen=True, slots=True)
class PieceComparison:
    """One piece of two patterns.

    Attributes:
        piece: Its name.
        over: The motion that lays the second over the first.
        edges: Sewn length of each edge.
        intakes: Width of each dart's mouth.
        dimensions: Places that lie apart by more than a pencil line, the widest first.
        turned_deg: How far the second's grain was turned against the first's on the table.
    """

    piece: str
    over: Affine
    edges: tuple[LengthChange, ...]
    intakes: tuple[LengthChange, ...]
    dimensions: tuple[Dimension, ...]
    turned_deg: float


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two patterns compared.

    Attributes:
        pieces: The pieces both have.
        seams: Ease of every seam, first side less second.
        finished: Finished measurements, by measure.
        only_first: Names of pieces that only the first has.
        only_second: Names of pieces that only the second has.
    """

    pieces: tuple[PieceComparison, ...]
    seams: tuple[LengthChange, ...]
    finished: tuple[tuple[Measure, LengthChange], ...]
    only_first: tuple[str, ...]
    only_second: tuple[str, ...]


def compare(first: Pattern, second: Pattern, *, at: dict[str, Anchor] | None = None) -> Comparison:
    """What differs between two patterns, each piece laid over its like by its grain and one point.

    ``at`` gives the point for some pieces; the others lie on the lower corner of their centre line, else on the
    corner where their first edge starts.

    Raises:
        PatternError: a point is not on both pieces.
    """
    names = [piece.name for piece in first.pieces]
    others = [piece.name for piece in second.pieces]
    pieces = tuple(
        _compared(piece, second.piece(piece.name), (at or {}).get(piece.name))
        for piece in first.pieces
        if piece.name in others
    )
    made = finished(first), finished(second)
    measures = [measure for measure in Measure if any(each.mm(measure) is not None for each in made)]
    return Comparison(
        pieces,
        tuple(_seams(first, second)),
        tuple((each, LengthChange(each.value, made[0].mm(each), made[1].mm(each))) for each in measures),
        tuple(name for name in names if name not in others),
        tuple(name for name in others if name not in names),
    )


def laid_over(first: Piece, second: Piece, at: Anchor | None = None) -> Affine:
    """The motion that lays a piece over another: grain parallel, the point of the anchor on itself."""
    anchor = at if at is not None else default_anchor(first)
    here, there = resolve(first, anchor), resolve(second, anchor)
    turn = Affine.turned(_turn_rad(first, second), there)
    return turn.then(Affine.moved(here[0] - there[0], here[1] - there[1]))


def _turn_rad(first: Piece, second: Piece) -> float:
    if first.grain is None or second.grain is None:
        return 0.0
    own, other = ((g.end[0] - g.start[0], g.end[1] - g.start[1]) for g in (first.grain, second.grain))
    return angle_between((0.0, 0.0), other, own)


def default_anchor(piece: Piece) -> Anchor:
    """Where a piece lies on its like if nothing is said: the lower end of its centre line, else its first corner."""
    centres = [piece.edge(piece.fold)] if piece.fold is not None else []
    centres += [edge for edge in piece.edges if edge.role.value.startswith("centre")]
    edge = centres[0] if centres else piece.edges[0]
    up = Panel(piece).frame.up
    is_rising = (edge.end[0] - edge.start[0]) * up[0] + (edge.end[1] - edge.start[1]) * up[1] > 0
    return Anchor(On.EDGE, edge.id, 0.0 if is_rising or not centres else 1.0)


def _compared(first: Piece, second: Piece, at: Anchor | None) -> PieceComparison:
    over = laid_over(first, second, at)
    laid = second.moved(over)
    return PieceComparison(
        first.name,
        over,
        tuple(
            _changes(
                {edge.id: first.sewn_length_mm(edge.id) for edge in first.edges},
                {edge.id: second.sewn_length_mm(edge.id) for edge in second.edges},
            )
        ),
        tuple(
            _changes(
                {dart.id: first.intake_mm(dart) for dart in first.darts},
                {dart.id: second.intake_mm(dart) for dart in second.darts},
            )
        ),
        _dimensions(first, laid),
        math.degrees(_turn_rad(first, second)),
    )


def _changes(first: dict[str, float], second: dict[str, float]) -> Iterable[LengthChange]:
    names = [*first, *(name for name in second if name not in first)]
    return (LengthChange(name, first.get(name), second.get(name)) for name in names)


def _dimensions(first: Piece, laid: Piece) -> tuple[Dimension, ...]:
    """Corners, tips and landmarks that moved, and where an edge lies furthest from what it was."""
    own, other = _named_places(first), _named_places(laid)
    found = [Dimension(what, own[what], other[what]) for what in own if what in other]
    known = {edge.id for edge in laid.edges}
    found += [_widest_gap(edge.id, edge.points, laid.edge(edge.id).points) for edge in first.edges if edge.id in known]
    worth = [each for each in found if each.length_mm > NOTABLE_MM]
    return tuple(sorted(worth, key=lambda each: -each.length_mm))


def _named_places(piece: Piece) -> dict[str, Point]:
    places = {
        f"corner of {piece.edges[number - 1].id} and {edge.id}": edge.start for number, edge in enumerate(piece.edges)
    }
    places |= {f"tip of the {dart.id}": dart.tip for dart in piece.darts}
    places |= {mark.id: mark.at for mark in piece.marks if mark.kind is MarkKind.LANDMARK}
    return places | {f"{notch.id} notch": piece.notch_point(notch) for notch in piece.notches}


def _widest_gap(name: str, first: Points, laid: Points) -> Dimension:
    """Where an edge lies furthest from the other's edge of that name, square to it."""
    gaps = polyline.distances_mm(laid, first)
    place = as_point(first[int(np.argmax(gaps))])
    at_mm, _ = polyline.nearest(laid, place)
    return Dimension(f"widest gap of {name}", place, polyline.point_at(laid, at_mm))


def _seams(first: Pattern, second: Pattern) -> Iterable[LengthChange]:
    known = (_eases(pattern) for pattern in (first, second))
    return _changes(*known)


def _eases(pattern: Pattern) -> dict[str, float]:
    seams = seams_of(pattern)
    eases = {}
    for seam in seams:
        try:
            first, second = seam.sides
            eases[seam.id] = side_mm(pattern, first) - side_mm(pattern, second)
        except PatternError:
            continue
    return eases
