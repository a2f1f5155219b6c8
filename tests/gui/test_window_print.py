"""Print to PDF, with its preview, by mouse and keys."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from editor.dialogs.print_preview import PrintPreview
from editor.printing.picture import LineKind
from editor.window import Window
from geometry.units import MM_PER_INCH
from tests.gui.test_window_file import name_file

pytestmark = pytest.mark.gui

LEFT = Qt.MouseButton.LeftButton
CONTROL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def preview(qtbot: QtBot, window: Window) -> PrintPreview:
    qtbot.keyClick(window, Qt.Key.Key_P, CONTROL)
    assert isinstance(window.dialog, PrintPreview)
    return window.dialog


def replanned(qtbot: QtBot, preview: PrintPreview, before: object) -> None:
    qtbot.waitUntil(lambda: preview.plan is not None and preview.plan is not before)


def test_the_preview_shows_every_page_of_the_plan(preview: PrintPreview) -> None:
    pages = len(preview.plan.pages)
    assert pages > 2
    assert preview.pages.count() == pages
    assert preview.count.text() == f"{pages} pages A4"
    assert preview.pages.item(0).text() == "Start here"
    assert preview.pages.item(1).text() == "A1"


def test_a_page_has_its_lines_where_the_plan_says(preview: PrintPreview) -> None:
    """The frame of a sheet is drawn along the printable box, 10 mm inside of A4."""
    preview.pages.setCurrentRow(1)
    image = preview.page.grab().toImage()
    frame = preview.page._frame()
    scale = frame.width() / preview.plan.page.width_mm
    middle = frame.center()
    left = [
        image.pixelColor(round(frame.left() + 10.0 * scale) + by, round(middle.y())).lightness() for by in (-1, 0, 1)
    ]
    margin = image.pixelColor(round(frame.left() + 5.0 * scale), round(middle.y())).lightness()
    assert min(left) < 215
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
    preview.paper.setFocus()
    qtbot.keyClick(preview.paper, Qt.Key.Key_Down)
    replanned(qtbot, preview, before)
    assert preview.plan.page.paper.name == "Letter"
    assert preview.count.text().endswith("Letter")


def test_unticked_pieces_are_not_printed_and_with_none_nothing_is(qtbot: QtBot, preview: PrintPreview) -> None:
    before = preview.plan
    for row in range(1, preview.pieces.count()):
        preview.pieces.setCurrentRow(row)
        qtbot.keyClick(preview.pieces, Qt.Key.Key_Space)
    replanned(qtbot, preview, before)
    assert [piece.name for piece in preview.plan.pieces] == ["front bodice"]
    assert len(preview.plan.pages) < len(before.pages)
    preview.pieces.setCurrentRow(0)
    qtbot.keyClick(preview.pieces, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: preview.plan is None)
    assert preview.trouble.text() == "Tick at least one piece to print."
    assert not preview.write.isEnabled()


def test_a_margin_that_leaves_no_room_is_refused_in_place(qtbot: QtBot, preview: PrintPreview) -> None:
    before = preview.plan
    field = preview.margin
    qtbot.mouseClick(field, LEFT)
    field.selectAll()
    qtbot.keyClicks(field, "9 cm")
    qtbot.keyClick(field, Qt.Key.Key_Tab)
    assert "choose a margin" in field.complaint.text()
    assert preview.plan is before


def test_the_pdf_has_the_pages_of_the_preview_at_true_size(
    qtbot: QtBot, window: Window, preview: PrintPreview, tmp_path: Path
) -> None:
    path, pages = tmp_path / "choir.pdf", len(preview.plan.pages)
    qtbot.mouseClick(preview.write, LEFT)
    assert isinstance(window.dialog, QFileDialog)
    name_file(qtbot, window, path)
    qtbot.waitUntil(lambda: window.dialog is None, timeout=20_000)
    document = pypdfium2.PdfDocument(path)
    sizes_mm = [tuple(round(side / 72 * MM_PER_INCH, 1) for side in page.get_size()) for page in document]
    document.close()
    assert sizes_mm in ([(210.0, 297.0)] * pages, [(297.0, 210.0)] * pages)
    assert "Measure the printed test square" in window.statusBar().currentMessage()
    assert window.settings.value("print/paper") == "a4"


def test_stopping_leaves_no_file_and_the_dialog_open(qtbot: QtBot, preview: PrintPreview, tmp_path: Path) -> None:
    path = tmp_path / "choir.pdf"
    preview.write_to(path)
    qtbot.keyClick(preview, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: preview.write.isEnabled(), timeout=20_000)
    assert preview.isVisible()
    assert preview.trouble.text() == "Stopped; no file was written."
    assert list(tmp_path.glob("*.pdf*")) == []


def test_a_folder_that_is_not_there_gets_a_sentence(qtbot: QtBot, preview: PrintPreview, tmp_path: Path) -> None:
    preview.write_to(tmp_path / "nowhere" / "choir.pdf")
    qtbot.waitUntil(lambda: preview.write.isEnabled(), timeout=20_000)
    assert "nowhere" in preview.trouble.text()
    assert preview.isVisible()
