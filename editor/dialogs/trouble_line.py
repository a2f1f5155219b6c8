"""A line for what went wrong, gone while nothing did."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel


class TroubleLine(QLabel):
    """Says a sentence, or takes no room."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("trouble")
        self.setWordWrap(True)
        self.hide()

    def say(self, sentence: str) -> None:
        """Show a sentence; "" hides the line."""
        self.setText(sentence)
        self.setVisible(bool(sentence))
