"""Panning, zooming, selecting and moving sheets with mouse and keys."""

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from editor.canvas.painter import Painter
from editor.canvas.palette import DAYLIGHT, LAMPLIGHT, Palette
from editor.canvas.piece_paths import polygon, roomiest
from editor.canvas.table import Table
from editor.canvas.viewport import is_seen
from editor.window import Window
from geometry.affine import frozen_points
from geometry.alterations.handbook.alteration import Alteration
from samples import draft_trousers
from tests.gui.table_hand import TableHand

pytestmark = pytest.mark.gui

INSIDE = (150.0, -350.0)
"""A place of the front skirt away from its edges and marks."""


@pytest.fixture
def table(window: Window, qtbot: QtBot) -> Table:
    window.session.show("1")
    window.table.setFocus()
    qtbot.waitUntil(window.table.hasFocus)
    return window.table


@pytest.fixture
def hand(table: Table) -> TableHand:
    return TableHand(table, "front skirt")


def test_everything_is_in_view_when_a_project_is_opened(table: Table) -> None:
    for sheet in table.bench.sheets.scene:
        x0, y0, x1, y1 = sheet.box
        for corner in ((x0, y0), (x1, y1)):
            x, y = table.viewport.to_px(corner)
            assert 0 <= x <= table.width()
            assert 0 <= y <= table.height()


def test_the_wheel_zooms_about_the_pointer(table: Table, hand: TableHand) -> None:
    at = hand.pixel((130.0, -120.0))
    before, scale = table.viewport.to_mm((at.x(), at.y())), table.viewport.px_per_mm
    hand.wheel((130.0, -120.0), 3)
    assert table.viewport.px_per_mm > scale
    assert table.viewport.to_mm((at.x(), at.y())) == pytest.approx(before)


def test_the_middle_button_pans(table: Table, hand: TableHand) -> None:
    start = hand.pixel(INSIDE)
    left, top = table.viewport.left_px, table.viewport.top_px
    QTest.mousePress(table, Qt.MouseButton.MiddleButton, pos=start)
    QTest.mouseMove(table, start + QPoint(31, -17))
    QTest.mouseRelease(table, Qt.MouseButton.MiddleButton, pos=start + QPoint(31, -17))
    assert (table.viewport.left_px, table.viewport.top_px) == (left + 31, top - 17)


def test_keys_zoom_pan_and_fit(table: Table, hand: TableHand) -> None:
    table.fit_all()
    fitted = table.viewport
    hand.key(Qt.Key.Key_Plus, Qt.Key.Key_Right)
    assert table.viewport.px_per_mm > fitted.px_per_mm
    hand.key(Qt.Key.Key_Minus)
    assert table.viewport.px_per_mm == pytest.approx(fitted.px_per_mm)
    hand.key(Qt.Key.Key_0)
    assert table.viewport == fitted


def test_a_fitted_view_stays_fitted_when_the_window_changes(table: Table, window: Window) -> None:
    window.resize(1000, 700)
    QApplication.processEvents()
    before = table.viewport
    table.fit_all()
    assert table.viewport == before


def test_the_picture_after_panning_is_the_one_drawn_from_scratch(table: Table) -> None:
    table.repaint()
    for dx, dy in ((13, 5), (-40, 22), (7, -60)):
        table.pan(dx, dy)
        table.repaint()
    scrolled = pixels(table)
    table._picture.sharpen()
    table.repaint()
    differs = np.abs(scrolled.astype(int) - pixels(table)).max(axis=2) > 12
    assert differs.mean() < 0.001


def test_a_click_selects_and_a_click_beside_unselects(table: Table, hand: TableHand, window: Window) -> None:
    hand.click(INSIDE)
    assert window.session.selection.piece == "front skirt"
    hand.click((-30.0, -300.0))
    assert window.session.selection.piece == ""


def test_tab_goes_through_the_pieces_and_then_on(table: Table, hand: TableHand, window: Window) -> None:
    names = [piece.name for piece in window.session.pattern.pieces] if window.session.pattern else []
    seen = []
    for _ in names:
        hand.key(Qt.Key.Key_Tab)
        seen.append(window.session.selection.piece)
    assert seen == names
    assert table.hasFocus()
    hand.key(Qt.Key.Key_Tab)
    assert not table.hasFocus()


