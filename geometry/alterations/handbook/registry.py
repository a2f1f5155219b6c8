"""Every entry of the handbook, in its order."""

from __future__ import annotations

from geometry.alterations.handbook import (
    armhole,
    back,
    back_width,
    bust,
    bust_darts,
    chest,
    collar,
    hip,
    lengths,
    lengths_below,
    neck,
    shoulders,
    sleeve_entries,
    trousers,
    waist,
)
from geometry.alterations.handbook.entry import Entry
from geometry.errors import StepError

ENTRIES: tuple[Entry, ...] = (
    *lengths.ENTRIES,
    *lengths_below.ENTRIES,
    *neck.ENTRIES,
    *collar.ENTRIES,
    *chest.ENTRIES,
    *shoulders.ENTRIES,
    *bust.ENTRIES,
    *bust_darts.ENTRIES,
    *back.ENTRIES,
    *back_width.ENTRIES,
    *armhole.ENTRIES,
    *waist.ENTRIES,
    *hip.ENTRIES,
    *sleeve_entries.ENTRIES,
    *trousers.ENTRIES,
)

_BY_CODE = {entry.code: entry for entry in ENTRIES}


def entry_of(code: str) -> Entry:
    """The entry of a code; ``StepError`` if there is none."""
    entry = _BY_CODE.get(code)
    if entry is None:
        raise StepError(
            f'The handbook has no alteration "{code}"; its codes run from {ENTRIES[0].code} to {ENTRIES[-1].code}.'
        )
    return entry
