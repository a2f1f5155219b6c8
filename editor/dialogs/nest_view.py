"""The sizes of a nest on one another with the blend drawn over them; corners are clicked, or dragged between sizes."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from editor.commands.registry import Desk
from editor.dialogs.spread_out import box_of
from editor.document.project import Project, Wearer, start_of
from editor.document.wearing import sizes_of
from geometry.affine import Points
from geometry.fitting.corner_pull import position_at, pulled
from geometry.fitting.levels import BodyLevel, corner_level
from geometry.model.pattern import Nest
from geometry.model.piece import Piece

_GAP_MM: Final = 60.0
_GRIP_PX: Final = 14.0
_DRAG_PX: Final = 4.0
_KEY_STEP: Final = 0.25
_NAME_SHARE: Final = 0.32
"""How high on a piece its name stands: below armholes and caps."""
_SAME: Final = 0.005


class NestView(QWidget):
    """Every piece in all sizes, laid side by side.

    A corner of the blend is dragged with the mouse, the blend following; or chosen with the arrows left and right and
    pulled with up and down.

    Signals:
        size_wanted: a level and the size (its place) that was clicked there.
        corner_pulled: piece, edge that starts at the corner, and the place between sizes it was dragged to.
    """

    size_wanted = Signal(object, float)
    corner_pulled = Signal(str, str, float)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._look = desk.look
        self._project: Project | None = None
        self._wearer: Wearer | None = None
        self._nest: Nest | None = None
        self._blend: tuple[Piece, ...] = ()
        self._pulling: float | None = None
        self._shifts: dict[str, tuple[float, float]] = {}
        self._bounds = QRectF(0, 0, 1, 1)
        self._held: tuple[str, int] | None = None
        self._pressed = np.zeros(2)
        self.setMinimumSize(320, 300)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("The sizes on one another")
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setToolTip("Arrow keys: left and right choose a corner, up and down pull it by a quarter of a size")

    def show_nest(self, project: Project, wearer: Wearer) -> None:
        """Show a nest and a wearer's blend of it."""
        self._project, self._wearer, self._nest = project, wearer, project.base.nest
        self._blend = start_of(project.base.nest, wearer).pieces
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
        painter.setPen(self._look.colour("soft"))
        for piece in self._nest.sample.pieces:
            x0, y0, x1, y1 = piece.bounds_mm
            place = np.array([[(x0 + x1) / 2, y0 + _NAME_SHARE * (y1 - y0)]])
            (x, y), width = self._seen(piece.name, place)[0], 160
            painter.drawText(QRectF(x - width / 2, y - 10, width, 20), Qt.AlignmentFlag.AlignCenter, piece.name)
        if self._held is not None:
            self._draw_held(painter)
        painter.end()

    def _draw_held(self, painter: QPainter) -> None:
        """The corner in hand, and between which sizes it is."""
        assert self._held is not None
        assert self._nest is not None
        name, number = self._held
        piece = next(each for each in self._blend if each.name == name)
        x, y = self._corners(piece)[number]
        painter.setPen(QPen(self._look.colour("stop"), 2.0))
        painter.setBrush(self._look.colour("card"))
        painter.drawEllipse(QPointF(x, y), 5.0, 5.0)
        if self._pulling is not None:
            words = place_words(self._nest.sizes, self._pulling)
            box = QRectF(painter.fontMetrics().boundingRect(words)).adjusted(-6, -3, 6, 3)
            box.moveTo(min(x + 10, self.width() - box.width() - 2), max(y - box.height() - 6, 2))
            painter.setPen(QPen(self._look.colour("line_strong"), 1))
            painter.drawRoundedRect(box, 4, 4)
            painter.setPen(self._look.colour("ink"))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def _draw(self, painter: QPainter, piece: Piece) -> None:
        ring = np.vstack([edge.points[:-1] for edge in piece.edges])
        painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in self._seen(piece.name, ring)]))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a corner of the blend, if there is one."""
        self._pressed = np.array([event.position().x(), event.position().y()])
        self._held = self._corner_at(self._pressed)
        self.update()

    def _corner_at(self, at: np.ndarray) -> tuple[str, int] | None:
        """The nearest corner of the blend within reach: its piece and its number."""
        found = []
        for piece in self._blend:
            if piece.name in self._shifts:
                away = np.hypot(*(self._corners(piece) - at).T)
                found.append((float(away.min()), (piece.name, int(np.argmin(away)))))
        away_px, corner = min(found, default=(_GRIP_PX, None))
        return corner if away_px < _GRIP_PX else None

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """The blend follows the corner in hand."""
        at = np.array([event.position().x(), event.position().y()])
        if not event.buttons() & Qt.MouseButton.LeftButton:
            over = self._corner_at(at) is not None
            self.setCursor(Qt.CursorShape.SizeAllCursor if over else Qt.CursorShape.CrossCursor)
        elif self._held is not None and (self._pulling is not None or np.hypot(*(at - self._pressed)) > _DRAG_PX):
            self._try(self._place_at(*self._held, at))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A drag pulls the corner it began on; a click takes a size at its level."""
        at = np.array([event.position().x(), event.position().y()])
        if self._nest is None:
            return
        if self._held is not None and np.hypot(*(at - self._pressed)) > _DRAG_PX:
            self._pull(self._place_at(*self._held, at))
        elif self._pulling is None:
            self._take(at)
        self._pulling = None
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right choose a corner, up and down pull it, Escape lets it be."""
        ways = {Qt.Key.Key_Up: _KEY_STEP, Qt.Key.Key_Down: -_KEY_STEP}
        if event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self._choose_next(1 if event.key() == Qt.Key.Key_Right else -1)
        elif event.key() in ways and self._held is not None:
            self._pull(self._place_now(*self._held) + ways[Qt.Key(event.key())])
        elif event.key() == Qt.Key.Key_Escape and self._held is not None:
            self._held = self._pulling = None
            self._try(None)
        else:
            super().keyPressEvent(event)

    def _choose_next(self, by: int) -> None:
        corners = [(piece.name, number) for piece in self._blend for number in range(len(piece.edges))]
        at = corners.index(self._held) + by if self._held in corners else 0
        if corners:
            self._held = corners[at % len(corners)]
            self._pulling = self._place_now(*self._held)
        self.update()

    def _place_now(self, name: str, number: int) -> float:
        """Between which sizes a corner of the blend is."""
        assert self._nest is not None
        assert self._wearer is not None
        assert self._project is not None
        sizes, piece = sizes_of(self._project, self._wearer), self._nest.sample.piece(name)
        edge = piece.edges[number].id
        own = next((pull.position for pull in sizes.corners if (pull.piece, pull.edge) == (name, edge)), None)
        return sizes.at(corner_level(piece, number)) if own is None else own

    def _place_at(self, name: str, number: int, at: np.ndarray) -> float:
        """The place between sizes nearest to a pixel, on the corner's way through the sizes."""
        assert self._nest is not None
        x, y = (at - 6.0) / np.array([1.0, -1.0]) / self._scale() - np.array(self._shifts[name])
        edge = self._nest.sample.piece(name).edges[number].id
        return round(position_at(self._nest, name, edge, (float(x), float(y))) * 20) / 20

    def _try(self, position: float | None) -> None:
        """Show the blend with the corner in hand elsewhere, or as it is."""
        if self._project is None or self._wearer is None or self._nest is None:
            return
        self._pulling, wearer = position, self._wearer
        if position is not None and self._held is not None:
            edge = self._nest.sample.piece(self._held[0]).edges[self._held[1]].id
            sizes = pulled(sizes_of(self._project, wearer), self._held[0], edge, position)
            wearer = replace(wearer, sizes=sizes)
        self._blend = start_of(self._nest, wearer).pieces
        self.update()

    def _pull(self, position: float) -> None:
        """Let the corner in hand go at a place between the sizes."""
        if self._held is not None and self._nest is not None and len(self._nest.sizes) > 1:
            position = min(max(position, 0.0), len(self._nest.sizes) - 1.0)
            edge = self._nest.sample.piece(self._held[0]).edges[self._held[1]].id
            self.corner_pulled.emit(self._held[0], edge, position)
            self._pulling = position
            self.update()

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


def place_words(sizes: tuple[str, ...], position: float) -> str:
    """A place between sizes in words: "size 10", "25% of the way from 10 to 12"."""
    low = min(int(position), len(sizes) - 1)
    part = position - low
    if part < _SAME or low + 1 >= len(sizes):
        return f"size {sizes[low]}"
    return f"{part:.0%} of the way from {sizes[low]} to {sizes[low + 1]}"
