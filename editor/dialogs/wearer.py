"""A wearer's name and size."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QDialog, QDialogButtonBox, QFormLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from editor.document.rounds import without_wearer
from editor.session import Session


class WearerDialog(QDialog):
    """Asks for the name and size of a new wearer, or of the one shown."""

    def __init__(self, session: Session, *, new: bool, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session, self._new = session, new
        self.setWindowTitle("Add a wearer" if new else "Wearer")
        self.setMinimumWidth(380)
        sizes = session.project.base.nest.sizes if session.project else ()
        wearer = session.wearer
        self.name = QLineEdit("" if new or wearer is None else wearer.name)
        self.name.setToolTip("What the wearer is called; printed on every piece")
        self.name.setMaxLength(60)
        self.size_box = QComboBox()
        self.size_box.addItems(list(sizes))
        self.size_box.setToolTip("The size of the bought pattern to start from; the steps are done on it")
        if wearer is not None:
            self.size_box.setCurrentText(wearer.size)
        rows = QFormLayout()
        rows.addRow("&Name", self.name)
        rows.addRow("&Size", self.size_box)
        words = QLabel(
            "Starts with an empty journal on the same bought pattern."
            if new
            else "With another size, every step of every toile runs again on it."
        )
        words.setObjectName("faint")
        words.setWordWrap(True)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        if not new and session.project is not None:
            self._add_remove(len(session.project.wearers))
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(18, 16, 18, 14)
        layout.setSpacing(12)
        layout.addLayout(rows)
        layout.addWidget(words)
        layout.addWidget(self.buttons)
        self.name.textChanged.connect(self._allow)
        self._allow()

    def accept(self) -> None:
        """Do it."""
        name, size = self.name.text().strip(), self.size_box.currentText()
        if self._new:
            self._session.add_wearer(name, size)
        else:
            self._session.change_wearer(name, size)
        super().accept()

    def _add_remove(self, wearers: int) -> None:
        remove = self.buttons.addButton("&Remove this wearer", QDialogButtonBox.ButtonRole.DestructiveRole)
        remove.setEnabled(wearers > 1)
        remove.setToolTip("Take this wearer out with all toiles; undo brings them back. The only one stays")
        remove.clicked.connect(self._remove)

    def _remove(self) -> None:
        project, wearer = self._session.project, self._session.wearer
        if project is not None and wearer is not None:
            self._session.state("Remove wearer", without_wearer(project, wearer.id))
        super().accept()

    def _allow(self) -> None:
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(bool(self.name.text().strip()))
