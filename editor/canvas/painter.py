"""Draws the table and its sheets. Reads only; every size is in the pixels a person sees."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen, QTransform

from editor.canvas.palette import Palette
from editor.canvas.piece_paths import PiecePaths
from editor.canvas.viewport import Box, Viewport
from geometry.affine import Point

PLAIN_BELOW_PX = 90.0
"""A sheet smaller than this on the screen is drawn without its marks, which would only be a blur."""

BARE_BELOW_PX = 26.0
"""A sheet smaller than this is drawn as a flat shape."""

_LABEL_SPILL = 1.05
"""A label may be so much wider than the room that is free of lines."""

_SHADOWS_PX = ((0.6, 1.6), (1.6, 4.4))
_RULINGS = (1000.0, 100.0, 10.0)
_LEAST_RULING_PX = 7.0


@dataclass(frozen=True, slots=True, eq=False)
class Lying:
    """A sheet ready to be drawn.

    Attributes:
        paths: Its piece.
        at: Where the origin of the piece's coordinates lies.
        box: What it covers of the table.
        before: Its cutting line as it was, if it was altered.
        chalk: The cuts of the journal on it.
    """

    paths: PiecePaths
    at: Point
    box: Box
    before: QPainterPath | None = None
    chalk: QPainterPath | None = None


class Painter:
    """Paints in one palette; pens and brushes are made once.

    Args:
        palette: The colours.
        font: For labels.
        ratio: Device pixels per pixel; pens that keep their width when the view is magnified count in device pixels.
    """

    def __init__(self, palette: Palette, font: QFont, *, ratio: float) -> None:
        self.palette = palette
        self.font = font
        self.ratio = ratio
        self._cutting = _pen(palette.cutting, 1.5 * ratio)
        self._thin_cutting = _pen(palette.cutting, ratio)
        self._stitching = _pen(palette.stitching, ratio)
        self._stitching.setDashPattern([5.0, 3.5])
        self._ink = _pen(palette.ink, ratio)
        self._selected = _pen(palette.mark, 2.4 * ratio)
        self._edge = _pen(palette.mark, 4.0 * ratio)
        self._edge.setCapStyle(Qt.PenCapStyle.RoundCap)
        self._before = _pen(palette.before, 1.2 * ratio)
        self._before.setDashPattern([1.2, 2.6])
        self._dust = _pen(dusty(palette.chalk), 3.5 * ratio)
        self._chalk = _pen(palette.chalk, 1.2 * ratio)
        self._chalk.setDashPattern([6.0, 3.5])
        self._paper = QBrush(QColor(palette.paper))
        self._wedge = QBrush(QColor(palette.wedge))
        self._solid = QBrush(QColor(palette.ink))
        self._shadow = QColor(palette.shadow)

    # -- the table

    def table(self, painter: QPainter, viewport: Viewport, area: QRectF) -> None:
        """The bare table in an area of the widget, ruled in centimetres as fine as can be seen."""
        painter.fillRect(area, QColor(self.palette.table))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        shown = [step for step in _RULINGS if step * viewport.px_per_mm >= _LEAST_RULING_PX][-2:]
        for step_mm in reversed(shown):
            coarse = (step_mm == shown[0] and len(shown) > 1) or step_mm * viewport.px_per_mm >= 60
            painter.setPen(QPen(QColor(self.palette.ruling if coarse else self.palette.fine_ruling), 0))
            painter.drawLines(_ruling(viewport, area, step_mm))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)

    # -- sheets

    def sheet(self, painter: QPainter, lying: Lying, viewport: Viewport) -> None:
        """A piece where it lies: shadow, paper, the outline it had before, lines, cuts and label."""
        paths, box, place = lying.paths, lying.box, placing(viewport, lying.at)
        size_px = max(box[2] - box[0], box[3] - box[1]) * viewport.px_per_mm
        if size_px >= BARE_BELOW_PX:
            self._cast_shadow(painter, paths, place, size_px)
        painter.setTransform(place, True)
        painter.fillPath(paths.sheet, self._paper)
        if size_px < PLAIN_BELOW_PX:
            painter.strokePath(paths.sheet, self._thin_cutting)
            painter.resetTransform()
            return
        painter.fillPath(paths.wedges, self._wedge)
        if lying.before is not None:
            painter.strokePath(lying.before, self._before)
        painter.strokePath(paths.stitching, self._stitching)
        painter.strokePath(paths.ink, self._ink)
        painter.fillPath(paths.solid, self._solid)
        painter.strokePath(paths.sheet, self._cutting)
        if lying.chalk is not None:
            painter.strokePath(lying.chalk, self._dust)
            painter.strokePath(lying.chalk, self._chalk)
        painter.resetTransform()
        self.label(painter, paths, lying.at, viewport)

    def selected(self, painter: QPainter, sheet: QPainterPath, at: Point, viewport: Viewport) -> None:
        """The cutting line of the selected piece."""
        self._stroke(painter, sheet, at, viewport, self._selected)

    def selected_edge(self, painter: QPainter, edge: QPainterPath, at: Point, viewport: Viewport) -> None:
        """The selected edge."""
        self._stroke(painter, edge, at, viewport, self._edge)

    def _stroke(self, painter: QPainter, path: QPainterPath, at: Point, viewport: Viewport, pen: QPen) -> None:
        painter.setTransform(placing(viewport, at), True)
        painter.strokePath(path, pen)
        painter.resetTransform()

    def _cast_shadow(self, painter: QPainter, paths: PiecePaths, place: QTransform, size_px: float) -> None:
        """A soft shadow from a few clear layers, each a little farther off."""
        for dx, dy in _SHADOWS_PX if size_px >= PLAIN_BELOW_PX else _SHADOWS_PX[:1]:
            painter.setTransform(place * QTransform.fromTranslate(dx, dy), True)
            painter.fillPath(paths.sheet, self._shadow)
            painter.resetTransform()

    def label(self, painter: QPainter, paths: PiecePaths, at: Point, viewport: Viewport) -> None:
        """Name, size and how it is cut, on a patch of bare paper so that no line runs through the letters."""
        (label_x, label_y), room_mm = paths.room
        room_px = room_mm * viewport.px_per_mm
        bold = QFont(self.font)
        bold.setBold(True)
        bold.setPointSizeF(self.font.pointSizeF() * _text_growth(room_px))
        small = QFont(self.font)
        small.setPointSizeF(bold.pointSizeF() * 0.88)
        names = _broken(paths.words[0], QFontMetricsF(bold), room_px)
        rows = [(name, bold, self.palette.text) for name in names]
        rows += [(word, small, self.palette.faint_text) for word in paths.words[1:]]
        metrics = [QFontMetricsF(font) for _, font, _ in rows]
        widths = [metric.horizontalAdvance(word) for metric, (word, _, _) in zip(metrics, rows, strict=True)]
        if max(widths) > room_px * _LABEL_SPILL:
            rows, metrics, widths = rows[: len(names)], metrics[: len(names)], widths[: len(names)]
        x, y = viewport.to_px((at[0] + label_x, at[1] + label_y))
        top = y - sum(metric.height() for metric in metrics) / 2
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._paper)
        for (word, font, colour), metric, width in zip(rows, metrics, widths, strict=True):
            patch = QRectF(x - width / 2 - 3, top, width + 6, metric.height())
            if width <= room_px * _LABEL_SPILL:
                painter.fillRect(patch, self._paper)
            painter.setFont(font)
            painter.setPen(QColor(colour))
            painter.drawText(patch, Qt.AlignmentFlag.AlignCenter, word)
            top += metric.height()


def placing(viewport: Viewport, at: Point) -> QTransform:
    """The transform from a piece's millimetres to the widget's pixels."""
    scale = viewport.px_per_mm
    x, y = viewport.to_px(at)
    return QTransform(scale, 0.0, 0.0, -scale, x, y)


def dusty(colour: str) -> QColor:
    """A colour as the dust beside a chalk line."""
    dust = QColor(colour)
    dust.setAlpha(55)
    return dust


def _pen(colour: str | QColor, width_px: float) -> QPen:
    pen = QPen(QColor(colour), width_px)
    pen.setCosmetic(True)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen


def _broken(name: str, metrics: QFontMetricsF, room_px: float) -> list[str]:
    """A name in one line, or in two where one is wider than its room."""
    spaces = [at for at, letter in enumerate(name) if letter == " "]
    if not spaces or metrics.horizontalAdvance(name) <= room_px:
        return [name]
    middle = min(spaces, key=lambda at: abs(at - len(name) / 2))
    return [name[:middle], name[middle + 1 :]]


def _text_growth(room_px: float) -> float:
    """Labels grow a little with the room they have."""
    return min(max(room_px / 110.0, 0.84), 1.35)


def _ruling(viewport: Viewport, area: QRectF, step_mm: float) -> list[QLineF]:
    x0, y1 = viewport.to_mm((area.left(), area.top()))
    x1, y0 = viewport.to_mm((area.right(), area.bottom()))
    lines = []
    for index in range(math.floor(x0 / step_mm), math.ceil(x1 / step_mm) + 1):
        x, _ = viewport.to_px((index * step_mm, 0.0))
        lines.append(QLineF(QPointF(x, area.top()), QPointF(x, area.bottom())))
    for index in range(math.floor(y0 / step_mm), math.ceil(y1 / step_mm) + 1):
        _, y = viewport.to_px((0.0, index * step_mm))
        lines.append(QLineF(QPointF(area.left(), y), QPointF(area.right(), y)))
    return lines
