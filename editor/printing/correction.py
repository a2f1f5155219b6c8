"""What a printer makes of 100 mm, and how that is put right."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from editor.printing.wording import square_too_far_off
from geometry.errors import PatternError

SQUARE_MM: Final = 100.0
"""Side of the test square that is measured."""

FARTHEST_OFF_MM: Final = 5.0
"""A square further off than this comes from "fit to page", which changes with the paper: not to be corrected here."""


@dataclass(frozen=True, slots=True)
class Correction:
    """What the sides of the test square measured on a print without correction.

    Side A lies along the short side of the sheet, side B along the long one: the way of the paper through the printer
    decides which of them is off, not how the page is turned.

    Attributes:
        a_mm: Side A.
        b_mm: Side B.

    Raises:
        PatternError: a side is so far off that the printer is set wrongly.
    """

    a_mm: float = SQUARE_MM
    b_mm: float = SQUARE_MM

    def __post_init__(self) -> None:
        for name, measured_mm in (("A", self.a_mm), ("B", self.b_mm)):
            if not abs(measured_mm - SQUARE_MM) <= FARTHEST_OFF_MM:
                raise PatternError(square_too_far_off(name, measured_mm, FARTHEST_OFF_MM), code="square-measured")

    @property
    def is_none(self) -> bool:
        """Whether the printer is right as it is."""
        return self == NO_CORRECTION

    def printed(self, *, landscape: bool) -> tuple[float, float]:
        """How long a millimetre of the page comes out, across and up the page."""
        a, b = self.a_mm / SQUARE_MM, self.b_mm / SQUARE_MM
        return (b, a) if landscape else (a, b)


NO_CORRECTION: Final = Correction()
