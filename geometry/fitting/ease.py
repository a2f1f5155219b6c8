"""Wearing ease: how much larger than the body a garment must be, with sources; own ease for each garment; cups."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from geometry.fitting.measures import Measure
from geometry.units import MM_PER_INCH

_IN = MM_PER_INCH


@dataclass(frozen=True, slots=True)
class EaseRow:
    """Ease at one measurement, all the way round or along, for woven cloth that fits.

    Attributes:
        measure: Where.
        least_mm: Below this one cannot move or breathe in it.
        low_mm: Usual ease, from ...
        high_mm: ... to.
        source: Where the usual figures come from.
    """

    measure: Measure
    least_mm: float
    low_mm: float
    high_mm: float
    source: str


_C228 = "New Mexico C-228 Pattern alteration"
_HB32 = "a clothing textbook's chapter on adjusting a pattern"
_MET = "a published metric draft of a close-fitting bodice"
_C209 = "New Mexico C-209 Measurements for fitting pants"
_MEMORY = "common practice, from memory"

EASE: tuple[EaseRow, ...] = (
    EaseRow(Measure.NECK, 6.35, 6.35, 12.7, _MEMORY),
    EaseRow(Measure.BUST, 2 * _IN, 2.5 * _IN, 4 * _IN, f"{_HB32}: 2 1/2 to 4 in; {_C228}: 3 to 4 in; {_MET}: 10 cm"),
    EaseRow(Measure.WAIST, 0.5 * _IN, _IN, _IN, f"{_HB32}: about 1 in; {_C209}: up to 1 in in trousers"),
    EaseRow(Measure.ABDOMEN, _IN, _IN, 2 * _IN, f"{_C209}: up to 2 in"),
    EaseRow(Measure.HIP, 50.0, 50.0, 65.0, f"{_HB32}: 5 to 6.5 cm, 2 to 2 1/2 in; {_MET}: 5 cm; {_C209}: 2 to 4 in"),
    EaseRow(Measure.SHOULDER_LENGTH, 0.0, 0.0, 0.0, _MEMORY),
    EaseRow(Measure.BACK_WIDTH, 10.0, 10.0, _IN, f"{_MET}: 1 cm in all; up to 1 in {_MEMORY}"),
    EaseRow(Measure.CHEST_WIDTH, 0.0, 0.0, 0.5 * _IN, _MEMORY),
    EaseRow(Measure.ARMHOLE_DEPTH, 5.0, 5.0, _IN, f"{_MET}: 0.5 cm; up to 1 in {_MEMORY}"),
    EaseRow(Measure.UPPER_ARM, 1.5 * _IN, 2 * _IN, 2.5 * _IN, "Threads, set-in sleeve solutions, 2021: at least 2 in"),
    EaseRow(Measure.ELBOW, _IN, _IN, 2 * _IN, _MEMORY),
    EaseRow(Measure.WRIST, 0.5 * _IN, 0.5 * _IN, _IN, _MEMORY),
    EaseRow(Measure.THIGH, _IN, _IN, 2 * _IN, f"{_C209}: 1 to 2 in (the dash is lost in the copy seen)"),
    EaseRow(Measure.KNEE, _IN, _IN, 2 * _IN, f"{_C209}: at least 1 in"),
    EaseRow(Measure.CROTCH_DEPTH, 0.5 * _IN, 0.5 * _IN, _IN, f"{_C209}: 1/2 to 1 in by the hip"),
    EaseRow(Measure.CROTCH_LENGTH, _IN, _IN, 2 * _IN, _MEMORY),
)
"""Published wearing ease, and minima from memory."""

_BY_MEASURE = {row.measure: row for row in EASE}
_NONE = "lengths along the body and straight widths are followed exactly: common practice, no source"


def ease_row(measure: Measure) -> EaseRow:
    """The ease at a measurement; lengths that the table does not tell need none."""
    return _BY_MEASURE.get(measure, EaseRow(measure, 0.0, 0.0, 0.0, _NONE))


@dataclass(frozen=True, slots=True)
class GarmentEase:
    """The ease a person asks for in one garment, where it differs from the table's.

    Attributes:
        wanted: Measurements with the ease wanted there, in mm.
    """

    wanted: tuple[tuple[Measure, float], ...] = ()

    def mm(self, measure: Measure) -> float | None:
        """The ease asked for, ``None`` where nothing was said."""
        return next((mm for each, mm in self.wanted if each is measure), None)

    def with_mm(self, measure: Measure, ease_mm: float | None) -> GarmentEase:
        """The same with another ease at one measurement; ``None`` asks for nothing there."""
        kept = tuple(row for row in self.wanted if row[0] is not measure)
        return replace(self, wanted=kept if ease_mm is None else (*kept, (measure, ease_mm)))

    def least_mm(self, measure: Measure) -> float:
        """What must be left: the table's minimum, or less where the person asks for less."""
        own, least = self.mm(measure), ease_row(measure).least_mm
        return least if own is None else min(own, least)


