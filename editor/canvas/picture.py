"""What is seen of the table at one moment: quiet sheets from their picture, lively ones drawn anew, the tool on top."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QFont, QPainter

from editor.canvas.layer import Layer
from editor.canvas.overlay import Overlay
from editor.canvas.painter import Painter
from editor.canvas.palette import DAYLIGHT, LAMPLIGHT, Palette
from editor.canvas.piece_paths import picked_path
from editor.canvas.scene import Scene
from editor.canvas.sheets import Sheets
from editor.canvas.viewport import Viewport
from editor.tools.base import Preview
from geometry.affine import Point, Points
from geometry.model.piece import Piece
from geometry.units import Unit

_EMPTY = "Nothing lies on the table yet.\nOpen a pattern or drop a DXF file here."


class Over(Protocol):
    """Something that is drawn over the sheets, where they lie."""

    def paint(self, painter: QPainter, scene: Scene, viewport: Viewport, palette: Palette, font: QFont) -> None:
        """Draw it."""


@dataclass(frozen=True, slots=True, eq=False)
class Moment:
    """Everything that decides what is seen.

    Attributes:
        sheets: What lies where.
        viewport: Where it is seen from.
        preview: What the tool shows.
        tried: Pieces as they would be.
        cuts: Where the step that is tried out cuts, on the table.
        carried: The sheet that is being moved.
        record: The selected record.
        unit: For the scale.
        ring: A place that was asked for, and how much of its ring is left, from 1 to 0.
        has_focus: Whether to show that keys come here.
        over: What lies over the sheets, the lowest first.
    """

    sheets: Sheets
    viewport: Viewport
    preview: Preview
    tried: tuple[Piece, ...] = ()
    cuts: tuple[Points, ...] = ()
    carried: str = ""
    record: str = ""
    unit: Unit = Unit.CM
    ring: tuple[Point, float] | None = None
    has_focus: bool = False
    over: tuple[Over, ...] = ()


class Picture:
    """Draws moments, in the colours of day or lamp light."""

    def __init__(self, background: QColor, font: QFont) -> None:
        self._layer = Layer()
        self.follow(background, font)

    def follow(self, background: QColor, font: QFont) -> None:
        """Take the colours that go with the window's background, and its font."""
        palette = LAMPLIGHT if background.lightnessF() < 0.5 else DAYLIGHT
        self._painter = Painter(palette, font, ratio=1.0)
        self._overlay = Overlay(palette, font)

    def sharpen(self) -> None:
        """Draw the quiet sheets anew the next time."""
        self._layer.redraw()

    def paint(self, painter: QPainter, moment: Moment, size: QSize, ratio: float, *, later: Callable[[], None]) -> None:
        """Draw a moment on a widget of that size; ``later`` is called if it should be drawn again, sharper, soon."""
        if ratio != self._painter.ratio:
            self._painter = Painter(self._painter.palette, self._painter.font, ratio=ratio)
        area = QRectF(0, 0, size.width(), size.height())
        lively = {piece.name for piece in moment.tried} | ({moment.carried} if moment.carried else set())
        lying = moment.sheets.lying(frozenset(lively))
        self._layer.paint(painter, self._painter, lying, moment.viewport, size, ratio, later=later)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if not moment.sheets.scene.sheets:
            self._overlay.empty(painter, area, _EMPTY)
        self._lively(painter, moment)
        for each in moment.over:
            each.paint(painter, moment.sheets.scene, moment.viewport, self._painter.palette, self._painter.font)
        self._selection(painter, moment)
        self._cuts(painter, moment)
        self._overlay.preview(painter, moment.preview, moment.viewport, area, _busy(moment))
        self._overlay.scale(painter, moment.viewport, area, moment.unit)
        if moment.ring is not None:
            place, strength = moment.ring
            self._overlay.ring(painter, QPointF(*moment.viewport.to_px(place)), strength)
        if moment.has_focus:
            self._overlay.focus_frame(painter, area)

    def _lively(self, painter: QPainter, moment: Moment) -> None:
        """Pieces that are tried out, with the outline they have now, and the sheet that is carried."""
        sheets, viewport = moment.sheets, moment.viewport
        for piece in moment.tried:
            self._painter.sheet(painter, sheets.lying_trial(piece), viewport)
        if moment.carried in sheets.scene.sheets:
            self._painter.sheet(painter, sheets.lying_sheet(moment.carried), viewport)

    def _selection(self, painter: QPainter, moment: Moment) -> None:
        scene = moment.sheets.scene
        selected = scene.sheets.get(scene.selected)
        if selected is None or any(piece.name == scene.selected for piece in moment.tried):
            return
        self._painter.selected(painter, moment.sheets.paths(scene.selected).sheet, selected.at, moment.viewport)
        path = picked_path(selected.piece, scene.picked)
        if not path.isEmpty():
            self._painter.selected_edge(painter, path, selected.at, moment.viewport)

    def _cuts(self, painter: QPainter, moment: Moment) -> None:
        """The cuts of what is tried out and of the selected record; the label of its piece stays readable on top."""
        for points in moment.cuts:
            self._overlay.cut(painter, points, moment.viewport)
        for lying in [moment.sheets.lying_trial(piece) for piece in moment.tried if moment.cuts]:
            self._painter.label(painter, lying.paths, lying.at, moment.viewport)
        hidden = {piece.name for piece in moment.tried}
        chosen = [cut for cut in moment.sheets.scene.cuts if cut.record == moment.record and cut.piece not in hidden]
        for cut in chosen:
            points = cut.points + np.array(moment.sheets.scene.sheets[cut.piece].at)
            self._overlay.cut(painter, points, moment.viewport)
        for name in {cut.piece for cut in chosen}:
            at = moment.sheets.scene.sheets[name].at
            self._painter.label(painter, moment.sheets.paths(name), at, moment.viewport)


def _busy(moment: Moment) -> QRectF:
    """What is looked at while a piece is tried out: words had better not lie on it."""
    if not moment.tried:
        return QRectF()
    x0, y0, x1, y1 = moment.sheets.scene.sheets[moment.tried[0].name].box
    left, top = moment.viewport.to_px((x0, y1))
    right, bottom = moment.viewport.to_px((x1, y0))
    return QRectF(left, top, right - left, bottom - top)
