"""What every sheet carries besides the pattern: its border, where to cut and join it, its place and its neighbours.

Sheets meet along the left and the upper border of the later one. There each of the two draws its half of a diamond, and
round each corner its quarter of a ring; put together rightly the halves and quarters close. Where sheets overlap, the
upper left corner of a sheet is cut off: through it shows the sheet below, with its label and that quarter of the ring.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

import numpy as np

from editor.printing import wording
from editor.printing.correction import Correction
from editor.printing.ink import ink_points
from editor.printing.lettering import CAPITAL, shortened
from editor.printing.paper import PageFormat
from editor.printing.picture import Anchor, Box, Drawing, Label, LineKind, Stroke, line
from editor.printing.tiles import Tile, TileGrid
from geometry.affine import Point, Points, as_point, frozen_points

DIAMOND_MM: Final = 7.0
"""From the middle of a diamond to its points."""

RING_MM: Final = 5.0
"""Radius of the rings at the corners."""

_WORDS_MM: Final = 2.5
_SCISSORS_MM: Final = 5.0
_TAG_MM: Final = 8.0
_TAG_BOX_MM: Final = (52.0, 18.0)
_TAG_INSET_MM: Final = 9.0
_ARC_STEPS: Final = 12
_CORNER_MM: Final = 8.0
_LEAST_CORNER_MM: Final = 5.0
"""Where sheets overlap by less than this no corner is cut: nothing could be read through it."""


@dataclass(frozen=True, slots=True)
class Neighbours:
    """Labels of the printed sheets round one sheet; "" where there is none."""

    left: str
    right: str
    above: str
    below: str


def neighbours(tile: Tile, printed: Collection[Tile]) -> Neighbours:
    """The sheets that this one is joined to."""

    def label(row: int, column: int) -> str:
        other = Tile(tile.row + row, tile.column + column)
        return other.label if other in printed else ""

    return Neighbours(label(0, -1), label(0, 1), label(-1, 0), label(1, 0))


def joined_box(grid: TileGrid) -> Box:
    """On the sheet, the rectangle between the lines along which sheets meet."""
    usable, (step_x, step_y) = grid.page.usable, grid.page.step_mm
    return Box(usable.x0, usable.y1 - step_y, usable.x0 + step_x, usable.y1)


def cut_corner_mm(page: PageFormat) -> float:
    """How much of a corner is cut off, along both its sides; 0 where sheets do not overlap enough for it."""
    return min(_CORNER_MM, page.overlap_mm) if page.overlap_mm >= _LEAST_CORNER_MM else 0.0


def borders(grid: TileGrid, around: Neighbours) -> Drawing:
    """The border of the sheet: where to cut it, where the next sheet is laid, and a hairline where nothing joins."""
    usable, joined = grid.page.usable, joined_box(grid)
    lower_left, lower_right, upper_right, upper_left = (as_point(corner) for corner in usable.ring)

    def kind(is_cut: object) -> LineKind:
        return LineKind.TRIM if is_cut else LineKind.FRAME

    strokes = [
        line(upper_left, lower_left, kind(around.left)),
        line(upper_right, upper_left, kind(around.above)),
        line(lower_left, lower_right, kind(around.below and grid.page.butted)),
        line(lower_right, upper_right, kind(around.right and grid.page.butted)),
    ]
    if around.right and grid.page.overlap_mm:
        strokes.append(line((joined.x1, usable.y0), (joined.x1, usable.y1), LineKind.JOIN))
    if around.below and grid.page.overlap_mm:
        strokes.append(line((usable.x0, joined.y0), (usable.x1, joined.y0), LineKind.JOIN))
    corner_mm = cut_corner_mm(grid.page)
    if corner_mm and (around.left or around.above):
        x, y = upper_left
        strokes.append(line((x, y - corner_mm), (x + corner_mm, y), LineKind.TRIM))
    return Drawing(tuple(strokes), _scissors(grid.page, around))


def _scissors(page: PageFormat, around: Neighbours) -> tuple[Label, ...]:
    """Along every side that is cut, its blades on the line."""
    box, below_line_mm = page.usable, _SCISSORS_MM * CAPITAL / 2
    places = (
        (around.above, (box.x1 - 26.0, box.y1 - below_line_mm), 0.0),
        (around.left, (box.x0 + below_line_mm, box.y0 + 26.0), 90.0),
        (around.below and page.butted, (box.x1 - 26.0, box.y0 - below_line_mm), 0.0),
        (around.right and page.butted, (box.x1 + below_line_mm, box.y0 + 26.0), 90.0),
    )
    return tuple(Label(at, "✂", _SCISSORS_MM, angle_deg) for is_cut, at, angle_deg in places if is_cut)


def join_marks(grid: TileGrid, tile: Tile, printed: Collection[Tile]) -> Drawing:
    """Half diamonds with the neighbour's label in the middle of every joining edge, quarter rings at its ends."""
    box, around = joined_box(grid), neighbours(tile, printed)
    (x, y), r = box.centre, DIAMOND_MM
    drop = _WORDS_MM * CAPITAL / 2
    strokes, labels = [], []
    for name, tip, base, words_at, anchor in (
        (around.left, (box.x0 + r, y), ((box.x0, y + r), (box.x0, y - r)), (box.x0 + 0.8, y - drop), Anchor.START),
        (around.right, (box.x1 - r, y), ((box.x1, y - r), (box.x1, y + r)), (box.x1 - 0.8, y - drop), Anchor.END),
        (around.above, (x, box.y1 - r), ((x - r, box.y1), (x + r, box.y1)), (x, box.y1 - 3.2), Anchor.MIDDLE),
        (around.below, (x, box.y0 + r), ((x + r, box.y0), (x - r, box.y0)), (x, box.y0 + 1.4), Anchor.MIDDLE),
    ):
        if name:
            strokes.append(Stroke(frozen_points([base[0], tip, base[1]]), LineKind.JOIN_MARK, closed=True))
            labels.append(Label(words_at, name, _WORDS_MM, anchor=anchor))
    corner_mm = cut_corner_mm(grid.page)
    seen = _seen_through(box, tile, printed) if corner_mm else []
    strokes += _quarter_rings(box, around, is_cut=corner_mm > 0)
    strokes += [Stroke(_quarter_ring(*corner, 270), LineKind.RULE) for corner in seen]
    labels += [_corner_label(corner, corner_mm, tile.label) for corner in seen]
    return Drawing(tuple(strokes), tuple(labels))


