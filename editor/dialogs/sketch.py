"""A quick drawing of a piece, or of two on one another, that says where it was clicked."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from editor.dialogs.spread_out import box_of
from editor.theme import Look
from geometry.affine import Point
from geometry.model.piece import Piece


class Sketch(QWidget):
    """Pieces drawn as large as fits, with dimensioned distances or numbered places.

    Signals:
        clicked: x and y on the piece, in mm.
    """

    clicked = Signal(float, float)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._pieces: tuple[Piece, ...] = ()
        self._lines: tuple[tuple[Point, Point, str], ...] = ()
        self._places: tuple[tuple[Point, str], ...] = ()
        self.setMinimumSize(300, 260)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        look.changed.connect(self.update)

    def show_pieces(
        self,
        pieces: Sequence[Piece],
        *,
        lines: Sequence[tuple[Point, Point, str]] = (),
        places: Sequence[tuple[Point, str]] = (),
    ) -> None:
        """Draw pieces, the first in ink and the second in colour."""
        self._pieces, self._lines, self._places = tuple(pieces), tuple(lines), tuple(places)
        self.update()

    def _view(self) -> tuple[float, float, float]:
        """Scale, and where the origin lies in pixels."""
        x0, y0, x1, y1 = box_of(self._pieces)
        scale = float(min((self.width() - 70) / (x1 - x0), (self.height() - 40) / (y1 - y0)))
        left = (self.width() - (x1 - x0) * scale) / 2 - x0 * scale
        return scale, float(left), float((self.height() + (y1 - y0) * scale) / 2 + y0 * scale)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.colour("card"))
        if self._pieces:
            scale, left, base = self._view()

            def seen(place: Point) -> QPointF:
                return QPointF(left + place[0] * scale, base - place[1] * scale)

            for piece, role, width in zip(self._pieces, ("soft", "accent"), (1.6, 2.0), strict=False):
                painter.setPen(QPen(self._look.colour(role), width))
                ring = np.vstack([edge.points[:-1] for edge in piece.edges])
                painter.drawPolygon(QPolygonF([seen((x, y)) for x, y in ring.tolist()]))
                for dart in piece.darts:
                    edge = piece.edge(dart.edge)
                    mouth = [edge.point_at(dart.from_mm), dart.tip, edge.point_at(dart.to_mm)]
                    painter.drawPolyline(QPolygonF([seen(place) for place in mouth]))
            painter.setPen(QPen(self._look.colour("stop"), 1.4))
            for start, end, words in self._lines:
                painter.drawLine(seen(start), seen(end))
                painter.drawText(seen(end) + QPointF(5, -4), words)
            for place, words in self._places:
                box = QRectF(-9, -9, 18, 18).translated(seen(place))
                painter.setBrush(self._look.colour("card"))
                painter.drawEllipse(box)
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)
        painter.end()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Tell where it was clicked."""
        if self._pieces:
            scale, left, base = self._view()
            self.clicked.emit((event.position().x() - left) / scale, (base - event.position().y()) / scale)
