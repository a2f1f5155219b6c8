"""A nest as a drawing of its sample size with a rule number at every graded point, and the table of rules."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from editor.formats.drawing import Block, Drawing, Shape
from editor.formats.grade_rules import RuleTable
from editor.formats.pattern_to_drawing import drawing_of
from geometry.affine import Point, Points, as_point, frozen_points
from geometry.allowance import cutting_chains
from geometry.curves import polyline
from geometry.errors import PatternError
from geometry.model.marks import MarkKind
from geometry.model.pattern import Nest
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM

_DIGITS = 4
"""Steps are told apart to the last digit the table is written with."""


_CORNER, _CURVE = "2", "3"
"""Layers of turn points and curve points."""

_SAME_SHARE = 1e-7
"""Shares nearer than this are one: a ten-thousandth of a millimetre on an edge of a metre."""


@dataclass(frozen=True, slots=True)
class GradedPoint:
    """A place on the sample size's piece and where it is in every size."""

    layer: str
    places: tuple[Point, ...]


def graded_drawing(nest: Nest) -> tuple[Drawing, RuleTable]:
    """The sample size drawn with rule numbers ("# 12" at the point), and the rules that make the other sizes of it.

    Raises:
        PatternError: a piece is built differently in another size, so that its points have no partners there.
    """
    sample = nest.sizes.index(nest.sample_size)
    numbers: dict[tuple[Point, ...], int] = {}
    pieces, texts = [], []
    for piece in nest.sample.pieces:
        sizes = with_matching_points(tuple(_like(piece, pattern.piece(piece.name)) for pattern in nest.patterns))
        pieces.append(sizes[sample])
        texts.append(tuple(_rule_shapes(graded_points(sizes, sample), sample, numbers)))
    drawing = drawing_of(Nest(nest.name, (replace(nest.sample, pieces=tuple(pieces)),), nest.sample_size))
    blocks = tuple(
        Block(block.name, (*block.shapes, *shapes)) for block, shapes in zip(drawing.blocks, texts, strict=True)
    )
    table = RuleTable(nest.sizes, nest.sample_size, {number: steps for steps, number in numbers.items()}, nest.name)
    return replace(drawing, blocks=blocks), table


def _like(piece: Piece, other: Piece) -> Piece:
    for what, mine, theirs in (
        ("edges", [edge.id for edge in piece.edges], [edge.id for edge in other.edges]),
        ("darts", [(dart.id, dart.edge) for dart in piece.darts], [(dart.id, dart.edge) for dart in other.darts]),
        ("notches", [notch.id for notch in piece.notches], [notch.id for notch in other.notches]),
        ("marks", [mark.id for mark in piece.marks], [mark.id for mark in other.marks]),
        ("inner lines", [line.id for line in piece.inner_lines], [line.id for line in other.inner_lines]),
    ):
        if mine != theirs:
            raise PatternError(
                f'The piece "{piece.name}" has other {what} in size {other.size} than in size {piece.size}, so no '
                "rules lead from one to the other; export all sizes as drawings instead."
            )
    return other


