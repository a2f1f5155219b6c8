"""The plan of the pages: pieces laid out, words placed, every sheet with its marks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from editor.printing.cover import Parcel, cover
from editor.printing.ink import ink_points
from editor.printing.job import Page, PrintJob, SheetPlan
from editor.printing.label_room import lettered
from editor.printing.packing import GoOn, Layout, lay_out, nest, stacked
from editor.printing.paper import COVER_NEEDS_MM, PageFormat
from editor.printing.picture import Box, Drawing, PiecePicture, box_round
from editor.printing.sheet_marks import borders, join_ink, join_marks, neighbours, place_tag, small_print
from editor.printing.tiles import Tile, TileGrid, piece_tiles
from geometry.affine import Points
from geometry.errors import PatternError

_PLOTTER_MM: Final = 600.0
"""Sheets with both sides longer than this come from a plotter."""

_SHARED_COVER_MM: Final = (190.0, 260.0)
_COVER_AIR_MM: Final = 15.0

MOST_PAGES: Final = 2000
"""A plan with more pages than this is a slip of the unit, not a garment."""


def plan(pictures: Sequence[PiecePicture], job: PrintJob, *, go_on: GoOn | None = None) -> SheetPlan:
    """Lays out the pieces and plans every page.

    Args:
        pictures: What is printed.
        job: How.
        go_on: Where given, a better layout is looked for with true shapes, which takes a second or some; it hears
            how many sheets the best one needs and ends the search with ``False``.

    Raises:
        PatternError: nothing to print, or a margin or overlap that leaves no room.
    """
    if not pictures:
        raise PatternError("There is no piece to print; open or import a pattern first.", code="nothing-to-print")
    formats = job.formats
    _refuse_giants(pictures, formats[0])
    layouts = [_laid(pictures, job, page) for page in formats]
    if go_on is not None:
        layouts += [found for layout in tuple(layouts) if (found := _nested(pictures, job, layout, go_on))]
    return plan_layout(pictures, min(layouts, key=lambda each: _page_rank(pictures, each)), job)


def _page_rank(pictures: Sequence[PiecePicture], layout: Layout) -> tuple[float, ...]:
    """Few pages first, page one among them unless it shares a sheet; of equals, as layouts are ranked."""
    sheets, *rest = layout.rank(pictures)
    final, room = _with_cover(layout, layout.placed(pictures))
    return (sheets + (room is None), final.grid.page.height_mm if final.grid.page.paper.is_roll else 0.0, *rest)


def _laid(pictures: Sequence[PiecePicture], job: PrintJob, page: PageFormat) -> Layout:
    groups = _groups(pictures)
    parts = [
        lay_out([pictures[index] for index in group], page, turning=job.turning, gap_mm=job.gap_mm) for group in groups
    ]
    return stacked(pictures, groups, parts)


def _nested(pictures: Sequence[PiecePicture], job: PrintJob, start: Layout, go_on: GoOn) -> Layout | None:
    groups, parts = _groups(pictures), []
    for group in groups:
        members = [pictures[index] for index in group]
        part = nest(members, start.part(group), turning=job.turning, gap_mm=job.gap_mm, go_on=go_on)
        if part is None:
            return None
        parts.append(part)
    return stacked(pictures, groups, parts)


def _groups(pictures: Sequence[PiecePicture]) -> list[list[int]]:
    """The numbers of the pieces that lie together, group by group."""
    groups: dict[str, list[int]] = {}
    for index, picture in enumerate(pictures):
        groups.setdefault(picture.group, []).append(index)
    return list(groups.values())


def plan_arranged(pictures: Sequence[PiecePicture], layout: Layout, job: PrintJob) -> SheetPlan:
    """Plans every page of pieces that somebody laid out, on sheets as they are asked for now."""
    layouts = [_reaching(layout.on(page), pictures) for page in job.formats]
    return plan_layout(pictures, min(layouts, key=lambda each: _page_rank(pictures, each)), job)


def _reaching(layout: Layout, pictures: Sequence[PiecePicture]) -> Layout:
    """The same with so many whole sheets more at the left and at the top that no piece lies off the grid."""
    box, grid = box_round([piece.box.ring for piece in layout.placed(pictures)]), layout.grid
    step_x, step_y = grid.page.step_mm
    across, up = (max(math.ceil(gap), 0) for gap in ((grid.left - box.x0) / step_x, (box.y1 - grid.top) / step_y))
    return replace(layout, grid=TileGrid(grid.page, grid.left - across * step_x, grid.top + up * step_y))


def plan_layout(pictures: Sequence[PiecePicture], layout: Layout, job: PrintJob) -> SheetPlan:
    """Plans every page of pieces that are already laid out."""
    layout = layout.pushed(*job.nudge_mm)
    bare = layout.placed(pictures)
    layout, room = _with_cover(layout, bare)
    grid, usable = layout.grid, layout.grid.page.usable
    sheets_of = tuple(piece_tiles(grid, piece) for piece in bare)
    tiles = tuple(sorted({tile for sheets in sheets_of for tile in sheets}))
    joins = join_ink(grid, tiles)
    placed = tuple(lettered(piece, joins) for piece in bare)
    parcel = Parcel(job.title, job.details, grid, tiles, 1 if room else 2, placed, sheets_of)
    opening = cover(parcel, room or usable)
    ink = np.vstack([ink_points(piece.drawing) for piece in placed])
    pages = [_sheet(parcel, tile, ink) for tile in tiles]
    if room is None:
        return SheetPlan(job, layout, placed, (Page(1, None, opening, usable), *pages))
    shared = _sheet(parcel, tiles[0], np.vstack([ink, ink_points(opening) - pages[0].shift_mm]))
    pages[0] = replace(shared, furniture=shared.furniture + opening)
    return SheetPlan(job, layout, placed, tuple(pages))


def _with_cover(layout: Layout, placed: Sequence[PiecePicture]) -> tuple[Layout, Box | None]:
    """Where page one shares the first sheet, and the layout with a roll cut to length; ``None``: a page of its own."""
    if layout.grid.page.paper.is_roll:
        return _cut_from_roll(layout, placed)
    usable = layout.grid.page.usable
    if min(usable.width_mm, usable.height_mm) < _PLOTTER_MM:
        return layout, None
    first = min(tile for piece in placed for tile in piece_tiles(layout.grid, piece))
    for pushed in (layout, *_pushed_aside(layout, placed)):
        room = _room_for_cover(pushed.grid, first, placed)
        if room is not None:
            return pushed, room
    return layout, None


def _pushed_aside(layout: Layout, placed: Sequence[PiecePicture]) -> list[Layout]:
    """Where all pieces lie on one sheet: the same with the pieces in each of its corners."""
    box, sheet = box_round([piece.box.ring for piece in placed]), layout.grid.area(Tile(0, 0))
    across, up = (sheet.x0 - box.x0, sheet.x1 - box.x1), (sheet.y0 - box.y0, sheet.y1 - box.y1)
    if across[0] > 0 or across[1] < 0 or up[0] > 0 or up[1] < 0:
        return []
    return [layout.pushed(dx, dy) for dx in across for dy in up]


def _cut_from_roll(layout: Layout, placed: Sequence[PiecePicture]) -> tuple[Layout, Box | None]:
    """The sheet ends where the pieces end; without a free place among them, page one comes before them."""
    page, box = layout.grid.page, box_round([piece.box.ring for piece in placed])
    if box.height_mm > page.usable.height_mm:
        return layout, None
    sheet = page.cut_to(max(box.height_mm, COVER_NEEDS_MM[1]))
    for left in (layout.grid.left, box.x0):
        cut = TileGrid(sheet, left, box.y1)
        room = _room_for_cover(cut, Tile(0, 0), placed)
        if room is not None:
            break
    if room is None:
        width, height = _SHARED_COVER_MM
        above = min(height + 2 * _COVER_AIR_MM, page.usable.height_mm - box.height_mm)
        cut = TileGrid(page.cut_to(box.height_mm + above), cut.left, box.y1 + above)
        top, left = cut.page.usable.y1 - _COVER_AIR_MM, cut.page.usable.x0 + _COVER_AIR_MM
        room = Box(left, top - height, left + width, top) if above > height + _COVER_AIR_MM else None
    return replace(layout, grid=cut), room


def _room_for_cover(grid: TileGrid, tile: Tile, placed: Sequence[PiecePicture]) -> Box | None:
    """On paper from a plotter, a free place on the first sheet for what else is page one: such a sheet is dear."""
    usable, area = grid.page.usable, grid.area(tile)
    taken = [piece.box.moved(usable.x0 - area.x0, usable.y0 - area.y0).inset(-_COVER_AIR_MM) for piece in placed]
    width, height = _SHARED_COVER_MM
    inner = usable.inset(_COVER_AIR_MM)
    for y in np.arange(inner.y1 - height, inner.y0, -_COVER_AIR_MM).tolist():
        for x in np.arange(inner.x0, inner.x1 - width, _COVER_AIR_MM).tolist():
            box = Box(x, y, x + width, y + height)
            if not any(box.touches(other) for other in taken):
                return box
    return None


def _sheet(parcel: Parcel, tile: Tile, ink: Points) -> Page:
    """One sheet of the pattern; ``ink`` are points along all there is in mm of the joined drawing."""
    grid, usable = parcel.grid, parcel.grid.page.usable
    area = grid.area(tile)
    shift = (usable.x0 - area.x0, usable.y0 - area.y0)
    number = parcel.first_page + parcel.tiles.index(tile)
    title = " · ".join(filter(None, (parcel.title, *parcel.details[:1])))
    count = parcel.first_page + len(parcel.tiles) - 1
    words = small_print(title, number, count, grid.page.correction)
    around = neighbours(tile, parcel.tiles)
    tag = Drawing((), place_tag(tile.label, words, grid, ink + shift))
    return Page(number, tile, join_marks(grid, tile, parcel.tiles) + borders(grid, around) + tag, usable, shift)


def _refuse_giants(pictures: Sequence[PiecePicture], page: PageFormat) -> None:
    step_x, step_y = page.step_mm
    for picture in pictures:
        width, height = picture.box.width_mm, picture.box.height_mm
        if width / step_x * height / step_y > MOST_PAGES:
            raise PatternError(
                f'The piece "{picture.name}" is {width / 1000:.1f} × {height / 1000:.1f} m'
                " and would fill thousands of sheets; check the units it was imported with.",
                code="giant-piece",
            )