NO_OWN_EASE = GarmentEase()


def crotch_depth_ease_mm(hip_mm: float) -> float:
    """Ease on the seated depth: 1/2 in for hips under 36 in, 3/4 in from 36 to 38 in, 1 in above.

    Source: New Mexico C-209; its middle step is garbled in the copy seen and read as 3/4.
    """
    hip_in = hip_mm / _IN
    return _IN * (0.5 if hip_in < 36 else 0.75 if hip_in <= 38 else 1.0)


class CupRule(StrEnum):
    """Whose letters are meant: the same letter means different bodies."""

    HOME_SEWING = "bust less upper chest, home sewing"
    CIRCULAR = "bust less snug chest above it, a home-economics circular"
    EN_13402 = "bust less under-bust, EN 13402"
    TEXTBOOK = "bust less chest under it, a pattern author"


def _around(letters: tuple[str, ...], first_in: float) -> tuple[tuple[str, float, float], ...]:
    """Letters a whole inch apart, each for half an inch to either side."""
    return tuple((letter, first_in + step - 0.5, first_in + step + 0.5) for step, letter in enumerate(letters))


_CUPS_IN = {
    CupRule.HOME_SEWING: _around(("A", "B", "C", "D", "DD", "DDD"), 1.0),
    CupRule.CIRCULAR: (("AA", -np.inf, 1.0), ("A", 1.0, 2.0), ("B", 2.0, 3.0), ("C", 3.0, 4.0), ("D", 4.0, np.inf)),
    CupRule.TEXTBOOK: _around(("B", "C", "D"), 4.0),
}
"""Letters with the differences in inches they stand for, from ... up to. Home sewing: general convention, no source;
circular: Posture and Foundation Garments, p. 8 (its AA is for no difference or less); textbook: Hoffmann, Choosing
the right size, whose patterns are drafted for 4 in."""

_CUPS_CM = tuple((letter, 10.0 + 2 * step, 12.0 + 2 * step) for step, letter in enumerate(("AA", *"ABCDEF")))
"""EN 13402, bust less under-bust, from memory."""


def cup_letter(difference_mm: float, rule: CupRule) -> str:
    """The cup letter of a difference under a rule, "" where the rule has none."""
    unit_mm, bands = (10.0, _CUPS_CM) if rule is CupRule.EN_13402 else (_IN, _CUPS_IN[rule])
    return next((letter for letter, low, high in bands if low <= difference_mm / unit_mm < high), "")


DRAFTED_CUP_MM = 2 * _IN
"""What patterns are mostly drafted for, where nobody says: home-sewing B; ask what this pattern was drafted for."""


@dataclass(frozen=True, slots=True)
class CapEase:
    """By how much a sleeve cap is longer than its armhole, from ... to ..., and who says so."""

    garment: str
    low_mm: float
    high_mm: float
    source: str


CAP_EASE = (
    CapEase("set-in sleeve, textbooks", _IN, 1.5 * _IN, "textbooks"),
    CapEase("set-in sleeve, woven", 1.375 * _IN, 1.375 * _IN, "a technical designer (madalynne.com, sleeve cap ease)"),
    CapEase("knit", 0.5 * _IN, 0.75 * _IN, "a technical designer (madalynne.com, sleeve cap ease)"),
    CapEase("any, at least", 0.5 * _IN, _IN, "sewandso.wordpress.com, part 6: gathers show from about 1 in extra"),
    CapEase("shirt", 0.0, 0.75 * _IN, _MEMORY),
    CapEase("dress or blouse", 0.75 * _IN, 1.5 * _IN, _MEMORY),
    CapEase("jacket or coat", 1.25 * _IN, 2 * _IN, _MEMORY),
    CapEase("back half", 0.5 * _IN, 0.625 * _IN, _MEMORY),
    CapEase("front half", 0.375 * _IN, 0.5 * _IN, _MEMORY),
)
"""Sleeve-cap ease as published, and bands from memory. Some in the trade hold that none is needed at all
(fashion-incubator.com, sleeve cap ease); the armhole may never be longer than the cap."""
