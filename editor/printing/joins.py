"""What lies on the lines where sheets are joined: there a dart or a notch has to be put together with care."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from editor.printing import wording
from editor.printing.picture import Box, PiecePicture, Spot
from editor.printing.tiles import Tile, TileGrid, segments_cross
from geometry.findings import Finding, Level

_NEAR_MM: Final = 2.0
"""What comes as near as this to a cut edge gets lost under tape."""


@dataclass(frozen=True, slots=True)
class JoinedSpot:
    """A dart or notch of a piece on a join, and the labels of the two sheets that meet there."""

    piece: str
    spot: Spot
    sheets: tuple[str, str]


def joined_spots(grid: TileGrid, tiles: Iterable[Tile], placed: Sequence[PiecePicture]) -> list[JoinedSpot]:
    """Every dart and notch on a join, piece by piece, each join once."""
    seams = _seams(grid, set(tiles))
    found = []
    for piece in placed:
        near = [(seam, names) for seam, names in seams if piece.box.touches(seam)]
        for spot in piece.spots:
            starts, ends = spot.points[:-1], spot.points[1:]
            found += [JoinedSpot(piece.name, spot, names) for seam, names in near if segments_cross(starts, ends, seam)]
    return found


def join_findings(found: Sequence[JoinedSpot]) -> tuple[Finding, ...]:
    """One note for each dart and notch, in words."""
    together: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for each in found:
        together.setdefault((each.piece, each.spot.words), []).append(each.sheets)
    return tuple(
        Finding("on-page-join", Level.NOTE, wording.on_join(piece, words, sheets), piece=piece)
        for (piece, words), sheets in together.items()
    )


def _seams(grid: TileGrid, tiles: set[Tile]) -> list[tuple[Box, tuple[str, str]]]:
    """A narrow box along every edge at which two sheets meet, with their labels."""
    seams = []
    step_x, step_y = grid.page.step_mm
    for tile in sorted(tiles):
        area = grid.area(tile)
        left, above = Tile(tile.row, tile.column - 1), Tile(tile.row - 1, tile.column)
        if left in tiles:
            seams.append((Box(area.x0, area.y1 - step_y, area.x0, area.y1).inset(-_NEAR_MM), (left.label, tile.label)))
        if above in tiles:
            seams.append((Box(area.x0, area.y1, area.x0 + step_x, area.y1).inset(-_NEAR_MM), (above.label, tile.label)))
    return seams
