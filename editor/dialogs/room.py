"""No window larger than the screen: what has no room would lie where nobody can click it."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QWidget

_FRAME_PX: Final = QSize(0, 30)
"""What the desktop may put round a window."""


def keep_on_screen(window: QWidget) -> None:
    """Make a window that is about to be shown no larger than its screen has room for; one that fits stays as it is."""
    fitting = window.size().boundedTo(window.screen().availableSize() - _FRAME_PX)
    if fitting != window.size():
        window.resize(fitting)
