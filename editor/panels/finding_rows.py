"""How a finding is painted in its list: shape and word of its level, the sentence, a button that puts it right."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractItemModel,
    QEvent,
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QFontMetrics, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import QListWidget, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from editor.text import LEVEL_WORDS
from editor.theme import Look
from geometry.findings import Finding

FINDING = Qt.ItemDataRole.UserRole
FIX_WORDS = Qt.ItemDataRole.UserRole + 1

_PAD_PX = 10
_SIGN_PX = 18
_BUTTON = "Put right"

_Index = QModelIndex | QPersistentModelIndex


class FindingDelegate(QStyledItemDelegate):
    """Paints rows of findings and takes clicks on their buttons.

    Signals:
        pressed: the button of a row was clicked; the row.
    """

    pressed = Signal(int)

    def __init__(self, look: Look, parent: QListWidget) -> None:
        super().__init__(parent)
        self._look, self._list = look, parent

    def sizeHint(self, option: QStyleOptionViewItem, index: _Index) -> QSize:
        """As high as its words need."""
        width = self._list.viewport().width()
        metrics = option.fontMetrics
        room = QRect(0, 0, width - _SIGN_PX - 3 * _PAD_PX - 4, 10_000)
        words = metrics.boundingRect(room, Qt.TextFlag.TextWordWrap, str(index.data()))
        button = _button_height(metrics) + 5 if index.data(FIX_WORDS) else 0
        return QSize(width, words.height() + metrics.height() + button + _PAD_PX * 2 - 4)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        """Frame, sign, level, sentence, button."""
        finding: Finding = index.data(FINDING)
        role = finding.level.value
        box = option.rect.adjusted(4, 1, -4, -1)
        picked = bool(option.state & (QStyle.StateFlag.State_Selected | QStyle.StateFlag.State_MouseOver))
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if picked:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self._look.colour("card"))
            painter.drawRoundedRect(box, 6, 6)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(self._look.colour("accent"))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(box, 6, 6)
        painter.drawPixmap(QPoint(box.left() + 6, box.top() + 7), self._look.pixmap(role, role, _SIGN_PX))
        text = box.adjusted(_SIGN_PX + _PAD_PX + 6, 6, -_PAD_PX, 0)
        line_px = option.fontMetrics.height()
        font = painter.font()
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(self._look.colour(role))
        where = f" · {finding.piece}" if finding.piece else ""
        painter.drawText(text, Qt.AlignmentFlag.AlignTop, LEVEL_WORDS[finding.level] + where)
        font.setBold(False)
        painter.setFont(font)
        painter.setPen(self._look.colour("ink"))
        words = text.adjusted(0, line_px + 1, 0, 0)
        painter.drawText(words, Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap, str(index.data()))
        if index.data(FIX_WORDS):
            self._paint_button(painter, option, index)
        painter.restore()

    def editorEvent(
        self, event: QEvent, model: QAbstractItemModel, option: QStyleOptionViewItem, index: _Index
    ) -> bool:
        """A click on the button."""
        if (
            isinstance(event, QMouseEvent)
            and event.type() == QEvent.Type.MouseButtonRelease
            and index.data(FIX_WORDS)
            and button_of(option.rect, option.fontMetrics).contains(event.position().toPoint())
        ):
            self.pressed.emit(index.row())
            return True
        return super().editorEvent(event, model, option, index)

    def _paint_button(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        button = button_of(option.rect, option.fontMetrics)
        painter.setPen(QPen(self._look.colour("line_strong"), 1))
        painter.setBrush(self._look.colour("card"))
        painter.drawRoundedRect(QRectF(button).adjusted(0.5, 0.5, -0.5, -0.5), 5, 5)
        painter.setPen(self._look.colour("ink"))
        painter.drawText(button, Qt.AlignmentFlag.AlignCenter, _BUTTON)
        room = QRect(button.right() + 8, button.top(), option.rect.right() - button.right() - 20, button.height())
        painter.setPen(self._look.colour("soft"))
        words = option.fontMetrics.elidedText(str(index.data(FIX_WORDS)), Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, words)


def button_of(row: QRect, metrics: QFontMetrics) -> QRect:
    """Where the button of a row is."""
    high = _button_height(metrics)
    wide = metrics.horizontalAdvance(_BUTTON) + 16
    return QRect(row.left() + _SIGN_PX + _PAD_PX + 10, row.bottom() - high - 5, wide, high)


def _button_height(metrics: QFontMetrics) -> int:
    return metrics.height() + 6
