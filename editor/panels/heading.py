"""The line above a panel: its name, and a detail at the right."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget


class Heading(QWidget):
    """A panel's name with room for a detail and for buttons."""

    def __init__(self, name: str, *buttons: QWidget) -> None:
        super().__init__()
        self.name = QLabel(name)
        self.name.setObjectName("heading")
        self.detail = QLabel()
        self.detail.setObjectName("faint")
        layout = QHBoxLayout(self)
        layout.setContentsMargins(14, 10, 10, 6)
        layout.addWidget(self.name)
        layout.addStretch(1)
        layout.addWidget(self.detail)
        for button in buttons:
            layout.addWidget(button)

    def set_detail(self, words: str) -> None:
        """Say something beside the name."""
        self.detail.setText(words)
