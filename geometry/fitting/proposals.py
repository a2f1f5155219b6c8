"""A proposed alteration: what, by how much, and the sum that leads to it."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.registry import entry_of
from geometry.fitting.measures import Measure
from geometry.units import Unit, format_length


@dataclass(frozen=True, slots=True)
class Term:
    """One figure of a sum: its words and its length with its sign."""

    words: str
    mm: float


@dataclass(frozen=True, slots=True)
class Proposal:
    """One alteration that the figures ask for; it is never applied unasked.

    Attributes:
        entry: Code of the handbook's entry.
        amount_mm: Its amount, what each piece gets.
        variant: The way it is done, "" for the first.
        measure: What was measured.
        difference_mm: Body and ease less pattern, the whole of it; negative where the pattern has too much.
        terms: What the difference is the sum of.
        share: How the difference becomes the amount, in words.
        note: What else the person should know, "" for nothing.
    """

    entry: str
    amount_mm: float
    measure: Measure
    difference_mm: float
    terms: tuple[Term, ...]
    share: str
    variant: str = ""
    note: str = ""

    def words(self, unit: Unit) -> str:
        """The sum in words and numbers, and what each piece gets of it."""
        first, *rest = self.terms
        parts = [f"{first.words} {format_length(first.mm, unit)}"]
        parts += [f"{'+' if term.mm >= 0 else '−'} {term.words} {format_length(abs(term.mm), unit)}" for term in rest]
        more = "more" if self.difference_mm > 0 else "less"
        total = f"{' '.join(parts)} = {format_length(abs(self.difference_mm), unit)} {more} in all"
        share = f"; {self.share}: {format_length(abs(self.amount_mm), unit)}" if self.share else ""
        return f"{total[:1].upper()}{total[1:]}{share}."

    @property
    def title(self) -> str:
        """The name of the alteration in words."""
        return entry_of(self.entry).name

    def step(self) -> Alteration:
        """The alteration as a step for the journal."""
        return Alteration(self.entry, self.amount_mm, self.variant)
