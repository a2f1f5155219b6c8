"""Where the table is seen from: millimetres of the table (y up) to pixels of the widget (y down) and back."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.affine import Point

Box = tuple[float, float, float, float]
"""Smallest x, smallest y, largest x, largest y."""

LEAST_PX_PER_MM = 0.01
"""Zoomed out this far, 100 m of table fit on a screen."""

MOST_PX_PER_MM = 60.0
"""Zoomed in this far, a hairline of 0.1 mm is six pixels wide."""


@dataclass(frozen=True, slots=True)
class Viewport:
    """The part of the table that is seen.

    Attributes:
        px_per_mm: Logical pixels per millimetre.
        left_px: Where the table's origin lies from the left of the widget.
        top_px: Where it lies from the top.
    """

    px_per_mm: float = 1.0
    left_px: float = 0.0
    top_px: float = 0.0

    def to_px(self, place: Point) -> Point:
        """The pixel a place on the table is seen at."""
        return (self.left_px + self.px_per_mm * place[0], self.top_px - self.px_per_mm * place[1])

    def to_mm(self, place_px: Point) -> Point:
        """The place on the table under a pixel."""
        return ((place_px[0] - self.left_px) / self.px_per_mm, (self.top_px - place_px[1]) / self.px_per_mm)

    def panned(self, dx_px: float, dy_px: float) -> Viewport:
        """The view after the table was pulled by some pixels."""
        return Viewport(self.px_per_mm, self.left_px + dx_px, self.top_px + dy_px)

    def zoomed(self, factor: float, at_px: Point) -> Viewport:
        """The view magnified by a factor; what is seen at ``at_px`` stays there."""
        scale = min(max(self.px_per_mm * factor, LEAST_PX_PER_MM), MOST_PX_PER_MM)
        ratio = scale / self.px_per_mm
        return Viewport(
            scale,
            at_px[0] - (at_px[0] - self.left_px) * ratio,
            at_px[1] - (at_px[1] - self.top_px) * ratio,
        )

    def centred_on(self, place: Point, width_px: float, height_px: float) -> Viewport:
        """The view at the same scale with a place in the middle of the widget."""
        s = self.px_per_mm
        return Viewport(s, width_px / 2 - s * place[0], height_px / 2 + s * place[1])


def is_seen(box: Box, view: Viewport, width_px: float, height_px: float) -> bool:
    """Whether enough of a box is seen to work on it: a third of it, or it fills a third of the widget."""
    left, top = view.to_px((box[0], box[3]))
    right, bottom = view.to_px((box[2], box[1]))
    wide, high = min(right, width_px) - max(left, 0.0), min(bottom, height_px) - max(top, 0.0)
    least = min((right - left) * (bottom - top), width_px * height_px) / 3
    return wide > 0 and high > 0 and wide * high >= least


def fitted(box: Box, width_px: float, height_px: float, *, margin_px: float = 36.0) -> Viewport:
    """The view that shows a box as large as it goes, in the middle, with a margin round it."""
    wide_mm, high_mm = max(box[2] - box[0], 1.0), max(box[3] - box[1], 1.0)
    room_x, room_y = max(width_px - 2 * margin_px, 1.0), max(height_px - 2 * margin_px, 1.0)
    scale = min(max(min(room_x / wide_mm, room_y / high_mm), LEAST_PX_PER_MM), MOST_PX_PER_MM)
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    return Viewport(scale).centred_on(middle, width_px, height_px)
