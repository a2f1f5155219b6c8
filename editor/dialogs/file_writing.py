"""Writing files beside the window, so that it can be watched and stopped."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QProgressDialog, QWidget

from editor.dialogs.beside import Beside

_SHOWN_AFTER_MS: Final = 300

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


def show_progress(work: FileWriting, words: str, window: QWidget) -> QProgressDialog:
    """Over the window, how far the work is and a button that stops it, once it has taken a moment."""
    dialog = QProgressDialog(words, "&Stop", 0, 0, window)
    dialog.setWindowModality(Qt.WindowModality.WindowModal)
    dialog.setMinimumDuration(_SHOWN_AFTER_MS)
    dialog.setAutoClose(False)
    dialog.setAutoReset(False)

    def move(done: int, count: int) -> None:
        dialog.setMaximum(count)
        dialog.setValue(done)

    work.progressed.connect(move)
    dialog.canceled.connect(work.stop)
    for ended in (work.written, work.failed):
        ended.connect(dialog.deleteLater)
    return dialog
