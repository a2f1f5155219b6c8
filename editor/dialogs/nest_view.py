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
from geometry.curves import polyline
from geometry.fitting.levels import BodyLevel, corner_level
from geometry.model.pattern import Nest
from geometry.model.piece import Piece

_GAP_MM: Final = 60.0
_GRIP_PX: Final = 14.0
_DRAG_PX: Final = 4.0


class NestView(QWidget):
    """Every piece in all sizes, laid side by side.

    Signals:
        size_wanted: a level and the size (its place) that was clicked there.
        corner_pulled: piece, edge that starts at the corner, and the place between sizes it was dragged to.
    """

    size_wanted = Signal(object, float)
    corner_pulled = Signal(str, str, float)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._look = desk.look
        self._nest: Nest | None = None
        self._blend: tuple[Piece, ...] = ()
        self._shifts: dict[str, tuple[float, float]] = {}
        self._bounds = QRectF(0, 0, 1, 1)
        self._held: tuple[str, int] | None = None
        self._pressed = np.zeros(2)
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

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a corner of the blend, if there is one."""
        self._pressed = np.array([event.position().x(), event.position().y()])
        self._held = None
        for piece in self._blend:
            if piece.name in self._shifts:
                away = np.hypot(*(self._corners(piece) - self._pressed).T)
                if away.min() < _GRIP_PX:
                    self._held = (piece.name, int(np.argmin(away)))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A drag pulls the corner it began on; a click takes a size at its level."""
        at = np.array([event.position().x(), event.position().y()])
        if self._nest is None:
            return
        if self._held is not None and np.hypot(*(at - self._pressed)) > _DRAG_PX:
            self._pull(*self._held, at)
        else:
            self._take(at)

    def _pull(self, name: str, number: int, at: np.ndarray) -> None:
        """Let a corner go where it is let go, on its way through the sizes."""
        assert self._nest is not None
        way = np.array([self._corners(pattern.piece(name))[number] for pattern in self._nest.patterns])
        if len(way) > 1:
            near_mm, _ = polyline.nearest(way, (float(at[0]), float(at[1])))
            place = float(np.interp(near_mm, polyline.stations_mm(way), np.arange(len(way))))
            edge = self._nest.sample.piece(name).edges[number].id
            self.corner_pulled.emit(name, edge, round(place * 20) / 20)

    def _corners(self, piece: Piece) -> np.ndarray:
        return self._seen(piece.name, np.array([edge.start for edge in piece.edges]))

    def _take(self, at: np.ndarray) -> None:
        """The size whose corner lies nearest, at that corner's level."""
        assert self._nest is not None
        found = []
        for place, pattern in enumerate(self._nest.patterns):
            for piece in pattern.pieces:
                if piece.name not in self._shifts:
                    continue
                away = np.hypot(*(self._corners(piece) - at).T)
                number = int(np.argmin(away))
                found.append((float(away[number]), place, corner_level(piece, number)))
        nearest = min(found, key=lambda row: row[0], default=None)
        if nearest is not None and nearest[0] < 40:
            level: BodyLevel = nearest[2]
            self.size_wanted.emit(level, float(nearest[1]))
