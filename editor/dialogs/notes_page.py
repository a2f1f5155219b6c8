"""What was seen on a toile: notes with a place on a piece, and photos dropped here."""

from __future__ import annotations

import contextlib
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QIcon, QPixmap
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListView,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from editor.commands.registry import Desk
from editor.dialogs.rows import Rows
from editor.dialogs.sketch import Sketch
from editor.dialogs.trouble_line import TroubleLine
from editor.document.picture import picture_in
from editor.document.project import FitNote
from editor.document.wearing import LARGEST_PHOTO_BYTES, PHOTO_ENDINGS, photo, with_note, with_photo, with_round
from editor.reading import read_limited
from geometry.errors import PatternError


class NotesPage(QWidget):
    """The notes and photos of the toile shown."""

    title = "Notes and photos"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._session = desk.session
        self._place: tuple[float, float] | None = None
        self.setAcceptDrops(True)
        self.piece = QComboBox()
        self.piece.setAccessibleName("Piece")
        self.text = QLineEdit()
        self.text.setPlaceholderText("what you saw; click the piece for the place, then Enter")
        self.text.setMaxLength(500)
        self.add = QPushButton("&Add")
        self.remove = QPushButton("&Remove")
        for button in (self.add, self.remove):
            button.setAutoDefault(False)
        self.sketch = Sketch(desk.look)
        self.table = Rows("Notes", ("", "Piece", "Seen"))
        self.photos = QListWidget()
        self.photos.setAccessibleName("Photos")
        self.photos.setViewMode(QListView.ViewMode.IconMode)
        self.photos.setIconSize(QSize(150, 110))
        self.photos.setMaximumHeight(150)
        self.drop = QLabel("Drop photos of the toile here; they are kept in the project file.")
        self.drop.setObjectName("faint")
        self.trouble = TroubleLine()
        self._arrange()
        self.piece.currentTextChanged.connect(lambda _: self._forget_place())
        self.sketch.clicked.connect(self._mark)
        self.text.returnPressed.connect(self._add)
        self.add.clicked.connect(self._add)
        self.remove.clicked.connect(self._remove)
        self.table.currentCellChanged.connect(lambda row, *_: self._go_to(row))

    def refresh(self) -> None:
        """Show the toile's notes and photos."""
        project, shown, pattern = self._session.project, self._session.round, self._session.pattern
        if project is None or shown is None or pattern is None:
            return
        names = [piece.name for piece in pattern.pieces]
        if [self.piece.itemText(row) for row in range(self.piece.count())] != names:
            self.piece.clear()
            self.piece.addItems(names)
        self.table.fill([(str(n), note.piece, note.text) for n, note in enumerate(shown.notes, 1)])
        self.photos.clear()
        for name in shown.photos:
            with contextlib.suppress(PatternError):
                self.photos.addItem(QListWidgetItem(QIcon(_shown(photo(project, name))), ""))
        self.photos.setVisible(bool(shown.photos))
        self._draw()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take pictures."""
        if any(Path(url.toLocalFile()).suffix.lower() in PHOTO_ENDINGS for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Keep what was dropped."""
        event.acceptProposedAction()
        for url in event.mimeData().urls():
            self.take_photo(Path(url.toLocalFile()))

    def take_photo(self, path: Path) -> None:
        """Keep a picture with the toile, or say why not."""
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        if project is None or wearer is None or shown is None:
            return
        try:
            data = read_limited(path, most_bytes=LARGEST_PHOTO_BYTES)
            _shown(data)
            changed = with_photo(project, wearer.id, shown.id, data)
        except (OSError, ValueError) as error:
            self.trouble.say(getattr(error, "sentence", f"{path.name} cannot be read."))
            return
        self.trouble.say("")
        self._session.state("Add photo", changed)

    def _draw(self) -> None:
        pattern, shown, name = self._session.pattern, self._session.round, self.piece.currentText()
        if pattern is None or shown is None or name not in [piece.name for piece in pattern.pieces]:
            return
        places = [((note.x, note.y), str(n)) for n, note in enumerate(shown.notes, 1) if note.piece == name]
        if self._place is not None:
            places.append((self._place, "•"))
        self.sketch.show_pieces((pattern.piece(name),), places=places)

    def _go_to(self, row: int) -> None:
        notes = self._session.round.notes if self._session.round else ()
        if 0 <= row < len(notes) and notes[row].piece:
            self.piece.setCurrentText(notes[row].piece)

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
        note = FitNote(text)
        if self._place is not None:
            note = FitNote(text, self.piece.currentText(), round(self._place[0], 1), round(self._place[1], 1))
        self.text.clear()
        self._place = None
        self._session.state("Add note", with_note(project, wearer.id, shown.id, note))

    def _remove(self) -> None:
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        row = self.table.currentRow()
        if project is None or wearer is None or shown is None or row < 0:
            return
        notes = tuple(note for number, note in enumerate(shown.notes) if number != row)
        self._session.state("Remove note", with_round(project, wearer.id, replace(shown, notes=notes)))

    def _arrange(self) -> None:
        writing, left, right = QHBoxLayout(), QVBoxLayout(), QVBoxLayout()
        for widget in (self.text, self.add, self.remove):
            writing.addWidget(widget)
        left.addLayout(writing)
        left.addWidget(self.table, 1)
        left.addWidget(self.trouble)
        left.addWidget(self.drop, 0, Qt.AlignmentFlag.AlignLeft)
        left.addWidget(self.photos)
        right.addWidget(self.piece)
        right.addWidget(self.sketch, 1)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(18)
        row.addLayout(left, 1)
        row.addLayout(right, 1)


def _shown(data: bytes) -> QPixmap:
    """The picture, read as the kind that its first bytes say and as no other.

    Raises:
        PatternError: it cannot be shown.
    """
    picture = QPixmap()
    if not picture.loadFromData(data, picture_in(data).kind):
        raise PatternError("The picture is damaged; choose another one.", code="bad-photo")
    return picture
