"""A drawing sorted into sketches: one outline each, with everything that lies on it or inside it.

Outlines are the outermost closed contours: of layer 1 where a block has one, else of all lines that have no other
meaning. Loose segments are chained first.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from editor.formats import piece_texts as texts
from editor.formats.contours import Chained, chain, inside, outermost
from editor.formats.drawing import Drawing, Shape
from editor.formats.edge_ruler import EdgeRuler
from editor.formats.import_report import ImportReport
from geometry.affine import Points, as_point, frozen_points
from geometry.curves import polyline
from geometry.findings import Level

BOUNDARY, SEW = "1", "14"

LOOSE = ""
"""Layer of lines and contours that were put together from segments without a meaning of their own."""

SHORTEST_OUTLINE_MM = 50.0
"""Open lines shorter than this are marks; longer ones outside every piece may be outlines that do not close."""

SPECK_MM = 10.0
"""No pattern piece is smaller than a centimetre."""

_MARKS = frozenset({"2", "3", "4", "5", "6", "7", "9", "10", "13", "15", "80", "81", "82", "83"})
_VALIDATION = frozenset({"84", "85", "86", "87"})

_ASIDE_MM = 30.0
"""Shapes this near a piece belong to it although they are not inside: notches and names on its edges."""

_SEAM_WITHIN_MM = 60.0
"""An inner contour that keeps this near the outline all round, and holds half its area, is the stitching line."""


@dataclass(frozen=True, slots=True)
class Sketch:
    """One piece as drawn, in millimetres.

    Attributes:
        source: Name of its block, "" for what was drawn outside blocks.
        boundary: Its outermost contour.
        sew: The stitching line inside it, ``None`` where only one line was drawn.
        shapes: Everything else that belongs to it.
    """

    source: str
    boundary: Points
    sew: Points | None
    shapes: tuple[Shape, ...]


def sketches_of(drawing: Drawing, unit_mm: float, gap_mm: float, report: ImportReport) -> list[Sketch]:
    """The sketches of a drawing, in the order of its blocks, loose ones last."""
    groups = [(block.name, block.shapes) for block in drawing.blocks]
    loose = tuple(shape for shape in drawing.loose if not _says_style(shape, report))
    if any(shape.kind == "path" for shape in loose):
        groups.append(("", loose))
    else:
        for shape in loose:
            report.unused(shape, "it lies outside every block")
    found: list[Sketch] = []
    for name, shapes in groups:
        found.extend(_of_group(name, _in_millimetres(shapes, unit_mm), gap_mm, report))
    return found


def _says_style(shape: Shape, report: ImportReport) -> bool:
    """Whether a text is about the whole file; what nothing is kept of is counted."""
    field = texts.field_of(shape.text) if shape.kind == "text" else None
    if field is None or field.keyword not in texts.OF_STYLE:
        return False
    if field.keyword not in texts.KEPT_OF_STYLE:
        report.unused(shape, f'nothing is kept of "{field.keyword}"')
    return True


def _in_millimetres(shapes: tuple[Shape, ...], unit_mm: float) -> tuple[Shape, ...]:
    if unit_mm == 1.0 or not shapes:
        return shapes
    ends = np.cumsum([len(shape.points) for shape in shapes])[:-1]
    scaled = np.split(frozen_points(np.concatenate([shape.points for shape in shapes]) * unit_mm), ends)
    return tuple(
        Shape(
            shape.layer,
            shape.kind,
            points,
            shape.closed,
            shape.text,
            shape.z * unit_mm,
            shape.thickness * unit_mm,
            shape.angle_deg,
            shape.entity,
        )
        for shape, points in zip(shapes, scaled, strict=True)
    )


def _of_group(name: str, shapes: Sequence[Shape], gap_mm: float, report: ImportReport) -> list[Sketch]:
    kept: list[Shape] = []
    for shape in shapes:
        if shape.layer in _VALIDATION:
            report.unused(shape, "quality validation curves repeat lines that are already there")
        else:
            kept.append(shape)
    paths = [shape for shape in kept if shape.kind == "path"]
    layered = [shape for shape in paths if shape.layer == BOUNDARY]
    drawn = layered or [shape for shape in paths if shape.layer not in _MARKS]
    taken = {id(shape) for shape in drawn}
    others = [shape for shape in kept if id(shape) not in taken]
    chained = chain([shape.points for shape in drawn if not shape.closed], gap_mm=gap_mm)
    contours = [shape.points for shape in drawn if shape.closed and len(shape.points) > 2] + list(chained.contours)
    if chained.gap_count and contours:
        _tell_gaps(name, chained, report)
    if not contours:
        return _without_outline(name, chained, others, gap_mm, report)
    held = _without_specks(outermost(contours), contours, report)
    inner_layer = "11" if layered else LOOSE
    loose = [Shape(LOOSE, "path", line, entity="LINE") for line in chained.lines]
    loose += [
        Shape(inner_layer, "path", contours[index], closed=True, entity="POLYLINE")
        for _, inner in held
        for index in inner
    ]
    outlines = [contours[outer] for outer, _ in held]
    shared = _shared_out([*others, *loose], outlines, gap_mm, report, by_block=bool(name))
    return [_sketch(name, outline, belongings, gap_mm) for outline, belongings in zip(outlines, shared, strict=True)]


def _without_specks(
    held: tuple[tuple[int, tuple[int, ...]], ...], contours: Sequence[Points], report: ImportReport
) -> list[tuple[int, tuple[int, ...]]]:
    """The outermost contours without those of a few millimetres beside real pieces."""
    sizes = [float(np.ptp(contours[outer], axis=0).max()) for outer, _ in held]
    real = [row for row, size in zip(held, sizes, strict=True) if size >= SPECK_MM or max(sizes) < SPECK_MM]
    if len(real) < len(held):
        why = f"it is a contour smaller than {SPECK_MM:g} mm outside every piece"
        report.unused_entities("POLYLINE", "", why, count=len(held) - len(real))
    return real


def _tell_gaps(name: str, chained: Chained, report: ImportReport) -> None:
    place = f' in the block "{name}"' if name else ""
    one = chained.gap_count == 1
    joints = f"{chained.gap_count} {'joint' if one else 'joints'} between loose lines{place}"
    report.note(
        "gaps-closed",
        f"{joints} {'was' if one else 'were'} closed, the widest {chained.largest_gap_mm:.2f} mm.",
        measured_mm=chained.largest_gap_mm,
    )


def _without_outline(
    name: str, chained: Chained, others: Iterable[Shape], gap_mm: float, report: ImportReport
) -> list[Sketch]:
    _tell_open(chained.lines, gap_mm, report)
    where = f'the block "{name}" has no closed outline' if name else "there is no closed outline"
    for shape in others:
        report.unused(shape, where)
    return []


def _tell_open(lines: Iterable[Points], gap_mm: float, report: ImportReport) -> None:
    """A warning for each long line that does not close."""
    for line in lines:
        length_mm = polyline.length_mm(line)
        if length_mm < SHORTEST_OUTLINE_MM:
            report.unused_entities("LINE", "", "it is a short line outside every piece")
            continue
        gap = float(np.hypot(*(line[0] - line[-1])))
        x, y = as_point(line[-1])
        report.note(
            "open-outline",
            f"An outline {length_mm:.0f} mm long does not close: its ends are {gap:.1f} mm apart near "
            f"({x:.0f}, {y:.0f}) mm, and gaps up to {gap_mm:g} mm are closed; mend it where it was drawn, "
            "or allow a wider gap.",
            level=Level.WARN,
            where=(x, y),
            measured_mm=gap,
            expected_mm=gap_mm,
        )


def _shared_out(
    shapes: Sequence[Shape], outlines: Sequence[Points], gap_mm: float, report: ImportReport, *, by_block: bool
) -> list[list[Shape]]:
    """The shapes by outline; all of a block's shapes belong to its only outline."""
    if by_block and len(outlines) == 1:
        return [list(shapes)]
    shared: list[list[Shape]] = [[] for _ in outlines]
    if not shapes:
        return shared
    owners = _owners(np.array([shape.points[len(shape.points) // 2] for shape in shapes]), outlines)
    astray: list[Points] = []
    for shape, owner in zip(shapes, owners, strict=True):
        if owner is not None:
            shared[owner].append(shape)
        elif shape.kind == "path" and not shape.closed:
            astray.append(shape.points)
        else:
            report.unused(shape, "it lies outside every piece")
    _tell_open(astray, gap_mm, report)
    return shared


def _owners(places: Points, outlines: Sequence[Points]) -> list[int | None]:
    """For each place the outline it is in, else the one it is near, else ``None``."""
    owners: list[int | None] = [None] * len(places)
    for index, outline in enumerate(outlines):
        for row in np.flatnonzero(inside(places, outline)).tolist():
            owners[row] = index
    free = [row for row, owner in enumerate(owners) if owner is None]
    ruler = EdgeRuler([np.vstack([outline, outline[:1]]) for outline in outlines])
    for row, found in zip(free, ruler.nearest(places[free]), strict=True):
        if found.gap_mm <= _ASIDE_MM:
            owners[row] = found.edge
    return owners


def _sketch(name: str, outline: Points, belongings: list[Shape], gap_mm: float) -> Sketch:
    on_sew = [shape for shape in belongings if shape.kind == "path" and shape.layer == SEW]
    closed = [shape.points for shape in on_sew if shape.closed and len(shape.points) > 2]
    if not closed:
        closed = list(chain([shape.points for shape in on_sew], gap_mm=gap_mm).contours)
        if not closed:
            return _with_inner_seam(name, outline, belongings)
    sew = max(closed, key=_area_mm2)
    left = tuple(shape for shape in belongings if shape.layer != SEW or (shape.closed and shape.points is not sew))
    return Sketch(name, outline, sew, left)


def _with_inner_seam(name: str, outline: Points, belongings: list[Shape]) -> Sketch:
    """A single contour that follows the outline inside it all round is the stitching line."""
    for shape in belongings:
        if shape.layer == LOOSE and shape.closed and 2 * _area_mm2(shape.points) >= _area_mm2(outline):
            ruler = EdgeRuler([np.vstack([outline, outline[:1]])])
            gaps = [found.gap_mm for found in ruler.nearest(shape.points)]
            if max(gaps) <= _SEAM_WITHIN_MM:
                left = tuple(other for other in belongings if other is not shape)
                return Sketch(name, outline, shape.points, left)
    return Sketch(name, outline, None, tuple(belongings))


def _area_mm2(ring: Points) -> float:
    return abs(polyline.signed_area_mm2(ring))
