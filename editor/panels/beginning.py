"""What stands in the middle while nothing is open: ways to begin."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import QLineF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAction, QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from editor.canvas.palette import DAYLIGHT, LAMPLIGHT
from editor.theme import Look

_WIDTH_PX: Final = 460
_MOST_RECENT: Final = 4
_RULING_PX: Final = 100
_ICON_PX: Final = 26


class Beginning(QWidget):
    """A sheet of paper on the bare table with the ways to begin on it.

    Args:
        actions: For each way the action that goes it, its name, what it leads to, and its icon.

    Signals:
        recent_wanted: one of the files opened lately is to be opened again.
    """

    recent_wanted = Signal(Path)

    def __init__(self, actions: Iterable[tuple[QAction, str, str, str]], look: Look) -> None:
        super().__init__()
        self._look = look
        self.ways: dict[str, _Way] = {}
        self._card = QFrame()
        self._card.setObjectName("beginning")
        self._card.setFixedWidth(_WIDTH_PX)
        column = QVBoxLayout(self._card)
        column.setContentsMargins(24, 22, 24, 20)
        column.setSpacing(2)
        title = QLabel("What shall lie on the table?")
        title.setObjectName("title")
        column.addWidget(title)
        title.setContentsMargins(10, 0, 0, 8)
        for action, name, words, icon in actions:
            self.ways[icon] = _Way(name, words)
            self.ways[icon].setToolTip(action.toolTip())
            self.ways[icon].clicked.connect(action.trigger)
            column.addWidget(self.ways[icon])
        self.setFocusProxy(next(iter(self.ways.values())))
        self.recent = QVBoxLayout()
        self.recent.setSpacing(0)
        column.addLayout(self.recent)
        drop = QLabel("A drawing or a project can also be dropped here.")
        drop.setObjectName("faint")
        drop.setContentsMargins(10, 10, 0, 0)
        column.addWidget(drop)
        whole = QVBoxLayout(self)
        whole.addWidget(self._card, 0, Qt.AlignmentFlag.AlignCenter)
        look.changed.connect(self._renew_icons)
        self._renew_icons()

    def show_recent(self, paths: Iterable[Path]) -> None:
        """List the files opened lately, as far as they are still there."""
        while (item := self.recent.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        found = [path for path in paths if path.is_file()][:_MOST_RECENT]
        if found:
            words = QLabel("Opened lately")
            words.setObjectName("faint")
            words.setContentsMargins(10, 10, 0, 2)
            self.recent.addWidget(words)
        for path in found:
            self.recent.addWidget(self._recent_button(path))

    def paintEvent(self, event: QPaintEvent) -> None:
        """The bare table, and the shadow of the sheet on it."""
        palette = LAMPLIGHT if self._look.is_dark else DAYLIGHT
        with QPainter(self) as painter:
            painter.fillRect(event.rect(), QColor(palette.table))
            painter.setPen(QPen(QColor(palette.ruling), 0))
            across, down = range(_RULING_PX, self.width(), _RULING_PX), range(_RULING_PX, self.height(), _RULING_PX)
            painter.drawLines([QLineF(x, 0, x, self.height()) for x in across])
            painter.drawLines([QLineF(0, y, self.width(), y) for y in down])
            for off_px in (1, 3, 5):
                painter.fillRect(QRectF(self._card.geometry()).translated(off_px / 2, off_px), QColor(palette.shadow))

    def _recent_button(self, path: Path) -> QPushButton:
        button = QPushButton(path.name)
        button.setObjectName("link")
        button.setAutoDefault(True)  # Enter presses it, as well as Space
        button.setToolTip(str(path))
        button.setCursor(Qt.CursorShape.PointingHandCursor)
        button.clicked.connect(partial(self.recent_wanted.emit, path))
        return button

    def _renew_icons(self) -> None:
        for icon, way in self.ways.items():
            way.sign.setPixmap(self._look.pixmap(icon, "accent", _ICON_PX))


class _Way(QPushButton):
    """A button with a sign, a name and a line on what it leads to."""

    def __init__(self, name: str, words: str) -> None:
        super().__init__()
        self.setObjectName("way")
        self.setAutoDefault(True)
        self.setAccessibleName(name)
        self.setAccessibleDescription(words)
        self.sign, title, told = QLabel(), QLabel(name), QLabel(words)
        title.setObjectName("key")
        told.setObjectName("faint")
        self._grid = grid = QGridLayout(self)
        grid.setContentsMargins(12, 9, 12, 10)
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(1)
        grid.addWidget(self.sign, 0, 0, 2, 1)
        grid.addWidget(title, 0, 1)
        grid.addWidget(told, 1, 1)
        grid.setColumnStretch(1, 1)
        for label in (self.sign, title, told):
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def sizeHint(self) -> QSize:
        """Room for both lines."""
        return self._grid.sizeHint()
