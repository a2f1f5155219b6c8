"""Pieces laid out side by side, so that the whole pattern is seen at a glance."""

from __future__ import annotations

import math
from collections.abc import Mapping

from editor.canvas.viewport import Box
from geometry.affine import Point

GAP_MM = 60.0
"""Between sheets, so that an ordinary spread does not reach the neighbour."""

TABLE_ASPECT = 1.1
"""Width over height of the table beside the panels at 1440 x 900."""


def placed(boxes: Mapping[str, Box], *, gap_mm: float = GAP_MM, aspect: float = TABLE_ASPECT) -> dict[str, Point]:
    """For each piece the shift that lays it in rows, in the order given, bottoms of a row on one line.

    The number of rows is the one that lets the view be magnified most on a table of that aspect. Rows run from the
    top down and each is centred; the whole is centred on the origin.
    """
    if not boxes:
        return {}
    names = list(boxes)
    candidates = [_rows(names, boxes, count, gap_mm) for count in range(1, _most_rows(len(names)) + 1)]
    best = min(candidates, key=lambda rows: _extent(rows, boxes, gap_mm, aspect))
    return _shifts(best, boxes, gap_mm)


def _most_rows(count: int) -> int:
    return min(count, 2 * math.isqrt(count) + 2)


def _rows(names: list[str], boxes: Mapping[str, Box], count: int, gap_mm: float) -> list[list[str]]:
    """The names in order, broken into rows of about equal width."""
    share = sum(_width(boxes[name]) + gap_mm for name in names) / count
    rows: list[list[str]] = [[]]
    filled = 0.0
    for name in names:
        width = _width(boxes[name]) + gap_mm
        if rows[-1] and filled + width / 2 > share * len(rows):
            rows.append([])
        rows[-1].append(name)
        filled += width
    return rows


def _extent(rows: list[list[str]], boxes: Mapping[str, Box], gap_mm: float, aspect: float) -> float:
    """How large the layout is on the table: the smaller, the more it can be magnified."""
    wide = max(sum(_width(boxes[name]) + gap_mm for name in row) for row in rows)
    high = sum(max(_height(boxes[name]) for name in row) + gap_mm for row in rows)
    return max(wide / aspect, high)


def _shifts(rows: list[list[str]], boxes: Mapping[str, Box], gap_mm: float) -> dict[str, Point]:
    heights = [max(_height(boxes[name]) for name in row) for row in rows]
    top = (sum(heights) + gap_mm * (len(rows) - 1)) / 2
    shifts: dict[str, Point] = {}
    for row, height in zip(rows, heights, strict=True):
        left = -(sum(_width(boxes[name]) for name in row) + gap_mm * (len(row) - 1)) / 2
        for name in row:
            x0, y0, _, _ = boxes[name]
            shifts[name] = (left - x0, top - height - y0)
            left += _width(boxes[name]) + gap_mm
        top -= height + gap_mm
    return shifts


def _width(box: Box) -> float:
    return box[2] - box[0]


def _height(box: Box) -> float:
    return box[3] - box[1]
