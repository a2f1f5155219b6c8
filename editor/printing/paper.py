"""Sheets of paper, what of them can be printed, and how far one sheet lies on the next."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from typing import Final

from editor.printing.correction import NO_CORRECTION, Correction
from editor.printing.picture import Box
from geometry.errors import PatternError
from geometry.units import Unit, parse_length_mm

COVER_NEEDS_MM: Final = (160.0, 235.0)
"""Short and long side of the smallest printable area that holds the two test squares and the page map."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, upright.

    Attributes:
        name: What it is called.
        width_mm: Its short side; of a roll, its width.
        height_mm: Its long side; of a roll, how long a sheet may be cut from it.
        is_roll: Whether it is cut to the length that is needed.
    """

    name: str
    width_mm: float
    height_mm: float
    is_roll: bool = False


PAPERS: Final = {
    # ISO 216, and the North American sizes in whole and half inches (ANSI/ASME Y14.1 A and B).
    "a4": Paper("A4", 210.0, 297.0),
    "letter": Paper("Letter", 215.9, 279.4),
    "a3": Paper("A3", 297.0, 420.0),
    "tabloid": Paper("Tabloid", 279.4, 431.8),
    "a0": Paper("A0", 841.0, 1189.0),
}

LONGEST_MM: Final = 5000.0
"""A page of a PDF has sides of at most 14,400 points, 5,080 mm (ISO 32000-1, annex C)."""

_ROLL: Final = re.compile(r"roll\s*(?P<width>.+)")
_SIDES: Final = re.compile(r"(?P<short>.+?)\s*[x×]\s*(?P<long>.+)")
_UNIT_AT_END: Final = re.compile(r"[a-z\"″”]+$")


def paper_named(name: str) -> Paper:
    """The paper a person asked for: "A4", "500 x 700", "24 x 36 in", "roll 914", "roll 36 in".

    Raises:
        PatternError: there is no such paper; the sentence lists those there are.
    """
    words = " ".join(name.lower().split())
    if words in PAPERS:
        return PAPERS[words]
    if match := _ROLL.fullmatch(words):
        return roll(parse_length_mm(match["width"], default=Unit.MM))
    if match := _SIDES.fullmatch(words):
        unit = _UNIT_AT_END.search(match["long"])
        short = match["short"] if unit is None or _UNIT_AT_END.search(match["short"]) else match["short"] + unit[0]
        return own_size(*(parse_length_mm(side, default=Unit.MM) for side in (short, match["long"])))
    known = ", ".join(each.name for each in PAPERS.values())
    raise PatternError(
        f'There is no paper called "{name}"; choose one of {known}, or write its sides ("500 x 700") or the width of'
        ' a roll ("roll 914").',
        code="no-such-paper",
    )


def roll(width_mm: float) -> Paper:
    """A roll of paper; raises ``PatternError`` for a width that no roll has."""
    _refuse_side(width_mm)
    return Paper(f"roll {width_mm:g} mm", width_mm, LONGEST_MM, is_roll=True)


def own_size(one_mm: float, other_mm: float) -> Paper:
    """A sheet with these sides; raises ``PatternError`` for sides that no sheet has."""
    short, long = sorted((one_mm, other_mm))
    _refuse_side(short)
    _refuse_side(long)
    return Paper(f"{short:g} × {long:g} mm", short, long)


def _refuse_side(side_mm: float) -> None:
    least_mm = COVER_NEEDS_MM[0]
    if not least_mm <= side_mm <= LONGEST_MM:
        raise PatternError(
            f"Paper {side_mm:g} mm wide cannot be used; give sides from {least_mm:g} to {LONGEST_MM:g} mm.",
            code="paper-size",
        )


@dataclass(frozen=True, slots=True)
class PageFormat:
    """A sheet as it comes out of the printer. All its lengths are what a ruler finds on the paper.

    Attributes:
        paper: The size of paper.
        landscape: Whether its long side lies across.
        margin_mm: Strip along every side that stays free of the pattern.
        overlap_mm: How much of the drawing two neighbouring sheets both show.
        butted: Whether every joining edge is trimmed and the sheets are put side by side; else a sheet is laid on the
            ones before it.
        correction: What the printer makes of the test square.

    Raises:
        PatternError: the margin or the overlap leaves no room.
    """

    paper: Paper
    landscape: bool = False
    margin_mm: float = 10.0
    overlap_mm: float = 0.0
    butted: bool = False
    correction: Correction = NO_CORRECTION

    def __post_init__(self) -> None:
        self._refuse_margin()
        self._refuse_overlap()

    def _refuse_margin(self) -> None:
        whole = sorted((self.width_mm, self.height_mm))
        short, long = (side - 2 * self.margin_mm for side in whole)
        most_mm = min(side - needed for side, needed in zip(whole, COVER_NEEDS_MM, strict=True)) / 2
        if most_mm < 0:
            raise PatternError(
                f"Sheets of {self.paper.name} are too small for the test squares; use paper of at least"
                f" {COVER_NEEDS_MM[0]:g} × {COVER_NEEDS_MM[1]:g} mm.",
                code="paper-size",
            )
        if not 0 <= self.margin_mm <= most_mm:
            room = f", which leaves {short:g} × {long:g} mm" if self.margin_mm > 0 else ""
            raise PatternError(
                f"The margin is {self.margin_mm:g} mm on {self.paper.name}{room};"
                f" choose a margin from 0 to {math.floor(most_mm)} mm so that the test squares fit.",
                code="margin",
            )

    def _refuse_overlap(self) -> None:
        if self.butted and self.overlap_mm:
            raise PatternError(
                "Sheets that are trimmed and put side by side do not overlap; choose one of the two.", code="overlap"
            )
        most_mm = min(self.usable.width_mm, self.usable.height_mm) / 2
        if not 0 <= self.overlap_mm <= most_mm:
            room = f"{self.usable.width_mm:g} × {self.usable.height_mm:g} mm"
            raise PatternError(
                f"The overlap is {self.overlap_mm:g} mm, and the part of {self.paper.name} that can be printed is"
                f" {room}; choose an overlap from 0 to {math.floor(most_mm)} mm.",
                code="overlap",
            )

    @property
    def sent_mm(self) -> tuple[float, float]:
        """Width and height of the sheet as the printer is told, before it makes more or less of them."""
        upright = (self.paper.width_mm, self.paper.height_mm)
        return upright[::-1] if self.landscape else upright

    @property
    def printed(self) -> tuple[float, float]:
        """How long a millimetre that the printer is told comes out on the paper, across and up."""
        return self.correction.printed(landscape=self.landscape)

    @property
    def width_mm(self) -> float:
        """Of the sheet as it lies."""
        return self.sent_mm[0] * self.printed[0]

    @property
    def height_mm(self) -> float:
        """Of the sheet as it lies."""
        return self.sent_mm[1] * self.printed[1]

    @property
    def usable(self) -> Box:
        """The printed part, from the lower left corner of the sheet."""
        return Box(self.margin_mm, self.margin_mm, self.width_mm - self.margin_mm, self.height_mm - self.margin_mm)

    @property
    def step_mm(self) -> tuple[float, float]:
        """From one sheet to the next, across and down."""
        return (self.usable.width_mm - self.overlap_mm, self.usable.height_mm - self.overlap_mm)

    def cut_to(self, height_mm: float) -> PageFormat:
        """A sheet cut from a roll so long that the printed part is so high."""
        length_mm = (height_mm + 2 * self.margin_mm) / self.printed[1]
        return replace(self, paper=replace(self.paper, height_mm=length_mm))
