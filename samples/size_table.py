"""Body figures of the seven sizes and the drafting figures that follow from them.

Girths are published: ASTM D5585-11e1, misses figure type, inches, as shown on the standard's public page
(astm.org/Standards/D5585.htm). The drafting figures for a bust of 88 cm are published too: a metric draft of a
close-fitting bodice (angelfire.com/empire/radhika/Cool/Patterns.htm), called "the metric draft" below. How they
grow from size to size is not published there; those slopes are our own choice unless a comment says otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass

from geometry.alterations.handbook.lengths_below import crotch_depth_ease_mm
from geometry.units import MM_PER_INCH

SIZES = ("4", "6", "8", "10", "12", "14", "16")
SAMPLE_SIZE = "10"

BUST_IN = (34.125, 35.25, 36.25, 37.25, 38.75, 40.375, 42.125)
"""ASTM D5585-11e1, bust."""

WAIST_IN = (27.625, 28.5, 29.5, 30.5, 32.25, 34.0, 36.0)
"""ASTM D5585-11e1, waist (straight)."""

NECK_BASE_IN = (14.0, 14.25, 14.625, 14.875, 15.125, 15.5, 15.75)
"""ASTM D5585-11e1, neck base."""

_DRAFT_BUST_MM = 880.0
"""The bust the metric draft's figures are for."""


@dataclass(frozen=True, slots=True)
class Figures:
    """The figures one size is drafted from, whole rounds of the body in mm unless a name says otherwise."""

    size: str
    bust_mm: float
    waist_mm: float
    neck_mm: float

    @property
    def half_width_at_bust_mm(self) -> float:
        """Front and back half pattern together: half the bust and 5 cm (metric draft)."""
        return self.bust_mm / 2 + 50.0

    @property
    def half_waist_mm(self) -> float:
        """Half the finished waist seam, with wearing ease of 1 in in the whole.

        The ease is from a clothing textbook's chapter on adjusting a pattern
        (12345w.xyz/crhowto-org/clthng-fshn_sew-serg-hb_3-2.html).
        """
        return (self.waist_mm + MM_PER_INCH) / 2

    @property
    def half_width_at_hip_mm(self) -> float:
        """Front and back skirt together: half the hip and 2.5 cm (metric draft)."""
        return self.hip_mm / 2 + 25.0

    @property
    def back_neck_width_mm(self) -> float:
        """A fifth of the neck less 0.2 cm (metric draft)."""
        return self.neck_mm / 5 - 2.0

    @property
    def front_neck_width_mm(self) -> float:
        """Half a centimetre less than the back neck: own choice."""
        return self.back_neck_width_mm - 5.0

    @property
    def neck_seam_mm(self) -> float:
        """The finished neck seam: 1/4 in of ease on the neck base, from memory."""
        return self.neck_mm + MM_PER_INCH / 4

    @property
    def nape_to_waist_mm(self) -> float:
        """40 cm at bust 88 (metric draft)."""
        return 400.0 + 0.10 * self._beyond_mm

    @property
    def waist_to_hip_mm(self) -> float:
        """20.6 cm at bust 88 (metric draft)."""
        return 206.0 + 0.03 * self._beyond_mm

    @property
    def hip_mm(self) -> float:
        """Round the hip: bust + 5 cm, own choice."""
        return self.bust_mm + 50.0

    @property
    def crotch_depth_mm(self) -> float:
        """Waist to crotch level: seated depth, 26.7 cm at bust 88 from memory, and the ease NMSU Guide C-209 gives."""
        return 267.0 + 0.06 * self._beyond_mm + crotch_depth_ease_mm(self.hip_mm)

    @property
    def armhole_depth_mm(self) -> float:
        """Nape to underarm level: 21 cm at bust 88 and 0.5 cm of ease (metric draft)."""
        return 210.0 + 5.0 + 0.10 * self._beyond_mm

    @property
    def shoulder_mm(self) -> float:
        """12.25 cm at bust 88 (metric draft)."""
        return 122.5 + 0.08 * self._beyond_mm

    @property
    def half_back_mm(self) -> float:
        """Half of 34.4 cm at bust 88 and 0.5 cm of ease (metric draft)."""
        return (344.0 + 0.22 * self._beyond_mm) / 2 + 5.0

    @property
    def half_chest_mm(self) -> float:
        """Half of 32.4 cm at bust 88 (metric draft), the bust dart closed."""
        return (324.0 + 0.24 * self._beyond_mm) / 2

    @property
    def bust_dart_mm(self) -> float:
        """7 cm on the shoulder at bust 88 (metric draft); 0.6 cm more for each size step, from memory."""
        return 70.0 + 0.12 * self._beyond_mm

    @property
    def upper_arm_mm(self) -> float:
        """Round the upper arm: 28.5 cm at bust 88, from memory."""
        return 285.0 + 0.25 * self._beyond_mm

    @property
    def sleeve_length_mm(self) -> float:
        """Shoulder to wrist: 58 cm at bust 88, from memory."""
        return 580.0 + 0.05 * self._beyond_mm

    @property
    def _beyond_mm(self) -> float:
        return self.bust_mm - _DRAFT_BUST_MM


def figures(size: str) -> Figures:
    """The figures of a size of the table."""
    index = SIZES.index(size)
    bust_mm, waist_mm, neck_mm = (column[index] * MM_PER_INCH for column in (BUST_IN, WAIST_IN, NECK_BASE_IN))
    return Figures(size, bust_mm, waist_mm, neck_mm)
