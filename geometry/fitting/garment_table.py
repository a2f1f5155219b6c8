"""What the garment measures, what the wearer measures, and the ease between them, before and after altering."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.fitting.body import Body
from geometry.fitting.ease import NO_OWN_EASE, GarmentEase, ease_row
from geometry.fitting.finished import finished
from geometry.fitting.measures import TAPES, Kind, Measure
from geometry.model.pattern import Pattern
from geometry.tolerance import NOTABLE_MM
from geometry.units import Unit, format_length


@dataclass(frozen=True, slots=True)
class Row:
    """One measurement of the garment beside the wearer's.

    Attributes:
        measure: Where.
        body_mm: The wearer's, ``None`` if it was not taken.
        before_mm: The pattern's before it was altered.
        after_mm: The altered pattern's.
        least_mm: The ease that must be left.
        usual_mm: Usual ease, from ... to; ``None`` where lengths are followed exactly.
    """

    measure: Measure
    body_mm: float | None
    before_mm: float | None
    after_mm: float | None
    least_mm: float
    usual_mm: tuple[float, float] | None

    @property
    def ease_before_mm(self) -> float | None:
        """Garment less body before altering."""
        return None if self.body_mm is None or self.before_mm is None else self.before_mm - self.body_mm

    @property
    def ease_after_mm(self) -> float | None:
        """Garment less body after altering."""
        return None if self.body_mm is None or self.after_mm is None else self.after_mm - self.body_mm

    @property
    def is_below(self) -> bool:
        """Whether the altered garment leaves less ease than it must, where the body has to get into it."""
        ease = self.ease_after_mm
        return ease is not None and self.usual_mm is not None and ease < self.least_mm - NOTABLE_MM

    def words(self, unit: Unit) -> str:
        """What is to be said of it, "" if it is as it should be."""
        ease = self.ease_after_mm
        if not self.is_below or ease is None:
            return ""
        least, name = format_length(self.least_mm, unit), self.measure.value
        if ease < 0:
            return f"Too small: the {name} is {format_length(-ease, unit)} more than the garment."
        return f"Too little ease at the {name}: {format_length(ease, unit)}, at least {least} is needed."


def garment_table(body: Body, before: Pattern, after: Pattern, *, ease: GarmentEase = NO_OWN_EASE) -> tuple[Row, ...]:
    """Every measurement that the pattern tells, from the top down, with the wearer's and the ease."""
    first, last = finished(before), finished(after)
    rows = []
    for tape in TAPES:
        made = first.mm(tape.measure), last.mm(tape.measure)
        if made != (None, None):
            table = ease_row(tape.measure)
            usual = (table.low_mm, table.high_mm) if table.high_mm > 0 or tape.kind is Kind.GIRTH else None
            rows.append(Row(tape.measure, body.mm(tape.measure), *made, ease.least_mm(tape.measure), usual))
    return tuple(rows)
