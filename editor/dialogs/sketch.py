"""A quick drawing of a piece with numbered places, that says where it was clicked."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from editor.theme import Look
from geometry.affine import Point
from geometry.model.piece import Piece


class Sketch(QWidget):
    """A piece drawn as large as fits, with numbered places.

    Signals:
        clicked: x and y on the piece, in mm.
    """

    clicked = Signal(float, float)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._piece: Piece | None = None
        self._places: tuple[tuple[Point, str], ...] = ()
        self.setMinimumSize(300, 260)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        look.changed.connect(self.update)

    def show_piece(self, piece: Piece, places: Sequence[tuple[Point, str]]) -> None:
        """Draw a piece and mark places on it."""
        self._piece, self._places = piece, tuple(places)
        self.update()

    def _view(self, piece: Piece) -> tuple[float, float, float]:
        """Scale, and where the origin lies in pixels."""
        x0, y0, x1, y1 = piece.bounds_mm
        scale = float(min((self.width() - 70) / (x1 - x0), (self.height() - 40) / (y1 - y0)))
        left = (self.width() - (x1 - x0) * scale) / 2 - x0 * scale
        return scale, float(left), float((self.height() + (y1 - y0) * scale) / 2 + y0 * scale)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.colour("card"))
        if self._piece is not None:
            self._draw(painter, self._piece)
        painter.end()

    def _draw(self, painter: QPainter, piece: Piece) -> None:
        scale, left, base = self._view(piece)

        def seen(place: Point) -> QPointF:
            return QPointF(left + place[0] * scale, base - place[1] * scale)

        painter.setPen(QPen(self._look.colour("soft"), 1.6))
        painter.drawPolygon(QPolygonF([seen((x, y)) for x, y in piece.outline.tolist()]))
        for dart in piece.darts:
            edge = piece.edge(dart.edge)
            mouth = [edge.point_at(dart.from_mm), dart.tip, edge.point_at(dart.to_mm)]
            painter.drawPolyline(QPolygonF([seen(place) for place in mouth]))
        painter.setPen(QPen(self._look.colour("stop"), 1.4))
        painter.setBrush(self._look.colour("card"))
        for place, words in self._places:
            box = QRectF(-9, -9, 18, 18).translated(seen(place))
            painter.drawEllipse(box)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Tell where it was clicked."""
        if self._piece is not None:
            scale, left, base = self._view(self._piece)
            self.clicked.emit((event.position().x() - left) / scale, (base - event.position().y()) / scale)
