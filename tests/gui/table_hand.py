"""A hand on a real table: mouse and key events at places given in the millimetres of a piece."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from editor.canvas.table import Table
from geometry.affine import Point

LEFT = Qt.MouseButton.LeftButton


class TableHand:
    """Points at places of one piece."""

    def __init__(self, table: Table, piece: str) -> None:
        self.table = table
        self.piece = piece

    def pixel(self, place: Point) -> QPoint:
        sheet = self.table.bench.sheets.scene.sheets[self.piece]
        x, y = self.table.viewport.to_px(sheet.to_table(place))
        return QPoint(round(x), round(y))

    def move(self, place: Point) -> None:
        QTest.mouseMove(self.table, self.pixel(place))
        QApplication.processEvents()

    def press(self, place: Point, button: Qt.MouseButton = LEFT) -> None:
        self.move(place)
        QTest.mousePress(self.table, button, pos=self.pixel(place))

    def release(self, place: Point, button: Qt.MouseButton = LEFT) -> None:
        QTest.mouseRelease(self.table, button, pos=self.pixel(place))

    def click(self, *places: Point) -> None:
        for place in places:
            self.press(place)
            self.release(place)

    def drag(self, *places: Point, button: Qt.MouseButton = LEFT) -> None:
        """Press at the first place, move through the others, release at the last."""
        self.press(places[0], button)
        for place in places[1:]:
            self.move(place)
        self.release(places[-1], button)

    def key(self, *keys: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        for key in keys:
            QTest.keyClick(self.table, key, modifier)

    def type(self, text: str) -> None:
        """Type into whatever has the keyboard."""
        for character in text:
            QTest.keyClick(QApplication.focusWidget() or self.table, character)

    def wheel(self, place: Point, notches: int) -> None:
        at = QPointF(self.pixel(place))
        event = QWheelEvent(
            at,
            self.table.mapToGlobal(at),
            QPoint(),
            QPoint(0, 120 * notches),
            Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QApplication.sendEvent(self.table, event)
