"""A photo as large as the screen allows."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPixmap, QResizeEvent
from PySide6.QtWidgets import QDialog, QLabel, QVBoxLayout, QWidget

_SHARE = 0.8


class PhotoView(QDialog):
    """Shows one photo; it follows the window's size, and Escape or a click closes it."""

    def __init__(self, picture: QPixmap, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._picture = picture
        self.setWindowTitle(title)
        self.setToolTip("Escape closes it")
        self.shown = QLabel()
        self.shown.setAccessibleName(title)
        self.shown.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.shown.setMinimumSize(160, 120)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(6, 6, 6, 6)
        layout.addWidget(self.shown)
        room = self.screen().availableSize() * _SHARE
        self.resize(picture.size().scaled(room, Qt.AspectRatioMode.KeepAspectRatio).boundedTo(_largest(picture, room)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The photo fills the window."""
        ratio = self.devicePixelRatioF()
        drawn = self._picture.scaled(
            self.shown.size() * ratio, Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
        )
        drawn.setDevicePixelRatio(ratio)
        self.shown.setPixmap(drawn)
        super().resizeEvent(event)


def _largest(picture: QPixmap, room: QSize) -> QSize:
    """A small picture is shown at most twice as large."""
    return (picture.size() * 2).boundedTo(room).expandedTo(QSize(320, 240))
