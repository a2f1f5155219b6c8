"""Another toile laid over the one on the table."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from editor.canvas.compared_lines import LaidOver
from editor.panels.compare import ComparePanel
from editor.window import Window
from geometry.affine import distance_mm
from geometry.units import Unit
from tests.gui.singers import two_singers


@pytest.fixture
def compared(empty_window: Window, qtbot: QtBot) -> Window:
    """Odile's second toile over her last one, as the menu lays it there."""
    empty_window.session.open_project(two_singers())
    empty_window.furnishing.actions.by_id["compare"].trigger()
    return empty_window


def laid(window: Window) -> dict[str, LaidOver]:
    return {each.piece: each for each in window.table._compared.laid}


def rows(panel: ComparePanel) -> dict[tuple[str, str], tuple[str, str, str]]:
    found = {}
    for at in range(panel.table.topLevelItemCount()):
        group = panel.table.topLevelItem(at)
        for number in range(group.childCount()):
            row = group.child(number)
            found[group.text(0), row.text(0)] = (row.text(1), row.text(2), row.text(3))
    return found


def test_the_toile_before_lies_over_the_one_shown(compared: Window) -> None:
    assert compared.furnishing.comparing.other.words == "Odile, toile 2"
    assert compared.furnishing.details.pages.currentWidget().currentWidget() is compared.furnishing.compared
    assert not laid(compared)["front skirt"].dimensions
    widest, words = laid(compared)["sleeve"].dimensions[0]
    assert words == compared.session.words(widest.length_mm)


def test_what_changed_is_listed_seam_by_seam_from_the_other_to_the_one_shown(compared: Window) -> None:
    """Her journal opens the front bodice by 15 mm for the first toile and by 20 mm for the last."""
    compared.furnishing.comparing.choose(("2", "1"))
    told = rows(compared.furnishing.compared)
    assert told["front bodice", "centre front"] == ("37.50", "38.00", "+0.50")
    compared.session.set_unit(Unit.MM)
    assert rows(compared.furnishing.compared)["front bodice", "centre front"] == ("375.0", "380.0", "+5.0")


def test_another_wearers_toile_lies_together_at_the_point_that_was_chosen(compared: Window) -> None:
    comparing, panel, session = compared.furnishing.comparing, compared.furnishing.compared, compared.session
    comparing.choose(("1", "3"))
    session.select(piece="front bodice")
    row = panel.point.findText("corner of shoulder and neck")
    panel.point.setCurrentIndex(row)
    panel.point.activated.emit(row)
    at = laid(compared)["front bodice"].together
    edge = session.pattern.piece("front bodice").edge("neck")
    assert distance_mm(at, edge.start) == pytest.approx(0.0)
    bought = comparing.comparison.pieces[0]
    corner = next(each for each in bought.dimensions if each.what.startswith("corner of neck and"))
    assert corner.length_mm > 1.0
    assert not any(each.what == "corner of shoulder and neck" for each in bought.dimensions)


def test_toiles_are_laid_together_at_a_notch_picked_on_the_table(compared: Window) -> None:
    comparing, panel, session = compared.furnishing.comparing, compared.furnishing.compared, compared.session
    comparing.choose(("1", "3"))
    session.select(piece="front bodice")
    assert not panel.here.isEnabled()
    notch = session.pattern.piece("front bodice").notches[0]
    session.select(piece="front bodice", notch=notch.id)
    panel.here.click()
    at = session.pattern.piece("front bodice").notch_point(notch)
    assert distance_mm(laid(compared)["front bodice"].together, at) == pytest.approx(0.0)
    assert panel.point.currentText() == f"{notch.id} notch"


def test_undo_changes_what_is_compared_and_the_other_toile_can_go(compared: Window) -> None:
    session, comparing = compared.session, compared.furnishing.comparing
    session.set_on("4", False)
    assert any("upper arm" in what for _, what in rows(compared.furnishing.compared))
    session.undo()
    compared.furnishing.compared.end.click()
    assert comparing.other is None
    assert laid(compared) == {}
    assert compared.furnishing.wearer_bar.others.currentText() == "with nothing"


def test_a_toile_that_is_removed_no_longer_lies_on_the_table(compared: Window) -> None:
    session = compared.session
    session.begin_round()
    session.show("2", "2")
    compared.furnishing.comparing.choose(("2", "4"))
    session.undo()
    assert laid(compared) == {}


def test_a_row_picks_its_edge_and_the_list_stays(compared: Window) -> None:
    compared.furnishing.comparing.choose(("2", "1"))
    panel = compared.furnishing.compared
    group = next(
        panel.table.topLevelItem(at)
        for at in range(panel.table.topLevelItemCount())
        if panel.table.topLevelItem(at).text(0) == "front bodice"
    )
    panel.table.itemClicked.emit(group.child(0), 0)
    assert compared.session.selection.piece == "front bodice"
    assert compared.session.selection.edge == group.child(0).text(0)
    assert compared.furnishing.details.shown == "Lengths"


def test_a_toile_is_renamed_and_removed_in_its_dialog(compared: Window) -> None:
    session, by_id = compared.session, compared.furnishing.actions.by_id
    by_id["edit-round"].trigger()
    compared.dialog.name.setText("for the concert")
    compared.dialog.accept()
    assert session.round.name == "for the concert"
    by_id["edit-round"].trigger()
    compared.dialog.remove.click()
    assert [each.name for each in session.wearer.rounds] == ["toile 1", "toile 2"]
    session.undo()
    assert session.wearer.rounds[-1].name == "for the concert"
