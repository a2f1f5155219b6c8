"""Whose pattern is shown, and which toile of hers or his."""

from __future__ import annotations

from PySide6.QtCore import Signal, SignalInstance
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QToolButton, QWidget

from editor.session import Session
from editor.theme import Look


class WearerBar(QWidget):
    """Two lists to choose from, and buttons for one more.

    Signals:
        wearer_wanted: one more wearer is to be added.
        round_wanted: one more toile is to be begun.
        edit_wanted: the wearer's name or size is to be changed.
    """

    wearer_wanted = Signal()
    round_wanted = Signal()
    edit_wanted = Signal()

    def __init__(self, session: Session, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session, self._look = session, look
        self.wearers = QComboBox()
        self.wearers.setAccessibleName("Wearer")
        self.wearers.setToolTip("Whose pattern is shown (Alt+W)")
        self.rounds = QComboBox()
        self.rounds.setAccessibleName("Toile")
        self.rounds.setToolTip("Which toile of this wearer is shown (Alt+I)")
        self._size = QLabel()
        self._size.setObjectName("faint")
        edit = self._button("wearer", "Change this wearer's name and size", self.edit_wanted)
        add_wearer = self._button("add", "Add a wearer for the same pattern", self.wearer_wanted)
        add_round = self._button("add", "Begin the next toile with a copy of these steps", self.round_wanted)
        self._lay_out(edit, add_wearer, add_round)
        self.wearers.activated.connect(lambda row: session.show(self.wearers.itemData(row)))
        self.rounds.activated.connect(lambda row: session.show(self.wearers.currentData(), self.rounds.itemData(row)))
        session.project_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show who and which toile is shown now."""
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        wearers = project.wearers if project else ()
        _fill(self.wearers, [(each.name, each.id) for each in wearers], wearer.id if wearer else "")
        rounds = wearer.rounds if wearer else ()
        names = [(f"{each.name}, {each.date}" if each.date else each.name, each.id) for each in rounds]
        _fill(self.rounds, names, shown.id if shown else "")
        base = self._session.base
        self._size.setText(f"size {base.size}" if wearer and base and base.size else "")
        self.setEnabled(project is not None)

    def _button(self, icon: str, tip: str, signal: SignalInstance) -> QToolButton:
        button = QToolButton()
        button.setObjectName("flat")
        button.setIcon(self._look.icon(icon))
        button.setToolTip(tip)
        button.setAccessibleName(tip)
        button.clicked.connect(signal)
        self._look.changed.connect(lambda: button.setIcon(self._look.icon(icon)))
        return button

    def _lay_out(self, edit: QToolButton, add_wearer: QToolButton, add_round: QToolButton) -> None:
        who, which = QLabel("&Wearer"), QLabel("To&ile")
        who.setBuddy(self.wearers)
        which.setBuddy(self.rounds)
        for label in (who, which):
            label.setObjectName("faint")
        first, second = QHBoxLayout(), QHBoxLayout()
        for layout, widgets in (
            (first, (self.wearers, self._size, edit, add_wearer)),
            (second, (self.rounds, add_round)),
        ):
            layout.setSpacing(6)
            for widget in widgets:
                layout.addWidget(widget)
            layout.setStretch(0, 1)
        grid = QGridLayout(self)
        grid.setContentsMargins(14, 12, 10, 6)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(6)
        grid.addWidget(who, 0, 0)
        grid.addLayout(first, 0, 1)
        grid.addWidget(which, 1, 0)
        grid.addLayout(second, 1, 1)
        grid.setColumnStretch(1, 1)


def _fill(box: QComboBox, entries: list[tuple[str, str]], shown: str) -> None:
    if [(box.itemText(row), box.itemData(row)) for row in range(box.count())] != entries:
        box.clear()
        for words, entry_id in entries:
            box.addItem(words, entry_id)
    box.setCurrentIndex(box.findData(shown))
