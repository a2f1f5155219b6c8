"""The card behind a row of a list."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyleOptionViewItem

from editor.theme import Look


def painted_card(painter: QPainter, option: QStyleOptionViewItem, look: Look) -> QRect:
    """The room of a row inside its card; the card is painted where the row is picked or under the mouse."""
    box: QRect = option.rect.adjusted(6, 1, -6, -1)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if option.state & QStyle.StateFlag.State_Selected:
        painter.setPen(QPen(look.colour("accent"), 1))
        painter.setBrush(look.colour("accent_soft"))
        painter.drawRoundedRect(QRectF(box).adjusted(0.5, 0.5, -0.5, -0.5), 6, 6)
    elif option.state & QStyle.StateFlag.State_MouseOver:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(look.colour("card"))
        painter.drawRoundedRect(box, 6, 6)
    return box
