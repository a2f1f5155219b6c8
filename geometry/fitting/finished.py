"""Finished measurements: what the sewn garment measures where a body is measured, straight off the pieces.

Seam line to seam line; allowances and what darts fold away are left out, as the trade measures a pattern (a clothing
textbook's chapter on adjusting a pattern).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from geometry.affine import Point, distance_mm, midpoint
from geometry.alterations.handbook import landmarks
from geometry.alterations.handbook.landmarks import landmark
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.curves import polyline
from geometry.fitting.garment import (
    Garment,
    bust_level,
    height_mm,
    hip_level,
    known,
    marked_level,
    round_mm,
    times_round,
)
from geometry.fitting.level_line import level_line
from geometry.fitting.measures import Measure
from geometry.identity import Same
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part
from geometry.model.pattern import Nest, Pattern

_KEPT = 256
"""How many patterns' measurements are remembered: some wearers' rounds while an amount is dragged."""


@dataclass(frozen=True, slots=True)
class Finished:
    """Every finished measurement a pattern tells, in the order in which a body is measured."""

    lengths: tuple[tuple[Measure, float], ...]

    def mm(self, measure: Measure) -> float | None:
        """One of them, ``None`` if the pattern does not tell."""
        return next((mm for each, mm in self.lengths if each is measure), None)


def finished(pattern: Pattern) -> Finished:
    """The finished measurements of a pattern; what its pieces do not tell is left out."""
    return _finished(Same(pattern))


def finished_by_size(nest: Nest) -> dict[Measure, tuple[float | None, ...]]:
    """For each measurement that some size tells, its value in every size of the nest in order."""
    sizes = [finished(pattern) for pattern in nest.patterns]
    return {
        measure: tuple(size.mm(measure) for size in sizes)
        for measure in Measure
        if any(size.mm(measure) is not None for size in sizes)
    }


@lru_cache(maxsize=_KEPT)
def _finished(key: Same[Pattern]) -> Finished:
    garment = Garment(key.value)
    told = ((measure, known(lambda find=find: find(garment))) for measure, find in _FINDERS.items())  # type: ignore[misc]
    return Finished(tuple((measure, mm) for measure, mm in told if mm is not None))


def _neck(garment: Garment) -> float | None:
    panels = [panel for panel in garment.part(Part.BODICE) if panel.has(EdgeRole.NECK)]
    return sum(panel.sewn_mm(EdgeRole.NECK) * times_round(panel) for panel in panels) or None


def _waist(garment: Garment) -> float | None:
    """The waist seam of the bodice, else of skirt or trousers, else a marked waist level."""
    for part in (Part.BODICE, Part.SKIRT, Part.TROUSERS):
        panels = [panel for panel in garment.part(part) if panel.has(EdgeRole.WAIST)]
        if panels:
            return sum(panel.sewn_mm(EdgeRole.WAIST) * times_round(panel) for panel in panels)
    return round_mm(marked_level(garment, "waist"))


def _shoulder(garment: Garment) -> float | None:
    front = _front(garment)
    return front.piece.sewn_length_mm(front.edge(EdgeRole.SHOULDER).id) if front else None


def _shoulder_drop(garment: Garment) -> float | None:
    """Mean of front and back, since the seam may lie before or behind the top of the shoulder."""
    drops = []
    for panel in (garment.first(PieceRole.FRONT_BODICE), garment.first(PieceRole.BACK_BODICE)):
        if panel is None:
            continue
        neck, tip = (_at(panel, name) for name in (landmarks.NECK_POINT, landmarks.SHOULDER_POINT))
        drops.append(height_mm(panel, neck, tip))
    return sum(drops) / len(drops) if drops else None


def _across_armholes(garment: Garment, role: PieceRole) -> float | None:
    """From armhole to armhole midway between shoulder tip and underarm, both halves."""
    panel = garment.first(role)
    if panel is None:
        return None
    tip, underarm = (_at(panel, name) for name in (landmarks.SHOULDER_POINT, landmarks.UNDERARM))
    edge, up = panel.edge(EdgeRole.ARMHOLE, EdgeRole.SHOULDER), panel.frame.up
    heights = edge.points @ np.asarray(up) - (underarm[0] * up[0] + underarm[1] * up[1])
    stations, order = polyline.stations_mm(edge.points), 1 if heights[-1] > heights[0] else -1
    at_mm = float(np.interp(height_mm(panel, tip, underarm) / 2, heights[::order], stations[::order]))
    out = panel.frame.out
    line = level_line(panel.piece, edge.point_at(at_mm), (-out[0], -out[1]))
    return None if line is None else line.length_mm * times_round(panel)


def _centre_length(garment: Garment, role: PieceRole, centre: EdgeRole) -> float | None:
    panel = garment.first(role)
    if panel is None or not (panel.has(centre) and panel.has(EdgeRole.WAIST)):
        return None
    return panel.sewn_mm(centre)


def _bust_depth(garment: Garment) -> float | None:
    front = _front(garment)
    return distance_mm(_at(front, landmarks.NECK_POINT), _at(front, landmarks.BUST_POINT)) if front else None


def _over_bust(garment: Garment) -> float | None:
    """Neck point to bust point to waist, down the legs of the waist dart where there is one."""
    front, depth_mm = _front(garment), _bust_depth(garment)
    if front is None or depth_mm is None or not front.has(EdgeRole.WAIST):
        return None
    apex = _at(front, landmarks.BUST_POINT)
    for edge in front.edges(EdgeRole.WAIST):
        for dart in front.piece.darts_on(edge.id):
            return depth_mm + distance_mm(apex, dart.tip) + sum(front.piece.legs_mm(dart)) / 2
    up = front.frame.up
    line = level_line(front.piece, apex, (-up[0], -up[1]))
    return None if line is None else depth_mm + line.length_mm


def _bust_span(garment: Garment) -> float | None:
    front = _front(garment)
    if front is None:
        return None
    centre = front.edge(EdgeRole.CENTRE_FRONT).start
    return 2 * front.frame.seen(_at(front, landmarks.BUST_POINT), centre)[0]


def _armhole_depth(garment: Garment) -> float | None:
    """From the nape down to the underarm, on the back."""
    back = garment.first(PieceRole.BACK_BODICE)
    if back is None:
        return None
    return height_mm(back, _at(back, landmarks.CENTRE_NECK), _at(back, landmarks.UNDERARM))


def _upper_arm(garment: Garment) -> float | None:
    sleeve = garment.first(PieceRole.SLEEVE)
    return distance_mm(*_biceps(sleeve)) if sleeve else None


def _wrist(garment: Garment) -> float | None:
    sleeve = garment.first(PieceRole.SLEEVE)
    return sleeve.sewn_mm(EdgeRole.HEM) if sleeve else None


def _arm_length(garment: Garment) -> float | None:
    """From the top of the cap straight down to the hem."""
    sleeve = garment.first(PieceRole.SLEEVE)
    if sleeve is None:
        return None
    top, hem = _at(sleeve, landmarks.CAP_TOP), sleeve.edge(EdgeRole.HEM)
    return height_mm(sleeve, top, midpoint(hem.start, hem.end))


def _waist_to_hip(garment: Garment) -> float | None:
    panel = _first(garment, Part.SKIRT, Part.TROUSERS)
    if panel is None:
        return None
    return height_mm(panel, _at(panel, landmarks.WAIST_AT_SIDE), _at(panel, landmarks.HIP_AT_SIDE))


def _waist_to_hem(garment: Garment) -> float | None:
    panel = _first(garment, Part.SKIRT)
    return panel.piece.sewn_length_mm(panel.edge(EdgeRole.SIDE, EdgeRole.WAIST).id) if panel else None


def _crotch_depth(garment: Garment) -> float | None:
    panel = _first(garment, Part.TROUSERS)
    if panel is None:
        return None
    return height_mm(panel, _at(panel, landmarks.WAIST_AT_SIDE), _at(panel, landmarks.CROTCH_POINT))


def _crotch_length(garment: Garment) -> float | None:
    panels = garment.part(Part.TROUSERS)
    centres = (EdgeRole.CROTCH, EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)
    return sum(panel.sewn_mm(role) for panel in panels for role in centres) or None if len(panels) == 2 else None


def _thigh(garment: Garment) -> float | None:
    panels = garment.part(Part.TROUSERS)
    if len(panels) != 2:
        return None
    widths = []
    for panel in panels:
        out = panel.frame.out
        start = _at(panel, landmarks.CROTCH_POINT)
        lines = [level_line(panel.piece, start, (way * out[0], way * out[1])) for way in (-1.0, 1.0)]
        widths.append(max(line.length_mm for line in lines if line is not None))
    return sum(widths)


def _seam_length(garment: Garment, role: EdgeRole) -> float | None:
    panel = _first(garment, Part.TROUSERS)
    return panel.sewn_mm(role) if panel else None


def _first(garment: Garment, *parts: Part) -> Panel | None:
    panels = garment.part(*parts)
    return panels[0] if panels else None


def _front(garment: Garment) -> Panel | None:
    return garment.first(PieceRole.FRONT_BODICE)


def _at(panel: Panel, name: str) -> Point:
    return panel.point(landmark(panel, name))


def _biceps(sleeve: Panel) -> tuple[Point, Point]:
    return _at(sleeve, landmarks.BICEPS_FRONT), _at(sleeve, landmarks.BICEPS_BACK)


_FINDERS: dict[Measure, Callable[[Garment], float | None]] = {
    Measure.NECK: _neck,
    Measure.BUST: lambda garment: round_mm(bust_level(garment)),
    Measure.WAIST: _waist,
    Measure.HIP: lambda garment: round_mm(hip_level(garment)),
    Measure.SHOULDER_LENGTH: _shoulder,
    Measure.SHOULDER_DROP: _shoulder_drop,
    Measure.CHEST_WIDTH: lambda garment: _across_armholes(garment, PieceRole.FRONT_BODICE),
    Measure.BACK_WIDTH: lambda garment: _across_armholes(garment, PieceRole.BACK_BODICE),
    Measure.BACK_LENGTH: lambda garment: _centre_length(garment, PieceRole.BACK_BODICE, EdgeRole.CENTRE_BACK),
    Measure.FRONT_LENGTH: lambda garment: _centre_length(garment, PieceRole.FRONT_BODICE, EdgeRole.CENTRE_FRONT),
    Measure.BUST_DEPTH: _bust_depth,
    Measure.FRONT_OVER_BUST: _over_bust,
    Measure.BUST_SPAN: _bust_span,
    Measure.ARMHOLE_DEPTH: _armhole_depth,
    Measure.UPPER_ARM: _upper_arm,
    Measure.WRIST: _wrist,
    Measure.ARM_LENGTH: _arm_length,
    Measure.WAIST_TO_HIP: _waist_to_hip,
    Measure.WAIST_TO_HEM: _waist_to_hem,
    Measure.CROTCH_DEPTH: _crotch_depth,
    Measure.CROTCH_LENGTH: _crotch_length,
    Measure.THIGH: _thigh,
    Measure.INSIDE_LEG: lambda garment: _seam_length(garment, EdgeRole.INSEAM),
    Measure.OUTSIDE_LEG: lambda garment: _seam_length(garment, EdgeRole.SIDE),
}
"""How a pattern tells each measurement."""
