"""What lies on the table: every piece as a sheet of paper with its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from editor.canvas.viewport import Box
from editor.selection import NOTHING_PICKED, Selection
from geometry.affine import Point, Points
from geometry.alterations.chalk import RecordedCut
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.units import Unit


@dataclass(frozen=True, slots=True, eq=False)
class Sheet:
    """A piece as a sheet of paper.

    Attributes:
        piece: The piece, in its own coordinates.
        ring: Its cutting line in the same coordinates.
        at: Where the origin of those coordinates lies on the table.
        box: What it covers of the table.
    """

    piece: Piece
    ring: Points
    at: Point = (0.0, 0.0)
    box: Box = field(init=False)

    def __post_init__(self) -> None:
        low, high = self.ring.min(axis=0), self.ring.max(axis=0)
        dx, dy = self.at
        box = (float(low[0]) + dx, float(low[1]) + dy, float(high[0]) + dx, float(high[1]) + dy)
        object.__setattr__(self, "box", box)

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.piece.name

    def to_piece(self, place: Point) -> Point:
        """A place on the table in the piece's coordinates."""
        return (place[0] - self.at[0], place[1] - self.at[1])

    def to_table(self, place: Point) -> Point:
        """A place of the piece on the table."""
        return (place[0] + self.at[0], place[1] + self.at[1])


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Everything a tool may look at.

    Attributes:
        pattern: The pattern shown.
        sheets: Its pieces as they lie on the table, by name, the lowest first.
        selected: Name of the selected piece, "" if none is.
        picked: Everything that is picked out.
        proposed: Ids of the seams that are proposed and not stated.
        cuts: Where the journal's cuts run.
        unit: The unit lengths are shown in; dragged amounts are whole parts of it.
    """

    pattern: Pattern
    sheets: Mapping[str, Sheet]
    selected: str = ""
    cuts: tuple[RecordedCut, ...] = ()
    unit: Unit = Unit.CM
    picked: Selection = NOTHING_PICKED
    proposed: frozenset[str] = frozenset()

    def __iter__(self) -> Iterator[Sheet]:
        return iter(self.sheets.values())


def covering(boxes: list[Box]) -> Box | None:
    """The box round boxes, ``None`` round none."""
    if not boxes:
        return None
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return (min(x0), min(y0), max(x1), max(y1))
