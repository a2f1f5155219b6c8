"""The handbook's list: what a row has room for, keys, and the amount that follows."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics, QKeySequence
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from editor.panels.handbook_list import lines_within
from editor.window import Window
from geometry.alterations.handbook.registry import ENTRIES

pytestmark = pytest.mark.gui


@pytest.mark.parametrize("most", [1, 2, 3])
def test_names_and_symptoms_are_told_in_whole_words_as_long_as_there_are_lines(qapp: QApplication, most: int) -> None:
    metrics = QFontMetrics(qapp.font())
    for entry in ENTRIES:
        for text in (entry.name, entry.symptom):
            lines = lines_within(metrics, text, 190, most)
            whole, last = lines[:-1], lines[-1]
            assert len(lines) <= most
            assert all(metrics.horizontalAdvance(line) <= 190 for line in lines)
            assert " ".join(whole).split() == text.split()[: len(" ".join(whole).split())]
            assert last.endswith("…") or " ".join(lines) == text


def test_no_two_things_beside_the_table_answer_to_one_key(window: Window) -> None:
    window.show_handbook("D01")
    texts = [action.text() for action in window.menuBar().actions()]
    for kind in (QLabel, QPushButton):
        texts += [each.text() for each in window.findChildren(kind) if each.isVisibleTo(window)]
    keys = [mnemonic.toString() for text in texts if not (mnemonic := QKeySequence.mnemonic(text)).isEmpty()]
    assert "Alt+O" in keys
    assert sorted(keys) == sorted(set(keys))


def test_an_amount_can_be_typed_over_as_soon_as_the_alteration_is_chosen(qtbot: QtBot, window: Window) -> None:
    window.show_handbook()
    find = window.form.finder.field
    qtbot.keyClicks(find, "full bust")
    qtbot.keyClick(find, Qt.Key.Key_Return)
    amount = window.form.sheet.amount
    qtbot.waitUntil(amount.hasFocus)
    assert amount.selectedText() == amount.text()
    qtbot.keyClicks(amount, "1,5")
    qtbot.keyClick(amount, Qt.Key.Key_Return)
    assert amount.amount == 15.0
