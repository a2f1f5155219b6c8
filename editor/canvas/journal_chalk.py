"""Where the cuts of the journal run on the pieces as they are now."""

from __future__ import annotations

from dataclasses import replace

from editor.canvas.scene import RecordedCut
from geometry.alterations.replay import Record
from geometry.alterations.step import Outcome, Step
from geometry.errors import PatternError
from geometry.model.marks import InnerLine
from geometry.model.pattern import Pattern

_CHALKED = "chalk of record "

_Known = dict[tuple[int, Step], tuple[Pattern, Pattern]]
"""By the pattern before (kept beside, so that its id stays its own) and the step: the pattern after, with the cuts."""


class JournalChalk:
    """Carries out the journal on pieces with its cuts drawn in, so that every step takes the earlier ones along.

    What a step made of the very same pattern is remembered, so that a change late in the journal costs little.
    """

    def __init__(self) -> None:
        self._known: _Known = {}
        self._asked: tuple[Pattern | None, tuple[Record, ...]] = (None, ())
        self._found: tuple[RecordedCut, ...] = ()

    def cuts(self, base: Pattern, records: tuple[Record, ...]) -> tuple[RecordedCut, ...]:
        """The cuts of every record that changes one piece, as they run after the last one.

        Asked again for the same, it gives the very same tuple.
        """
        if self._asked[0] is not base or self._asked[1] is not records:
            self._asked, self._found = (base, records), self._run(base, records)
        return self._found

    def _run(self, base: Pattern, records: tuple[Record, ...]) -> tuple[RecordedCut, ...]:
        pattern = base
        known: _Known = {}
        for record in records:
            if record.on:
                key = (id(pattern), record.step)
                known[key] = self._known.get(key) or (pattern, _chalked(pattern, record))
                pattern = known[key][1]
        self._known = known
        return tuple(
            RecordedCut(line.id.removeprefix(_CHALKED), piece.name, line.points)
            for piece in pattern.pieces
            for line in piece.inner_lines
            if line.id.startswith(_CHALKED)
        )


def _chalked(pattern: Pattern, record: Record) -> Pattern:
    try:
        outcome = record.step.apply(pattern)
    except PatternError:
        return pattern
    names = record.step.piece_names
    return outcome.pattern if outcome.pattern is pattern or len(names) != 1 else _drawn_in(outcome, names[0], record.id)


def _drawn_in(outcome: Outcome, name: str, record_id: str) -> Pattern:
    """The piece with the cuts of the step on it: they stay where the part lies that did not move."""
    piece = outcome.pattern.piece(name)
    lines = tuple(InnerLine(f"{_CHALKED}{record_id}", points) for points in outcome.chalk)
    return outcome.pattern.with_piece(replace(piece, inner_lines=(*piece.inner_lines, *lines)))
