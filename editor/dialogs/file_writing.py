"""Writing files beside the window, so that it can be watched and stopped."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from editor.dialogs.beside import Beside

Progress = Callable[[int, int], bool]
"""Hears of parts done and parts in all; says whether to go on."""


class FileWriting(Beside):
    """Runs what writes a file, or several.

    Signals:
        progressed: parts done, parts in all.
        written: the file is there.
    """

    progressed = Signal(int, int)
    written = Signal()

    def __init__(self, write: Callable[[Progress], object], watcher: QObject) -> None:
        """``write`` returns something true once the file is there."""
        super().__init__(watcher)
        self._write = write

    def work(self) -> None:
        """Write."""
        if self._write(self._on_part):
            self.tell(self.written.emit)
        else:
            self.tell(self.failed.emit, "")

    def _on_part(self, done: int, count: int) -> bool:
        self.tell(self.progressed.emit, done, count)
        return not self.is_stopped
