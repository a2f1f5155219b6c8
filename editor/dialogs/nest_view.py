"""The sizes of a nest on one another with the blend drawn over them; a click at a level takes a size there."""

from __future__ import annotations

from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from editor.commands.registry import Desk
from editor.dialogs.spread_out import box_of
from editor.document.project import Project, Wearer, start_of
from geometry.affine import Points
from geometry.fitting.levels import BodyLevel, corner_level
from geometry.model.pattern import Nest
from geometry.model.piece import Piece

_GAP_MM: Final = 60.0


class NestView(QWidget):
    """Every piece in all sizes, laid side by side.

    Signals:
        size_wanted: a level and the size (its place) that was clicked there.
    """

    size_wanted = Signal(object, float)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._look = desk.look
        self._nest: Nest | None = None
        self._blend: tuple[Piece, ...] = ()
        self._shifts: dict[str, tuple[float, float]] = {}
        self._bounds = QRectF(0, 0, 1, 1)
        self.setMinimumSize(320, 300)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("The sizes on one another")
        self.setCursor(Qt.CursorShape.CrossCursor)

    def show_nest(self, project: Project, wearer: Wearer) -> None:
        """Show a nest and a wearer's blend of it."""
        self._nest, self._blend = project.base.nest, start_of(project.base.nest, wearer).pieces
        self._lay_out()
        self.update()

    def _lay_out(self) -> None:
        """Pieces in two rows, each over its other sizes."""
        assert self._nest is not None
        pieces = self._nest.sample.pieces
        per_row = -(-len(pieces) // 2)
        self._shifts, y, width = {}, 0.0, 1.0
        for row in (pieces[:per_row], pieces[per_row:]):
            x, tallest = 0.0, 0.0
            for piece in row:
                x0, y0, x1, y1 = box_of(pattern.piece(piece.name) for pattern in self._nest.patterns)
                self._shifts[piece.name] = (x - x0, y - y1)
                x += x1 - x0 + _GAP_MM
                tallest = max(tallest, y1 - y0)
            width, y = max(width, x - _GAP_MM), y - tallest - _GAP_MM
        self._bounds = QRectF(0, y, width, -y)

    def _scale(self) -> float:
        return min((self.width() - 12) / self._bounds.width(), (self.height() - 12) / self._bounds.height())

    def _seen(self, piece: str, points: Points) -> np.ndarray:
        """Points of a piece in pixels."""
        flipped = np.array([1.0, -1.0]) * self._scale()
        return np.asarray((points + np.array(self._shifts[piece])) * flipped + 6.0)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """All sizes pale, the blend on top."""
        if self._nest is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.colour("card"))
        painter.setPen(QPen(self._look.colour("line_strong"), 0.8))
        for pattern in self._nest.patterns:
            for piece in pattern.pieces:
                if piece.name in self._shifts:
                    self._draw(painter, piece)
        painter.setPen(QPen(self._look.colour("accent"), 2.0))
        for piece in self._blend:
            if piece.name in self._shifts:
                self._draw(painter, piece)
        painter.end()

    def _draw(self, painter: QPainter, piece: Piece) -> None:
        ring = np.vstack([edge.points[:-1] for edge in piece.edges])
        painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in self._seen(piece.name, ring)]))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Take the size whose corner lies nearest, at that corner's level; a drag ends where it is let go."""
        if self._nest is None:
            return
        at, found = np.array([event.position().x(), event.position().y()]), []
        for place, pattern in enumerate(self._nest.patterns):
            for piece in pattern.pieces:
                if piece.name not in self._shifts:
                    continue
                corners = self._seen(piece.name, np.array([edge.start for edge in piece.edges]))
                away = np.hypot(*(corners - at).T)
                number = int(np.argmin(away))
                found.append((float(away[number]), place, corner_level(piece, number)))
        nearest = min(found, key=lambda row: row[0], default=None)
        if nearest is not None and nearest[0] < 40:
            level: BodyLevel = nearest[2]
            self.size_wanted.emit(level, float(nearest[1]))
