"""What lies under the pointer."""

from __future__ import annotations

import numpy as np

from editor.canvas.scene import Scene, Sheet
from geometry.affine import Point, Points, frozen_points
from geometry.alterations.chalk import RecordedCut
from geometry.curves import polyline


def sheet_at(scene: Scene, place: Point, *, reach_mm: float = 0.0) -> Sheet | None:
    """The topmost sheet under a place on the table, else the nearest one within reach, else ``None``."""
    near: list[tuple[float, Sheet]] = []
    for sheet in reversed(tuple(scene)):
        x0, y0, x1, y1 = sheet.box
        if not (x0 - reach_mm <= place[0] <= x1 + reach_mm and y0 - reach_mm <= place[1] <= y1 + reach_mm):
            continue
        local = sheet.to_piece(place)
        if polyline.contains(sheet.ring, np.array([local]))[0]:
            return sheet
        near.append((distance_to_ring_mm(sheet.ring, local), sheet))
    if near:
        gap_mm, sheet = min(near, key=lambda row: row[0])
        return sheet if gap_mm <= reach_mm else None
    return None


def cut_at(scene: Scene, place: Point, *, reach_mm: float) -> RecordedCut | None:
    """The recorded cut nearest to a place on the table, if one is within reach."""
    near = [
        (polyline.nearest(cut.points, scene.sheets[cut.piece].to_piece(place))[1], index)
        for index, cut in enumerate(scene.cuts)
        if cut.piece in scene.sheets
    ]
    if not near or min(near)[0] > reach_mm:
        return None
    return scene.cuts[min(near)[1]]


def distance_to_ring_mm(ring: Points, place: Point) -> float:
    """Distance from a place to the nearest point of a closed ring."""
    return polyline.nearest(frozen_points(np.vstack([ring, ring[:1]])), place)[1]
