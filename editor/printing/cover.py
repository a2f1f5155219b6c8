"""Page one: what is in the parcel, the two test squares, how to put the sheets together, the map of the sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Final

import numpy as np

from editor.printing import wording
from editor.printing.compose import double_line, grain_line
from editor.printing.correction import SQUARE_MM, Correction
from editor.printing.ink import ink_points
from editor.printing.lettering import CAPITAL, face, shortened
from editor.printing.paper import PageFormat
from editor.printing.picture import Anchor, Box, Drawing, Label, LineKind, PiecePicture, Stroke, box_round, line
from editor.printing.sheet_marks import cut_corner_mm
from editor.printing.tiles import Tile, TileGrid
from editor.printing.typesetting import (
    BODY_MM,
    HEADING_MM,
    SMALL_MM,
    heading,
    paragraphs,
    start_label,
    text_height_mm,
)
from geometry.affine import Affine, Point, Points, as_point
from geometry.curves import polyline
from geometry.units import MM_PER_INCH

TEST_SQUARE_MM: Final = SQUARE_MM
TEST_SQUARE_INCHES: Final = 4

_FIGURE_MM: Final = 9.0
_TITLE_MM: Final = 8.5
_HEADER_MM: Final = 24.0
_GUTTER_MM: Final = 8.0
_PAD_MM: Final = 7.0
_SIDE_NAME_MM: Final = 2.5
_BLOCK_GAP_MM: Final = 8.0
_WIDEST_COLUMN_MM: Final = 110.0
_LIST_ROW_MM: Final = 9.0
_KEY_ROW_MM: Final = 4.8
_KEY_SAMPLE_MM: Final = 15.0
_SIZES_ABREAST: Final = 3
_NUMBER_RING_MM: Final = 2.2
_PLACES: Final = 12
"""So many places for its number are tried across a piece on the map, and as many up."""
_CELL_WITH_PAGE_MM: Final = 13.0
_LARGEST_MAP: Final = 0.2
_WIDE_NEEDS_MM: Final = 270.0
"""A lying sheet narrower than this has no room for a column beside the squares; page one then stands upright on it."""
_THINNED_MM: Final = 0.1
"""On the map, points of an outline nearer than this to the one before add nothing."""


@dataclass(frozen=True, slots=True)
class Parcel:
    """What page one has to tell.

    Attributes:
        title: The pattern.
        details: Wearer, size, round, date; only what is known.
        grid: The grid of sheets.
        tiles: The sheets that are printed, in order.
        first_page: The number of the page that the first of them is.
        pieces: The pieces where they lie on the drawing.
        sheets_of: For each piece the sheets it is on.
    """

    title: str
    details: tuple[str, ...]
    grid: TileGrid
    tiles: tuple[Tile, ...]
    first_page: int
    pieces: tuple[PiecePicture, ...]
    sheets_of: tuple[tuple[Tile, ...], ...]


def cover(parcel: Parcel, room: Box) -> Drawing:
    """Page one, or the part of it that these things take up, in mm of the sheet.

    Args:
        parcel: What there is to tell.
        room: Where; at least as large as ``COVER_NEEDS_MM``, upright or lying.
    """
    upright = room.width_mm < room.height_mm
    if not upright and room.width_mm < _WIDE_NEEDS_MM:
        lying = Affine(0.0, -1.0, 1.0, 0.0, room.x1, room.y0)
        return cover(parcel, Box(0.0, 0.0, room.height_mm, room.width_mm)).carried(lying)
    top = room.y1 - _HEADER_MM
    metric = Box(room.x0, top - TEST_SQUARE_MM, room.x0 + TEST_SQUARE_MM, top)
    inches = _inch_box(metric, room, upright=upright)
    left = inches.x1 + _GUTTER_MM
    column = Box(left, room.y0, min(room.x1, left + _WIDEST_COLUMN_MM), top)
    squares = _metric_square(metric, parcel) + _sides(metric, short_is_level=upright) + _inch_square(inches, parcel)
    rest = _column(parcel, column) if upright else _wide(parcel, column, inches)
    return _header(parcel, room) + squares + rest


def _inch_box(metric: Box, room: Box, *, upright: bool) -> Box:
    """Under the first square on an upright sheet, else beside it."""
    side = TEST_SQUARE_INCHES * MM_PER_INCH
    if upright:
        top = metric.y0 - min(_GUTTER_MM, metric.y0 - room.y0 - side)
        return Box(metric.x0, top - side, metric.x0 + side, top)
    return Box(metric.x1 + _GUTTER_MM, metric.y1 - side, metric.x1 + _GUTTER_MM + side, metric.y1)


def _column(parcel: Parcel, column: Box) -> Drawing:
    """The map on top, the cautions at the bottom, the list of pieces in what is left between."""
    cautions, floor = _cautions(column)
    listed_mm = min(len(parcel.pieces) * _LIST_ROW_MM + 8.0, (column.y1 - floor) / 2)
    sizes, sizes_mm = _sizes(parcel, column)
    space = Box(column.x0, floor + listed_mm + sizes_mm + 2 * _BLOCK_GAP_MM, column.x1, column.y1)
    sheet_map, map_floor = _sheet_map(parcel, space)
    top = map_floor - _BLOCK_GAP_MM
    listing = _pieces(parcel, Box(column.x0, floor + _BLOCK_GAP_MM, column.x1, top - sizes_mm))
    return sheet_map + sizes.carried(Affine.moved(0.0, top - column.y1)) + listing + cautions


def _wide(parcel: Parcel, column: Box, inches: Box) -> Drawing:
    """Beside the squares the map and the cautions, under the squares the pieces."""
    cautions, floor = _cautions(column)
    sizes, sizes_mm = _sizes(parcel, column)
    sheet_map, _ = _sheet_map(parcel, Box(column.x0, floor + _BLOCK_GAP_MM, column.x1, column.y1 - sizes_mm))
    low = Box(inches.x0 - _GUTTER_MM - TEST_SQUARE_MM, column.y0, inches.x1, inches.y0 - _BLOCK_GAP_MM)
    half_mm = (low.width_mm - _GUTTER_MM) / 2
    return sizes + sheet_map + cautions + _pieces(parcel, low, column_mm=half_mm)


def _header(parcel: Parcel, room: Box) -> Drawing:
    count = len(parcel.tiles)
    paper = " · ".join((parcel.grid.page.paper.name, wording.sheets(count), _joining(parcel.grid.page)))
    paper_mm = face().width_mm(paper, BODY_MM)
    title_base = room.y1 - _TITLE_MM * CAPITAL
    details = shortened(" · ".join(parcel.details), room.width_mm - paper_mm - _GUTTER_MM, HEADING_MM)
    under = title_base - 6.6
    rule_y = room.y1 - _HEADER_MM + _GUTTER_MM
    return Drawing(
        (line((room.x0, rule_y), (room.x1, rule_y), LineKind.RULE),),
        (
            start_label(
                shortened(parcel.title, room.width_mm, _TITLE_MM, bold=True),
                (room.x0, title_base),
                _TITLE_MM,
                bold=True,
            ),
            start_label(details, (room.x0, under), HEADING_MM),
            Label((room.x1, under), paper, BODY_MM, anchor=Anchor.END, grey=0.35),
        ),
    )


def _joining(page: PageFormat) -> str:
    return wording.overlap(page.overlap_mm, butted=page.butted)


def _inside(box: Box) -> Box:
    """Where words stand in a square: further from the left, where the name of the side is."""
    inside = box.inset(_PAD_MM)
    return replace(inside, x0=inside.x0 + _SIDE_NAME_MM)


def _metric_square(box: Box, parcel: Parcel) -> Drawing:
    """The square in millimetres; it holds how to measure it and what the lines mean."""
    inside = _inside(box)
    base = inside.y1 - _FIGURE_MM * CAPITAL
    figure = start_label(wording.METRIC_FIGURE, (inside.x0, base), _FIGURE_MM, bold=True)
    text, _ = paragraphs(_measuring(parcel.grid.page.correction), inside, base - 5.0, gap_mm=1.6)
    square = Stroke(box.ring, LineKind.TEST_SQUARE, closed=True)
    return Drawing((square, *_ticks(box, 10, 5)), (figure,)) + text + _key(inside, _kinds(parcel))


def _measuring(correction: Correction) -> tuple[str, ...]:
    if correction.is_none:
        return wording.MEASURE
    return (wording.corrected_square(correction.a_mm, correction.b_mm), *wording.MEASURE_CORRECTED)


def _sides(box: Box, *, short_is_level: bool) -> Drawing:
    """The names of the sides of the square: A lies along the short side of the sheet, B along the long one."""
    level, upright = (wording.SIDE_A, wording.SIDE_B) if short_is_level else (wording.SIDE_B, wording.SIDE_A)
    (x, y), drop = box.centre, HEADING_MM * CAPITAL / 2
    return Drawing(
        (),
        (
            Label((x + 5.0, box.y0 + 2.0), level, HEADING_MM, bold=True),
            Label((box.x0 + 4.6, y + 5.0 - drop), upright, HEADING_MM, bold=True),
        ),
    )


def _key(inside: Box, kinds: Sequence[LineKind]) -> Drawing:
    """A sample of every kind of line there is, in two columns at the foot of the square."""
    rows = -(-len(kinds) // 2)
    strokes: list[Stroke] = []
    labels = []
    for index, kind in enumerate(kinds):
        x = inside.x0 + (index // rows) * inside.width_mm / 2
        y = inside.y0 + (rows - 1 - index % rows) * _KEY_ROW_MM + 1.0
        strokes += _sample(kind, (x, y), (x + _KEY_SAMPLE_MM, y))
        labels.append(
            start_label(wording.LINES[kind], (x + _KEY_SAMPLE_MM + 2.0, y - SMALL_MM * CAPITAL / 2), SMALL_MM)
        )
    return Drawing(tuple(strokes), tuple(labels))


def _sample(kind: LineKind, start: Point, end: Point) -> list[Stroke]:
    """A line as it is drawn on the pieces."""
    if kind is LineKind.GRAIN:
        return grain_line(start, end)
    return double_line(start, end) if kind is LineKind.LENGTHEN else [line(start, end, kind)]


def _sizes(parcel: Parcel, space: Box) -> tuple[Drawing, float]:
    """The cutting line of every size at the top of the space, and how high that is; nothing where there is one size."""
    strokes = [s for piece in parcel.pieces for s in piece.drawing.strokes if s.kind is LineKind.CUTTING]
    lines_of = {stroke.size: stroke for stroke in strokes}
    if len(lines_of) < 2:
        return Drawing(), 0.0
    step = space.width_mm / _SIZES_ABREAST
    samples, labels = [], [heading(wording.SIZES_HEADING, space, space.y1)]
    for index, (size, stroke) in enumerate(lines_of.items()):
        x, y = space.x0 + index % _SIZES_ABREAST * step, space.y1 - 8.0 - index // _SIZES_ABREAST * _KEY_ROW_MM
        samples.append(replace(line((x, y), (x + _KEY_SAMPLE_MM, y), stroke.kind), dash_mm=stroke.dash_mm))
        labels.append(start_label(size, (x + _KEY_SAMPLE_MM + 2.0, y - SMALL_MM * CAPITAL / 2), SMALL_MM, bold=True))
    rows = -(-len(lines_of) // _SIZES_ABREAST)
    return Drawing(tuple(samples), tuple(labels)), 8.0 + rows * _KEY_ROW_MM + _BLOCK_GAP_MM / 2


def _kinds(parcel: Parcel) -> list[LineKind]:
    drawn = {stroke.kind for piece in parcel.pieces for stroke in piece.drawing.strokes}
    return [kind for kind in wording.LINES if kind in drawn]


def _inch_square(box: Box, parcel: Parcel) -> Drawing:
    """The square in inches; it holds how to put the sheets together."""
    inside = _inside(box)
    base = inside.y1 - _FIGURE_MM * CAPITAL
    figure = start_label(wording.INCH_FIGURE, (inside.x0, base), _FIGURE_MM, bold=True)
    above = heading(wording.TAPING, inside, base - 7.0)
    page = parcel.grid.page
    steps = wording.taping_steps(butted=page.butted, cut_corner=cut_corner_mm(page) > 0)
    text, _ = paragraphs(steps, inside, base - 13.4, gap_mm=0.9, numbered=True)
    square = Stroke(box.ring, LineKind.TEST_SQUARE, closed=True)
    return Drawing((square, *_ticks(box, 4 * TEST_SQUARE_INCHES, 4)), (figure, above)) + text


def _ticks(box: Box, parts: int, long_every: int) -> list[Stroke]:
    """A ruler's ticks inside the lower and the left side, to see where a print that is off goes wrong."""
    ticks = []
    for part in range(1, parts):
        along, length_mm = box.width_mm * part / parts, 3.0 if part % long_every == 0 else 1.6
        ticks.append(line((box.x0 + along, box.y0), (box.x0 + along, box.y0 + length_mm), LineKind.RULE))
        ticks.append(line((box.x0, box.y0 + along), (box.x0 + length_mm, box.y0 + along), LineKind.RULE))
    return ticks


