"""The journal run on the base pattern: what is shown is always ``replay(base, records)``."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from geometry.alterations.step import EdgeChange, Outcome, Step
from geometry.errors import PatternError
from geometry.findings import Finding, Level
from geometry.identity import Same
from geometry.model.pattern import Pattern

_KEPT_PREFIXES = 512
"""How many (pattern, step) results are kept: some rounds of some wearers with every amount tried while dragging."""

LEFT_OUT = "The step cannot be done and was left out."
"""What a finding about a step that does not fit begins with; the reason follows."""


@dataclass(frozen=True, slots=True)
class Record:
    """A step in a journal.

    Attributes:
        id: Stable name, unique in its round.
        step: The alteration.
        on: Whether it is carried out; a record that is off stays in the list.
        note: What the person wrote beside it.
    """

    id: str
    step: Step
    on: bool = True
    note: str = ""


@dataclass(frozen=True, slots=True)
class RecordOutcome:
    """What one record did: the pattern after it, the edges of the pieces it touched, what it had to say."""

    record_id: str
    pattern: Pattern
    changes: tuple[EdgeChange, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Replay:
    """The pattern after all records, and what each of them did, in order."""

    pattern: Pattern
    outcomes: tuple[RecordOutcome, ...] = ()

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All that the records had to say, in order."""
        return tuple(finding for outcome in self.outcomes for finding in outcome.findings)


def replay(base: Pattern, records: tuple[Record, ...]) -> Replay:
    """The base pattern with the records carried out in order.

    A record that does not fit (any more) is skipped and reported as a stop finding ``step-does-not-fit``; the
    pattern is then what it was before it. Results are remembered per prefix, so that changing a late record
    does not run the early ones again.
    """
    pattern, outcomes = base, []
    for record in records:
        if not record.on:
            outcomes.append(RecordOutcome(record.id, pattern))
            continue
        try:
            outcome = _applied(Same(pattern), record.step)
        except PatternError as error:
            outcomes.append(RecordOutcome(record.id, pattern, findings=(_does_not_fit(record, error),)))
            continue
        pattern = outcome.pattern
        outcomes.append(RecordOutcome(record.id, pattern, outcome.changes, outcome.findings))
    return Replay(pattern, tuple(outcomes))


def _does_not_fit(record: Record, error: PatternError) -> Finding:
    pieces = record.step.piece_names
    return Finding(
        "step-does-not-fit",
        Level.STOP,
        f"{LEFT_OUT} {error.sentence}",
        piece=pieces[0] if pieces else None,
    )


@lru_cache(maxsize=_KEPT_PREFIXES)
def _applied(key: Same[Pattern], step: Step) -> Outcome:
    return step.apply(key.value)
