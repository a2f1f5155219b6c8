"""Sheets of paper, what of them can be printed, and how far one sheet lies on the next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from editor.printing.picture import Box
from geometry.errors import PatternError

COVER_NEEDS_MM: Final = (160.0, 235.0)
"""Short and long side of the smallest printable area that holds the two test squares and the page map."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, upright."""

    name: str
    width_mm: float
    height_mm: float


PAPERS: Final = {
    # ISO 216, and the North American sizes in whole and half inches (ANSI/ASME Y14.1 A and B).
    "a4": Paper("A4", 210.0, 297.0),
    "letter": Paper("Letter", 215.9, 279.4),
    "a3": Paper("A3", 297.0, 420.0),
    "tabloid": Paper("Tabloid", 279.4, 431.8),
    "a0": Paper("A0", 841.0, 1189.0),
}


def paper_named(name: str) -> Paper:
    """The paper a person asked for by name.

    Raises:
        PatternError: there is no such paper; the sentence lists those there are.
    """
    paper = PAPERS.get(name.strip().lower())
    if paper is None:
        known = ", ".join(each.name for each in PAPERS.values())
        raise PatternError(f'There is no paper called "{name}"; choose one of {known}.', code="no-such-paper")
    return paper


@dataclass(frozen=True, slots=True)
class PageFormat:
    """A sheet as it goes through the printer.

    Attributes:
        paper: The size of paper.
        landscape: Whether its long side lies across.
        margin_mm: Strip along every side that stays free of the pattern.
        overlap_mm: How much of the drawing two neighbouring sheets both show.

    Raises:
        PatternError: the margin or the overlap leaves no room.
    """

    paper: Paper
    landscape: bool = False
    margin_mm: float = 10.0
    overlap_mm: float = 0.0

    def __post_init__(self) -> None:
        self._refuse_margin()
        self._refuse_overlap()

    def _refuse_margin(self) -> None:
        short, long = self.paper.width_mm - 2 * self.margin_mm, self.paper.height_mm - 2 * self.margin_mm
        most_mm = min(self.paper.width_mm - COVER_NEEDS_MM[0], self.paper.height_mm - COVER_NEEDS_MM[1]) / 2
        if not 0 <= self.margin_mm <= most_mm:
            room = f", which leaves {short:g} × {long:g} mm" if self.margin_mm > 0 else ""
            raise PatternError(
                f"The margin is {self.margin_mm:g} mm on {self.paper.name}{room};"
                f" choose a margin from 0 to {most_mm:.0f} mm so that the test squares fit.",
                code="margin",
            )

    def _refuse_overlap(self) -> None:
        most_mm = min(self.usable.width_mm, self.usable.height_mm) / 2
        if not 0 <= self.overlap_mm <= most_mm:
            room = f"{self.usable.width_mm:g} × {self.usable.height_mm:g} mm"
            raise PatternError(
                f"The overlap is {self.overlap_mm:g} mm, and the part of {self.paper.name} that can be printed is"
                f" {room}; choose an overlap from 0 to {most_mm:.0f} mm.",
                code="overlap",
            )

    @property
    def width_mm(self) -> float:
        """Of the sheet as it lies."""
        return self.paper.height_mm if self.landscape else self.paper.width_mm

    @property
    def height_mm(self) -> float:
        """Of the sheet as it lies."""
        return self.paper.width_mm if self.landscape else self.paper.height_mm

    @property
    def usable(self) -> Box:
        """The printed part, from the lower left corner of the sheet."""
        return Box(self.margin_mm, self.margin_mm, self.width_mm - self.margin_mm, self.height_mm - self.margin_mm)

    @property
    def step_mm(self) -> tuple[float, float]:
        """From one sheet to the next, across and down."""
        return (self.usable.width_mm - self.overlap_mm, self.usable.height_mm - self.overlap_mm)
