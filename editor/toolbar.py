"""The row of buttons above the table: files, undo, the tools, the alterations used most, the view."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QObject, QSize, Qt, Signal
from PySide6.QtGui import QAction, QActionGroup
from PySide6.QtWidgets import QSizePolicy, QToolBar, QToolButton, QWidget

from editor.theme import Look

TOOLS: Final = (
    ("select", "Select", "Pick out pieces, edges and darts, lay pieces elsewhere on the table", "V"),
    ("slash", "Slash", "Draw a slash line across a piece, then open it or fold it out", "S"),
    ("dart", "Dart", "Draw a dart into a piece, with one tip or two", "D"),
    ("seam", "Seams", "Say which edges are sewn together", "E"),
    ("walk", "Walk", "Lay one side of a seam along the other and see what lands where", "W"),
    ("measure", "Measure", "Measure between two places", "M"),
    ("landmark", "Marks", "Show body points and levels, and drag one to where it is", "L"),
)
"""Each tool with what its button says, what it does and its key."""
_BEFORE: Final = (("open", "save", "print"), ("undo", "redo"))
_ALTERATIONS: Final = ("dart-transfer", "handbook")
_VIEW: Final = ("zoom-out", "fit-all", "zoom-in")


class ToolActions(QObject):
    """One action per tool, one of them ticked.

    Signals:
        chosen: another tool is to be taken in hand; its name.
    """

    chosen = Signal(str)

    def __init__(self, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self._look = look
        group = QActionGroup(self)
        group.setExclusionPolicy(QActionGroup.ExclusionPolicy.ExclusiveOptional)
        self.by_name: dict[str, QAction] = {}
        for name, label, help_text, key in TOOLS:
            action = QAction(look.icon(name), label, group)
            action.setCheckable(True)
            action.setShortcut(key)
            action.setToolTip(f"{help_text} ({key})")
            action.setStatusTip(help_text)
            action.triggered.connect(lambda _=False, chosen=name: self._choose(chosen))
            self.by_name[name] = action
        self.by_name["select"].setChecked(True)
        look.changed.connect(self._renew_icons)

    def tick(self, name: str) -> None:
        """Show which tool is in hand: none of these while an alteration of the handbook is laid out."""
        for each, action in self.by_name.items():
            action.setChecked(each == name)

    def set_usable(self, usable: bool) -> None:
        """Whether there is anything to use them on."""
        for action in self.by_name.values():
            action.setEnabled(usable)

    def _choose(self, name: str) -> None:
        self.tick(name)  # a click on the one in hand must not put it down
        self.chosen.emit(name)

    def _renew_icons(self) -> None:
        for name, action in self.by_name.items():
            action.setIcon(self._look.icon(name))


class ToolBar(QToolBar):
    """Shares its actions with the menus."""

    def __init__(self, action: Callable[[str], QAction], tools: ToolActions) -> None:
        super().__init__("Tools")
        self.setObjectName("tools")
        self.setMovable(False)
        self.setIconSize(QSize(20, 20))
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.PreventContextMenu)
        for names in _BEFORE:
            self.addActions([action(name) for name in names])
            self.addSeparator()
        for tool in tools.by_name.values():
            self._add_named(tool)
        self.addSeparator()
        for name in _ALTERATIONS:
            self._add_named(action(name))
        self._add_room()
        self.addActions([action(name) for name in _VIEW])
        self.addSeparator()
        self.addAction(action("dark"))
        for each in self.actions():
            button = self.widgetForAction(each)
            if button is not None and each.toolTip():
                button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
                button.setAccessibleName(each.toolTip())

    def _add_named(self, action: QAction) -> None:
        """A button with its name beside its icon."""
        self.addAction(action)
        button = self.widgetForAction(action)
        if isinstance(button, QToolButton):
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)

    def _add_room(self) -> None:
        room = QWidget()
        room.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.addWidget(room)
