"""Our own drawing of a body, front and back, with the tape of one measurement on it."""

from __future__ import annotations

from functools import cache
from typing import Final

from PySide6.QtCore import QByteArray, QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtWidgets import QSizePolicy, QWidget

from editor.theme import RESOURCES, Look
from geometry.fitting.measures import Measure

_WIDTH: Final = 500.0
_HEIGHT: Final = 570.0


@cache
def _lines() -> tuple[str, ...]:
    return tuple((RESOURCES / "figure" / "body.svg").read_text("utf-8").splitlines())


def drawing(measure: Measure | None, ink: str, tape: str) -> bytes:
    """The figure as SVG with one tape, or none, in the colours given."""
    wanted = f'id="{measure.value.replace(" ", "-")}"' if measure else "no tape"
    kept = (line for line in _lines() if 'stroke="tape"' not in line or wanted in line)
    return "\n".join(kept).replace("currentColor", ink).replace('"tape"', f'"{tape}"').encode()


class BodyFigure(QWidget):
    """The figure; it follows the measurement that is being filled in."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._measure: Measure | None = None
        self.setMinimumWidth(300)
        self.setFixedHeight(440)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """A third of a window."""
        return QSize(400, 440)

    def show_measure(self, measure: Measure | None) -> None:
        """Lay the tape of another measurement."""
        self._measure = measure
        self.setAccessibleName(f"Where the tape goes: {measure.value}" if measure else "A body, front and back")
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the figure as large as fits."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale = min(self.width() / _WIDTH, self.height() / _HEIGHT)
        left = (self.width() - _WIDTH * scale) / 2
        soft, tape = self._look.colour("soft"), self._look.colour("stop")
        shown = drawing(self._measure, soft.name(), tape.name())
        QSvgRenderer(QByteArray(shown)).render(painter, QRectF(left, 0, _WIDTH * scale, _HEIGHT * scale))
        painter.setPen(soft)
        for x, words in ((130, "front"), (370, "back")):
            at = QPointF(left + x * scale - 14, _HEIGHT * scale - 2)
            painter.drawText(at, words)
        painter.end()
