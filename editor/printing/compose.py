"""A pattern piece as it is drawn on paper."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np

from editor.printing import wording
from editor.printing.ink import ink_points
from editor.printing.label_room import readable_deg
from editor.printing.lettering import CAPITAL
from editor.printing.picture import (
    SIZE_DASHES_MM,
    Anchor,
    Drawing,
    Label,
    LineKind,
    PiecePicture,
    Spot,
    Stroke,
    joined,
    line,
)
from editor.printing.piece_label import Ticket, quantity_words, word_block
from geometry.affine import Point, Points, as_point, distance_mm, frozen_points, midpoint, unit_vector
from geometry.allowance import cutting_line
from geometry.curves import polyline
from geometry.model.dart import Dart, DoubleDart
from geometry.model.edge import Edge, EdgeRole
from geometry.model.garment import is_lengthen_line
from geometry.model.marks import Mark, MarkKind, Notch, NotchKind
from geometry.model.piece import Piece
from geometry.tolerance import STRAIGHT_MM

_ARROW_MM: Final = 5.0
_FOLD_INSET_MM: Final = 12.0
_WORDS_MM: Final = 3.6
_SMALL_MM: Final = 2.8
_HOLE_MM: Final = 1.5
_LANDMARK_MM: Final = 3.5
_NOTCH_WIDTH_MM: Final = 4.0
_DOUBLE_MM: Final = 3.0
_FAR_MM: Final = 10.0
_GRADED: Final = (EdgeRole.SIDE, EdgeRole.UNDERARM, EdgeRole.INSEAM)
_LABEL_SHARES: Final = (0.3, 0.7, 0.5, 0.2, 0.8)
_BARE_NOTCH_MM: Final = 3.0
"""Where there is no allowance a notch is cut in this far: 2 to 3 mm is usual (common practice)."""


def piece_picture(
    piece: Piece,
    ticket: Ticket,
    *,
    chalk: Sequence[Points] = (),
    lengthen: Sequence[Points] = (),
    others: Sequence[Piece] = (),
) -> PiecePicture:
    """Everything that is printed of a piece.

    Args:
        piece: The piece, its edges the stitching line.
        ticket: For whom, which round, when.
        chalk: Lines along which this round altered the piece.
        lengthen: Lines along which it is lengthened or shortened, from edge to edge.
        others: The same piece in other sizes, to be drawn on it.
    """
    cutting = cutting_line(_bare_at_fold(piece))
    marks = [
        *_cutting_strokes(piece, cutting),
        *_stitching_strokes(piece),
        *(stroke for dart in piece.darts for stroke in _dart_strokes(piece, dart, cutting)),
        *(stroke for dart in piece.double_darts for stroke in _double_dart_strokes(dart)),
        *(stroke for notch in piece.notches for stroke in _notch_strokes(piece, notch, cutting)),
        *(
            Stroke(inner.points, LineKind.INNER, inner.closed)
            for inner in piece.inner_lines
            if not is_lengthen_line(inner.id)
        ),
        *(stroke for chain in lengthen for stroke in double_line(as_point(chain[0]), as_point(chain[-1]))),
        *(Stroke(points, LineKind.ALTERATION) for points in chalk),
        *(stroke for mark in piece.marks for stroke in _mark_strokes(mark)),
        *_grain_strokes(piece),
    ]
    fold = _fold_mark(piece)
    names = tuple(_landmark_label(mark, cutting) for mark in piece.marks if mark.kind is MarkKind.LANDMARK)
    drawing = Drawing(tuple(marks), names) + fold
    drawing += Drawing((), tuple(_lengthen_label(chain, drawing) for chain in lengthen))
    drawing = drawing.of_size(piece.size)
    if others:
        drawing = joined([drawing, _size_tag(piece, cutting), *(other_size(each, n) for n, each in enumerate(others))])
    sizes = [each.size for each in (piece, *others)]
    words = word_block(piece, ticket, sizes)
    return PiecePicture(piece.name, drawing, cutting, quantity_words(piece), words, spots_of(piece))


def other_size(piece: Piece, number: int) -> Drawing:
    """What of a further size is drawn on a piece: its cutting line in dashes of its own, darts, notches, its name."""
    cutting = cutting_line(_bare_at_fold(piece))
    dash_mm = SIZE_DASHES_MM[number % len(SIZE_DASHES_MM)]
    strokes = [
        *(
            replace(stroke, dash_mm=dash_mm)
            for stroke in _cutting_strokes(piece, cutting)
            if stroke.kind is LineKind.CUTTING
        ),
        *(stroke for dart in piece.darts for stroke in _dart_strokes(piece, dart, cutting)),
        *(stroke for dart in piece.double_darts for stroke in _double_dart_strokes(dart)),
        *(stroke for notch in piece.notches for stroke in _notch_strokes(piece, notch, cutting)),
    ]
    return Drawing(tuple(strokes)).of_size(piece.size) + _size_tag(piece, cutting)


def _size_tag(piece: Piece, cutting: Points) -> Drawing:
    """The name of the size beside its cutting line, in the middle of an edge where sizes lie apart."""
    edge = max((e for e in piece.edges if e.id != piece.fold), key=lambda e: (e.role in _GRADED, e.length_mm))
    foot = edge.point_at(edge.length_mm / 2)
    dx, dy = polyline.direction_at(edge.points, edge.length_mm / 2)
    x, y = _first_hit(cutting, foot, (dy, -dx)) or foot
    off = _SMALL_MM * 0.8
    label = Label((x - off * dy, y + off * dx), piece.size, _SMALL_MM, bold=True)
    return Drawing((), (label,)).of_size(piece.size)


def spots_of(piece: Piece) -> tuple[Spot, ...]:
    """Its darts and notches, each a chain that a join of sheets should not meet."""
    darts = [Spot(f"the {dart.id}", _dart_chain(piece, dart)) for dart in piece.darts]
    doubles = [
        Spot(f"the {dart.id}", frozen_points([dart.tip_start, dart.left, dart.tip_end, dart.right, dart.tip_start]))
        for dart in piece.double_darts
    ]
    notches = []
    for notch in piece.notches:
        foot = piece.notch_point(notch)
        dx, dy = polyline.direction_at(piece.edge(notch.edge).points, notch.at_mm)
        top = (foot[0] + dy * notch.depth_mm, foot[1] - dx * notch.depth_mm)
        notches.append(Spot(f"the {notch.id} notch", frozen_points([foot, top])))
    return (*darts, *doubles, *notches)


def _dart_chain(piece: Piece, dart: Dart) -> Points:
    a, b = piece.mouth(dart)
    return frozen_points([a, dart.tip, b])


def double_line(start: Point, end: Point) -> list[Stroke]:
    """The double line of the trade: one on each side of where the piece is cut."""
    (x0, y0), (x1, y1) = start, end
    ux, uy = unit_vector(start, end)
    dx, dy = -uy * _DOUBLE_MM / 2, ux * _DOUBLE_MM / 2
    return [
        line((x0 + side * dx, y0 + side * dy), (x1 + side * dx, y1 + side * dy), LineKind.LENGTHEN) for side in (1, -1)
    ]


def _lengthen_label(chain: Points, drawing: Drawing) -> Label:
    """Its words above the line, where least is in their way."""
    start, end = as_point(chain[0]), as_point(chain[-1])
    ux, uy = unit_vector(start, end)
    angle_deg = readable_deg(math.degrees(math.atan2(uy, ux)))
    up = math.radians(angle_deg + 90.0)
    off = _DOUBLE_MM / 2 + 1.2
    labels = [
        Label(
            (
                start[0] + share * (end[0] - start[0]) + off * math.cos(up),
                start[1] + share * (end[1] - start[1]) + off * math.sin(up),
            ),
            wording.LINES[LineKind.LENGTHEN],
            _SMALL_MM,
            angle_deg,
        )
        for share in _LABEL_SHARES
    ]
    ink = ink_points(drawing)
    return max(labels, key=lambda label: round(_nearest_mm(ink_points(Drawing((), (label,))), ink)))


def _nearest_mm(points: Points, ink: Points) -> float:
    away = np.hypot(points[:, None, 0] - ink[None, :, 0], points[:, None, 1] - ink[None, :, 1])
    return min(float(away.min()), _FAR_MM)


def _bare_at_fold(piece: Piece) -> Piece:
    """Nothing is added at a fold, whatever allowance its edge came with."""
    edges = tuple(replace(edge, allowance_mm=0.0) if edge.id == piece.fold else edge for edge in piece.edges)
    return replace(piece, edges=edges)


def _cutting_strokes(piece: Piece, cutting: Points) -> list[Stroke]:
    """The cutting line; where it runs along the fold it is the fold line instead."""
    if piece.fold is None:
        return [Stroke(cutting, LineKind.CUTTING, closed=True)]
    fold = piece.edge(piece.fold)
    on_fold = _near_line(cutting, fold.start, fold.end)
    folded = on_fold & np.roll(on_fold, -1)
    if not folded.any() or folded.all():
        return [Stroke(cutting, LineKind.CUTTING, closed=True)]
    return [Stroke(chain, LineKind.FOLD if is_fold else LineKind.CUTTING) for chain, is_fold in _runs(cutting, folded)]


def _near_line(points: Points, a: Point, b: Point) -> np.ndarray:
    ux, uy = unit_vector(a, b)
    return np.asarray(np.abs((points[:, 0] - a[0]) * uy - (points[:, 1] - a[1]) * ux) <= STRAIGHT_MM)


def _runs(ring: Points, flags: np.ndarray) -> list[tuple[Points, bool]]:
    """The ring cut where the flag of its sides changes: chains with their flag."""
    first = int(np.flatnonzero(flags != np.roll(flags, 1))[0])
    points, marks = np.roll(ring, -first, axis=0), np.roll(flags, -first)
    cuts = [0, *(np.flatnonzero(np.diff(marks.astype(int))) + 1).tolist(), len(points)]
    closed = np.vstack([points, points[:1]])
    return [(frozen_points(closed[a : b + 1]), bool(marks[a])) for a, b in pairwise(cuts)]


def _stitching_strokes(piece: Piece) -> list[Stroke]:
    """The stitching line where it is not the cutting line or the fold; left out across the mouths of darts."""
    return [
        Stroke(chain, LineKind.STITCHING)
        for edge in piece.edges
        if edge.id != piece.fold and edge.allowance_mm > 0
        for chain in _between_mouths(edge, piece.darts_on(edge.id))
    ]


def _between_mouths(edge: Edge, darts: Iterable[Dart]) -> list[Points]:
    starts, ends = [0.0], []
    for dart in darts:
        ends.append(dart.from_mm)
        starts.append(dart.to_mm)
    ends.append(edge.length_mm)
    parts = [polyline.part_between(edge.points, a, b) for a, b in zip(starts, ends, strict=True) if b > a]
    return [part for part in parts if len(part) > 1]


def _dart_strokes(piece: Piece, dart: Dart, cutting: Points) -> list[Stroke]:
    """Legs, centre line, and a notch from each leg out to the cutting line; of a tuck the notches only."""
    a, b = piece.mouth(dart)
    strokes: list[Stroke] = []
    if dart.stitched:
        strokes.append(Stroke(_dart_chain(piece, dart), LineKind.DART_LEG))
        strokes.append(line(midpoint(a, b), dart.tip, LineKind.DART_CENTRE))
    for mouth in (a, b):
        reached = _first_hit(cutting, mouth, unit_vector(dart.tip, mouth))
        if reached is not None:
            strokes.append(line(reached, mouth, LineKind.NOTCH))
    return strokes


def _double_dart_strokes(dart: DoubleDart) -> list[Stroke]:
    ring = frozen_points([dart.tip_start, dart.left, dart.tip_end, dart.right])
    return [Stroke(ring, LineKind.DART_LEG, closed=True), line(dart.tip_start, dart.tip_end, LineKind.DART_CENTRE)]


def _notch_strokes(piece: Piece, notch: Notch, cutting: Points) -> list[Stroke]:
    """A mark from the cutting line inwards, no deeper than the allowance."""
    edge = piece.edge(notch.edge)
    foot = piece.notch_point(notch)
    dx, dy = polyline.direction_at(edge.points, notch.at_mm)
    outwards = (dy, -dx)
    top = (_first_hit(cutting, foot, outwards) if edge.allowance_mm > 0 else None) or foot
    room_mm = distance_mm(top, foot) if edge.allowance_mm > 0 else _BARE_NOTCH_MM
    deep, half = min(notch.depth_mm, room_mm), (notch.width_mm or _NOTCH_WIDTH_MM) / 2

    def at(along: float, inwards: float) -> Point:
        return (top[0] + along * dx - inwards * dy, top[1] + along * dy + inwards * dx)

    shapes: dict[NotchKind, list[list[Point]]] = {
        NotchKind.SLIT: [[at(0, 0), at(0, deep)]],
        NotchKind.V: [[at(-half, 0), at(0, deep), at(half, 0)]],
        NotchKind.CHECK: [[at(0, 0), at(0, deep), at(half, 0)]],
        NotchKind.T: [[at(0, 0), at(0, deep)], [at(-half, deep), at(half, deep)]],
        NotchKind.CASTLE: [[at(-half, 0), at(-half, deep), at(half, deep), at(half, 0)]],
        NotchKind.U: [[at(-half, 0), at(-half, deep / 2), at(0, deep), at(half, deep / 2), at(half, 0)]],
    }
    return [Stroke(frozen_points(chain), LineKind.NOTCH) for chain in shapes[notch.kind]]


def _first_hit(ring: Points, start: Point, direction: Point) -> Point | None:
    """Where a ray first meets a ring, ``None`` if it does not."""
    a, side = ring, np.roll(ring, -1, axis=0) - ring
    ux, uy = direction
    across = ux * side[:, 1] - uy * side[:, 0]
    to_x, to_y = a[:, 0] - start[0], a[:, 1] - start[1]
    with np.errstate(divide="ignore", invalid="ignore"):
        far = (to_x * side[:, 1] - to_y * side[:, 0]) / across
        share = (to_x * uy - to_y * ux) / across
    hits = far[(across != 0) & (share >= 0) & (share <= 1) & (far > STRAIGHT_MM)]
    return (start[0] + float(hits.min()) * ux, start[1] + float(hits.min()) * uy) if len(hits) else None


def _mark_strokes(mark: Mark) -> list[Stroke]:
    """A small circle with a cross for a drill hole, a larger one for a landmark; digitiser's curve points: nothing."""
    if mark.kind is MarkKind.CURVE_POINT:
        return []
    (x, y), r = mark.at, _HOLE_MM if mark.kind is MarkKind.DRILL else _LANDMARK_MM
    turns = np.linspace(0.0, 2 * math.pi, 24, endpoint=False)
    circle = np.column_stack([x + r * np.cos(turns), y + r * np.sin(turns)])
    return [
        Stroke(circle, LineKind.DRILL, closed=True),
        line((x - 1.6 * r, y), (x + 1.6 * r, y), LineKind.DRILL),
        line((x, y - 1.6 * r), (x, y + 1.6 * r), LineKind.DRILL),
    ]


