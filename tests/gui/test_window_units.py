"""A drawing becomes a project: its units confirmed, its line explained, by mouse and keys."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialogButtonBox, QMessageBox, QPushButton
from pytestqt.qtbot import QtBot

import samples
from editor.commands.file import open_path
from editor.dialogs.clean_up import CleanUpDialog
from editor.dialogs.outline_page import OutlineDialog
from editor.dialogs.units import UnitsDialog
from editor.formats.dxf_writer import write_drawing
from editor.formats.grade_rules import write_rules
from editor.formats.grading_out import graded_drawing
from editor.formats.import_pattern import import_pattern
from editor.window import Window
from geometry.units import MM_PER_INCH, Unit

pytestmark = pytest.mark.gui

LEFT = Qt.MouseButton.LeftButton
SAMPLES = Path(samples.__file__).parent
SIDE = 10.0

SQUARE = [(0.0, 0.0), (SIDE, 0.0), (SIDE, SIDE), (0.0, SIDE)]


def square(path: Path, *, insunits: int | None = None) -> Path:
    """A drawing of one square of ten units, as R12 group codes; $INSUNITS 1 is inches, 4 is millimetres."""
    head = ["0", "SECTION", "2", "HEADER", "9", "$INSUNITS", "70", str(insunits), "0", "ENDSEC"] if insunits else []
    body = ["0", "SECTION", "2", "ENTITIES"]
    for (x0, y0), (x1, y1) in zip(SQUARE, [*SQUARE[1:], SQUARE[0]], strict=True):
        body += ["0", "LINE", "8", "1", "10", str(x0), "20", str(y0), "11", str(x1), "21", str(y1)]
    path.write_text("\n".join([*head, *body, "0", "ENDSEC", "0", "EOF", ""]))
    return path


def dialog_for(window: Window, path: Path) -> UnitsDialog:
    open_path(window, path)
    assert isinstance(window.dialog, UnitsDialog)
    return window.dialog


def begin_button(dialog: UnitsDialog | CleanUpDialog | OutlineDialog) -> QPushButton:
    return dialog.buttons.button(QDialogButtonBox.StandardButton.Ok)


def outline_page(qtbot: QtBot, window: Window) -> OutlineDialog:
    """Go on from the lengths, taking every suggestion, to what the only line is."""
    assert isinstance(window.dialog, UnitsDialog)
    qtbot.mouseClick(begin_button(window.dialog), LEFT)
    if isinstance(window.dialog, CleanUpDialog):
        qtbot.keyClick(window.dialog, Qt.Key.Key_Return)
    assert isinstance(window.dialog, OutlineDialog)
    return window.dialog


def begin_without_allowances(qtbot: QtBot, window: Window) -> None:
    page = outline_page(qtbot, window)
    page.box.stitching.click()
    qtbot.keyClick(page, Qt.Key.Key_Return)


def test_units_that_the_file_does_not_say_must_be_chosen(qtbot: QtBot, empty_window: Window, tmp_path: Path) -> None:
    dialog = dialog_for(empty_window, square(tmp_path / "square.dxf"))
    assert dialog.unit is None
    assert not begin_button(dialog).isEnabled()
    assert "does not say" in dialog.says.text()
    assert [button.text() for button in dialog.units.values()] == ["10 cm", "10 mm", "10 in (25.4 cm)"]
    qtbot.mouseClick(dialog.units[Unit.INCH], LEFT, pos=dialog.units[Unit.INCH].rect().center() / 4)
    assert dialog.unit is Unit.INCH
    assert "10 in × 10 in" in dialog.result_words.text()
    begin_without_allowances(qtbot, empty_window)
    piece = empty_window.session.pattern.pieces[0]
    assert piece.area_mm2 == pytest.approx((SIDE * MM_PER_INCH) ** 2)
    assert empty_window.session.is_modified


def test_units_that_the_file_states_are_shown_for_confirmation(
    qtbot: QtBot, empty_window: Window, tmp_path: Path
) -> None:
    dialog = dialog_for(empty_window, square(tmp_path / "square.dxf", insunits=1))
    assert dialog.unit is Unit.INCH
    assert "The file says inches" in dialog.says.text()
    assert empty_window.session.project is None
    qtbot.mouseClick(dialog.units[Unit.CM], LEFT, pos=dialog.units[Unit.CM].rect().center() / 4)
    begin_without_allowances(qtbot, empty_window)
    assert empty_window.session.pattern.pieces[0].area_mm2 == pytest.approx((SIDE * 10) ** 2)


def test_one_outline_can_be_the_cutting_line_with_an_allowance(
    qtbot: QtBot, empty_window: Window, tmp_path: Path
) -> None:
    dialog = dialog_for(empty_window, square(tmp_path / "square.dxf"))
    dialog.units[Unit.CM].click()
    page = outline_page(qtbot, empty_window)
    box = page.box
    assert box.allowance.text() == "1.5 cm"
    box.cutting.click()
    assert box.hem.text() == "1.5 cm"
    for field in (box.allowance, box.hem):
        qtbot.mouseClick(field, LEFT)
        field.selectAll()
        qtbot.keyClicks(field, "1")  # in the unit that the window shows
    qtbot.mouseClick(begin_button(page), LEFT)
    piece = empty_window.session.pattern.pieces[0]
    assert piece.area_mm2 == pytest.approx(80.0**2)
    assert {edge.allowance_mm for edge in piece.edges} == {10.0}


def test_a_traced_stitching_line_gets_its_allowances_in_one_go(qtbot: QtBot, empty_window: Window) -> None:
    dialog = dialog_for(empty_window, SAMPLES / "dress-trace.dxf")
    dialog.units[Unit.INCH].click()
    page = outline_page(qtbot, empty_window)
    box = page.box
    assert box.adding.isChecked()
    box.hem.setFocus()
    box.hem.selectAll()
    qtbot.keyClicks(box.hem, "6 cm")
    qtbot.mouseClick(begin_button(page), LEFT)
    pattern = empty_window.session.pattern
    hem, side = (pattern.piece("front skirt").edge(name).allowance_mm for name in ("hem", "side"))
    assert (hem, side) == (60.0, 15.0)
    assert pattern.piece("front skirt").edge("centre front").allowance_mm == 0.0


def test_an_outline_can_stay_without_allowances(qtbot: QtBot, empty_window: Window, tmp_path: Path) -> None:
    dialog = dialog_for(empty_window, square(tmp_path / "square.dxf"))
    dialog.units[Unit.CM].click()
    page = outline_page(qtbot, empty_window)
    page.box.stitching.click()
    assert not page.box.allowance.isEnabled()
    assert not page.rows.isEnabled()
    qtbot.mouseClick(begin_button(page), LEFT)
    told = [finding.text for finding in empty_window.session.findings if finding.code == "no-stitching-line"]
    assert len(told) == 1
    assert "--" not in told[0]
    assert {edge.allowance_mm for edge in empty_window.session.pattern.pieces[0].edges} == {0.0}


def test_cancel_begins_nothing(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    before = window.session.project
    dialog = dialog_for(window, square(tmp_path / "square.dxf"))
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    assert window.session.project is before


def test_a_file_that_is_no_drawing_gets_a_sentence(window: Window, tmp_path: Path) -> None:
    path = tmp_path / "letter.dxf"
    path.write_text("Dear choir")
    open_path(window, path)
    assert isinstance(window.dialog, QMessageBox)
    assert "letter.dxf" in window.dialog.informativeText()


def test_the_digitised_sample_comes_in_inches_for_a_wearer_by_name(qtbot: QtBot, empty_window: Window) -> None:
    dialog = dialog_for(empty_window, SAMPLES / "dress-trace.dxf")
    dialog.units[Unit.INCH].click()
    dialog.wearer.selectAll()
    qtbot.keyClicks(dialog.wearer, "Odile")
    qtbot.keyClick(outline_page(qtbot, empty_window), Qt.Key.Key_Return)
    session = empty_window.session
    names = {piece.name for piece in session.pattern.pieces}
    assert names == {"front bodice", "back bodice", "sleeve", "front skirt", "back skirt"}
    assert session.wearer.name == "Odile"
    assert session.project.base.unit is Unit.INCH
    assert session.project.base.source_bytes == (SAMPLES / "dress-trace.dxf").read_bytes()


def test_the_standard_sample_offers_its_seven_sizes(qtbot: QtBot, empty_window: Window) -> None:
    dialog = dialog_for(empty_window, SAMPLES / "dress.dxf")
    assert dialog.unit is not None
    sizes = [dialog.sizes.itemText(row) for row in range(dialog.sizes.count())]
    assert len(sizes) == 7
    dialog.sizes.setCurrentIndex(1)
    qtbot.mouseClick(begin_button(dialog), LEFT)
    assert empty_window.session.base.size == sizes[1]


def test_a_graded_drawing_opens_in_all_its_sizes(qtbot: QtBot, empty_window: Window, tmp_path: Path) -> None:
    nest = import_pattern(SAMPLES / "dress.dxf").nest
    drawing, table = graded_drawing(nest)
    write_drawing(drawing, tmp_path / "graded.dxf", unit="mm")
    write_rules(table, tmp_path / "graded.rul")
    dialog = dialog_for(empty_window, tmp_path / "graded.dxf")
    qtbot.mouseClick(begin_button(dialog), LEFT)
    assert empty_window.session.project.base.nest.sizes == nest.sizes


def test_the_units_that_the_file_states_have_the_keys(empty_window: Window, tmp_path: Path) -> None:
    dialog = dialog_for(empty_window, square(tmp_path / "square.dxf", insunits=1))
    assert dialog.focusWidget() is dialog.units[Unit.INCH]
