"""Pieces laid on one large sheet so that few pages are needed.

At first the rectangles round the pieces are packed in many ways; each is judged by the pages that the real shapes then
touch. Who has a moment lets the shapes themselves be laid between each other, which saves a page in ten or twenty.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Final

import numpy as np

from editor.printing.joins import joined_spots
from editor.printing.nesting import Board, Nest, Nesting, board_for
from editor.printing.paper import PageFormat
from editor.printing.picture import PiecePicture, box_round
from editor.printing.raster import Shape, shape_of, turn
from editor.printing.rectangles import Size, Turning, Way, packed_ways
from editor.printing.tiles import Tile, TileGrid, piece_tiles
from geometry.affine import Affine, Points
from geometry.curves import polyline

_SAMPLE_MM: Final = 6.0
"""Distance between the points that stand for a piece while layouts are compared; the result is counted exactly."""

_CLOSE_LOOKS: Final = 24
"""So many of the best layouts have the page grid shifted under them."""

_SHIFTS: Final = (0.5, 0.0, 1.0, 0.25, 0.75)
"""Shares of the paper left over in the last row and column by which the grid is shifted, in the order of liking."""

_MOST_COLUMNS: Final = 10_000
"""Numbers pages row by row."""

_SHEETS_ABREAST: Final = 5
"""Shapes are nested on so many sheets side by side, or as many as the largest piece needs."""

_PLACINGS: Final = 500
"""So many times a piece in one turn is laid down in the search for a better nest; most is found early."""

_FEWEST_ROUNDS: Final = 4

GoOn = Callable[[int], bool]
"""Hears how many sheets the best layout so far needs, and says whether to look on."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where each piece goes, and the grid of pages under them."""

    motions: tuple[Affine, ...]
    grid: TileGrid

    def placed(self, pictures: Iterable[PiecePicture]) -> list[PiecePicture]:
        """The pieces where they lie."""
        return [picture.carried(motion) for picture, motion in zip(pictures, self.motions, strict=True)]

    def tiles(self, pictures: Iterable[PiecePicture]) -> list[Tile]:
        """The sheets that something lies on, in the order of taping."""
        return sorted({tile for piece in self.placed(pictures) for tile in piece_tiles(self.grid, piece)})

    def pushed(self, dx: float, dy: float) -> Layout:
        """The pieces further right and up over the same sheets."""
        return replace(self, grid=TileGrid(self.grid.page, self.grid.left - dx, self.grid.top - dy))

    def on(self, page: PageFormat) -> Layout:
        """The pieces as they lie over other sheets, the upper left one at the same place."""
        return replace(self, grid=TileGrid(page, self.grid.left, self.grid.top))

    def with_motion(self, index: int, after: Affine) -> Layout:
        """One piece carried further."""
        moved = self.motions[index].then(after)
        return replace(self, motions=(*self.motions[:index], moved, *self.motions[index + 1 :]))

    def part(self, members: Sequence[int]) -> Layout:
        """Some of the pieces, by their numbers."""
        return replace(self, motions=tuple(self.motions[index] for index in members))

    def rank(self, pictures: Sequence[PiecePicture]) -> tuple[int, int, float]:
        """Few sheets first, then few notches and darts on the joins, then the smaller whole."""
        placed, tiles = self.placed(pictures), self.tiles(pictures)
        box = box_round([piece.box.ring for piece in placed])
        extent = box.height_mm if self.grid.page.paper.is_roll else max(box.width_mm, box.height_mm)
        return len(tiles), len(joined_spots(self.grid, tiles, placed)), extent


def lay_out(pictures: Sequence[PiecePicture], page: PageFormat, *, turning: Turning, gap_mm: float) -> Layout:
    """The layout with the fewest pages among those tried with rectangles, of equals the most compact one.

    The same input always gives the same layout.
    """
    shapes = [_sample(picture) for picture in pictures]
    ways = list(packed_ways([shape.size for shape in shapes], page, turning, gap_mm))
    plain = [_Try(way, _grid(way.extent, page, (0.0, 0.0))) for way in ways]
    shifted = [
        _Try(each.way, _grid(each.way.extent, page, shift))
        for each in _best(plain, shapes, _CLOSE_LOOKS)
        for shift in _shifts(each.way.extent, page)
    ]
    best = _best(shifted, shapes, 1)[0]
    places = zip(pictures, best.way.corners, best.way.turned, strict=True)
    return Layout(tuple(_motion(picture, corner, turned) for picture, corner, turned in places), best.grid)


