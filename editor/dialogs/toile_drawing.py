"""Drawings of what is seen on a toile, in the colours of the window."""

from __future__ import annotations

from functools import cache
from typing import Final

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from editor.theme import RESOURCES, Look

_INK, _CLOTH, _SIGN = "currentColor", "#fdfaf3", "#a8321f"
"""The colours in the files, for which those of the window are put."""

_EDGE: Final = 1.0


def toile_drawing(name: str, look: Look, side_px: int, ratio: float) -> QPixmap:
    """The drawing of a symptom as a card with a thin edge."""
    colours = (look.colour(role).name() for role in ("ink", "card", "stop", "panel", "line"))
    return _drawn(name, *colours, side_px, ratio)


@cache
def _drawn(name: str, ink: str, cloth: str, sign: str, ground: str, line: str, side_px: int, ratio: float) -> QPixmap:
    pixmap = QPixmap(QSize(side_px, side_px) * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    text = (RESOURCES / "toile" / f"{name}.svg").read_text("utf-8")
    drawing = text.replace(_CLOTH, cloth).replace(_SIGN, sign).replace(_INK, ink)
    frame = QRectF(_EDGE, _EDGE, side_px - 2 * _EDGE, side_px - 2 * _EDGE)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(frame, ground)
    painter.setClipRect(frame)
    QSvgRenderer(QByteArray(drawing.encode())).render(painter, frame)
    painter.setPen(line)
    painter.drawRect(frame)
    painter.end()
    return pixmap
