"""Every sentence that is printed on the sheets, in one place for translators."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from editor.printing.picture import LineKind

# 97 % of 920 mm is 28 mm short (own reckoning); half a millimetre on 100 mm is let pass, more than one is not.
METRIC_FIGURE: Final = "100 mm"
MEASURE: Final = (
    "Measure this square in both directions before you cut any paper.",
    "Print at 100 %, also called actual size. Never fit to page.",
    "99.5 to 100.5 mm: the print is right. Under 99 or over 101 mm: change the printer settings and print again.",
    "At 97 % a bust of 920 mm comes out 28 mm too small: more than all the wearing ease.",
)
INCH_FIGURE: Final = "4 in"
TAPING: Final = "Putting the sheets together"
TAPING_STEPS: Final = (
    "Lay out the sheets as on the map: letters are rows, numbers are columns.",
    "Cut the left and the top edge of a sheet along the line with the scissors. Leave the other edges.",
    "Lay the cut edge on the sheet beside it so that the half diamonds close and the quarter rings make rings. Tape.",
    "Join the sheets of a row first, then row to row.",
    "Check with a long ruler that a grain line across several sheets is straight.",
    "Paper shrinks and swells with the air: cut soon after joining, keep the pieces flat.",
)
CAUTIONS_HEADING: Final = "Take care"
CAUTIONS: Final = (
    "Measure the test square before cutting paper.",
    "Sew a toile before cutting good cloth.",
    "Keep scissors, blades and pins away from children.",
)
MAP_HEADING: Final = "Map of the sheets"
PIECES_HEADING: Final = "Pieces"
LINES_HEADING: Final = "Lines"
LINES: Final = {
    LineKind.CUTTING: "cutting line",
    LineKind.STITCHING: "stitching line",
    LineKind.FOLD: "fold",
    LineKind.DART_LEG: "dart leg",
    LineKind.DART_CENTRE: "middle of a dart",
    LineKind.GRAIN: "grain",
    LineKind.INNER: "line inside a piece",
    LineKind.ALTERATION: "altered along here",
    LineKind.LENGTHEN: "lengthen or shorten",
}
FOLD: Final = "place on fold"


def sheets(count: int) -> str:
    """How many sheets follow."""
    return f"{count} sheet" if count == 1 else f"{count} sheets"


def page_of(number: int, count: int) -> str:
    """Which page this is."""
    return f"page {number} of {count}"


def more_pieces(count: int) -> str:
    """Pieces for which the list has no room."""
    return f"and {count} more on the sheets"


def overlap(overlap_mm: float) -> str:
    """How the sheets meet."""
    return f"overlap {overlap_mm:g} mm" if overlap_mm else "edge to edge"


def cut(quantity: int, *, on_fold: bool) -> str:
    """How many to cut, and whether on the fold."""
    return f"cut {quantity} on fold" if on_fold else f"cut {quantity}"


def size(name: str) -> str:
    """Which size."""
    return f"size {name}"


def allowances(usual: str, others: Sequence[tuple[str, str]]) -> str:
    """What allowance the cutting line includes; ``usual`` is "" where there is none."""
    amounts: dict[str, list[str]] = {}
    for edge, amount in others:
        amounts.setdefault(amount, []).append(edge)
    exceptions = [f"{', '.join(edges)} {amount}" for amount, edges in amounts.items()]
    if not usual and not exceptions:
        return "no allowance: add it when you cut"
    if not usual:
        return f"no allowance but {', '.join(exceptions)}"
    return ", ".join([f"allowance {usual} included", *exceptions])


def capital(words: str) -> str:
    """With a capital first letter, as a heading has it."""
    return words[:1].upper() + words[1:]
