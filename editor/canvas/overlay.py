"""Draws what a tool shows on top of the sheets: chalk, points, words; and the scale and the focus frame."""

from __future__ import annotations

import math

from PySide6.QtCore import QLineF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from editor.canvas.painter import dusty
from editor.canvas.palette import Palette
from editor.canvas.piece_paths import polygon
from editor.canvas.viewport import Viewport
from editor.tools.base import Chalk, ChalkKind, Preview, Readout, Spot, SpotKind, Tag
from geometry.affine import Affine, Points
from geometry.units import Unit, format_length

_WRAP_CHARS = 44
_PAD_PX = 9.0
_OFF_PX = 18.0
_LADDERS_MM = {
    Unit.MM: (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000),
    Unit.CM: (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000),
    Unit.INCH: tuple(25.4 * inches for inches in (0.125, 0.25, 0.5, 1, 2, 4, 8, 12, 24, 48, 96, 240, 480)),
}
_SCALE_PX = 190.0
_SEAM_DASHES = ([20.0, 0.01], [5.0, 1.6], [1.2, 1.8], [6.0, 1.6, 1.2, 1.6])
"""Seams side by side differ in their dashes as well as in their chalk."""


class Overlay:
    """Paints in one palette."""

    def __init__(self, palette: Palette, font: QFont) -> None:
        self.palette = palette
        self._font = font
        self._bold = QFont(font)
        self._bold.setBold(True)
        self._chalk, self._mark = QColor(palette.chalk), QColor(palette.mark)
        self._dust = dusty(palette.chalk)
        self._haze = QColor(palette.mark)
        self._haze.setAlpha(110)

    def preview(self, painter: QPainter, preview: Preview, viewport: Viewport, area: QRectF, busy: QRectF) -> None:
        """Everything a tool shows but its piece; words are kept clear of a busy part of the widget if they can be."""
        for chalk in preview.chalk:
            self._line(painter, chalk, viewport)
        for spot in preview.spots:
            self._spot(painter, spot, viewport)
        for tag in preview.tags:
            self._tag(painter, tag, viewport)
        if preview.readout is not None:
            self._readout(painter, preview.readout, viewport, area, busy)

    # -- lines

    def _line(self, painter: QPainter, chalk: Chalk, viewport: Viewport) -> None:
        points = self._seen(chalk.points, viewport)
        match chalk.kind:
            case ChalkKind.OPENED | ChalkKind.FOLDED:
                self._filled(painter, points, chalk.kind)
            case ChalkKind.CUT:
                self._stroked(painter, points, QPen(self._dust, 4.5))
                self._stroked(painter, points, QPen(self._chalk, 1.8))
            case ChalkKind.RIM:
                self._stroked(painter, points, QPen(self._chalk, 1.4))
            case ChalkKind.LOOSE:
                pen = QPen(self._chalk, 1.8)
                pen.setDashPattern([4.0, 3.0])
                self._stroked(painter, points, pen)
            case ChalkKind.GUIDE:
                self._stroked(painter, points, QPen(self._haze, 4.0))
            case ChalkKind.TAPE:
                self._stroked(painter, points, QPen(self._mark, 1.6))
            case ChalkKind.LAID:
                self._laid(painter, points)
            case ChalkKind.INK:
                self._stroked(painter, points, QPen(QColor(self.palette.ink), 1.1))
            case ChalkKind.SEWN | ChalkKind.PROPOSED:
                pen = QPen(self._seam_colour(chalk.style), 4.0 if chalk.kind is ChalkKind.SEWN else 2.2)
                pen.setDashPattern(_SEAM_DASHES[chalk.style % len(_SEAM_DASHES)])
                self._stroked(painter, points, pen)

    def cut(self, painter: QPainter, points: Points, viewport: Viewport) -> None:
        """A cut of the selected record, on the table."""
        places = self._seen(points, viewport)
        self._stroked(painter, places, QPen(self._dust, 6.0))
        self._stroked(painter, places, QPen(self._chalk, 2.0))

    def _seen(self, points: Points, viewport: Viewport) -> QPolygonF:
        scale = viewport.px_per_mm
        return polygon(Affine(scale, 0.0, 0.0, -scale, viewport.left_px, viewport.top_px).points(points))

    def _laid(self, painter: QPainter, points: QPolygonF) -> None:
        """A piece on top, of thin paper."""
        paper = QColor(self.palette.paper)
        paper.setAlpha(150)
        painter.setPen(QPen(QColor(self.palette.cutting), 1.4))
        painter.setBrush(paper)
        painter.drawPolygon(points)

    def _filled(self, painter: QPainter, points: QPolygonF, kind: ChalkKind) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self.palette.opened if kind is ChalkKind.OPENED else self.palette.folded))
        painter.drawPolygon(points)

    def _stroked(self, painter: QPainter, points: QPolygonF, pen: QPen) -> None:
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen)
        painter.drawPolyline(points)

    # -- points

    def _spot(self, painter: QPainter, spot: Spot, viewport: Viewport) -> None:
        at = QPointF(*viewport.to_px(spot.at))
        paper = QBrush(QColor(self.palette.card).toRgb())
        match spot.kind:
            case SpotKind.SNAP:
                _disc(painter, at, 6.5, QPen(self._mark, 2.0), Qt.BrushStyle.NoBrush)
                _disc(painter, at, 1.8, Qt.PenStyle.NoPen, self._mark)
            case SpotKind.VERTEX:
                _disc(painter, at, 3.5, Qt.PenStyle.NoPen, self._chalk)
            case SpotKind.END:
                _disc(painter, at, 5.0, QPen(self._chalk, 2.0), paper)
            case SpotKind.HINGE:
                _disc(painter, at, 9.0, QPen(self._chalk, 1.6), self._dust)
                _disc(painter, at, 4.5, Qt.PenStyle.NoPen, self._chalk)
            case SpotKind.TAPE:
                _disc(painter, at, 4.0, QPen(self._mark, 2.0), paper)
            case SpotKind.HANDLE:
                self._handle(painter, at, spot)
            case SpotKind.KNOB:
                self._knob(painter, at, spot)
            case SpotKind.LANDMARK:
                painter.setPen(QPen(self._mark, 1.4))
                painter.drawLines([QLineF(at + QPointF(-4, dy), at + QPointF(4, -dy)) for dy in (-4, 4)])

    def _handle(self, painter: QPainter, at: QPointF, spot: Spot) -> None:
        """A knob with an arrow both ways along which it can be pulled."""
        _disc(painter, at, 11.0, QPen(QColor(self.palette.card).toRgb(), 2.0), self._chalk)
        painter.save()
        painter.translate(at)
        painter.rotate(-math.degrees(math.atan2(spot.towards[1], spot.towards[0])))
        pen = QPen(QColor(self.palette.paper), 1.8)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(pen)
        painter.drawLines(
            [
                QLineF(-6.0, 0.0, 6.0, 0.0),
                *(QLineF(6.0 * end, 0.0, 2.8 * end, 3.2 * side) for end in (1, -1) for side in (1, -1)),
            ]
        )
        painter.restore()

    def _knob(self, painter: QPainter, at: QPointF, spot: Spot) -> None:
        """A small square standing in the direction it can be pulled in."""
        painter.save()
        painter.translate(at)
        painter.rotate(-math.degrees(math.atan2(spot.towards[1], spot.towards[0])))
        painter.setPen(QPen(self._mark, 1.8))
        painter.setBrush(QColor(self.palette.paper))
        painter.drawRect(QRectF(-4.5, -4.5, 9.0, 9.0))
        painter.drawLines([QLineF(4.5, 0.0, 9.0, 0.0), QLineF(-4.5, 0.0, -9.0, 0.0)])
        painter.restore()

    def _seam_colour(self, style: int) -> QColor:
        return QColor(self.palette.seams[style % len(self.palette.seams)])

    def _tag(self, painter: QPainter, tag: Tag, viewport: Viewport) -> None:
        """A number in a small round patch."""
        metrics = QFontMetricsF(self._bold)
        high = metrics.height() + 2
        wide = max(metrics.horizontalAdvance(tag.text) + 9, high)
        patch = QRectF(0, 0, wide, high)
        patch.moveCenter(QPointF(*viewport.to_px(tag.at)))
        colour = self._seam_colour(tag.style)
        paper = QColor(self.palette.paper)
        painter.setPen(QPen(colour, 1.6))
        painter.setBrush(colour if tag.is_firm else paper)
        painter.drawRoundedRect(patch, high / 2, high / 2)
        painter.setFont(self._bold)
        painter.setPen(paper if tag.is_firm else colour)
        painter.drawText(patch, Qt.AlignmentFlag.AlignCenter, tag.text)

    # -- words

    def _readout(self, painter: QPainter, readout: Readout, viewport: Viewport, area: QRectF, busy: QRectF) -> None:
        """A card of words beside a place."""
        lines = _wrapped(readout)
        fonts = [self._bold if index == 0 and not readout.refused else self._font for index in range(len(lines))]
        metrics = [QFontMetricsF(font) for font in fonts]
        width = max(m.horizontalAdvance(line.lstrip("!")) for m, line in zip(metrics, lines, strict=True))
        size = QSizeF(width + 2 * _PAD_PX, sum(m.height() for m in metrics) + 1.2 * _PAD_PX)
        card = _clear_spot(QPointF(*viewport.to_px(readout.at)), size, area.adjusted(6, 6, -6, -6), busy)
        painter.setPen(QPen(QColor(self.palette.card_edge), 1.0))
        painter.setBrush(QColor(self.palette.card))
        painter.drawRoundedRect(card, 6.0, 6.0)
        baseline = card.top() + 0.6 * _PAD_PX
        for index, (line, font, metric) in enumerate(zip(lines, fonts, metrics, strict=True)):
            painter.setFont(font)
            painter.setPen(self._word_colour(line, index, readout.refused))
            painter.drawText(QPointF(card.left() + _PAD_PX, baseline + metric.ascent()), line.lstrip("!"))
            baseline += metric.height()

    def _word_colour(self, line: str, index: int, refused: bool) -> QColor:
        if refused or line.startswith("!"):
            return QColor(self.palette.warning)
        return QColor(self.palette.text if index == 0 else self.palette.faint_text)

    # -- the frame

    def ring(self, painter: QPainter, at: QPointF, strength: float) -> None:
        """A ring round a place that was asked for; it fades as ``strength`` goes from 1 to 0."""
        for radius, width in ((15.0 + 10 * (1 - strength), 3.0), (26.0 + 22 * (1 - strength), 2.0)):
            colour = QColor(self._mark)
            colour.setAlphaF(max(strength, 0.0) * (1.0 if radius < 26 else 0.6))
            _disc(painter, at, radius, QPen(colour, width), Qt.BrushStyle.NoBrush)

    def scale(self, painter: QPainter, viewport: Viewport, area: QRectF, unit: Unit) -> None:
        """A bar with its length, so that sizes can be judged."""
        fitting = [step for step in _LADDERS_MM[unit] if step * viewport.px_per_mm <= _SCALE_PX]
        length_mm = float(fitting[-1]) if fitting else float(_LADDERS_MM[unit][0])
        width = length_mm * viewport.px_per_mm
        left, top = area.left() + 18.0, area.bottom() - 20.0
        words = format_length(length_mm, unit)
        ground = QColor(self.palette.table)
        ground.setAlpha(215)
        metrics = QFontMetricsF(self._font)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ground)
        patch = QRectF(
            left - 3.0, top - 5.0 - metrics.height(), metrics.horizontalAdvance(words) + 6.0, metrics.height()
        )
        painter.drawRoundedRect(patch, 3.0, 3.0)
        painter.setPen(QPen(QColor(self.palette.cutting), 1.0))
        for index in range(4):
            painter.setBrush(QColor(self.palette.cutting if index % 2 == 0 else self.palette.paper))
            painter.drawRect(QRectF(left + width * index / 4, top, width / 4, 5.0))
        painter.setFont(self._font)
        painter.setPen(QColor(self.palette.text))
        painter.drawText(QPointF(left, top - 6.0), words)

    def focus_frame(self, painter: QPainter, area: QRectF) -> None:
        """Shows that keys go to the table."""
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(self._mark, 3.0))
        painter.drawRect(area.adjusted(1.5, 1.5, -1.5, -1.5))

    def empty(self, painter: QPainter, area: QRectF, words: str) -> None:
        """What to do where nothing lies on the table."""
        painter.setFont(self._font)
        painter.setPen(QColor(self.palette.text))
        painter.drawText(area, Qt.AlignmentFlag.AlignCenter, words)