def _landmark_label(mark: Mark, cutting: Points) -> Label:
    """The name to the right of the mark, or to its left where it would leave the piece."""
    (x, y), off = mark.at, 2 * _LANDMARK_MM
    right = Label((x + off, y + 1.0), mark.id, _SMALL_MM, anchor=Anchor.START, grey=0.2)
    if polyline.contains(cutting, ink_points(Drawing((), (right,)))).all():
        return right
    return replace(right, at=(x - off, y + 1.0), anchor=Anchor.END)


def _grain_strokes(piece: Piece) -> list[Stroke]:
    return grain_line(piece.grain.start, piece.grain.end) if piece.grain is not None else []


def grain_line(start: Point, end: Point) -> list[Stroke]:
    """A grain line with an arrow head at both ends."""
    return [line(start, end, LineKind.GRAIN), _arrow_head(start, end), _arrow_head(end, start)]


def _arrow_head(tail: Point, tip: Point) -> Stroke:
    ux, uy = unit_vector(tail, tip)
    bx, by = tip[0] - _ARROW_MM * ux, tip[1] - _ARROW_MM * uy
    wing = _ARROW_MM * 0.28
    ring = frozen_points([tip, (bx - wing * uy, by + wing * ux), (bx + wing * uy, by - wing * ux)])
    return Stroke(ring, LineKind.ARROW_HEAD, closed=True)


def _fold_mark(piece: Piece) -> Drawing:
    """An arrow bent towards the fold at both ends, with its words along it."""
    if piece.fold is None:
        return Drawing()
    fold = piece.edge(piece.fold)
    ux, uy = unit_vector(fold.start, fold.end)
    inset = min(_FOLD_INSET_MM, fold.length_mm / 4)

    def at(share: float, inwards: float) -> Point:
        x, y = as_point(np.array(fold.start) + share * (np.array(fold.end) - np.array(fold.start)))
        return (x - inwards * uy, y + inwards * ux)

    low, high = 0.2, 0.8
    path = frozen_points([at(low, 0), at(low, inset), at(high, inset), at(high, 0)])
    heads = (_arrow_head(at(low, inset), at(low, 0)), _arrow_head(at(high, inset), at(high, 0)))
    along_deg = math.degrees(math.atan2(uy, ux))
    angle_deg = readable_deg(along_deg)
    upside_down = abs(angle_deg - along_deg) > 90.0
    away = inset + 1.6 + (_WORDS_MM * CAPITAL if upside_down else 0.0)
    words = Label(at(0.5, away), wording.FOLD, _WORDS_MM, angle_deg)
    return Drawing((Stroke(path, LineKind.GRAIN), *heads), (words,))
