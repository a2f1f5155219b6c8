"""A raw trace in the window: suggestions shown, taken or declined by mouse and keys, nothing begun before."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtWidgets import QTreeWidgetItem
from pytestqt.qtbot import QtBot

import samples
from editor.commands.file import open_path
from editor.dialogs.clean_up import CleanUpDialog
from editor.dialogs.outline_page import OutlineDialog
from editor.dialogs.units import UnitsDialog
from editor.formats.clean_up import Kind, Suggestion
from editor.formats.dxf_writer import write_drawing
from editor.formats.import_pattern import import_pattern
from editor.window import Window
from geometry.curves import polyline
from geometry.units import Unit
from tests.editor.sketched import loose, path, segments

pytestmark = pytest.mark.gui

LEFT = Qt.MouseButton.LeftButton
TRACE = Path(samples.__file__).parent / "dress-trace.dxf"


@pytest.fixture
def page(empty_window: Window) -> CleanUpDialog:
    open_path(empty_window, TRACE)
    assert isinstance(empty_window.dialog, UnitsDialog)
    empty_window.dialog.units[Unit.INCH].click()
    empty_window.dialog.accept()
    assert isinstance(empty_window.dialog, CleanUpDialog)
    return empty_window.dialog


def row_of(page: CleanUpDialog, suggestion: Suggestion) -> QTreeWidgetItem:
    page.rows.go_to(suggestion.key)
    item = page.rows.currentItem()
    assert item is not None
    return item


def first(page: CleanUpDialog, kind: Kind) -> Suggestion:
    return next(each for each in page.found.suggestions if each.kind is kind)


def pixel(page: CleanUpDialog, place: tuple[float, float]) -> QPoint:
    return QPointF(*page.view._seen(np.array(place))[0]).toPoint()


def test_enter_takes_all_that_is_ticked_and_gives_what_an_import_gives(
    qtbot: QtBot, page: CleanUpDialog, empty_window: Window
) -> None:
    assert empty_window.session.project is None
    qtbot.keyClick(page.rows, Qt.Key.Key_Return)
    assert isinstance(empty_window.dialog, OutlineDialog)
    empty_window.dialog.box.stitching.click()
    qtbot.keyClick(empty_window.dialog, Qt.Key.Key_Return)
    project, plain = empty_window.session.project, import_pattern(TRACE, unit=Unit.INCH)
    assert project is not None
    for mine, theirs in zip(project.base.nest.sample.pieces, plain.nest.sample.pieces, strict=True):
        assert [edge.id for edge in mine.edges] == [edge.id for edge in theirs.edges]
        np.testing.assert_array_equal(mine.outline, theirs.outline)
    assert project.base.source_bytes == TRACE.read_bytes()
    assert empty_window.dialog is None


def test_every_suggestion_has_a_row_with_its_box_ticked(page: CleanUpDialog) -> None:
    for suggestion in page.found.suggestions:
        assert row_of(page, suggestion).checkState(0) is Qt.CheckState.Checked


def test_the_space_bar_declines_a_side_which_then_stays_as_traced_until_undone(
    qtbot: QtBot, page: CleanUpDialog
) -> None:
    side = first(page, Kind.SIDE)
    row_of(page, side)
    qtbot.keyClick(page.rows, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: page.undo.isEnabled())
    edge = page.found.nest.sample.piece(side.piece).edge("waist")
    assert tuple(side.drawn[0][5].tolist()) in {tuple(row) for row in edge.points.tolist()}
    qtbot.keyClick(page, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert len(page.found.nest.sample.piece(side.piece).edge("waist").points) < len(edge.points)
    assert not page.clean_up.declined


def test_a_double_click_on_a_mark_declines_it_and_draws_it_so(qtbot: QtBot, page: CleanUpDialog) -> None:
    corner = first(page, Kind.CORNER)
    at = pixel(page, corner.at)
    qtbot.mouseClick(page.view, LEFT, pos=at)
    assert page.rows.currentItem().text(0).endswith(corner.text)
    qtbot.mouseDClick(page.view, LEFT, pos=pixel(page, corner.at))
    assert page.clean_up.declined == {corner.key}


def test_an_edge_is_named_by_clicking_it_and_typing(qtbot: QtBot, page: CleanUpDialog, empty_window: Window) -> None:
    piece = page.found.nest.sample.piece("sleeve")
    edge = piece.edge("hem")
    place = edge.point_at(edge.length_mm * 0.3)
    qtbot.mouseClick(page.view, LEFT, pos=pixel(page, place))
    line = page.name.lineEdit()
    assert line is not None
    assert line.text() == "hem"
    line.selectAll()
    qtbot.keyClicks(line, "Wrist")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert "wrist" in [each.id for each in page.found.nest.sample.piece("sleeve").edges]
    assert empty_window.dialog is page


def test_a_corner_can_be_set_where_an_edge_was_clicked(qtbot: QtBot, page: CleanUpDialog) -> None:
    piece = page.found.nest.sample.piece("sleeve")
    place = piece.edge("hem").point_at(80.0)
    qtbot.mouseClick(page.view, LEFT, pos=pixel(page, place))
    qtbot.mouseClick(page.corner, LEFT)
    edges = page.found.nest.sample.piece("sleeve").edges
    assert len(edges) == len(piece.edges) + 1
    nearest = min(polyline.nearest(edge.points, place)[0] for edge in edges)
    assert nearest < 3.0


def test_the_tolerance_is_typed_and_bounds_what_is_moved(qtbot: QtBot, page: CleanUpDialog) -> None:
    page.within.setFocus()
    page.within.selectAll()
    qtbot.keyClicks(page.within, "0.1 mm")
    qtbot.keyClick(page.within, Qt.Key.Key_Return)
    assert page.clean_up.within_mm == pytest.approx(0.1)
    assert max(each.moved_mm or 0.0 for each in page.found.suggestions if each.kind is Kind.SIDE) <= 0.1
    page.within.selectAll()
    qtbot.keyClicks(page.within, "9 mm")
    page.within.take()
    assert "Between" in page.within.complaint.text()
    assert page.clean_up.within_mm == pytest.approx(0.1)


def test_leave_as_traced_moves_nothing_and_take_all_takes_it_again(qtbot: QtBot, page: CleanUpDialog) -> None:
    qtbot.mouseClick(page.none, LEFT)
    for suggestion in page.found.suggestions:
        assert page.clean_up.takes(suggestion) == (suggestion.moved_mm is None)
    assert "trace-cleaned" not in {finding.code for finding in page.found.findings}
    qtbot.mouseClick(page.all, LEFT)
    assert all(page.clean_up.takes(each) for each in page.found.suggestions)


def test_back_leads_to_the_lengths_and_begins_nothing(qtbot: QtBot, page: CleanUpDialog, empty_window: Window) -> None:
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert isinstance(empty_window.dialog, UnitsDialog)
    assert empty_window.session.project is None


def test_single_edges_get_their_own_allowance_and_both_lines_are_drawn(
    qtbot: QtBot, page: CleanUpDialog, empty_window: Window
) -> None:
    page.accept()
    outline = empty_window.dialog
    assert isinstance(outline, OutlineDialog)
    outline.box.cutting.click()
    outline._picked("front bodice", "side")
    item = outline.rows.currentItem()
    assert item is not None
    item.setText(1, "25 mm")
    assert outline.only_line.edges_mm == {("front bodice", "side"): 25.0}
    item.setText(1, "wide")
    assert "wide" in outline.trouble.text()
    outline.accept()
    pattern = empty_window.session.pattern
    assert pattern.piece("front bodice").edge("side").allowance_mm == 25.0
    assert pattern.piece("front bodice").edge("armhole").allowance_mm == 15.0
    assert pattern.piece("front bodice").edge("centre front").allowance_mm == 0.0


def test_a_drawing_that_is_no_trace_shows_its_darts_and_notches_but_nothing_to_smooth(
    empty_window: Window, tmp_path: Path
) -> None:
    drawn = [*segments([(0, 0), (300, 0), (300, 400), (0, 400)]), path([(90, 400), (100, 300), (110, 400)])]
    drawn.append(path([(300, 200), (294, 200)]))
    write_drawing(loose(*drawn), tmp_path / "plain.dxf", unit="mm")
    open_path(empty_window, tmp_path / "plain.dxf")
    units = empty_window.dialog
    assert isinstance(units, UnitsDialog)
    units.units[Unit.MM].click()
    units.accept()
    shown = empty_window.dialog
    assert isinstance(shown, CleanUpDialog)
    assert sorted(each.kind for each in shown.found.suggestions) == [Kind.DART, Kind.NOTCH]
    assert shown.none.isHidden()
    assert "drawing" in shown.windowTitle()
