"""Slashing with mouse and keys on a real table."""

import math
from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from editor.session import Session
from editor.tools.slash_states import Opening
from editor.window import Window
from geometry.alterations.anchors import on_edge, resolve
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from tests.gui.table_hand import TableHand

pytestmark = pytest.mark.gui

FOLD, SIDE = (0.0, -250.0), (220.0 + 40.0 * 250.0 / 600.0, -250.0)
"""Across the front skirt, 25 cm down; snapped onto its fold and its side."""


@pytest.fixture
def session(window: Window) -> Session:
    window.session.show("1")
    return window.session


@pytest.fixture
def hand(window: Window, session: Session, qtbot: QtBot) -> TableHand:
    window.table.set_tool("slash")
    window.table.setFocus()
    window.table.show_piece("front skirt")
    qtbot.waitUntil(window.table.hasFocus)
    return TableHand(window.table, "front skirt")


def opening(hand: TableHand) -> Opening:
    state = hand.table.bench.tool.state  # type: ignore[attr-defined]
    assert isinstance(state, Opening)
    return state


def drawn(hand: TableHand) -> TableHand:
    hand.drag(FOLD, (100.0, -250.0), (200.0, -250.0), SIDE)
    return hand


def test_draw_hinge_drag_and_enter_put_the_slash_in_the_journal(hand: TableHand, session: Session) -> None:
    drawn(hand)
    fold_end, side_end = opening(hand).line.ends
    hand.click(side_end)
    assert opening(hand).hinge is Hinge.END
    hand.drag((100.0, -400.0), (100.0, -410.0), (100.0, -420.0))
    shown = hand.table.bench.preview.piece
    assert session.records == ()
    hand.key(Qt.Key.Key_Return)
    (record,) = session.records
    assert isinstance(record.step, Slash)
    assert record.step.cuts[0].hinge is Hinge.END
    assert record.step.amount_mm > 0
    assert session.pattern is not None
    assert session.pattern.piece("front skirt") == shown
    grown = session.pattern.piece("front skirt").edge("centre front").length_mm
    was = session.base.piece("front skirt").edge("centre front").length_mm if session.base else 0.0
    assert 0.9 < (grown - was) / record.step.amount_mm <= 1.0  # the fold is straightened, which takes a little
    assert math.dist(fold_end, side_end) > 200


def test_the_piece_changes_while_the_side_is_dragged(hand: TableHand) -> None:
    drawn(hand)
    hand.press((100.0, -400.0))
    areas = []
    for y in (-410.0, -420.0, -430.0):
        hand.move((100.0, y))
        piece = hand.table.bench.preview.piece
        assert piece is not None
        areas.append(piece.area_mm2)
    hand.release((100.0, -430.0))
    assert areas == sorted(areas)
    assert areas[0] < areas[-1]


@pytest.mark.parametrize(
    ("typed", "amount_mm"), [("5/8", 15.875), ('1 1/2"', 38.1), ("12.7mm", 12.7), ("1,5 cm", 15.0), ("-1", -10.0)]
)
def test_a_typed_amount_and_enter_do_the_slash(hand: TableHand, session: Session, typed: str, amount_mm: float) -> None:
    drawn(hand)
    hand.type(typed)
    assert opening(hand).opening_mm == pytest.approx(amount_mm)
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    (record,) = session.records
    assert record.step.amount_mm == pytest.approx(amount_mm)


def test_what_is_no_length_is_marked_and_enter_waits(hand: TableHand, session: Session, qtbot: QtBot) -> None:
    drawn(hand)
    with qtbot.waitSignal(hand.table.hint_changed, check_params_cb=lambda words: '"1x" is not a length' in words):
        hand.type("1x")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    assert session.records == ()
    assert QApplication.focusWidget().property("wrong") is True


def test_escape_closes_the_field_and_a_second_one_drops_the_slash(hand: TableHand, session: Session) -> None:
    drawn(hand)
    hand.key(Qt.Key.Key_Up)
    hand.type("25")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    assert opening(hand).opening_mm == 1.0
    hand.key(Qt.Key.Key_Escape)
    assert not hand.table.bench.tool.is_busy
    assert session.records == ()


def test_escape_in_mid_drag_leaves_everything_as_it_was(hand: TableHand, session: Session) -> None:
    project, pattern, view = session.project, session.pattern, hand.table.viewport
    drawn(hand)
    hand.press((100.0, -400.0))
    hand.move((100.0, -450.0))
    hand.key(Qt.Key.Key_Escape)
    hand.move((100.0, -490.0))
    hand.release((100.0, -490.0))
    assert session.project is project
    assert session.pattern is pattern
    assert hand.table.viewport == view
    assert not hand.table.bench.tool.is_busy
    assert hand.table.bench.preview.piece is None
    assert session.undo_label == ""


