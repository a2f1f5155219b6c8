"""Level lines across a piece, and cuts along them."""

from __future__ import annotations

from geometry.affine import Point, frozen_points, midpoint
from geometry.alterations.anchors import Anchor
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import spread
from geometry.alterations.handbook.panels import Panel
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.garment import is_lengthen_line

_JOINTS = ("elbow", "knee")

_INSIDE_MM = 1.0
"""How far from an edge a level through a place on that edge is looked at."""


def level_through(panel: Panel, place: Point) -> tuple[Anchor, Anchor]:
    """The ends of the level line through a place inside or on an edge: towards the centre line, and away from it."""
    for out_mm in (0.0, -_INSIDE_MM, _INSIDE_MM):
        dx, dy = panel.frame.step(out_mm, 0.0)
        beside = (place[0] + dx, place[1] + dy)
        is_inside = polyline.contains(panel.piece.outline, frozen_points([beside]))[0]
        on_outline = min(polyline.nearest(edge.points, beside)[1] for edge in panel.piece.edges) < _INSIDE_MM / 2
        if is_inside and not on_outline:
            return panel.level(beside)
    raise StepError(f'A level line misses "{panel.name}" there; choose a place inside the piece.')


def level_below(panel: Panel, place: Anchor, by_mm: float) -> tuple[Anchor, Anchor]:
    """The ends of the level line so far below a place, looked for under the middle of the level of that place."""
    inner, outer = level_through(panel, panel.point(place))
    x, y = midpoint(panel.point(inner), panel.point(outer))
    dx, dy = panel.frame.step(0.0, -by_mm)
    return panel.level((x + dx, y + dy))


def between(panel: Panel, upper: Anchor, lower: Anchor, share: float = 0.5) -> Point:
    """The place at a share of the way down from one place to another."""
    (x0, y0), (x1, y1) = panel.point(upper), panel.point(lower)
    return (x0 + share * (x1 - x0), y0 + share * (y1 - y0))


def printed_line(panel: Panel, *words: str) -> Point | None:
    """The middle of the line for lengthening that is printed on a piece, its name holding all of some words.

    Without words it is the line whose name does not say that it belongs to the elbow or the knee.
    """
    for line in panel.piece.inner_lines:
        name = line.id.lower()
        is_meant = all(word in name for word in words) if words else not any(joint in name for joint in _JOINTS)
        if is_lengthen_line(name) and is_meant:
            (x0, y0), (x1, y1) = line.points[[0, -1]].tolist()
            return midpoint((x0, y0), (x1, y1))
    return None


def spread_at(
    bench: Bench, panel: Panel, place: Point, amount_mm: float, *, still: Anchor, name: str, ends: tuple[str, str]
) -> None:
    """Cut a piece across at a level and move the side that does not hold ``still``.

    Args:
        bench: The bench.
        panel: The piece.
        place: A place on the level.
        amount_mm: The opening; negative folds out.
        still: A place of the outline that stays.
        name: What the line is called.
        ends: What its ends are called, the one towards the centre line first.
    """
    inner, outer = level_through(panel, place)
    line = bench.place(panel, f"{name}, {ends[0]}", inner), bench.place(panel, f"{name}, {ends[1]}", outer)
    bench.do(spread(panel, *line, amount_mm, still=still))