def with_matching_points(sizes: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """The same pieces with points put into their edges, until each has one where any other size has one.

    Nothing moves: the points are put on the chains, at the same share between corners and dart mouths.
    """
    edges: list[list[Points]] = [[] for _ in sizes]
    for index, edge in enumerate(sizes[0].edges):
        stops = [_stops(piece, edge.id) for piece in sizes]
        known = [polyline.stations_mm(piece.edges[index].points) for piece in sizes]
        shares = _all_shares(known, stops)
        for number, piece in enumerate(sizes):
            own = stops[number]
            spans = zip(shares, own, own[1:], strict=False)
            stations = np.concatenate([[0.0], *(low + share[1:] * (high - low) for share, low, high in spans)])
            chain = piece.edges[index].points
            points = [np.interp(stations, known[number], chain[:, axis]) for axis in (0, 1)]
            edges[number].append(frozen_points(np.column_stack(points)))
    return tuple(
        replace(piece, edges=tuple(replace(edge, points=chain) for edge, chain in zip(piece.edges, own, strict=True)))
        for piece, own in zip(sizes, edges, strict=True)
    )


def _stops(piece: Piece, edge_id: str) -> list[float]:
    mouths = (stop for dart in piece.darts_on(edge_id) for stop in (dart.from_mm, dart.to_mm))
    return [0.0, *mouths, piece.edge(edge_id).length_mm]


def _all_shares(known: list[Points], stops: list[list[float]]) -> list[Points]:
    """For every stretch between stops, the shares at which any size has a point."""
    found = []
    for low in range(len(stops[0]) - 1):
        shares: list[float] = [0.0, 1.0]
        for stations, own in zip(known, stops, strict=True):
            start, end = own[low], own[low + 1]
            inside = stations[(stations > start + SAME_POINT_MM) & (stations < end - SAME_POINT_MM)]
            shares += ((inside - start) / (end - start)).tolist() if end > start else []
        ordered = np.unique(np.array(shares))
        kept = np.concatenate([[True], np.diff(ordered) > _SAME_SHARE])
        found.append(np.append(ordered[kept][ordered[kept] < 1.0 - _SAME_SHARE], 1.0))
    return found


def graded_points(sizes: tuple[Piece, ...], sample: int) -> Iterator[GradedPoint]:
    """Every point of a piece with its place in each size; of two in one place on like layers the first counts."""
    seen: set[tuple[bool, float, float]] = set()
    for point in _all_points(sizes):
        x, y = point.places[sample]
        key = (point.layer in (_CORNER, _CURVE), round(x, 3), round(y, 3))
        if key not in seen:
            seen.add(key)
            yield point


def _all_points(sizes: tuple[Piece, ...]) -> Iterator[GradedPoint]:
    for chains in zip(*([edge.points for edge in piece.edges] for piece in sizes), strict=True):
        for index, places in enumerate(zip(*chains, strict=True)):
            layer = _CORNER if index in (0, len(chains[0]) - 1) else _CURVE
            yield GradedPoint(layer, tuple(map(as_point, places)))
    for corners in zip(*([chain[0] for chain in cutting_chains(piece)] for piece in sizes), strict=True):
        yield GradedPoint(_CORNER, tuple(map(as_point, corners)))
    for rows in zip(*(list(_places_inside(piece)) for piece in sizes), strict=True):
        yield GradedPoint(rows[0][0], tuple(place for _, place in rows))


def _places_inside(piece: Piece) -> Iterator[tuple[str, Point]]:
    """Layer and place of notches, tips, holes, landmarks, inner lines and grain, in the same order in every size."""
    yield from (("4", piece.notch_point(notch)) for notch in piece.notches)
    yield from (("8", dart.tip) for dart in piece.darts)
    for dart in piece.double_darts:
        yield from (("8", corner) for corner in (dart.tip_start, dart.tip_end, dart.left, dart.right))
    yield from (("13", mark.at) for mark in piece.marks if mark.kind is not MarkKind.CURVE_POINT)
    yield from (("8", as_point(point)) for line in piece.inner_lines for point in line.points)
    if piece.grain is not None:
        yield from (("7", piece.grain.start), ("7", piece.grain.end))


def _rule_shapes(points: Iterator[GradedPoint], sample: int, numbers: dict[tuple[Point, ...], int]) -> Iterator[Shape]:
    for point in points:
        x, y = point.places[sample]
        steps = tuple((round(px - x, _DIGITS) + 0.0, round(py - y, _DIGITS) + 0.0) for px, py in point.places)
        number = numbers.setdefault(steps, len(numbers) + 1)
        place = frozen_points([(x, y)])
        yield Shape(point.layer, "text", place, text=f"# {number}", entity="TEXT")
