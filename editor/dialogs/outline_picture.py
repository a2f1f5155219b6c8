"""Pieces with their stitching lines and the cutting lines round them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from editor.canvas.piece_paths import roomiest
from editor.dialogs.spread_out import box_of
from editor.theme import Look
from geometry.affine import Point, Points
from geometry.allowance import cutting_line
from geometry.model.pattern import EdgeRef
from geometry.model.piece import Piece

_MARGIN_PX = 22
_GAP_MM = 50.0
_WORDS_PX = 24
_GRAB_PX = 14.0


class OutlinePicture(QWidget):
    """All pieces side by side; a click picks an edge.

    Signals:
        picked: piece and edge that were clicked.
    """

    picked = Signal(str, str)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._pieces: tuple[Piece, ...] = ()
        self._cutting: list[Points] = []
        self._shifts: list[tuple[float, float]] = []
        self._bounds = QRectF(0, 0, 1, 1)
        self._rooms: list[Point] = []
        self._edge = EdgeRef("", "")
        self.setMinimumSize(420, 380)
        self.setAccessibleName("Stitching lines dashed, cutting lines drawn out")
        self.setToolTip("Stitching lines are dashed, cutting lines drawn out. Click an edge to say how wide it is.")

    def show_pieces(self, pieces: Sequence[Piece]) -> None:
        """Lay the pieces out."""
        self._pieces = tuple(pieces)
        self._cutting = [cutting_line(piece) for piece in pieces]
        self._rooms = [roomiest(piece)[0] for piece in pieces]
        self._shifts, x, y, width, row_high = [], 0.0, 0.0, 1.0, 0.0
        per_row = -(-len(pieces) // 2) if len(pieces) > 3 else len(pieces)
        for number, (piece, ring) in enumerate(zip(pieces, self._cutting, strict=True)):
            if number and number % per_row == 0:
                x, y, row_high = 0.0, y - row_high - _GAP_MM, 0.0
            x0, y0, x1, y1 = box_of([piece])
            low, high = np.minimum(ring.min(axis=0), (x0, y0)), np.maximum(ring.max(axis=0), (x1, y1))
            self._shifts.append((x - float(low[0]), y - float(high[1])))
            x += float(high[0] - low[0]) + _GAP_MM
            width, row_high = max(width, x - _GAP_MM), max(row_high, float(high[1] - low[1]))
        self._bounds = QRectF(0, 0, width, row_high - y)
        self.update()

    def show_edge(self, ref: EdgeRef) -> None:
        """Make one stand out."""
        self._edge = ref
        self.update()

    def paintEvent(self, _: QPaintEvent) -> None:
        """Draw them."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.colour("press"))
        for number, piece in enumerate(self._pieces):
            painter.setPen(QPen(self._look.colour("ink"), 1.5))
            painter.setBrush(self._look.colour("card"))
            painter.drawPolygon(self._seen(self._cutting[number], number))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self._look.colour("soft"), 1.2, Qt.PenStyle.DashLine))
            painter.drawPolygon(self._seen(piece.outline, number))
            for edge in piece.edges:
                if EdgeRef(piece.name, edge.id) == self._edge:
                    painter.setPen(QPen(self._look.colour("accent"), 3.5))
                    painter.drawPolyline(self._seen(edge.points, number))
            middle = self._seen(np.array([self._rooms[number]]), number).first()
            words = QRectF(middle.x() - 80, middle.y() - 10, 160, 20)
            painter.setPen(self._look.colour("soft"))
            painter.drawText(words, Qt.AlignmentFlag.AlignCenter, piece.name)
        painter.setPen(self._look.colour("ink"))
        low = QRectF(_MARGIN_PX, self.height() - _WORDS_PX, self.width() - 2 * _MARGIN_PX, _WORDS_PX)
        painter.drawText(low, Qt.AlignmentFlag.AlignVCenter, "drawn out: cutting line · dashed: stitching line")

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Pick an edge."""
        best, found = _GRAB_PX / self._scale, None
        for number, piece in enumerate(self._pieces):
            at = self._place(event.position(), number)
            edge, _, gap_mm = piece.nearest_edge(at)
            if gap_mm < best:
                best, found = gap_mm, (piece.name, edge.id)
        if found:
            self.picked.emit(*found)

    @property
    def _scale(self) -> float:
        high = self.height() - 2 * _MARGIN_PX - _WORDS_PX
        return max(min((self.width() - 2 * _MARGIN_PX) / self._bounds.width(), high / self._bounds.height()), 0.01)

    def _seen(self, points: Points, number: int) -> QPolygonF:
        moved = (np.asarray(points) + self._shifts[number]) * (self._scale, -self._scale) + _MARGIN_PX
        return QPolygonF([QPointF(x, y) for x, y in moved.tolist()])

    def _place(self, at: QPointF, number: int) -> tuple[float, float]:
        dx, dy = self._shifts[number]
        return (at.x() - _MARGIN_PX) / self._scale - dx, -(at.y() - _MARGIN_PX) / self._scale - dy
