"""Before anything is open, and a newcomer's first steps."""

from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, QSize, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QDialog, QPushButton, QVBoxLayout
from pytestqt.qtbot import QtBot

from editor.app import bare_window
from editor.document.project_file import save_project
from editor.panels.first_steps import STEPS
from editor.window import Window, sides_px
from geometry.alterations.anchors import on_edge
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from tests.gui.choir import choir


@pytest.fixture
def sample_window(qtbot: QtBot, empty_window: Window) -> Window:
    empty_window.show()
    qtbot.mouseClick(empty_window.furnishing.beginning.ways["wearer"], Qt.MouseButton.LeftButton)
    return empty_window


def test_with_nothing_open_there_are_ways_to_begin_and_nothing_to_use_tools_on(empty_window: Window) -> None:
    furnishing = empty_window.furnishing
    assert furnishing.stage.currentWidget() is furnishing.beginning
    assert not any(action.isEnabled() for action in furnishing.tools.by_name.values())
    assert list(furnishing.beginning.ways) == ["new", "open", "wearer"]


def test_the_dress_to_try_things_on_is_a_project_of_its_own(sample_window: Window) -> None:
    session = sample_window.session
    assert (session.path, session.is_modified) == (None, False)
    assert [wearer.name for wearer in session.project.wearers] == ["Maren", "Odile"]
    assert sample_window.table.isVisible()
    assert all(action.isEnabled() for action in sample_window.furnishing.tools.by_name.values())


def test_files_opened_lately_are_offered_while_they_are_there(
    qtbot: QtBot, qapp: QApplication, empty_window: Window, tmp_path: Path
) -> None:
    path = tmp_path / "choir.dartwise"
    save_project(choir(), path)
    empty_window.remember_file(tmp_path / "gone.dartwise")
    empty_window.remember_file(path)
    links = [each for each in empty_window.furnishing.beginning.findChildren(QPushButton, "link") if each.text()]
    assert [link.text() for link in links] == ["choir.dartwise"]
    qtbot.mouseClick(links[0], Qt.MouseButton.LeftButton)
    assert empty_window.session.path == path


def test_first_steps_go_on_by_themselves(sample_window: Window) -> None:
    window, steps = sample_window, sample_window.furnishing.first_steps
    assert steps.isVisible()
    assert steps.count.text() == f"1 of {len(STEPS)}"
    window.table.zoom_by(1.2)
    window.session.select(piece="front skirt")
    line = (on_edge("hem", 0.5), on_edge("waist", 0.8))
    record = window.session.add_step(Slash("front skirt", (SlashCut(line, 20.0, Hinge.END, Side.LEFT),)))
    window.session.set_amount(record, 30.0)
    window.furnishing.findings.chosen.emit(window.session.findings[0])
    assert steps.count.text() == f"{len(STEPS)} of {len(STEPS)}"
    window.furnishing.actions.by_id["print"].trigger()
    assert not steps.isVisible()


def test_first_steps_once_left_stay_away_until_they_are_asked_for(
    sample_window: Window, kept_settings: QSettings
) -> None:
    steps = sample_window.furnishing.first_steps
    steps.close_button.click()
    assert kept_settings.value("first_steps") == "over"
    sample_window.session.open_project(choir())
    assert not steps.isVisible()
    sample_window.furnishing.actions.by_id["first-steps"].trigger()
    assert steps.isVisible()


def test_a_new_window_fits_the_screen(qapp: QApplication, kept_settings: QSettings) -> None:
    window = bare_window(qapp, kept_settings)
    room = QGuiApplication.primaryScreen().availableSize()
    assert window.size().boundedTo(room) == window.size()
    assert window.size().boundedTo(QSize(1440, 900)) == window.size()


def test_a_dialog_has_room_on_the_screen(empty_window: Window) -> None:
    dialog = QDialog()
    dialog.resize(9000, 9000)
    empty_window.show_dialog(dialog)
    room = empty_window.screen().availableSize()
    assert dialog.width() <= room.width()
    assert dialog.height() < room.height()  # less by the frame that the desktop puts round it


def test_a_dialog_without_a_size_of_its_own_is_as_large_as_what_is_in_it(empty_window: Window) -> None:
    dialog = QDialog()
    QVBoxLayout(dialog).addWidget(QPushButton("Go on"))
    empty_window.show_dialog(dialog)
    assert dialog.size() == dialog.sizeHint()


def test_the_sides_leave_half_of_a_narrow_window_to_the_table() -> None:
    assert sum(sides_px(1280)) < 640
    assert sides_px(1920) == (318, 360)


def test_keys_alone_begin(qtbot: QtBot, qapp: QApplication, empty_window: Window) -> None:
    beginning = empty_window.furnishing.beginning
    beginning.setFocus()
    qtbot.waitUntil(lambda: beginning.ways["new"].hasFocus())
    for _ in range(2):
        qtbot.keyClick(qapp.focusWidget(), Qt.Key.Key_Tab)
    assert beginning.ways["wearer"].hasFocus()
    qtbot.keyClick(qapp.focusWidget(), Qt.Key.Key_Return)
    assert empty_window.session.project is not None
    assert empty_window.table.hasFocus()
