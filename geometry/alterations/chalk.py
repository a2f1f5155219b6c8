"""Where the cuts of the journal run on the pieces as they are now."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.affine import Points
from geometry.alterations.drawn_cuts import cuts, drawn_cuts, with_cuts
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import Record
from geometry.alterations.step import Step
from geometry.errors import PatternError
from geometry.model.pattern import Pattern

_Known = dict[tuple[int, Step], tuple[Pattern, Pattern]]
"""By the pattern before (kept beside, so that its id stays its own) and the step: the pattern after, with the cuts."""


@dataclass(frozen=True, slots=True, eq=False)
class RecordedCut:
    """A cut line of a record: a chain of shape (n, 2), in mm of its piece as it is after the last record."""

    record: str
    piece: str
    points: Points


class JournalChalk:
    """Carries out the journal on pieces with its cuts drawn in, so that every step takes the earlier ones along.

    What a step made of the very same pattern is remembered, so that a change late in the journal costs little.
    """

    def __init__(self) -> None:
        self._known: _Known = {}
        self._asked: tuple[Pattern | None, tuple[Record, ...]] = (None, ())
        self._found: tuple[RecordedCut, ...] = ()

    def cuts(self, base: Pattern, records: tuple[Record, ...]) -> tuple[RecordedCut, ...]:
        """The cuts of every record, as they run after the last one; a record that does not fit has none.

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
        return tuple(RecordedCut(*cut) for cut in drawn_cuts(pattern))


def _chalked(pattern: Pattern, record: Record) -> Pattern:
    """The pattern after a record, each of its steps with its cuts drawn in; the very same one if it does not fit."""
    after = pattern
    try:
        if not isinstance(record.step, Alteration):
            return with_cuts(record.step.apply(pattern), pattern, record.step.piece_names, record.id)
        for step in record.step.parts(pattern):
            outcome = step.apply(after)  # what an alteration mends beside its cuts is not drawn
            after = with_cuts(outcome, after, step.piece_names, record.id) if cuts(step) else outcome.pattern
    except PatternError:
        return pattern
    return after
