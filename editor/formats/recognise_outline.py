"""The outline of a piece taken apart at its corners."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from editor.formats.clean_up import Kind
from editor.formats.contours import drop_doubled
from editor.formats.drawing import Shape
from editor.formats.edge_ruler import EdgeRuler, counter_clockwise
from editor.formats.import_report import ImportReport, counted
from editor.formats.recognise_caps import corners_beside, without_caps
from editor.formats.recognise_sketches import Sketch
from editor.formats.recognise_slits import LARGEST_NICK_MM, Wedge, may_have_wedges, without_wedges
from editor.formats.traced_nicks import without_nicks
from geometry.affine import Points, as_point, distance_mm, frozen_points, midpoint
from geometry.curves import polyline
from geometry.curves.corners import drawn_corners, is_rough
from geometry.curves.retrace import Retraced, Side, TraceCorner, retraced, trace_corners
from geometry.tolerance import DOUBLED_POINT_MM, ON_EDGE_MM, SAME_POINT_MM

TURN_POINT_MM = 0.01
"""Turn points repeat a vertex exactly; files rounded to two decimals may differ in the last one."""


@dataclass(frozen=True, slots=True)
class Outline:
    """The sides of a piece.

    Attributes:
        sides: Chains from corner to corner, counter-clockwise.
        cutting: The cutting line round it, ``None`` where only one line was drawn.
        wedges: Darts and notches that were cut into it.
        traced: Whether it was a trace, so that marks may lie a little beside it.
    """

    sides: tuple[Points, ...]
    cutting: Points | None
    wedges: tuple[Wedge, ...] = ()
    traced: bool = False

    @property
    def slack_mm(self) -> float:
        """How near a mark must be to lie on it."""
        return 2 * ON_EDGE_MM if self.traced else ON_EDGE_MM


def outline_of(sketch: Sketch, piece: str, report: ImportReport) -> Outline:
    """The sides of a sketch: cut at its turn points where it has any, else where corners are found."""
    drawn = sketch.boundary if sketch.sew is None else sketch.sew
    ring = counter_clockwise(drawn)
    if ring is not drawn:
        report.note("turned", f'The outline of the piece "{piece}" ran clockwise and was turned round.', piece=piece)
    cutting = None if sketch.sew is None else counter_clockwise(drop_doubled(sketch.boundary, closed=True))
    ring, feet = without_caps(drop_doubled(ring, closed=True, within_mm=SAME_POINT_MM), sketch.shapes)
    _tell_caps(feet, piece, report)
    nicks: tuple[Wedge, ...] = ()
    declined: tuple[Wedge, ...] = ()
    stated = _turn_points(ring, sketch.shapes, feet)
    if stated is not None:
        sides, traced = stated, False
    else:
        ring = drop_doubled(ring, closed=True, within_mm=DOUBLED_POINT_MM)
        traced = is_rough(ring)
        if traced:
            ring, nicks, declined = without_nicks(ring, partial(_takes_wedge, report))
        sides = _drawn_clean(ring, piece, report) if traced else _cut(ring, _found_corners(ring))
    wedges: tuple[Wedge, ...] = ()
    if may_have_wedges(sides):
        sides, wedges = without_wedges(
            sides, _named(sides, sketch.shapes), partial(_takes_wedge, report, besides=declined)
        )
    _tell_wedges((*nicks, *wedges), piece, report)
    return Outline(sides, cutting, (*nicks, *wedges), traced)


def _turn_points(ring: Points, shapes: Sequence[Shape], feet: Points) -> tuple[Points, ...] | None:
    places = [shape.points[0] for shape in shapes if shape.layer == "2" and shape.kind == "point"]
    if not places:
        return None
    away = np.array(places)[:, None, :] - ring[None, :, :]
    gaps = np.hypot(away[..., 0], away[..., 1])
    nearest = np.argmin(gaps, axis=1)
    met = gaps[np.arange(len(places)), nearest] <= TURN_POINT_MM
    corners = np.array(corners_beside(ring, np.unique(nearest[met]).tolist(), feet), dtype=np.intp)
    return _cut(ring, corners) if len(corners) >= 2 else None


def _found_corners(ring: Points) -> NDArray[np.intp]:
    corners = drawn_corners(ring)
    if len(corners) >= 2:
        return np.array(corners, dtype=np.intp)
    start = corners[0] if corners else 0
    away = int(np.argmax(np.hypot(*(ring - ring[start]).T)))
    return np.array(sorted({start, away}), dtype=np.intp)


def _cut(ring: Points, corners: NDArray[np.intp]) -> tuple[Points, ...]:
    closed = np.vstack([ring, ring[: corners[0] + 1]])
    ends = [*corners.tolist(), len(ring) + int(corners[0])]
    return tuple(frozen_points(closed[start : end + 1]) for start, end in pairwise(ends))


def _drawn_clean(ring: Points, piece: str, report: ImportReport) -> tuple[Points, ...]:
    """The sides of a trace, each corner and each clean side only where it is taken."""
    within_mm = report.clean_up.within_mm
    corners_mm = _taken_corners(ring, report)
    offered = retraced(ring, corners_mm=corners_mm, within_mm=within_mm)
    left = {index for index, side in enumerate(offered.sides) if side.is_clean and not _takes_side(side, report)}
    clean = retraced(ring, corners_mm=corners_mm, within_mm=within_mm, as_traced=left) if left else offered
    _tell_clean(clean, piece, report)
    return clean.chains


def _taken_corners(ring: Points, report: ImportReport) -> list[float]:
    found = [corner.at_mm for corner in trace_corners(ring) if _takes_corner(corner, report)]
    closed = frozen_points(np.vstack([ring, ring[:1]]))
    added = [polyline.nearest(closed, place)[0] for place in report.added_corners()]
    return sorted([*found, *added])


def _takes_corner(corner: TraceCorner, report: ImportReport) -> bool:
    return report.suggest(Kind.CORNER, f"corner of {corner.inside_deg:.0f}°", corner.place)


def _takes_side(side: Side, report: ImportReport) -> bool:
    how = "drawn straight" if side.is_line else "smoothed"
    at = as_point(side.traced[len(side.traced) // 2])
    return report.suggest(Kind.SIDE, how, at, drawn=(side.traced, side.chain), moved_mm=side.moved_mm)


def _tell_clean(clean: Retraced, piece: str, report: ImportReport) -> None:
    if not any(side.is_clean for side in clean.sides):
        report.note("as-traced", f'The outline of the piece "{piece}" is a trace and was left as it is.', piece=piece)
        return
    straight = counted(clean.straightened, "side was drawn straight", "sides were drawn straight")
    report.note(
        "trace-cleaned",
        f'The outline of the piece "{piece}" is a trace: {straight} and {clean.smoothed} smoothed, moving no point by '
        f"more than {clean.moved_mm:.2f} mm.",
        piece=piece,
        measured_mm=clean.moved_mm,
    )


def _takes_wedge(report: ImportReport, wedge: Wedge, besides: Sequence[Wedge] = ()) -> bool:
    """Whether a wedge is taken; one that was found before and declined is not offered again."""
    if any(distance_mm(wedge.tip, other.tip) <= LARGEST_NICK_MM for other in besides):
        return False
    drawn = (frozen_points([wedge.start, wedge.tip, wedge.end]),)
    if wedge.is_nick:
        return report.suggest(Kind.NOTCH, "a notch cut into the outline", midpoint(wedge.start, wedge.end), drawn=drawn)
    return report.suggest(Kind.DART, "a dart cut into the outline", wedge.tip, drawn=drawn)


def _named(sides: Sequence[Points], shapes: Sequence[Shape]) -> list[bool]:
    """For each side whether a text lies on it, away from its ends."""
    named = [False] * len(sides)
    ruler = EdgeRuler(sides)
    texts = [shape.points[0] for shape in shapes if shape.kind == "text"]
    for found in ruler.nearest(np.array(texts).reshape(-1, 2)):
        inner = ON_EDGE_MM < found.at_mm < ruler.lengths_mm[found.edge] - ON_EDGE_MM
        if found.gap_mm <= ON_EDGE_MM and inner:
            named[found.edge] = True
    return named


def _tell_caps(feet: Points, piece: str, report: ImportReport) -> None:
    if len(feet):
        were = counted(len(feet) // 2, "dart cap was", "dart caps were")
        text = f'In the outline of the piece "{piece}" {were} taken off; darts draw them anew.'
        report.note("dart-cap", text, piece=piece)


def _tell_wedges(wedges: Sequence[Wedge], piece: str, report: ImportReport) -> None:
    for wedge in wedges:
        if not wedge.is_nick:
            report.note(
                "dart-in-outline",
                f'A wedge cut into the outline of the piece "{piece}" is taken as a dart; its edge now runs straight '
                "across the mouth.",
                piece=piece,
                where=wedge.tip,
            )
    nicks = sum(wedge.is_nick for wedge in wedges)
    if nicks:
        are = counted(nicks, "small wedge is taken as a notch", "small wedges are taken as notches")
        text = f'In the outline of the piece "{piece}" {are}.'
        report.note("notch-in-outline", text, piece=piece)
