"""The help beside the window: chapters, keys and every alteration, found by words."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from editor.dialogs.help_text import chapters
from editor.dialogs.help_window import HelpWindow
from editor.window import Window
from geometry.alterations.handbook.registry import ENTRIES
from geometry.units import Unit

pytestmark = pytest.mark.gui


@pytest.fixture
def shown(qtbot: QtBot, window: Window) -> HelpWindow:
    qtbot.keyClick(window, Qt.Key.Key_F1)
    help_window = window.findChild(HelpWindow)
    assert isinstance(help_window, HelpWindow)
    return help_window


def subjects(shown: HelpWindow) -> list[str]:
    return [shown.list.item(at).text() for at in range(shown.list.count())]


def test_every_alteration_and_every_chapter_has_a_page(shown: HelpWindow) -> None:
    assert {chapter.title for chapter in chapters()} <= set(subjects(shown))
    for entry in ENTRIES:
        shown.show_subject(entry.code)
        told = shown.page.toPlainText()
        assert told.startswith(entry.name)
        assert entry.source in told
        assert all(way.name in told for way in entry.variants)


def test_f1_again_brings_the_same_window(qtbot: QtBot, window: Window, shown: HelpWindow) -> None:
    window.furnishing.actions.by_id["help"].trigger()
    assert window.findChildren(HelpWindow) == [shown]
    assert not shown.isModal()


def test_words_typed_leave_what_has_them_and_the_arrow_keys_go_through_it(shown: HelpWindow) -> None:
    QTest.keyClicks(shown.field, "neck gapes")
    assert subjects(shown) == ["Table of the alterations", "Back neck gapes", "Front neckline gapes"]
    QTest.keyClick(shown.field, Qt.Key.Key_Down)
    assert shown.page.toPlainText().startswith("Back neck gapes")
    QTest.keyClicks(shown.field, " zzz")
    assert shown.count.text() == "Nothing has these words."


def test_the_table_lists_every_alteration_with_pieces_keeps_and_source(shown: HelpWindow) -> None:
    shown.show_subject("Table of the alterations")
    told = shown.page.toPlainText()
    assert all(f"{entry.code} {entry.name}" in told for entry in ENTRIES)
    shown.page.anchorClicked.emit(QUrl("entry:G03"))
    assert shown.page.toPlainText().startswith("Full abdomen, skirt")


def test_an_alteration_is_laid_out_from_its_page(window: Window, shown: HelpWindow) -> None:
    shown.show_subject("A01")
    assert "Lay it out on the table" in shown.page.toPlainText()
    shown.page.anchorClicked.emit(QUrl("open:A01"))
    assert window.form.title.text() == "Bodice length below the armhole"


def test_cautions_are_told_in_the_unit_shown(window: Window, shown: HelpWindow) -> None:
    shown.show_subject("H01")
    assert "Above 1.27 cm:" in shown.page.toPlainText()
    window.session.set_unit(Unit.INCH)
    assert "Above 1/2 in:" in shown.page.toPlainText() or 'Above 1/2":' in shown.page.toPlainText()


def test_escape_closes_it(qtbot: QtBot, window: Window, shown: HelpWindow) -> None:
    qtbot.keyClick(shown, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: window.findChild(HelpWindow) is None)