def test_undo_drops_what_is_begun_and_keeps_the_last_step(hand: TableHand, session: Session, window: Window) -> None:
    drawn(hand)
    hand.key(Qt.Key.Key_Up, Qt.Key.Key_Return)
    assert len(session.records) == 1
    drawn(hand)
    QTest.keyClick(hand.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert not hand.table.bench.tool.is_busy
    assert len(session.records) == 1
    QTest.keyClick(hand.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert session.records == ()


def test_a_change_from_elsewhere_drops_what_is_begun(hand: TableHand, session: Session) -> None:
    drawn(hand)
    session.show("2")
    assert not hand.table.bench.tool.is_busy


def test_another_tool_drops_what_is_begun(hand: TableHand) -> None:
    drawn(hand)
    hand.table.set_tool("select")
    hand.table.set_tool("slash")
    assert not hand.table.bench.tool.is_busy


def test_when_the_keyboard_goes_elsewhere_what_is_begun_is_dropped(hand: TableHand, window: Window) -> None:
    drawn(hand)
    window.furnishing.pieces.list.setFocus()
    assert not hand.table.bench.tool.is_busy


def test_s_changes_the_side_of_an_open_slash_and_not_the_tool(hand: TableHand, window: Window) -> None:
    drawn(hand)
    before = opening(hand).moving
    hand.key(Qt.Key.Key_S)
    assert opening(hand).moving is not before
    assert {before, opening(hand).moving} == {Side.LEFT, Side.RIGHT}


def test_space_and_drag_pans_without_touching_the_slash(hand: TableHand) -> None:
    drawn(hand)
    state, left_px = opening(hand), hand.table.viewport.left_px
    QTest.keyPress(hand.table, Qt.Key.Key_Space)
    start = hand.pixel((100.0, -400.0))
    QTest.mousePress(hand.table, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(hand.table, start + type(start)(40, 0))
    QTest.mouseRelease(hand.table, Qt.MouseButton.LeftButton, pos=start + type(start)(40, 0))
    QTest.keyRelease(hand.table, Qt.Key.Key_Space)
    assert opening(hand) == state
    assert hand.table.viewport.left_px == left_px + 40


def test_only_the_dragged_piece_is_drawn_anew(hand: TableHand, monkeypatch: pytest.MonkeyPatch) -> None:
    from editor.canvas.painter import Painter

    drawn(hand)
    hand.press((100.0, -400.0))
    hand.move((100.0, -410.0))
    hand.table.repaint()
    drawn_pieces: list[str] = []
    original = Painter.sheet

    def watched(self, painter, lying, viewport):  # type: ignore[no-untyped-def]
        drawn_pieces.append(lying.paths.piece.name)
        original(self, painter, lying, viewport)

    monkeypatch.setattr(Painter, "sheet", watched)
    hand.move((100.0, -420.0))
    hand.table.repaint()
    hand.release((100.0, -420.0))
    assert set(drawn_pieces) == {"front skirt"}


def test_a_recorded_slash_is_opened_again_and_its_amount_changed_in_place(
    hand: TableHand, session: Session, window: Window
) -> None:
    drawn(hand)
    hand.type("2")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    hand.table.set_tool("select")
    session.select(record=session.records[0].id)
    hand.table.setFocus()
    hand.key(Qt.Key.Key_Return)
    assert opening(hand).record == session.records[0].id
    hand.key(Qt.Key.Key_Up, Qt.Key.Key_Return)
    (record,) = session.records
    assert record.step.amount_mm == pytest.approx(21.0)
    assert not hand.table.bench.tool.is_busy


def test_of_a_recorded_slash_with_two_openings_the_second_is_changed_alone_and_undone_at_once(
    hand: TableHand, session: Session
) -> None:
    cuts = tuple(
        SlashCut((on_edge("centre front", share), on_edge("side", 1.0 - share)), 10.0, Hinge.NONE, Side.LEFT)
        for share in (0.4, 0.7)
    )
    step = Slash("front skirt", cuts)
    record_id = session.add_step(step)
    picked = session.selection
    hand.table.setFocus()
    hand.key(Qt.Key.Key_Return)
    assert opening(hand).record == record_id
    hand.key(Qt.Key.Key_N, Qt.Key.Key_Up)
    shown = hand.table.bench.preview.piece
    hand.key(Qt.Key.Key_Return)
    (record,) = session.records
    assert record.step == replace(step, cuts=(cuts[0], replace(cuts[1], opening_mm=11.0)))
    assert session.pattern is not None
    assert session.pattern.piece("front skirt") == shown
    assert session.selection == picked
    assert not hand.table.bench.tool.is_busy
    session.undo()
    assert session.records[0].step == step


def test_undo_takes_a_step_back_at_once_when_it_is_in_hand_but_unchanged(hand: TableHand, session: Session) -> None:
    drawn(hand)
    hand.key(Qt.Key.Key_Up, Qt.Key.Key_Return, Qt.Key.Key_Return)
    assert opening(hand).record
    QTest.keyClick(hand.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert session.records == ()
    assert not hand.table.bench.tool.is_busy


def test_a_form_shows_where_it_cuts_on_the_table(window: Window) -> None:
    bench = window.table.bench
    window.session.select(piece="front skirt")
    window.show_form("slash")
    (cut,) = bench.tried_cuts
    sheet, fields = bench.sheets.scene.sheets["front skirt"], window.form.fields
    ends = [resolve(sheet.piece, place.anchor(sheet.piece)) for place in (fields.start, fields.end)]
    assert np.allclose(cut[[0, -1]], [sheet.to_table(end) for end in ends])
    window.form.leave()
    assert bench.tried_cuts == ()
