"""Centimetres or inches, at the right end of the status bar."""

from __future__ import annotations

from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QWidget

from editor.session import Session
from editor.text import UNIT_SHORT, UNIT_WORDS
from geometry.units import Unit

_CHOICES = (Unit.CM, Unit.MM, Unit.INCH)


class UnitSwitch(QWidget):
    """A row of small buttons; it changes every length shown."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        group = QButtonGroup(self)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 6, 0)
        layout.setSpacing(3)
        self.buttons: dict[Unit, QPushButton] = {}
        for unit in _CHOICES:
            button = QPushButton(UNIT_SHORT[unit])
            button.setObjectName("segment")
            button.setCheckable(True)
            button.setAccessibleName(f"Show lengths in {UNIT_WORDS[unit]}")
            button.setToolTip(f"Show every length in {UNIT_WORDS[unit]}")
            button.clicked.connect(lambda _=False, chosen=unit: session.set_unit(chosen))
            group.addButton(button)
            layout.addWidget(button)
            self.buttons[unit] = button
        session.unit_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the unit chosen now."""
        self.buttons[self._session.unit].setChecked(True)
