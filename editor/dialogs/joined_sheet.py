"""All sheets joined, with the pieces on them to be moved and turned; the sheets it takes are counted meanwhile."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QWidget

from editor.dialogs.page_painter import paint_drawing
from editor.printing.job import SheetPlan
from editor.printing.packing import Layout
from editor.printing.picture import Box, PiecePicture, box_round
from editor.printing.tiles import Tile, TileGrid, piece_tiles
from editor.theme import Look
from geometry.affine import Affine, Point
from geometry.curves import polyline

_CLOSEST: Final = 20.0
_STEP_MM: Final = 1.0
_LARGE_STEP_MM: Final = 10.0
_ARROWS: Final = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}


class JoinedSheet(QWidget):
    """The pieces over the grid of sheets.

    Signals:
        arranged: pieces were moved or turned: the layout they have now (as an object).
        counted: while a piece is dragged, how many sheets it would take.
        picked: the name of the piece picked out, "" if none is.
    """

    arranged = Signal(object)
    counted = Signal(int)
    picked = Signal(str)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._plan: SheetPlan | None = None
        self._selected = ""
        self._carried = (0.0, 0.0)
        self._from: QPointF | None = None
        self._closer = 1.0
        self._middle: Point | None = None
        self._tiles: dict[str, frozenset[Tile]] = {}
        self.setMinimumSize(320, 320)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName("Joined sheet")
        self.setToolTip(
            "Drag a piece to move it, [ and ] turn it, arrows nudge it by 1 mm (Shift: 10 mm), without a piece the"
            " whole pattern. Comma and full stop pick out another piece. Wheel or + and −: closer. 0: everything."
        )

    @property
    def selected(self) -> str:
        """Name of the piece picked out, "" if none is."""
        return self._selected

    def show_plan(self, plan: SheetPlan | None) -> None:
        """Show another plan; where it is looked at and the piece picked out stay."""
        self._plan, self._carried, self._from = plan, (0.0, 0.0), None
        names = [piece.name for piece in plan.pieces] if plan else []
        self.select(self._selected if self._selected in names else "")
        self._tiles = {p.name: frozenset(piece_tiles(plan.grid, p)) for p in plan.pieces} if plan else {}
        self.update()

    def select(self, name: str) -> None:
        """Pick out a piece."""
        self._selected = name
        self.setAccessibleDescription(name)
        self.picked.emit(name)
        self.update()

    def turn(self, turn_deg: float) -> None:
        """Turn the piece picked out about its middle, counter-clockwise."""
        piece = self._piece()
        if piece is not None:
            self._move(Affine.turned(math.radians(turn_deg), piece.box.centre), [piece.name])

    def fit(self) -> None:
        """Show everything."""
        self._closer, self._middle = 1.0, None
        self.update()

    # -- drawing

    def paintEvent(self, _: QPaintEvent) -> None:
        """Draw the sheets, the pieces, and what lies on joins or on another piece."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.colour("press"))
        if self._plan is None:
            return
        scale, (x, y) = self._scale(), self._centre()
        painter.translate(self.width() / 2, self.height() / 2)
        painter.scale(scale, -scale)
        painter.translate(-x, -y)
        self._paint_sheets(painter, self._plan.grid)
        for piece in self._lying():
            self._paint_piece(painter, piece, scale)
        self._paint_warnings(painter, self._plan, scale)

    def _paint_sheets(self, painter: QPainter, grid: TileGrid) -> None:
        painter.setPen(QPen(self._look.colour("line_strong"), 0))
        painter.setBrush(QColor("white"))
        for tile in self._sheets():
            painter.drawRect(_rect(grid.area(tile)))
        font = painter.font()
        font.setPixelSize(40)
        painter.setFont(font)
        painter.setPen(self._look.colour("line_strong"))
        for tile in self._sheets():
            area = grid.area(tile)
            painter.save()
            painter.translate(area.x0 + 4.0, area.y1 - 4.0)
            painter.scale(0.25, -0.25)
            painter.drawText(QPointF(0.0, 40.0), tile.label)
            painter.restore()

    def _paint_piece(self, painter: QPainter, piece: PiecePicture, scale: float) -> None:
        is_selected = piece.name == self._selected
        fill = self._look.colour("accent") if is_selected else QColor("black")
        fill.setAlpha(36 if is_selected else 10)
        painter.setPen(QPen(self._look.colour("accent"), 2.0 / scale) if is_selected else Qt.PenStyle.NoPen)
        painter.setBrush(fill)
        painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in piece.outline.tolist()]))
        paint_drawing(painter, piece.drawing, scale)

    def _paint_warnings(self, painter: QPainter, plan: SheetPlan, scale: float) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(self._look.colour("warn"), 3.0 / scale))
        for spot in () if self._from else plan.joined_spots:
            painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in spot.spot.points.tolist()]))
        painter.setPen(QPen(self._look.colour("stop"), 2.5 / scale))
        for ring in (piece.outline for piece in self._lying() if piece.name in self.lying_on_another()):
            painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in ring.tolist()]))

    def lying_on_another(self) -> set[str]:
        """Names of pieces that cover a part of another one."""
        lying = self._lying()
        found = set()
        for index, one in enumerate(lying):
            for other in lying[index + 1 :]:
                if one.box.touches(other.box) and _overlap(one, other):
                    found |= {one.name, other.name}
        return found

    # -- mouse and keys

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a piece, or of the whole picture."""
        if self._plan is None or event.button() not in (Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton):
            return
        place = np.array([self._to_mm(event.position())])
        under = [p.name for p in reversed(self._plan.pieces) if polyline.contains(p.outline, place)[0]]
        left = event.button() is Qt.MouseButton.LeftButton
        self.select(under[0] if under and left else "")
        self._from = event.position()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Carry the piece, or look elsewhere."""
        if self._from is None or self._plan is None:
            return
        run = (event.position() - self._from) / self._scale()
        if self._selected:
            self._carried = (run.x(), -run.y())
            self.counted.emit(len(self._sheets()))
        else:
            x, y = self._centre()
            self._middle, self._from = (x - run.x(), y + run.y()), event.position()
        self.update()

    def mouseReleaseEvent(self, _: QMouseEvent) -> None:
        """Put the piece down."""
        carried, self._from, self._carried = self._carried, None, (0.0, 0.0)
        if self._selected and carried != (0.0, 0.0):
            self._move(Affine.moved(*carried), self._together())
        self.update()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Closer about the pointer."""
        before = self._to_mm(event.position())
        self._look_closer(1.25 if event.angleDelta().y() > 0 else 0.8)
        after, (x, y) = self._to_mm(event.position()), self._centre()
        self._middle = (x + before[0] - after[0], y + before[1] - after[1])
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Nudge, turn, pick out, look closer."""
        key = Qt.Key(event.key())
        if key in _ARROWS and self._plan is not None:
            step = _LARGE_STEP_MM if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else _STEP_MM
            dx, dy = (step * way for way in _ARROWS[key])
            self._move(Affine.moved(dx, dy), self._together() or [piece.name for piece in self._plan.pieces])
        elif key in (Qt.Key.Key_BracketLeft, Qt.Key.Key_BracketRight):
            self.turn(90.0 if key is Qt.Key.Key_BracketLeft else -90.0)
        elif key in (Qt.Key.Key_Comma, Qt.Key.Key_Period):
            self._select_next(1 if key is Qt.Key.Key_Period else -1)
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal, Qt.Key.Key_Minus):
            self._look_closer(0.8 if key is Qt.Key.Key_Minus else 1.25)
        elif key is Qt.Key.Key_0:
            self.fit()
        else:
            super().keyPressEvent(event)

    # -- inside

    def _select_next(self, by: int) -> None:
        names = [piece.name for piece in self._plan.pieces] if self._plan else []
        if names:
            at = names.index(self._selected) + by if self._selected else (0 if by > 0 else -1)
            self.select(names[at % len(names)])

    def _piece(self) -> PiecePicture | None:
        pieces = self._plan.pieces if self._plan else ()
        return next((piece for piece in pieces if piece.name == self._selected), None)

    def _together(self) -> list[str]:
        """The piece picked out and those of its group."""
        piece = self._piece()
        if piece is None or self._plan is None:
            return []
        return [p.name for p in self._plan.pieces if p.name == piece.name or (piece.group and p.group == piece.group)]

    def _move(self, motion: Affine, names: list[str]) -> None:
        if self._plan is None:
            return
        layout: Layout = self._plan.layout
        for index, piece in enumerate(self._plan.pieces):
            if piece.name in names:
                layout = layout.with_motion(index, motion)
        # Shown at once; the pages follow when they are planned.
        pieces = tuple(p.carried(motion) if p.name in names else p for p in self._plan.pieces)
        self._plan = replace(self._plan, layout=layout, pieces=pieces)
        self.update()
        self.arranged.emit(layout)

    def _lying(self) -> list[PiecePicture]:
        """The pieces as they lie, what is carried where it is now."""
        if self._plan is None:
            return []
        if self._carried == (0.0, 0.0):
            return list(self._plan.pieces)
        motion, names = Affine.moved(*self._carried), self._together()
        return [piece.carried(motion) if piece.name in names else piece for piece in self._plan.pieces]

    def _sheets(self) -> list[Tile]:
        if self._plan is None:
            return []
        if self._carried == (0.0, 0.0):
            return list(self._plan.tiles)
        names, grid = self._together(), self._plan.grid
        still = {tile for name, tiles in self._tiles.items() if name not in names for tile in tiles}
        moving = {tile for piece in self._lying() if piece.name in names for tile in piece_tiles(grid, piece)}
        return sorted(still | moving)

    def _box(self) -> Box:
        areas = [self._plan.grid.area(tile).ring for tile in self._plan.tiles] if self._plan else []
        return box_round(areas) if areas else Box(0.0, 0.0, 100.0, 100.0)

    def _scale(self) -> float:
        box = self._box()
        return min((self.width() - 24) / box.width_mm, (self.height() - 24) / box.height_mm) * self._closer

    def _centre(self) -> Point:
        return self._middle or self._box().centre

    def _to_mm(self, at: QPointF) -> Point:
        scale, (x, y) = self._scale(), self._centre()
        return (x + (at.x() - self.width() / 2) / scale, y - (at.y() - self.height() / 2) / scale)

    def to_pixels(self, place: Point) -> QPointF:
        """Where a place of the joined drawing is seen."""
        scale, (x, y) = self._scale(), self._centre()
        return QPointF(self.width() / 2 + (place[0] - x) * scale, self.height() / 2 - (place[1] - y) * scale)

    def _look_closer(self, factor: float) -> None:
        self._middle = self._centre()
        self._closer = min(max(self._closer * factor, 0.5), _CLOSEST)
        self.update()


def _overlap(one: PiecePicture, other: PiecePicture) -> bool:
    return bool(
        polyline.contains(one.outline, other.outline).any() or polyline.contains(other.outline, one.outline).any()
    )


def _rect(box: Box) -> QRectF:
    return QRectF(QPointF(box.x0, box.y0), QPointF(box.x1, box.y1))
