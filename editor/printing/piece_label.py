"""The block of words on a piece: what it is, for whom, how it is cut."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from editor.printing import wording
from editor.printing.label_room import Room, find_room
from editor.printing.lettering import face, wrapped
from editor.printing.picture import Label
from geometry.affine import Points
from geometry.model.edge import EdgeRole
from geometry.model.piece import Piece
from geometry.units import Unit, format_length

_NAME_MM: Final = 7.5
_CUT_MM: Final = 5.0
_FACTS_MM: Final = 4.0
_SMALL_MM: Final = 3.2
_SHAPES: Final = ((1.0, 92.0), (1.0, 150.0), (0.85, 75.0), (0.85, 130.0), (0.7, 60.0), (0.7, 160.0), (0.7, 45.0))
"""Scale of the type and widest line in mm, in the order of liking: smaller type, longer lines for narrow pieces."""

_AIR_MM: Final = 2.0
"""Words keep at least this far from a line, else they are tried smaller."""


_Row = tuple[str, float, bool]
"""Words, size of the type, bold."""


@dataclass(frozen=True, slots=True)
class Ticket:
    """What is known of this printing besides the piece itself; "" where it is not.

    Attributes:
        wearer: For whom.
        round: Which round of fitting.
        date: As it is to be printed.
        unit: For the allowances.
    """

    wearer: str = ""
    round: str = ""
    date: str = ""
    unit: Unit = Unit.MM


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
    others = [(edge.id, format_length(edge.allowance_mm, unit)) for edge in edges if edge.allowance_mm != main]
    return wording.allowances(format_length(main, unit) if main else "", others)


def label_block(piece: Piece, ticket: Ticket, outline: Points, ink: Points) -> tuple[Label, ...]:
    """The words, where they have room inside the outline, along the grain where they have more room that way."""
    angles = _angles_deg(piece)
    best: tuple[Room, list[_Row], float] | None = None
    for scale, widest_mm in _SHAPES:
        rows = _rows(piece, ticket, scale, widest_mm)
        width = max(face(bold).width_mm(text, size) for text, size, bold in rows)
        height = sum(_leading(size) for _, size, _ in rows)
        room = find_room(outline, ink, width, height, angles)
        if best is None or room.clear_mm > best[0].clear_mm:
            best = (room, rows, height)
        if room.clear_mm >= _AIR_MM:
            break
    assert best is not None
    return _set(*best)


def _angles_deg(piece: Piece) -> tuple[float, ...]:
    """Level and upright; level and along the grain where the grain runs aslant."""
    if piece.grain is None:
        return (0.0, 90.0)
    (x0, y0), (x1, y1) = piece.grain.start, piece.grain.end
    along = math.degrees(math.atan2(y1 - y0, x1 - x0))
    return (0.0, (along + 89.0) % 180.0 - 89.0)


def _rows(piece: Piece, ticket: Ticket, scale: float, widest_mm: float) -> list[_Row]:
    facts = [wording.size(piece.size) if piece.size else "", ticket.wearer, ticket.round]
    small = [piece.material, ticket.date, allowance_words(piece, ticket.unit)]
    wanted: Sequence[_Row] = (
        (wording.capital(piece.name), _NAME_MM, True),
        (" · ".join(filter(None, facts)), _FACTS_MM, False),
        (quantity_words(piece), _CUT_MM, True),
        (" · ".join(filter(None, small)), _SMALL_MM, False),
    )
    return [
        (row, size * scale, bold)
        for text, size, bold in wanted
        for row in wrapped(text, widest_mm, size * scale, bold=bold)
    ]


def _leading(size_mm: float) -> float:
    return size_mm * 1.4


def _set(room: Room, rows: Sequence[_Row], height_mm: float) -> tuple[Label, ...]:
    (x, y), turn = room.middle, math.radians(room.angle_deg)
    labels = []
    down = -height_mm / 2
    for text, size, bold in rows:
        down += _leading(size)
        drop = down - 0.4 * size
        labels.append(
            Label((x + drop * math.sin(turn), y - drop * math.cos(turn)), text, size, room.angle_deg, bold=bold)
        )
    return tuple(labels)
