"""Fit notes of the toile shown, as numbered marks where they were made."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPen

from editor.canvas.palette import Palette
from editor.canvas.scene import Scene
from editor.canvas.viewport import Viewport
from editor.session import Session

_RADIUS_PX: Final = 9.0


class NoteMarks:
    """Numbers in rings, the same as in the list of notes."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self.is_shown = True

    def paint(self, painter: QPainter, scene: Scene, viewport: Viewport, palette: Palette, font: QFont) -> None:
        """Draw them where the sheets lie."""
        shown = self._session.round
        if shown is None or not self.is_shown:
            return
        bold = QFont(font)
        bold.setBold(True)
        painter.setFont(bold)
        for number, note in enumerate(shown.notes, start=1):
            sheet = scene.sheets.get(note.piece)
            if sheet is not None:
                at = QPointF(*viewport.to_px(sheet.to_table((note.x, note.y))))
                painter.setPen(QPen(QColor(palette.warning), 1.6))
                painter.setBrush(QColor(palette.paper))
                painter.drawEllipse(at, _RADIUS_PX, _RADIUS_PX)
                box = QRectF(at.x() - _RADIUS_PX, at.y() - _RADIUS_PX, 2 * _RADIUS_PX, 2 * _RADIUS_PX)
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(number))