def nest(
    pictures: Sequence[PiecePicture], start: Layout, *, turning: Turning, gap_mm: float, go_on: GoOn
) -> Layout | None:
    """The best layout found with true shapes on sheets as they lie in another layout; ``None`` where none is found."""
    page, sheets = start.grid.page, len(start.tiles(pictures))
    board = _board(pictures, page, sheets)
    shapes = [[shape_of(piece, turn, board.cell, gap_mm) for turn in turning.turns_deg] for piece in pictures]
    rounds = max(_FEWEST_ROUNDS, _PLACINGS // (len(pictures) * len(turning.turns_deg)))
    found = Nesting(board, shapes).search(rounds, lambda best, _: go_on(min(best.sheet_count, sheets)))
    return None if found is None else _fitted(pictures, _nested(found, shapes, board, page))


def stacked(pictures: Sequence[PiecePicture], groups: Sequence[Sequence[int]], parts: Sequence[Layout]) -> Layout:
    """Groups of pieces, each laid out by itself, one below the other on sheets of their own."""
    if len(parts) == 1:
        return parts[0]
    page, row = parts[0].grid.page, 0
    grid = TileGrid(page, 0.0, 0.0)
    motions: dict[int, Affine] = {}
    for group, part in zip(groups, parts, strict=True):
        # Below the first row the strip that sheets share belongs to the row above, so nothing may lie in it.
        down = row * page.step_mm[1] + (page.overlap_mm if row else 0.0)
        placing = Affine.moved(-part.grid.left, -part.grid.top - down)
        motions |= {index: motion.then(placing) for index, motion in zip(group, part.motions, strict=True)}
        lying = [pictures[index].carried(motions[index]) for index in group]
        row = 1 + max(tile.row for piece in lying for tile in piece_tiles(grid, piece))
    return Layout(tuple(motions[index] for index in range(len(pictures))), grid)


def _board(pictures: Sequence[PiecePicture], page: PageFormat, sheets: int) -> Board:
    """Room for half as many sheets again as a plain layout needs, wide and high enough for every piece."""
    if page.paper.is_roll:
        return board_for(page, (1, 1))
    tallest = max(max(piece.box.width_mm, piece.box.height_mm) for piece in pictures)
    needed = math.ceil(tallest / page.step_mm[0])
    abreast = max(min(_SHEETS_ABREAST, math.ceil(math.sqrt(1.5 * sheets))), needed)
    rows = max(math.ceil(1.5 * sheets / abreast), math.ceil(tallest / page.step_mm[1]))
    return board_for(page, (rows, abreast))


def _nested(found: Nest, shapes: Sequence[Sequence[Shape]], board: Board, page: PageFormat) -> Layout:
    cell, motions = board.cell, []
    for spot, turns in zip(found.places, shapes, strict=True):
        shape = turns[spot.turn]
        left, top = shape.corner
        # On the board a sheet is as large as the step to the next: what lies left and above of it is overlap.
        across, down = page.overlap_mm + spot.column * cell.width_mm, page.overlap_mm + spot.row * cell.height_mm
        motions.append(turn(shape.turn_deg).then(Affine.moved(across - left, -down - top)))
    return Layout(tuple(motions), TileGrid(page, 0.0, 0.0))


def _fitted(pictures: Sequence[PiecePicture], layout: Layout) -> Layout:
    """The layout with the grid shifted under it so that joins cross as little as may be."""
    box = box_round([piece.box.ring for piece in layout.placed(pictures)])
    page = layout.grid.page
    shifted = [TileGrid(page, box.x0 - left, box.y1 + up) for left, up in _shifts((box.width_mm, box.height_mm), page)]
    layouts = [replace(layout, grid=grid) for grid in (layout.grid, *shifted)]
    return min(layouts, key=lambda each: each.rank(pictures))


@dataclass(frozen=True, slots=True)
class _Sample:
    """What a piece is while rectangles are compared.

    Attributes:
        size: Width and height as it is drawn.
        points: Points on and inside its outline from its lower left corner, as it is and turned a quarter clockwise.
    """

    size: Size
    points: tuple[Points, Points]


@dataclass(frozen=True, slots=True)
class _Try:
    way: Way
    grid: TileGrid


def _best(tries: Sequence[_Try], shapes: Sequence[_Sample], count: int) -> list[_Try]:
    """The tries with the fewest pages; of equals the more compact, then the earlier."""
    ranks = [
        (_page_count(each, shapes), each.way.extent[1] if each.grid.page.paper.is_roll else max(each.way.extent), index)
        for index, each in enumerate(tries)
    ]
    return [tries[index] for *_, index in sorted(ranks)[:count]]


def _page_count(each: _Try, shapes: Sequence[_Sample]) -> int:
    places = zip(shapes, each.way.corners, each.way.turned, strict=True)
    rows, columns = each.grid.rows_columns(np.vstack([shape.points[turn] + corner for shape, corner, turn in places]))
    return len(np.unique(rows * _MOST_COLUMNS + columns))


def _sample(picture: PiecePicture) -> _Sample:
    ring = np.vstack([picture.outline, picture.outline[:1]])
    along = polyline.stations_mm(ring)
    stations = np.linspace(0.0, along[-1], max(8, math.ceil(along[-1] / _SAMPLE_MM)))
    edge = np.column_stack([np.interp(stations, along, ring[:, axis]) for axis in (0, 1)])
    box = picture.box
    across, up = np.arange(box.x0, box.x1, 5 * _SAMPLE_MM), np.arange(box.y0, box.y1, 5 * _SAMPLE_MM)
    inner = np.array(list(product(across, up)))
    inner = inner[polyline.contains(picture.outline, inner)]
    corners = [
        picture.outline[index]
        for axis in (0, 1)
        for index in (picture.outline[:, axis].argmin(), picture.outline[:, axis].argmax())
    ]
    points = np.vstack([edge, corners, inner]) - (box.x0, box.y0)
    turned = np.column_stack([points[:, 1], box.width_mm - points[:, 0]])
    return _Sample((box.width_mm, box.height_mm), (points, turned))


def _grid(extent: Size, page: PageFormat, shift: Size) -> TileGrid:
    return TileGrid(page, -shift[0], extent[1] + shift[1])


def _shifts(extent: Size, page: PageFormat) -> list[Size]:
    """Shifts of the grid that use up the paper left over at its ends; with the drawing in the middle first."""
    slack = []
    for length, step in zip(extent, page.step_mm, strict=True):
        spare = math.ceil(max(length - page.overlap_mm, step) / step) * step + page.overlap_mm - length
        slack.append([spare * share for share in _SHIFTS])
    return list(product(slack[0], slack[1]))


def _motion(picture: PiecePicture, corner: Size, turned: bool) -> Affine:
    box = picture.box
    if turned:  # clockwise: words along an upright grain line then lie level
        return Affine(0.0, 1.0, -1.0, 0.0, corner[0] - box.y0, corner[1] + box.x1)
    return Affine.moved(corner[0] - box.x0, corner[1] - box.y0)
