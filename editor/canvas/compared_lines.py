"""Another toile laid over the sheets, its outline in colour, with the places that lie apart dimensioned."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from editor.canvas.painter import placing
from editor.canvas.palette import Palette
from editor.canvas.piece_paths import add_chain, closed_path
from editor.canvas.scene import Scene, Sheet
from editor.canvas.viewport import Viewport
from geometry.affine import Point, distance_mm, frozen_points
from geometry.fitting.comparing import Dimension
from geometry.model.piece import Piece

_FAR_SHARE: Final = 0.12
"""Dimensions on a piece lie at least so far apart, against its height, that their words can be told apart."""

_MOST_PICKED, _MOST = 6, 2
_LEAST_PX: Final = 90.0
"""A sheet smaller than this on the screen gets no words."""

_OFF_PX: Final = 8.0
_END_PX: Final = 3.0


@dataclass(frozen=True, slots=True, eq=False)
class LaidOver:
    """One piece of the other toile.

    Attributes:
        piece: Name of the piece.
        path: Its stitching line and darts, laid over the sheet's piece.
        together: The point that both lie on.
        dimensions: Where they lie apart, the widest first, each with its words.
    """

    piece: str
    path: QPainterPath
    together: Point
    dimensions: tuple[tuple[Dimension, str], ...]


def outline(laid: Piece) -> QPainterPath:
    """What is drawn of a piece that is laid over another."""
    path = closed_path(laid.outline)
    for dart in laid.darts:
        edge = laid.edge(dart.edge)
        for mouth_mm in (dart.from_mm, dart.to_mm):
            add_chain(path, frozen_points([edge.point_at(mouth_mm), dart.tip]))
    return path


class ComparedLines:
    """The other toile; nothing until it is given its pieces."""

    def __init__(self) -> None:
        self.laid: tuple[LaidOver, ...] = ()

    def paint(self, painter: QPainter, scene: Scene, viewport: Viewport, palette: Palette, font: QFont) -> None:
        """Draw it where the sheets lie."""
        taken: list[QRectF] = []
        for each in self.laid:
            sheet = scene.sheets.get(each.piece)
            if sheet is None:
                continue
            pen = QPen(QColor(palette.mark), 2.0 if each.dimensions else 1.0)
            pen.setCosmetic(True)
            painter.setTransform(placing(viewport, sheet.at), True)
            painter.strokePath(each.path, pen)
            painter.resetTransform()
            self._together(painter, viewport.to_px(sheet.to_table(each.together)), palette)
            most = _MOST_PICKED if scene.selected == each.piece else _MOST
            for dimension, words in _chosen(each.dimensions, sheet, most):
                self._dimension(painter, sheet, dimension, viewport, palette)
                if (sheet.box[3] - sheet.box[1]) * viewport.px_per_mm > _LEAST_PX:
                    at = viewport.to_px(sheet.to_table(dimension.end))
                    self._words(painter, words, at, taken, palette, font)

    def _together(self, painter: QPainter, at: Point, palette: Palette) -> None:
        painter.setPen(QPen(QColor(palette.mark), 1.6))
        painter.setBrush(QColor(palette.paper))
        painter.drawEllipse(QPointF(*at), 4.5, 4.5)

    def _dimension(
        self, painter: QPainter, sheet: Sheet, dimension: Dimension, viewport: Viewport, palette: Palette
    ) -> None:
        start, end = (QPointF(*viewport.to_px(sheet.to_table(place))) for place in (dimension.start, dimension.end))
        painter.setPen(QPen(QColor(palette.warning), 1.4))
        painter.drawLine(start, end)
        across = QLineF(start, end).normalVector()
        if across.length() > 0:
            across.setLength(_END_PX)
            for place in (start, end):
                painter.drawLine(place - QPointF(across.dx(), across.dy()), place + QPointF(across.dx(), across.dy()))

    def _words(
        self, painter: QPainter, words: str, at: Point, taken: list[QRectF], palette: Palette, font: QFont
    ) -> None:
        """Beside a place, below words that stand there already."""
        metrics = QFontMetricsF(font)
        patch = QRectF(
            at[0] + _OFF_PX, at[1] - metrics.height() / 2, metrics.horizontalAdvance(words) + 8, metrics.height() + 2
        )
        while any(patch.intersects(other) for other in taken):
            patch.translate(0, patch.height() + 1)
        taken.append(patch)
        painter.setPen(QPen(QColor(palette.card_edge), 1))
        painter.setBrush(QColor(palette.card))
        painter.drawRoundedRect(patch, 3, 3)
        painter.setFont(font)
        painter.setPen(QColor(palette.warning))
        painter.drawText(patch, Qt.AlignmentFlag.AlignCenter, words)


def _chosen(dimensions: Sequence[tuple[Dimension, str]], sheet: Sheet, most: int) -> Iterator[tuple[Dimension, str]]:
    """The widest, and the widest of those that lie well away from the ones before."""
    far_mm = _FAR_SHARE * (sheet.box[3] - sheet.box[1])
    kept: list[Point] = []
    for dimension, words in dimensions:
        if len(kept) < most and all(distance_mm(dimension.start, other) > far_mm for other in kept):
            kept.append(dimension.start)
            yield dimension, words
