"""Work on a thread beside the window, which may be closed at any time.

Qt ends the program when a thread that still runs is deleted. So work belongs to no window: it is kept here until it has
ended, the program waits for it when it ends itself, and what it reports is heard on the thread of the window only.
"""

from __future__ import annotations

import atexit
from collections.abc import Callable
from functools import partial
from threading import Event
from typing import Final

from PySide6.QtCore import QObject, QThread, QTimer, Signal

from geometry.errors import PatternError

_BROKEN: Final = "Something went wrong inside Dartwise; nothing was written."

_RUNNING: Final[set[Beside]] = set()


class Beside(QThread):
    """Work that can be stopped.

    Signals:
        failed: it came to nothing; the sentence says why, "" if it was stopped.
    """

    failed = Signal(str)
    _told = Signal(object)

    def __init__(self, watcher: QObject) -> None:
        """When the watcher is gone, the work is dropped."""
        super().__init__()
        self._stopped, self._dropped = Event(), Event()
        self._told.connect(self._hear)
        self.finished.connect(self._let_go)
        watcher.destroyed.connect(self.drop)

    def begin(self) -> None:
        """Start it."""
        _RUNNING.add(self)
        self.start()

    def stop(self) -> None:
        """Leave off as soon as may be."""
        self._stopped.set()

    def drop(self) -> None:
        """Leave off, and report nothing more, not even what is on its way."""
        self._dropped.set()
        self._stopped.set()

    @property
    def is_stopped(self) -> bool:
        """Whether to leave off."""
        return self._stopped.is_set()

    def work(self) -> None:
        """What is done on the thread; it reports with ``tell`` only."""
        raise NotImplementedError

    def tell(self, report: Callable[..., object], *words: object) -> None:
        """Call ``report`` on the thread of the window."""
        self._told.emit(partial(report, *words))

    def run(self) -> None:
        """Do it; what breaks is raised where the window can tell of it."""
        try:
            self.work()
        except PatternError as error:
            self.tell(self.failed.emit, error.sentence)
        except Exception as error:
            self.tell(self.failed.emit, _BROKEN)
            self.tell(_raised, error)

    def _hear(self, report: Callable[[], object]) -> None:
        if not self._dropped.is_set():
            report()

    def _let_go(self) -> None:
        """Once Qt has done with this signal: nothing may be deleted by what it does itself."""
        QTimer.singleShot(0, partial(_RUNNING.discard, self))


def _raised(error: Exception) -> None:
    raise error


@atexit.register
def _end_all() -> None:
    for work in tuple(_RUNNING):
        work.drop()
        work.wait()
