"""Folds and grain lines of traces: those that words say, as suggestions; those that are only likely, as guesses."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from editor.formats.clean_up import Kind
from editor.formats.import_report import ImportReport
from editor.formats.recognise_names import Names
from geometry import affine
from geometry.affine import Point, Points, as_point, frozen_points
from geometry.curves import polyline
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, InnerLine
from geometry.model.piece import Piece
from geometry.tolerance import STRAIGHT_MM

SQUARE_WITHIN_DEG = 4.0
"""Where cloth is folded, the edges that meet the fold leave it squarely, or a point arises when it is opened (common
practice, no source); a hand strays by so much."""

ALONG_WITHIN_DEG = 3.0
"""A line this nearly along the centre or fold was meant to be so (own choice)."""

SHORTEST_GRAIN_MM = 50.0
"""A shorter line cannot be laid along a thread well (own choice)."""

_DRAWN_SHARE = 0.6
_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)


def taken_folds(names: Names, ids: Sequence[str], chains: Sequence[Points], report: ImportReport) -> list[int]:
    """The edges said to lie on the fold, where that is taken."""
    return [
        edge
        for edge in names.folds
        if report.suggest(
            Kind.FOLD, f"{ids[edge]} on the fold, as written", _middle(chains[edge]), drawn=[chains[edge]]
        )
    ]


def with_likely_parts(piece: Piece, report: ImportReport) -> Piece:
    """The piece with the fold and grain that nothing says but its shape makes likely, where somebody takes them."""
    likely = None if piece.fold is not None else likely_fold(piece)
    if likely is not None:
        text = f"{likely.id} may be a mirror line: straight, square at both ends, the piece cut once"
        if report.suggest(Kind.FOLD, text, _middle(likely.points), drawn=[likely.points], guess=True):
            piece = replace(piece, fold=likely.id)
    if piece.grain is not None:
        return piece
    drawn = next(_drawn_grains(piece), None)
    line = Grain(as_point(drawn.points[0]), as_point(drawn.points[-1])) if drawn else likely_grain(piece)
    text = "a line that may be the grain" if drawn else f"grain along {_upright(piece).id}"
    ends = frozen_points([line.start, line.end])
    if not report.suggest(Kind.GRAIN, text, _middle(ends), drawn=[ends], guess=True):
        return piece
    left = tuple(other for other in piece.inner_lines if other is not drawn)
    return replace(piece, grain=line, inner_lines=left)


def likely_fold(piece: Piece) -> Edge | None:
    """The edge at which half a piece may be folded, ``None`` if there is none.

    Of a piece cut once it is its centre line if that is straight and square at both ends, else its only such edge.
    """
    if piece.quantity != 1:
        return None
    square = [edge for index, edge in enumerate(piece.edges) if edge.is_straight and _is_square(piece.edges, index)]
    centres = [edge for edge in square if edge.role in _CENTRES]
    unknown = [edge for edge in square if edge.role is EdgeRole.OTHER]
    return max(centres, key=lambda edge: edge.length_mm) if centres else unknown[0] if len(unknown) == 1 else None


def likely_grain(piece: Piece) -> Grain:
    """A line through the middle of a piece along its centre or fold, else along its longest straight edge."""
    ux, uy = affine.unit_vector(*(_upright(piece).points[row].tolist() for row in (0, -1)))
    x, y = piece.outline.mean(axis=0).tolist()
    reach = (piece.outline - (x, y)) @ np.array([ux, uy])
    low, high = (float(bound) * _DRAWN_SHARE for bound in (reach.min(), reach.max()))
    return Grain((x + ux * low, y + uy * low), (x + ux * high, y + uy * high))


def _upright(piece: Piece) -> Edge:
    straight = [edge for edge in piece.edges if edge.is_straight]
    centres = [edge for edge in piece.edges if edge.id == piece.fold or edge.role in _CENTRES]
    return max(centres or straight or list(piece.edges), key=lambda edge: edge.length_mm)


def _drawn_grains(piece: Piece) -> Iterator[InnerLine]:
    """Straight lines inside that run along the centre, fold or longest edge."""
    upright = _upright(piece)
    for line in piece.inner_lines:
        straight = polyline.offset_from_chord_mm(line.points) <= STRAIGHT_MM
        if not line.closed and straight and polyline.length_mm(line.points) >= SHORTEST_GRAIN_MM:
            turn_deg = _turn_deg(_chord(line.points), _chord(upright.points)) % 180.0
            if min(turn_deg, 180.0 - turn_deg) <= ALONG_WITHIN_DEG:
                yield line


def _is_square(edges: Sequence[Edge], index: int) -> bool:
    before, edge, after = edges[index - 1], edges[index], edges[(index + 1) % len(edges)]
    along = _chord(edge.points)
    arriving = polyline.direction_at(before.points, polyline.length_mm(before.points))
    leaving = polyline.direction_at(after.points, 0.0)
    turns = _turn_deg(arriving, along), _turn_deg(along, leaving)
    return all(abs(turn - 90.0) <= SQUARE_WITHIN_DEG for turn in turns)


def _chord(points: Points) -> Point:
    return affine.unit_vector(as_point(points[0]), as_point(points[-1]))


def _turn_deg(one: Point, other: Point) -> float:
    """The turn from one direction to another, counter-clockwise positive."""
    cross, dot = one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1]
    return float(np.degrees(np.arctan2(cross, dot)))


def _middle(chain: Points) -> Point:
    return polyline.point_at(chain, polyline.length_mm(chain) / 2)
