"""Everything between the tape measure and the next toile, in the order in which it is done."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from editor.commands.registry import Desk
from editor.dialogs.fitting_pages import PAGES
from editor.panels.unit_switch import UnitSwitch


class FittingDialog(QDialog):
    """One page for each part of fitting; all of them work on the wearer and round shown."""

    def __init__(self, desk: Desk, page: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = desk.session
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
        self.who.setMinimumWidth(260)
        self.who.activated.connect(lambda row: self._session.show(*self.who.itemData(row)))
        self.names.currentRowChanged.connect(self._turn)
        self._arrange()
        for signal in (self._session.project_changed, self._session.unit_changed):
            signal.connect(self._refresh)
        self.turn_to(page or self.pages[0].title)
        self._refresh()

    def turn_to(self, title: str) -> None:
        """Show a page."""
        self.names.setCurrentRow([page.title for page in self.pages].index(title))

    def page(self, title: str) -> QWidget:
        """A page by its name."""
        return next(page for page in self.pages if page.title == title)

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

    def _arrange(self) -> None:
        top = QHBoxLayout()
        top.addWidget(QLabel("Fitting"))
        top.addWidget(self.who)
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
