"""Draws printed pages on the screen from the plan that the PDF is written from."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetricsF, QPainter, QPen, QPolygonF

from editor.printing.job import Page, SheetPlan
from editor.printing.lettering import face
from editor.printing.picture import Anchor, Drawing, Label, Stroke

_LETTER_PX = 64
"""Letters are drawn at this size and scaled, so that they keep their widths however small they get."""

_THINNEST_PX = 0.6
_UNREADABLE_PX = 3.0


def paint_page(painter: QPainter, plan: SheetPlan, page: Page, frame: QRectF) -> None:
    """Draw a page as a white sheet that fills a frame of the shape of the paper."""
    across, up = frame.width() / plan.page.width_mm, frame.height() / plan.page.height_mm
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(frame, QColor("white"))
    painter.setClipRect(frame)
    painter.translate(frame.bottomLeft())
    painter.scale(across, -up)
    paint_drawing(painter, page.furniture, across)
    if page.tile is not None:
        clip = page.clip
        painter.setClipRect(QRectF(clip.x0, clip.y0, clip.width_mm, clip.height_mm), Qt.ClipOperation.IntersectClip)
        paint_drawing(painter, plan.pattern_on(page), across)
    painter.restore()


def paint_drawing(painter: QPainter, drawing: Drawing, scale: float) -> None:
    """Draw lines and words with a painter that works in millimetres, y up; ``scale`` is pixels to the millimetre."""
    painter.setLayoutDirection(Qt.LayoutDirection.LeftToRight)  # as in the PDF, whatever letters a line begins with
    for stroke in drawing.strokes:
        _draw_stroke(painter, stroke, scale)
    for label in drawing.labels:
        if label.height_mm * scale >= _UNREADABLE_PX:
            _draw_label(painter, label)


def _draw_stroke(painter: QPainter, stroke: Stroke, scale: float) -> None:
    style = stroke.style
    if style.weight_mm:
        width_mm = max(style.weight_mm, _THINNEST_PX / scale)
        pen = QPen(_grey(style.grey), width_mm)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        if style.dash_mm:
            pen.setDashPattern([dash / width_mm for dash in style.dash_mm])
        painter.setPen(pen)
    else:
        painter.setPen(Qt.PenStyle.NoPen)
    if style.fill_grey is None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
    else:
        painter.setBrush(_grey(style.fill_grey))
    points = QPolygonF([QPointF(x, y) for x, y in stroke.points.tolist()])
    if stroke.closed:
        painter.drawPolygon(points)
    else:
        painter.drawPolyline(points)


def _draw_label(painter: QPainter, label: Label) -> None:
    font = _font(label.bold)
    width = QFontMetricsF(font).horizontalAdvance(label.text)
    back = {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[label.anchor]
    painter.save()
    painter.translate(*label.at)
    painter.rotate(label.angle_deg)
    size = label.height_mm / _LETTER_PX
    painter.scale(size, -size)
    painter.setFont(font)
    painter.setPen(_grey(label.grey))
    painter.drawText(QPointF(-back, 0.0), label.text)
    painter.restore()


def _grey(share: float) -> QColor:
    level = round(255 * share)
    return QColor(level, level, level)


@cache
def _font(bold: bool) -> QFont:
    number = QFontDatabase.addApplicationFont(str(face(bold).path))
    families = QFontDatabase.applicationFontFamilies(number)
    font = QFont(families[0]) if families else QFont()
    font.setPixelSize(_LETTER_PX)
    font.setBold(bold)
    font.setStretch(QFont.Stretch.SemiCondensed)
    return font
