"""What the person sees when something breaks that should not."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot

from editor import trouble
from editor.window import Window
from geometry.errors import PatternError


class Heard:
    """Keeps what it is told."""

    def __init__(self) -> None:
        self.sentences: list[str] = []

    def tell(self, sentence: str, *, title: str = "") -> None:
        self.sentences.append(sentence)


@pytest.fixture
def log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "logs" / "trouble.log"
    monkeypatch.setattr(trouble, "log_file", lambda: path)
    return path


def broken(error: Exception, heard: Heard) -> None:
    try:
        raise error
    except type(error):
        trouble.report_trouble(heard)(type(error), error, error.__traceback__)


def test_a_slip_is_told_calmly_and_its_trace_goes_to_a_file(log: Path) -> None:
    heard = Heard()
    broken(KeyError("hem"), heard)
    assert str(log) in heard.sentences[0]
    assert "KeyError" not in heard.sentences[0]
    assert "Traceback" in log.read_text(encoding="utf-8")


def test_a_refusal_is_told_in_its_own_sentence_and_not_logged(log: Path) -> None:
    heard = Heard()
    broken(PatternError("The hem is not there; choose another edge."), heard)
    assert heard.sentences == ["The hem is not there; choose another edge."]
    assert not log.exists()


def test_a_log_that_cannot_be_written_does_not_hide_the_message(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setattr(trouble, "log_file", lambda: tmp_path / "file" / "trouble.log")
    heard = Heard()
    broken(KeyError("hem"), heard)
    assert heard.sentences[0].startswith("Something went wrong")


@pytest.mark.gui
def test_the_window_says_it_in_a_box_that_enter_closes(qtbot: QtBot, window: Window, log: Path) -> None:
    trouble.report_trouble(window)(KeyError, KeyError("hem"), None)
    box = window.dialog
    assert isinstance(box, QMessageBox)
    assert "Something went wrong" in box.informativeText()
    qtbot.keyClick(box, Qt.Key.Key_Return)
    assert window.dialog is None
