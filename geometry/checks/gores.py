"""The seams of a skirt from waist to hem: of two panels, or of gores in their order from centre front to back."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product

from geometry.checks.runs import Run, directed
from geometry.model.edge import EdgeRole
from geometry.model.garment import half_of, is_beside
from geometry.model.gores import side_seam_edge
from geometry.model.piece import Piece

_WAIST, _HEM = frozenset({EdgeRole.WAIST}), frozenset({EdgeRole.HEM})

_Facing = tuple[list[Run], list[Run]]
"""The edges by which a panel is sewn towards the centre front, and those towards the centre back."""


def panels_in_order(skirt: list[Piece]) -> Iterator[tuple[list[Run], list[Run]]]:
    """Edges of neighbouring panels that may be sewn together, of the panel nearer the centre front first.

    A panel with "side" before "front", "back" or "panel" in its name lies beside the one at the centre.
    """
    rows = [row for row in _rows(skirt) if row]
    for before, after in pairwise(rows):
        for first, second in product(before, after):
            yield first[1], second[0]


def _rows(skirt: list[Piece]) -> Iterator[list[_Facing]]:
    """The panels in the order in which they follow each other from centre front to centre back."""
    for half, beside in (("front", False), ("front", True), ("", True), ("back", True), ("back", False)):
        row = [piece for piece in skirt if half_of(piece) == half and is_beside(piece) is beside]
        ways = [_facing(piece, skirt) if beside else (_long(piece), _long(piece)) for piece in row]
        yield [way[::-1] for way in ways] if half == "back" else ways


def _long(piece: Piece) -> list[Run]:
    return directed(piece, EdgeRole.SIDE, _WAIST, _HEM)


def _facing(piece: Piece, skirt: list[Piece]) -> _Facing:
    """The edges of a panel beside a centre one: towards that, and at the side seam."""
    runs, seam = _long(piece), side_seam_edge(piece, skirt)
    return [run for run in runs if seam not in run.edges], [run for run in runs if seam in run.edges]
