"""Directions of a piece: out from its centre line and up along it, whichever way round it lies."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.affine import Point, unit_vector


@dataclass(frozen=True, slots=True)
class Frame:
    """Two unit directions square to each other.

    Attributes:
        out: Away from the centre line.
        up: Along the centre line, towards the top of the garment.
    """

    out: Point
    up: Point

    @staticmethod
    def along(start: Point, end: Point, *, out_towards: Point, up_towards: Point) -> Frame:
        """The frame of a centre line through start and end, with a place that lies out and one that lies up.

        ``up_towards`` is judged against ``out_towards``: it lies higher than that.
        """
        ux, uy = unit_vector(start, end)
        if (up_towards[0] - out_towards[0]) * ux + (up_towards[1] - out_towards[1]) * uy < 0:
            ux, uy = -ux, -uy
        ox, oy = uy, -ux
        if (out_towards[0] - start[0]) * ox + (out_towards[1] - start[1]) * oy < 0:
            ox, oy = -ox, -oy
        return Frame((ox, oy), (ux, uy))

    @property
    def handed(self) -> float:
        """1 if a turn from out to up is counter-clockwise on the table, else -1."""
        return 1.0 if self.out[0] * self.up[1] - self.out[1] * self.up[0] > 0 else -1.0

    def seen(self, place: Point, origin: Point) -> Point:
        """A place seen from an origin as (mm out, mm up)."""
        dx, dy = place[0] - origin[0], place[1] - origin[1]
        return (dx * self.out[0] + dy * self.out[1], dx * self.up[0] + dy * self.up[1])

    def step(self, out_mm: float, up_mm: float) -> Point:
        """A step of so many mm out and up, as (dx, dy)."""
        return (out_mm * self.out[0] + up_mm * self.up[0], out_mm * self.out[1] + up_mm * self.up[1])
