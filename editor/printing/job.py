"""What is to be printed, and the plan of its pages: one plan for the preview, the PDF and the printer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

import numpy as np

from editor.printing.correction import NO_CORRECTION, Correction
from editor.printing.cover import Parcel, cover
from editor.printing.ink import ink_points
from editor.printing.label_room import lettered
from editor.printing.packing import Layout, lay_out
from editor.printing.paper import PAPERS, PageFormat, Paper
from editor.printing.picture import Box, Drawing, PiecePicture
from editor.printing.rectangles import Turning
from editor.printing.sheet_marks import borders, join_ink, join_marks, neighbours, place_tag, small_print
from editor.printing.tiles import Tile, TileGrid, piece_tiles
from geometry.affine import Affine, Points
from geometry.errors import PatternError

_PLOTTER_MM: Final = 600.0
"""Sheets with both sides longer than this come from a plotter."""

_SHARED_COVER_MM: Final = (190.0, 260.0)
_COVER_AIR_MM: Final = 15.0

MOST_PAGES: Final = 2000
"""A plan with more pages than this is a slip of the unit, not a garment."""


class Orientation(StrEnum):
    """How the sheets lie."""

    AUTO = "auto"
    PORTRAIT = "portrait"
    LANDSCAPE = "landscape"


@dataclass(frozen=True, slots=True)
class PrintJob:
    """What a person chose.

    Attributes:
        paper: The size of paper.
        margin_mm: Strip along every side of the sheet that stays free of the pattern.
        overlap_mm: How much of the drawing two neighbouring sheets both show.
        butted: Whether every joining edge is trimmed and the sheets are put side by side.
        correction: What the printer makes of the test square.
        orientation: How the sheets lie; auto takes the one with fewer pages.
        turning: How pieces may be turned on the paper.
        gap_mm: Least distance between two pieces.
        pieces: Names of the pieces to print; empty for all.
        title: The pattern, for page one and for the title of the file.
        details: Wearer, size, round, date; only what is known.
    """

    paper: Paper = PAPERS["a4"]
    margin_mm: float = 10.0
    overlap_mm: float = 0.0
    butted: bool = False
    correction: Correction = NO_CORRECTION
    orientation: Orientation = Orientation.AUTO
    turning: Turning = Turning.FREE
    gap_mm: float = 5.0
    pieces: tuple[str, ...] = ()
    title: str = ""
    details: tuple[str, ...] = ()

    @property
    def formats(self) -> tuple[PageFormat, ...]:
        """The ways the sheet may lie; the first is preferred."""
        upright = PageFormat(
            self.paper,
            margin_mm=self.margin_mm,
            overlap_mm=self.overlap_mm,
            butted=self.butted,
            correction=self.correction,
        )
        across = replace(upright, landscape=True)
        return {
            Orientation.AUTO: (upright, across),
            Orientation.PORTRAIT: (upright,),
            Orientation.LANDSCAPE: (across,),
        }[self.orientation]


@dataclass(frozen=True, slots=True)
class Page:
    """One page, in mm from the lower left corner of the sheet.

    Attributes:
        number: From 1.
        tile: The place of the sheet in the grid; ``None`` for a page one that shows nothing of the pattern.
        furniture: Everything but the pattern; it is drawn first.
        clip: The part of the sheet in which the pattern shows.
        shift_mm: Added to a point of the joined drawing it gives the point on this page.
    """

    number: int
    tile: Tile | None
    furniture: Drawing
    clip: Box
    shift_mm: tuple[float, float] = (0.0, 0.0)

    @property
    def label(self) -> str:
        """Row letter and column number, "" for page one."""
        return self.tile.label if self.tile else ""


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """Everything that is printed, as data.

    Attributes:
        job: What was asked for.
        page: The format of the sheets.
        grid: The grid of sheets over the joined drawing.
        pieces: The pieces where they lie on the joined drawing.
        pages: Page one and then every sheet that is needed, row by row.
    """

    job: PrintJob
    page: PageFormat
    grid: TileGrid
    pieces: tuple[PiecePicture, ...]
    pages: tuple[Page, ...]

    @property
    def drawing(self) -> Drawing:
        """All pieces joined, in mm of the joined drawing."""
        return sum((piece.drawing for piece in self.pieces), Drawing())

    @property
    def tiles(self) -> tuple[Tile, ...]:
        """The sheets that are printed, in the order of the pages."""
        return tuple(page.tile for page in self.pages if page.tile)

    def pattern_on(self, page: Page) -> Drawing:
        """What of the pattern may show on a page, in mm of that page; whoever draws it clips it to ``page.clip``."""
        if page.tile is None:
            return Drawing()
        motion = Affine.moved(*page.shift_mm)
        area = self.grid.area(page.tile)
        return sum((piece.drawing.carried(motion) for piece in self.pieces if piece.box.touches(area)), Drawing())


def plan(pictures: Sequence[PiecePicture], job: PrintJob) -> SheetPlan:
    """Lays out the pieces and plans every page.

    Raises:
        PatternError: nothing to print, an unknown piece, or a margin or overlap that leaves no room.
    """
    chosen = _chosen(pictures, job.pieces)
    formats = job.formats
    _refuse_giants(chosen, formats[0])
    layouts = [lay_out(chosen, page, turning=job.turning, gap_mm=job.gap_mm) for page in formats]
    return plan_layout(chosen, min(layouts, key=lambda layout: _sheet_count(chosen, layout)), job)


def _sheet_count(pictures: Sequence[PiecePicture], layout: Layout) -> int:
    placed = zip(pictures, layout.motions, strict=True)
    return len({tile for picture, motion in placed for tile in piece_tiles(layout.grid, picture.carried(motion))})


def plan_layout(pictures: Sequence[PiecePicture], layout: Layout, job: PrintJob) -> SheetPlan:
    """Plans every page of pieces that are already laid out."""
    grid, usable = layout.grid, layout.grid.page.usable
    bare = [picture.carried(motion) for picture, motion in zip(pictures, layout.motions, strict=True)]
    sheets_of = tuple(piece_tiles(grid, piece) for piece in bare)
    tiles = tuple(sorted({tile for sheets in sheets_of for tile in sheets}))
    joins = join_ink(grid, tiles)
    placed = tuple(lettered(piece, joins) for piece in bare)
    room = _room_for_cover(grid, tiles[0], placed)
    parcel = Parcel(job.title, job.details, grid, tiles, 1 if room else 2, placed, sheets_of)
    opening = cover(parcel, room or usable)
    ink = np.vstack([ink_points(piece.drawing) for piece in placed])
    pages = [_sheet(parcel, tile, ink) for tile in tiles]
    if room is None:
        return SheetPlan(job, grid.page, grid, placed, (Page(1, None, opening, usable), *pages))
    shared = _sheet(parcel, tiles[0], np.vstack([ink, ink_points(opening) - pages[0].shift_mm]))
    pages[0] = replace(shared, furniture=shared.furniture + opening)
    return SheetPlan(job, grid.page, grid, placed, tuple(pages))


def _room_for_cover(grid: TileGrid, tile: Tile, placed: Sequence[PiecePicture]) -> Box | None:
    """On paper from a plotter, a free place on the first sheet for what else is page one: such a sheet is dear."""
    usable = grid.page.usable
    if min(usable.width_mm, usable.height_mm) < _PLOTTER_MM:
        return None
    area = grid.area(tile)
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


def _chosen(pictures: Sequence[PiecePicture], names: Sequence[str]) -> tuple[PiecePicture, ...]:
    known = [picture.name for picture in pictures]
    for name in names:
        if name not in known:
            raise PatternError(
                f'There is no piece called "{name}" to print; the pattern has {", ".join(known) or "none"}.',
                code="no-such-piece",
            )
    chosen = tuple(picture for picture in pictures if not names or picture.name in names)
    if not chosen:
        raise PatternError("There is no piece to print; open or import a pattern first.", code="nothing-to-print")
    return chosen


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