def _cautions(column: Box) -> tuple[Drawing, float]:
    """In a box of their own at the foot of the column; also says where that box ends."""
    inside_mm = column.width_mm - 2 * 4.0
    height_mm = 4.0 + 6.0 + sum(text_height_mm(text, inside_mm) + 1.1 for text in wording.CAUTIONS) + 1.5
    box = Box(column.x0, column.y0, column.x1, column.y0 + height_mm)
    inside = box.inset(4.0)
    text = paragraphs(wording.CAUTIONS, inside, inside.y1 - 6.0, gap_mm=1.1)[0]
    frame = Stroke(box.ring, LineKind.TEST_SQUARE, closed=True)
    return Drawing((frame,), (heading(wording.CAUTIONS_HEADING, inside, inside.y1),)) + text, box.y1


def _sheet_map(parcel: Parcel, space: Box) -> tuple[Drawing, float]:
    """The sheets and the pieces small, every sheet with its label and page; also says where the map ends below."""
    cells = [_cell(parcel, tile) for tile in parcel.tiles]
    x0, y1 = min(cell.x0 for cell in cells), max(cell.y1 for cell in cells)
    width, height = max(cell.x1 for cell in cells) - x0, y1 - min(cell.y0 for cell in cells)
    top = space.y1 - 6.4
    scale = min(space.width_mm / width, (top - space.y0) / height, _LARGEST_MAP)
    small = Affine(scale, 0.0, 0.0, scale, space.x0 - scale * x0, top - scale * y1)
    size = min(2.6, scale * parcel.grid.page.step_mm[0] / 3.2)
    drawing = Drawing((), (heading(wording.MAP_HEADING, space, space.y1),))
    for page, (tile, cell) in enumerate(zip(parcel.tiles, cells, strict=True), start=parcel.first_page):
        drawing += _map_sheet(tile, page, Box(*small.point((cell.x0, cell.y0)), *small.point((cell.x1, cell.y1))), size)
    rings = [_thinned(small.points(piece.outline)) for piece in parcel.pieces]
    taken = ink_points(Drawing((), drawing.labels), every_mm=_NUMBER_RING_MM / 2)
    drawing += Drawing(tuple(Stroke(ring, LineKind.MAP_PIECE, closed=True) for ring in rings))
    for number, ring in enumerate(rings, start=1):
        drawing += _number(number, _free_place(ring, np.vstack([taken, *rings])))
    return drawing, top - scale * height


