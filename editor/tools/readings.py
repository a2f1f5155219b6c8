"""Lengths and changes in the words a tool shows beside the pointer."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.alterations.step import EdgeChange
from geometry.checks.agreement import expected_first_mm, misfit
from geometry.checks.limits import DEFAULT_LIMITS
from geometry.checks.walking import StopKind, Walk, side_mm, walk
from geometry.findings import Level
from geometry.model.pattern import EdgeRef, Pattern, Seam, SeamKind
from geometry.model.piece import Piece
from geometry.tolerance import FLOAT_MM
from geometry.units import Unit, format_length

SHOWN_MM = 0.5
"""A change below this is less than the width of a pencil line and is not shown."""

MOST_LINES = 5
"""More lines than this beside the pointer hide the piece."""


def both_units(length_mm: float) -> str:
    """A length in centimetres and inches: '1.27 cm · 1/2"'."""
    return f"{format_length(length_mm, Unit.CM)} · {format_length(length_mm, Unit.INCH)}"


def amount_words(opening_mm: float) -> str:
    """An opening, or a fold."""
    return f"{'Fold out' if opening_mm < 0 else 'Open'} {both_units(abs(opening_mm))}"


def change_lines(changes: tuple[EdgeChange, ...], before: Piece, after: Piece) -> tuple[str, ...]:
    """One line per edge whose sewn length changed and per dart whose intake did, the largest change first."""
    grown = [(change.edge, change.change_mm) for change in changes if change.piece == after.name]
    known = {dart.id: dart for dart in after.darts}
    grown += [
        (dart.id, after.intake_mm(known[dart.id]) - before.intake_mm(dart))
        for dart in before.darts
        if dart.id in known and known[dart.id] is not dart
    ]
    changed = sorted((row for row in grown if abs(row[1]) >= SHOWN_MM), key=lambda row: -abs(row[1]))
    lines = tuple(f"{name} {_signed(by_mm)}" for name, by_mm in changed)
    if not lines:
        return ("every edge keeps its length",)
    return lines if len(lines) <= MOST_LINES else (*lines[: MOST_LINES - 1], f"and {len(lines) - MOST_LINES + 1} more")


def seam_lines(
    pattern: Pattern, changes: tuple[EdgeChange, ...], before: Piece, seams: tuple[Seam, ...]
) -> tuple[str, ...]:
    """One line per seam of a changed edge whose sides do not agree or whose darts do not meet; "!" marks a stop."""
    after = pattern.piece(before.name)
    touched = {EdgeRef(change.piece, change.edge) for change in changes if abs(change.change_mm) >= SHOWN_MM}
    touched |= {EdgeRef(after.name, dart.edge) for dart in set(after.darts) - set(before.darts)}
    lines: list[str] = []
    for seam in seams:
        if not touched.isdisjoint((*seam.first, *seam.second)):
            lines.extend(_complaints(_walked(pattern, seam), after.name))
    return tuple(lines[:MOST_LINES])


def _walked(pattern: Pattern, seam: Seam) -> Walk:
    """A seam with its lengths; only across the waist, where darts must meet, with its stops, which take longer."""
    if seam.kind is SeamKind.WAIST:
        return walk(pattern, seam)
    first, second = seam.sides
    return Walk(seam, side_mm(pattern, first), side_mm(pattern, second), "", "", ())


def _complaints(walked: Walk, piece: str) -> Iterator[str]:
    limits = DEFAULT_LIMITS
    level = misfit(walked, limits)
    if level is not None:
        too_long = walked.first_mm > expected_first_mm(walked)
        by = both_units(abs(walked.first_mm - expected_first_mm(walked)))
        mine, other = walked.seam.first, walked.seam.second
        if all(ref.piece != piece for ref in mine):
            mine, other, too_long = other, mine, not too_long
        mark = "!" if level is Level.STOP else ""
        yield f"{mark}{mine[0].edge} {by} too {'long' if too_long else 'short'} for {_named(other)}"
    for meeting in walked.meetings:
        miss_mm = abs(walked.miss_mm(meeting))
        if meeting.stop.kind is StopKind.DART and miss_mm > limits.waist_darts_mm + FLOAT_MM:
            yield f"darts {both_units(miss_mm)} apart at the {walked.seam.first[0].edge}"


def _signed(length_mm: float) -> str:
    return f"{'+' if length_mm > 0 else '−'}{both_units(abs(length_mm))}"


def _named(refs: tuple[EdgeRef, ...]) -> str:
    pieces = {ref.piece for ref in refs}
    return " and ".join(f"the {name}" for name in sorted(pieces))
