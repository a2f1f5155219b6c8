"""Another window, another hand, a full disk, a crash: what the person is asked, and that nothing is lost."""

from __future__ import annotations

import errno
import os
import sys
import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QSettings, Qt
from PySide6.QtWidgets import QApplication, QDialogButtonBox, QFileDialog, QLabel, QLineEdit, QMessageBox
from pytestqt.qtbot import QtBot

from editor import app, atomic_file
from editor.app import build
from editor.commands.file import open_path, save
from editor.commands.safekeeping import offer_recovery, write
from editor.dialogs.question import Question
from editor.dialogs.recovery import RecoveryDialog
from editor.document import locking
from editor.document.locking import lock_file, this_process
from editor.document.project_file import load_project, save_project
from editor.document.saving import earlier_copy
from editor.document.schema import to_json
from editor.document.sitting import ENDING, Writer
from editor.places import sittings_folder
from editor.window import Window
from tests.gui.choir import choir

pytestmark = pytest.mark.gui


@pytest.fixture(autouse=True)
def nothing_left_behind() -> Iterator[None]:
    yield
    for file in sittings_folder().glob(f"*{ENDING}"):
        file.unlink()


@pytest.fixture
def path(window: Window, tmp_path: Path) -> Path:
    """The choir's project, open from its file, with one change more."""
    path = tmp_path / "choir.dartwise"
    save_project(choir(), path)
    open_path(window, path)
    window.session.set_amount("1", 40.0)
    return path


def click(qtbot: QtBot, window: Window, label: str) -> None:
    question = window.dialog
    assert isinstance(question, Question)
    qtbot.mouseClick(question.button_for(label), Qt.MouseButton.LeftButton)
    clear_away()


def clear_away() -> None:
    """What Qt does between two events: it deletes the dialogs that were closed, and all that belongs to them."""
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def words(window: Window) -> str:
    assert isinstance(window.dialog, Question)
    return window.dialog.informativeText()


def name_file(qtbot: QtBot, window: Window, path: Path) -> None:
    qtbot.waitUntil(lambda: isinstance(window.dialog, QFileDialog))
    window.dialog.findChild(QLineEdit, "fileNameEdit").setText(str(path))
    qtbot.mouseClick(window.dialog.findChild(QDialogButtonBox).buttons()[0], Qt.MouseButton.LeftButton)


# -- saving


def test_a_save_keeps_what_the_file_held_beside_it(window: Window, path: Path) -> None:
    before = load_project(path)
    save(window)
    assert (load_project(path), load_project(earlier_copy(path))) == (window.session.project, before)
    assert not window.session.is_modified


def test_a_file_changed_by_someone_else_can_be_kept_beside_a_copy(
    qtbot: QtBot, window: Window, path: Path, tmp_path: Path
) -> None:
    theirs = choir().with_records("2", "1", ())
    save_project(theirs, path)
    save(window)
    assert "choir.dartwise was changed by someone else since you opened it." in words(window)
    click(qtbot, window, "Save a copy…")
    name_file(qtbot, window, tmp_path / "mine.dartwise")
    qtbot.waitUntil((tmp_path / "mine.dartwise").exists)
    assert load_project(path) == theirs
    assert load_project(tmp_path / "mine.dartwise") == window.session.project
    assert window.session.path == tmp_path / "mine.dartwise"
    assert not lock_file(path).exists()


def test_a_file_changed_by_someone_else_can_be_replaced_and_is_kept_as_the_earlier_copy(
    qtbot: QtBot, window: Window, path: Path
) -> None:
    theirs = choir().with_records("2", "1", ())
    save_project(theirs, path)
    save(window)
    click(qtbot, window, "Replace it")
    assert (load_project(path), load_project(earlier_copy(path))) == (window.session.project, theirs)
    window.session.set_amount("1", 12.0)
    save(window)
    assert window.dialog is None


def test_a_file_that_was_moved_away_can_be_saved_there_again(qtbot: QtBot, window: Window, path: Path) -> None:
    path.rename(path.with_name("moved.dartwise"))
    save(window)
    assert "no longer in its folder" in words(window)
    click(qtbot, window, "Save it there again")
    assert load_project(path) == window.session.project


