"""Pieces laid on one large sheet so that few pages are needed.

The rectangles round the pieces are packed in many ways (sheet widths, orders, rules, sizes rounded up to whole or half
pages so that pieces start where pages start); each way is judged by the pages that the real shapes then touch.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import product
from typing import Any, Final

import numpy as np
import rectpack

from editor.printing.paper import PageFormat
from editor.printing.picture import PiecePicture
from editor.printing.tiles import TileGrid
from geometry.affine import Affine, Points
from geometry.curves import polyline

Size = tuple[float, float]

_SAMPLE_MM: Final = 6.0
"""Distance between the points that stand for a piece while layouts are compared; the result is counted exactly."""

_WIDEST_PAGES: Final = 10
"""Layouts wider than this many pages are not tried: nobody has such a table, and taller ones are as good."""

_CLOSE_LOOKS: Final = 24
"""So many of the best layouts have the page grid shifted under them."""

_SHIFTS: Final = (0.5, 0.0, 1.0)
"""Shares of the paper left over in the last row and column by which the grid is shifted, in the order of liking."""

_RULES: Final = (
    (rectpack.MaxRectsBl, rectpack.SORT_LSIDE),
    (rectpack.MaxRectsBssf, rectpack.SORT_AREA),
    (rectpack.SkylineMwf, rectpack.SORT_SSIDE),
)
_UNITS_PER_MM: Final = 10
"""rectpack reckons in whole numbers: tenths of a millimetre, rounded up."""


class Turning(StrEnum):
    """How a piece may be turned on the paper (the cloth does not mind: the grain line is printed)."""

    FREE = "free"
    KEEP_GRAIN = "keep grain"


@dataclass(frozen=True, slots=True)
class Layout:
    """Where each piece goes, and the grid of pages under them."""

    motions: tuple[Affine, ...]
    grid: TileGrid


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to lay the pieces: their lower left corners, which of them are turned, and how large the sheet gets."""

    corners: tuple[Size, ...]
    turned: tuple[bool, ...]
    extent: Size


def lay_out(pictures: Sequence[PiecePicture], page: PageFormat, *, turning: Turning, gap_mm: float) -> Layout:
    """The layout with the fewest pages among those tried, of equals the most compact one.

    The same input always gives the same layout.
    """
    sizes = [(picture.box.width_mm, picture.box.height_mm) for picture in pictures]
    samples = [_samples(picture) for picture in pictures]
    ways = list(_ways(sizes, page, turning, gap_mm))
    scores = [_pages(way, samples, _grid(way, page, (0.0, 0.0))) for way in ways]
    ranked = sorted(range(len(ways)), key=lambda index: (scores[index], max(ways[index].extent), index))
    best = min(
        (
            (_pages(ways[index], samples, grid := _grid(ways[index], page, shift)), rank, order, grid)
            for rank, index in enumerate(ranked[:_CLOSE_LOOKS])
            for order, shift in enumerate(_shifts(ways[index], page))
        ),
        key=lambda found: found[:3],
    )
    way = ways[ranked[best[1]]]
    places = zip(pictures, way.corners, way.turned, strict=True)
    return Layout(tuple(_motion(picture, corner, turned) for picture, corner, turned in places), best[3])


def _ways(sizes: Sequence[Size], page: PageFormat, turning: Turning, gap_mm: float) -> Iterator[_Way]:
    step_x, step_y = page.step_mm
    roundings = ((0.0, 0.0), (step_x, step_y), (step_x / 2, step_y / 2))
    narrowest = max(min(size) if turning is Turning.FREE else size[0] for size in sizes)
    fewest = max(1, math.ceil((narrowest - page.overlap_mm) / step_x))
    all_abreast = math.ceil(sum(max(size) + gap_mm for size in sizes) / step_x) + len(sizes)
    for columns in range(fewest, max(fewest, min(all_abreast, _WIDEST_PAGES)) + 1):
        for rounding, (rule, order) in product(roundings, _RULES):
            way = _pack(sizes, columns * step_x + page.overlap_mm, gap_mm, rounding, turning, rule, order)
            if way is not None:
                yield way


