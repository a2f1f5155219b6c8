"""Findings, pieces, forms, tools, light and dark, by mouse and keys."""

from __future__ import annotations

from collections import Counter

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLabel, QLineEdit, QListWidget, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from editor.window import Window
from geometry.affine import distance_mm
from geometry.alterations.anchors import on_edge
from geometry.alterations.slash import Slash, SlashCut
from geometry.findings import Level

pytestmark = pytest.mark.gui

FORM_KINDS = (
    "slash", "dart-transfer", "straighten", "blend-edge", "square-corner", "join-corner",
    "level-hem", "split-dart", "release-dart",
)  # fmt: skip
LEFT = Qt.MouseButton.LeftButton
CONTROL = Qt.KeyboardModifier.ControlModifier


def click_row(qtbot: QtBot, rows: QListWidget, row: int) -> None:
    rows.scrollToItem(rows.item(row))
    qtbot.mouseClick(rows.viewport(), LEFT, pos=rows.visualItemRect(rows.item(row)).center())


def lengthen_side(window: Window) -> None:
    """Spread the front skirt across, so that its side no longer fits the back's."""
    cut = SlashCut((on_edge("side", 0.5), on_edge("centre front", 0.5)), 20.0)
    window.session.add_step(Slash("front skirt", (cut,)))


def middle_of_table(window: Window) -> tuple[float, float]:
    table = window.table
    return table.viewport.to_mm((table.width() / 2, table.height() / 2))


def test_findings_are_listed_gravest_first_in_words_and_not_by_colour_alone(qtbot: QtBot, window: Window) -> None:
    with qtbot.waitSignal(window.session.findings_changed):
        lengthen_side(window)
    rows = window.furnishing.findings.list
    said = [rows.item(at).data(Qt.ItemDataRole.AccessibleTextRole).split(":")[0] for at in range(rows.count())]
    order = ["Stop", "Check", "Note"]
    assert "Stop" in said
    assert said == sorted(said, key=order.index)
    assert window.furnishing.findings.heading.detail.text().startswith(f"{said.count('Stop')} stop")


def test_a_click_on_a_finding_goes_to_its_place(qtbot: QtBot, window: Window) -> None:
    with qtbot.waitSignal(window.session.findings_changed):
        lengthen_side(window)
    rows = window.furnishing.findings.list
    findings = [rows.item(at).data(Qt.ItemDataRole.UserRole) for at in range(rows.count())]
    at = next(n for n, each in enumerate(findings) if each.where is not None and each.level is Level.STOP)
    click_row(qtbot, rows, at)
    place = window.table.bench.sheets.scene.sheets[findings[at].piece].to_table(findings[at].where)
    assert window.session.selection.piece == findings[at].piece
    assert distance_mm(middle_of_table(window), place) < 2.0


def test_a_click_on_a_piece_picks_it_on_the_table(qtbot: QtBot, window: Window) -> None:
    click_row(qtbot, window.furnishing.pieces.list, 2)
    name = window.session.pattern.pieces[2].name
    assert window.session.selection.piece == name
    assert window.table.bench.sheets.scene.selected == name


def test_the_pieces_tell_size_and_quantity_and_which_are_altered(window: Window) -> None:
    rows = window.furnishing.pieces.list
    said = {rows.item(at).text(): rows.item(at).data(Qt.ItemDataRole.AccessibleTextRole) for at in range(rows.count())}
    assert said["front skirt"] == "front skirt, size 14 · cut 1 · on the fold · altered"
    assert said["sleeve"] == "sleeve, size 14 · cut 2"