def test_dragging_a_sheet_moves_it_on_the_table_and_not_in_the_project(
    table: Table, hand: TableHand, window: Window
) -> None:
    project, was = window.session.project, table.bench.sheets.scene.sheets["front skirt"].at
    start = hand.pixel(INSIDE)
    QTest.mousePress(table, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(table, start + QPoint(30, 10))
    QTest.mouseRelease(table, Qt.MouseButton.LeftButton, pos=start + QPoint(30, 10))
    at = table.bench.sheets.scene.sheets["front skirt"].at
    scale = table.viewport.px_per_mm
    assert at == pytest.approx((was[0] + 30 / scale, was[1] - 10 / scale))
    assert window.session.project is project


def test_while_a_sheet_is_moved_only_it_is_drawn_anew(
    table: Table, hand: TableHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    start = hand.pixel(INSIDE)
    QTest.mousePress(table, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(table, start + QPoint(10, 10))
    table.repaint()
    drawn: list[str] = []
    original = Painter.sheet

    def watched(self, painter, lying, viewport):  # type: ignore[no-untyped-def]
        drawn.append(lying.paths.piece.name)
        original(self, painter, lying, viewport)

    monkeypatch.setattr(Painter, "sheet", watched)
    QTest.mouseMove(table, start + QPoint(30, 10))
    table.repaint()
    QTest.mouseRelease(table, Qt.MouseButton.LeftButton, pos=start + QPoint(30, 10))
    assert set(drawn) == {"front skirt"}


def test_escape_puts_a_dragged_sheet_back(table: Table, hand: TableHand) -> None:
    was = table.bench.sheets.scene.sheets["front skirt"].at
    start = hand.pixel(INSIDE)
    QTest.mousePress(table, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(table, start + QPoint(30, 10))
    hand.key(Qt.Key.Key_Escape)
    QTest.mouseMove(table, start + QPoint(60, 10))
    QTest.mouseRelease(table, Qt.MouseButton.LeftButton, pos=start + QPoint(60, 10))
    assert table.bench.sheets.scene.sheets["front skirt"].at == was


def test_sheets_stay_where_they_lie_when_a_piece_is_altered(table: Table, window: Window) -> None:
    from tests.gui.choir import slash

    was = {sheet.name: sheet.at for sheet in table.bench.sheets.scene}
    window.session.add_step(slash())
    assert {sheet.name: sheet.at for sheet in table.bench.sheets.scene} == was


def test_a_recorded_cut_can_be_clicked(table: Table, window: Window) -> None:
    window.session.show("2")
    cut = next(cut for cut in table.bench.sheets.scene.cuts if cut.piece == "front skirt")
    middle = cut.points.mean(axis=0)
    TableHand(table, "front skirt").click((float(middle[0]), float(middle[1])))
    assert window.session.selection.record == cut.record


def test_show_place_centres_the_place_and_rings_it_for_a_moment(table: Table, qtbot: QtBot) -> None:
    table.show_place("sleeve", (10.0, 20.0))
    at = table.bench.sheets.scene.sheets["sleeve"].to_table((10.0, 20.0))
    assert table.viewport.to_px(at) == pytest.approx((table.width() / 2, table.height() / 2))
    ringed = pixels(table)
    qtbot.waitUntil(lambda: not table._fade.isActive(), timeout=4000)
    assert (ringed != pixels(table)).any()


@pytest.mark.parametrize(("window_colour", "palette"), [("#f0ece0", DAYLIGHT), ("#201d1a", LAMPLIGHT)])
def test_light_and_dark_follow_the_window(table: Table, hand: TableHand, window_colour: str, palette: Palette) -> None:
    colours = QPalette(table.palette())
    colours.setColor(QPalette.ColorRole.Window, QColor(window_colour))
    table.setPalette(colours)
    image = table.grab().toImage()
    at = hand.pixel(INSIDE) * image.devicePixelRatio()
    assert alike(image.pixelColor(at), palette.paper)
    assert any(
        alike(image.pixelColor(QPoint(3, 3)), colour) for colour in (palette.table, palette.ruling, palette.fine_ruling)
    )


def test_points_reach_qt_unchanged() -> None:
    points = frozen_points([(0.1, -2.0), (3e6, 4.25), (1 / 3, 5.0)])
    assert [(point.x(), point.y()) for point in polygon(points)] == [tuple(row) for row in points.tolist()]


def alike(seen: QColor, colour: str) -> bool:
    """Screens of 16 bits round a channel to 32 steps."""
    channels = zip(seen.getRgb(), QColor(colour).getRgb(), strict=True)
    return all(abs(a - b) <= 8 for a, b in channels)  # type: ignore[operator]


def pixels(table: Table) -> np.ndarray:
    image = table.grab().toImage().convertToFormat(table.grab().toImage().Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : image.width() * 3].reshape(image.height(), image.width(), 3).copy()


def test_pieces_taken_in_hand_come_into_view_unless_they_are_seen(window: Window) -> None:
    table = window.table
    record = window.session.add_step(Alteration("D01", 12.7, "waist dart"))

    def seen() -> bool:
        box = table.bench.sheets.box(("front bodice",))
        return is_seen(box, table.viewport, table.width(), table.height())

    table.show_piece("sleeve")
    assert not seen()
    window.show_handbook(record=record)
    assert seen()
    window.form.leave()
    table.zoom(1.1, (table.width() / 2, table.height() / 2))
    kept = table.viewport
    window.show_handbook("D01")
    assert table.viewport == kept


def test_the_label_of_a_band_lies_near_its_middle() -> None:
    band = draft_trousers.draft_pattern("10").piece("waistband")
    (x, _), _ = roomiest(band)
    low, high = band.outline[:, 0].min(), band.outline[:, 0].max()
    assert abs(x - (low + high) / 2) < (high - low) / 4
