"""The block of words on a piece: what it is, for whom, how it is cut."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from editor.printing import wording
from editor.printing.lettering import NO_BREAK
from editor.printing.picture import WordBlock, WordRow
from geometry.model.edge import EdgeRole
from geometry.model.piece import Piece
from geometry.units import Unit, format_length

_NAME_MM: Final = 7.5
_CUT_MM: Final = 5.0
_FACTS_MM: Final = 4.0
_SMALL_MM: Final = 3.2


@dataclass(frozen=True, slots=True)
class Ticket:
    """What is known of this printing besides the piece itself; "" where it is not.

    Attributes:
        wearer: For whom.
        round: Which round of fitting.
        date: As it is to be printed.
        unit: For the allowances.
        blended: Whether the pattern is blended of several sizes; further sizes drawn on it are whole ones.
    """

    wearer: str = ""
    round: str = ""
    date: str = ""
    unit: Unit = Unit.MM
    blended: bool = False


def quantity_words(piece: Piece) -> str:
    """How it is cut: "cut 2", "cut 1 on fold"."""
    return wording.cut(piece.quantity, on_fold=piece.fold is not None)


def allowance_words(piece: Piece, unit: Unit) -> str:
    """What the cutting line includes: "allowance 15 mm included, hem 40 mm"."""
    edges = [edge for edge in piece.edges if edge.id != piece.fold]
    # A hem is deeper than the seams as a rule, so it does not speak for them even where it is long.
    seams = [edge for edge in edges if edge.role is not EdgeRole.HEM] or edges
    runs: dict[float, float] = {}
    for edge in seams:
        runs[edge.allowance_mm] = runs.get(edge.allowance_mm, 0.0) + edge.length_mm
    main = max(runs, key=lambda amount: runs[amount], default=0.0)
    others = [(edge.id, _amount(edge.allowance_mm, unit)) for edge in edges if edge.allowance_mm != main]
    return wording.allowances(_amount(main, unit) if main else "", others)


def _amount(length_mm: float, unit: Unit) -> str:
    """Number and unit on one line."""
    return format_length(length_mm, unit).replace(" ", NO_BREAK)


def word_block(piece: Piece, ticket: Ticket, sizes: Sequence[str]) -> WordBlock:
    """What is written on the piece, drawn in these sizes; facts that are not known are left out."""
    facts = (wording.sizes([size for size in sizes if size], blended=ticket.blended), ticket.wearer, ticket.round)
    small = (piece.material, ticket.date, allowance_words(piece, ticket.unit))
    rows = (
        WordRow(wording.capital(piece.name), _NAME_MM, bold=True),
        WordRow(" · ".join(filter(None, facts)), _FACTS_MM),
        WordRow(quantity_words(piece), _CUT_MM, bold=True),
        WordRow(" · ".join(filter(None, small)), _SMALL_MM),
    )
    return WordBlock(tuple(row for row in rows if row.text), _grain_deg(piece))


def _grain_deg(piece: Piece) -> float:
    if piece.grain is None:
        return 90.0
    (x0, y0), (x1, y1) = piece.grain.start, piece.grain.end
    return math.degrees(math.atan2(y1 - y0, x1 - x0))
