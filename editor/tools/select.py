"""Pick out pieces, darts, edges, notches and recorded cuts; pull their handles; lay sheets elsewhere on the table."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from editor.canvas.hits import cut_at, sheet_at
from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene, Sheet
from editor.tools.base import Adjust, Lay, Pick, Preview, Readout, Reopen, Reply, Spot, SpotKind, ToolWithoutAmount
from editor.tools.handles import Handle, Pull, handles
from editor.tools.rounding import rounded_mm
from editor.tools.things import EDGE_REACH_PX, NOTHING, Thing, thing_at, thing_words
from geometry.affine import Point, distance_mm
from geometry.errors import PatternError

HANDLE_REACH_PX = 9.0
"""How near a press must be to a handle."""

_CUT_BESIDE_PX = 3.0
"""On a dart or notch a recorded cut must be hit more closely than elsewhere."""

_HINT = "Click a piece, edge, dart or notch. Drag moves a sheet on the table. Tab goes to the next piece."
_HANDLE_HINT = "Pull a handle to change what is picked out, or change its figures in the panel at the left."
_PULL_HINT = "Let go to do it, Escape leaves it as it was."


@dataclass(frozen=True, slots=True)
class _Held:
    """A sheet under the pressed button."""

    piece: str
    thing: Thing
    grabbed: Point
    was_at: Point
    moved: bool = False


@dataclass(frozen=True, slots=True)
class _Pulled:
    """A handle under the pressed button: which one, where it was taken, how far it is pulled by now."""

    piece: str
    handle: Handle
    taken: Point
    pull: Pull = (0.0, 0.0)


class SelectTool(ToolWithoutAmount):
    """A click picks, a drag moves the sheet on the table or pulls a handle."""

    name: ClassVar[str] = "select"

    def __init__(self) -> None:
        self._held: _Held | None = None
        self._pulled: _Pulled | None = None
        self._over: tuple[str, Thing, Point] | None = None

    @property
    def is_busy(self) -> bool:
        """Whether a sheet is being moved or a handle pulled."""
        return self._pulled is not None or (self._held is not None and self._held.moved)

    @property
    def letters(self) -> str:
        """None."""
        return ""

    def preview(self, scene: Scene) -> Preview:
        """The handles of what is picked out, or what a handle does; the name of what is under the pointer."""
        if self._pulled is not None and self._pulled.piece in scene.sheets:
            return _pulling(self._pulled, scene)
        sheet = scene.sheets.get(scene.selected)
        spots = _spots(sheet, scene) if sheet is not None else ()
        hint = _HANDLE_HINT if spots else _HINT
        if self._over is None or self._held is not None or self._over[0] not in scene.sheets:
            return Preview(spots=spots, hint=hint)
        piece, thing, at = self._over
        words = thing_words(scene.sheets[piece].piece, thing)
        return Preview(spots=spots, readout=Readout(at, words) if words else None, hint=hint)

    def hover(self, pointer: Pointer, scene: Scene) -> None:
        """Look for something with a name."""
        sheet = sheet_at(scene, pointer.at, reach_mm=pointer.mm(EDGE_REACH_PX))
        thing = _thing_at(sheet, pointer) if sheet else NOTHING
        self._over = (sheet.name, thing, pointer.at) if sheet and thing != NOTHING else None

    def press(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Take a handle, pick a recorded cut, or take hold of a sheet; a double click takes the cut in hand again."""
        self._held = self._pulled = None
        selected = scene.sheets.get(scene.selected)
        handle = _handle_at(selected, pointer, scene) if selected else None
        if selected is not None and handle is not None:
            self._pulled = _Pulled(selected.name, handle, selected.to_piece(pointer.at))
            return None
        sheet = sheet_at(scene, pointer.at, reach_mm=pointer.mm(EDGE_REACH_PX))
        thing = _thing_at(sheet, pointer) if sheet is not None else NOTHING
        is_small = bool(thing.dart or thing.notch)
        cut = cut_at(scene, pointer.at, reach_mm=pointer.mm(_CUT_BESIDE_PX if is_small else EDGE_REACH_PX))
        if cut is not None:
            return Reopen(cut.record) if pointer.clicks == 2 else Pick(cut.piece, record=cut.record)
        if sheet is None:
            return Pick()
        self._held = _Held(sheet.name, thing, pointer.at, sheet.at)
        return None

    def drag(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Pull the handle, or move the sheet."""
        if self._pulled is not None:
            held = self._pulled
            along, across = held.handle.pulled(held.taken, scene.sheets[held.piece].to_piece(pointer.at))
            pull = rounded_mm(along, pointer, scene.unit), rounded_mm(across, pointer, scene.unit)
            self._pulled = replace(held, pull=pull)
            return None
        if self._held is None:
            return None
        self._held = replace(self._held, moved=True)
        dx, dy = pointer.at[0] - self._held.grabbed[0], pointer.at[1] - self._held.grabbed[1]
        return Lay(self._held.piece, (self._held.was_at[0] + dx, self._held.was_at[1] + dy))

    def release(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Do what the handle showed; pick out the sheet, unless it was moved."""
        pulled, self._pulled = self._pulled, None
        held, self._held = self._held, None
        if pulled is not None:
            return Adjust(pulled.handle.step(pulled.pull)) if pulled.pull != (0.0, 0.0) else None
        if held is None:
            return None
        thing = NOTHING if held.moved else held.thing
        return Pick(held.piece, thing.edge, dart=thing.dart, notch=thing.notch)

    def key(self, key: Key, scene: Scene) -> Reply | None:
        """All keys are the table's."""
        return None

    def cancel(self) -> Reply | None:
        """The sheet goes back to where it lay, the handle too."""
        held, self._held = self._held, None
        self._pulled = self._over = None
        return Lay(held.piece, held.was_at) if held is not None and held.moved else None


def _pulling(held: _Pulled, scene: Scene) -> Preview:
    sheet, handle = scene.sheets[held.piece], held.handle
    at = sheet.to_table(handle.at)
    if held.pull == (0.0, 0.0):
        return Preview(spots=(Spot(at, SpotKind.HANDLE, handle.towards),), hint=_PULL_HINT)
    try:
        piece = handle.step(held.pull).apply(scene.pattern).pattern.piece(held.piece)
    except PatternError as error:
        return Preview(readout=Readout(at, (error.sentence,), refused=True), hint=_PULL_HINT)
    return Preview(piece, readout=Readout(at, (handle.words(held.pull),)), hint=_PULL_HINT)


def _spots(sheet: Sheet, scene: Scene) -> tuple[Spot, ...]:
    return tuple(
        Spot(sheet.to_table(handle.at), SpotKind.KNOB, handle.towards) for handle in handles(sheet.piece, scene.picked)
    )


def _handle_at(sheet: Sheet, pointer: Pointer, scene: Scene) -> Handle | None:
    place = sheet.to_piece(pointer.at)
    near = [(distance_mm(handle.at, place), index) for index, handle in enumerate(handles(sheet.piece, scene.picked))]
    if not near or min(near)[0] > pointer.mm(HANDLE_REACH_PX):
        return None
    return handles(sheet.piece, scene.picked)[min(near)[1]]


def _thing_at(sheet: Sheet, pointer: Pointer) -> Thing:
    return thing_at(sheet.piece, sheet.to_piece(pointer.at), reach_mm=pointer.mm(EDGE_REACH_PX))
