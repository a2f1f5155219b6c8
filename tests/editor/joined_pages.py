"""Printed sheets put together by their marks, and lines found on pictures of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from shapely.geometry import LineString

from editor.printing.job import SheetPlan
from editor.printing.picture import LineKind, PiecePicture
from tests.editor.pdf_reading import PagePicture, page_paths


def sheets_by_their_marks(made: SheetPlan, path: Path) -> dict:
    """Where the lower left corner of the printed part of each sheet lies once half diamonds are joined."""
    bases = {page.tile: _diamond_bases(path, page.number - 1, made) for page in made.pages[1:]}
    first = made.tiles[0]
    placed = {first: np.array([made.grid.area(first).x0, made.grid.area(first).y0])}
    waiting = [first]
    while waiting:
        tile = waiting.pop()
        for side, other_side, row, column in (
            ("right", "left", 0, 1),
            ("left", "right", 0, -1),
            ("below", "above", 1, 0),
            ("above", "below", -1, 0),
        ):
            other = type(tile)(tile.row + row, tile.column + column)
            if other in bases and other not in placed:
                placed[other] = placed[tile] + bases[tile][side] - bases[other][other_side]
                waiting.append(other)
    return placed


def _diamond_bases(path: Path, index: int, made: SheetPlan) -> dict[str, np.ndarray]:
    """The middle of the joining side of each half diamond of a sheet, by the way it points."""
    found = {}
    own, _ = page_paths(path, index, made.page.printed)
    for each in own:
        if each.filled and len({tuple(np.round(p, 3)) for p in each.points}) == 3:
            corner, tip, _ = each.points[:3]
            base = (corner + each.points[2]) / 2
            dx, dy = base - tip
            side = ("right" if dx > 0 else "left") if abs(dx) > abs(dy) else ("above" if dy > 0 else "below")
            found[side] = base
    return found


def stations(piece: PiecePicture, every_mm: float) -> Iterator[tuple[np.ndarray, tuple[float, float]]]:
    """Places along the outline as it is cut or folded, off its corners, and the direction square to it there."""
    for stroke in piece.drawing.strokes:
        if stroke.kind in (LineKind.CUTTING, LineKind.FOLD):
            line = LineString(stroke.path)
            for along in np.arange(every_mm, line.length - every_mm, every_mm):
                behind, place, ahead = (np.array(line.interpolate(along + step).coords[0]) for step in (-2.0, 0.0, 2.0))
                if np.hypot(*((behind + ahead) / 2 - place)) < 0.1:
                    dx, dy = (ahead - behind) / np.hypot(*(ahead - behind))
                    yield place, (-dy, dx)


def line_at(picture: PagePicture, place: tuple[float, float], normal: tuple[float, float]) -> float:
    """How far from a place the middle of the line there is; not a number where other ink is too near to tell."""
    steps = np.arange(-1.6, 1.6001, 0.04)
    ink = picture.ink_at(*(place[axis] + steps * normal[axis] for axis in (0, 1)))
    if ink[np.abs(steps) > 0.9].max() > 0.02 or ink.max() < 0.5:
        return math.nan
    return float((ink * steps).sum() / ink.sum())
