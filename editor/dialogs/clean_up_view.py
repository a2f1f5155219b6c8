"""The pieces of a trace as drawn, with each suggestion on them, and a lens on the place that is moved most."""

from __future__ import annotations

from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from editor.canvas.piece_paths import roomiest
from editor.formats.clean_up import CleanUp, Kind, Suggestion
from editor.formats.import_pattern import Import
from editor.theme import Look
from geometry.affine import Point, Points, as_point
from geometry.curves import polyline
from geometry.model.pattern import EdgeRef
from geometry.model.piece import Piece
from geometry.units import MM_PER_INCH, Unit

_MARGIN_PX: Final = 28
_GRAB_PX: Final = 9.0
_ROOMY_PX: Final = 190
"""Edges of a piece less wide on the screen are not named."""

_DRAG_PX: Final = 4.0
_ZOOM: Final = 1.25
_NUDGE_MM: Final = (1.0, 10.0)
_LENS_PX: Final = 170
_LENS_MM: Final = 6.0
"""How much of the piece the lens shows from side to side: 1 mm is then about a centimetre on the screen."""


class CleanUpView(QWidget):
    """Draws; a click picks a suggestion or an edge, the wheel zooms, dragging moves.

    Signals:
        picked: key of the suggestion that was clicked.
        toggled: key of the one that was double-clicked, or chosen with the space bar.
        edge_picked: piece, edge and the place on it.
    """

    picked = Signal(str)
    toggled = Signal(str)
    edge_picked = Signal(str, str, float)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._pieces: tuple[Piece, ...] = ()
        self._rooms: list[Point] = []
        self._suggestions: tuple[Suggestion, ...] = ()
        self._clean_up = CleanUp()
        self._key = ""
        self._edge: EdgeRef | None = None
        self.at_mm = 0.0
        self.unit = Unit.CM
        self._scale, self._middle = 1.0, (0.0, 0.0)
        self._shown: tuple[float, float, float, float] | None = None
        self._pressed: tuple[QPointF, tuple[float, float]] | None = None
        self._dragging = False
        self.setMinimumSize(420, 380)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("The pieces as traced")
        self.setToolTip(
            "Click a mark to see it, double-click to take or decline it; click an edge to name it. "
            "Wheel or + − zoom, drag moves, ← → move the place on the edge."
        )

    def sizeHint(self) -> QSize:
        """Large enough to see a bodice."""
        return QSize(640, 560)

    # -- what is shown

    def show_import(self, found: Import, clean_up: CleanUp) -> None:
        """Show what was made of the trace with these answers."""
        self._pieces = tuple(piece for pattern in found.nest.patterns for piece in pattern.pieces)
        self._rooms = [roomiest(piece)[0] for piece in self._pieces]
        self._suggestions, self._clean_up = found.suggestions, clean_up
        if self._shown is None:
            self.fit()
        self.update()

    def show_suggestion(self, key: str) -> None:
        """Make one stand out."""
        self._key = key
        self.update()

    def show_edge(self, ref: EdgeRef | None, at_mm: float = 0.0) -> None:
        """Make an edge stand out, with a place on it."""
        self._edge, self.at_mm = ref, at_mm
        self.update()

    def fit(self, piece: str = "") -> None:
        """Show one piece as large as there is room, or all."""
        shown = [each for each in self._pieces if not piece or each.name == piece] or list(self._pieces)
        if shown:
            boxes = np.array([each.bounds_mm for each in shown])
            low, high = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
            self._shown = (float(low[0]), float(low[1]), float(high[0]), float(high[1]))
            self._look_at(self._shown)

    def zoom(self, times: float) -> None:
        """Larger or smaller about the middle."""
        self._scale = min(max(self._scale * times, 0.05), 60.0)
        self.update()

    def edge_place(self) -> tuple[str, str, Point] | None:
        """Piece, its size and the place on the edge that was chosen."""
        found = self._chosen()
        if found is None:
            return None
        piece, ref = found
        return piece.name, piece.size, piece.edge(ref.edge).point_at(self.at_mm)

    def _chosen(self) -> tuple[Piece, EdgeRef] | None:
        ref = self._edge
        piece = next((each for each in self._pieces if ref and each.name == ref.piece), None)
        if ref is None or piece is None or not any(edge.id == ref.edge for edge in piece.edges):
            return None
        return piece, ref

    def _look_at(self, box: tuple[float, float, float, float]) -> None:
        x0, y0, x1, y1 = box
        wide, high = max(x1 - x0, 1.0), max(y1 - y0, 1.0)
        room = max(self.width() - 2 * _MARGIN_PX, 40), max(self.height() - 2 * _MARGIN_PX, 40)
        self._scale = min(room[0] / wide, room[1] / high)
        self._middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        self.update()

    def _seen(self, points: Points) -> np.ndarray:
        """Points in pixels."""
        flipped = (np.asarray(points).reshape(-1, 2) - self._middle) * (self._scale, -self._scale)
        return np.asarray(flipped + (self.width() / 2, self.height() / 2))

    def _place(self, at: QPointF) -> Point:
        x = (at.x() - self.width() / 2) / self._scale + self._middle[0]
        return x, (self.height() / 2 - at.y()) / self._scale + self._middle[1]

    # -- painting

    def paintEvent(self, _: QPaintEvent) -> None:
        """Draw the pieces, what was traced, the suggestions and the lens."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.colour("press"))
        for piece in self._pieces:
            self._draw_piece(painter, piece)
        chosen = None
        for suggestion in self._suggestions:
            self._draw_suggestion(painter, suggestion)
            chosen = suggestion if suggestion.key == self._key else chosen
        self._draw_names(painter)
        self._draw_edge(painter)
        if chosen is not None:
            self._draw_chosen(painter, chosen)
        if self.hasFocus():
            painter.setPen(QPen(self._look.colour("accent"), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def _draw_piece(self, painter: QPainter, piece: Piece) -> None:
        painter.setPen(QPen(self._look.colour("ink"), 1.4))
        painter.setBrush(self._look.colour("card"))
        painter.drawPolygon(_polygon(self._seen(piece.outline)))
        painter.setPen(QPen(self._look.colour("line_strong"), 1.0))
        for line in piece.inner_lines:
            painter.drawPolyline(_polygon(self._seen(line.points)))

    def _draw_suggestion(self, painter: QPainter, suggestion: Suggestion) -> None:
        taken = self._clean_up.takes(suggestion)
        colour = self._look.colour("accent" if taken else "warn")
        style = Qt.PenStyle.SolidLine if taken else Qt.PenStyle.DashLine
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if suggestion.kind is Kind.CORNER:
            (x, y), side = self._seen(np.array(suggestion.at))[0], 3.5
            painter.setPen(QPen(colour, 1.6))
            painter.setBrush(colour if taken else self._look.colour("card"))
            painter.drawRect(QRectF(x - side, y - side, 2 * side, 2 * side))
        elif suggestion.kind is Kind.SIDE:
            if not taken:
                painter.setPen(QPen(colour, 1.8, style))
                painter.drawPolyline(_polygon(self._seen(suggestion.drawn[0])))
        else:
            width = 2.6 if suggestion.kind in (Kind.NOTCH, Kind.FOLD) else 1.5
            painter.setPen(QPen(colour, width, Qt.PenStyle.DashDotLine if suggestion.kind is Kind.FOLD else style))
            for line in suggestion.drawn[-1:] if suggestion.kind is Kind.LINE else suggestion.drawn:
                painter.drawPolyline(_polygon(self._seen(line)))
            if suggestion.kind is Kind.GRAIN:
                self._draw_heads(painter, suggestion.drawn[-1])

    def _draw_heads(self, painter: QPainter, line: Points) -> None:
        """An arrow at each end of a grain line."""
        ends = self._seen(line)
        for tip, other in ((ends[0], ends[-1]), (ends[-1], ends[0])):
            along = (other - tip) / max(float(np.hypot(*(other - tip))), 1.0)
            aside = np.array([-along[1], along[0]])
            for sign in (1, -1):
                painter.drawLine(QPointF(*tip), QPointF(*(tip + 8 * along + sign * 4 * aside)))

    def _draw_names(self, painter: QPainter) -> None:
        painter.setPen(self._look.colour("soft"))
        for piece, room in zip(self._pieces, self._rooms, strict=True):
            if self._scale * (piece.bounds_mm[2] - piece.bounds_mm[0]) < _ROOMY_PX:
                _write(painter, self._seen(np.array(room))[0], piece.name)
                continue
            for edge in piece.edges:
                half = edge.length_mm / 2
                place, (ux, uy) = edge.point_at(half), polyline.direction_at(edge.points, half)
                wide = painter.fontMetrics().horizontalAdvance(edge.id)
                inwards = np.array([-uy, -ux]) * (10 + wide / 2, 16)  # words beside an upright edge, not across it
                _write(painter, self._seen(np.array(place))[0] + inwards, edge.id)

    def _draw_edge(self, painter: QPainter) -> None:
        found = self._chosen()
        if found is None:
            return
        piece, ref = found
        edge = piece.edge(ref.edge)
        halo = QColor(self._look.colour("accent"))
        halo.setAlpha(90)
        painter.setPen(QPen(halo, 7, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.drawPolyline(_polygon(self._seen(edge.points)))
        place = self._seen(np.array(edge.point_at(self.at_mm)))[0]
        painter.setPen(QPen(self._look.colour("ink"), 1.5))
        painter.setBrush(self._look.colour("card"))
        painter.drawEllipse(QPointF(*place), 4.5, 4.5)

    def _draw_chosen(self, painter: QPainter, chosen: Suggestion) -> None:
        halo = QColor(self._look.colour("accent"))
        halo.setAlpha(90)
        painter.setPen(QPen(halo, 7, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for line in chosen.drawn:
            painter.drawPolyline(_polygon(self._seen(line)))
        if not chosen.drawn:
            painter.drawEllipse(QPointF(*self._seen(np.array(chosen.at))[0]), 10, 10)
        if chosen.moved_mm is not None:
            self._draw_lens(painter, chosen)

    def _draw_lens(self, painter: QPainter, chosen: Suggestion) -> None:
        """Traced points and the line drawn, large, where they lie furthest apart."""
        traced, drawn = chosen.drawn
        worst = max((as_point(row) for row in traced), key=lambda place: polyline.nearest(drawn, place)[1])
        box = QRectF(self.width() - _LENS_PX - 12, 12, _LENS_PX, _LENS_PX)
        times = _LENS_PX / _LENS_MM

        def large(points: Points) -> QPolygonF:
            moved = (np.asarray(points) - worst) * (times, -times) + (box.center().x(), box.center().y())
            return _polygon(moved)

        painter.save()
        painter.setPen(QPen(self._look.colour("line_strong"), 1))
        painter.setBrush(self._look.colour("card"))
        painter.drawRoundedRect(box, 8, 8)
        painter.setClipRect(box.adjusted(1, 1, -1, -1))
        taken = self._clean_up.takes(chosen)
        painter.setPen(
            QPen(self._look.colour("line_strong"), 1, Qt.PenStyle.DotLine if taken else Qt.PenStyle.SolidLine)
        )
        painter.drawPolyline(large(traced))
        painter.setPen(QPen(self._look.colour("accent"), 2, Qt.PenStyle.SolidLine if taken else Qt.PenStyle.DashLine))
        painter.drawPolyline(large(drawn))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.colour("warn"))
        for point in large(traced[np.hypot(*(traced - worst).T) < _LENS_MM]).toList():
            painter.drawEllipse(point, 3, 3)
        painter.restore()
        painter.setPen(self._look.colour("ink"))
        words = f"{moved_words(chosen.moved_mm or 0.0, self.unit)} at most"
        painter.drawText(
            box.adjusted(8, 0, -8, -6), Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignHCenter, words
        )

    # -- mouse and keys

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a click or a drag."""
        self._pressed, self._dragging = (event.position(), self._middle), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move what is seen."""
        if self._pressed is None:
            return
        start, middle = self._pressed
        away = event.position() - start
        if self._dragging or away.manhattanLength() > _DRAG_PX:
            self._dragging = True
            self._middle = (middle[0] - away.x() / self._scale, middle[1] + away.y() / self._scale)
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Pick what was clicked."""
        if self._pressed is not None and not self._dragging:
            self._pick(event.position())
        self._pressed = None

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Take or decline."""
        key = self._suggestion_at(event.position())
        if key:
            self.toggled.emit(key)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom about the pointer."""
        before = self._place(event.position())
        self.zoom(_ZOOM if event.angleDelta().y() > 0 else 1 / _ZOOM)
        after = self._place(event.position())
        self._middle = (self._middle[0] + before[0] - after[0], self._middle[1] + before[1] - after[1])
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Zoom, move along the edge, take or decline."""
        key = event.key()
        if key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom(_ZOOM)
        elif key == Qt.Key.Key_Minus:
            self.zoom(1 / _ZOOM)
        elif key == Qt.Key.Key_0:
            self.fit()
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            step = _NUDGE_MM[bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)]
            self._walk(step if key == Qt.Key.Key_Right else -step)
        elif key == Qt.Key.Key_Space and self._key:
            self.toggled.emit(self._key)
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep what is shown in view."""
        super().resizeEvent(event)
        if self._shown is not None:
            self._look_at(self._shown)

    def _walk(self, by_mm: float) -> None:
        found = self._chosen()
        if found is not None:
            piece, ref = found
            self.at_mm = min(max(self.at_mm + by_mm, 0.0), piece.edge(ref.edge).length_mm)
            self.update()

    def _pick(self, at: QPointF) -> None:
        key = self._suggestion_at(at)
        if key:
            self.picked.emit(key)
            return
        place = self._place(at)
        found = [(piece, *piece.nearest_edge(place)) for piece in self._pieces]
        if found:
            piece, edge, at_mm, gap_mm = min(found, key=lambda row: row[3])
            if gap_mm * self._scale <= 1.6 * _GRAB_PX:
                self.edge_picked.emit(piece.name, edge.id, at_mm)

    def _suggestion_at(self, at: QPointF) -> str:
        """The mark under the pointer; sides of the outline are picked as edges."""
        place = self._place(at)
        best, key = _GRAB_PX, ""
        for suggestion in self._suggestions:
            if suggestion.kind is Kind.SIDE:
                continue
            if suggestion.kind is Kind.CORNER or not suggestion.drawn:
                gap_mm = float(np.hypot(place[0] - suggestion.at[0], place[1] - suggestion.at[1]))
            else:
                gap_mm = min(polyline.nearest(line, place)[1] for line in suggestion.drawn)
                gap_mm += 3.0 / self._scale if suggestion.kind is Kind.FOLD else 0.0
            if gap_mm * self._scale < best:
                best, key = gap_mm * self._scale, suggestion.key
        return key


def _polygon(points: np.ndarray) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in points.tolist()])


def _write(painter: QPainter, at: np.ndarray, words: str) -> None:
    box = QRectF(float(at[0]) - 80, float(at[1]) - 10, 160, 20)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)


def moved_words(moved_mm: float, unit: Unit) -> str:
    """How far a point is moved: in millimetres, since sixteenths of an inch are too coarse, and in inches for those."""
    inches = f' · {moved_mm / MM_PER_INCH:.3f}"' if unit is Unit.INCH else ""
    return f"{moved_mm:.2f} mm{inches}"
