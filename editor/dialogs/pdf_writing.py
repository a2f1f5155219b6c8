"""Writing the PDF beside the window, so that it can be watched and stopped."""

from __future__ import annotations

from pathlib import Path
from threading import Event

from PySide6.QtCore import QObject, QThread, Signal

from editor.printing.job import SheetPlan
from geometry.errors import PatternError


class PdfWriting(QThread):
    """Writes a plan to a file.

    Signals:
        progressed: pages done, pages in all.
        written: the file is there.
        failed: it is not; the sentence says why, "" if it was stopped.
    """

    progressed = Signal(int, int)
    written = Signal()
    failed = Signal(str)

    def __init__(self, plan: SheetPlan, path: Path, parent: QObject) -> None:
        super().__init__(parent)
        self._plan, self._path = plan, path
        self._stopped = Event()

    def stop(self) -> None:
        """Leave off after the page in hand; nothing is written."""
        self._stopped.set()

    def run(self) -> None:
        """Do it."""
        from editor.printing.pdf import write_pdf

        try:
            done = write_pdf(self._plan, self._path, progress=self._on_page)
        except PatternError as error:
            self.failed.emit(error.sentence)
            return
        if done:
            self.written.emit()
        else:
            self.failed.emit("")

    def _on_page(self, done: int, count: int) -> bool:
        self.progressed.emit(done, count)
        return not self._stopped.is_set()
