"""A picture that takes the room there is, and what is asked about it beside it."""

from __future__ import annotations

from PySide6.QtWidgets import QDialog, QHBoxLayout, QVBoxLayout, QWidget

_SIDE_PX = 400


def lay_side_by_side(dialog: QDialog, picture: QWidget, column: QVBoxLayout) -> None:
    """Fill a dialog with a picture and a column of one width at its right."""
    side = QWidget()
    side.setLayout(column)
    side.setFixedWidth(_SIDE_PX)
    whole = QHBoxLayout(dialog)
    whole.setContentsMargins(14, 14, 14, 12)
    whole.setSpacing(14)
    whole.addWidget(picture, 1)
    whole.addWidget(side)
