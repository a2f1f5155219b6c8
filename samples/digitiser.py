"""The sample size as a digitiser leaves it: traced along the stitching lines, in inches, nothing but loose segments.

The tags are written by hand, since the point of the file is what is missing from it: no header, no layers, no
blocks, no polylines. The order and direction of the segments are mixed with a fixed seed, so that the file is the
same every time.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from editor.formats.pattern_to_drawing import naming_point
from geometry.affine import Affine, Point, Points, as_point, distance_mm, midpoint
from geometry.curves import polyline
from geometry.model.edge import Edge
from geometry.model.marks import MarkKind
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM
from geometry.units import MM_PER_INCH

SAMPLING_MM = 1.0
GAP_MM = 0.2
JITTER_MM = 0.05
TICK_MM = 6.0
TABLE_GAP_MM = 40.0
LINE_STEP_MM = 14.0

_SEED = 1847
_TEXT_HEIGHT_IN = 0.2

Segment = tuple[Point, Point]
Words = tuple[str, Point]


def trace_text(pattern: Pattern) -> str:
    """The file: every piece of a pattern side by side on the table."""
    hand = random.Random(_SEED)
    segments: list[Segment] = []
    words: list[Words] = []
    points: list[Point] = []
    for piece in _on_table(pattern):
        for stroke in _strokes(piece):
            segments.extend(_traced(stroke, hand))
        words.extend(_words(piece))
        points.extend(mark.at for mark in piece.marks)
    hand.shuffle(segments)
    lines = [end for segment in segments for end in _line_tags(segment, hand)]
    lines += [tag for place in points for tag in ("  0", "POINT", *_place_tags(place, 0))]
    lines += [tag for text, place in words for tag in _text_tags(text, place)]
    return "\n".join(["  0", "SECTION", "  2", "ENTITIES", *lines, "  0", "ENDSEC", "  0", "EOF", ""])


def _on_table(pattern: Pattern) -> Iterator[Piece]:
    """The pieces from left to right, their lower edges on one line."""
    left = 0.0
    for piece in pattern.pieces:
        x0, y0, x1, _ = piece.bounds_mm
        yield piece.moved(Affine.moved(left - x0, -y0))
        left += x1 - x0 + TABLE_GAP_MM


def _strokes(piece: Piece) -> Iterator[Points]:
    """What the hand traces without lifting: edges from corner to corner or dart, dart legs, lines, ticks at notches."""
    for edge in piece.edges:
        stops = [0.0, *(at for dart in piece.darts_on(edge.id) for at in (dart.from_mm, dart.to_mm)), edge.length_mm]
        for start, end in pairwise(stops):
            yield polyline.part_between(edge.points, start, end)
    for dart in piece.darts:
        for mouth in piece.mouth(dart):
            yield np.array([mouth, dart.tip])
    for line in piece.inner_lines:
        yield line.points
    if piece.grain is not None:
        yield np.array([piece.grain.start, piece.grain.end])
    for notch in piece.notches:
        yield _tick(piece.edge(notch.edge), notch.at_mm)


def _tick(edge: Edge, at_mm: float) -> Points:
    x, y = edge.point_at(at_mm)
    ux, uy = polyline.direction_at(edge.points, at_mm)
    return np.array([(x, y), (x - TICK_MM * uy, y + TICK_MM * ux)])


def _traced(stroke: Points, hand: random.Random) -> Iterator[Segment]:
    """A stroke sampled and unsteady, its ends exact; neighbouring segments end ``GAP_MM`` apart."""
    steps = max(1, round(polyline.length_mm(stroke) / SAMPLING_MM))
    whole_mm = polyline.length_mm(stroke)
    places = [polyline.point_at(stroke, whole_mm * step / steps) for step in range(steps + 1)]
    for index in range(1, steps):
        x, y = places[index]
        places[index] = (x + hand.uniform(-JITTER_MM, JITTER_MM), y + hand.uniform(-JITTER_MM, JITTER_MM))
    for (x0, y0), (x1, y1) in pairwise(places):
        size = math.hypot(x1 - x0, y1 - y0)
        dx, dy = (x1 - x0) / size * GAP_MM / 2, (y1 - y0) / size * GAP_MM / 2
        yield (x0 + dx, y0 + dy), (x1 - dx, y1 - dy)


def _words(piece: Piece) -> Iterator[Words]:
    """What was typed at the digitiser: what the piece is, and names at the things themselves."""
    x0, y0, x1, y1 = piece.bounds_mm
    fields = (f"Piece Name: {piece.name}", f"Size: {piece.size}", f"Quantity: {piece.quantity}")
    for row, text in enumerate(fields):
        yield text, (x0 + (x1 - x0) / 3, (y0 + y1) / 2 - row * LINE_STEP_MM)
    yield from ((edge.id, naming_point(piece, edge)) for edge in piece.edges)
    if piece.fold is not None:
        yield "fold", piece.edge(piece.fold).point_at(piece.edge(piece.fold).length_mm / 4)
    landmarks = [(mark.id, mark.at) for mark in piece.marks if mark.kind is MarkKind.LANDMARK]
    yield from landmarks
    yield from _notch_words(piece, [at for _, at in landmarks])
    yield from ((dart.id, dart.tip) for dart in piece.darts)
    yield from ((line.id, as_point(line.points[0])) for line in piece.inner_lines)
    if piece.grain is not None:
        yield "grain", midpoint(piece.grain.start, piece.grain.end)


def _notch_words(piece: Piece, taken: list[Point]) -> Iterator[Words]:
    """The words notches share with their partners, where no landmark is named at the same place."""
    for notch in piece.notches:
        place = piece.notch_point(notch)
        if notch.partner and all(distance_mm(place, other) > ON_EDGE_MM for other in taken):
            yield notch.partner, place


def _line_tags(segment: Segment, hand: random.Random) -> tuple[str, ...]:
    start, end = segment if hand.random() < 0.5 else segment[::-1]
    return ("  0", "LINE", *_place_tags(start, 0), *_place_tags(end, 1)[2:])


def _text_tags(text: str, place: Point) -> tuple[str, ...]:
    return ("  0", "TEXT", *_place_tags(place, 0), " 40", str(_TEXT_HEIGHT_IN), "  1", text)


def _place_tags(place: Point, number: int) -> tuple[str, ...]:
    """Layer 0 and a place in inches."""
    x, y = (f"{value / MM_PER_INCH:.5f}" for value in place)
    return ("  8", "0", f" 1{number}", x, f" 2{number}", y)
