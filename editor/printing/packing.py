"""Pieces laid on one large sheet so that few pages are needed.

The rectangles round the pieces are packed in many ways; each is judged by the pages that the real shapes then touch.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

import numpy as np

from editor.printing.paper import PageFormat
from editor.printing.picture import PiecePicture
from editor.printing.rectangles import Size, Turning, Way, packed_ways
from editor.printing.tiles import TileGrid
from geometry.affine import Affine, Points
from geometry.curves import polyline

_SAMPLE_MM: Final = 6.0
"""Distance between the points that stand for a piece while layouts are compared; the result is counted exactly."""

_CLOSE_LOOKS: Final = 24
"""So many of the best layouts have the page grid shifted under them."""

_SHIFTS: Final = (0.5, 0.0, 1.0)
"""Shares of the paper left over in the last row and column by which the grid is shifted, in the order of liking."""

_MOST_COLUMNS: Final = 10_000
"""Numbers pages row by row."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where each piece goes, and the grid of pages under them."""

    motions: tuple[Affine, ...]
    grid: TileGrid


def lay_out(pictures: Sequence[PiecePicture], page: PageFormat, *, turning: Turning, gap_mm: float) -> Layout:
    """The layout with the fewest pages among those tried, of equals the most compact one.

    The same input always gives the same layout.
    """
    shapes = [_shape(picture) for picture in pictures]
    ways = list(packed_ways([shape.size for shape in shapes], page, turning, gap_mm))
    plain = [_Try(way, _grid(way, page, (0.0, 0.0))) for way in ways]
    shifted = [
        _Try(each.way, _grid(each.way, page, shift))
        for each in _best(plain, shapes, _CLOSE_LOOKS)
        for shift in _shifts(each.way, page)
    ]
    best = _best(shifted, shapes, 1)[0]
    places = zip(pictures, best.way.corners, best.way.turned, strict=True)
    return Layout(tuple(_motion(picture, corner, turned) for picture, corner, turned in places), best.grid)


@dataclass(frozen=True, slots=True)
class _Shape:
    """What a piece is while layouts are compared.

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


def _best(tries: Sequence[_Try], shapes: Sequence[_Shape], count: int) -> list[_Try]:
    """The tries with the fewest pages; of equals the more compact, then the earlier."""
    ranks = [(_page_count(each, shapes), max(each.way.extent), index) for index, each in enumerate(tries)]
    return [tries[index] for *_, index in sorted(ranks)[:count]]


def _page_count(each: _Try, shapes: Sequence[_Shape]) -> int:
    places = zip(shapes, each.way.corners, each.way.turned, strict=True)
    rows, columns = each.grid.rows_columns(np.vstack([shape.points[turn] + corner for shape, corner, turn in places]))
    return len(np.unique(rows * _MOST_COLUMNS + columns))


def _shape(picture: PiecePicture) -> _Shape:
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
    return _Shape((box.width_mm, box.height_mm), (points, turned))


def _grid(way: Way, page: PageFormat, shift: Size) -> TileGrid:
    return TileGrid(page, -shift[0], way.extent[1] + shift[1])


def _shifts(way: Way, page: PageFormat) -> list[Size]:
    """Shifts of the grid that use up the paper left over at its ends; with the drawing in the middle first."""
    slack = []
    for extent, step in zip(way.extent, page.step_mm, strict=True):
        spare = math.ceil(max(extent - page.overlap_mm, step) / step) * step + page.overlap_mm - extent
        slack.append([spare * share for share in _SHIFTS])
    return list(product(slack[0], slack[1]))


def _motion(picture: PiecePicture, corner: Size, turned: bool) -> Affine:
    box = picture.box
    if turned:  # clockwise: words along an upright grain line then lie level and nothing stands on its head
        return Affine(0.0, 1.0, -1.0, 0.0, corner[0] - box.y0, corner[1] + box.x1)
    return Affine.moved(corner[0] - box.x0, corner[1] - box.y0)
