"""Lines drawn across a piece end as far from its edge as before when that edge is redrawn."""

from __future__ import annotations

from dataclasses import replace

from geometry.affine import Point, Points, as_point, distance_mm, frozen_points, unit_vector
from geometry.curves import polyline
from geometry.curves.crossing import met_by_line
from geometry.model.marks import InnerKind, InnerLine
from geometry.tolerance import SAME_POINT_MM

_NEAR_MM = 20.0
"""A line that ends no further than this from an edge, in its own direction, is drawn up to that edge; own choice."""


def lines_drawn_anew(lines: tuple[InnerLine, ...], edges: tuple[tuple[Points, Points], ...]) -> tuple[InnerLine, ...]:
    """The lines of a piece, those that are drawn up to a redrawn edge longer or shorter in their own direction.

    Args:
        lines: Lines inside the piece; cutouts, stripes and plaids stay as they are.
        edges: The chains of every redrawn edge, before and after.
    """
    return tuple(_drawn_anew(line, edges) if _is_drawn_across(line) else line for line in lines)


def _is_drawn_across(line: InnerLine) -> bool:
    return line.kind is InnerKind.LINE and not line.closed


def _drawn_anew(line: InnerLine, edges: tuple[tuple[Points, Points], ...]) -> InnerLine:
    places = [as_point(place) for place in line.points]
    for end, beside in ((0, 1), (-1, -2)):
        if distance_mm(places[beside], places[end]) > SAME_POINT_MM:
            places[end] = _new_end(places[beside], places[end], edges)
    if places == [as_point(place) for place in line.points]:
        return line
    return replace(line, points=frozen_points(places))


def _new_end(start: Point, end: Point, edges: tuple[tuple[Points, Points], ...]) -> Point:
    """Where the end of a straight part goes; it stays where no redrawn edge is near, or the line would be used up."""
    ahead, length_mm = unit_vector(start, end), distance_mm(start, end)
    for before, after in edges:
        if polyline.least_gap_mm(before, end) > _NEAR_MM:
            continue
        was = [at_mm for at_mm in _met_mm(start, ahead, before) if length_mm <= at_mm <= length_mm + _NEAR_MM]
        now = _met_mm(start, ahead, after) if was else []
        if now:
            moved_mm = min((at_mm - was[0] for at_mm in now), key=abs)
            if abs(moved_mm) > SAME_POINT_MM and length_mm + moved_mm > SAME_POINT_MM:
                return end[0] + moved_mm * ahead[0], end[1] + moved_mm * ahead[1]
    return end


def _met_mm(start: Point, ahead: Point, chain: Points) -> list[float]:
    """How far ahead a line meets a chain, rising."""
    return sorted(ahead_mm for ahead_mm, _ in met_by_line(chain, start, ahead) if ahead_mm > 0.0)