def _pack(
    sizes: Sequence[Size], width_mm: float, gap_mm: float, rounding: Size, turning: Turning, rule: Any, order: Any
) -> _Way | None:
    """One run of rectpack; ``None`` where a piece is wider than the sheet.

    rectpack could turn rectangles itself, but a size that is rounded up to pages has to be rounded anew when turned.
    """
    free = turning is Turning.FREE
    exact = not rounding[0]
    turned = [free and _better_turned(size, width_mm, rounding) for size in sizes]
    packer = rectpack.newPacker(pack_algo=rule, sort_algo=order, rotation=free and exact)
    packed = []
    for index, (size, turn) in enumerate(zip(sizes, turned, strict=True)):
        w, h = reversed(size) if turn else size
        packed.append((_units(_rounded(w + gap_mm, rounding[0])), _units(_rounded(h + gap_mm, rounding[1]))))
        packer.add_rect(*packed[index], rid=index)
    packer.add_bin(_units(width_mm + gap_mm), sum(max(size) for size in packed))
    packer.pack()
    placed = sorted((rid, x, y, w) for _, x, y, w, _, rid in packer.rect_list())
    if len(placed) < len(sizes):
        return None
    turned = [turn != (w != packed[index][0]) for (index, _, _, w), turn in zip(placed, turned, strict=True)]
    corners = tuple((x / _UNITS_PER_MM, y / _UNITS_PER_MM) for _, x, y, _ in placed)
    lying = [tuple(reversed(size)) if turn else size for size, turn in zip(sizes, turned, strict=True)]
    far = np.array(corners) + np.array(lying)
    return _Way(corners, tuple(turned), (float(far[:, 0].max()), float(far[:, 1].max())))


def _better_turned(size: Size, width_mm: float, rounding: Size) -> bool:
    (w, h), (across, down) = size, rounding
    if max(w, h) > width_mm:
        return w > width_mm >= h
    if not across:
        return False
    return math.ceil(h / across) * math.ceil(w / down) < math.ceil(w / across) * math.ceil(h / down)


def _units(length_mm: float) -> int:
    return math.ceil(length_mm * _UNITS_PER_MM)


def _rounded(length_mm: float, step_mm: float) -> float:
    return math.ceil(length_mm / step_mm) * step_mm if step_mm else length_mm


def _samples(picture: PiecePicture) -> tuple[Points, Points]:
    """Points on and inside the outline, from its lower left corner, as it is and turned a quarter."""
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
    return points, np.column_stack([box.height_mm - points[:, 1], points[:, 0]])


def _pages(way: _Way, samples: Sequence[tuple[Points, Points]], grid: TileGrid) -> int:
    points = np.vstack(
        [both[turn] + corner for both, corner, turn in zip(samples, way.corners, way.turned, strict=True)]
    )
    rows, columns = grid.rows_columns(points)
    return len(np.unique(rows * 10_000 + columns))


def _grid(way: _Way, page: PageFormat, shift: Size) -> TileGrid:
    return TileGrid(page, -shift[0], way.extent[1] + shift[1])


def _shifts(way: _Way, page: PageFormat) -> list[Size]:
    """Shifts of the grid that use up the paper left over at its ends; with the drawing in the middle first."""
    slack = []
    for extent, step in zip(way.extent, page.step_mm, strict=True):
        spare = math.ceil(max(extent - page.overlap_mm, step) / step) * step + page.overlap_mm - extent
        slack.append([spare * share for share in _SHIFTS])
    return list(product(slack[0], slack[1]))


def _motion(picture: PiecePicture, corner: Size, turned: bool) -> Affine:
    box = picture.box
    if turned:
        return Affine(0.0, -1.0, 1.0, 0.0, corner[0] + box.y1, corner[1] - box.x0)
    return Affine.moved(corner[0] - box.x0, corner[1] - box.y0)
