"""A calm question with a few ways to go on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtWidgets import QAbstractButton, QMessageBox, QPushButton

from editor.theme import Look


@dataclass(frozen=True, slots=True)
class Way:
    """One way to go on: what its button says, what it does, and whether something may be lost by it."""

    label: str
    go: Callable[[], None]
    loses: bool = False


class Question(QMessageBox):
    """Says what is the matter; Enter takes the first way unless leaving is as good, Escape does nothing at all."""

    def __init__(
        self, look: Look, title: str, sentence: str, *ways: Way, leave: str = "Cancel", enter_leaves: bool = False
    ) -> None:
        super().__init__(QMessageBox.Icon.NoIcon, "Dartwise", title)
        self.setInformativeText(sentence)
        self.setIconPixmap(look.pixmap("warn", "warn", 40))
        self._ways: dict[QAbstractButton, Way] = {}
        for way in ways:
            role = QMessageBox.ButtonRole.DestructiveRole if way.loses else QMessageBox.ButtonRole.AcceptRole
            button = self.addButton(way.label, role)
            self._ways[button] = way
            if len(self._ways) == 1:
                self.setDefaultButton(button)
        leaving = self.addButton(leave, QMessageBox.ButtonRole.RejectRole)
        self.setEscapeButton(leaving)
        if enter_leaves:
            self.setDefaultButton(leaving)

    def button_for(self, label: str) -> QPushButton:
        """The button that says this."""
        return next(button for button in self.findChildren(QPushButton) if button.text() == label)

    def done(self, result: int) -> None:
        """Close, and only then go the way chosen: what it opens must not close together with the question."""
        super().done(result)
        way = self._ways.get(self.clickedButton())
        if way is not None:
            way.go()
