"""The alteration sheet, asked for in the window."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from threading import Event

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QProgressDialog, QPushButton
from pytestqt.qtbot import QtBot

from editor.commands.cutting_table import write_alteration_sheet
from editor.printing import alteration_sheet
from editor.window import Window
from tests.editor.pdf_reading import page_text
from tests.gui.test_window_file import name_file

pytestmark = pytest.mark.gui

LEFT = Qt.MouseButton.LeftButton


def test_the_alteration_sheet_is_written_for_the_round_shown(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    window.furnishing.actions.by_id["alteration-sheet"].trigger()
    path = tmp_path / "sheet.pdf"
    assert isinstance(window.dialog, QFileDialog)
    assert [Path(name).suffixes for name in window.dialog.selectedFiles()] == [[".pdf"]]
    name_file(qtbot, window, path)
    qtbot.waitUntil(lambda: "sheet.pdf" in window.statusBar().currentMessage())
    words = page_text(path, 0)
    assert "Odile" in words
    assert "The hem swings better." in words


def test_an_alteration_sheet_that_cannot_be_written_gets_a_sentence(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    write_alteration_sheet(window, tmp_path / "nowhere" / "sheet.pdf")
    qtbot.waitUntil(lambda: window.dialog is not None)
    assert "nowhere" in window.dialog.informativeText()


def test_a_long_alteration_sheet_shows_how_far_it_is_and_can_be_stopped(
    qtbot: QtBot, window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    going = Event()

    def slow(*_: object, progress: Callable[[int, int], bool], **__: object) -> tuple[()]:
        while progress(1, 4):
            going.wait(0.02)
        return ()

    monkeypatch.setattr(alteration_sheet, "alteration_sheet", slow)
    write_alteration_sheet(window, tmp_path / "sheet.pdf")
    qtbot.waitUntil(lambda: any(each.isVisible() for each in window.findChildren(QProgressDialog)))
    dialog = window.findChild(QProgressDialog)
    assert (dialog.value(), dialog.maximum()) == (1, 8)
    qtbot.mouseClick(dialog.findChild(QPushButton), LEFT)
    qtbot.waitUntil(lambda: window.statusBar().currentMessage() == "Stopped; no file was written.")
    assert list(tmp_path.glob("sheet.pdf*")) == []
    qtbot.waitUntil(lambda: window.findChild(QProgressDialog) is None)
