"""Where the cuts of the journal run on the pieces as they are now."""

from __future__ import annotations

from editor.canvas.scene import RecordedCut
from geometry.affine import Points, as_point, frozen_points
from geometry.alterations.anchors import anchor_at, resolve
from geometry.alterations.replay import Record, Replay
from geometry.alterations.step import Step
from geometry.errors import PatternError
from geometry.model.pattern import Pattern


class JournalChalk:
    """Finds the cuts again after every change; what a step did to the very same pattern is remembered."""

    def __init__(self) -> None:
        self._known: dict[tuple[int, Step], tuple[Pattern, tuple[Points, ...]]] = {}

    def cuts(self, base: Pattern, records: tuple[Record, ...], shown: Replay) -> tuple[RecordedCut, ...]:
        """The cuts of every record that is carried out on one piece, in order."""
        before = base
        known: dict[tuple[int, Step], tuple[Pattern, tuple[Points, ...]]] = {}
        found: list[RecordedCut] = []
        for record, outcome in zip(records, shown.outcomes, strict=True):
            if record.on and outcome.pattern is not before and len(record.step.piece_names) == 1:
                key = (id(before), record.step)
                known[key] = self._known.get(key) or (before, _chalk(before, record.step))
                name = record.step.piece_names[0]
                found.extend(
                    RecordedCut(record.id, name, _carried(line, before, shown.pattern, name)) for line in known[key][1]
                )
            before = outcome.pattern
        self._known = known
        return tuple(found)


def _chalk(pattern: Pattern, step: Step) -> tuple[Points, ...]:
    try:
        return step.apply(pattern).chalk
    except PatternError:
        return ()


def _carried(line: Points, before: Pattern, after: Pattern, name: str) -> Points:
    """A line held on to what it touches: its places on edges, tips and marks go where these went."""
    old, new = before.piece(name), after.piece(name)
    places = []
    for place in line:
        try:
            places.append(resolve(new, anchor_at(old, as_point(place))))
        except PatternError:
            places.append(as_point(place))
    return frozen_points(places)
