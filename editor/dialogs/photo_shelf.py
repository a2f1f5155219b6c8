"""The photos of a toile: dropped here, enlarged by double click, taken away."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QIcon, QKeyEvent, QPixmap
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QListView,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from editor.commands.registry import Desk
from editor.dialogs.photo_reading import LONGEST_PX, pixmap_of
from editor.dialogs.photo_view import PhotoView
from editor.dialogs.trouble_line import TroubleLine
from editor.document.rounds import LARGEST_PHOTO_BYTES, PHOTO_ENDINGS, photo, with_photo, without_photo
from editor.reading import read_limited
from geometry.errors import PatternError

_NAME = Qt.ItemDataRole.UserRole
_THUMB = QSize(148, 110)


class PhotoShelf(QWidget):
    """Small pictures in a row."""

    def __init__(self, desk: Desk, trouble: TroubleLine) -> None:
        super().__init__()
        self._desk, self._session, self._trouble = desk, desk.session, trouble
        self._names: tuple[str, ...] = ()
        self.setAcceptDrops(True)
        self.list = QListWidget()
        self.list.setAccessibleName("Photos")
        self.list.setToolTip("Double click or Enter enlarges a photo, Delete takes it away")
        self.list.setViewMode(QListView.ViewMode.IconMode)
        self.list.setMovement(QListView.Movement.Static)
        self.list.setIconSize(_THUMB)
        self.list.setSpacing(4)
        self.list.setWrapping(False)
        self.list.setFixedHeight(_THUMB.height() + 30)
        self.words = QLabel("Drop photos of the toile here; they are kept in the project file.")
        self.words.setObjectName("faint")
        self.words.setWordWrap(True)
        self.add, self.enlarge, self.remove = (
            QPushButton("Add a &photo…"), QPushButton("&Enlarge"), QPushButton("Remo&ve photo"),
        )  # fmt: skip
        tips = "Choose a photo from a file", "Show the chosen photo large", "Take the chosen photo out of the project"
        row = QHBoxLayout()
        row.addWidget(self.words, 1)
        for button, tip in zip((self.add, self.enlarge, self.remove), tips, strict=True):
            button.setObjectName("small")
            button.setAutoDefault(False)
            button.setToolTip(tip)
            row.addWidget(button)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(row)
        layout.addWidget(self.list)
        kinds = f"Photos ({' '.join(f'*{ending}' for ending in PHOTO_ENDINGS)})"
        self.add.clicked.connect(lambda: desk.choose_file("Add a photo", kinds, self.take_photo))
        self.enlarge.clicked.connect(lambda: self._enlarge(self.list.currentItem()))
        self.remove.clicked.connect(self._remove)
        self.list.itemActivated.connect(self._enlarge)

    def refresh(self) -> None:
        """Show the photos of the toile shown."""
        project, shown = self._session.project, self._session.round
        names = shown.photos if shown else ()
        if names != self._names and project is not None:
            self._names = names
            self.list.clear()
            for number, name in enumerate(names, start=1):
                picture = _readable(photo(project, name), longest_px=2 * _THUMB.width())
                item = QListWidgetItem(QIcon(picture or QPixmap()), "" if picture else "cannot be shown")
                item.setData(_NAME, name)
                item.setData(Qt.ItemDataRole.AccessibleTextRole, f"photo {number}")
                self.list.addItem(item)
        self.list.setVisible(bool(names))
        if names and self.list.currentRow() < 0:
            self.list.setCurrentRow(0)
        for button in (self.enlarge, self.remove):
            button.setVisible(bool(names))

    def take_photo(self, path: Path) -> None:
        """Keep a picture with the toile, or say why not."""
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        if project is None or wearer is None or shown is None:
            return
        try:
            data = read_limited(path, most_bytes=LARGEST_PHOTO_BYTES)
            pixmap_of(data)
            changed = with_photo(project, wearer.id, shown.id, data)
        except (OSError, ValueError) as error:
            self._trouble.say(getattr(error, "sentence", f"{path.name} cannot be read."))
            return
        self._trouble.say("")
        self._session.state("Add photo", changed)

    # -- Qt's own events

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take pictures."""
        if any(Path(url.toLocalFile()).suffix.lower() in PHOTO_ENDINGS for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Keep what was dropped."""
        event.acceptProposedAction()
        for url in event.mimeData().urls():
            self.take_photo(Path(url.toLocalFile()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Delete takes the chosen photo away."""
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and self.list.hasFocus():
            self._remove()
        else:
            super().keyPressEvent(event)

    # -- inside

    def _enlarge(self, item: QListWidgetItem | None) -> None:
        project = self._session.project
        picture = _readable(photo(project, item.data(_NAME))) if project is not None and item is not None else None
        wearer, shown = self._session.wearer, self._session.round
        if picture is not None and wearer is not None and shown is not None:
            self._desk.show_dialog(PhotoView(picture, f"{wearer.name}, {shown.name}"))

    def _remove(self) -> None:
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        item = self.list.currentItem()
        if project is not None and wearer is not None and shown is not None and item is not None:
            self._session.state("Remove photo", without_photo(project, wearer.id, shown.id, item.data(_NAME)))


def _readable(data: bytes, *, longest_px: int = LONGEST_PX) -> QPixmap | None:
    """The picture, ``None`` where it cannot be shown."""
    try:
        return pixmap_of(data, longest_px=longest_px)
    except PatternError:
        return None
