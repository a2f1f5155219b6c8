"""Every sentence that is printed on the sheets, in one place for translators."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from editor.printing.picture import LineKind
from geometry.units import Unit

# 97 % of 920 mm is 28 mm short (own reckoning); half a millimetre on 100 mm is let pass, more than one is not.
METRIC_FIGURE: Final = "100 mm"
SIDE_A: Final = "A"
SIDE_B: Final = "B"
_MEASURE_FIRST: Final = (
    "Measure sides A and B of this square before you cut any paper.",
    "Print at 100 %, also called actual size. Never fit to page.",
)
MEASURE: Final = (
    *_MEASURE_FIRST,
    "99.5 to 100.5 mm: the print is right. Else tell Dartwise what A and B measure (printer correction) and print"
    " again. Under 95 or over 105 mm the printer still fits to page.",
    "At 97 % a bust of 920 mm comes out 28 mm too small: more than all the wearing ease.",
)
MEASURE_CORRECTED: Final = (
    *_MEASURE_FIRST,
    "99.5 to 100.5 mm: the print is right. Else set the printer correction back to 100 mm, print this page, and tell"
    " Dartwise what A and B measure then.",
)
INCH_FIGURE: Final = "4 in"
TAPING: Final = "Putting the sheets together"
_ORDER: Final = (
    "Lay out the sheets as on the map: letters are rows, numbers are columns, pages are in the order of taping."
)
_LAPPED: Final = (
    "Cut the left and the top edge of a sheet along the line with the scissors. Leave the other edges.",
    "Lay the cut edge on the sheet beside it so that the half diamonds close and the quarter rings make rings. Tape.",
)
_CUT_CORNER: Final = (
    "Cut off the small corner, too: through it you read which sheet lies below, and see that the order is right."
)
_BUTTED: Final = (
    "Cut every edge that has scissors along its line.",
    "Put the cut edges side by side so that the half diamonds close and the quarter rings make rings. Tape.",
)
_LATER: Final = (
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
ALTERATION_SHEET: Final = "Alteration sheet"
STEPS_HEADING: Final = "What is altered"
NO_STEPS: Final = "Nothing: the pattern is as it was bought."
SWITCHED_OFF: Final = " (Switched off: not done.)"
DID_NOT_FIT: Final = " (It does not fit the pattern: not done.)"
SEAMS_HEADING: Final = "Seams that changed"
GARMENT_HEADING: Final = "The garment"
TOILE_HEADING: Final = "Look at this on the toile"
TOILE_ALWAYS: Final = (
    "Sit, reach forward and bend the elbows: nothing should draw.",
    "Side seams hang plumb, waist and hem lie level, the grain line runs straight down.",
)
CONTINUED: Final = "continued"
NOW: Final = "altered"
BEFORE: Final = "as bought"
BEFORE_STEP: Final = "before the step"
AFTER_STEP: Final = "after it"
CUT_HERE: Final = "cut here"
STAYS_JOINED: Final = "stays joined"
MAP_HEADING: Final = "Map of the sheets"
SIZES_HEADING: Final = "Cutting lines of the sizes"
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
MIRRORED: Final = "mirrored"


def sheets(count: int) -> str:
    """How many sheets follow."""
    return f"{count} sheet" if count == 1 else f"{count} sheets"


def pages(count: int) -> str:
    """How many pages there are."""
    return "1 page" if count == 1 else f"{count} pages"


def page_of(number: int, count: int) -> str:
    """Which page this is."""
    return f"page {number} of {count}"


def on_join(piece: str, words: str, sheets: Sequence[tuple[str, str]]) -> str:
    """That a dart or a notch lies where sheets are joined."""
    joins = [f"{one} and {other}" for one, other in sheets]
    where = " and of ".join([", of ".join(joins[:-1]), joins[-1]] if len(joins) > 1 else joins)
    return (
        f"{capital(words)} of the {piece} lies on the join of {where}: measure it again when they are taped, or move"
        " the piece."
    )


def letters_missing(name: str) -> str:
    """That a name cannot be printed as it is written."""
    return (
        f'"{name}" has letters that no font of this computer has; they come out as question marks: install a font for'
        " them, or write the name by hand."
    )


def letters_not_joined(name: str) -> str:
    """That the letters of a name are printed side by side."""
    return f'The letters of "{name}" are printed side by side and not joined as they should be: write the name by hand.'


def more_pieces(count: int) -> str:
    """Pieces for which the list has no room."""
    return f"and {count} more on the sheets"


def taping_steps(*, butted: bool, cut_corner: bool) -> tuple[str, ...]:
    """How the sheets are put together."""
    joining = _BUTTED if butted else (*_LAPPED, _CUT_CORNER) if cut_corner else _LAPPED
    return (_ORDER, *joining, *_LATER)


def overlap(overlap_mm: float, *, butted: bool) -> str:
    """How the sheets meet."""
    return f"overlap {overlap_mm:g} mm" if overlap_mm else "edge to edge, trimmed" if butted else "edge to edge"


def corrected(a_mm: float, b_mm: float) -> str:
    """Under the label of every sheet: that the print is corrected, and for what."""
    return f"corrected for A {a_mm:g}, B {b_mm:g} mm"


def corrected_square(a_mm: float, b_mm: float) -> str:
    """In the test square of a print that is corrected."""
    return f"Corrected for a printer that makes A {a_mm:g} mm and B {b_mm:g} mm: both must now measure 100 mm."


def square_too_far_off(side: str, measured_mm: float, farthest_mm: float) -> str:
    """Why a measured side is not taken."""
    return (
        f"Side {side} of the 100 mm square is said to measure {measured_mm:g} mm; {100 - farthest_mm:g} to"
        f" {100 + farthest_mm:g} mm can be corrected. Further off, the printer still fits to page: set it to 100 %."
    )


def cut(quantity: int, *, on_fold: bool) -> str:
    """How many to cut, and whether on the fold."""
    return f"cut {quantity} on fold" if on_fold else f"cut {quantity}"


def copy_of(number: int, count: int) -> str:
    """Which of several copies of a piece this is."""
    return f"copy {number} of {count}"


def size(name: str) -> str:
    """Which size."""
    return f"size {name}"


def sizes(names: Sequence[str], *, blended: bool = False) -> str:
    """Which sizes a piece is drawn in; where the first is blended of several, the others are whole ones."""
    if blended and len(names) > 1:
        return f"blend of sizes {names[0]}, whole {'size' if len(names) == 2 else 'sizes'} {', '.join(names[1:])}"
    return f"sizes {', '.join(names)}" if len(names) > 1 else size(names[0]) if names else ""


def size_layer(name: str) -> str:
    """The layer that holds a size."""
    return capital(size(name))


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


def seam_heads(unit: Unit) -> tuple[str, ...]:
    """Over the seams that changed."""
    return (f"Sewn together, darts folded shut, {unit.value}", "first side", "second side", "longer by")


def garment_heads(unit: Unit) -> tuple[str, ...]:
    """Over what the garment measures beside the wearer."""
    return (f"Measured, {unit.value}", "body", "bought", "altered", "ease", "usual ease")


def unmeasured_heads(unit: Unit) -> tuple[str, ...]:
    """Over what the garment measures where nobody was measured."""
    return (f"What changed, {unit.value}", "bought", "altered", "by")


def dart_width(dart: str, width: str) -> str:
    """How wide a dart is at its mouth."""
    return f"{dart} {width} wide"


def extent(across: str, down: str) -> str:
    """How large a piece is."""
    return f"Stitching line in all: {across} across, {down} high."


def step(number: int) -> str:
    """Which step of the journal."""
    return f"Step {number}"


def was_is(before: str, after: str) -> str:
    """A length before and after; once where nothing changed."""
    return after if before == after else f"{before} → {after}"


def edges_of(pieces: Mapping[str, Sequence[str]]) -> str:
    """Edges by their pieces: "cap of sleeve"."""
    return ", ".join(f"{', '.join(edges)} of {piece}" for piece, edges in pieces.items())


def sewn_to(first: str, second: str) -> str:
    """The two sides of a seam."""
    return f"{first} to {second}"


def seen(note: str) -> str:
    """What was noted at the last fitting."""
    return f"Seen last time: {note}"


def capital(words: str) -> str:
    """With a capital first letter, as a heading has it."""
    return words[:1].upper() + words[1:]
