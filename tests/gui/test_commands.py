"""What every command must have."""

from __future__ import annotations

from collections import Counter

import pytest
from PySide6.QtGui import QKeySequence

from editor.commands.all import MENUS
from editor.commands.registry import Command
from editor.theme import RESOURCES
from editor.window import Window

COMMANDS = [command for menu in MENUS for command in menu.commands if command is not None]


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.id)
def test_a_command_has_words_a_mnemonic_and_a_tip_with_its_key(command: Command) -> None:
    assert "&" in command.label
    assert len(command.help.split()) >= 2
    assert not command.help.endswith(".")
    assert command.shortcut in command.tip
    assert not command.icon or (RESOURCES / "icons" / f"{command.icon}.svg").is_file()


@pytest.mark.parametrize("menu", MENUS, ids=lambda menu: menu.title)
def test_mnemonics_are_unique_in_their_menu(menu: object) -> None:
    letters = Counter(each.label[each.label.index("&") + 1].lower() for each in menu.commands if each is not None)
    assert [letter for letter, count in letters.items() if count > 1] == []


@pytest.mark.gui
def test_no_key_does_two_things(empty_window: Window) -> None:
    actions = [*empty_window.furnishing.actions.by_id.values(), *empty_window.furnishing.tools.by_name.values()]
    keys = Counter(each.shortcut().toString(QKeySequence.SequenceFormat.PortableText) for each in actions)
    del keys[""]
    assert [key for key, count in keys.items() if count > 1] == []


@pytest.mark.gui
def test_without_a_project_only_what_opens_one_can_be_done(empty_window: Window) -> None:
    enabled = {name for name, action in empty_window.furnishing.actions.by_id.items() if action.isEnabled()}
    assert enabled == {
        "new",
        "open",
        "quit",
        "centimetres",
        "millimetres",
        "inches",
        "dark",
        "help",
        "cautions",
        "sample",
    }
