"""Printing, with its preview, by mouse and keys."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QFileDialog, QLineEdit
from pytestqt.qtbot import QtBot

from editor.dialogs.paper_out import printer_for
from editor.dialogs.piece_options import GROUP, PAIR, PIECE, TWICE, WHOLE
from editor.dialogs.print_preview import PrintPreview
from editor.printing import packing
from editor.printing.picture import LineKind
from editor.window import Window
from geometry.affine import Affine
from geometry.units import MM_PER_INCH
from tests.editor.pdf_reading import page_paths
from tests.gui.test_window_file import name_file

pytestmark = pytest.mark.gui

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def preview(qtbot: QtBot, window: Window) -> PrintPreview:
    window.settings.setValue("print/looks_on", 0)
    window.furnishing.actions.by_id["print"].trigger()
    assert isinstance(window.dialog, PrintPreview)
    qtbot.waitUntil(lambda: window.dialog.is_settled)
    return window.dialog


def replanned(qtbot: QtBot, preview: PrintPreview, before: object) -> None:
    qtbot.waitUntil(lambda: preview.is_settled and preview.plan is not None and preview.plan is not before)


def piece_row(preview: PrintPreview, name: str) -> int:
    table = preview.pieces.pieces
    return next(row for row in range(table.rowCount()) if table.item(row, PIECE).text() == name)


def tick(qtbot: QtBot, preview: PrintPreview, name: str, column: int) -> None:
    preview.options.setCurrentWidget(preview.pieces)
    preview.pieces.pieces.setCurrentCell(piece_row(preview, name), column)
    qtbot.keyClick(preview.pieces.pieces, Qt.Key.Key_Space)


def type_length(qtbot: QtBot, field: QLineEdit, words: str) -> None:
    qtbot.mouseClick(field, LEFT)
    field.selectAll()
    qtbot.keyClicks(field, words)
    qtbot.keyClick(field, Qt.Key.Key_Tab)


def at(preview: PrintPreview, name: str) -> QPoint:
    """A place inside a piece, on the joined sheet."""
    piece = next(piece for piece in preview.plan.pieces if piece.name == name)
    return preview.sheet.to_pixels(piece.outline.mean(axis=0).tolist()).toPoint()


def test_the_preview_shows_every_page_of_the_plan(preview: PrintPreview) -> None:
    pages = len(preview.plan.pages)
    assert pages > 2
    assert preview.pages.count() == pages
    assert preview.count.text() == f"{pages} pages A4"
    assert preview.pages.item(0).text() == "Start here"
    assert preview.pages.item(1).text() == "A1"
    assert f"{round(100 * preview.plan.fill)} % of the sheets filled" in preview.fill.text()
    assert f"would fill {preview.plan.least_sheets} sheets" in preview.fill.text()


def test_a_page_has_its_lines_where_the_plan_says(preview: PrintPreview) -> None:
    """The frame of a sheet is drawn along the printable box, 10 mm inside of A4."""
    preview.views.setCurrentIndex(1)
    preview.pages.setCurrentRow(1)
    image = preview.page.grab().toImage()
    frame = preview.page._frame()
    scale = frame.width() / preview.plan.page.width_mm
    middle = frame.center()
    left = [
        image.pixelColor(round(frame.left() + 10.0 * scale) + by, round(middle.y())).lightness() for by in (-1, 0, 1)
    ]
    margin = image.pixelColor(round(frame.left() + 5.0 * scale), round(middle.y())).lightness()
    assert min(left) < 240
    assert margin == 255


def test_the_lines_of_the_rounds_alterations_are_printed(preview: PrintPreview) -> None:
    altered = {
        piece.name
        for piece in preview.plan.pieces
        if any(stroke.kind is LineKind.ALTERATION for stroke in piece.drawing.strokes)
    }
    assert altered == {"front skirt", "back skirt"}


def test_letter_by_keys_plans_the_pages_anew(qtbot: QtBot, preview: PrintPreview) -> None:
    before = preview.plan
    preview.paper.paper.setFocus()
    qtbot.keyClick(preview.paper.paper, Qt.Key.Key_Down)
    replanned(qtbot, preview, before)
    assert preview.plan.page.paper.name == "Letter"
    assert preview.count.text().endswith("Letter")


def test_unticked_pieces_are_not_printed_and_with_none_nothing_is(qtbot: QtBot, preview: PrintPreview) -> None:
    before = preview.plan
    names = [piece.name for piece in before.pieces]
    for name in names[1:]:
        tick(qtbot, preview, name, PIECE)
    replanned(qtbot, preview, before)
    assert [piece.name for piece in preview.plan.pieces] == names[:1]
    assert len(preview.plan.pages) < len(before.pages)
    tick(qtbot, preview, names[0], PIECE)
    qtbot.waitUntil(lambda: preview.plan is None)
    assert preview.trouble.text() == "Tick at least one piece to print."
    assert not preview.write.isEnabled()
    assert not preview.print.isEnabled()


def test_a_piece_is_printed_twice_paired_whole_and_in_a_group(qtbot: QtBot, preview: PrintPreview) -> None:
    before = preview.plan
    half = next(piece for piece in before.pieces if piece.name == "front bodice")
    tick(qtbot, preview, "front bodice", WHOLE)
    tick(qtbot, preview, "back bodice", TWICE)
    tick(qtbot, preview, "back skirt", PAIR)
    preview.pieces.pieces.item(piece_row(preview, "back skirt"), GROUP).setText("skirt")
    replanned(qtbot, preview, before)
    names = [piece.name for piece in preview.plan.pieces]
    assert {"back bodice, copy 1 of 2", "back bodice, copy 2 of 2", "back skirt", "back skirt, mirrored"} <= set(names)
    whole = next(piece for piece in preview.plan.pieces if piece.name == "front bodice")
    assert whole.area_mm2 == pytest.approx(2 * half.area_mm2)
    assert {piece.group for piece in preview.plan.pieces if "back skirt" in piece.name} == {"skirt"}


def test_a_margin_that_leaves_no_room_is_refused_in_place(qtbot: QtBot, preview: PrintPreview) -> None:
    before = preview.plan
    type_length(qtbot, preview.paper.margin, "9 cm")
    assert "choose a margin" in preview.paper.margin.complaint.text()
    assert preview.plan is before


def test_a_measured_square_corrects_the_print_and_one_fitted_to_the_page_is_refused(
    qtbot: QtBot, preview: PrintPreview
) -> None:
    before = preview.plan
    type_length(qtbot, preview.paper.side_a, "98.5")
    replanned(qtbot, preview, before)
    assert preview.plan.page.correction.a_mm == 98.5
    type_length(qtbot, preview.paper.side_b, "93")
    assert "still fits to page" in preview.paper.side_b.complaint.text()


def test_a_roll_asks_for_its_width_and_sheets_side_by_side_for_no_overlap(qtbot: QtBot, preview: PrintPreview) -> None:
    before = preview.plan
    assert not preview.paper.width_field.isVisible()
    preview.paper.butted.click()
    replanned(qtbot, preview, before)
    assert preview.plan.page.butted
    assert not preview.paper.overlap.isEnabled()
    preview.paper.paper.setCurrentIndex(preview.paper.paper.findData("roll"))
    before = preview.plan
    type_length(qtbot, preview.paper.width_field, "80 cm")
    replanned(qtbot, preview, before)
    assert (preview.plan.page.width_mm, len(preview.plan.pages)) == (800.0, 1)


def test_a_piece_dragged_on_the_joined_sheet_lies_there_and_its_pages_are_counted(
    qtbot: QtBot, preview: PrintPreview
) -> None:
    before, start = preview.plan, at(preview, "front skirt")
    box = next(piece for piece in before.pieces if piece.name == "front skirt").box
    counts: list[int] = []
    preview.sheet.counted.connect(counts.append)
    qtbot.mousePress(preview.sheet, LEFT, pos=start)
    assert preview.sheet.selected == "front skirt"
    qtbot.mouseMove(preview.sheet, start + QPoint(0, 60))
    qtbot.mouseRelease(preview.sheet, LEFT, pos=start + QPoint(0, 60))
    replanned(qtbot, preview, before)
    after = next(piece for piece in preview.plan.pieces if piece.name == "front skirt").box
    down_mm = 60 / preview.sheet._scale()
    assert counts
    assert box.y0 - after.y0 == pytest.approx(down_mm, rel=0.2)
    assert counts[-1] == len(preview.plan.tiles)
    assert preview.anew.isEnabled()
    moved = preview.plan
    qtbot.mouseClick(preview.anew, LEFT)
    replanned(qtbot, preview, moved)
    assert preview.plan.layout == before.layout


def test_keys_nudge_a_piece_turn_it_and_push_the_whole_pattern(qtbot: QtBot, preview: PrintPreview) -> None:
    sheet = preview.sheet
    sheet.setFocus()
    first = before = preview.plan
    qtbot.keyClick(sheet, Qt.Key.Key_Period)
    qtbot.keyClick(sheet, Qt.Key.Key_Right)
    qtbot.keyClick(sheet, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    replanned(qtbot, preview, before)
    assert preview.plan.pieces[0].box.x0 - first.pieces[0].box.x0 == pytest.approx(11.0)
    assert preview.plan.pieces[1].box == first.pieces[1].box
    before = preview.plan
    qtbot.keyClick(sheet, Qt.Key.Key_BracketLeft)
    replanned(qtbot, preview, before)
    assert preview.plan.pieces[0].box.width_mm == pytest.approx(first.pieces[0].box.height_mm, abs=1.0)
    before = preview.plan
    sheet.select("")
    qtbot.keyClick(sheet, Qt.Key.Key_Down)
    replanned(qtbot, preview, before)
    drops = [one.box.y0 - other.box.y0 for one, other in zip(before.pieces, preview.plan.pieces, strict=True)]
    assert drops == pytest.approx([1.0] * len(drops))


def test_pieces_laid_on_each_other_are_seen_and_said(qtbot: QtBot, preview: PrintPreview) -> None:
    sheet, plan = preview.sheet, preview.plan
    assert sheet.lying_on_another() == set()
    one, other = plan.pieces[0].box.centre, plan.pieces[1].box.centre
    sheet.select(plan.pieces[0].name)
    sheet._move(Affine.moved(other[0] - one[0], other[1] - one[1]), [plan.pieces[0].name])
    assert sheet.lying_on_another() == {plan.pieces[0].name, plan.pieces[1].name}
    replanned(qtbot, preview, plan)
    said = [preview.notes.item(row).text() for row in range(preview.notes.count())]
    assert f"The {plan.pieces[0].name} lies on another piece: move one of them." in said


def test_a_better_layout_never_takes_a_piece_out_of_the_hand(qtbot: QtBot, preview: PrintPreview) -> None:
    preview.pieces.looks_on.click()
    qtbot.waitUntil(preview.stop.isVisible)
    start = at(preview, "front skirt")
    qtbot.mousePress(preview.sheet, LEFT, pos=start)
    qtbot.mouseMove(preview.sheet, start + QPoint(0, 30))
    held = preview.plan
    assert not preview.stop.isVisible()
    qtbot.wait(300)
    assert preview.plan is held
    qtbot.mouseRelease(preview.sheet, LEFT, pos=start + QPoint(0, 30))
    replanned(qtbot, preview, held)


def test_only_a_piece_picked_out_can_be_turned(preview: PrintPreview) -> None:
    assert not preview.turn.isEnabled()
    preview.sheet.select(preview.plan.pieces[0].name)
    assert preview.turn.isEnabled()


def test_notes_on_joins_pick_out_their_piece(qtbot: QtBot, preview: PrintPreview) -> None:
    assert preview.notes.count() == len(preview.plan.findings)
    preview.views.setCurrentIndex(1)
    preview.notes.setCurrentRow(0)
    assert preview.sheet.selected == preview.plan.findings[0].piece
    assert preview.views.currentIndex() == 0


def test_a_better_layout_is_looked_for_beside_the_window(
    qtbot: QtBot, preview: PrintPreview, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(packing, "_PLACINGS", 40)
    quick = preview.plan
    preview.pieces.looks_on.click()
    qtbot.waitUntil(lambda: preview.is_settled and preview.plan is not quick)
    assert len(preview.plan.tiles) <= len(quick.tiles)
    assert not preview.progress.isVisible()


def test_looking_for_a_better_layout_can_be_stopped(qtbot: QtBot, preview: PrintPreview) -> None:
    preview.pieces.looks_on.click()
    qtbot.waitUntil(preview.stop.isVisible)
    shown = preview.plan
    qtbot.mouseClick(preview.stop, LEFT)
    assert preview.is_settled
    assert preview.plan is shown
    assert not preview.progress.isVisible()


def test_closing_while_pages_are_laid_out_ends_it(qtbot: QtBot, preview: PrintPreview, window: Window) -> None:
    preview.pieces.looks_on.click()
    preview.lay_out_pages()
    qtbot.keyClick(preview, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: window.dialog is None)


def test_the_pdf_has_the_pages_of_the_preview_at_true_size(
    qtbot: QtBot, window: Window, preview: PrintPreview, tmp_path: Path
) -> None:
    path, pages = tmp_path / "choir.pdf", len(preview.plan.pages)
    qtbot.mouseClick(preview.write, LEFT)
    assert isinstance(window.dialog, QFileDialog)
    assert [Path(name).suffixes for name in window.dialog.selectedFiles()] == [[".pdf"]]
    name_file(qtbot, window, path)
    qtbot.waitUntil(lambda: window.dialog is None)
    document = pypdfium2.PdfDocument(path)
    sizes_mm = [tuple(round(side / 72 * MM_PER_INCH, 1) for side in page.get_size()) for page in document]
    document.close()
    assert sizes_mm in ([(210.0, 297.0)] * pages, [(297.0, 210.0)] * pages)
    assert "Measure the printed test square" in window.statusBar().currentMessage()
    assert window.settings.value("print/paper") == "a4"


def test_a_printer_gets_every_page_at_true_scale(qtbot: QtBot, preview: PrintPreview, tmp_path: Path) -> None:
    """Through Qt's own PDF printer: what it would put on paper is measured in its file."""
    sheet, printer = preview.plan.page, printer_for(preview.plan)
    printer.setFromTo(1, 2)
    path = tmp_path / "printed.pdf"
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    with qtbot.waitSignal(preview.accepted):
        preview.print_on(printer)
    with pypdfium2.PdfDocument(path) as document:
        assert len(document) == 2
        sizes_mm = [side / 72 * MM_PER_INCH for page in document for side in page.get_size()]
    assert sizes_mm == pytest.approx([*sheet.sent_mm] * 2, abs=0.2)  # Qt's file has whole points
    own, _ = page_paths(path, 0)
    sides = [each.size for each in own]
    for side_mm in (100.0, 4 * MM_PER_INCH):
        assert any(side == pytest.approx((side_mm, side_mm), abs=0.05) for side in sides)


