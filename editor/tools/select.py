"""Pick out pieces, edges and recorded cuts; lay sheets elsewhere on the table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from editor.canvas.hits import cut_at, sheet_at
from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene, Sheet
from editor.tools.base import Lay, Pick, Preview, Readout, Reopen, Reply
from editor.tools.readings import both_units
from geometry.affine import Point
from geometry.curves import polyline

EDGE_REACH_PX = 7.0
"""How near a click must be to an edge to pick the edge and not the piece."""


_NOTHING = Preview(hint="Click a piece or an edge. Drag moves a sheet on the table. Tab goes to the next piece.")


@dataclass(frozen=True, slots=True)
class _Held:
    """A sheet under the pressed button."""

    piece: str
    edge: str
    grabbed: Point
    was_at: Point
    moved: bool = False


class SelectTool:
    """A click picks a piece or an edge, a drag moves the sheet on the table."""

    name: ClassVar[str] = "select"

    def __init__(self) -> None:
        self._held: _Held | None = None
        self._over: tuple[str, str, Point] | None = None

    @property
    def is_busy(self) -> bool:
        """Whether a sheet is being moved."""
        return self._held is not None and self._held.moved

    @property
    def holds_change(self) -> bool:
        """The same."""
        return self.is_busy

    @property
    def letters(self) -> str:
        """None."""
        return ""

    @property
    def amount_mm(self) -> float | None:
        """There is no amount to type."""
        return None

    def set_amount(self, amount_mm: float, scene: Scene) -> None:
        """Nothing takes an amount here."""

    def preview(self, scene: Scene) -> Preview:
        """The name and length of the edge under the pointer."""
        if self._over is None or self._held is not None or self._over[0] not in scene.sheets:
            return _NOTHING
        piece, edge_id, at = self._over
        length_mm = scene.sheets[piece].piece.sewn_length_mm(edge_id)
        return Preview(readout=Readout(at, (edge_id, both_units(length_mm))), hint=_NOTHING.hint)

    def hover(self, pointer: Pointer, scene: Scene) -> None:
        """Look for an edge."""
        sheet = sheet_at(scene, pointer.at, reach_mm=pointer.mm(EDGE_REACH_PX))
        edge = _edge_at(sheet, pointer) if sheet else ""
        self._over = (sheet.name, edge, pointer.at) if sheet and edge else None

    def press(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Pick a recorded cut, or take hold of a sheet; a double click takes the cut in hand again."""
        cut = cut_at(scene, pointer.at, reach_mm=pointer.mm(EDGE_REACH_PX))
        if cut is not None:
            self._held = None
            return Reopen(cut.record) if pointer.clicks == 2 else Pick(cut.piece, record=cut.record)
        sheet = sheet_at(scene, pointer.at, reach_mm=pointer.mm(EDGE_REACH_PX))
        if sheet is None:
            self._held = None
            return Pick()
        self._held = _Held(sheet.name, _edge_at(sheet, pointer), pointer.at, sheet.at)
        return None

    def drag(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Move it."""
        held = self._held
        if held is None:
            return None
        self._held = _Held(held.piece, held.edge, held.grabbed, held.was_at, moved=True)
        dx, dy = pointer.at[0] - held.grabbed[0], pointer.at[1] - held.grabbed[1]
        return Lay(held.piece, (held.was_at[0] + dx, held.was_at[1] + dy))

    def release(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Pick it out, unless it was moved."""
        held, self._held = self._held, None
        if held is None:
            return None
        return Pick(held.piece) if held.moved else Pick(held.piece, held.edge)

    def key(self, key: Key, scene: Scene) -> Reply | None:
        """All keys are the table's."""
        return None

    def cancel(self) -> Reply | None:
        """The sheet goes back to where it lay."""
        held, self._held = self._held, None
        self._over = None
        return Lay(held.piece, held.was_at) if held is not None and held.moved else None


def _edge_at(sheet: Sheet, pointer: Pointer) -> str:
    place = sheet.to_piece(pointer.at)
    near = ((polyline.nearest(edge.points, place)[1], edge.id) for edge in sheet.piece.edges)
    gap_mm, edge_id = min(near)
    return edge_id if gap_mm <= pointer.mm(EDGE_REACH_PX) else ""
