"""Body points and levels beside the table: listed by piece, picked, moved by keys and mouse."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from editor.panels.landmarks import LandmarksPanel
from editor.window import Window
from geometry.affine import distance_mm
from geometry.alterations.handbook.alteration import Alteration
from tests.gui.table_hand import TableHand

pytestmark = pytest.mark.gui


@pytest.fixture
def marks(qtbot: QtBot, window: Window) -> LandmarksPanel:
    window.table.setFocus()
    qtbot.keyClick(window.table, Qt.Key.Key_L)
    return window.furnishing.landmarks


def rows(marks: LandmarksPanel) -> dict[tuple[str, str], str]:
    groups = [marks.list.topLevelItem(at) for at in range(marks.list.topLevelItemCount())]
    return {
        (group.text(0), group.child(at).text(0)): group.child(at).text(1)
        for group in groups
        for at in range(group.childCount())
    }


def test_the_tool_turns_to_its_page_that_lists_what_every_piece_tells(window: Window, marks: LandmarksPanel) -> None:
    assert window.furnishing.details.shown == "Marks"
    assert marks.isVisible()
    found = rows(marks)
    assert found["front bodice", "bust point"] == "found: what is aimed at by side dart"
    assert {piece for piece, _ in found} == {piece.name for piece in window.session.pattern.pieces}
    assert ("front skirt", "bust point") not in found


def test_one_picked_in_the_list_is_moved_by_the_arrow_keys_as_one_step_to_undo(
    qtbot: QtBot, window: Window, marks: LandmarksPanel
) -> None:
    item = marks._item_of(("front bodice", "bust point"))
    marks.list.setCurrentItem(item)
    marks.list.itemActivated.emit(item, 0)
    assert window.table.hasFocus()
    before = window.session.records
    hand = TableHand(window.table, "front bodice")
    hand.key(Qt.Key.Key_Up, Qt.Key.Key_Up, Qt.Key.Key_Left)
    step = window.session.records[-1].step
    assert len(window.session.records) == len(before) + 1
    assert (step.kind, step.landmark) == ("place-landmark", "bust point")
    assert distance_mm((step.at.x, step.at.y), (104.0, 164.5)) < 0.001
    assert rows(marks)["front bodice", "bust point"] == "marked"


def test_a_mark_dragged_on_the_table_is_what_the_handbook_goes_by(window: Window, marks: LandmarksPanel) -> None:
    hand = TableHand(window.table, "front bodice")
    hand.drag((105.0, 162.5), (95.0, 175.0), (85.0, 190.0))
    at = window.session.pattern.piece("front bodice").landmark("bust point")
    assert distance_mm(at, (85.0, 190.0)) < 3.0
    layout = Alteration("D01", 12.7).laid_out(window.session.pattern)
    assert next(each.at for each in layout.handles if each.place.name == "bust point") == pytest.approx(at)


def test_another_page_puts_the_tool_away(window: Window, marks: LandmarksPanel) -> None:
    window.furnishing.details.turn_to("Lengths")
    assert window.table.bench.tool.name == "select"
