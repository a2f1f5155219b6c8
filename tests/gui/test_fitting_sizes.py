"""The size chart, sizes level by level and their blend, by real keys and clicks."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from editor.dialogs.fitting import FittingDialog
from editor.document.project_file import load_project, save_project
from editor.window import Window
from geometry.fitting.blending import blend
from geometry.fitting.levels import BodyLevel
from geometry.fitting.measures import Measure
from geometry.fitting.size_choice import Bones


def test_a_size_clicked_at_one_level_blends_the_wearers_pattern(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    fitting.turn_to("Sizes")
    session, page = empty_window.session, fitting.page("Sizes")
    before = session.base
    hip = next(each for each in page.findChildren(QPushButton) if each.accessibleName() == "Size 12 at the hip")
    qtbot.mouseClick(hip, Qt.MouseButton.LeftButton)
    assert session.wearer.sizes.at(BodyLevel.HIP) == 4.0
    assert session.base.piece("front skirt").bounds_mm[2] > before.piece("front skirt").bounds_mm[2]
    assert session.base.piece("front bodice").edge("shoulder").length_mm == pytest.approx(
        before.piece("front bodice").edge("shoulder").length_mm
    )


def test_a_pasted_chart_takes_the_place_of_the_old_one(fitting: FittingDialog, empty_window: Window) -> None:
    sizes = "\t".join(empty_window.session.project.base.nest.sizes)
    values = "\t".join(str(90 + 3 * step) for step in range(7))
    fitting.page("Size chart").take_text(f"size\t{sizes}\nbust\t{values}\n")
    chart = empty_window.session.project.chart
    assert chart.body_mm(Measure.BUST, 1.0) == 930.0
    fitting.page("Size chart").take_text("bust\n")
    assert fitting.page("Size chart").trouble.text()
    assert empty_window.session.project.chart is chart


def test_cells_copied_in_a_spreadsheet_are_pasted_with_a_click(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    fitting.turn_to("Size chart")
    sizes = "\t".join(empty_window.session.project.base.nest.sizes)
    QApplication.clipboard().setText(f"Size\t{sizes}\nHips\t" + "\t".join(str(90 + 3 * step) for step in range(7)))
    qtbot.mouseClick(fitting.page("Size chart").paste, Qt.MouseButton.LeftButton)
    assert empty_window.session.project.chart.body_mm(Measure.HIP, 2.0) == 960.0


def test_a_further_row_of_the_chart_is_begun_and_typed(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    fitting.turn_to("Size chart")
    page = fitting.page("Size chart")
    page._begin_row(page.more.findText("neck base girth"))
    assert page.table.item(page.table.currentRow(), 0).text() == "Body: neck base girth"
    page.table.item(page.table.currentRow(), 1).setText("35.5")
    assert empty_window.session.project.chart.body_mm(Measure.NECK, 0.0) == 355.0


def test_the_chart_tells_the_ease_that_each_size_was_drafted_with(fitting: FittingDialog) -> None:
    """The dress is drafted with 5 cm at the hip (samples/size_table.py)."""
    fitting.turn_to("Size chart")
    table = fitting.page("Size chart").table
    rows = {table.item(row, 0).text(): table.item(row, 4).text() for row in range(table.rowCount())}
    assert float(rows["Ease: hip girth"]) == pytest.approx(5.0, abs=0.02)


def test_a_body_typed_into_the_chart_counts_for_that_size(fitting: FittingDialog, empty_window: Window) -> None:
    fitting.turn_to("Size chart")
    page = fitting.page("Size chart")
    row = next(row for row in range(page.table.rowCount()) if page.table.item(row, 0).text() == "Body: upper arm girth")
    page.table.item(row, 2).setText("27,5")
    assert empty_window.session.project.chart.body_mm(Measure.UPPER_ARM, 1.0) == 275.0
    assert empty_window.session.project.chart.body_mm(Measure.BUST, 3.0) == pytest.approx(946.1, abs=0.1)


def test_an_edge_is_told_to_go_over_straight(fitting: FittingDialog, empty_window: Window, qtbot: QtBot) -> None:
    fitting.turn_to("Sizes")
    page = fitting.page("Sizes")
    page.edge.setFocus()
    qtbot.keyClick(page.way, Qt.Key.Key_Down)
    (said,) = empty_window.session.wearer.sizes.transitions
    assert (said.piece, said.transition.value) == (page.edge.currentData()[0], "straight")


def test_a_corner_of_the_blend_is_dragged_to_another_size(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    fitting.turn_to("Sizes")
    session, nest = empty_window.session, fitting.page("Sizes").nest
    qtbot.wait(20)
    front = [pattern.piece("front skirt") for pattern in session.project.base.nest.patterns]
    number = [edge.id for edge in front[0].edges].index("side")
    start, end = (QPoint(*(round(float(each)) for each in nest._corners(front[at])[number])) for at in (3, 6))
    qtbot.mousePress(nest, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseRelease(nest, Qt.MouseButton.LeftButton, pos=end)
    (pull,) = session.wearer.sizes.corners
    assert (pull.piece, pull.position) == ("front skirt", pytest.approx(6.0, abs=0.3))
    fitting.page("Sizes").let_go.click()
    assert session.wearer.sizes is None


def test_a_corner_is_chosen_and_pulled_by_keys(fitting: FittingDialog, empty_window: Window, qtbot: QtBot) -> None:
    fitting.turn_to("Sizes")
    nest = fitting.page("Sizes").nest
    qtbot.keyClick(nest, Qt.Key.Key_Right)
    qtbot.keyClick(nest, Qt.Key.Key_Up)
    (pull,) = empty_window.session.wearer.sizes.corners
    assert (pull.piece, pull.position) == ("front bodice", 3.25)


def test_while_a_corner_is_dragged_the_blend_follows_and_nothing_is_changed(
    fitting: FittingDialog, empty_window: Window, qtbot: QtBot
) -> None:
    fitting.turn_to("Sizes")
    session, nest = empty_window.session, fitting.page("Sizes").nest
    before, project = nest._blend, session.project
    skirt = next(piece for piece in before if piece.name == "front skirt")
    number = [edge.id for edge in skirt.edges].index("side")
    start, end = (
        nest._corners(skirt)[number],
        nest._corners(project.base.nest.pattern("16").piece("front skirt"))[number],
    )
    qtbot.mousePress(nest, Qt.MouseButton.LeftButton, pos=QPoint(*start.round().astype(int).tolist()))
    event = QMouseEvent(
        QEvent.Type.MouseMove, QPointF(*end), QPointF(*end), Qt.MouseButton.NoButton, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    QApplication.sendEvent(nest, event)
    assert nest._blend is not before
    assert session.project is project
    qtbot.mouseRelease(nest, Qt.MouseButton.LeftButton, pos=QPoint(*end.round().astype(int).tolist()))
    assert session.wearer.sizes.corners[0].position == pytest.approx(6.0, abs=0.1)


def test_what_the_blend_found_is_told_on_its_page(fitting: FittingDialog, empty_window: Window) -> None:
    """A hip four sizes from the waist moves corners by more than the 3 mm that are told."""
    fitting.turn_to("Sizes")
    page = fitting.page("Sizes")
    assert page.found.isHidden()
    page.choose(BodyLevel.BUST, 6.0)
    page.choose(BodyLevel.WAIST, 0.0)
    found = blend(empty_window.session.project.base.nest, empty_window.session.wearer.sizes).findings
    assert page.found.text().count("\n") == len(found) - 1
    assert bool(found) != page.found.isHidden()


def test_small_bones_are_said_of_the_wearer_and_kept(
    fitting: FittingDialog, empty_window: Window, tmp_path: Path
) -> None:
    fitting.turn_to("Sizes")
    page = fitting.page("Sizes")
    page.bones.setCurrentIndex(1)
    page.bones.activated.emit(1)
    assert empty_window.session.wearer.bones is Bones.SMALL
    save_project(empty_window.session.project, tmp_path / "small.dartwise")
    assert load_project(tmp_path / "small.dartwise").wearer("2").bones is Bones.SMALL
