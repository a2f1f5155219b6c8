"""What lies on and inside an outline, by what it is: darts, notches, lines and points, not yet named."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from editor.formats import piece_texts as texts
from editor.formats.clean_up import Kind
from editor.formats.drawing import Shape
from editor.formats.edge_ruler import EdgeRuler
from editor.formats.import_report import ImportReport
from editor.formats.recognise_darts import (
    FoundDart,
    darts_from_holes,
    darts_from_lines,
    darts_from_wedges,
    double_dart_of,
    straight_mouths,
)
from editor.formats.recognise_names import Nameable, Thing
from editor.formats.recognise_notches import (
    FoundNotch,
    notch_points,
    notch_ticks,
    notch_wedges,
    without_doubles,
)
from editor.formats.recognise_outline import Outline
from editor.formats.recognise_sketches import LOOSE
from geometry.affine import Point, as_point, distance_mm, frozen_points, midpoint
from geometry.curves import polyline
from geometry.curves.retrace import thinned
from geometry.model.dart import DoubleDart
from geometry.tolerance import ON_EDGE_MM, THINNED_MM

MIRROR, GRAIN, GRADE_REFERENCE, DRILLED = "6", "7", "5", "13"

LARGEST_HOLE_MM = 12.0
"""A round closed line no larger is a drill hole that was drawn as a circle (own choice)."""

_ROUND_WITHIN = 0.1
_FEWEST_ROUND_POINTS = 8
_RANKS = frozenset({"2", "3"})


@dataclass(frozen=True, slots=True)
class Spot:
    """A drawn point; ``loose`` where its layer says nothing about what it is."""

    at: Point
    loose: bool = False


@dataclass(frozen=True, slots=True)
class Parts:
    """The unnamed parts of a piece; edges by number."""

    ruler: EdgeRuler
    darts: tuple[FoundDart, ...]
    double_darts: tuple[DoubleDart, ...]
    notches: tuple[FoundNotch, ...]
    lines: tuple[Shape, ...]
    spots: tuple[Spot, ...]
    mirrors: tuple[Shape, ...]
    grain: Shape | None

    def nameables(self) -> list[Nameable]:
        """The points at which texts can name them."""
        found = [Nameable(Thing.POINT, index, spot.at) for index, spot in enumerate(self.spots)]
        found += [Nameable(Thing.DART, index, dart.tip) for index, dart in enumerate(self.darts)]
        found += [Nameable(Thing.DOUBLE_DART, index, dart.tip_start) for index, dart in enumerate(self.double_darts)]
        found += [Nameable(Thing.NOTCH, index, notch.drawn_at) for index, notch in enumerate(self.notches)]
        for index, line in enumerate(self.lines):
            ends = as_point(line.points[0]), as_point(line.points[-1])
            found.append(Nameable(Thing.LINE, index, ends[0]))
            if line.layer == LOOSE and not line.closed:
                found += [Nameable(Thing.LINE, index, ends[1]), Nameable(Thing.LINE, index, midpoint(*ends))]
        return found


def parts_of(
    shapes: Sequence[Shape], words: Sequence[Shape], outline: Outline, piece: str, report: ImportReport
) -> Parts:
    """The parts of a piece.

    Args:
        shapes: Everything drawn on it but its outlines.
        words: Its texts that may name things.
        outline: Its sides.
        piece: Its name, for findings.
        report: Where findings and unused shapes go.
    """
    slack_mm = outline.slack_mm
    paths = [shape for shape in shapes if shape.kind == "path"]
    grain = _grain(paths, report)
    lines = [shape for shape in paths if shape.layer not in (MIRROR, GRAIN, GRADE_REFERENCE)]
    circles = [shape for shape in lines if _is_hole(shape)]
    spots = _spots(shapes, circles)
    ruler = EdgeRuler(outline.sides)
    drawn = [shape for shape in lines if not any(shape is circle for circle in circles)]
    in_lines, lines = darts_from_lines(drawn, ruler, slack_mm, piece, report)
    darts = [*in_lines, *darts_from_wedges(outline.wedges, ruler)]
    ticks, lines = notch_ticks(lines, ruler, slack_mm, report)
    on_layers = [shape for shape in shapes if shape.kind == "point" and shape.layer in texts.NOTCH_LAYERS]
    notches = [*notch_points(on_layers, ruler, piece, report), *ticks, *notch_wedges(outline.wedges, ruler)]
    holes = [spot.at for spot in spots if _may_be_tip(spot.at, words, slack_mm)]
    darts += darts_from_holes(holes, notches, darts, ruler, piece, report)
    straight, darts = straight_mouths(ruler, darts)
    doubles = [(shape, double_dart_of(shape)) for shape in lines]
    return Parts(
        straight,
        tuple(darts),
        tuple(double for _, double in doubles if double is not None),
        tuple(_measured_again(without_doubles(notches), ruler, straight)),
        tuple(_drawn_clean(shape, outline.traced, report) for shape, double in doubles if double is None),
        tuple(spots),
        tuple(shape for shape in paths if shape.layer == MIRROR),
        grain,
    )


def _grain(paths: Iterable[Shape], report: ImportReport) -> Shape | None:
    grain = None
    for shape in paths:
        if shape.layer == GRADE_REFERENCE:
            report.unused(shape, "grade reference lines are not used")
        elif shape.layer == GRAIN and grain is not None:
            report.unused(shape, "the first grain line of a piece is kept")
        elif shape.layer == GRAIN:
            grain = shape
    return grain


def _is_hole(shape: Shape) -> bool:
    if not shape.closed or shape.layer not in (LOOSE, DRILLED) or len(shape.points) < _FEWEST_ROUND_POINTS:
        return False
    radii = np.hypot(*(shape.points - shape.points.mean(axis=0)).T)
    return 2 * float(radii.max()) <= LARGEST_HOLE_MM and float(np.ptp(radii)) <= _ROUND_WITHIN * float(radii.max())


def _spots(shapes: Iterable[Shape], circles: Iterable[Shape]) -> list[Spot]:
    points = [s for s in shapes if s.kind == "point" and s.layer not in texts.NOTCH_LAYERS and s.layer not in _RANKS]
    spots = [Spot(as_point(shape.points[0]), shape.layer != DRILLED) for shape in points]
    return spots + [Spot(as_point(circle.points.mean(axis=0))) for circle in circles]


def _may_be_tip(place: Point, words: Iterable[Shape], slack_mm: float) -> bool:
    """Whether a drilled point is unnamed or named as a dart in plain words."""
    near = [shape.text for shape in words if distance_mm(as_point(shape.points[0]), place) <= slack_mm]
    return all(texts.field_of(text) is None and "dart" in text.lower() for text in near)


def _measured_again(notches: Sequence[FoundNotch], before: EdgeRuler, after: EdgeRuler) -> Sequence[FoundNotch]:
    """The notches along edges that were straightened across dart mouths."""
    if before is after:
        return notches
    places = [before.point(notch.edge, notch.at_mm) for notch in notches]
    measured = [polyline.nearest(after.chains[n.edge], place)[0] for n, place in zip(notches, places, strict=True)]
    return [replace(notch, at_mm=at_mm) for notch, at_mm in zip(notches, measured, strict=True)]


def _drawn_clean(shape: Shape, traced: bool, report: ImportReport) -> Shape:
    """A traced line without its shake, where that is taken: straight where it was meant so."""
    if not traced or shape.layer != LOOSE or len(shape.points) < 3:
        return shape
    straight = polyline.offset_from_chord_mm(shape.points) <= ON_EDGE_MM
    clean = frozen_points(thinned(shape.points, within_mm=ON_EDGE_MM if straight else THINNED_MM))
    moved_mm = max(polyline.nearest(clean, as_point(place))[1] for place in shape.points)
    how, at = "drawn straight" if straight else "thinned", as_point(shape.points[len(shape.points) // 2])
    taken = report.suggest(Kind.LINE, how, at, drawn=(shape.points, clean), moved_mm=moved_mm)
    return replace(shape, points=clean) if taken else shape
