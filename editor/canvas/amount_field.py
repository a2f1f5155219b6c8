"""The small field on the table in which an amount is typed."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from geometry.errors import PatternError
from geometry.units import Unit, parse_length_mm

_WIDTH_PX = 120


class AmountField(QLineEdit):
    """Reads a length as people write it and says it while it is typed.

    Signals:
        typed: the text is a length, in mm.
        refused: it is not; the sentence says what can be typed.
        done: Enter was pressed on a length.
        dropped: Escape was pressed, or the keyboard went elsewhere.
    """

    typed = Signal(float)
    refused = Signal(str)
    done = Signal()
    dropped = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._unit = Unit.CM
        self.setAccessibleName("Amount")
        self.setFixedWidth(_WIDTH_PX)
        self.setPlaceholderText("5/8, 12.7mm, 1,5 cm")
        self.textEdited.connect(self._read)
        self.hide()

    def begin(self, text: str, unit: Unit) -> None:
        """Open with what was typed so far; a number without a unit is read in ``unit``."""
        self._unit = unit
        self.setText(text)
        self.show()
        self.setFocus(Qt.FocusReason.OtherFocusReason)
        self._read(text)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter does it, Escape drops it."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self._length_mm(self.text())[0] is not None:
                self.done.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.dropped.emit()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Typing ends when the keyboard goes to another part of the window."""
        super().focusOutEvent(event)
        kept = (Qt.FocusReason.ActiveWindowFocusReason, Qt.FocusReason.PopupFocusReason)
        if self.isVisible() and event.reason() not in kept:
            self.dropped.emit()

    def _read(self, text: str) -> None:
        length_mm, sentence = self._length_mm(text)
        wrong = length_mm is None and text.strip() not in ("", "-", "−", "+")
        if self.property("wrong") is not wrong:
            self.setProperty("wrong", wrong)
            self.style().unpolish(self)
            self.style().polish(self)
        if length_mm is not None:
            self.typed.emit(length_mm)
        elif wrong:
            self.refused.emit(sentence)

    def _length_mm(self, text: str) -> tuple[float | None, str]:
        try:
            return parse_length_mm(text, default=self._unit), ""
        except PatternError as error:
            return None, error.sentence
