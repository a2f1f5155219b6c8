"""A recorded alteration replaced by the steps it is made of, each to be edited by itself."""

from __future__ import annotations

from editor.document.project import next_id
from editor.session import Session
from geometry.alterations.full_bust import FullBust
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import Record, replay
from geometry.alterations.slash import Slash
from geometry.alterations.step import Step
from geometry.alterations.taken_apart import taken_apart
from geometry.alterations.upper_arm import UpperArm
from geometry.errors import PatternError


def can_take_apart(record: Record) -> bool:
    """Whether a record is made of several cuts or steps."""
    return isinstance(record.step, Alteration | FullBust | UpperArm)


def is_drawn_again(step: Step) -> bool:
    """Whether a step is of a kind that can be taken in hand again on the table."""
    return isinstance(step, Alteration | Slash)


def can_reopen(record: Record) -> bool:
    """Whether a record can be taken in hand again on the table as it is now."""
    return record.on and is_drawn_again(record.step)


def take_apart(session: Session, record_id: str) -> None:
    """Put its steps in the place of a record; the first of them keeps its note.

    Raises:
        PatternError: it cannot be done on the pattern as it is at that place; nothing is changed.
    """
    records, base = session.records, session.base
    at = next((index for index, each in enumerate(records) if each.id == record_id), None)
    if at is None or base is None or session.project is None or session.wearer is None or session.round is None:
        return
    record = records[at]
    if not can_take_apart(record):
        return
    parts = taken_apart(record.step, replay(base, records[:at]).pattern)
    if not parts:
        raise PatternError("By nothing this alteration has no steps; give it an amount first.", code="nothing-to-take")
    taken = [each.id for each in records]
    made: list[Record] = []
    for part in parts:
        made.append(Record(next_id(taken), part, on=record.on, note="" if made else record.note))
        taken.append(made[-1].id)
    changed = (*records[:at], *made, *records[at + 1 :])
    session.state("Take apart", session.project.with_records(session.wearer.id, session.round.id, changed))
    session.select(record=made[0].id)
