"""Finding a roomy place for words inside a piece, so that they hide no line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from editor.printing.ink import ink_points
from editor.printing.lettering import CAPITAL, face, wrapped
from editor.printing.picture import Anchor, Drawing, Label, PiecePicture, WordRow
from geometry.affine import Point, Points
from geometry.curves import polyline

_CANDIDATES: Final = 400
"""About so many places are looked at."""

_ROOMY_MM: Final = 12.0
"""With this much air on every side a place is as good as any; of such places the most central is taken."""


_SHAPES: Final = ((1.0, 92.0), (1.0, 150.0), (0.85, 75.0), (0.85, 130.0), (0.7, 60.0), (0.7, 160.0), (0.7, 45.0))
"""Scale of the type and widest line in mm, in the order of liking: smaller type, longer lines for narrow pieces."""

_AIR_MM: Final = 2.0
"""Words keep at least this far from a line, else they are tried smaller."""

_LEADING: Final = 1.4


def lettered(picture: PiecePicture, obstacles: Points) -> PiecePicture:
    """The piece with its words upright and its block of words where there is most room, level or along the grain.

    Args:
        picture: The piece.
        obstacles: Points of shape (n, 2) that the words should keep off besides the lines of the piece.
    """
    picture = replace(picture, drawing=Drawing(picture.drawing.strokes, tuple(map(righted, picture.drawing.labels))))
    if picture.words is None:
        return picture
    low, high = picture.outline.min(axis=0), picture.outline.max(axis=0)
    near = obstacles[((obstacles >= low) & (obstacles <= high)).all(axis=1)]
    ink = np.vstack([ink_points(picture.drawing), near])
    found: list[tuple[Room, tuple[WordRow, ...]]] = []
    for scale, widest_mm in _SHAPES:
        rows = _wrapped(picture.words.rows, scale, widest_mm)
        width = max(face(row.bold).width_mm(row.text, row.height_mm) for row in rows)
        angles_deg = (0.0, readable_deg(picture.words.grain_deg))
        found.append((find_room(picture.outline, ink, width, _height_mm(rows), angles_deg), rows))
        if found[-1][0].clear_mm >= _AIR_MM:
            break
    room, rows = max(found, key=lambda each: each[0].clear_mm)
    return replace(picture, drawing=picture.drawing + Drawing((), _set(room, rows)), words=None)


def righted(label: Label) -> Label:
    """The same words at the same place, turned so that they do not stand on their head."""
    angle_deg = readable_deg(label.angle_deg)
    if abs(angle_deg - label.angle_deg) % 360.0 < 90.0:
        return label
    along, up = math.radians(label.angle_deg), math.radians(label.angle_deg + 90.0)
    back = {Anchor.START: 0.5, Anchor.MIDDLE: 0.0, Anchor.END: -0.5}[label.anchor]
    right_mm, up_mm = back * face(label.bold).width_mm(label.text, label.height_mm), CAPITAL * label.height_mm
    at = (
        label.at[0] + right_mm * math.cos(along) + up_mm * math.cos(up),
        label.at[1] + right_mm * math.sin(along) + up_mm * math.sin(up),
    )
    return replace(label, at=at, angle_deg=angle_deg, anchor=Anchor.MIDDLE)


def readable_deg(angle_deg: float) -> float:
    """The same line, read from below or from the right: in [-89, 91)."""
    return (angle_deg + 89.0) % 180.0 - 89.0


def _wrapped(rows: Sequence[WordRow], scale: float, widest_mm: float) -> tuple[WordRow, ...]:
    return tuple(
        WordRow(text, row.height_mm * scale, row.bold)
        for row in rows
        for text in wrapped(row.text, widest_mm, row.height_mm * scale, bold=row.bold)
    )


def _height_mm(rows: Sequence[WordRow]) -> float:
    return _LEADING * sum(row.height_mm for row in rows)


def _set(room: Room, rows: Sequence[WordRow]) -> tuple[Label, ...]:
    (x, y), turn = room.middle, math.radians(room.angle_deg)
    labels = []
    down = -_height_mm(rows) / 2
    for row in rows:
        drop = down + row.height_mm
        down += _LEADING * row.height_mm
        at = (x + drop * math.sin(turn), y - drop * math.cos(turn))
        labels.append(Label(at, row.text, row.height_mm, room.angle_deg, bold=row.bold))
    return tuple(labels)


@dataclass(frozen=True, slots=True)
class Room:
    """A place for a block of words: its middle, its turn, and the air left round it (negative: it hides a line)."""

    middle: Point
    angle_deg: float
    clear_mm: float


def find_room(outline: Points, ink: Points, width_mm: float, height_mm: float, angles_deg: Sequence[float]) -> Room:
    """The best place for a block of this size; of the turns given, an earlier one wins unless a later one is roomier.

    Args:
        outline: Ring of shape (n, 2); the middle of the block is inside it.
        ink: Points along everything that must stay free, the outline too.
        width_mm: Of the block along its base line.
        height_mm: Of the block across it.
        angles_deg: Turns of the base line to try.
    """
    places, pitch = _places(outline)
    rooms = []
    for angle_deg in angles_deg:
        cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
        turn = np.array([[cos, -sin], [sin, cos]])
        block = _Block(ink @ turn, outline.mean(axis=0) @ turn, (width_mm / 2, height_mm / 2), turn)
        rooms.append(_best_at(places, pitch, block, angle_deg))
    return max(rooms, key=lambda room: room.clear_mm)


def _places(outline: Points) -> tuple[Points, float]:
    """Places inside the outline in even rows, and the distance between them."""
    low, high = outline.min(axis=0), outline.max(axis=0)
    pitch = math.sqrt(float(np.prod(high - low)) / _CANDIDATES)
    grid = _rows_of_places(low + pitch / 2, high, pitch)
    inside = grid[polyline.contains(outline, grid)]
    return (inside if len(inside) else outline.mean(axis=0)[None, :]), pitch


def _rows_of_places(low: Points, high: Points, pitch: float) -> Points:
    across, up = (np.arange(low[axis], high[axis], pitch) for axis in (0, 1))
    return np.column_stack([each.ravel() for each in np.meshgrid(across, up)])


@dataclass(frozen=True, slots=True)
class _Block:
    """The obstacles, the middle of the piece and half the block's sides, all seen along the block's base line."""

    obstacles: Points
    centre: Points
    half: tuple[float, float]
    turn: Points

    def best_of(self, places: Points) -> tuple[Points, float]:
        """The place with the most air, of equally roomy ones the most central; and that air."""
        turned = places @ self.turn
        air = np.full(len(places), -math.inf)
        for index, (x, y) in enumerate(turned):
            across, up = (
                np.abs(self.obstacles[:, 0] - x) - self.half[0],
                np.abs(self.obstacles[:, 1] - y) - self.half[1],
            )
            air[index] = np.maximum(across, up).min()
        clear = np.minimum(air, _ROOMY_MM)
        away = np.hypot(*(turned - self.centre).T)
        index = int(np.lexsort((away, -np.round(clear, 1)))[0])
        return places[index], float(clear[index])


def _best_at(places: Points, pitch: float, block: _Block, angle_deg: float) -> Room:
    place, _ = block.best_of(places)
    near = _rows_of_places(place - 0.8 * pitch, place + 0.9 * pitch, pitch / 5)
    place, clear = block.best_of(np.vstack([place[None, :], near]))
    return Room((float(place[0]), float(place[1])), angle_deg, clear)
