"""Reading a toile: where and how it shows, picked from drawings, and its likely causes in order."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QHBoxLayout, QLabel, QListView, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from editor.commands.registry import Desk
from editor.dialogs.cause_card import CauseCard
from editor.dialogs.spread_out import emptied, scrolled
from editor.dialogs.toile_drawing import toile_drawing
from editor.dialogs.trouble_line import TroubleLine
from geometry.alterations.handbook.alteration import Alteration
from geometry.errors import PatternError
from geometry.fitting.toile_reading import GENERAL, places, symptoms
from geometry.fitting.toile_signs import Cause, Place, Symptom

_SIDE_PX = 148


class ToilePage(QWidget):
    """Places at the left, drawings of what is seen there in the middle, causes at the right."""

    title = "Read a toile"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, self._session = desk, desk.session
        self._places: tuple[Place, ...] = ()
        self._symptoms: tuple[Symptom, ...] = ()
        self.cards: list[CauseCard] = []
        self.places, self.signs = QListWidget(), QListWidget()
        self.places.setAccessibleName("Where it shows")
        self.places.setToolTip("Where it shows; from the top down, as a toile is put right")
        self.places.setMaximumWidth(200)
        self.signs.setAccessibleName("What is seen")
        self.signs.setViewMode(QListView.ViewMode.IconMode)
        self.signs.setMovement(QListView.Movement.Static)
        self.signs.setResizeMode(QListView.ResizeMode.Adjust)
        self.signs.setIconSize(QSize(_SIDE_PX, _SIDE_PX))
        self.signs.setGridSize(QSize(_SIDE_PX + 18, _SIDE_PX + 38))
        self.signs.setMinimumWidth(2 * (_SIDE_PX + 18) + 18)
        for each in (self.places, self.signs):
            each.setObjectName("sections")
        self.looks, self.after = QLabel(), QLabel()
        self.looks.setObjectName("heading")
        self.after.setObjectName("faint")
        self.trouble = TroubleLine()
        self._causes = QVBoxLayout()
        self._arrange()
        self.places.currentRowChanged.connect(self._show_signs)
        self.signs.currentRowChanged.connect(self._show_causes)
        desk.look.changed.connect(self._draw)
        self._show_places()

    def refresh(self) -> None:
        """Show what the pieces on the table can show, with amounts in the unit chosen now; what was typed stays."""
        if places(self._session.pattern) != self._places:
            self._show_places()
        for card in self.cards:
            card.show_unit(self._session.unit)

    def _show_places(self) -> None:
        """The places of the pieces on the table; it begins with the bust, or where there is none at the top."""
        self._places = places(self._session.pattern)
        self.places.clear()
        for place in self._places:
            item = QListWidgetItem(place.value[:1].upper() + place.value[1:])
            item.setSizeHint(QSize(0, 26))
            self.places.addItem(item)
        self.places.setCurrentRow(self._places.index(Place.BUST) if Place.BUST in self._places else 0)

    def _show_signs(self, row: int) -> None:
        self._symptoms = symptoms(self._places[row], pattern=self._session.pattern) if row >= 0 else ()
        self.signs.clear()
        for symptom in self._symptoms:
            item = QListWidgetItem(symptom.sign.value[:1].upper() + symptom.sign.value[1:])
            item.setToolTip(symptom.looks)
            item.setData(Qt.ItemDataRole.AccessibleDescriptionRole, symptom.looks)
            self.signs.addItem(item)
        self._draw()
        self.signs.setCurrentRow(0)

    def _draw(self) -> None:
        for row, symptom in enumerate(self._symptoms):
            drawn = toile_drawing(symptom.name, self._desk.look, _SIDE_PX, self.devicePixelRatioF())
            icon = QIcon(drawn)
            icon.addPixmap(drawn, QIcon.Mode.Selected)
            self.signs.item(row).setIcon(icon)

    def _show_causes(self, row: int) -> None:
        emptied(self._causes)
        self.trouble.say("")
        symptom = self._symptoms[row] if 0 <= row < len(self._symptoms) else None
        causes = symptom.causes if symptom else ()
        self.looks.setText(symptom.looks if symptom else "")
        self.after.setText(f"Then look at: {symptom.recheck} Source: {symptom.source}." if symptom else "")
        self.cards = [self._card(number, cause) for number, cause in enumerate(causes, start=1)]
        for card, cause in zip(self.cards, causes, strict=True):
            note = f"Seen on the toile: {cause.words}."
            card.to_table.connect(lambda step, note=note: self._desk.show_handbook(step=step, note=note))
            card.to_journal.connect(lambda step, note=note: self._follow(step, note))
            self._causes.addWidget(card)
        self._causes.addStretch(1)

    def _card(self, number: int, cause: Cause) -> CauseCard:
        return CauseCard(number, cause, self._session.unit, self._session.pattern)

    def _follow(self, step: Alteration, note: str) -> None:
        try:
            self._session.add_step(step, note=note)
        except PatternError as error:
            self.trouble.say(error.sentence)
            return
        self.trouble.say("")
        self._desk.inform("Added to the journal")

    def _arrange(self) -> None:
        words = QLabel(" ".join(GENERAL[:3]))
        words.setObjectName("faint")
        for label in (words, self.looks, self.after):
            label.setWordWrap(True)
        told = QVBoxLayout()
        told.setSpacing(8)
        told.addWidget(self.looks)
        told.addWidget(self.trouble)
        told.addWidget(scrolled(self._causes), 1)
        told.addWidget(self.after)
        row = QHBoxLayout()
        row.setSpacing(14)
        row.addWidget(self.places, 2)
        row.addWidget(self.signs, 4)
        row.addLayout(told, 5)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(10)
        layout.addWidget(words)
        layout.addLayout(row, 1)
