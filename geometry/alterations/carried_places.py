"""Places on the pieces taken along by a journal, as whatever is marked on a piece is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from geometry.affine import Point, distance_mm
from geometry.alterations.replay import Record
from geometry.errors import PatternError
from geometry.identity import Same
from geometry.model.marks import Mark, MarkKind
from geometry.model.pattern import Pattern
from geometry.tolerance import NOTABLE_MM, STRAIGHT_MM

Place = tuple[str, Point]
"""Name of a piece, and a place on it in mm."""

_ROUNDS = 20
"""Cap on the tries to find where a place came from; every try leaves a small part of what the one before left."""


def carried(base: Pattern, records: tuple[Record, ...], places: tuple[Place, ...]) -> tuple[tuple[Place, ...], ...]:
    """Where the records take each of some places of the base: two where its piece is cut once for each side.

    A place whose piece is not there gives none; a step that drops what is marked on a piece leaves it where it was.
    """
    return _carried(Same(base), records, places)


def place_before(base: Pattern, records: tuple[Record, ...], place: Place) -> Place | None:
    """The place of the base that the records take to a place.

    ``None`` where there is none: its piece came about by a cut, or the place lies where paper was put in.
    """
    name, wanted = place
    if all(piece.name != name for piece in base.pieces):
        return None
    x, y = wanted
    for _ in range(_ROUNDS):
        found = [at for piece, at in carried(base, records, ((name, (x, y)),))[0] if piece == name]
        if not found:
            return None
        off_mm = distance_mm(found[0], wanted)
        if off_mm <= STRAIGHT_MM:
            break
        x, y = x + wanted[0] - found[0][0], y + wanted[1] - found[0][1]
    return (name, (x, y)) if off_mm <= NOTABLE_MM else None


@lru_cache(maxsize=64)
def _carried(
    key: Same[Pattern], records: tuple[Record, ...], places: tuple[Place, ...]
) -> tuple[tuple[Place, ...], ...]:
    marks = [(name, Mark(f"place seen {number}", at, MarkKind.CURVE_POINT)) for number, (name, at) in enumerate(places)]
    pattern = _marked(key.value, marks)
    for record in records:
        try:
            after = record.step.apply(pattern).pattern if record.on else pattern
        except PatternError:  # replay leaves the step out as well
            continue
        lost = [mark for _, mark in marks if not any(_found(after, mark.id))]
        last = [(name, replace(mark, at=at)) for mark in lost for name, at in _found(pattern, mark.id)]
        pattern = _marked(after, last)
    return tuple(tuple(_found(pattern, mark.id)) for _, mark in marks)


def _marked(pattern: Pattern, marks: list[tuple[str, Mark]]) -> Pattern:
    for piece in pattern.pieces:
        own = tuple(mark for name, mark in marks if name == piece.name)
        if own:
            pattern = pattern.with_piece(replace(piece, marks=(*piece.marks, *own)))
    return pattern


def _found(pattern: Pattern, mark_id: str) -> Iterator[Place]:
    """Where a mark lies; on pieces cut once for each side its name begins with the side."""
    for piece in pattern.pieces:
        for mark in piece.marks:
            if mark.kind is MarkKind.CURVE_POINT and (mark.id == mark_id or mark.id.endswith(f" {mark_id}")):
                yield piece.name, mark.at
