"""The other sizes of the bought pattern as thin outlines over the sheets, each with its own dashes and its name."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from editor.canvas.painter import placing
from editor.canvas.palette import Palette
from editor.canvas.piece_paths import closed_path
from editor.canvas.scene import Scene
from editor.canvas.viewport import Viewport
from editor.session import Session
from geometry.affine import Point, distance_mm
from geometry.model.pattern import Nest
from geometry.model.piece import Piece

_DASHES = ([9.0, 3.0], [2.0, 2.5], [9.0, 2.5, 2.0, 2.5], [4.0, 2.0], [1.0, 2.0], [12.0, 2.0, 1.0, 2.0, 1.0, 2.0])
_ROOM_PX = 17.0
"""Names of sizes are shown where each has this much of an edge on the screen."""


@dataclass(frozen=True, slots=True, eq=False)
class SizeLine:
    """The outline of a piece in one size, and where its name stands on it."""

    size: str
    path: QPainterPath
    label: Point
    style: int


class SizeLines:
    """Outlines of all sizes of the open nest, by the name of the piece; shown when asked for."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self.is_shown = False
        self._nest: Nest | None = None
        self._lines: dict[str, tuple[SizeLine, ...]] = {}

    def of(self, name: str, shown_size: str) -> tuple[SizeLine, ...]:
        """The outlines of a piece in every size but the one shown."""
        if name not in self._lines:
            self._lines[name] = tuple(self._made(name))
        return tuple(line for line in self._lines[name] if line.size != shown_size)

    def paint(self, painter: QPainter, scene: Scene, viewport: Viewport, palette: Palette, font: QFont) -> None:
        """Draw them where the sheets lie."""
        project = self._session.project
        if project is None or not self.is_shown:
            return
        if self._nest is not project.base.nest:
            self._nest, self._lines = project.base.nest, {}
        small = QFont(font)
        small.setPointSizeF(font.pointSizeF() * 0.82)
        for sheet in scene:
            lines = self.of(sheet.name, scene.pattern.size)
            for line in lines:
                pen = QPen(QColor(palette.mark), 1.0)
                pen.setCosmetic(True)
                pen.setDashPattern(_DASHES[line.style % len(_DASHES)])
                painter.setTransform(placing(viewport, sheet.at), True)
                painter.strokePath(line.path, pen)
                painter.resetTransform()
            high = sheet.box[3] - sheet.box[1]
            if high * viewport.px_per_mm >= _ROOM_PX * (len(lines) + 4):
                for line in lines:
                    self._label(painter, line.size, viewport.to_px(sheet.to_table(line.label)), palette, small)

    def _made(self, name: str) -> list[SizeLine]:
        patterns = self._nest.patterns if self._nest else ()
        count = len(patterns)
        edge = _apart(tuple(piece for pattern in patterns for piece in pattern.pieces if piece.name == name))
        found = []
        for index, pattern in enumerate(patterns):
            piece = next((piece for piece in pattern.pieces if piece.name == name), None)
            if piece is not None:
                label = _place(piece, edge, (index + 1) / (count + 1))
                found.append(SizeLine(pattern.size, closed_path(piece.outline), label, index))
        return found

    def _label(self, painter: QPainter, words: str, at: Point, palette: Palette, font: QFont) -> None:
        metrics = QFontMetricsF(font)
        patch = QRectF(0, 0, metrics.horizontalAdvance(words) + 6, metrics.height())
        patch.moveCenter(QPointF(*at))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(palette.paper))
        painter.drawRoundedRect(patch, 3, 3)
        painter.setFont(font)
        painter.setPen(QColor(palette.mark))
        painter.drawText(patch, Qt.AlignmentFlag.AlignCenter, words)


def _apart(sizes: tuple[Piece, ...]) -> str:
    """The edge that lies farthest apart in the smallest and the largest size: names are told apart best there."""
    first, last = sizes[0], sizes[-1]
    there = {edge.id: edge.point_at(edge.length_mm / 2) for edge in last.edges}
    known = [edge for edge in first.edges if edge.id in there] or list(first.edges)
    middles = {edge.id: edge.point_at(edge.length_mm / 2) for edge in known}
    return max(known, key=lambda edge: distance_mm(middles[edge.id], there.get(edge.id, middles[edge.id]))).id


def _place(piece: Piece, edge_id: str, share: float) -> Point:
    """On that edge, sizes one after the other so that names do not meet."""
    edge = next((edge for edge in piece.edges if edge.id == edge_id), piece.edges[0])
    return edge.point_at(edge.length_mm * share)
