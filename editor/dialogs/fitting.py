"""Everything between the tape measure and the next toile, in the order in which it is done."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from editor.commands.registry import Desk
from editor.dialogs.fitting_pages import PAGES
from editor.panels.unit_switch import UnitSwitch

_GEOMETRY = "fitting-geometry"


class FittingDialog(QDialog):
    """One page for each part of fitting, in a window of its own; all work on the wearer and toile shown on the table.

    Args:
        desk: The window it belongs to; both stay usable, and what is done in one is seen in the other.
        actions: What keys and buttons do here as they do there.
    """

    def __init__(self, desk: Desk, actions: Sequence[QAction] = ()) -> None:
        super().__init__(None, Qt.WindowType.Window)
        self._desk, self._session = desk, desk.session
        self.setAttribute(Qt.WidgetAttribute.WA_QuitOnClose, False)
        self.setWindowIcon(desk.look.icon("dartwise"))
        kept = desk.settings.value(_GEOMETRY)
        if not isinstance(kept, QByteArray) or not self.restoreGeometry(kept):
            self.resize(1240, 780)
        self.names = QListWidget()
        self.names.setFixedWidth(170)
        self.names.setObjectName("sections")
        self.names.setAccessibleName("Parts of fitting")
        self.stack = QStackedWidget()
        self.pages = [make(desk) for make in PAGES]
        for number, each in enumerate(self.pages, start=1):
            self.names.addItem(f"{number}  {each.title}")
            self.names.item(number - 1).setSizeHint(QSize(0, 28))
            self.stack.addWidget(each)
        self.who = QComboBox()
        self.who.setAccessibleName("Wearer and toile")
        self.who.setToolTip("Whose toile these pages and the table show")
        self.who.setMinimumWidth(260)
        self.who.activated.connect(lambda row: self._session.show(*self.who.itemData(row)))
        self.names.currentRowChanged.connect(self._turn)
        self._arrange(actions)
        self._session.project_opened.connect(self.reject)
        for signal in (self._session.project_changed, self._session.unit_changed):
            signal.connect(self._refresh)
        self.names.setCurrentRow(0)
        self._refresh()

    def turn_to(self, title: str) -> None:
        """Show a page."""
        self.names.setCurrentRow([page.title for page in self.pages].index(title))

    def page(self, title: str) -> QWidget:
        """A page by its name."""
        return next(page for page in self.pages if page.title == title)

    def done(self, result: int) -> None:
        """Close it, and remember where it stood."""
        self._desk.settings.setValue(_GEOMETRY, self.saveGeometry())
        super().done(result)

    def _turn(self, row: int) -> None:
        self.stack.setCurrentIndex(row)
        self.pages[row].refresh()

    def _refresh(self) -> None:
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        self.setWindowTitle(f"Fitting {wearer.name}" if wearer else "Fitting")
        self.who.clear()
        for each in project.wearers if project else ():
            for round_ in each.rounds:
                self.who.addItem(f"{each.name}, {round_.name}", (each.id, round_.id))
                if each is wearer and round_ is shown:
                    self.who.setCurrentIndex(self.who.count() - 1)
        self.pages[self.stack.currentIndex()].refresh()

    def _arrange(self, actions: Sequence[QAction]) -> None:
        top = QHBoxLayout()
        top.addWidget(QLabel("Fitting"))
        top.addWidget(self.who)
        for action in actions:
            self.addAction(action)
            button = QToolButton()
            button.setObjectName("flat")
            button.setDefaultAction(action)
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
            top.addWidget(button)
        top.addStretch(1)
        top.addWidget(UnitSwitch(self._session))
        middle = QHBoxLayout()
        middle.setSpacing(18)
        middle.addWidget(self.names)
        middle.addWidget(self.stack, 1)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        buttons.button(QDialogButtonBox.StandardButton.Close).setAutoDefault(False)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(18, 14, 18, 12)
        layout.setSpacing(12)
        layout.addLayout(top)
        layout.addLayout(middle, 1)
        layout.addWidget(buttons)
        self.names.setFocus(Qt.FocusReason.OtherFocusReason)
