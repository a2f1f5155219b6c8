"""The grid of printed sheets laid over the drawing: which sheets there are and which of them are needed."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from editor.printing.paper import PageFormat
from editor.printing.picture import Box, PiecePicture, box_round
from geometry.affine import Point, Points
from geometry.curves import polyline
from geometry.tolerance import FLOAT_MM


def row_letters(row: int) -> str:
    """A for the first row, Z for the 26th, then AA, AB ..."""
    letters = ""
    rest = row + 1
    while rest:
        rest, digit = divmod(rest - 1, 26)
        letters = chr(ord("A") + digit) + letters
    return letters


@dataclass(frozen=True, slots=True, order=True)
class Tile:
    """The place of one sheet: rows count from the top, columns from the left, both from 0."""

    row: int
    column: int

    @property
    def label(self) -> str:
        """Row letter and column number, for example B3."""
        return f"{row_letters(self.row)}{self.column + 1}"


@dataclass(frozen=True, slots=True)
class TileGrid:
    """Sheets in rows and columns, the first one with its upper left corner at (left, top) of the drawing.

    A point that several sheets show because they overlap counts for the one furthest up and left: the strip it lies
    in is printed there anyway. So the sheets that own something show everything.
    """

    page: PageFormat
    left: float
    top: float

    def area(self, tile: Tile) -> Box:
        """The part of the drawing that this sheet shows."""
        step_x, step_y = self.page.step_mm
        x0, y1 = self.left + tile.column * step_x, self.top - tile.row * step_y
        return Box(x0, y1 - self.page.usable.height_mm, x0 + self.page.usable.width_mm, y1)

    def owned(self, tile: Tile) -> Box:
        """The part of the drawing for which this sheet is needed; these parts do not overlap."""
        area, overlap = self.area(tile), self.page.overlap_mm
        x0 = area.x0 + overlap if tile.column else area.x0
        y1 = area.y1 - overlap if tile.row else area.y1
        return Box(x0, area.y0, area.x1, y1)

    def rows_columns(self, points: Points) -> tuple[np.ndarray, np.ndarray]:
        """Row and column of the sheet that owns each point."""
        return (
            _cells(self.top - points[:, 1], self.page.usable.height_mm, self.page.step_mm[1]),
            _cells(points[:, 0] - self.left, self.page.usable.width_mm, self.page.step_mm[0]),
        )

    def tiles_under(self, box: Box) -> list[Tile]:
        """Every sheet whose own part reaches into the box."""
        rows, columns = self.rows_columns(np.array([(box.x0, box.y1), (box.x1, box.y0)]))
        return [
            Tile(row, column) for row in range(rows[0], rows[1] + 1) for column in range(columns[0], columns[1] + 1)
        ]


def _cells(distance_mm: np.ndarray, first_mm: float, step_mm: float) -> np.ndarray:
    return np.maximum(np.ceil((distance_mm - first_mm - FLOAT_MM) / step_mm), 0).astype(int)


def fewest_tiles(width_mm: float, height_mm: float, page: PageFormat) -> int:
    """How many sheets a plain rectangle of the drawing needs."""
    corner = np.array([(width_mm, -height_mm)])
    rows, columns = TileGrid(page, 0.0, 0.0).rows_columns(corner)
    return int((rows[0] + 1) * (columns[0] + 1))


def piece_tiles(grid: TileGrid, picture: PiecePicture) -> tuple[Tile, ...]:
    """The sheets that one piece needs, row by row; its inside counts, even where it is blank."""
    ring = np.vstack([picture.outline, picture.outline[:1]])
    lines = [ring, *(stroke.path for stroke in picture.drawing.strokes)]
    starts, ends = np.vstack([path[:-1] for path in lines]), np.vstack([path[1:] for path in lines])
    return tuple(
        tile
        for tile in grid.tiles_under(box_round([starts, ends]))
        if segments_cross(starts, ends, grid.owned(tile)) or _is_inside(grid.owned(tile).centre, picture.outline)
    )


def segments_cross(starts: Points, ends: Points, box: Box) -> bool:
    """Whether any of the straight lines has more than a touching point in common with the box."""
    first, last = np.zeros(len(starts)), np.ones(len(starts))
    low, high = np.array([box.x0, box.y0]) + FLOAT_MM, np.array([box.x1, box.y1]) - FLOAT_MM
    run = ends - starts
    for axis in (0, 1):
        flat = run[:, axis] == 0
        run_safe = np.where(flat, 1.0, run[:, axis])
        near, far = (low[axis] - starts[:, axis]) / run_safe, (high[axis] - starts[:, axis]) / run_safe
        between = (starts[:, axis] >= low[axis]) & (starts[:, axis] <= high[axis])
        near, far = (
            np.where(flat, np.where(between, -math.inf, math.inf), np.minimum(near, far)),
            np.where(flat, np.where(between, math.inf, -math.inf), np.maximum(near, far)),
        )
        first, last = np.maximum(first, near), np.minimum(last, far)
    return bool((first <= last).any())


def _is_inside(point: Point, ring: Points) -> bool:
    return bool(polyline.contains(ring, np.array([point]))[0])
