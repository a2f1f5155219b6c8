"""A toile's name and day."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from editor.dialogs.trouble_line import TroubleLine
from editor.document.rounds import day_in, with_round, without_round
from editor.session import Session
from editor.text import counted
from geometry.errors import PatternError


class RoundDialog(QDialog):
    """Asks for the name and day of the toile shown; it can be removed here, too."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setWindowTitle("Toile")
        self.setMinimumWidth(380)
        shown, wearer = session.round, session.wearer
        self.name = QLineEdit(shown.name if shown else "")
        self.name.setMaxLength(60)
        self.name.setToolTip("What it is called: toile 2, final; printed on every piece")
        self.day = QLineEdit(shown.date if shown else "")
        self.day.setToolTip("The day it was tried on, as 2026-05-17; left empty, none is noted")
        rows = QFormLayout()
        rows.addRow("&Name", self.name)
        rows.addRow("&Day", self.day)
        held = [
            counted(len(shown.records), "step", "steps"),
            counted(len(shown.notes), "note", "notes"),
            counted(len(shown.photos), "photo", "photos"),
        ] if shown else []  # fmt: skip
        words = QLabel(f"Holds {', '.join(held)}. What is removed can be taken back with undo.")
        words.setObjectName("faint")
        words.setWordWrap(True)
        self.trouble = TroubleLine()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self.remove = self.buttons.addButton("&Remove this toile", QDialogButtonBox.ButtonRole.DestructiveRole)
        self.remove.setEnabled(wearer is not None and len(wearer.rounds) > 1)
        self.remove.setToolTip("Take this toile out, with its journal, notes and photos; a wearer's only one stays")
        self.remove.clicked.connect(self._remove)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(18, 16, 18, 14)
        layout.setSpacing(12)
        layout.addLayout(rows)
        for widget in (words, self.trouble, self.buttons):
            layout.addWidget(widget)
        self.name.textChanged.connect(self._allow)

    def accept(self) -> None:
        """Do it."""
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        if project is None or wearer is None or shown is None:
            return
        try:
            changed = replace(shown, name=self.name.text().strip(), date=day_in(self.day.text()))
        except PatternError as error:
            self.trouble.say(error.sentence)
            self.day.setFocus()
            return
        if changed != shown:
            self._session.state("Change toile", with_round(project, wearer.id, changed))
        super().accept()

    def _remove(self) -> None:
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        if project is not None and wearer is not None and shown is not None:
            self._session.state("Remove toile", without_round(project, wearer.id, shown.id))
        super().accept()

    def _allow(self) -> None:
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(bool(self.name.text().strip()))
