"""Seams, walking, what is picked out, findings put right: with the mouse and keys on a real window."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialogButtonBox
from pytestqt.qtbot import QtBot

from editor.dialogs.allowances import AllowancesDialog
from editor.dialogs.limits import LimitsDialog
from editor.panels.finding_rows import FINDING, FIX_WORDS, button_of
from editor.panels.length_field import LengthField
from editor.session import Session
from editor.window import Window
from geometry.affine import Point
from geometry.alterations.allowance_steps import SetAllowance
from geometry.alterations.dart_steps import LengthenDart, MakeDart, PressDart, WidenDart
from geometry.alterations.edge_steps import BlendEdge
from geometry.alterations.seam_steps import MatchNotch
from geometry.model.edge import EdgeRole
from tests.gui.table_hand import TableHand
from tests.gui.test_window_file import name_file

pytestmark = pytest.mark.gui

LEFT = Qt.MouseButton.LeftButton
FRONT_SIDE, BACK_SIDE = ("front bodice", "side"), ("back bodice", "side")


@pytest.fixture
def session(window: Window) -> Session:
    window.session.show("1")
    window.session.select()
    window.table.fit_all()
    return window.session


def on_edge(session: Session, piece: str, edge: str, share: float = 0.3) -> Point:
    shape = session.pattern.piece(piece).edge(edge)
    return shape.point_at(shape.length_mm * share)


def click(window: Window, piece: str, edge: str, *, shift: bool = False, share: float = 0.3) -> None:
    hand = TableHand(window.table, piece)
    place = on_edge(window.session, piece, edge, share)
    keys = Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier
    hand.move(place)
    QTest.mouseClick(window.table, LEFT, keys, hand.pixel(place))


def type_into(field: LengthField, text: str, *, end: Qt.Key = Qt.Key.Key_Return) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, end)


def seam_ids(session: Session) -> list[str]:
    return [seam.id for seam in session.base.seams]


def stated(session: Session) -> list[str]:
    return [seam.id for seam in session.project.base.nest.sample.seams]


# -- seams


def test_two_clicks_state_a_seam_and_undo_takes_it_back(window: Window, session: Session) -> None:
    QTest.keyClick(window, Qt.Key.Key_E)
    assert window.furnishing.details.shown == "Seams"
    click(window, *FRONT_SIDE)
    click(window, *BACK_SIDE, share=0.6)
    assert stated(session) == ["front bodice side + back bodice side"]
    known = len(seam_ids(session))
    assert window.furnishing.seams.heading.detail.text() == f"{known - 1} of {known} proposed"
    session.undo()
    assert stated(session) == []


def test_shift_click_adds_to_the_seam_just_stated_and_is_one_change(window: Window, session: Session) -> None:
    window.furnishing.tools.by_name["seam"].trigger()
    click(window, "sleeve", "cap", share=0.4)
    click(window, "back bodice", "armhole")
    click(window, "front bodice", "armhole", shift=True, share=0.4)
    (seam,) = session.project.base.nest.sample.seams
    assert {ref.piece for ref in seam.second} == {"back bodice", "front bodice"}
    session.undo()
    assert stated(session) == []


def test_a_seam_is_sewn_in_part_from_the_panel_and_undo_sews_it_whole(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    form = window.furnishing.seams.form
    window.furnishing.details.turn_to("Seams")
    session.select(seam="front skirt side + back skirt side")
    qtbot.mouseClick(form.part, LEFT)
    start, end = form.stretches.boxes[0]
    assert [start.currentText(), end.currentText()] == ["waist corner", "hem corner"]
    start.setCurrentIndex(start.findText("notch hip notch"))
    start.activated.emit(start.currentIndex())
    (seam,) = session.project.base.nest.sample.seams
    assert [seam.first_stretches[0].start.notch, seam.first_stretches[0].end.notch].count("hip notch") == 1
    assert seam.second_stretches == ()
    row = window.furnishing.seams.list.item(0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert "from hip notch to hem only" in row
    session.undo()
    assert stated(session) == []


def test_an_end_of_a_seam_is_dragged_to_a_notch_on_the_table(window: Window, session: Session) -> None:
    QTest.keyClick(window, Qt.Key.Key_E)
    session.select(seam="front skirt side + back skirt side")
    hand, piece = TableHand(window.table, "front skirt"), session.pattern.piece("front skirt")
    waist = max(piece.edge("side").start, piece.edge("side").end, key=lambda place: place[1])
    hand.drag(waist, piece.notch_point(piece.notch("hip notch")))
    (seam,) = session.project.base.nest.sample.seams
    assert seam.is_partial
    assert seam.id == "front skirt side + back skirt side"


def test_proposals_are_listed_accepted_and_forgotten(qtbot: QtBot, window: Window, session: Session) -> None:
    panel = window.furnishing.seams
    window.furnishing.details.turn_to("Seams")
    known = len(seam_ids(session))
    assert panel.list.count() == known
    panel.list.setCurrentRow(0)
    first = session.selection.seam
    assert "both run from" in panel.list.item(0).data(Qt.ItemDataRole.AccessibleTextRole)
    qtbot.mouseClick(panel.form.forget, LEFT)
    assert first not in seam_ids(session)
    qtbot.mouseClick(panel.accept_all, LEFT)
    assert len(stated(session)) == known - 1
    assert panel.accept_all.isHidden()
    session.undo()
    session.undo()
    assert first in seam_ids(session)


def test_the_ease_of_a_seam_is_changed_and_undone(window: Window, session: Session) -> None:
    panel = window.furnishing.seams
    window.furnishing.details.turn_to("Seams")
    panel.list.setCurrentRow(0)
    type_into(panel.form.high, "6 mm")
    seam = next(each for each in session.base.seams if each.id == session.selection.seam)
    assert seam.ease_mm[1] == 6.0
    type_into(panel.form.low, "9 mm")
    assert "at most" in panel.form.low.complaint.text()


# -- walking


def skirt_side(session: Session) -> str:
    return next(name for name in seam_ids(session) if name == "front skirt side + back skirt side")


def test_a_seam_is_walked_with_slider_keys_and_mouse(qtbot: QtBot, window: Window, session: Session) -> None:
    walk = window.furnishing.walk
    walk.begin(skirt_side(session))
    assert window.table.bench.tool.name == "walk"
    walk.slider.setValue(400)
    assert walk.stand.walked_mm == 100.0
    QTest.keyClick(window.table, Qt.Key.Key_Right)
    assert walk.slider.value() == 420
    hand = TableHand(window.table, "front skirt")
    hand.drag(on_edge(session, "front skirt", "side", 0.2), on_edge(session, "front skirt", "side", 0.5))
    half = session.pattern.piece("front skirt").edge("side").length_mm / 2
    assert walk.stand.walked_mm == pytest.approx(half, abs=1.5)


def test_a_fix_from_the_table_of_differences_is_a_recorded_step(qtbot: QtBot, window: Window, session: Session) -> None:
    from geometry.alterations.notch_steps import MoveNotch

    notch = session.pattern.piece("back skirt").notches[0]
    session.add_step(MoveNotch("back skirt", notch.id, 7.0))
    walk = window.furnishing.walk
    walk.begin(skirt_side(session))
    walk.table.setCurrentItem(walk.table.topLevelItem(0))
    button = walk.fixes.itemAt(1).widget()
    assert button.text() == "Move the notch of the back skirt"
    qtbot.mouseClick(button, LEFT)
    assert isinstance(session.records[-1].step, MatchNotch)
    assert walk.table.topLevelItem(0).text(3) == "±0"


def test_the_table_of_differences_is_printed(qtbot: QtBot, window: Window, session: Session, tmp_path: Path) -> None:
    walk = window.furnishing.walk
    walk.begin(skirt_side(session))
    qtbot.mouseClick(walk.print, LEFT)
    path = tmp_path / "seam.pdf"
    name_file(qtbot, window, path)
    qtbot.waitUntil(lambda: path.exists() and path.stat().st_size > 0)
    with pypdfium2.PdfDocument(path) as pdf:
        words = pdf[0].get_textpage().get_text_range()
    assert "front skirt side" in words
    assert "whole seam" in words
    assert walk.table.topLevelItem(0).text(1) in words


# -- what is picked out


def test_an_edge_is_renamed_and_gets_another_role_and_undo_takes_both_back(window: Window, session: Session) -> None:
    click(window, "front skirt", "side", share=0.6)
    sheet = window.furnishing.inspector.edge
    assert window.furnishing.details.shown == "Picked out"
    sheet.name.setFocus()
    sheet.name.selectAll()
    QTest.keyClicks(sheet.name, "side seam")
    QTest.keyClick(sheet.name, Qt.Key.Key_Return)
    assert session.selection.edge == "side seam"
    assert session.pattern.piece("front skirt").edge("side seam").role is EdgeRole.SIDE
    sheet.role.setCurrentText("other")
    sheet.role.activated.emit(sheet.role.currentIndex())
    assert session.pattern.piece("front skirt").edge("side seam").role is EdgeRole.OTHER
    session.undo()
    session.undo()
    assert session.pattern.piece("front skirt").edge("side").role is EdgeRole.SIDE


def test_the_allowance_is_typed_and_typed_again_as_one_step(window: Window, session: Session) -> None:
    click(window, "front skirt", "side", share=0.6)
    field = window.furnishing.inspector.edge.allowance
    type_into(field, "2 cm")
    type_into(field, "2.5 cm")
    assert [record.step for record in session.records] == [SetAllowance("front skirt", "side", 25.0)]
    assert session.selection.edge == "side"


def test_the_cutting_line_is_pulled_with_the_mouse(window: Window, session: Session) -> None:
    window.table.show_piece("front skirt")
    click(window, "front skirt", "hem", share=0.3)
    edge = session.pattern.piece("front skirt").edge("hem")
    x, y = edge.point_at(edge.length_mm / 2)
    low = y - edge.allowance_mm
    hand = TableHand(window.table, "front skirt")
    hand.drag((x, low), (x, low - 12.0), (x, low - 25.0))
    (record,) = session.records
    assert record.step == SetAllowance("front skirt", "hem", pytest.approx(edge.allowance_mm + 25.0, abs=1.0))


def test_a_dart_is_changed_in_the_panel_and_each_change_is_a_step(window: Window, session: Session) -> None:
    window.table.show_piece("front skirt")
    piece = session.pattern.piece("front skirt")
    dart = piece.darts[0]
    TableHand(window.table, "front skirt").click((dart.tip[0], dart.tip[1] + 30.0))
    assert session.selection.dart == dart.id
    sheet = window.furnishing.inspector.dart
    type_into(sheet.intake, "3.5 cm")
    type_into(sheet.length, "11 cm")
    other = 1 - sheet.pressed.currentIndex()
    sheet.pressed.setCurrentIndex(other)
    sheet.pressed.activated.emit(other)
    assert sheet.trouble.text() == ""
    kinds = [type(record.step) for record in session.records]
    assert kinds == [WidenDart, LengthenDart, PressDart]
    after = session.pattern.piece("front skirt")
    changed = after.dart(dart.id)
    assert after.intake_mm(changed) == pytest.approx(35.0, abs=0.01)
    assert changed.pressed is not dart.pressed


def test_a_form_opened_from_an_edge_knows_the_edge(qtbot: QtBot, window: Window, session: Session) -> None:
    click(window, "front bodice", "armhole", share=0.6)
    button = window.furnishing.inspector.edge.buttons.itemAt(1).widget()
    assert button.text() == "Blend…"
    qtbot.mouseClick(button, LEFT)
    assert window.form.fields.place.edge.currentText() == "armhole"
    assert session.preview is not None
    qtbot.mouseClick(window.form.add, LEFT)
    assert isinstance(session.records[-1].step, BlendEdge)


def test_a_dart_is_drawn_with_the_mouse_and_typed(window: Window, session: Session) -> None:
    QTest.keyClick(window, Qt.Key.Key_D)
    window.table.show_piece("front skirt")
    start = on_edge(session, "front skirt", "waist", 0.2)
    hand = TableHand(window.table, "front skirt")
    hand.drag(start, (start[0], start[1] - 40.0), (start[0], start[1] - 90.0))
    hand.type("15mm")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    (record,) = session.records
    assert isinstance(record.step, MakeDart)
    assert record.step.amount_mm == 15.0


def test_allowances_of_the_whole_pattern_are_stated_in_one_go(qtbot: QtBot, window: Window, session: Session) -> None:
    window.furnishing.actions.by_id["allowances"].trigger()
    dialog = window.dialog
    assert isinstance(dialog, AllowancesDialog)
    type_into(dialog.seam, "1 cm", end=Qt.Key.Key_Tab)
    type_into(dialog.hem, "5 cm", end=Qt.Key.Key_Tab)
    qtbot.mouseClick(dialog.buttons.button(QDialogButtonBox.StandardButton.Ok), LEFT)
    for pattern in session.project.base.nest.patterns:
        skirt = pattern.piece("front skirt")
        widths = {edge.id: edge.allowance_mm for edge in skirt.edges}
        assert widths == {"waist": 10.0, "side": 10.0, "hem": 50.0, "centre front": widths["centre front"]}
    assert session.records == ()
    session.undo()
    assert session.project.base.nest.sample.piece("front skirt").edge("hem").allowance_mm != 50.0


# -- before cutting


def test_one_click_puts_a_finding_right(qtbot: QtBot, window: Window, session: Session) -> None:
    from geometry.alterations.notch_steps import MoveNotch

    notch = session.pattern.piece("back skirt").notches[0]
    session.add_step(MoveNotch("back skirt", notch.id, 7.0))
    rows = window.furnishing.findings.list

    def found() -> list[int]:
        fixable = [at for at in range(rows.count()) if rows.item(at).data(FIX_WORDS)]
        return [at for at in fixable if "notch" in rows.item(at).data(FINDING).code]

    qtbot.waitUntil(lambda: bool(found()))
    row = found()[0]
    code = rows.item(row).data(FINDING).code
    rows.scrollToItem(rows.item(row))
    rect = rows.visualItemRect(rows.item(row))
    place = button_of(rect, rows.fontMetrics()).center()
    qtbot.mouseClick(rows.viewport(), LEFT, pos=QPoint(place))
    assert len(session.records) == 2
    assert code not in {finding.code for finding in session.findings}


def test_lengths_in_findings_follow_the_unit(qtbot: QtBot, window: Window, session: Session) -> None:
    from geometry.alterations.notch_steps import MoveNotch
    from geometry.units import Unit

    session.add_step(MoveNotch("back skirt", session.pattern.piece("back skirt").notches[0].id, 7.0))
    rows = window.furnishing.findings.list
    qtbot.waitUntil(lambda: any(" cm" in rows.item(at).text() for at in range(rows.count())))
    session.set_unit(Unit.INCH)
    texts = [rows.item(at).text() for at in range(rows.count())]
    assert any('/16"' in text or '/4"' in text or '/8"' in text for text in texts)
    assert not any(" mm" in text for text in texts)


def test_a_limit_is_changed_for_the_project_and_undone(qtbot: QtBot, window: Window, session: Session) -> None:
    window.furnishing.actions.by_id["limits"].trigger()
    dialog = window.dialog
    assert isinstance(dialog, LimitsDialog)
    stop, warn = dialog.fields["seam_stop_mm"][0], dialog.fields["seam_warn_mm"][0]
    type_into(stop, "5 mm", end=Qt.Key.Key_Tab)
    type_into(warn, "9 mm")
    assert "seam_warn_mm" in dialog.trouble.text()
    type_into(warn, "4 mm")
    assert (session.project.limits.seam_warn_mm, session.project.limits.seam_stop_mm) == (4.0, 5.0)
    session.undo()
    assert session.project.limits.seam_stop_mm != 5.0


def test_the_other_sizes_are_laid_over_the_pieces(window: Window, session: Session) -> None:
    before = window.table.grab().toImage()
    window.furnishing.actions.by_id["sizes"].trigger()
    assert window.table.shows_sizes
    assert window.table.grab().toImage() != before