def test_a_form_tries_the_step_out_and_enter_adds_it(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClick(window, Qt.Key.Key_1, CONTROL)
    field = window.form.fields.amount
    qtbot.keyClick(field, Qt.Key.Key_A, CONTROL)
    qtbot.keyClicks(field, "1/2")
    qtbot.keyClick(field, Qt.Key.Key_Tab)
    tried = window.session.preview
    assert len(window.session.records) == 2
    qtbot.keyClick(window.form.fields.amount, Qt.Key.Key_Return)
    assert window.form is None
    assert window.session.records[-1].step.kind == "slash"
    assert window.session.records[-1].step.amount_mm == 12.7
    assert window.session.pattern == tried.pattern


@pytest.mark.parametrize(("key", "kind"), [("1", "slash"), ("2", "dart-transfer")])
def test_escape_leaves_a_form_and_everything_as_it_was(qtbot: QtBot, window: Window, key: str, kind: str) -> None:
    before = window.session.project
    qtbot.keyClick(window, getattr(Qt.Key, f"Key_{key}"), CONTROL)
    assert window.form.kind == kind
    assert window.session.preview is not None
    assert window.form.trouble.text() == ""
    qtbot.keyClick(window.form.fields.amount, Qt.Key.Key_Escape)
    assert window.form is None
    assert window.session.preview is None
    assert window.session.project is before


def test_a_form_says_in_words_what_cannot_be_done(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClick(window, Qt.Key.Key_1, CONTROL)
    field = window.form.fields.amount
    qtbot.keyClick(field, Qt.Key.Key_A, CONTROL)
    qtbot.keyClicks(field, "9000 mm")
    qtbot.keyClick(field, Qt.Key.Key_Tab)
    assert window.form.trouble.isVisible()
    assert not window.form.add.isEnabled()


def test_tool_keys_take_the_tool_in_hand_and_show_it(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClick(window, Qt.Key.Key_S)
    assert window.table.bench.tool.name == "slash"
    assert window.furnishing.tools.by_name["slash"].isChecked()
    assert window.furnishing.hint.text()
    qtbot.keyClick(window, Qt.Key.Key_V)
    assert window.table.bench.tool.name == "select"


def test_dark_and_light_change_the_colours_and_are_remembered(qtbot: QtBot, window: Window) -> None:
    light = window.grab().toImage().pixelColor(QPoint(5, window.height() // 2))
    window.furnishing.actions.by_id["dark"].trigger()
    dark = window.grab().toImage().pixelColor(QPoint(5, window.height() // 2))
    assert light.lightness() > 200 > 100 > dark.lightness()
    assert window.settings.value("dark") is True
    window.furnishing.actions.by_id["dark"].trigger()


def test_the_next_toile_begins_with_a_copy_of_the_steps(qtbot: QtBot, window: Window) -> None:
    before = window.session.records
    qtbot.keyClick(window, Qt.Key.Key_T, CONTROL)
    assert window.session.round.name == "toile 2"
    assert window.session.records == before
    assert [each.name for each in window.session.wearer.rounds] == ["toile 1", "toile 2"]


def test_a_wearer_is_added_by_keys(qtbot: QtBot, window: Window) -> None:
    window.furnishing.actions.by_id["add-wearer"].trigger()
    dialog = window.dialog
    qtbot.keyClicks(dialog.name, "Ines")
    qtbot.keyClick(dialog.name, Qt.Key.Key_Return)
    assert window.session.wearer.name == "Ines"
    assert window.session.records == ()


def test_escape_on_the_table_leaves_a_form(qtbot: QtBot, window: Window) -> None:
    window.show_form(FORM_KINDS[0])
    window.table.setFocus()
    qtbot.keyClick(window.table, Qt.Key.Key_Escape)
    assert window.form is None


@pytest.mark.parametrize("kind", FORM_KINDS)
def test_no_mnemonic_does_two_things(window: Window, kind: str) -> None:
    window.show_form(kind)
    labelled = [each for each in window.findChildren(QLabel) if each.buddy() is not None and each.isVisibleTo(window)]
    buttons = [each for each in window.findChildren(QPushButton) if each.isVisibleTo(window)]
    texts = [
        *(each.text() for each in (*labelled, *buttons)),
        *(menu.title() for menu in window.furnishing.menus.values()),
    ]
    letters = Counter(text[text.index("&") + 1].lower() for text in texts if "&" in text)
    assert [letter for letter, count in letters.items() if count > 1] == []


def test_everything_that_can_be_used_has_a_name_and_a_tip(window: Window) -> None:
    kinds = (QAbstractButton, QComboBox, QLineEdit, QListWidget)
    inner = ("qt_", "ScrollLeft", "ScrollRight")
    used = [
        widget
        for widget in window.findChildren(QWidget)
        if isinstance(widget, kinds) and widget.isVisibleTo(window) and not widget.objectName().startswith(inner)
    ]
    nameless = [widget for widget in used if not (widget.accessibleName() or getattr(widget, "text", str)())]
    without_tip = [widget for widget in used if not widget.toolTip() and not isinstance(widget, QListWidget)]
    assert len(used) > 20
    assert nameless == []
    assert without_tip == []
