"""Whose pattern is shown, which toile of hers or his, and which other one is laid over it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal, SignalInstance
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QToolButton, QWidget

from editor.panels.comparing import Comparing
from editor.session import Session
from editor.theme import Look


class WearerBar(QWidget):
    """Three lists to choose from, and buttons for one more.

    Signals:
        wearer_wanted: one more wearer is to be added.
        round_wanted: one more toile is to be begun.
        edit_wanted: the wearer's name or size is to be changed.
        round_edit_wanted: the toile's name or day is to be changed.
    """

    wearer_wanted = Signal()
    round_wanted = Signal()
    edit_wanted = Signal()
    round_edit_wanted = Signal()

    def __init__(self, session: Session, comparing: Comparing, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session, self._comparing, self._look = session, comparing, look
        self.wearers = QComboBox()
        self.wearers.setAccessibleName("Wearer")
        self.wearers.setToolTip("Whose pattern is shown (Alt+W)")
        self.rounds = QComboBox()
        self.rounds.setAccessibleName("Toile")
        self.rounds.setToolTip("Which toile of this wearer is shown (Alt+I)")
        self.others = QComboBox()
        self.others.setAccessibleName("Compared with")
        self.others.setToolTip("Another toile to lay over this one, of this wearer or another (Ctrl+Shift+C)")
        self._size = QLabel()
        self._size.setObjectName("faint")
        edit = self._button("wearer", "Change this wearer's name and size", self.edit_wanted)
        add_wearer = self._button("add", "Add a wearer for the same pattern", self.wearer_wanted)
        edit_round = self._button("edit", "Change this toile's name and day", self.round_edit_wanted)
        add_round = self._button("add", "Begin the next toile with a copy of these steps", self.round_wanted)
        self._lay_out((edit, add_wearer), (edit_round, add_round))
        self.wearers.activated.connect(lambda row: session.show(self.wearers.itemData(row)))
        self.rounds.activated.connect(lambda row: session.show(self.wearers.currentData(), self.rounds.itemData(row)))
        self.others.activated.connect(lambda row: comparing.choose(self.others.itemData(row)))
        session.project_changed.connect(self.refresh)
        comparing.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show who and which toile is shown now."""
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        wearers = project.wearers if project else ()
        _fill(self.wearers, [(each.name, each.id) for each in wearers], wearer.id if wearer else "")
        rounds = wearer.rounds if wearer else ()
        names = [(f"{each.name}, {each.date}" if each.date else each.name, each.id) for each in rounds]
        _fill(self.rounds, names, shown.id if shown else "")
        others = self._comparing.others
        _fill(self.others, [("with nothing", None), *((each.words, each.ids) for each in others)], self._comparing.ids)
        self.others.setEnabled(bool(others))
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

    def _lay_out(self, for_wearer: tuple[QToolButton, ...], for_round: tuple[QToolButton, ...]) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(14, 12, 10, 6)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(6)
        grid.setColumnStretch(1, 1)
        rows = (
            ("&Wearer", self.wearers, (self._size, *for_wearer)),
            ("To&ile", self.rounds, for_round),
            ("Compare", self.others, ()),
        )
        for number, (words, box, beside) in enumerate(rows):
            label = QLabel(words)
            label.setObjectName("faint")
            label.setBuddy(box)
            row = QHBoxLayout()
            row.setSpacing(6)
            row.addWidget(box, 1)
            for widget in beside:
                row.addWidget(widget)
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            grid.addWidget(label, number, 0)
            grid.addLayout(row, number, 1)


def _fill(box: QComboBox, entries: Sequence[tuple[str, object]], shown: object) -> None:
    if [(box.itemText(row), box.itemData(row)) for row in range(box.count())] != list(entries):
        box.clear()
        for words, entry_id in entries:
            box.addItem(words, entry_id)
    box.setCurrentIndex(next((row for row, (_, each) in enumerate(entries) if each == shown), -1))