def _seen_through(box: Box, tile: Tile, printed: Collection[Tile]) -> list[Point]:
    """The corners of this sheet that show through a cut corner: of the sheet at the right, or below the row's first."""
    corners = []
    if Tile(tile.row, tile.column + 1) in printed:
        corners.append((box.x1, box.y1))
    if Tile(tile.row + 1, tile.column) in printed and Tile(tile.row + 1, tile.column - 1) not in printed:
        corners.append((box.x0, box.y0))
    return corners


def _corner_label(corner: Point, corner_mm: float, label: str) -> Label:
    size_mm = corner_mm * 0.28
    return Label((corner[0] + 0.7, corner[1] - 0.6 - size_mm * CAPITAL), label, size_mm, anchor=Anchor.START, bold=True)


def _quarter_rings(box: Box, around: Neighbours, *, is_cut: bool) -> list[Stroke]:
    corners = (
        (box.x0, box.y0, 0, around.left or around.below),
        (box.x1, box.y0, 90, around.right or around.below),
        (box.x1, box.y1, 180, around.right or around.above),
        (box.x0, box.y1, 270, not is_cut and (around.left or around.above)),
    )
    return [Stroke(_quarter_ring(x, y, from_deg), LineKind.RULE) for x, y, from_deg, joins in corners if joins]


def _quarter_ring(x: float, y: float, from_deg: float) -> Points:
    turns = np.radians(from_deg + np.linspace(0.0, 90.0, _ARC_STEPS + 1))
    return frozen_points(np.column_stack([x + RING_MM * np.cos(turns), y + RING_MM * np.sin(turns)]))


def join_ink(grid: TileGrid, tiles: Sequence[Tile]) -> Points:
    """Points along the lines where sheets meet and along the marks there, in mm of the joined drawing."""
    found = [np.empty((0, 2))]
    usable, joined = grid.page.usable, joined_box(grid)
    sides = (
        line((joined.x0, joined.y0), (joined.x0, joined.y1), LineKind.JOIN),
        line((joined.x0, joined.y1), (joined.x1, joined.y1), LineKind.JOIN),
    )
    for tile in tiles:
        around = neighbours(tile, tiles)
        lines = [side for side, name in zip(sides, (around.left, around.above), strict=True) if name]
        area = grid.area(tile)
        marks = join_marks(grid, tile, tiles).strokes
        found.append(ink_points(Drawing((*lines, *marks))) + (area.x0 - usable.x0, area.y0 - usable.y0))
    return frozen_points(np.vstack(found))


def place_tag(label: str, small_print: Sequence[str], grid: TileGrid, ink: Points) -> tuple[Label, ...]:
    """The sheet's own label, large, with small print under it, in the corner with the least of the drawing in it.

    Args:
        label: Row letter and column number.
        small_print: Lines in small type.
        grid: The grid of sheets.
        ink: Points along the drawing in mm of this sheet.
    """
    room = joined_box(grid).inset(_TAG_INSET_MM)
    width, height = _TAG_BOX_MM
    places = [
        Box(x, y, x + width, y + height) for y, x in product((room.y1 - height, room.y0), (room.x0, room.x1 - width))
    ]
    place = min(places, key=lambda box: _points_in(box.inset(-2.0), ink))
    left = place.x0 < grid.page.usable.centre[0]
    x, anchor = (place.x0, Anchor.START) if left else (place.x1, Anchor.END)
    top = place.y1 - _TAG_MM * CAPITAL
    lines = [
        Label((x, top - 4.2 - 3.4 * row), shortened(text, width, _WORDS_MM), _WORDS_MM, anchor=anchor, grey=0.35)
        for row, text in enumerate(small_print)
    ]
    return (Label((x, top), label, _TAG_MM, anchor=anchor, bold=True, grey=0.35), *lines)


def _points_in(box: Box, points: Points) -> int:
    x, y = points[:, 0], points[:, 1]
    return int(np.count_nonzero((x >= box.x0) & (x <= box.x1) & (y >= box.y0) & (y <= box.y1)))


def small_print(title: str, number: int, count: int, correction: Correction) -> tuple[str, ...]:
    """What stands under the sheet's label."""
    corrected = "" if correction.is_none else wording.corrected(correction.a_mm, correction.b_mm)
    return tuple(filter(None, (title, wording.page_of(number, count), corrected)))
