"""How finely an amount is rounded while it is dragged."""

from __future__ import annotations

from editor.canvas.pointer import Pointer
from geometry.units import Unit


def rounding_mm(pointer: Pointer, unit: Unit) -> float:
    """Dragging gives whole amounts as fine as the view shows: 1 mm, nearer 0.5 or 0.1 mm; 1/16 in, nearer 1/32 in."""
    if unit is Unit.INCH:
        return unit.mm / (16 if pointer.px_per_mm < 6.0 else 32)
    if pointer.px_per_mm < 3.0:
        return 1.0
    return 0.5 if pointer.px_per_mm < 8.0 else 0.1


def rounded_mm(amount_mm: float, pointer: Pointer, unit: Unit) -> float:
    """An amount rounded so; never a negative nothing."""
    step_mm = rounding_mm(pointer, unit)
    return round(amount_mm / step_mm) * step_mm + 0.0
