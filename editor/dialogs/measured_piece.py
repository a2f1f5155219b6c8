"""The largest piece of a drawing, small, with one of its edges as a measuring line."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from editor.theme import Look
from geometry.affine import Points
from geometry.model.edge import Edge
from geometry.model.pattern import Nest
from geometry.model.piece import Piece
from geometry.units import Unit, format_length

_MARGIN_PX = 26


@dataclass(frozen=True, slots=True)
class Measured:
    """A piece and one of its edges, in the unit they were tried in.

    Attributes:
        piece: The largest piece of the sample size.
        edge: Its longest straight edge, or its longest one.
        unit: The unit tried.
    """

    piece: Piece
    edge: Edge
    unit: Unit

    @property
    def plain_length(self) -> float:
        """The edge's length as a bare number of the file."""
        return self.edge.length_mm / self.unit.mm

    def line_words(self, unit: Unit) -> str:
        """How long the edge is if the file's numbers are of that unit."""
        words = _words(self.plain_length, unit)
        return f"{words} ({format_length(self.plain_length * unit.mm, Unit.CM)})" if unit is Unit.INCH else words

    def piece_words(self, unit: Unit) -> str:
        """How large the piece is if the file's numbers are of that unit."""
        x0, y0, x1, y1 = self.piece.bounds_mm
        wide, high = ((x1 - x0) / self.unit.mm, (y1 - y0) / self.unit.mm)
        return f"{_words(wide, unit)} × {_words(high, unit)}"


def measured(nest: Nest, unit: Unit) -> Measured:
    """The piece and the line to ask about."""
    piece = max(nest.sample.pieces, key=lambda each: each.area_mm2)
    straight = [edge for edge in piece.edges if edge.is_straight] or list(piece.edges)
    return Measured(piece, max(straight, key=lambda edge: edge.length_mm), unit)


def _words(number: float, unit: Unit) -> str:
    return f"{number:.4g} {unit.value}"


class MeasuredPiece(QWidget):
    """Draws it."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._shown: Measured | None = None
        self._words = "?"
        self.setMinimumSize(280, 320)
        self.setAccessibleName("The largest piece with the line that is measured")

    def show_measured(self, shown: Measured, words: str) -> None:
        """Show a piece with words beside its measuring line."""
        self._shown, self._words = shown, words
        self.setAccessibleDescription(f"{shown.piece.name}: {shown.edge.id} {words}")
        self.update()

    def paintEvent(self, _: QPaintEvent) -> None:
        """Draw the piece as paper and the line in the accent."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.colour("press"))
        painter.drawRoundedRect(self.rect(), 8, 8)
        if self._shown is None:
            return
        painter.setPen(QPen(self._look.colour("ink"), 1.3))
        painter.setBrush(self._look.colour("card"))
        painter.drawPolygon(QPolygonF(self._on_screen(self._shown.piece.outline)))
        line = self._on_screen(self._shown.edge.points)
        painter.setPen(QPen(self._look.colour("accent"), 4, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.drawPolyline(QPolygonF(line))
        painter.setBrush(self._look.colour("accent"))
        for end in (line[0], line[-1]):
            painter.drawEllipse(end, 3.5, 3.5)
        self._draw_words(painter, line)

    def _draw_words(self, painter: QPainter, line: list[QPointF]) -> None:
        font = painter.font()
        font.setBold(True)
        painter.setFont(font)
        middle = (line[0] + line[-1]) / 2
        width = painter.fontMetrics().horizontalAdvance(self._words) + 16
        box = QRectF(0, 0, width, painter.fontMetrics().height() + 8)
        box.moveCenter(middle)
        room = QRectF(self.rect()).adjusted(4, 4, -4, -4)
        box.moveLeft(min(max(box.left(), room.left()), room.right() - box.width()))
        painter.setPen(QPen(self._look.colour("accent"), 1))
        painter.setBrush(self._look.colour("card"))
        painter.drawRoundedRect(box, 5, 5)
        painter.setPen(self._look.colour("ink"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, self._words)

    def _on_screen(self, points: Points) -> list[QPointF]:
        if self._shown is None:
            return []
        x0, y0, x1, y1 = self._shown.piece.bounds_mm
        wide, high = self.width() - 2 * _MARGIN_PX, self.height() - 2 * _MARGIN_PX
        scale = min(wide / max(x1 - x0, 1e-9), high / max(y1 - y0, 1e-9))
        left, top = self.width() / 2 - (x1 - x0) * scale / 2, self.height() / 2 - (y1 - y0) * scale / 2
        return [QPointF(left + (x - x0) * scale, top + (y1 - y) * scale) for x, y in points.tolist()]
