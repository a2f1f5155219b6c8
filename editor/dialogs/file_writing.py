"""Writing files beside the window, so that it can be watched and stopped."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event

from PySide6.QtCore import QObject, QThread, Signal

from geometry.errors import PatternError

Progress = Callable[[int, int], bool]
"""Hears of parts done and parts in all; says whether to go on."""


class FileWriting(QThread):
    """Runs what writes a file, or several.

    Signals:
        progressed: parts done, parts in all.
        written: the file is there.
        failed: it is not; the sentence says why, "" if it was stopped.
    """

    progressed = Signal(int, int)
    written = Signal()
    failed = Signal(str)

    def __init__(self, write: Callable[[Progress], object], parent: QObject) -> None:
        """``write`` returns something true once the file is there."""
        super().__init__(parent)
        self._write = write
        self._stopped = Event()

    def stop(self) -> None:
        """Leave off after the part in hand; nothing is written."""
        self._stopped.set()

    def run(self) -> None:
        """Do it."""
        try:
            done = self._write(self._on_part)
        except PatternError as error:
            self.failed.emit(error.sentence)
            return
        if done:
            self.written.emit()
        else:
            self.failed.emit("")

    def _on_part(self, done: int, count: int) -> bool:
        self.progressed.emit(done, count)
        return not self._stopped.is_set()