def _free_place(ring: Points, taken: Points) -> Point:
    """The place inside a ring for its number: clear of what is there, and of such places the one nearest its middle."""
    box = box_round([ring])
    across, up = (np.linspace(*ends, _PLACES + 2)[1:-1] for ends in ((box.x0, box.x1), (box.y0, box.y1)))
    places = np.array([box.centre, *product(across, up)])
    places = places[polyline.contains(ring, places)]
    if not len(places):
        return box.centre
    room = np.min(np.hypot(*(places[:, None, :] - taken[None, :, :]).transpose(2, 0, 1)), axis=1)
    cramped = np.maximum(_NUMBER_RING_MM + 0.4 - room, 0.0)
    away = np.hypot(*(places - box.centre).T)
    return as_point(places[np.lexsort((away, cramped))[0]])


def _map_sheet(tile: Tile, page: int, cell: Box, size: float) -> Drawing:
    base = cell.y1 - size * 1.1
    labels = [start_label(tile.label, (cell.x0 + size / 3, base), size, grey=0.35)]
    if cell.width_mm > _CELL_WITH_PAGE_MM:
        labels.append(Label((cell.x1 - size / 3, base), str(page), size * 0.8, anchor=Anchor.END, grey=0.55))
    return Drawing((Stroke(cell.ring, LineKind.MAP_SHEET, closed=True),), tuple(labels))


