"""Fit notes of the toile shown, as numbered marks where they were made."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QHelpEvent, QPainter, QPen
from PySide6.QtWidgets import QToolTip

from editor.canvas.palette import Palette
from editor.canvas.scene import Scene
from editor.canvas.viewport import Viewport
from editor.session import Session
from geometry.affine import Point, distance_mm

if TYPE_CHECKING:
    from editor.canvas.table import Table

_RADIUS_PX: Final = 9.0


class NoteMarks(QObject):
    """Numbers in rings, the same as in the list of notes; resting on one with the mouse tells what was seen."""

    def __init__(self, session: Session, table: Table) -> None:
        super().__init__(table)
        self._session, self._table = session, table
        self.is_shown = True
        table.installEventFilter(self)

    def eventFilter(self, _: QObject, event: QEvent) -> bool:
        """The words of the note under the mouse."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            words = self.words_at((event.pos().x(), event.pos().y()))
            QToolTip.showText(event.globalPos(), words, self._table)
            return bool(words)
        return False

    def words_at(self, at_px: Point) -> str:
        """What was noted at a pixel of the table, "" if nothing was."""
        shown, view = self._session.round, self._table.viewport
        for note in shown.notes if shown is not None and self.is_shown else ():
            sheet = self._table.bench.sheets.scene.sheets.get(note.piece)
            if sheet is not None and distance_mm(view.to_px(sheet.to_table((note.x, note.y))), at_px) <= _RADIUS_PX:
                return note.text
        return ""

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