def _disc(
    painter: QPainter, at: QPointF, radius: float, pen: QPen | Qt.PenStyle, brush: QBrush | QColor | Qt.BrushStyle
) -> None:
    painter.setPen(pen)
    painter.setBrush(brush)
    painter.drawEllipse(at, radius, radius)


def _clear_spot(at: QPointF, size: QSizeF, area: QRectF, busy: QRectF) -> QRectF:
    """Where a card goes: beside a place on the side that hides least of what is busy, inside the area."""
    spots: list[tuple[bool, float, int, QRectF]] = []
    for dx in (_OFF_PX, -_OFF_PX - size.width()):
        for dy in (-_OFF_PX - size.height(), _OFF_PX):
            left = min(max(at.x() + dx, area.left()), area.right() - size.width())
            top = min(max(at.y() + dy, area.top()), area.bottom() - size.height())
            spot = QRectF(QPointF(left, top), size)
            hidden = spot.intersected(busy)
            spots.append((spot.contains(at), hidden.width() * hidden.height(), len(spots), spot))
    return min(spots, key=lambda row: row[:3])[3]


def _wrapped(readout: Readout) -> list[str]:
    lines: list[str] = []
    for text in readout.lines:
        row = ""
        for word in text.split(" "):
            if row and len(row) + len(word) + 1 > _WRAP_CHARS:
                lines.append(row)
                row = word
            else:
                row = f"{row} {word}" if row else word
        lines.append(row)
    return lines
