"""Python clears away what points at itself on whichever thread asks for memory; here only on the window's.

What belongs to Qt must not be deleted on a thread that writes, or lays out pages beside the window: that would end
the program.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

_EVERY_MS = 500


class Tidying(QObject):
    """Does it now and then, as much as Python would by itself."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self.destroyed.connect(lambda *_: gc.enable())
        self._timer = QTimer(self)
        self._timer.setInterval(_EVERY_MS)
        self._timer.timeout.connect(self.tidy)
        self._timer.start()

    def tidy(self) -> None:
        """Clear away the oldest of what has piled up."""
        for generation in (2, 1, 0):
            if gc.get_count()[generation] > gc.get_threshold()[generation]:
                gc.collect(generation)
                return
