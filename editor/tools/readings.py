"""Lengths and changes in the words a tool shows beside the pointer."""

from __future__ import annotations

from geometry.alterations.step import EdgeChange
from geometry.model.pattern import EdgeRef, Pattern, Seam
from geometry.tolerance import STOP_MM, WARN_MM
from geometry.units import Unit, format_length

SHOWN_MM = 0.1
"""A change below this cannot be drawn with a pencil and is not shown."""

MOST_LINES = 5
"""More lines than this beside the pointer hide the piece."""


def both_units(length_mm: float) -> str:
    """A length in centimetres and inches: '1.27 cm · 1/2"'."""
    return f"{format_length(length_mm, Unit.CM)} · {format_length(length_mm, Unit.INCH)}"


def signed(length_mm: float) -> str:
    """A change with its sign: '+1.27 cm · +1/2"'."""
    sign = "+" if length_mm > 0 else "−"
    size = abs(length_mm)
    return f"{sign}{format_length(size, Unit.CM)} · {sign}{format_length(size, Unit.INCH)}"


def amount_words(opening_mm: float) -> str:
    """An opening, or a fold."""
    return f"{'Fold out' if opening_mm < 0 else 'Open'} {both_units(abs(opening_mm))}"


def change_lines(changes: tuple[EdgeChange, ...]) -> tuple[str, ...]:
    """One line per edge whose sewn length changed, the largest change first."""
    changed = sorted(
        (each for each in changes if abs(each.change_mm) >= SHOWN_MM), key=lambda each: -abs(each.change_mm)
    )
    lines = tuple(f"{each.edge} {signed(each.change_mm)}" for each in changed)
    if len(lines) > MOST_LINES:
        return (*lines[: MOST_LINES - 1], f"and {len(lines) - MOST_LINES + 1} more edges")
    return lines


def seam_lines(pattern: Pattern, changes: tuple[EdgeChange, ...]) -> tuple[str, ...]:
    """One line per seam that a changed edge belongs to and that no longer fits its other side."""
    touched = {(each.piece, each.edge) for each in changes if abs(each.change_mm) >= SHOWN_MM}
    lines = []
    for seam in pattern.seams:
        edges = {(ref.piece, ref.edge) for ref in (*seam.first, *seam.second)}
        misfit_mm = _misfit_mm(pattern, seam) if edges & touched else 0.0
        if abs(misfit_mm) >= WARN_MM:
            grave = "!" if abs(misfit_mm) >= STOP_MM else ""
            side = seam.first if misfit_mm > 0 else seam.second
            lines.append(f"{grave}{_named(side)} {format_length(abs(misfit_mm), Unit.MM)} too long for its seam")
    return tuple(lines[:MOST_LINES])


def _misfit_mm(pattern: Pattern, seam: Seam) -> float:
    """By how much the first side is longer (positive) or shorter than its ease band lets it be."""
    longer_mm = _sewn_mm(pattern, seam.first) - _sewn_mm(pattern, seam.second)
    least_mm, most_mm = seam.ease_mm
    return max(longer_mm - most_mm, 0.0) + min(longer_mm - least_mm, 0.0)


def _sewn_mm(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> float:
    return sum(pattern.piece(ref.piece).sewn_length_mm(ref.edge) for ref in refs)


def _named(refs: tuple[EdgeRef, ...]) -> str:
    return f"{refs[0].piece}: {' + '.join(ref.edge for ref in refs)}"