def _number(number: int, at: Point) -> Drawing:
    """The number of a piece in a small ring."""
    turns = np.linspace(0.0, 2 * np.pi, 32, endpoint=False)
    ring = np.column_stack([at[0] + _NUMBER_RING_MM * np.cos(turns), at[1] + _NUMBER_RING_MM * np.sin(turns)])
    words = Label((at[0], at[1] - SMALL_MM * CAPITAL / 2), str(number), SMALL_MM, bold=True)
    return Drawing((Stroke(ring, LineKind.MAP_NUMBER, closed=True),), (words,))


def _cell(parcel: Parcel, tile: Tile) -> Box:
    """What a sheet adds to the joined whole: all it shows, less what the next sheets lie upon."""
    area, overlap = parcel.grid.area(tile), parcel.grid.page.overlap_mm
    right = overlap if Tile(tile.row, tile.column + 1) in parcel.tiles else 0.0
    below = overlap if Tile(tile.row + 1, tile.column) in parcel.tiles else 0.0
    return Box(area.x0, area.y0 + below, area.x1 - right, area.y1)


def _thinned(points: Points) -> Points:
    kept = [0]
    for index in range(1, len(points)):
        if np.hypot(*(points[index] - points[kept[-1]])) >= _THINNED_MM:
            kept.append(index)
    return points[kept]


