"""A change made twice to the same thing is one step: pulling a handle again changes the amount of the last record."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any, Final

from editor.session import Session
from geometry.alterations.replay import Record
from geometry.alterations.step import Step

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
    if last is not None and amount_mm is not None:
        session.set_amount(last.id, amount_mm)
    else:
        session.add_step(step)
    session.select(piece=picked.piece, edge=picked.edge, dart=picked.dart, notch=picked.notch)


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
