"""Where a drawing has ink: points along its lines and over its words, close enough to find what is empty."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from editor.printing.lettering import CAPITAL, face
from editor.printing.picture import Anchor, Drawing, Label, Stroke
from geometry.affine import Points, frozen_points
from geometry.curves import polyline

_EVERY_MM: Final = 4.0


def ink_points(drawing: Drawing, *, every_mm: float = _EVERY_MM) -> Points:
    """Points of shape (n, 2) along all lines and over all words."""
    found = [np.empty((0, 2))]
    found += [_along(stroke, every_mm) for stroke in drawing.strokes]
    found += [_over(label, every_mm) for label in drawing.labels]
    return frozen_points(np.vstack(found))


def _along(stroke: Stroke, every_mm: float) -> Points:
    path = stroke.path
    along = polyline.stations_mm(path)
    stations = np.linspace(0.0, along[-1], 2 + math.ceil(along[-1] / every_mm))
    return np.column_stack([np.interp(stations, along, path[:, axis]) for axis in (0, 1)])


def _over(label: Label, every_mm: float) -> Points:
    """Two rows of points, at the feet and at the heads of the letters."""
    width = face(label.bold).width_mm(label.text, label.height_mm)
    start = {Anchor.START: 0.0, Anchor.MIDDLE: -width / 2, Anchor.END: -width}[label.anchor]
    turn = math.radians(label.angle_deg)
    along = np.linspace(start, start + width, 2 + math.ceil(width / every_mm))
    feet = np.column_stack([label.at[0] + along * math.cos(turn), label.at[1] + along * math.sin(turn)])
    rise = label.height_mm * CAPITAL * np.array([-math.sin(turn), math.cos(turn)])
    return np.vstack([feet, feet + rise])
