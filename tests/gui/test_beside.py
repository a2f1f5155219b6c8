"""Work on a thread beside the window, whatever becomes of the window."""

from __future__ import annotations

from threading import Event, current_thread, main_thread

import pytest
import shiboken6
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from editor.dialogs import beside
from editor.dialogs.beside import Beside
from geometry.errors import PatternError

pytestmark = pytest.mark.gui


class Counting(Beside):
    """Counts to three once it may."""

    def __init__(self, watcher: QObject, heard: list[object], error: Exception | None = None) -> None:
        super().__init__(watcher)
        self.may, self._heard, self._error = Event(), heard, error

    def work(self) -> None:
        self.may.wait()
        if self._error is not None:
            raise self._error
        for number in (1, 2, 3):
            self.tell(self._hear_number, number)

    def _hear_number(self, number: int) -> None:
        self._heard.append(number if current_thread() is main_thread() else "on another thread")


def test_reports_are_heard_on_the_thread_of_the_window(qtbot: QtBot) -> None:
    heard: list[object] = []
    watcher = QObject()
    work = Counting(watcher, heard)
    work.may.set()
    work.begin()
    qtbot.waitUntil(lambda: work not in beside._RUNNING)
    assert heard == [1, 2, 3]


def test_dropped_work_reports_nothing_even_what_is_on_its_way(qtbot: QtBot) -> None:
    heard: list[object] = []
    watcher = QObject()
    work = Counting(watcher, heard)
    work.may.set()
    work.begin()
    work.wait()
    work.drop()
    qtbot.waitUntil(lambda: work not in beside._RUNNING)
    assert heard == []


def test_work_outlives_its_window_and_nobody_hears_of_it(qtbot: QtBot) -> None:
    """Qt ends the whole program when a thread is deleted that runs."""
    heard: list[object] = []
    watcher = QObject()
    work = Counting(watcher, heard)
    work.begin()
    shiboken6.delete(watcher)
    assert work.is_stopped
    work.may.set()
    qtbot.waitUntil(lambda: work not in beside._RUNNING)
    assert heard == []


def test_what_cannot_be_done_is_said(qtbot: QtBot) -> None:
    watcher, said = QObject(), list[str]()
    work = Counting(watcher, [], PatternError("There is no room."))
    work.failed.connect(said.append)
    work.may.set()
    work.begin()
    qtbot.waitUntil(lambda: work not in beside._RUNNING)
    assert said == ["There is no room."]


def test_what_breaks_is_raised_where_the_window_can_tell_of_it(qtbot: QtBot) -> None:
    watcher, said = QObject(), list[str]()
    work = Counting(watcher, [], ZeroDivisionError())
    work.failed.connect(said.append)
    work.may.set()
    with qtbot.captureExceptions() as raised:
        work.begin()
        qtbot.waitUntil(lambda: work not in beside._RUNNING)
    assert [kind for kind, *_ in raised] == [ZeroDivisionError]
    assert len(said) == 1