def test_a_corrected_print_is_corrected_on_the_printer(qtbot: QtBot, preview: PrintPreview, tmp_path: Path) -> None:
    before = preview.plan
    type_length(qtbot, preview.paper.side_a, "98")
    replanned(qtbot, preview, before)
    sheet, printer, path = preview.plan.page, printer_for(preview.plan), tmp_path / "printed.pdf"
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    printer.setFromTo(1, 1)
    with qtbot.waitSignal(preview.accepted):
        preview.print_on(printer)
    own, _ = page_paths(path, 0, sheet.printed)
    assert any(each.size == pytest.approx((100.0, 100.0), abs=0.05) for each in own)
    with pypdfium2.PdfDocument(path) as document:
        assert len(document) == 1


def test_print_opens_the_printers_own_dialog(qtbot: QtBot, preview: PrintPreview, window: Window) -> None:
    qtbot.mouseClick(preview.print, LEFT)
    assert isinstance(window.dialog, QPrintDialog)
    window.dialog.reject()


def test_a_drawing_is_written_for_every_page(qtbot: QtBot, preview: PrintPreview, tmp_path: Path) -> None:
    pages = len(preview.plan.pages)
    with qtbot.waitSignal(preview.accepted):
        preview.write_drawings_to(tmp_path / "choir.svg")
    assert len(list(tmp_path.glob("choir-*.svg"))) == pages


def test_stopping_leaves_no_file_and_the_dialog_open(qtbot: QtBot, preview: PrintPreview, tmp_path: Path) -> None:
    path = tmp_path / "choir.pdf"
    preview.write_to(path)
    qtbot.keyClick(preview, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: preview.write.isEnabled())
    assert preview.isVisible()
    assert preview.trouble.text() == "Stopped; no file was written."
    assert list(tmp_path.glob("*.pdf*")) == []


def test_a_folder_that_is_not_there_gets_a_sentence(qtbot: QtBot, preview: PrintPreview, tmp_path: Path) -> None:
    preview.write_to(tmp_path / "nowhere" / "choir.pdf")
    qtbot.waitUntil(lambda: preview.write.isEnabled())
    assert "nowhere" in preview.trouble.text()
    assert preview.isVisible()
