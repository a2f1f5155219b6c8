"""How a seam is painted in the list of seams: its number in its chalk, both sides, why or how it differs."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QListWidget, QStyledItemDelegate, QStyleOptionViewItem

from editor.canvas.palette import DAYLIGHT, LAMPLIGHT
from editor.panels.row_card import painted_card
from editor.theme import Look

ROW = Qt.ItemDataRole.UserRole
_PAD_PX = 8
_BADGE_PX = 22


@dataclass(frozen=True, slots=True)
class SeamRow:
    """What is shown of a seam.

    Attributes:
        id: Its id.
        number: Its number on the table.
        sides: Its two sides in words.
        details: Reasons for a proposal, or how the sides of a stated seam differ.
        is_stated: Whether the person said so.
        is_off: Whether its sides do not agree.
    """

    id: str
    number: int
    sides: tuple[str, str]
    details: str
    is_stated: bool
    is_off: bool

    @property
    def spoken(self) -> str:
        """All of it in one sentence."""
        state = "sewn" if self.is_stated else "proposed"
        return f"Seam {self.number}, {state}: {self.sides[0]} to {self.sides[1]}; {self.details}"


class SeamDelegate(QStyledItemDelegate):
    """Paints rows of seams."""

    def __init__(self, look: Look, parent: QListWidget) -> None:
        super().__init__(parent)
        self._look, self._list = look, parent

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """As high as its words need."""
        row: SeamRow = index.data(ROW)
        width = self._list.viewport().width()
        words = option.fontMetrics.boundingRect(self._room(width), Qt.TextFlag.TextWordWrap, row.details)
        return QSize(width, option.fontMetrics.height() * 2 + words.height() + 2 * _PAD_PX)

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Badge, sides, details."""
        row: SeamRow = index.data(ROW)
        painter.save()
        box = painted_card(painter, option, self._look)
        self._paint_badge(painter, row, box)
        line_px = option.fontMetrics.height()
        text = box.adjusted(_BADGE_PX + 2 * _PAD_PX, _PAD_PX - 2, -_PAD_PX, 0)
        painter.setPen(self._look.colour("ink"))
        for at, side in enumerate(row.sides):
            words = option.fontMetrics.elidedText(side, Qt.TextElideMode.ElideRight, text.width())
            painter.drawText(text.adjusted(0, at * line_px, 0, 0), Qt.AlignmentFlag.AlignTop, words)
        painter.setPen(self._look.colour("warn" if row.is_off else "soft"))
        below = text.adjusted(0, 2 * line_px + 1, 0, 0)
        painter.drawText(below, Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap, row.details)
        painter.restore()

    def _paint_badge(self, painter: QPainter, row: SeamRow, box: QRect) -> None:
        palette = LAMPLIGHT if self._look.is_dark else DAYLIGHT
        colour, paper = QColor(palette.seams[row.number % len(palette.seams)]), QColor(palette.paper)
        patch = QRectF(box.left() + _PAD_PX, box.top() + _PAD_PX, _BADGE_PX, _BADGE_PX)
        painter.setPen(QPen(colour, 1.6))
        painter.setBrush(colour if row.is_stated else paper)
        painter.drawRoundedRect(patch, _BADGE_PX / 2, _BADGE_PX / 2)
        painter.setPen(paper if row.is_stated else colour)
        painter.drawText(patch, Qt.AlignmentFlag.AlignCenter, str(row.number))

    def _room(self, width: int) -> QRect:
        return QRect(0, 0, width - _BADGE_PX - 3 * _PAD_PX - 12, 10_000)
