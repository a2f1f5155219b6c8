"""Opening, saving, closing and dropping files, by mouse and keys."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QDialogButtonBox, QFileDialog, QLineEdit, QMessageBox
from pytestqt.qtbot import QtBot

from editor.commands.file import open_path
from editor.dialogs.export import ExportDialog, Kind, Sizes
from editor.document.project_file import load_project, save_project
from editor.formats.dxf_reader import read_drawing
from editor.formats.import_pattern import import_pattern
from editor.window import Window
from geometry.units import Unit
from tests.gui.choir import choir

pytestmark = pytest.mark.gui

CONTROL = Qt.KeyboardModifier.ControlModifier


def name_file(qtbot: QtBot, window: Window, path: Path) -> None:
    """Put a path into the file dialog in front and click its first button."""
    qtbot.waitUntil(lambda: isinstance(window.dialog, QFileDialog))
    window.dialog.findChild(QLineEdit, "fileNameEdit").setText(str(path))
    qtbot.mouseClick(window.dialog.findChild(QDialogButtonBox).buttons()[0], Qt.MouseButton.LeftButton)


def change_something(window: Window) -> None:
    window.session.set_amount("1", 40.0)


def hem_mm(window: Window) -> float:
    return float(window.session.pattern.piece("front skirt").edge("hem").length_mm)


def press(qtbot: QtBot, window: Window, button: QMessageBox.StandardButton) -> None:
    box = window.dialog
    assert isinstance(box, QMessageBox)
    qtbot.mouseClick(box.button(button), Qt.MouseButton.LeftButton)


def test_a_project_saved_by_keys_and_opened_again_shows_the_same(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    change_something(window)
    path = tmp_path / "choir.dartwise"
    qtbot.keyClick(window, Qt.Key.Key_S, CONTROL)
    name_file(qtbot, window, path)
    qtbot.waitUntil(path.exists)
    saved = window.session.project
    assert not window.session.is_modified
    assert window.windowTitle() == "choir.dartwise[*] · Dartwise"
    window.session.open_project(choir())
    qtbot.keyClick(window, Qt.Key.Key_O, CONTROL)
    name_file(qtbot, window, path)
    qtbot.waitUntil(lambda: window.session.path == path)
    assert window.session.project == saved
    assert window.furnishing.journal.rows["1"].amount.text() == "4 cm"


def test_the_title_marks_what_is_not_saved(window: Window) -> None:
    assert not window.isWindowModified()
    change_something(window)
    assert window.isWindowModified()
    window.session.undo()
    assert not window.isWindowModified()


def test_closing_with_changes_asks_and_cancel_keeps_the_window(qtbot: QtBot, window: Window) -> None:
    change_something(window)
    window.close()
    press(qtbot, window, QMessageBox.StandardButton.Cancel)
    assert window.isVisible()
    assert window.session.is_modified


def test_closing_with_discard_closes(qtbot: QtBot, window: Window) -> None:
    change_something(window)
    window.close()
    press(qtbot, window, QMessageBox.StandardButton.Discard)
    assert not window.isVisible()


def test_closing_with_save_writes_the_file_first(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    path = tmp_path / "choir.dartwise"
    save_project(choir(), path)
    open_path(window, path)
    change_something(window)
    window.close()
    press(qtbot, window, QMessageBox.StandardButton.Save)
    assert not window.isVisible()
    assert load_project(path) == window.session.project


def test_nothing_is_asked_without_changes(window: Window) -> None:
    window.close()
    assert window.dialog is None
    assert not window.isVisible()


def test_a_file_dropped_on_the_window_is_opened(qapp: QApplication, empty_window: Window, tmp_path: Path) -> None:
    path = tmp_path / "choir.dartwise"
    save_project(choir(), path)
    files = QMimeData()
    files.setUrls([QUrl.fromLocalFile(str(path))])
    no_button, no_key = Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier
    place = empty_window.table.geometry().center()
    entering = QDragEnterEvent(place, Qt.DropAction.CopyAction, files, no_button, no_key)
    qapp.sendEvent(empty_window, entering)
    assert entering.isAccepted()
    qapp.sendEvent(empty_window, QDropEvent(QPointF(place), Qt.DropAction.CopyAction, files, no_button, no_key))
    assert empty_window.session.path == path
    assert empty_window.session.wearer.name == "Odile"


def test_a_file_that_is_no_project_gets_a_calm_sentence(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    path = tmp_path / "notes.dartwise"
    path.write_text("bring the pins")
    before = window.session.project
    open_path(window, path)
    box = window.dialog
    assert isinstance(box, QMessageBox)
    assert "notes.dartwise" in box.informativeText()
    assert "Traceback" not in box.informativeText()
    assert window.session.project is before


def test_recent_files_open_what_was_saved_last(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    path = tmp_path / "choir.dartwise"
    save_project(choir(), path)
    open_path(window, path)
    window.session.open_project(choir())
    menu = next(
        action.menu() for action in window.furnishing.menus["File"].actions() if action.text() == "Open &recent"
    )
    menu.actions()[0].trigger()
    assert window.session.path == path


def export(qtbot: QtBot, window: Window, path: Path, sizes: Sizes = Sizes.SHOWN, kind: Kind = Kind.DXF) -> None:
    """Open the dialog, choose, name the file."""
    qtbot.keyClick(window, Qt.Key.Key_E, CONTROL)
    dialog = window.dialog
    assert isinstance(dialog, ExportDialog)
    for button in (dialog.sizes[sizes], dialog.kinds[kind]):
        button.setFocus()
        qtbot.keyClick(button, Qt.Key.Key_Space)
    qtbot.mouseClick(dialog.buttons.button(QDialogButtonBox.StandardButton.Save), Qt.MouseButton.LeftButton)
    name_file(qtbot, window, path)
    qtbot.waitUntil(path.exists)


def test_exporting_writes_a_drawing_of_the_altered_pieces(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    path = tmp_path / "altered.dxf"
    export(qtbot, window, path)
    assert len(read_drawing(path).blocks) == len(window.session.pattern.pieces)


def test_every_size_is_exported_with_the_steps_of_the_toile(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    path = tmp_path / "altered.dxf"
    export(qtbot, window, path, Sizes.ALTERED)
    nest = import_pattern(path, unit=Unit.MM).nest
    assert nest.sizes == ("12", "14")
    hems = [pattern.piece("front skirt").edge("hem").length_mm for pattern in nest.patterns]
    assert hems == pytest.approx([hem_mm(window)] * 2, abs=1e-3)


def test_an_svg_picture_has_true_millimetres(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    path = tmp_path / "altered.svg"
    export(qtbot, window, path, kind=Kind.SVG)
    root = ElementTree.parse(path).getroot()
    _, _, width, height = (float(number) for number in root.get("viewBox").split())
    assert (root.get("width"), root.get("height")) == (f"{width:.4f}mm", f"{height:.4f}mm")


def test_grade_rules_are_offered_for_all_sizes_only(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClick(window, Qt.Key.Key_E, CONTROL)
    dialog = window.dialog
    assert not dialog.kinds[Kind.RULES].isEnabled()
    dialog.sizes[Sizes.BOUGHT].click()
    dialog.kinds[Kind.RULES].click()
    assert dialog.kinds[Kind.RULES].isChecked()
    dialog.sizes[Sizes.SHOWN].click()
    assert dialog.kinds[Kind.DXF].isChecked()
