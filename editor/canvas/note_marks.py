"""Fit notes of the toile shown, as numbered marks where they were made."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QHelpEvent, QPainter, QPen
from PySide6.QtWidgets import QToolTip

from editor.canvas.palette import Palette
from editor.canvas.scene import Scene
from editor.canvas.viewport import Viewport
from editor.document.note_places import note_places
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
        for _, text, at in self._marks(self._table.bench.sheets.scene, self._table.viewport):
            if distance_mm(at, at_px) <= _RADIUS_PX:
                return text
        return ""

    def _marks(self, scene: Scene, viewport: Viewport) -> Iterator[tuple[int, str, Point]]:
        """Number, words and pixel of every mark."""
        shown, base = self._session.round, self._session.base
        if shown is None or base is None or not self.is_shown:
            return
        places = note_places(shown.notes, base, shown.records)
        for number, (note, own) in enumerate(zip(shown.notes, places, strict=True), start=1):
            for piece, at in own:
                if piece in scene.sheets:
                    yield number, note.text, viewport.to_px(scene.sheets[piece].to_table(at))

    def paint(self, painter: QPainter, scene: Scene, viewport: Viewport, palette: Palette, font: QFont) -> None:
        """Draw them where the sheets lie."""
        bold = QFont(font)
        bold.setBold(True)
        painter.setFont(bold)
        for number, _, (x, y) in self._marks(scene, viewport):
            painter.setPen(QPen(QColor(palette.warning), 1.6))
            painter.setBrush(QColor(palette.paper))
            painter.drawEllipse(QPointF(x, y), _RADIUS_PX, _RADIUS_PX)
            box = QRectF(x - _RADIUS_PX, y - _RADIUS_PX, 2 * _RADIUS_PX, 2 * _RADIUS_PX)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(number))