def test_a_full_disk_leaves_the_file_and_the_change_and_can_be_tried_again(
    qtbot: QtBot, window: Window, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = path.read_bytes()
    with monkeypatch.context() as full:

        def write(*_: object) -> int:
            raise OSError(errno.ENOSPC, "full")

        class System:
            def __getattr__(self, name: str) -> object:
                return write if name == "write" else getattr(os, name)

        full.setattr(atomic_file, "os", System())
        save(window)
    assert "the disk is full" in words(window)
    assert 'Everything up to your last change, "Change amount", at' in words(window)
    assert path.read_bytes() == before
    assert window.session.is_modified
    click(qtbot, window, "Try again")
    assert load_project(path) == window.session.project


def test_closing_goes_on_only_once_the_work_is_really_saved(qtbot: QtBot, window: Window, path: Path) -> None:
    save_project(choir().with_records("2", "1", ()), path)
    window.close()
    box = window.dialog
    assert isinstance(box, QMessageBox)
    qtbot.mouseClick(box.button(QMessageBox.StandardButton.Save), Qt.MouseButton.LeftButton)
    clear_away()
    assert window.isVisible()
    click(qtbot, window, "Replace it")
    assert not window.isVisible()
    assert load_project(path) == window.session.project


def test_a_damaged_file_is_told_with_its_earlier_copy(qtbot: QtBot, window: Window, path: Path) -> None:
    save(window)
    window.session.open_project(choir())
    path.write_bytes(path.read_bytes()[:200])
    open_path(window, path)
    assert "a copy of what it held before" in words(window)
    click(qtbot, window, "Open the earlier copy")
    assert window.session.project == choir()
    assert window.session.path is None
    assert window.session.is_modified


# -- two windows


def other_holds(path: Path) -> None:
    """As if another editor, of the process that started this one, had the project open."""
    other = replace(this_process(), pid=os.getppid(), started=locking._started(os.getppid()))
    lock_file(path).write_bytes(to_json(other))


def test_a_project_open_in_another_window_is_noticed_and_a_copy_is_offered(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    path = tmp_path / "choir.dartwise"
    save_project(choir(), path)
    other_holds(path)
    shown = window.session.project
    open_path(window, path)
    assert "choir.dartwise is open in another window since" in words(window)
    assert window.session.project is shown
    click(qtbot, window, "Open a copy")
    assert (window.session.project, window.session.path) == (choir(), None)
    window.keeper.finish()
    assert lock_file(path).exists()


def test_a_project_can_be_opened_all_the_same(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    path = tmp_path / "choir.dartwise"
    save_project(choir(), path)
    lock_file(path).write_bytes(to_json(replace(this_process(), host="sewing room")))
    open_path(window, path)
    click(qtbot, window, "Open it all the same")
    assert window.session.path == path
    window.keeper.finish()
    assert not lock_file(path).exists()


def test_saving_under_the_name_of_a_project_open_elsewhere_is_refused(
    qtbot: QtBot, window: Window, path: Path, tmp_path: Path
) -> None:
    theirs = tmp_path / "theirs.dartwise"
    save_project(choir(), theirs)
    other_holds(theirs)
    write(window, None, theirs)
    assert "theirs.dartwise is open in another window" in words(window)
    assert load_project(theirs) == choir()
    assert window.session.path == path


def test_the_lock_is_there_while_the_project_is_open_and_gone_afterwards(window: Window, path: Path) -> None:
    assert lock_file(path).exists()
    open_path(window, path)
    window.dialog.done(0)
    window.session.undo()
    open_path(window, path)  # once more, in the same window
    assert window.session.path == path
    assert lock_file(path).exists()
    window.session.open_project(choir())
    assert not lock_file(path).exists()


# -- after a crash


def crashed(qtbot: QtBot, window: Window, qapp: QApplication, settings: QSettings) -> Window:
    """Another window, as after the process of the first one was killed."""
    assert window.keeper._autosave.wait()
    window.keeper._autosave.close(forget=False)
    window.keeper._file = type(window.keeper._file)()
    after = build(qapp, settings)
    qtbot.addWidget(after, before_close_func=lambda each: setattr(each, "_leaving", True))
    after.show()
    qtbot.waitExposed(after)
    return after


def texts(dialog: RecoveryDialog) -> list[str]:
    return [label.text() for label in dialog.findChildren(QLabel)]


def test_after_a_crash_what_was_done_is_offered_beside_what_the_file_holds(
    qtbot: QtBot, window: Window, path: Path, qapp: QApplication, kept_settings: QSettings
) -> None:
    window.session.set_note("2", "to the knee")
    lost = window.session.project
    after = crashed(qtbot, window, qapp, kept_settings)
    offer_recovery(after)
    dialog = after.dialog
    assert isinstance(dialog, RecoveryDialog)
    shown = texts(dialog)
    assert "In the file" in shown
    assert any(text.endswith("open 2.54 cm") for text in shown)
    assert any(text.endswith("open 4 cm") for text in shown)
    assert any("to the knee" in text for text in shown)
    qtbot.keyClick(dialog, Qt.Key.Key_Return)
    assert after.session.project == lost
    assert after.session.path == path
    assert after.session.is_modified
    assert load_project(path) == choir()
    save(after)
    assert load_project(path) == lost
    after.keeper.finish()
    assert list(sittings_folder().glob("*")) == []


@pytest.mark.parametrize("taken", [True, False])
def test_the_next_start_offers_it_before_the_file_that_was_asked_for(
    taken: bool,
    qtbot: QtBot,
    window: Window,
    path: Path,
    qapp: QApplication,
    kept_settings: QSettings,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for module in (sys, threading):  # put back after the test
        monkeypatch.setattr(module, "excepthook", module.excepthook)
    crashed(qtbot, window, qapp, kept_settings)
    after = app.bare_window(qapp, kept_settings)
    qtbot.addWidget(after, before_close_func=lambda each: setattr(each, "_leaving", True))
    app._furnish(after, path)
    assert isinstance(after.dialog, RecoveryDialog)
    assert after.session.project is None
    answer = after.dialog.accept if taken else after.dialog.reject
    answer()
    assert after.session.path == path
    assert after.session.is_modified is taken
    assert (after.session.project == choir()) is not taken
    assert sys.excepthook is not sys.__excepthook__


def test_what_is_put_off_is_offered_again_and_what_is_thrown_away_is_not(
    qtbot: QtBot, window: Window, path: Path, qapp: QApplication, kept_settings: QSettings
) -> None:
    after = crashed(qtbot, window, qapp, kept_settings)
    offer_recovery(after)
    qtbot.mouseClick(after.dialog.later_button, Qt.MouseButton.LeftButton)
    assert after.dialog is None
    offer_recovery(after)
    dialog = after.dialog
    qtbot.mouseClick(dialog.throw_button, Qt.MouseButton.LeftButton)
    question = dialog.findChild(Question)
    qtbot.mouseClick(question.button_for("Throw it away"), Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: after.dialog is None)
    offer_recovery(after)
    assert after.dialog is None


def test_a_project_never_saved_is_offered_too(
    qtbot: QtBot, window: Window, qapp: QApplication, kept_settings: QSettings
) -> None:
    window.session.open_project(choir(), saved=False)
    after = crashed(qtbot, window, qapp, kept_settings)
    offer_recovery(after)
    assert "Not in any file" in texts(after.dialog)
    qtbot.keyClick(after.dialog, Qt.Key.Key_Return)
    assert (after.session.project, after.session.path) == (choir(), None)


def test_the_file_changed_after_the_crash_is_not_run_over_by_what_is_recovered(
    qtbot: QtBot, window: Window, path: Path, qapp: QApplication, kept_settings: QSettings
) -> None:
    after = crashed(qtbot, window, qapp, kept_settings)
    save_project(choir().with_records("2", "1", ()), path)
    offer_recovery(after)
    qtbot.keyClick(after.dialog, Qt.Key.Key_Return)
    save(after)
    assert "was changed by someone else" in words(after)


def test_nothing_is_offered_after_an_ordinary_end(window: Window, path: Path) -> None:
    window.keeper.finish()
    assert window.keeper.left_behind() == ()
    assert not lock_file(path).exists()


def test_steps_that_cannot_be_written_down_are_told_once(
    qtbot: QtBot, window: Window, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(Writer, "_write", full)
    window.session.set_amount("2", 40.0)
    qtbot.waitUntil(lambda: window.dialog is not None)
    assert "The disk is full" in window.dialog.informativeText()
    window.dialog.done(0)
    window.session.set_amount("2", 41.0)
    window.keeper._autosave.wait()
    qtbot.wait(50)
    assert window.dialog is None
    assert "in this window only" in window.kept_words()
