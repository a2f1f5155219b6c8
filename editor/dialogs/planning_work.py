"""Laying pages out beside the window: a plan at once, a better one when it is found."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from editor.dialogs.beside import Beside
from editor.printing.job import SheetPlan
from editor.printing.packing import GoOn

MakePlan = Callable[[GoOn | None], SheetPlan]


class PlanningWork(Beside):
    """Makes a plan, then looks for one with fewer sheets.

    Signals:
        planned: a plan (as an object), and whether it is the last one.
        looked: while looking, how many sheets the best layout so far needs.
    """

    planned = Signal(object, bool)
    looked = Signal(int)

    def __init__(self, make: MakePlan, watcher: QObject, *, look_on: bool) -> None:
        super().__init__(watcher)
        self._make, self._look_on = make, look_on

    def work(self) -> None:
        """Plan."""
        self.tell(self.planned.emit, self._make(None), not self._look_on)
        if self._look_on and not self.is_stopped:
            self.tell(self.planned.emit, self._make(self._go_on), True)

    def _go_on(self, sheets: int) -> bool:
        self.tell(self.looked.emit, sheets)
        return not self.is_stopped
