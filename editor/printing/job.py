"""What is to be printed, and the plan of its pages: one plan for the preview, the PDF and the printer."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum

from editor.printing.correction import NO_CORRECTION, Correction
from editor.printing.joins import JoinedSpot, join_findings, joined_spots
from editor.printing.letters import letter_findings
from editor.printing.packing import Layout
from editor.printing.paper import PAPERS, PageFormat, Paper
from editor.printing.picture import Box, Drawing, PiecePicture, joined
from editor.printing.rectangles import Turning
from editor.printing.tiles import Tile, TileGrid
from geometry.affine import Affine
from geometry.findings import Finding


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
        nudge_mm: How far the whole pattern is pushed over the sheets, to the right and up.
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
    nudge_mm: tuple[float, float] = (0.0, 0.0)
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
        if self.paper.is_roll:
            return (upright,)
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
        layout: How the pieces were laid on the grid of sheets.
        pieces: The pieces where they lie on the joined drawing, in the order of the motions of the layout.
        pages: Page one and then every sheet that is needed, row by row, which is the order of taping.
    """

    job: PrintJob
    layout: Layout
    pieces: tuple[PiecePicture, ...]
    pages: tuple[Page, ...]

    @property
    def grid(self) -> TileGrid:
        """The grid of sheets over the joined drawing."""
        return self.layout.grid

    @property
    def page(self) -> PageFormat:
        """The format of the sheets."""
        return self.grid.page

    @property
    def drawing(self) -> Drawing:
        """All pieces joined, in mm of the joined drawing."""
        return joined(piece.drawing for piece in self.pieces)

    @property
    def tiles(self) -> tuple[Tile, ...]:
        """The sheets that are printed, in the order of the pages."""
        return tuple(page.tile for page in self.pages if page.tile)

    @property
    def least_sheets(self) -> int:
        """So many sheets the area of the pieces alone would fill; fewer can never do."""
        return max(1, math.ceil(self._area_mm2 / self._sheet_mm2))

    @property
    def fill(self) -> float:
        """The share of the paper on the sheets that pieces cover."""
        return self._area_mm2 / (len(self.tiles) * self._sheet_mm2)

    @property
    def joined_spots(self) -> list[JoinedSpot]:
        """Darts and notches that lie on a join."""
        return joined_spots(self.grid, self.tiles, self.pieces)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is to be said of them, and of names whose letters cannot be printed."""
        names = [(name, "") for name in (self.job.title, *self.job.details)]
        names += [(piece.name, piece.name) for piece in self.pieces]
        return (*letter_findings(names), *join_findings(self.joined_spots))

    def pattern_on(self, page: Page) -> Drawing:
        """What of the pattern may show on a page, in mm of that page; whoever draws it clips it to ``page.clip``."""
        if page.tile is None:
            return Drawing()
        motion = Affine.moved(*page.shift_mm)
        area = self.grid.area(page.tile)
        return joined(piece.drawing.carried(motion) for piece in self.pieces if piece.box.touches(area))

    @property
    def _area_mm2(self) -> float:
        return sum(piece.area_mm2 for piece in self.pieces)

    @property
    def _sheet_mm2(self) -> float:
        across, down = self.page.step_mm
        return across * down
