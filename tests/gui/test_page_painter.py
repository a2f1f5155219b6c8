"""Words on the screen stand as they do on paper."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from editor.dialogs.page_painter import paint_drawing
from editor.printing.picture import Anchor, Drawing, Label
from editor.printing.reading_order import as_set

pytestmark = pytest.mark.gui

SCALE = 10.0


def picture(text: str) -> np.ndarray:
    """Blackness of a label 8 mm high in a picture of 60 by 12 mm."""
    image = QImage(600, 120, QImage.Format.Format_Grayscale8)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.translate(0.0, 120.0)
    painter.scale(SCALE, -SCALE)
    paint_drawing(painter, Drawing((), (Label((2.0, 3.0), text, 8.0, anchor=Anchor.START),)), SCALE)
    painter.end()
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(120, image.bytesPerLine())[:, :600]
    return 1.0 - rows / 255.0


def test_a_line_that_begins_with_hebrew_begins_at_the_left_as_on_paper(qtbot: QtBot) -> None:
    """The full stop after it stands at its right end: there only the foot of the line has ink."""
    assert as_set("שרה.").endswith(".")
    ink = picture("שרה.")
    columns = np.flatnonzero(ink.max(axis=0) > 0.5)
    last = ink[:, columns[-1] - 3 : columns[-1] + 1]
    first = ink[:, columns[0] : columns[0] + 8]
    heights = [np.ptp(np.flatnonzero(part.max(axis=1) > 0.5)) for part in (first, last)]
    assert heights[1] < heights[0] / 2
