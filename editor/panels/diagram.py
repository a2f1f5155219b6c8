"""Drawings of the handbook in the colour of the text."""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from editor.theme import RESOURCES

SHAPE: Final = (240, 170)
"""Width and height of every drawing."""

_CAPTION: Final = re.compile("<text.*?</text>")


@cache
def diagram(code: str, colour: str, width_px: int, ratio: float, *, captions: bool = True) -> QPixmap:
    """The drawing of an entry, as wide as asked; an empty one if there is none."""
    size = QSize(width_px, width_px * SHAPE[1] // SHAPE[0])
    pixmap = QPixmap(size * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    path = RESOURCES / "diagrams" / f"{code}.svg"
    if path.exists():
        painter = QPainter(pixmap)
        drawing = path.read_text("utf-8").replace("currentColor", colour)
        drawing = drawing if captions else _CAPTION.sub("", drawing)
        QSvgRenderer(QByteArray(drawing.encode())).render(painter, QRectF(0, 0, size.width(), size.height()))
        painter.end()
    return pixmap
