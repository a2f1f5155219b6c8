"""Darts."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from geometry.affine import Point


class Pressed(StrEnum):
    """Which way a dart is pressed, seen along the edge it opens on."""

    TO_START = "to start"
    TO_END = "to end"


@dataclass(frozen=True, slots=True)
class Dart:
    """A wedge folded out of a piece, from its mouth on an edge to its tip.

    Attributes:
        id: Stable name, unique in its piece.
        edge: Id of the edge it opens on.
        from_mm: Length along that edge where the mouth begins.
        to_mm: Length along that edge where it ends; the edge runs straight between.
        tip: Where the stitched legs meet.
        aim: The body point it aims at (bust point, shoulder blade ...); the stand-off is the distance from tip to
            it. ``None`` where it is not known.
        pressed: Which way it is pressed.
        stitched: ``False`` for a tuck: folded in where it opens, its legs not sewn together.
    """

    id: str
    edge: str
    from_mm: float
    to_mm: float
    tip: Point
    aim: Point | None = None
    pressed: Pressed = Pressed.TO_START
    stitched: bool = True

    @property
    def apex(self) -> Point:
        """The point it turns about: the body point it aims at, else its tip."""
        return self.tip if self.aim is None else self.aim


@dataclass(frozen=True, slots=True)
class DoubleDart:
    """A dart with two tips, wholly inside a piece: it widens from one tip to ``left``/``right`` and narrows again."""

    id: str
    tip_start: Point
    tip_end: Point
    left: Point
    right: Point
