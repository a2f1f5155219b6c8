"""What a tool learns of the mouse and the keys, without the toolkit."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.affine import Point


@dataclass(frozen=True, slots=True)
class Pointer:
    """The mouse at one moment.

    Attributes:
        at: Its place on the table, mm.
        px_per_mm: How far the view is magnified; reaches given in pixels become mm with it.
        shift: Whether Shift is held.
        ctrl: Whether Ctrl is held.
        clicks: 2 for the second press of a double click, else 1.
    """

    at: Point
    px_per_mm: float = 1.0
    shift: bool = False
    ctrl: bool = False
    clicks: int = 1

    def mm(self, length_px: float) -> float:
        """A length on the screen as mm of the table."""
        return length_px / self.px_per_mm


@dataclass(frozen=True, slots=True)
class Key:
    """A key press.

    Attributes:
        name: ``"enter"``, ``"escape"``, ``"backspace"``, ``"left"``, ``"right"``, ``"up"``, ``"down"`` or the letter in
            lower case.
        shift: Whether Shift is held.
    """

    name: str
    shift: bool = False
