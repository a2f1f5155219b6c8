"""Darts in a drawing: lines that meet at a point and open on an edge, wedges in the outline, notches with a hole."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from editor.formats.clean_up import Kind
from editor.formats.drawing import Shape
from editor.formats.edge_ruler import EdgeRuler
from editor.formats.import_report import ImportReport
from editor.formats.recognise_notches import FoundNotch
from editor.formats.recognise_sketches import LOOSE
from editor.formats.recognise_slits import Wedge
from geometry.affine import (
    Point,
    Points,
    angle_between,
    as_point,
    distance_mm,
    frozen_points,
    midpoint,
    unit_vector,
)
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.model.dart import DoubleDart
from geometry.tolerance import SAME_POINT_MM, STRAIGHT_MM

WIDEST_DEG = 75.0
WIDEST_MOUTH_MM = 150.0
LEGS_RATIO = 0.75
"""Two lines that meet at a point and open on an edge are a dart within these limits (own choice)."""

LEG_BOW_MM = 4.0
"""A leg may bow this much; it is kept as the straight line between its ends, and a finding says so from 0.5 mm on."""

_TOLD_BOW_MM = 0.5
_TIPS_MEET_MM = 1.0

_DRILLED_DEPTHS = (1.5, 9.0)
_DRILLED_LEGS_MM = 2.0
"""A drill hole as far from two notches (to 2 mm) as 1.5 to 9 times their distance marks a dart (own choice)."""


@dataclass(frozen=True, slots=True)
class FoundDart:
    """A dart by the number of its edge; the mouth runs from ``from_mm`` to ``to_mm`` along it."""

    edge: int
    from_mm: float
    to_mm: float
    tip: Point


def darts_from_lines(
    shapes: Sequence[Shape], ruler: EdgeRuler, slack_mm: float, piece: str, report: ImportReport
) -> tuple[list[FoundDart], list[Shape]]:
    """The darts that inner lines draw: a V, a triangle on an edge, or two legs; and the shapes that are none."""
    darts: list[FoundDart] = []
    left: list[Shape] = []
    for shape in shapes:
        legs = _legs_of(shape.points, shape.closed, ruler, slack_mm)
        dart = None if legs is None else _dart(legs, ruler, slack_mm)
        if legs is None or dart is None or not _taken(dart, [shape], report):
            left.append(shape)
            continue
        darts.append(dart)
        if legs.bow_mm > _TOLD_BOW_MM:
            report.note(
                "dart-legs-straightened",
                f'A dart of the piece "{piece}" was drawn with legs bowed by {legs.bow_mm:.1f} mm; they are kept '
                "straight.",
                piece=piece,
                where=dart.tip,
                measured_mm=legs.bow_mm,
            )
    pairs, left = _pairs_of_legs(left, ruler, slack_mm, report)
    return darts + pairs, left


@dataclass(frozen=True, slots=True)
class _Legs:
    start: Point
    tip: Point
    end: Point
    bow_mm: float = 0.0


def _legs_of(points: Points, closed: bool, ruler: EdgeRuler, slack_mm: float) -> _Legs | None:
    """A line as two legs: cut at its point furthest from the line between its ends."""
    if closed:
        opened = _opened_triangle(points, ruler, slack_mm)
        return None if opened is None else _Legs(*opened)
    if len(points) < 3:
        return None
    start, end = as_point(points[0]), as_point(points[-1])
    ux, uy = unit_vector(start, end)
    away = np.abs((points[:, 0] - start[0]) * uy - (points[:, 1] - start[1]) * ux)
    at = int(np.argmax(away))
    if at in (0, len(points) - 1):
        return None
    bow_mm = max(polyline.offset_from_chord_mm(points[: at + 1]), polyline.offset_from_chord_mm(points[at:]))
    return _Legs(start, as_point(points[at]), end, bow_mm) if bow_mm <= LEG_BOW_MM else None


def _opened_triangle(points: Points, ruler: EdgeRuler, slack_mm: float) -> tuple[Point, Point, Point] | None:
    """A triangle with two corners on an edge, from one of them over the third to the other."""
    if len(points) != 3:
        return None
    gaps = [found.gap_mm for found in ruler.nearest(points)]
    inner = [index for index, gap in enumerate(gaps) if gap > slack_mm]
    if len(inner) != 1:
        return None
    at = inner[0]
    return as_point(points[at - 1]), as_point(points[at]), as_point(points[(at + 1) % 3])


def _dart(legs: _Legs, ruler: EdgeRuler, slack_mm: float) -> FoundDart | None:
    at_tip, *at_ends = ruler.nearest([legs.tip, legs.start, legs.end])
    if at_tip.gap_mm <= slack_mm:
        return None
    ends = zip((legs.start, legs.end), at_ends, strict=True)
    feet = [end if found.gap_mm <= slack_mm else _crossed(ruler, legs.tip, end) for end, found in ends]
    on_edge = ruler.on_one_edge([foot for foot in feet if foot is not None], within_mm=slack_mm)
    if None in feet or on_edge is None:
        return None
    edge, (from_mm, to_mm) = on_edge[0], sorted(on_edge[1])
    mouth = ruler.point(edge, from_mm), ruler.point(edge, to_mm)
    lengths = sorted(distance_mm(foot, legs.tip) for foot in mouth)
    width_mm = distance_mm(*mouth)
    if not 0.0 < width_mm <= WIDEST_MOUTH_MM or lengths[0] < LEGS_RATIO * lengths[1]:
        return None
    angle = angle_between(legs.tip, *mouth)  # positive: the tip lies inside
    return FoundDart(edge, from_mm, to_mm, legs.tip) if 0.0 < angle <= math.radians(WIDEST_DEG) else None


def _crossed(ruler: EdgeRuler, tip: Point, end: Point) -> Point | None:
    """Where a leg drawn beyond the edge crosses it on its way from the tip."""
    found = [crossing.at for chain in ruler.chains for crossing in crossings(frozen_points([tip, end]), chain)[-1:]]
    return max(found, key=lambda place: distance_mm(tip, place), default=None)


def _taken(dart: FoundDart, shapes: Sequence[Shape], report: ImportReport) -> bool:
    """Whether lines without a layer of their own are to be a dart."""
    if any(shape.layer != LOOSE for shape in shapes):
        return True
    return report.suggest(Kind.DART, "a dart", dart.tip, drawn=[shape.points for shape in shapes])


def _pairs_of_legs(
    shapes: Sequence[Shape], ruler: EdgeRuler, slack_mm: float, report: ImportReport
) -> tuple[list[FoundDart], list[Shape]]:
    """Darts whose legs are two lines that end on an edge and meet at a tip; and the shapes left over."""
    legs = _single_legs(shapes, ruler, slack_mm)
    used: set[int] = set()
    darts: list[FoundDart] = []
    for row, (index, foot, tip) in enumerate(legs):
        for other, other_foot, other_tip in legs[row + 1 :]:
            if index in used or other in used or distance_mm(tip, other_tip) > _TIPS_MEET_MM:
                continue
            dart = _dart(_Legs(foot, midpoint(tip, other_tip), other_foot), ruler, slack_mm)
            if dart is not None and _taken(dart, [shapes[index], shapes[other]], report):
                darts.append(dart)
                used |= {index, other}
    return darts, [shape for index, shape in enumerate(shapes) if index not in used]


def _single_legs(shapes: Sequence[Shape], ruler: EdgeRuler, slack_mm: float) -> list[tuple[int, Point, Point]]:
    """The straight lines with one end on an edge: their number, that end and the other."""
    lines = [
        (index, as_point(shape.points[0]), as_point(shape.points[-1]))
        for index, shape in enumerate(shapes)
        if not shape.closed and polyline.offset_from_chord_mm(shape.points) <= LEG_BOW_MM
    ]
    at_starts = ruler.nearest([start for _, start, _ in lines])
    at_ends = ruler.nearest([end for _, _, end in lines])
    legs = []
    for (index, start, end), at_start, at_end in zip(lines, at_starts, at_ends, strict=True):
        if (at_start.gap_mm <= slack_mm) != (at_end.gap_mm <= slack_mm):
            legs.append((index, start, end) if at_start.gap_mm <= slack_mm else (index, end, start))
    return legs


def darts_from_wedges(wedges: Sequence[Wedge], ruler: EdgeRuler) -> list[FoundDart]:
    """The darts that were cut into the outline."""
    darts = []
    for wedge in wedges:
        if not wedge.is_nick:
            on_edge = ruler.on_one_edge([wedge.start, wedge.end], within_mm=SAME_POINT_MM)
            if on_edge is not None:
                darts.append(FoundDart(on_edge[0], min(on_edge[1]), max(on_edge[1]), wedge.tip))
    return darts


def darts_from_holes(
    holes: Sequence[Point],
    notches: Sequence[FoundNotch],
    known: Sequence[FoundDart],
    ruler: EdgeRuler,
    piece: str,
    report: ImportReport,
) -> list[FoundDart]:
    """The darts that two notches and a drill hole mark; the notches and the hole stay."""
    darts: list[FoundDart] = []
    ordered = sorted(notches, key=lambda notch: (notch.edge, notch.at_mm))
    for first, second in pairwise(ordered):
        taken = any(dart.edge == first.edge and dart.from_mm < second.at_mm and dart.to_mm > first.at_mm
                    for dart in (*known, *darts))  # fmt: skip
        if first.edge != second.edge or taken:
            continue
        mouth = ruler.point(first.edge, first.at_mm), ruler.point(second.edge, second.at_mm)
        tip = next((hole for hole in holes if _marks_dart(hole, mouth)), None)
        if tip is not None and _takes_marks(tip, mouth, report):
            darts.append(FoundDart(first.edge, first.at_mm, second.at_mm, tip))
            report.note(
                "dart-from-marks",
                f'Two notches and a drill hole of the piece "{piece}" are taken as a dart with its tip at the hole.',
                piece=piece,
                where=tip,
            )
    return darts


def _takes_marks(tip: Point, mouth: tuple[Point, Point], report: ImportReport) -> bool:
    drawn = [frozen_points([mouth[0], tip, mouth[1]])]
    return report.suggest(Kind.DART, "a dart from two notches to a drill hole", tip, drawn=drawn)


def _marks_dart(hole: Point, mouth: tuple[Point, Point]) -> bool:
    width_mm = distance_mm(*mouth)
    legs = [distance_mm(foot, hole) for foot in mouth]
    shortest, longest = _DRILLED_DEPTHS
    return abs(legs[0] - legs[1]) <= _DRILLED_LEGS_MM and shortest <= min(legs) / max(width_mm, 1.0) <= longest


def double_dart_of(shape: Shape) -> DoubleDart | None:
    """A closed line of four points, slim and pointed at both ends, as a dart with two tips; its id is still empty."""
    if not shape.closed or len(shape.points) != 4:
        return None
    corners = [as_point(row) for row in shape.points]
    sharp = [_corner_deg(corners, index) <= WIDEST_DEG for index in range(4)]
    if sharp not in ([True, False, True, False], [False, True, False, True]):
        return None
    start, left, end, right = corners if sharp[0] else [*corners[1:], corners[0]]
    even = abs(distance_mm(start, left) - distance_mm(start, right)) <= _DRILLED_LEGS_MM
    return DoubleDart("", start, end, left, right) if even else None


def _corner_deg(corners: Sequence[Point], index: int) -> float:
    turn = angle_between(corners[index], corners[index - 1], corners[(index + 1) % len(corners)])
    return abs(math.degrees(turn))


def straight_mouths(ruler: EdgeRuler, darts: Sequence[FoundDart]) -> tuple[EdgeRuler, list[FoundDart]]:
    """The edges run straight across the mouths of their darts, and the darts measured along them."""
    chains = list(ruler.chains)
    moved = list(darts)
    changed = False
    for edge in {dart.edge for dart in darts}:
        order = sorted((dart.from_mm, index) for index, dart in enumerate(darts) if dart.edge == edge)
        parts = [polyline.part_between(chains[edge], dart.from_mm, dart.to_mm) for dart in darts if dart.edge == edge]
        if max(polyline.offset_from_chord_mm(part) for part in parts) <= STRAIGHT_MM:
            continue
        changed = True
        done: Points = chains[edge][:1]
        at_mm = 0.0
        for _, index in order:
            dart = moved[index]
            done = polyline.joined((done, polyline.part_between(chains[edge], at_mm, dart.from_mm)))
            from_mm = polyline.length_mm(done)
            at_mm = dart.to_mm
            done = frozen_points(np.vstack([done, [ruler.point(edge, at_mm)]]))
            moved[index] = FoundDart(edge, from_mm, polyline.length_mm(done), dart.tip)
        chains[edge] = polyline.joined((done, polyline.part_between(chains[edge], at_mm, ruler.lengths_mm[edge])))
    return (EdgeRuler(chains) if changed else ruler), moved
