"""What was seen on a toile: notes with a place on a piece, and photos dropped here."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from editor.commands.registry import Desk
from editor.dialogs.photo_shelf import PhotoShelf
from editor.dialogs.rows import Rows
from editor.dialogs.sketch import Sketch
from editor.dialogs.trouble_line import TroubleLine
from editor.document.note_places import note_at, note_places
from editor.document.project import FitNote
from editor.document.rounds import day_in, with_changed_note, with_note, with_round
from geometry.alterations.carried_places import Place
from geometry.errors import PatternError

_SEEN = 2


class NotesPage(QWidget):
    """The toile's name and day, its notes and photos."""

    title = "Notes and photos"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._session = desk.session
        self._place: tuple[float, float] | None = None
        self._filling = False
        self._shown = ""
        self.name, self.day, self.text = QLineEdit(), QLineEdit(), QLineEdit()
        self.name.setMaxLength(60)
        self.name.setToolTip("What this toile is called: toile 2, final")
        self.day.setMaximumWidth(120)
        self.day.setToolTip("The day it was tried on, as 2026-05-17")
        self.piece = QComboBox()
        self.piece.setAccessibleName("Piece")
        self.piece.setToolTip("The piece to mark a place on")
        self.text.setPlaceholderText("what you saw; click its place, then Enter")
        self.text.setAccessibleName("What you saw")
        self.text.setMaxLength(500)
        self.add, self.remove = QPushButton("&Add"), QPushButton("&Remove")
        self.add.setToolTip("Add the note, at the place marked on the piece or about the whole")
        self.remove.setToolTip("Take the note chosen in the list away")
        self.sketch = Sketch(desk.look)
        self.sketch.setToolTip("Click where you saw it")
        self.table = Rows("Notes", ("", "Piece", "Seen"))
        self.table.setToolTip("Double click a note to change its words")
        self.trouble = TroubleLine()
        self.photos = PhotoShelf(desk, self.trouble)
        self._arrange()
        self._connect()

    def refresh(self) -> None:
        """Show the toile's notes and photos."""
        project, shown, pattern = self._session.project, self._session.round, self._session.pattern
        if project is None or shown is None or pattern is None:
            return
        for field, words in ((self.name, shown.name), (self.day, shown.date)):
            if not field.isModified() or not field.hasFocus():
                field.setText(words)
        names = [piece.name for piece in pattern.pieces]
        if [self.piece.itemText(row) for row in range(self.piece.count())] != names:
            self.piece.clear()
            self.piece.addItems(names)
        if shown.id != self._shown:
            self._shown, self._place = shown.id, None
            self.piece.setCurrentText(next((own[0][0] for own in self._places() if own), names[0]))
        self._filling = True
        self.table.fill([(str(n), note.piece or "the whole", note.text) for n, note in enumerate(shown.notes, 1)])
        for row in range(len(shown.notes)):
            cell = self.table.cell(row, _SEEN)
            cell.setFlags(cell.flags() | Qt.ItemFlag.ItemIsEditable)
        self._filling = False
        self.remove.setEnabled(bool(shown.notes))
        self.photos.refresh()
        self._draw()

    # -- the toile itself

    def _rename(self) -> None:
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        if project is None or wearer is None or shown is None:
            return
        for field in (self.name, self.day):
            field.setModified(False)
        try:
            changed = replace(shown, name=self.name.text().strip() or shown.name, date=day_in(self.day.text()))
        except PatternError as error:
            self.trouble.say(error.sentence)
            return
        self.trouble.say("")
        if changed != shown:
            self._session.state("Change toile", with_round(project, wearer.id, changed))

    # -- notes

    def _draw(self) -> None:
        pattern, shown, name = self._session.pattern, self._session.round, self.piece.currentText()
        if pattern is None or shown is None or name not in [piece.name for piece in pattern.pieces]:
            return
        places = [(at, str(n)) for n, own in enumerate(self._places(), 1) for piece, at in own if piece == name]
        if self._place is not None:
            places.append((self._place, "?"))
        self.sketch.show_piece(pattern.piece(name), places)

    def _places(self) -> tuple[tuple[Place, ...], ...]:
        """Where each note lies on the pieces as they are now."""
        shown, base = self._session.round, self._session.base
        return note_places(shown.notes, base, shown.records) if shown and base else ()

    def _go_to(self, row: int) -> None:
        places = self._places()
        if 0 <= row < len(places) and places[row]:
            self.piece.setCurrentText(places[row][0][0])

    def _forget_place(self) -> None:
        self._place = None
        self._draw()

    def _mark(self, x: float, y: float) -> None:
        self._place = (x, y)
        self.text.setFocus()
        self._draw()

    def _add(self) -> None:
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        text = self.text.text().strip()
        if project is None or wearer is None or shown is None or not text:
            return
        note, base = FitNote(text), self._session.base
        if self._place is not None and base is not None:
            note = note_at(text, (self.piece.currentText(), self._place), base, shown.records)
        self.text.clear()
        self._place = None
        self._session.state("Add note", with_note(project, wearer.id, shown.id, note))

    def _retype(self, item: QTableWidgetItem) -> None:
        shown, text = self._session.round, item.text().strip()
        if self._filling or shown is None or item.column() != _SEEN or item.row() >= len(shown.notes):
            return
        note = shown.notes[item.row()]
        if text and text != note.text:
            self._change(item.row(), replace(note, text=text), "Change note")
        else:
            self.refresh()

    def _remove(self) -> None:
        if self.table.currentRow() >= 0:
            self._change(self.table.currentRow(), None, "Remove note")

    def _change(self, row: int, note: FitNote | None, label: str) -> None:
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        if project is not None and wearer is not None and shown is not None:
            self._session.state(label, with_changed_note(project, wearer.id, shown.id, row, note))

    # -- inside

    def _connect(self) -> None:
        for field in (self.name, self.day):
            field.editingFinished.connect(self._rename)
        self.piece.currentTextChanged.connect(lambda _: self._forget_place())
        self.sketch.clicked.connect(self._mark)
        self.text.returnPressed.connect(self._add)
        self.add.clicked.connect(self._add)
        self.remove.clicked.connect(self._remove)
        self.table.currentCellChanged.connect(lambda row, *_: self._go_to(row))
        self.table.itemChanged.connect(self._retype)

    def _arrange(self) -> None:
        called, writing, left, right = QHBoxLayout(), QHBoxLayout(), QVBoxLayout(), QVBoxLayout()
        for words, field in (("This toile is called", self.name), ("tried on", self.day)):
            label = QLabel(words)
            label.setBuddy(field)
            called.addWidget(label)
            called.addWidget(field, 1 if field is self.name else 0)
        for widget in (self.text, self.add, self.remove):
            writing.addWidget(widget)
        for button in (self.add, self.remove):
            button.setAutoDefault(False)
        left.addLayout(called)
        left.addLayout(writing)
        left.addWidget(self.table, 1)
        left.addWidget(self.trouble)
        left.addWidget(self.photos)
        left.setSpacing(10)
        right.addWidget(self.piece)
        right.addWidget(self.sketch, 1)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(18)
        row.addLayout(left, 1)
        row.addLayout(right, 1)
