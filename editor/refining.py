"""Recorded steps changed in place.

A change made twice to the same thing is one step: pulling a handle again changes the amount of the last record. And any
record can be tried and carried out again in another form, with the records after it.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from typing import Any, Final

from editor.document.project import next_id
from editor.session import MISFIT, Session
from geometry.alterations.allowance_steps import CutCorner
from geometry.alterations.mark_steps import PlaceLandmark
from geometry.alterations.replay import Record, replay
from geometry.alterations.step import Outcome, Step
from geometry.errors import PatternError
from geometry.findings import Level
from geometry.model.pattern import Pattern

_ADDING_UP: Final = ("move-dart", "widen-dart", "lengthen-dart", "widen-double-dart", "move-notch")
_TAKING_OVER: Final = ("set-allowance", "aim-dart")


def refine(session: Session, step: Step) -> None:
    """Do a step, or change the last record where that is of the same kind on the same thing; the selection stays.

    Raises:
        PatternError: the step does not fit; nothing is changed.
    """
    picked = session.selection
    last = session.records[-1] if session.records else None
    amount_mm = _amount_together(last, step)
    if last is not None and _says_anew(last, step):
        put_in_place(session, last.id, step, joins=f"{step.kind} {last.id}")
    elif last is not None and amount_mm is not None:
        session.set_amount(last.id, amount_mm)
    else:
        session.add_step(step)
    session.select(piece=picked.piece, edge=picked.edge, dart=picked.dart, notch=picked.notch)


@dataclass(frozen=True, slots=True)
class Run:
    """What a step would do at its place in the journal.

    Attributes:
        before: The pattern as the step finds it.
        after: The pattern just after it.
        outcome: The pattern after the whole journal, with what the step itself changes and says.
        displaced: Numbers in the journal of later steps that would not fit any more.
    """

    before: Pattern
    after: Pattern
    outcome: Outcome
    displaced: tuple[int, ...] = ()

    def shown_on(self, ground: Pattern) -> Outcome:
        """The outcome for pieces that lie on the table: just after the step, if a later one opens them or cuts them."""
        whole = {(piece.name, piece.fold is None) for piece in self.outcome.pattern.pieces}
        if whole == {(piece.name, piece.fold is None) for piece in ground.pieces}:
            return self.outcome
        return replace(self.outcome, pattern=self.after)

    @property
    def warned(self) -> tuple[str, ...]:
        """What should be heeded before the step is settled."""
        own = tuple(finding.text for finding in self.outcome.findings if finding.level is not Level.NOTE)
        return (*own, *(f"Step {number} of the journal would not fit any more." for number in self.displaced))

    @property
    def noted(self) -> tuple[str, ...]:
        """What is good to know."""
        return tuple(finding.text for finding in self.outcome.findings if finding.level is Level.NOTE)


def found_by(session: Session, record_id: str) -> Pattern | None:
    """The pattern as a record found it; as it is after the whole journal, where there is no such record."""
    base, at = session.base, _place_of(session, record_id)
    return None if base is None else replay(base, session.records[:at]).pattern


def run_with(session: Session, step: Step, record_id: str = "") -> Run:
    """The journal run with a step in the place of a record, at its end where there is no such record.

    Raises:
        PatternError: nothing is open, or the step does not fit there.
    """
    base, at = session.base, _place_of(session, record_id)
    if base is None:
        raise PatternError("Open a pattern and add a wearer first.", code="nothing-open")
    records = (*session.records[:at], Record(record_id, step), *session.records[at + 1 :])
    before, whole = replay(base, records[:at]).pattern, replay(base, records)
    own = whole.outcomes[at]
    if any(finding.code == MISFIT for finding in own.findings):
        step.apply(before)  # raises the sentence that the finding quotes
    displaced = tuple(
        number
        for number, outcome in enumerate(whole.outcomes[at + 1 :], start=at + 2)
        if any(finding.code == MISFIT for finding in outcome.findings) and not session.is_misfit(outcome.record_id)
    )
    return Run(before, own.pattern, Outcome(whole.pattern, own.changes, own.findings), displaced)


def put_in_place(session: Session, record_id: str, step: Step, *, joins: str = "") -> None:
    """Record a step in the place of another, under the same id and with its note; one change to undo.

    Changes that follow each other with the same ``joins`` are one to undo.

    Raises:
        PatternError: the step does not fit there; nothing is changed.
    """
    project, wearer, shown = session.project, session.wearer, session.round
    if project is None or wearer is None or shown is None:
        return
    run_with(session, step, record_id)
    records = tuple(replace(each, step=step) if each.id == record_id else each for each in shown.records)
    if records != shown.records:
        session.state("Change step", project.with_records(wearer.id, shown.id, records), joins=joins)
    session.select(record=record_id)


def put_before(session: Session, record_id: str, step: Step) -> None:
    """Record a step just before a record, or at the end where there is no such record; one change to undo.

    Raises:
        PatternError: the step does not fit there; nothing is changed.
    """
    project, wearer, shown = session.project, session.wearer, session.round
    at, before = _place_of(session, record_id), found_by(session, record_id)
    if project is None or wearer is None or shown is None or before is None:
        return
    step.apply(before)
    record = Record(next_id(each.id for each in shown.records), step)
    records = (*shown.records[:at], record, *shown.records[at:])
    session.state("Add step", project.with_records(wearer.id, shown.id, records))


def _place_of(session: Session, record_id: str) -> int:
    records = session.records
    return next((number for number, each in enumerate(records) if each.id == record_id), len(records))


def _says_anew(last: Record, step: Step) -> bool:
    """Whether a step without an amount says something else about what the last record was about."""
    before = last.step
    if not last.on or last.note:
        return False
    if isinstance(before, CutCorner) and isinstance(step, CutCorner):
        return (before.piece, before.edge, before.at) == (step.piece, step.edge, step.at)
    if isinstance(before, PlaceLandmark) and isinstance(step, PlaceLandmark):
        return (before.piece, before.landmark) == (step.piece, step.landmark)
    return False


def _amount_together(last: Record | None, step: Step) -> float | None:
    """The amount the last record would have with the step in it; ``None`` where the two are different things."""
    if last is None or not last.on or last.note or last.step.kind != step.kind:
        return None
    if _target(last.step) != _target(step):
        return None
    if step.kind in _ADDING_UP:
        return last.step.amount_mm + step.amount_mm
    return step.amount_mm if step.kind in _TAKING_OVER else None


def _target(step: Step) -> dict[str, Any]:
    fields = asdict(step)  # type: ignore[call-overload]
    return {name: value for name, value in fields.items() if name != "amount_mm"}
