"""What the person sees when something breaks that should not."""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QThread, QTimer
from PySide6.QtGui import QDesktopServices
from pytestqt.qtbot import QtBot

from editor import trouble
from editor.dialogs.question import Question
from editor.window import Window
from geometry.errors import PatternError


class Heard:
    """Keeps what it is told."""

    def __init__(self) -> None:
        self.sentences: list[str] = []
        self.open_folder: Callable[[], None] | None = None
        self.closed = 0

    def tell(self, sentence: str, *, title: str = "") -> None:
        self.sentences.append(sentence)

    def tell_trouble(self, title: str, sentence: str, open_folder: Callable[[], None] | None) -> None:
        self.sentences.append(sentence)
        self.open_folder = open_folder

    def kept_words(self) -> str:
        return "Everything is on the disk."

    def close(self) -> bool:
        self.closed += 1
        return False


@pytest.fixture
def log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "logs" / "trouble.log"
    monkeypatch.setattr(trouble, "log_file", lambda: path)
    return path


def broken(error: BaseException, heard: Heard) -> None:
    try:
        raise error
    except type(error):
        trouble.report_trouble(heard)(type(error), error, error.__traceback__)


def test_a_slip_is_told_calmly_with_what_is_kept_and_where_it_broke_is_noted(log: Path) -> None:
    heard = Heard()
    broken(KeyError("hem"), heard)
    assert "KeyError" not in heard.sentences[0]
    assert "Everything is on the disk." in heard.sentences[0]
    assert "noted in trouble.log" in heard.sentences[0]
    noted = log.read_text(encoding="utf-8")
    assert "KeyError" in noted
    assert "tests/gui/test_trouble.py:" in noted
    assert "broken" in noted


def test_the_log_holds_no_words_of_the_fault_and_no_folders_of_this_computer(log: Path) -> None:
    """They may hold the name of a wearer or of a file."""
    try:
        try:
            Path("/nowhere/Odile's dress.dartwise").read_bytes()
        except OSError as error:
            raise ValueError("Odile, 38") from error
    except ValueError as error:
        trouble.report_trouble(Heard())(ValueError, error, error.__traceback__)
    noted = log.read_text(encoding="utf-8")
    assert "ValueError" in noted
    assert "FileNotFoundError 2" in noted
    assert "Odile" not in noted
    assert str(Path.home()) not in noted
    assert str(Path(__file__).parents[2]) not in noted


def test_a_full_log_is_turned_over_and_the_oldest_goes(log: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trouble, "_LARGEST_LOG_BYTES", 300)
    for _ in range(12):
        broken(KeyError("hem"), Heard())
    names = sorted(each.name for each in log.parent.iterdir())
    assert names == ["trouble-1.log", "trouble-2.log", "trouble.log"]
    assert all(each.stat().st_size < 1500 for each in log.parent.iterdir())


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
    assert heard.open_folder is None


def test_a_key_that_interrupts_asks_the_window_to_close_and_ends_nothing(log: Path) -> None:
    heard = Heard()
    broken(KeyboardInterrupt(), heard)
    assert heard.closed == 1


def test_trouble_while_telling_of_trouble_ends_nothing(
    log: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    heard = Heard()
    monkeypatch.setattr(heard, "kept_words", lambda: [][0])
    broken(KeyError("hem"), heard)
    assert "IndexError" in capsys.readouterr().err


def test_memory_that_ran_out_and_endless_calls_are_told_too(log: Path) -> None:
    def endless() -> None:
        endless()

    heard = Heard()
    broken(MemoryError(), heard)
    try:
        endless()
    except RecursionError as error:
        trouble.report_trouble(heard)(RecursionError, error, error.__traceback__)
    assert len(heard.sentences) == 2
    assert log.stat().st_size < 20_000


@pytest.mark.gui
def test_the_window_says_it_once_and_stays_with_what_is_open(
    qtbot: QtBot, window: Window, log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url.toLocalFile()))
    window.session.set_amount("1", 40.0)
    before = window.session.project
    hook = trouble.report_trouble(window)
    for _ in range(5):
        hook(KeyError, KeyError("hem"), None)
    box = window.dialog
    assert isinstance(box, Question)
    assert "Something went wrong" in box.informativeText()
    assert "Everything up to your last change" in box.informativeText()
    qtbot.mouseClick(box.button_for("Open the log's folder"), Qt.MouseButton.LeftButton)
    assert opened == [str(log.parent)]
    assert window.dialog is None
    assert window.isVisible()
    assert window.session.project is before
    hook(KeyError, KeyError("hem"), None)
    qtbot.keyClick(window.dialog, Qt.Key.Key_Escape)
    assert window.dialog is None


class Breaking(QThread):
    """Work of Qt's own threads, whose faults Qt hands to ``sys.excepthook`` where they happen."""

    def run(self) -> None:
        sys.excepthook(IndexError, IndexError("hem"), None)


@pytest.mark.gui
def test_what_breaks_in_a_slot_or_on_another_thread_is_caught(
    qtbot: QtBot, window: Window, log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    monkeypatch.setattr(threading, "excepthook", threading.excepthook)
    trouble.catch_trouble(window)
    thread = threading.Thread(target=lambda: [][0])
    thread.start()
    thread.join()
    qtbot.waitUntil(lambda: window.dialog is not None)
    window.dialog.done(0)
    work = Breaking()
    work.start()
    assert work.wait(10_000)
    assert window.dialog is None  # no dialog may be made on another thread
    qtbot.waitUntil(lambda: window.dialog is not None)
    window.dialog.done(0)
    with qtbot.captureExceptions():  # pytest-qt would else fail the test for what is wanted here
        monkeypatch.setattr(sys, "excepthook", trouble.report_trouble(window))
        QTimer.singleShot(0, lambda: [][0])
        qtbot.waitUntil(lambda: window.dialog is not None)
    assert window.isVisible()
