"""A window with the choir's project, its settings in a folder of the test."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from editor.app import build
from editor.dialogs.fitting import FittingDialog
from editor.window import Window
from tests.gui.choir import choir
from tests.gui.singers import two_singers

_PATIENCE_MS = 60_000  # a machine that does much else at the same time is slow, not wrong


@pytest.fixture(autouse=True)
def tidy_on_this_thread() -> Iterator[None]:
    """While other threads work nothing of Qt's may be cleared away; the program sees to that in ``editor.tidying``."""
    gc.disable()
    yield
    gc.enable()


@pytest.fixture
def qtbot(qtbot: QtBot) -> QtBot:
    """pytest-qt's own, which waits longer."""
    for name in ("waitUntil", "waitSignal", "waitExposed"):
        vars(qtbot)[name] = partial(getattr(qtbot, name), timeout=_PATIENCE_MS)
    return qtbot


@pytest.fixture
def kept_settings(tmp_path: Path) -> QSettings:
    settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    settings.setValue("dark", False)
    settings.setValue("folder", str(tmp_path))
    return settings


@pytest.fixture
def empty_window(qtbot: QtBot, qapp: QApplication, kept_settings: QSettings) -> Iterator[Window]:
    window = build(qapp, kept_settings)
    window.resize(1440, 900)  # whatever the screen
    qtbot.addWidget(window, before_close_func=lambda each: setattr(each, "_leaving", True))
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)  # keys go to the active window only
    yield window
    while window.dialog is not None:
        window.dialog.done(0)


@pytest.fixture
def fitting(empty_window: Window, qtbot: QtBot) -> FittingDialog:
    """Fitting beside the window, open on Odile's first toile."""
    empty_window.session.open_project(two_singers())
    empty_window.session.show("2", "1")
    empty_window.show_fitting("Measurements")
    assert empty_window.fitting is not None
    qtbot.waitExposed(empty_window.fitting)
    return empty_window.fitting


@pytest.fixture
def window(empty_window: Window, qtbot: QtBot) -> Window:
    empty_window.session.open_project(choir())
    empty_window.table.fit_all()
    qtbot.wait(20)
    return empty_window
