"""Commands as Qt actions: one action each, shared by menus and toolbar, kept up to date with the session."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar

from editor.commands.registry import Command, Desk, Menu
from geometry.errors import PatternError


class Actions(QObject):
    """The actions of all commands by id."""

    def __init__(self, desk: Desk, menus: Iterable[Menu], parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._menus = tuple(menus)
        self._commands = {each.id: each for menu in self._menus for each in menu.commands if each is not None}
        self.by_id = {command.id: self._action(command) for command in self._commands.values()}
        session = desk.session
        for signal in (session.project_changed, session.selection_changed, session.unit_changed, desk.look.changed):
            signal.connect(self.refresh)
        desk.look.changed.connect(self._renew_icons)
        self.refresh()

    def fill(self, bar: QMenuBar) -> dict[str, QMenu]:
        """Put the menus in a menu bar; returns them by title without mnemonic."""
        filled = {}
        for menu in self._menus:
            shown = bar.addMenu(menu.title)
            shown.setToolTipsVisible(True)
            for command in menu.commands:
                if command is None:
                    shown.addSeparator()
                else:
                    shown.addAction(self.by_id[command.id])
            filled[menu.title.replace("&", "")] = shown
        return filled

    def refresh(self) -> None:
        """Enable, name and tick the actions as things are now."""
        for command_id, action in self.by_id.items():
            command = self._commands[command_id]
            action.setEnabled(command.enabled(self._desk.session))
            if command.title is not None:
                action.setText(command.title(self._desk.session))
            if command.is_on is not None:
                action.setChecked(command.is_on(self._desk))

    def _action(self, command: Command) -> QAction:
        action = QAction(command.label, self)
        action.setObjectName(command.id)
        action.setToolTip(command.tip)
        action.setStatusTip(command.help)
        action.setCheckable(command.is_on is not None)
        if command.icon:
            action.setIcon(self._desk.look.icon(command.icon))
        if command.shortcut:
            action.setShortcut(QKeySequence(command.shortcut))
        action.triggered.connect(lambda: self._run(command))
        return action

    def _run(self, command: Command) -> None:
        try:
            command.run(self._desk)
        except PatternError as error:
            self._desk.tell(error.sentence)
        self.refresh()

    def _renew_icons(self) -> None:
        for command_id, action in self.by_id.items():
            if self._commands[command_id].icon:
                action.setIcon(self._desk.look.icon(self._commands[command_id].icon))
