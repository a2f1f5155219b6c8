"""Where the notes of a toile lie on its pieces: they were seen on cloth, and go along with it."""

from __future__ import annotations

from editor.document.project import FitNote
from geometry.affine import Point
from geometry.alterations.carried_places import Place, carried, place_before
from geometry.alterations.replay import Record
from geometry.model.pattern import Pattern


def note_at(text: str, place: Place, base: Pattern, records: tuple[Record, ...]) -> FitNote:
    """A note of what was seen at a place of a piece as it lies after the records."""
    name, (x, y) = place
    before = place_before(base, records, (name, (round(x, 1), round(y, 1))))
    if before is None:
        return FitNote(text, name, round(x, 1), round(y, 1))
    return FitNote(text, name, *before[1], is_on_base=True)


def note_places(
    notes: tuple[FitNote, ...], base: Pattern, records: tuple[Record, ...]
) -> tuple[tuple[Place, ...], ...]:
    """For each note the places at which it is shown: none for the whole, two where its piece was cut for each side."""
    asked: tuple[Place, ...] = tuple((note.piece, (note.x, note.y)) for note in notes if note.is_on_base)
    found = iter(carried(base, records, asked) if asked else ())
    return tuple(next(found) if note.is_on_base else _where_seen(note) for note in notes)


def _where_seen(note: FitNote) -> tuple[Place, ...]:
    at: Point = (note.x, note.y)
    return ((note.piece, at),) if note.piece else ()
