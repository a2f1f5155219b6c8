"""The other sizes made from the sample size: every point with a rule number moved by its rule."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from editor.formats.grade_rules import RuleTable
from geometry.affine import Point, Points, as_point, frozen_points
from geometry.curves import polyline
from geometry.model.dart import Dart, DoubleDart
from geometry.model.marks import Grain, InnerLine, Mark, Notch
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece

RuledPoints = tuple[tuple[int, str, Point], ...]
"""Rule numbers with the layer and the place they stand at, mm."""

_OUTLINE = frozenset({"1", "2", "3", "14"})
"""Layers on which a rule number grades the outline; a notch may lie at the same place and go another way."""

_NEAR_MM = 0.01
"""A rule number stands at its point's own coordinates; this forgives rounding to two decimals."""


def graded_nest(nest: Nest, ruled: Mapping[str, RuledPoints], table: RuleTable) -> Nest:
    """The nest in every size of a rule table, from its one drawn size; ``ruled`` gives each piece's rule numbers.

    Points between ruled ones on an edge move in proportion to their length along it; marks without a rule stay. The
    drawn size itself is left untouched.
    """
    drawn = nest.sample

    def in_size(index: int, size: str) -> Pattern:
        if size == table.sample_size:
            return replace(drawn, size=size, pieces=tuple(replace(piece, size=size) for piece in drawn.pieces))
        pieces = (_grading(piece, ruled.get(piece.name, ()), table, index).piece() for piece in drawn.pieces)
        return replace(drawn, size=size, pieces=tuple(pieces))

    patterns = tuple(in_size(index, size) for index, size in enumerate(table.sizes))
    return Nest(nest.name, patterns, table.sample_size)


class _Steps:
    """The steps of some ruled places, found by place."""

    def __init__(self, ruled: RuledPoints, table: RuleTable, index: int) -> None:
        known = [(place, table.rules[number][index]) for number, _, place in ruled if number in table.rules]
        self._places = np.array([place for place, _ in known]).reshape(-1, 2)
        self._steps = [step for _, step in known]

    def at(self, place: Point) -> Point | None:
        """The step of a place, ``None`` where no rule number stands."""
        if not self._steps:
            return None
        gaps = np.hypot(self._places[:, 0] - place[0], self._places[:, 1] - place[1])
        index = int(gaps.argmin())
        return self._steps[index] if gaps[index] <= _NEAR_MM else None


def _grading(piece: Piece, ruled: RuledPoints, table: RuleTable, index: int) -> _Grading:
    outline = tuple(point for point in ruled if point[1] in _OUTLINE)
    inside = tuple(point for point in ruled if point[1] not in _OUTLINE)
    return _Grading(piece, _Steps(outline, table, index), _Steps(inside, table, index), table.sizes[index])


@dataclass(frozen=True, slots=True)
class _Grading:
    """One piece on its way to another size."""

    before: Piece
    outline: _Steps
    inside: _Steps
    size: str

    def piece(self) -> Piece:
        """The piece in the other size."""
        piece = self.before
        chains = self._chains()
        grain = piece.grain
        return replace(
            piece,
            size=self.size,
            edges=tuple(replace(edge, points=chains[edge.id]) for edge in piece.edges),
            darts=tuple(self._dart(dart, chains[dart.edge]) for dart in piece.darts),
            double_darts=tuple(self._double_dart(dart) for dart in piece.double_darts),
            notches=tuple(self._notch(notch, chains[notch.edge]) for notch in piece.notches),
            inner_lines=tuple(self._inner_line(line) for line in piece.inner_lines),
            marks=tuple(Mark(mark.id, self._moved(mark.at), mark.kind) for mark in piece.marks),
            grain=Grain(self._moved(grain.start), self._moved(grain.end)) if grain else None,
        )

    def _moved(self, place: Point) -> Point:
        dx, dy = self._step(place) or (0.0, 0.0)
        return (place[0] + dx, place[1] + dy)

    def _step(self, place: Point) -> Point | None:
        """The step of something marked on the piece: its own, else that of the outline at the same place."""
        return self.inside.at(place) or self.outline.at(place)

    def _chains(self) -> dict[str, Points]:
        """The edges' points moved; those without a rule follow the ruled ones before and behind them on the outline.

        A corner without one moves once for both of its edges, so that the outline stays closed.
        """
        edges = self.before.edges
        ring = np.concatenate([edge.points[:-1] for edge in edges])
        steps = [self.outline.at(as_point(point)) for point in ring]
        ruled = [index for index, step in enumerate(steps) if step is not None]
        if not ruled:
            return {edge.id: edge.points for edge in edges}
        stations = polyline.stations_mm(np.concatenate((ring, ring[:1])))
        known = np.array([step for step in steps if step is not None])
        moves = [
            np.interp(stations[:-1], stations[ruled], known[:, axis], period=float(stations[-1])) for axis in (0, 1)
        ]
        moved = ring + np.column_stack(moves)
        starts = np.cumsum([0, *(len(edge.points) - 1 for edge in edges)]).tolist()
        closed = np.concatenate((moved, moved[:1]))
        return {
            edge.id: frozen_points(closed[start : end + 1])
            for edge, start, end in zip(edges, starts, starts[1:], strict=False)
        }

    def _station(self, edge_id: str, at_mm: float, chain: Points) -> float:
        old = polyline.stations_mm(self.before.edge(edge_id).points)
        return float(np.interp(at_mm, old, polyline.stations_mm(chain)))

    def _dart(self, dart: Dart, chain: Points) -> Dart:
        low, high = (self._station(dart.edge, at, chain) for at in (dart.from_mm, dart.to_mm))
        aim = None if dart.aim is None else self._moved(dart.aim)
        return replace(dart, from_mm=low, to_mm=high, tip=self._moved(dart.tip), aim=aim)

    def _double_dart(self, dart: DoubleDart) -> DoubleDart:
        corners = (self._moved(corner) for corner in (dart.tip_start, dart.tip_end, dart.left, dart.right))
        return DoubleDart(dart.id, *corners)

    def _notch(self, notch: Notch, chain: Points) -> Notch:
        place = self.before.notch_point(notch)
        if self._step(place) is None:
            return replace(notch, at_mm=self._station(notch.edge, notch.at_mm, chain))
        return replace(notch, at_mm=polyline.nearest(chain, self._moved(place))[0])

    def _inner_line(self, line: InnerLine) -> InnerLine:
        return replace(line, points=frozen_points([self._moved(as_point(point)) for point in line.points]))
