"""The standing cautions."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from editor.text import CAUTIONS
from editor.theme import Look


class CautionsDialog(QDialog):
    """What to mind before printing, sewing and cutting."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Cautions")
        self.setMinimumWidth(480)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(22, 18, 22, 14)
        layout.setSpacing(12)
        for words in CAUTIONS:
            row, sign, text = QHBoxLayout(), QLabel(), QLabel(words)
            sign.setPixmap(look.pixmap("caution", "warn", 24))
            text.setWordWrap(True)
            row.setSpacing(12)
            row.addWidget(sign, 0, Qt.AlignmentFlag.AlignTop)
            row.addWidget(text, 1)
            layout.addLayout(row)
        layout.addWidget(_closing(self))


def _closing(dialog: QDialog) -> QDialogButtonBox:
    box = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
    box.setContentsMargins(0, 0, 14, 0)
    box.rejected.connect(dialog.reject)
    return box
