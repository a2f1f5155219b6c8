"""Laying pages out beside the window: a plan at once, a better one when it is found."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event

from PySide6.QtCore import QObject, QThread, Signal

from editor.printing.job import SheetPlan
from editor.printing.packing import GoOn
from geometry.errors import PatternError

MakePlan = Callable[[GoOn | None], SheetPlan]


class PlanningWork(QThread):
    """Makes a plan, then looks for one with fewer sheets.

    Signals:
        planned: a plan (as an object), and whether it is the last one.
        looked: while looking, how many sheets the best layout so far needs.
        failed: there is no plan; the sentence says why.
    """

    planned = Signal(object, bool)
    looked = Signal(int)
    failed = Signal(str)

    def __init__(self, make: MakePlan, parent: QObject, *, look_on: bool) -> None:
        super().__init__(parent)
        self._make, self._look_on = make, look_on
        self._stopped = Event()

    def stop(self) -> None:
        """Leave off; a plan that was not told yet is dropped."""
        self._stopped.set()

    def run(self) -> None:
        """Do it."""
        try:
            self._tell(self._make(None), is_last=not self._look_on)
            if self._look_on and not self._stopped.is_set():
                self._tell(self._make(self._go_on), is_last=True)
        except PatternError as error:
            if not self._stopped.is_set():
                self.failed.emit(error.sentence)

    def _tell(self, made: SheetPlan, *, is_last: bool) -> None:
        if not self._stopped.is_set():
            self.planned.emit(made, is_last)

    def _go_on(self, sheets: int) -> bool:
        self.looked.emit(sheets)
        return not self._stopped.is_set()
