"""Reading a toile: where and how it shows, its likely causes in order, each with a starting amount."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from editor.commands.registry import Desk
from editor.dialogs.spread_out import emptied, scrolled
from editor.dialogs.trouble_line import TroubleLine
from editor.panels.length_field import LengthField
from geometry.alterations.handbook.registry import ENTRIES
from geometry.errors import PatternError
from geometry.fitting.toile_reading import GENERAL, places, symptoms
from geometry.fitting.toile_signs import Cause, Symptom


class ToilePage(QWidget):
    """Places at the left, what is seen there in the middle, causes at the right."""

    title = "Read a toile"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._session = desk.session
        self.places, self.signs = QListWidget(), QListWidget()
        self.places.setAccessibleName("Where it shows")
        self.signs.setAccessibleName("What is seen")
        self.signs.setWordWrap(True)
        self.signs.setSpacing(3)
        self.places.setMaximumWidth(220)
        self.places.setObjectName("sections")
        self.signs.setObjectName("sections")
        for place in places():
            item = QListWidgetItem(place.value[:1].upper() + place.value[1:])
            item.setSizeHint(QSize(0, 26))
            self.places.addItem(item)
        words = QLabel(" ".join(GENERAL[:3]))
        words.setObjectName("faint")
        words.setWordWrap(True)
        self.trouble = TroubleLine()
        self._causes = QVBoxLayout()
        scroll = scrolled(self._causes)
        row = QHBoxLayout()
        row.setSpacing(12)
        for widget, share in ((self.places, 2), (self.signs, 3), (scroll, 4)):
            row.addWidget(widget, share)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(words)
        layout.addWidget(self.trouble)
        layout.addLayout(row, 1)
        self._symptoms: tuple[Symptom, ...] = ()
        self.buttons: list[QPushButton] = []
        self.fields: list[LengthField] = []
        self.places.currentItemChanged.connect(lambda *_: self._show_signs())
        self.signs.currentRowChanged.connect(self._show_causes)
        self.places.setCurrentRow(4)

    def refresh(self) -> None:
        """Show amounts in the unit chosen now."""
        self._show_causes(self.signs.currentRow())

    def _show_signs(self) -> None:
        row = self.places.currentRow()
        self._symptoms = symptoms(places()[row]) if row >= 0 else ()
        self.signs.clear()
        for symptom in self._symptoms:
            self.signs.addItem(f"{symptom.sign.value[:1].upper()}{symptom.sign.value[1:]}: {symptom.looks}")
        self.signs.setCurrentRow(0)

    def _show_causes(self, row: int) -> None:
        emptied(self._causes)
        self.buttons, self.fields = [], []
        if not 0 <= row < len(self._symptoms):
            return
        symptom = self._symptoms[row]
        for number, cause in enumerate(symptom.causes, start=1):
            self._causes.addWidget(self._card(number, cause))
        after = QLabel(f"Then look at: {symptom.recheck}\nSource: {symptom.source}.")
        after.setObjectName("faint")
        after.setWordWrap(True)
        self._causes.addWidget(after)
        self._causes.addStretch(1)

    def _card(self, number: int, cause: Cause) -> QWidget:
        entry = next((each for each in ENTRIES if each.code == cause.entry), None)
        card = QFrame()
        card.setObjectName("step")
        name = QLabel(f"{number}. {cause.words[:1].upper()}{cause.words[1:]}")
        name.setObjectName("key")
        does = QLabel(f"{cause.entry} {entry.name}: {entry.does}" if entry else cause.entry)
        for label in (name, does):
            label.setWordWrap(True)
        field = LengthField("Amount", help_text="What you pinned, if you did; else start with this.")
        field.setMaximumWidth(90)
        field.show_length(cause.amount_mm, self._session.unit)
        field.length_changed.connect(field.accept_amount)
        follow = QPushButton("Into the &journal")
        follow.setAutoDefault(False)
        follow.setEnabled(entry is not None)
        follow.setAccessibleName(f"{cause.words} into the journal")
        follow.clicked.connect(lambda: self._follow(cause, field))
        self.buttons.append(follow)
        self.fields.append(field)
        row = QHBoxLayout()
        for widget in (QLabel("on each piece"), field, follow):
            row.addWidget(widget)
        row.addStretch(1)
        layout = QVBoxLayout(card)
        layout.setContentsMargins(12, 9, 12, 10)
        layout.addWidget(name)
        layout.addWidget(does)
        layout.addLayout(row)
        layout.addWidget(field.complaint)
        return card

    def _follow(self, cause: Cause, field: LengthField) -> None:
        field.take()
        try:
            step = cause.step().with_amount_mm(cause.sign * field.amount)
            self._session.add_step(step, note=f"Seen on the toile: {cause.words}.")
            self.trouble.say("")
        except PatternError as error:
            self.trouble.say(error.sentence)
