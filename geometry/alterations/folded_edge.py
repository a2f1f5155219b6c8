"""An edge with its darts folded shut, drawn anew as one line, and opened again."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from geometry.affine import IDENTITY, Affine, Point, Points, angle_between, as_point, distance_mm, frozen_points
from geometry.alterations.redrawn_edges import with_edge
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.errors import StepError
from geometry.model.dart import Dart
from geometry.model.edge import Edge
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM, SAME_POINT_MM

_LEG_REACH = 3.0
"""A leg may grow to this many times its length to meet the new line; own choice, far beyond any trueing."""


@dataclass(frozen=True, slots=True)
class FoldedEdge:
    """An edge as it lies with its darts folded shut, seen from its first stretch, which stays in place.

    Attributes:
        piece: The piece.
        edge: The edge, darts open.
        darts: Its darts, in order.
        motions: How each stretch between darts was moved to fold them; the first is the identity.
        chain: The folded edge. Where legs differ a short step leads from one to the other.
        starts_mm: Length along the folded chain where each stretch starts.
    """

    piece: Piece
    edge: Edge
    darts: tuple[Dart, ...]
    motions: tuple[Affine, ...]
    chain: Points
    starts_mm: tuple[float, ...]

    def folded_mm(self, at_mm: float) -> float:
        """Where a length along the open edge lies on the folded chain; inside a mouth, where the mouth closes."""
        index, low, _ = self._stretch(at_mm)
        return self.starts_mm[index] + max(at_mm - low, 0.0)

    def _stretch(self, at_mm: float) -> tuple[int, float, float]:
        """Number, start and end of the open stretch at a length; inside a mouth, of the one that follows."""
        spans = stretches(self.edge, self.darts)
        index = next((i for i, (_, high) in enumerate(spans) if at_mm <= high), len(spans) - 1)
        return index, *spans[index]

    def place(self, at_mm: float) -> Point:
        """The place on the folded chain of a length along it."""
        return polyline.point_at(self.chain, at_mm)


def stretches(edge: Edge, darts: tuple[Dart, ...]) -> tuple[tuple[float, float], ...]:
    """The lengths between which an edge runs from corner or dart to dart or corner."""
    stops = [0.0, *(stop for dart in darts for stop in (dart.from_mm, dart.to_mm)), edge.length_mm]
    return tuple(zip(stops[::2], stops[1::2], strict=True))


def fold(piece: Piece, edge_id: str) -> FoldedEdge:
    """An edge of a piece with its darts folded shut; ``MissingPartError`` if there is no such edge."""
    edge, darts = piece.edge(edge_id), piece.darts_on(edge_id)
    motions = [IDENTITY]
    for dart in darts:
        a, b = piece.mouth(dart)
        motions.append(Affine.turned(angle_between(dart.tip, b, a), dart.tip).then(motions[-1]))
    chain, starts = frozen_points(edge.points[:1]), []
    for motion, (low, high) in zip(motions, stretches(edge, darts), strict=True):
        part = motion.points(polyline.part_between(edge.points, low, high))
        gap_mm = distance_mm(as_point(chain[-1]), as_point(part[0]))
        starts.append(polyline.length_mm(chain) + (gap_mm if gap_mm > SAME_POINT_MM else 0.0))
        chain = polyline.joined((chain, part))
    return FoldedEdge(piece, edge, darts, tuple(motions), chain, tuple(starts))


def folded_parts(folded: FoldedEdge) -> list[Points]:
    """The stretches of a folded edge between its corners and darts, as they lie on the folded paper."""
    spans = stretches(folded.edge, folded.darts)
    return [
        motion.points(polyline.part_between(folded.edge.points, low, high))
        for motion, (low, high) in zip(folded.motions, spans, strict=True)
    ]


def with_folded_part(
    folded: FoldedEdge, from_mm: float, to_mm: float, drawn: Points, *, corner_moves: bool = False
) -> Piece:
    """The piece with a part of a folded edge replaced by a line drawn on the folded paper, and opened again.

    The legs of the darts folded there are cut or taken on to the new line, so that they come out equally long. The
    rest of the edge stays to the last bit, and with it what lies there.

    Args:
        folded: The edge, folded.
        from_mm: Length along the folded chain where the new line starts.
        to_mm: Length along the folded chain where it ends.
        drawn: The new line from there to there, on the folded paper.
        corner_moves: Whether an end of the line that is an end of the edge may lie elsewhere than the old corner.

    Raises:
        StepError: the new line does not meet the legs of a dart it is drawn across.
    """
    edge, piece = folded.edge, folded.piece
    first, last = _stretch_at(folded, from_mm, after=True), _stretch_at(folded, to_mm, after=False)
    inner = folded.darts[first:last]
    pieces = _cut_at_legs(folded, first, inner, drawn)
    opened = [inverse(folded.motions[first + i]).points(part) for i, part in enumerate(pieces)]
    low, high = _open_mm(folded, from_mm, first), _open_mm(folded, to_mm, last)
    if not (corner_moves and low <= 0):
        opened[0] = with_end(opened[0], 0, edge.point_at(low) if low > 0 else edge.start)
    if not (corner_moves and high >= edge.length_mm):
        opened[-1] = with_end(opened[-1], -1, edge.point_at(high) if high < edge.length_mm else edge.end)
    return _put_together(piece, edge, (low, high), inner, opened)


def _put_together(
    piece: Piece, edge: Edge, span: tuple[float, float], inner: tuple[Dart, ...], opened: list[Points]
) -> Piece:
    low, high = span
    head = polyline.part_between(edge.points, 0.0, low) if low > 0 else opened[0][:1]
    chain, places = laid_end_to_end(opened, head)
    if high < edge.length_mm:
        chain = polyline.joined((chain, polyline.part_between(edge.points, high, edge.length_mm)))
    chain = polyline.without_doubled_points(chain)
    longer_mm = polyline.length_mm(chain) - edge.length_mm
    station = _stations(edge, span, inner, places, longer_mm)
    drawn = with_edge(piece, edge.id, frozen_points(chain), station)
    mouths = {
        dart.id: (before[1], after[0]) for dart, (before, after) in zip(inner, itertools.pairwise(places), strict=True)
    }
    darts = tuple(
        replace(dart, from_mm=mouths[dart.id][0], to_mm=mouths[dart.id][1]) if dart.id in mouths else dart
        for dart in drawn.darts
    )
    return replace(drawn, darts=darts)


def laid_end_to_end(
    opened: list[Points], head: Points | None = None
) -> tuple[Points, list[tuple[float, float, Points]]]:
    """Opened stretches behind one another, straight across the mouths between them.

    Returns:
        The whole chain, and for each stretch where it starts and ends along it (mm) and the stretch itself.
    """
    chain = opened[0][:1] if head is None else head
    places: list[tuple[float, float, Points]] = []
    for part in opened:
        start_mm = polyline.length_mm(chain)
        gap_mm = distance_mm(as_point(chain[-1]), as_point(part[0]))
        start_mm += gap_mm if gap_mm > SAME_POINT_MM else 0.0
        chain = polyline.joined((chain, part))
        places.append((start_mm, polyline.length_mm(chain), part))
    return chain, places


def _stations(
    edge: Edge,
    span: tuple[float, float],
    inner: tuple[Dart, ...],
    places: list[tuple[float, float, Points]],
    longer_mm: float,
) -> Callable[[float], float]:
    """Where what lay at a length of the old edge lies on the new one: at the nearest place of its own stretch."""
    low, high = span
    bounds = [low, *(stop for dart in inner for stop in (dart.from_mm, dart.to_mm)), high]
    spans = list(zip(bounds[::2], bounds[1::2], strict=True))

    def station(at_mm: float) -> float:
        if at_mm <= low:
            return at_mm
        if at_mm >= high:
            return at_mm + longer_mm
        for dart, (before, after) in zip(inner, itertools.pairwise(places), strict=True):
            if abs(at_mm - dart.from_mm) <= ON_EDGE_MM:
                return before[1]
            if abs(at_mm - dart.to_mm) <= ON_EDGE_MM:
                return after[0]
        index = next(i for i, (_, end) in enumerate(spans) if at_mm <= end)
        start_mm, _, part = places[index]
        return start_mm + polyline.nearest(part, edge.point_at(at_mm))[0]

    return station


def _stretch_at(folded: FoldedEdge, at_mm: float, *, after: bool) -> int:
    """The stretch of a length along the folded chain; at a closed dart, the one after or before it."""
    slack = -SAME_POINT_MM if after else SAME_POINT_MM
    return max(sum(start <= at_mm - slack for start in folded.starts_mm[1:]), 0)


def _open_mm(folded: FoldedEdge, at_mm: float, stretch: int) -> float:
    low, high = stretches(folded.edge, folded.darts)[stretch]
    return min(max(low + at_mm - folded.starts_mm[stretch], low), high)


def _cut_at_legs(folded: FoldedEdge, first: int, inner: tuple[Dart, ...], drawn: Points) -> list[Points]:
    pieces, rest = [], drawn
    for number, dart in enumerate(inner):
        motion = folded.motions[first + number]
        tip, leg = motion.point(dart.tip), motion.point(folded.piece.mouth(dart)[0])
        far = tuple(t + (m - t) * _LEG_REACH for t, m in zip(tip, leg, strict=True))
        met = crossings(rest, frozen_points([tip, far]))
        if not met:
            raise StepError(
                f'The new line of the edge "{folded.edge.id}" on "{folded.piece.name}" does not meet the legs of the '
                f'dart "{dart.id}"; choose places further from it.'
            )
        cut = min(met, key=lambda crossing: distance_mm(crossing.at, leg))
        pieces.append(polyline.part_between(rest, 0.0, cut.first_mm))
        rest = polyline.part_between(rest, cut.first_mm, polyline.length_mm(rest))
    return [*pieces, rest]


def inverse(motion: Affine) -> Affine:
    """The motion back; for motions that keep lengths."""
    a, b, c, d = motion.a, motion.c, motion.b, motion.d
    return Affine(a, b, c, d, -(a * motion.e + b * motion.f), -(c * motion.e + d * motion.f))


def with_end(chain: Points, index: int, place: Point) -> Points:
    """The chain with its first (0) or last (-1) point put exactly on a place."""
    drawn = np.array(chain)
    drawn[index] = place
    return frozen_points(drawn)
