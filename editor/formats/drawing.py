"""What a drawing file holds, in neutral records: shapes on numbered layers, grouped in named blocks.

Coordinates stay in the file's own units; whoever makes pieces of them states the unit. Every curve
has become a run of points on the curve. What was mended while reading is told in ``notes``, what was
left out is counted in ``unused``.
"""

import re
from dataclasses import dataclass, fields
from typing import Any, Literal

import numpy as np

from geometry.affine import Points

Kind = Literal["path", "point", "text"]
Unit = Literal["mm", "cm", "in"]

_LAYER_NUMBER = re.compile(r"(?:layer[\s_-]*)?0*(\d+)(?:\.0*)?", re.IGNORECASE)


def layer_key(name: str) -> str:
    """Return the layer's plain number where the name is one ('01', '1.0', 'LAYER1' are '1'), else the name."""
    stripped = name.strip()
    match = _LAYER_NUMBER.fullmatch(stripped)
    return match.group(1) if match else stripped


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """One drawn thing: a path (n points), a point or a text (one point each).

    A closed path does not repeat its first point. ``z``, ``thickness`` and ``angle_deg`` are those of a
    POINT (for notches: depth, width and direction), zero where the file is silent.
    """

    layer: str
    kind: Kind
    points: Points
    closed: bool = False
    text: str = ""
    z: float = 0.0
    thickness: float = 0.0
    angle_deg: float = 0.0
    entity: str = ""

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Shape):
            return NotImplemented
        return _plain(self) == _plain(other) and np.array_equal(self.points, other.points)

    __hash__ = None  # type: ignore[assignment]


def _plain(shape: Shape) -> tuple[Any, ...]:
    return tuple(getattr(shape, field.name) for field in fields(shape) if field.name != "points")


@dataclass(frozen=True, slots=True)
class Block:
    """The shapes of one block as placed in the drawing; names are unique in a drawing."""

    name: str
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole drawing file.

    ``blocks`` has one entry per placed block, and one per block that nothing places; ``loose`` is what
    was drawn outside blocks. ``units_hint`` is what the file says about its unit and ``units_source`` a
    fragment of a sentence on where it says so; ``units_stated`` is True only where a text names the
    unit, since header variables are often left at a default by the sending program.
    """

    blocks: tuple[Block, ...] = ()
    loose: tuple[Shape, ...] = ()
    units_hint: Unit | None = None
    units_source: str = ""
    units_stated: bool = False
    unused: tuple[tuple[str, str, int], ...] = ()
    notes: tuple[str, ...] = ()
