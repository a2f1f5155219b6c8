"""The journal beside the table, by mouse and keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from editor.panels.journal_row import JournalRow
from editor.window import Window
from geometry.alterations.dart_steps import LengthenDart, PressDart
from geometry.alterations.handbook.alteration import Alteration
from geometry.model.dart import Pressed
from geometry.units import Unit
from tests.gui.choir import HEM_MM

pytestmark = pytest.mark.gui

LEFT = Qt.MouseButton.LeftButton


def row(window: Window, record: str = "1") -> JournalRow:
    return window.furnishing.journal.rows[record]


def type_amount(qtbot: QtBot, window: Window, text: str, record: str = "1") -> None:
    field = row(window, record).amount
    qtbot.mouseClick(field, LEFT)
    qtbot.keyClick(field, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def amount_mm(window: Window, record: int = 0) -> float:
    return window.session.records[record].step.amount_mm


def hem_mm(window: Window) -> float:
    return window.session.pattern.piece("front skirt").edge("hem").length_mm


@pytest.mark.parametrize(
    ("text", "typed_mm"), [("5/8", 15.875), ('1 1/2"', 38.1), ("12.7mm", 12.7), ("1,5 cm", 15.0), ("3", 30.0)]
)
def test_an_amount_typed_in_the_journal_opens_the_slash_by_it(
    qtbot: QtBot, window: Window, text: str, typed_mm: float
) -> None:
    before = window.session.base.piece("front skirt").edge("hem").length_mm
    type_amount(qtbot, window, text)
    assert amount_mm(window) == pytest.approx(typed_mm)
    assert hem_mm(window) == pytest.approx(before + typed_mm, abs=0.5)


def test_undo_and_redo_by_key_name_the_change_and_bring_the_amount_back(qtbot: QtBot, window: Window) -> None:
    type_amount(qtbot, window, "40 mm")
    undo = window.furnishing.actions.by_id["undo"]
    assert undo.text() == "&Undo change amount"
    window.table.setFocus()
    qtbot.keyClick(window.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert amount_mm(window) == HEM_MM
    assert row(window).amount.text() == "2.54 cm"
    assert not undo.isEnabled()
    qtbot.keyClick(window.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert amount_mm(window) == 40.0


def test_a_wrong_text_is_said_in_place_and_changes_nothing(qtbot: QtBot, window: Window) -> None:
    before = window.session.project
    type_amount(qtbot, window, "wide")
    field = row(window).amount
    assert window.session.project is before
    assert field.complaint.isVisible()
    assert '"wide" is not a length' in field.complaint.text()
    assert field.text() == "wide"
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == "2.54 cm"
    assert not field.complaint.isVisible()


def test_an_amount_that_cannot_be_done_is_refused_in_place(qtbot: QtBot, window: Window) -> None:
    before = window.session.project
    type_amount(qtbot, window, "4000 mm")
    assert window.session.project is before
    assert "front skirt" in row(window).amount.complaint.text()


def test_nudges_by_key_are_undone_together(qtbot: QtBot, window: Window) -> None:
    field = row(window).amount
    qtbot.mouseClick(field, LEFT)
    for _ in range(3):
        qtbot.keyClick(field, Qt.Key.Key_Up)
    assert amount_mm(window) == pytest.approx(HEM_MM + 3)
    window.session.undo()
    assert amount_mm(window) == HEM_MM


def test_a_fold_out_is_typed_as_what_it_takes_out(qtbot: QtBot, window: Window) -> None:
    type_amount(qtbot, window, "-10 mm")
    assert row(window).words.text().startswith("Fold out the front skirt")
    assert row(window).amount.text() == "1 cm"
    type_amount(qtbot, window, "20 mm")
    assert amount_mm(window) == -20.0


def test_a_click_on_the_box_leaves_the_step_out_and_keeps_it_in_the_list(qtbot: QtBot, window: Window) -> None:
    qtbot.mouseClick(row(window).on, LEFT)
    assert not window.session.records[0].on
    assert window.session.pattern.piece("front skirt") is window.session.base.piece("front skirt")
    assert list(window.furnishing.journal.rows) == ["1", "2"]


def test_keys_move_and_remove_the_selected_step(qtbot: QtBot, window: Window) -> None:
    qtbot.mouseClick(row(window, "2").words, LEFT)
    assert window.session.selection.record == "2"
    qtbot.keyClick(window, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert list(window.furnishing.journal.rows) == ["2", "1"]
    qtbot.keyClick(window, Qt.Key.Key_Backspace, Qt.KeyboardModifier.ControlModifier)
    assert list(window.furnishing.journal.rows) == ["1"]
    assert [each.id for each in window.session.records] == ["1"]


def test_a_step_that_no_longer_fits_is_shown_as_such(qtbot: QtBot, window: Window) -> None:
    session = window.session
    cut = session.records[0].step.cuts[0]
    lost = type(session.records[0].step)("gusset", (cut,))
    round_ = session.round
    records = (*session.records, type(session.records[0])("3", lost))
    changed = session.project.with_records(session.wearer.id, round_.id, records)
    session.open_project(changed)
    trouble = row(window, "3").trouble
    qtbot.waitUntil(trouble.isVisible)
    assert 'no piece called "gusset"' in trouble.text()
    assert row(window, "3").property("misfit") is True


def test_a_note_is_written_beside_a_step_and_undone(qtbot: QtBot, window: Window) -> None:
    row(window).write_note()
    qtbot.keyClicks(row(window).note_field, "The hem swings better.")
    qtbot.keyClick(row(window).note_field, Qt.Key.Key_Return)
    assert window.session.records[0].note == "The hem swings better."
    assert row(window).note.text() == "The hem swings better."
    assert row(window).note_field.isHidden()
    window.session.undo()
    assert not row(window).note.isVisible()


def test_the_unit_switch_changes_every_length_shown_and_is_remembered(qtbot: QtBot, window: Window) -> None:
    assert row(window).amount.text() == "2.54 cm"
    lengths = window.furnishing.lengths.table
    assert lengths.headerItem().text(0) == "Edge, cm"
    qtbot.mouseClick(window.furnishing.unit_switch.buttons[Unit.INCH], LEFT)
    assert row(window).amount.text() == '1"'
    assert lengths.headerItem().text(0) == "Edge, in, to 1/16"
    assert window.settings.value("unit") == "in"


def test_seam_lengths_tell_what_the_selected_step_changed(qtbot: QtBot, window: Window) -> None:
    qtbot.mouseClick(row(window).words, LEFT)
    table = window.furnishing.lengths.table
    groups = [table.topLevelItem(at).text(0) for at in range(table.topLevelItemCount())]
    edges = [table.topLevelItem(0).child(at) for at in range(table.topLevelItem(0).childCount())]
    hem = next(edge for edge in edges if edge.text(0) == "hem")
    before, after = (f"{length / 10:.2f}" for length in (260.0, hem_mm(window)))
    assert groups == ["front skirt"]
    assert [hem.text(column) for column in (1, 2)] == [before, after]
    assert hem.text(3).startswith("+2.5")


def test_another_wearer_shows_her_own_journal_and_size(qtbot: QtBot, window: Window) -> None:
    box = window.furnishing.wearer_bar.wearers
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Up)
    assert box.currentText() == "Maren"
    assert window.session.wearer.name == "Maren"
    assert not window.furnishing.journal.rows
    assert window.session.pattern.size == "12"


@pytest.mark.parametrize("key", [None, Qt.Key.Key_Return])
def test_a_step_that_is_not_laid_out_again_leads_to_its_amount_and_says_what_can_be_done(
    qtbot: QtBot, window: Window, key: Qt.Key | None
) -> None:
    window.show()
    record = window.session.add_step(LengthenDart("front bodice", "waist dart", -5.0))
    shown, amount = row(window, record), row(window, record).amount
    if key is None:
        qtbot.mouseDClick(shown.words, LEFT)
    else:
        qtbot.keyClick(shown, key)
    assert window.focusWidget() is amount
    assert amount.selectedText() == amount.text()
    assert "change its amount in the journal, or remove it" in window.furnishing.hint.text()
    qtbot.keyClicks(amount, "8 mm")
    qtbot.keyClick(amount, Qt.Key.Key_Return)
    assert abs(window.session.records[-1].step.amount_mm) == 8.0


def test_a_step_without_an_amount_says_to_do_it_anew(qtbot: QtBot, window: Window) -> None:
    window.show()
    record = window.session.add_step(PressDart("front bodice", "waist dart", Pressed.TO_END))
    qtbot.mouseDClick(row(window, record).words, LEFT)
    assert window.focusWidget() is not row(window, record).amount
    assert window.furnishing.hint.text().endswith("remove it from the journal and do it anew.")


def test_a_slash_in_the_journal_is_laid_out_again(qtbot: QtBot, window: Window) -> None:
    qtbot.mouseDClick(row(window).words, LEFT)
    assert window.table.bench.tool.is_busy
    assert window.focusWidget() is not row(window).amount


def test_tab_goes_through_the_steps_in_order_between_the_wearer_and_what_was_found(
    qtbot: QtBot, window: Window
) -> None:
    window.session.add_step(LengthenDart("front bodice", "waist dart", -10.0))
    furnishing = window.furnishing
    stops = [part for each in furnishing.journal.rows.values() for part in (each.on, each.amount, each.more)]
    qtbot.waitUntil(stops[-1].isVisible)
    furnishing.wearer_bar.others.setFocus()
    for stop in (*stops, furnishing.findings.list):
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        assert QApplication.focusWidget() is stop


def test_an_amount_that_is_refused_is_told_in_the_unit_shown(qtbot: QtBot, window: Window) -> None:
    record = window.session.add_step(Alteration("D01", 12.7))
    window.session.set_unit(Unit.CM)
    type_amount(qtbot, window, "8", record)
    assert amount_mm(window, -1) == 12.7
    assert row(window, record).amount.complaint.text() == (
        "Full bust, darted front can be done from -4 cm to 6 cm, not by 8 cm; stay between, or start from another size."
    )


def test_the_keys_stay_in_the_journal_when_a_step_is_taken_apart(qtbot: QtBot, window: Window) -> None:
    taken = window.session.add_step(Alteration("A01", 20.0))
    row(window, taken).apart.trigger()
    first = window.session.selection.record
    assert first != taken
    qtbot.waitUntil(row(window, first).more.hasFocus)
