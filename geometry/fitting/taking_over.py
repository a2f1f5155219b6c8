"""One wearer's journal as a start for another: amounts that came from measurements are worked out anew."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import Record
from geometry.alterations.step import Step
from geometry.fitting.proposals import Proposal

_ENTRY_OF_KIND = {"full-bust": ("D01", "D02"), "upper-arm": ("I01", "I03")}
"""Steps of their own that do what an entry of the handbook does."""

_SAME_MM = 0.05
"""An amount this near to what the figures asked for came from them: half a tenth, the last digit shown."""


@dataclass(frozen=True, slots=True)
class TakenOver:
    """One record taken over.

    Attributes:
        record: The record for the other wearer.
        was_mm: Its amount for the first.
        is_from_figures: Whether its amount came from measurements and was worked out anew.
        proposal: What the amount was worked out by, ``None`` where the figures ask for nothing or say nothing.
    """

    record: Record
    was_mm: float
    is_from_figures: bool
    proposal: Proposal | None = None


def taken_over(
    records: tuple[Record, ...], own: tuple[Proposal, ...], other: tuple[Proposal, ...]
) -> tuple[TakenOver, ...]:
    """A journal for another body: ``own`` is the advice for the first wearer, ``other`` that for the second.

    An amount that the advice for the first gave becomes what the advice for the second gives, and is switched off
    where that asks for nothing; any other amount was found on the body and stays, to be looked at.
    """
    return tuple(_taken(record, own, other) for record in records)


def _taken(record: Record, own: tuple[Proposal, ...], other: tuple[Proposal, ...]) -> TakenOver:
    step = record.step
    mine = next((each for each in own if _same_thing(record, each)), None)
    if mine is None or abs(_amount_of(mine, step) - step.amount_mm) > _SAME_MM:
        return TakenOver(record, step.amount_mm, False)
    theirs = next((each for each in other if each.measure is mine.measure and _pair(each, mine)), None)
    if theirs is None:
        return TakenOver(replace(record, on=False), step.amount_mm, True)
    is_other_entry = isinstance(step, Alteration) and theirs.entry != step.entry
    again = theirs.step() if is_other_entry else step.with_amount_mm(_amount_of(theirs, step))
    return TakenOver(replace(record, step=again), step.amount_mm, True, theirs)


def _same_thing(record: Record, proposal: Proposal) -> bool:
    step = record.step
    if isinstance(step, Alteration):
        return (step.entry, step.variant) == (proposal.entry, proposal.variant)
    return proposal.entry in _ENTRY_OF_KIND.get(step.kind, ())


def _pair(one: Proposal, other: Proposal) -> bool:
    """Whether two proposals are for the same place: one measurement may lead to several."""
    return one.variant == other.variant or one.entry != other.entry


def _amount_of(proposal: Proposal, step: Step) -> float:
    """The amount that a step like this one gives a proposal: steps of their own take out with a negative amount."""
    if isinstance(step, Alteration):
        return proposal.amount_mm
    return math.copysign(proposal.amount_mm, proposal.difference_mm)
