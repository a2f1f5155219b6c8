"""A field for an amount as people write it: 5/8, 1 1/2", 12.7mm, 1,5 cm; or for a share: 50 %."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from geometry.errors import PatternError
from geometry.units import MM_PER_INCH, Unit, format_length, parse_length_mm

_HOW = 'Type a length: 12 mm, 1,5 cm, 5/8 or 1 1/2". Enter takes it, Escape leaves it as it was, ↑ ↓ nudge it.'
_NUDGE_SHARE = 5.0


def _read_share(text: str) -> float:
    """Hundredths, as typed; raises ``PatternError``."""
    try:
        return float(text.strip().rstrip("%").strip().replace(",", "."))
    except ValueError:
        raise PatternError(
            f'"{text.strip()}" is not a share; type for example 50 % or 100 %.', code="bad-share"
        ) from None


def _read_degrees(text: str) -> float:
    """Degrees, as typed; raises ``PatternError``."""
    try:
        return float(text.strip().rstrip("°").strip().replace(",", "."))
    except ValueError:
        raise PatternError(f'"{text.strip()}" is not an angle; type for example 1 or 2.5.', code="bad-angle") from None


class LengthField(QLineEdit):
    """A length in mm, shown in the person's unit and typed in any; or a share in hundredths.

    A text that is neither stays as typed, is said in words in ``complaint``, and changes nothing.

    Signals:
        length_changed: a new amount was typed or nudged.
    """

    length_changed = Signal(float)

    def __init__(self, name: str, *, help_text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._amount = 0.0
        self._words = ""
        self._write: Callable[[float], str] = str
        self._read: Callable[[str], float] = float
        self._nudge = 1.0
        self._taken = False
        self.complaint = QLabel()
        self.complaint.setObjectName("complaint")
        self.complaint.setWordWrap(True)
        self.complaint.hide()
        self.setAccessibleName(name)
        self.setToolTip(f"{help_text} {_HOW}".strip())
        self.setMinimumWidth(64)
        self.editingFinished.connect(self.take)

    @property
    def amount(self) -> float:
        """The amount that counts now: mm, or hundredths."""
        return self._amount

    def show_length(self, length_mm: float, unit: Unit) -> None:
        """Show a length; a text being typed is left alone unless the length or the unit is another one."""
        self._write = lambda amount: format_length(amount, unit)
        self._read = lambda text: parse_length_mm(text, default=unit)
        self._nudge = MM_PER_INCH / 16 if unit is Unit.INCH else 1.0
        self._show(length_mm)

    def show_share(self, hundredths: float) -> None:
        """Show a share."""
        self._write = lambda amount: f"{amount:g} %"
        self._read = _read_share
        self._nudge = _NUDGE_SHARE
        self._show(hundredths)

    def show_degrees(self, angle_deg: float) -> None:
        """Show an angle."""
        self._write = lambda amount: f"{amount:g}°"
        self._read = _read_degrees
        self._nudge = 0.5
        self._show(angle_deg)

    def accept_amount(self, amount: float) -> None:
        """Take an amount over, written as before."""
        self._taken = True
        self._amount, self._words = amount, self._write(amount)
        self._restore()

    def _show(self, amount: float) -> None:
        words = self._write(amount)
        if (amount, words) != (self._amount, self._words) or not self.isModified():
            self.accept_amount(amount)

    def complain(self, sentence: str) -> None:
        """Say what is wrong with the text, or with "" that nothing is."""
        self.complaint.setText(sentence)
        self.complaint.setVisible(bool(sentence))
        self.setAccessibleDescription(sentence)
        if bool(self.property("wrong")) != bool(sentence):
            self.setProperty("wrong", bool(sentence))
            self.style().unpolish(self)
            self.style().polish(self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape restores, up and down nudge by a millimetre or a sixteenth of an inch."""
        if event.key() == Qt.Key.Key_Escape and (self.isModified() or self.complaint.text()):
            self._restore()
            self.selectAll()
        elif event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down) and not event.modifiers():
            self._offer(self._amount + (self._nudge if event.key() == Qt.Key.Key_Up else -self._nudge))
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Coming by key, the whole text is ready to be typed over."""
        super().focusInEvent(event)
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.selectAll()

    def event(self, event: QEvent) -> bool:
        """While something is typed, Escape belongs to the field and not to a shortcut of the window."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and event.key() == Qt.Key.Key_Escape
        ):
            event.accept()
            return True
        return super().event(event)

    def take(self) -> None:
        """Take over what was typed, or say what is wrong with it."""
        if not self.isModified():
            return
        try:
            amount = self._read(self.text())
        except PatternError as error:
            self.complain(error.sentence)
            return
        self._offer(amount)

    def _offer(self, amount: float) -> None:
        if amount == self._amount:
            self._restore()
            return
        self.complain("")
        self.setModified(False)
        self._taken = False
        self.length_changed.emit(amount)
        if self.complaint.text():
            self.setModified(True)
        elif not self._taken:
            self.accept_amount(amount)

    def _restore(self) -> None:
        self.setText(self._write(self._amount))
        self.setModified(False)
        self.setCursorPosition(0)
        self.complain("")
