"""The table with every sheet that keeps still, as one picture: while a piece is dragged it is only copied."""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

from PySide6.QtCore import QRect, QRectF, QSize
from PySide6.QtGui import QPainter, QPixmap

from editor.canvas.painter import Lying, Painter
from editor.canvas.viewport import Viewport

SLOW_MS = 12.0
"""A picture that took longer than this is stretched while zooming and drawn anew when the wheel rests."""


class Layer:
    """A picture of sheets; drawn anew only where something came into view or changed."""

    def __init__(self) -> None:
        self._picture = QPixmap()
        self._viewport = Viewport()
        self._shown: tuple[Lying, ...] = ()
        self._painter: Painter | None = None
        self._took_ms = 0.0

    def paint(
        self,
        target: QPainter,
        painter: Painter,
        lying: tuple[Lying, ...],
        viewport: Viewport,
        size: QSize,
        ratio: float,
        *,
        later: Callable[[], None],
    ) -> None:
        """Bring the picture up to date and copy it to a widget of that size.

        Args:
            target: Draws on the widget.
            painter: How things look.
            lying: What is shown; the same tuple as before means that nothing changed.
            viewport: Where the table is seen from.
            size: Size of the widget.
            ratio: Device pixels per pixel.
            later: Called if what was copied is only stretched and should be drawn anew soon.
        """
        same = self._shown is lying and self._painter is painter and self._fits(size, ratio)
        if not same:
            self._begin(painter, lying, size, ratio)
            self._draw(viewport)
        elif viewport != self._viewport and not self._scroll(viewport):
            if self._took_ms > SLOW_MS:
                self._stretch(target, viewport)
                later()
                return
            self._draw(viewport)
        target.drawPixmap(0, 0, self._picture)

    def redraw(self) -> None:
        """Draw all of it anew the next time."""
        self._painter = None

    def _fits(self, size: QSize, ratio: float) -> bool:
        return self._picture.size() == size * ratio and self._picture.devicePixelRatio() == ratio

    def _begin(self, painter: Painter, lying: tuple[Lying, ...], size: QSize, ratio: float) -> None:
        self._painter, self._shown = painter, lying
        if not self._fits(size, ratio):
            self._picture = QPixmap(size * ratio)
            self._picture.setDevicePixelRatio(ratio)

    def _draw(self, viewport: Viewport) -> None:
        began = perf_counter()
        self._viewport = viewport
        self._fill(self._area)
        self._took_ms = (perf_counter() - began) * 1000

    @property
    def _area(self) -> QRectF:
        return QRectF(self._picture.rect()) if self._picture.isNull() else QRectF(self._logical(self._picture.rect()))

    def _logical(self, rect: QRect) -> QRectF:
        ratio = self._picture.devicePixelRatio()
        return QRectF(rect.x() / ratio, rect.y() / ratio, rect.width() / ratio, rect.height() / ratio)

    def _fill(self, area: QRectF) -> None:
        """Draw the part of the picture inside an area."""
        if self._painter is None:
            return
        painter = QPainter(self._picture)
        painter.setClipRect(area)
        self._painter.table(painter, self._viewport, area)
        x0, y1 = self._viewport.to_mm((area.left() - 8, area.top() - 8))
        x1, y0 = self._viewport.to_mm((area.right() + 8, area.bottom() + 8))
        for each in self._shown:
            box = each.box
            if box[0] <= x1 and box[2] >= x0 and box[1] <= y1 and box[3] >= y0:
                self._painter.sheet(painter, each, self._viewport)
        painter.end()

    def _scroll(self, viewport: Viewport) -> bool:
        """Follow a pan by moving the picture; only the strips that come into view are drawn."""
        ratio = self._picture.devicePixelRatio()
        dx = (viewport.left_px - self._viewport.left_px) * ratio
        dy = (viewport.top_px - self._viewport.top_px) * ratio
        whole = dx == int(dx) and dy == int(dy)
        rect = self._picture.rect()
        if viewport.px_per_mm != self._viewport.px_per_mm or not whole:
            return False
        if abs(dx) >= rect.width() or abs(dy) >= rect.height():
            return False
        shift_x, shift_y = int(dx), int(dy)
        self._picture.scroll(shift_x, shift_y, rect)
        self._viewport = viewport
        kept = rect.translated(shift_x, shift_y).intersected(rect)
        left = 0 if shift_x > 0 else kept.right() + 1
        top = 0 if shift_y > 0 else kept.bottom() + 1
        self._fill_strip(QRect(left, 0, abs(shift_x), rect.height()))
        self._fill_strip(QRect(kept.left(), top, kept.width(), abs(shift_y)))
        return True

    def _fill_strip(self, strip: QRect) -> None:
        """Draw a strip of device pixels, and a pixel around it, for its ends may fall between logical pixels."""
        if not strip.isEmpty():
            self._fill(self._logical(strip.adjusted(-1, -1, 1, 1)))

    def _stretch(self, target: QPainter, viewport: Viewport) -> None:
        """The old picture where it would be seen from here, on the bare table."""
        if self._painter is None:
            return
        area = self._area
        self._painter.table(target, viewport, area)
        left, top = viewport.to_px(self._viewport.to_mm((0.0, 0.0)))
        scale = viewport.px_per_mm / self._viewport.px_per_mm
        target.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, False)
        target.drawPixmap(
            QRectF(left, top, area.width() * scale, area.height() * scale),
            self._picture,
            QRectF(self._picture.rect()),
        )
