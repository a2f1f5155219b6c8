"""Notches in a drawing: points on the notch layers, ticks across an edge, wedges cut into the outline."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from editor.formats import piece_texts as texts
from editor.formats.clean_up import Kind
from editor.formats.drawing import Shape
from editor.formats.edge_ruler import EdgeRuler, OnEdge
from editor.formats.import_report import ImportReport
from editor.formats.recognise_sketches import LOOSE
from editor.formats.recognise_slits import Wedge
from geometry.affine import Point, as_point, distance_mm, midpoint, unit_vector
from geometry.curves import polyline
from geometry.model.marks import NotchKind

FURTHEST_MM = 100.0
"""A notch on the cutting line further from the stitching line than any allowance belongs to no edge."""

USUAL_DEPTH_MM = 6.0
"""Depth of a notch where the file says none: a quarter of an inch (common practice, no source)."""

SHORTEST_TICK_MM, LONGEST_TICK_MM = 1.5, 15.0
"""Lengths of a short line that is a notch when it stands on an edge (own choice)."""

SAME_NOTCH_MM = 0.01
"""Two notches this near are one that was drawn twice."""


@dataclass(frozen=True, slots=True)
class FoundNotch:
    """A notch by the number of its edge, and where it was drawn."""

    edge: int
    at_mm: float
    drawn_at: Point
    kind: NotchKind = NotchKind.SLIT
    depth_mm: float = USUAL_DEPTH_MM
    width_mm: float = 0.0


def notch_points(shapes: Sequence[Shape], ruler: EdgeRuler, piece: str, report: ImportReport) -> list[FoundNotch]:
    """The notches that points on the notch layers mean."""
    drawn = [shape for shape in shapes if shape.kind == "point"]
    places = [as_point(shape.points[0]) for shape in drawn]
    angles = np.radians([shape.angle_deg for shape in drawn])
    towards = list(zip(np.cos(angles).tolist(), np.sin(angles).tolist(), strict=True))
    found = []
    for shape, place, on_edge in zip(drawn, places, ruler.nearest(places, towards=towards), strict=True):
        if on_edge.gap_mm > FURTHEST_MM:
            report.unused(shape, f'it is a notch {on_edge.gap_mm:.0f} mm away from every edge of "{piece}"')
            continue
        found.append(_of_point(shape, place, on_edge))
    return found


def _of_point(shape: Shape, place: Point, on_edge: OnEdge) -> FoundNotch:
    depth_mm, width_mm = abs(shape.z), abs(shape.thickness)
    kind = texts.NOTCH_LAYERS.get(shape.layer, NotchKind.SLIT)
    if kind is NotchKind.SLIT and width_mm > 0:
        kind = NotchKind.V
    return FoundNotch(on_edge.edge, on_edge.at_mm, place, kind, depth_mm or USUAL_DEPTH_MM, width_mm)


def notch_ticks(
    shapes: Sequence[Shape], ruler: EdgeRuler, slack_mm: float, report: ImportReport
) -> tuple[list[FoundNotch], list[Shape]]:
    """The notches that short lines standing on an edge mean, in ring order, and the shapes that are none."""
    found: list[FoundNotch] = []
    left: list[Shape] = []
    for shape in shapes:
        notch = _of_tick(shape, ruler, slack_mm) if _may_be_tick(shape) else None
        if notch is None or not _taken(notch, shape, report):
            left.append(shape)
        else:
            found.append(notch)
    return sorted(found, key=lambda notch: (notch.edge, notch.at_mm)), left


def _taken(notch: FoundNotch, shape: Shape, report: ImportReport) -> bool:
    """Whether a tick without a layer of its own is to be a notch."""
    if shape.layer != LOOSE:
        return True
    return report.suggest(Kind.NOTCH, "a notch", as_point(shape.points[0]), drawn=(shape.points,))


def _may_be_tick(shape: Shape) -> bool:
    if shape.kind != "path" or shape.closed or shape.layer not in (LOOSE, *texts.NOTCH_LAYERS):
        return False
    return SHORTEST_TICK_MM <= polyline.length_mm(shape.points) <= LONGEST_TICK_MM


def _of_tick(shape: Shape, ruler: EdgeRuler, slack_mm: float) -> FoundNotch | None:
    """A short line with one end on an edge, or that crosses it, and more square to it than along it."""
    ends = shape.points[[0, -1]]
    near = ruler.nearest(ends)
    at = 0 if near[0].gap_mm <= near[1].gap_mm else 1
    foot = near[at]
    if foot.gap_mm > slack_mm:
        middle = midpoint(as_point(ends[0]), as_point(ends[1]))
        foot = ruler.nearest([middle])[0]
        if foot.gap_mm > slack_mm:
            return None
    ux, uy = unit_vector(as_point(ends[0]), as_point(ends[1]))
    if abs(ux * foot.outwards[0] + uy * foot.outwards[1]) < 0.7:
        return None
    depth_mm = round(polyline.length_mm(shape.points), 1)
    return FoundNotch(foot.edge, foot.at_mm, ruler.point(foot.edge, foot.at_mm), NotchKind.SLIT, depth_mm)


def notch_wedges(wedges: Sequence[Wedge], ruler: EdgeRuler) -> list[FoundNotch]:
    """The notches that were cut into the outline."""
    nicks = [wedge for wedge in wedges if wedge.is_nick]
    middles = [midpoint(nick.start, nick.end) for nick in nicks]
    return [
        FoundNotch(
            on_edge.edge,
            on_edge.at_mm,
            middle,
            NotchKind.V,
            distance_mm(middle, nick.tip),
            distance_mm(nick.start, nick.end),
        )
        for nick, middle, on_edge in zip(nicks, middles, ruler.nearest(middles), strict=True)
    ]


def without_doubles(found: Sequence[FoundNotch]) -> list[FoundNotch]:
    """The notches in the order drawn, those drawn twice once."""
    kept: list[FoundNotch] = []
    for notch in found:
        if all(notch.edge != other.edge or abs(notch.at_mm - other.at_mm) > SAME_NOTCH_MM for other in kept):
            kept.append(notch)
    return kept


def ring_numbers(found: Sequence[FoundNotch]) -> list[int]:
    """For each notch its number in the order met round the piece, from 1."""
    order = sorted(range(len(found)), key=lambda index: (found[index].edge, found[index].at_mm))
    numbers = {index: number for number, index in enumerate(order, start=1)}
    return [numbers[index] for index in range(len(found))]
