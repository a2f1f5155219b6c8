"""Lines kept as they should lie after a part of them was turned: those for lengthening level, a crease on the grain."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from geometry.affine import Point, Points, as_point, distance_mm, frozen_points, midpoint, unit_vector
from geometry.curves import polyline
from geometry.curves.crossing import met_by_line
from geometry.model.edge import EdgeRole
from geometry.model.garment import is_lengthen_line
from geometry.model.marks import Grain, InnerLine
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM, PARALLEL_RAD, SAME_DIRECTION_RAD, SAME_POINT_MM, STRAIGHT_MM

_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)


def with_lines_put_right(before: Piece, piece: Piece) -> Piece:
    """The altered piece with lines for lengthening level, and lines that lay on the grain line on it again.

    A line for lengthening is put square to the fold, else the grain, if it was so before: it is cut along it that a
    piece is lengthened. It stays where it meets a seam, because the neighbour's line meets it there (half-way between,
    if it meets one at both ends and they moved apart); where it would leave the piece by other edges so, it goes
    through its own middle. Its ends stay as far inside the edges as they were.
    """
    known = {line.id: line for line in before.inner_lines}
    lines = tuple(_put_right(before, known.get(line.id), piece, line) for line in piece.inner_lines)
    is_same = all(line is old for line, old in zip(lines, piece.inner_lines, strict=True))
    return piece if is_same else replace(piece, inner_lines=lines)


def _put_right(before: Piece, was: InnerLine | None, piece: Piece, line: InnerLine) -> InnerLine:
    if was is None or line.closed:
        return line
    return (_levelled if is_lengthen_line(line.id) else _on_grain)(before, was, piece, line)


def _on_grain(before: Piece, was: InnerLine, piece: Piece, line: InnerLine) -> InnerLine:
    if piece.grain is None or not _lies_on_grain(before, was) or _lies_on_grain(piece, line):
        return line
    return replace(line, points=frozen_points(_foot(piece.grain, line.points[[0, -1]])))


def _lies_on_grain(piece: Piece, line: InnerLine) -> bool:
    if piece.grain is None:
        return False
    return bool(np.abs(line.points - _foot(piece.grain, line.points)).max() <= ON_EDGE_MM)


def _foot(grain: Grain, places: Points) -> Points:
    """The places of the grain line, taken on without end, that are nearest to some places."""
    ahead = np.array(unit_vector(grain.start, grain.end))
    return grain.start + np.outer((places - grain.start) @ ahead, ahead)


def _levelled(before: Piece, was: InnerLine, piece: Piece, line: InnerLine) -> InnerLine:
    leans_now = _lean(piece, line)
    if leans_now is None or leans_now <= SAME_DIRECTION_RAD:
        return line
    lean = _lean(before, was)
    if lean is None or lean > PARALLEL_RAD or polyline.offset_from_chord_mm(was.points) > STRAIGHT_MM:
        return line
    old = _across(before, was, midpoint(*_tips(was)))
    for place in _places(piece, line, old) if old else ():
        now = _across(piece, line, place)
        if old and now and now.edges == old.edges:
            half_mm = distance_mm(*_tips(was)) / 2
            ends = -(now.behind_mm - old.behind_mm + half_mm), now.ahead_mm - old.ahead_mm + half_mm
            (x, y), (ux, uy) = place, now.ahead
            return replace(line, points=frozen_points([(x + mm * ux, y + mm * uy) for mm in ends]))
    return line


def _tips(line: InnerLine) -> tuple[Point, Point]:
    return as_point(line.points[0]), as_point(line.points[-1])


def _upright(piece: Piece) -> Point | None:
    """Unit direction of the fold, else of the grain; ``None`` without either."""
    line = piece.edge(piece.fold) if piece.fold is not None else piece.grain
    return unit_vector(line.start, line.end) if line else None


def _lean(piece: Piece, line: InnerLine) -> float | None:
    """How far a line is off square to fold or grain, as a sine; ``None`` where there is nothing to be square to."""
    up, tips = _upright(piece), _tips(line)
    if up is None or line.closed or distance_mm(*tips) <= SAME_POINT_MM:
        return None
    ux, uy = unit_vector(*tips)
    return abs(ux * up[0] + uy * up[1])


@dataclass(frozen=True, slots=True)
class _Across:
    """A level line through a place: its direction, the edges by which it leaves, how far they are behind and ahead."""

    ahead: Point
    edges: tuple[str, str]
    behind_mm: float
    ahead_mm: float


def _across(piece: Piece, line: InnerLine, place: Point) -> _Across | None:
    """The level line through a place, the way a line runs; ``None`` if it misses the piece there."""
    (ux, uy), (start, end) = _upright(piece) or (0.0, 0.0), _tips(line)
    if (end[0] - start[0]) * uy - (end[1] - start[1]) * ux < 0:
        ux, uy = -ux, -uy
    met = [(along_mm, edge.id) for edge in piece.edges for along_mm, _ in met_by_line(edge.points, place, (uy, -ux))]
    behind, ahead = [each for each in met if each[0] <= 0], [each for each in met if each[0] > 0]
    if not behind or not ahead:
        return None
    (behind_mm, first), (ahead_mm, last) = max(behind), min(ahead)
    return _Across((uy, -ux), (first, last), -behind_mm, ahead_mm)


def _places(piece: Piece, line: InnerLine, old: _Across) -> Iterator[Point]:
    """The places the line should go through, best first."""
    middle, (ux, uy) = midpoint(*_tips(line)), _upright(piece) or (0.0, 0.0)
    on_seams = [tip for tip, edge in zip(_tips(line), old.edges, strict=True) if not _is_centre(piece, edge)]
    if on_seams:
        up_mm = sum((x - middle[0]) * ux + (y - middle[1]) * uy for x, y in on_seams) / len(on_seams)
        yield (middle[0] + up_mm * ux, middle[1] + up_mm * uy)
    yield middle


def _is_centre(piece: Piece, edge_id: str) -> bool:
    return edge_id == piece.fold or piece.edge(edge_id).role in _CENTRES
