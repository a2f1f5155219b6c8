"""What points at itself is cleared away on the thread of the window and on no other."""

from __future__ import annotations

import gc
import threading
import weakref
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from editor.tidying import Tidying


class Loop:
    """Points at itself, and says on which thread it goes."""

    def __init__(self, went: list[threading.Thread]) -> None:
        self.own = self
        weakref.finalize(self, lambda: went.append(threading.current_thread()))


@pytest.fixture
def owner(qapp: QObject) -> Iterator[QObject]:
    owner = QObject()
    gc.collect()
    yield owner
    gc.enable()


def test_it_is_done_on_the_thread_of_the_window_even_while_others_ask_for_memory(qtbot: QtBot, owner: QObject) -> None:
    went: list[threading.Thread] = []
    Tidying(owner)

    def work() -> None:
        for _ in range(20_000):
            Loop(went)

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert went == []
    qtbot.waitUntil(lambda: len(went) == 20_000)
    assert set(went) == {threading.main_thread()}
