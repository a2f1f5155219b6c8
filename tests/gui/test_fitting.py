"""From the tape measure to the next toile, by real keys and clicks."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from editor.dialogs.fitting import FittingDialog
from editor.dialogs.measurements import MeasurementsPage
from editor.dialogs.photo_view import PhotoView
from editor.document.note_places import note_places
from editor.document.project_file import load_project, save_project
from editor.document.rounds import photo
from editor.document.wearing import body_of_wearer, case_of
from editor.panels.handbook import HandbookForm
from editor.window import Window
from geometry.alterations.handbook.alteration import Alteration
from geometry.fitting.advice import advise
from geometry.fitting.body import Hand
from geometry.fitting.levels import BodyLevel
from geometry.fitting.measures import TAPES, Measure
from geometry.units import Unit
from tests.gui.singers import two_singers


def type_in(page: MeasurementsPage, qtbot: QtBot, measure: Measure, column: int, text: str) -> None:
    """Type into a cell as a person does: choose it, write, Enter."""
    row = [tape.measure for tape in TAPES].index(measure)
    page.table.setCurrentCell(row, column)
    qtbot.keyClicks(page.table, text[:1])
    editor = page.table.viewport().findChild(QLineEdit)
    qtbot.keyClicks(editor, text[1:])
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.wait(10)  # Qt takes a cell over once it is back in its loop


def test_a_measurement_typed_in_fractions_is_kept_beside_the_earlier_one(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    session = empty_window.session
    session.set_unit(Unit.INCH)
    page = fitting.page("Measurements")
    page.by.setText("Ida")
    type_in(page, qtbot, Measure.WAIST, 1, "30 1/2")
    history = body_of_wearer(session.wearer).history(Measure.WAIST)
    assert [taken.length_mm for taken in history] == [775.0, 781.0, 774.7]
    assert history[-1].taken_by == "Ida"
    session.undo()
    assert len(body_of_wearer(session.wearer).history(Measure.WAIST)) == 2


def test_what_looks_like_a_slip_is_asked_about_and_kept(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    page = fitting.page("Measurements")
    type_in(page, qtbot, Measure.UPPER_ARM, 2, "300")
    assert body_of_wearer(empty_window.session.wearer).latest(Measure.UPPER_ARM, Hand.LEFT).length_mm == 3000.0
    assert "upper arm girth" in page.asked.text()


def test_what_is_no_length_is_said_and_changes_nothing(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    page, before = fitting.page("Measurements"), empty_window.session.project
    type_in(page, qtbot, Measure.HIP, 1, "wide")
    assert '"wide" is not a length' in page.trouble.text()
    assert empty_window.session.project is before


def test_advice_goes_into_the_journal_when_clicked_and_not_before(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    session = empty_window.session
    fitting.turn_to("Advice")
    assert len(session.records) == 4
    asked = len(fitting.page("Advice").buttons)
    qtbot.mouseClick(fitting.page("Advice").buttons[0], Qt.MouseButton.LeftButton)
    assert len(session.records) == 5
    assert session.records[-1].note
    assert len(fitting.page("Advice").buttons) == asked - 1


def test_a_cause_read_off_the_toile_becomes_a_step(fitting: FittingDialog, empty_window: Window, qtbot: QtBot) -> None:
    fitting.turn_to("Read a toile")
    page = fitting.page("Read a toile")
    page.places.setCurrentRow(1)
    qtbot.mouseClick(page.cards[0].journal, Qt.MouseButton.LeftButton)
    assert len(empty_window.session.records) == 5, page.trouble.text()
    assert empty_window.session.records[-1].note == "Seen on the toile: square shoulders."


def test_a_cause_opens_on_the_table_with_what_was_pinned(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    """2 in pinned over the whole bust are 1 in on each half front (the share of the handbook's full bust)."""
    session = empty_window.session
    fitting.turn_to("Read a toile")
    card = fitting.page("Read a toile").cards[0]
    card.pinned.setFocus()
    card.pinned.selectAll()
    qtbot.keyClicks(card.pinned, "2 in")
    qtbot.keyClick(card.pinned, Qt.Key.Key_Return)
    assert card.amount.amount == pytest.approx(25.4)
    qtbot.mouseClick(card.table, Qt.MouseButton.LeftButton)
    assert isinstance(empty_window.form, HandbookForm)
    assert empty_window.form.sheet.amount.amount == pytest.approx(25.4)
    assert session.preview is not None
    assert len(session.records) == 4
    empty_window.form.settle()
    assert session.records[-1].step.entry == "D01"
    assert session.records[-1].note == "Seen on the toile: the bust is fuller than the pattern."


def test_no_amount_is_taken_that_the_alteration_cannot_do(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    fitting.turn_to("Read a toile")
    card = fitting.page("Read a toile").cards[0]
    card.amount.setFocus()
    card.amount.selectAll()
    qtbot.keyClicks(card.amount, "900")
    qtbot.mouseClick(card.journal, Qt.MouseButton.LeftButton)
    assert card.amount.complaint.text()
    assert len(empty_window.session.records) == 4


def test_a_step_taken_over_tells_the_sum_of_its_own_wearer(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    """What the figures ask of Odile's bought pattern, taken over by Maren: her sums, and off what she needs not."""
    session = empty_window.session
    for record in session.records:
        session.remove(record.id)
    case = case_of(session.project, session.wearer, session.base)
    for proposal in advise(case):
        session.add_step(proposal.step(), note=proposal.words(session.unit))
    session.show("1", "3")
    fitting.turn_to("Take over")
    page = fitting.page("Take over")
    page.source.setCurrentIndex(page.source.findText("Odile, toile 1"))
    page.refresh()
    qtbot.mouseClick(page.begin, Qt.MouseButton.LeftButton)
    notes = {record.step.entry: (record.on, record.note) for record in session.records}
    assert notes["A01"][1].startswith("Back waist length 37.6 cm")
    assert notes["D01"] == (False, "The measurements ask for nothing here.")


def test_steps_are_taken_over_as_a_toile_of_ones_own(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    fitting.turn_to("Take over")
    qtbot.mouseClick(fitting.page("Take over").begin, Qt.MouseButton.LeftButton)
    assert len(empty_window.session.wearer.rounds) == 4
    assert len(empty_window.session.records) == 4


def test_all_that_is_known_of_a_wearer_is_in_the_file_again(
    fitting: FittingDialog, empty_window: Window, tmp_path: Path, qtbot: QtBot
) -> None:
    session, notes = empty_window.session, fitting.page("Notes and photos")
    fitting.turn_to("Notes and photos")
    picture = tmp_path / "toile.png"
    QImage(8, 8, QImage.Format.Format_RGB32).save(str(picture))
    notes.photos.take_photo(picture)
    qtbot.keyClicks(notes.text, "pulls here")
    qtbot.keyClick(notes.text, Qt.Key.Key_Return)
    fitting.page("Sizes").choose(BodyLevel.HIP, 3.5)
    path = tmp_path / "choir.dartwise"
    save_project(session.project, path)
    again = load_project(path)
    assert replace(again, base=session.project.base) == session.project
    assert photo(again, again.wearer("2").round("1").photos[0]) == picture.read_bytes()
    assert again.wearer("2").round("1").notes[-1].text == "pulls here"


def test_the_next_toile_has_the_steps_and_none_of_the_notes(fitting: FittingDialog, empty_window: Window) -> None:
    session = empty_window.session
    session.begin_round()
    assert (len(session.records), session.round.notes, session.round.name) == (4, (), "toile 4")


def test_the_window_stays_usable_beside_fitting_and_undo_in_either_is_seen_in_both(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    session = empty_window.session
    assert not fitting.isModal()
    fitting.turn_to("Advice")
    asked = len(fitting.page("Advice").buttons)
    qtbot.mouseClick(fitting.page("Advice").buttons[0], Qt.MouseButton.LeftButton)
    session.undo()
    assert len(fitting.page("Advice").buttons) == asked
    session.set_on("1", False)
    assert len(fitting.page("Advice").buttons) > asked
    session.show("1", "3")
    assert fitting.who.currentText() == "Maren, final"
    assert fitting.windowTitle().startswith("Fitting Maren")


def test_fitting_closes_with_its_project_and_is_opened_once(fitting: FittingDialog, empty_window: Window) -> None:
    empty_window.show_fitting("Sizes")
    assert empty_window.fitting is fitting
    assert fitting.stack.currentWidget() is fitting.page("Sizes")
    empty_window.session.open_project(two_singers())
    assert empty_window.fitting is None


def test_undo_that_takes_away_the_toile_shown_leaves_fitting_on_another(
    fitting: FittingDialog, empty_window: Window
) -> None:
    session = empty_window.session
    session.begin_round()
    assert fitting.who.currentText() == "Odile, toile 4"
    session.undo()
    assert fitting.who.currentText() == "Odile, final"


def test_the_place_of_a_note_is_marked_on_the_table_and_tells_its_words(
    fitting: FittingDialog, empty_window: Window
) -> None:
    session, table = empty_window.session, empty_window.table
    (note,) = session.round.notes
    (((piece, at),),) = note_places((note,), session.base, session.records)
    x, y = table.viewport.to_px(table.bench.sheets.scene.sheets[piece].to_table(at))
    before = table.grab().toImage().pixel(round(x + 9), round(y))
    empty_window.furnishing.actions.by_id["note-marks"].trigger()
    assert table.grab().toImage().pixel(round(x + 9), round(y)) != before
    assert table.notes.words_at((x, y)) == ""
    empty_window.furnishing.actions.by_id["note-marks"].trigger()
    assert table.notes.words_at((x + 4, y)) == note.text


def test_a_note_goes_along_with_what_is_altered_after_it(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    session, table = empty_window.session, empty_window.table
    page = fitting.page("Notes and photos")
    fitting.turn_to("Notes and photos")
    page.piece.setCurrentText("front skirt")
    skirt = session.pattern.piece("front skirt")
    low = float(skirt.edge("hem").points[:, 1].min())
    page.sketch.clicked.emit(120.0, low + 20.0)
    qtbot.keyClicks(page.text, "catches at the knee")
    qtbot.keyClick(page.text, Qt.Key.Key_Return)
    note = session.round.notes[-1]
    assert note.is_on_base
    hem = skirt.edge("hem").start

    def shown_at() -> tuple[float, float]:
        (*_, ((_, at),)) = note_places(session.round.notes, session.base, session.records)
        return at

    before = shown_at()
    assert before == pytest.approx((120.0, low + 20.0), abs=0.1)
    session.add_step(Alteration("A04", 50.0))
    moved = session.pattern.piece("front skirt").edge("hem").start[1] - hem[1]
    assert abs(moved) == pytest.approx(50.0, abs=0.1)
    assert shown_at() == pytest.approx((before[0], before[1] + moved), abs=0.1)
    sheet = table.bench.sheets.scene.sheets["front skirt"]
    assert table.notes.words_at(table.viewport.to_px(sheet.to_table(shown_at()))) == "catches at the knee"


def test_a_name_and_a_day_typed_on_the_page_are_the_toiles(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    fitting.turn_to("Notes and photos")
    page = fitting.page("Notes and photos")
    for field, text in ((page.name, "first try"), (page.day, "2026-09-07")):
        field.setFocus()
        field.selectAll()
        qtbot.keyClicks(field, text)
        qtbot.keyClick(field, Qt.Key.Key_Return)
    shown = empty_window.session.round
    assert (shown.name, shown.date) == ("first try", "2026-09-07")
    page.day.setText("yesterday")
    page.day.editingFinished.emit()
    assert '"yesterday" is no day' in page.trouble.text()
    assert empty_window.session.round is shown


def test_a_photo_is_enlarged_by_double_click_and_taken_away_by_key(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    session = empty_window.session
    fitting.turn_to("Notes and photos")
    shelf = fitting.page("Notes and photos").photos
    picture = tmp_path / "toile.png"
    image = QImage(60, 40, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.white)
    assert image.save(str(picture))
    shelf.take_photo(picture)
    place = shelf.list.visualItemRect(shelf.list.item(0)).center()
    qtbot.mouseClick(shelf.list.viewport(), Qt.MouseButton.LeftButton, pos=place)
    qtbot.mouseDClick(shelf.list.viewport(), Qt.MouseButton.LeftButton, pos=place)
    qtbot.waitUntil(lambda: isinstance(empty_window.dialog, PhotoView))
    assert empty_window.dialog.shown.pixmap().width() > 60
    empty_window.dialog.reject()
    shelf.list.setFocus()
    qtbot.keyClick(shelf.list, Qt.Key.Key_Delete)
    assert session.round.photos == ()
    assert session.project.unread.members == ()
    session.undo()
    assert len(session.round.photos) == len(session.project.unread.members) == 1


def test_every_ease_has_its_source_beside_it(fitting: FittingDialog) -> None:
    fitting.turn_to("Garment and body")
    table = fitting.page("Garment and body").table
    sources = {table.item(row, 0).text(): table.item(row, 9).text() for row in range(table.rowCount())}
    assert sources["upper arm girth"] == "Threads, set-in sleeve solutions, 2021: at least 2 in"
    assert all(sources.values())


def test_what_was_not_taken_and_could_be_used_is_told_in_its_row(fitting: FittingDialog) -> None:
    table = fitting.page("Measurements").table
    told = {table.item(row, 0).text(): table.item(row, 6).text() for row in range(table.rowCount())}
    assert told["shoulder drop"] == "wanted for the advice"
    assert told["hip girth"] == ""