def _pieces(parcel: Parcel, space: Box, *, column_mm: float | None = None) -> Drawing:
    """The numbers of the map, each with its piece, how it is cut and its sheets; as many as have room."""
    drawing = Drawing((), (heading(wording.PIECES_HEADING, space, space.y1),))
    width = column_mm or space.width_mm
    top = space.y1 - 6.4
    rows = max(int((top - space.y0) // _LIST_ROW_MM), 1)
    room = rows * (2 if column_mm else 1)
    shown = len(parcel.pieces) if len(parcel.pieces) <= room else room - 1
    rows = max(-(-shown // 2), 1) if column_mm else rows
    for index in range(min(shown + 1, len(parcel.pieces))):
        x, y = space.x0 + (index // rows) * (width + _GUTTER_MM), top - (index % rows) * _LIST_ROW_MM
        row = Box(x, y - _LIST_ROW_MM, x + width, y)
        drawing += _piece_row(parcel, index, row) if index < shown else _more(len(parcel.pieces) - shown, row)
    return drawing


def _piece_row(parcel: Parcel, index: int, row: Box) -> Drawing:
    piece, indent, base = parcel.pieces[index], row.x0 + 7.0, row.y1 - BODY_MM * CAPITAL
    quantity_mm = face().width_mm(piece.quantity, BODY_MM)
    name = shortened(wording.capital(piece.name), row.x1 - indent - quantity_mm - 3.0, BODY_MM)
    sheets = shortened(" ".join(tile.label for tile in parcel.sheets_of[index]), row.x1 - indent, SMALL_MM)
    labels = (
        start_label(name, (indent, base), BODY_MM),
        Label((row.x1, base), piece.quantity, BODY_MM, anchor=Anchor.END),
        start_label(sheets, (indent, base - 3.9), SMALL_MM, grey=0.35),
    )
    return Drawing((), labels) + _number(index + 1, (row.x0 + _NUMBER_RING_MM, base + SMALL_MM * CAPITAL / 2))


def _more(count: int, row: Box) -> Drawing:
    return Drawing((), (start_label(wording.more_pieces(count), (row.x0 + 7.0, row.y1 - BODY_MM * CAPITAL), BODY_MM),))
