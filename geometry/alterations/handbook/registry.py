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

_AKIN = (
    ("D01", "D03", "D04", "D05"),
    ("D02", "D11"),
    ("I01", "I02"),
    ("I03", "I08"),
    ("H01", "H02", "H03", "H04"),
    ("E06", "E07", "H07", "J09"),
    ("E01", "E02", "E03"),
    ("C03", "C04", "C07"),
    ("C01", "C02", "C08"),
    ("G02", "G03", "J05"),
    ("H05", "H06", "J03", "J04"),
    ("J01", "J03", "J06", "J13"),
)
"""Entries that are looked for in one another's place: ways to do it on other pieces, or for what looks the same."""

_BY_CODE = {entry.code: entry for entry in ENTRIES}


def entry_of(code: str) -> Entry:
    """The entry of a code; ``StepError`` if there is none."""
    entry = _BY_CODE.get(code)
    if entry is None:
        raise StepError(
            f'The handbook has no alteration "{code}"; its codes run from {ENTRIES[0].code} to {ENTRIES[-1].code}.'
        )
    return entry


def akin_to(code: str) -> tuple[Entry, ...]:
    """Entries that may be meant instead, in the order of the handbook."""
    codes = {other for group in _AKIN if code in group for other in group} - {code}
    return tuple(entry for entry in ENTRIES if entry.code in codes)
