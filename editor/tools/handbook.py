"""An alteration of the handbook on the table: drag its places, drag or type its amount, place landmarks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from editor.canvas.hits import sheet_at
from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene
from editor.tools.base import Chalk, Preview, Readout, Reply, Spot, SpotKind, Taken
from editor.tools.draft import Draft, Drafter
from editor.tools.rounding import rounded_mm
from editor.tools.snapping import REACH_PX, snapped
from geometry.affine import Affine, Point, distance_mm, unit_vector
from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.bench import Handle, NamedPlace
from geometry.alterations.handbook.registry import entry_of
from geometry.alterations.handbook.shifts import Shift
from geometry.alterations.mark_steps import PlaceLandmark
from geometry.errors import PatternError
from geometry.model.piece import Piece
from geometry.units import format_length

HANDLE_REACH_PX = 11.0
_ARROW_FIRST_PX = 6.0
"""A press this near the middle of the arrow takes the arrow, which lies on top, and not a ring under it."""

_HINT = "Drag a ring to move a place, the arrow to change the amount, or type it. Enter does it, Escape leaves all."
_PLACE_HINT = "Click where the {name} is. Escape places none."
_DRAG_HINT = "Let go to take it, Escape leaves it as it was."


@dataclass(frozen=True, slots=True)
class _Held:
    """What is dragged: a place, or the amount by the place that moves most."""

    before: Alteration
    handle: Handle | None = None
    pull: Shift | None = None


class HandbookTool:
    """Shows a draft and tells its drafter what the mouse does to it."""

    name: ClassVar[str] = "handbook"

    def __init__(self) -> None:
        self._drafter: Drafter | None = None
        self._draft: Draft | None = None
        self._held: _Held | None = None
        self._over: tuple[Point, tuple[str, ...]] | None = None

    def begin(self, drafter: Drafter) -> None:
        """Tell this drafter from now on."""
        self._drafter, self._draft, self._held, self._over = drafter, None, None, None

    def show(self, draft: Draft | None) -> None:
        """Show a draft."""
        self._draft = draft

    @property
    def pieces(self) -> tuple[str, ...]:
        """The pieces that the draft cuts or moves, by name."""
        return self._draft.layout.pieces if self._draft else ()

    @property
    def is_busy(self) -> bool:
        """Whether something is dragged or a landmark is to be placed."""
        return self._held is not None or bool(self._draft and self._draft.placing)

    @property
    def holds_change(self) -> bool:
        """Whether something is dragged."""
        return self._held is not None

    @property
    def letters(self) -> str:
        """None."""
        return ""

    @property
    def amount_mm(self) -> float | None:
        """The amount of the draft."""
        return self._draft.step.amount_mm if self._draft and not self._draft.placing else None

    def set_amount(self, amount_mm: float, scene: Scene) -> None:
        """Lay it out by another amount."""
        if self._draft is not None:
            self._reshape(self._draft.step.with_amount_mm(amount_mm))

    # -- what is seen

    def preview(self, scene: Scene) -> Preview:
        """Cuts as chalk, places as rings, landmarks as small crosses, the amount at its arrow."""
        draft = self._draft
        if draft is None:
            return Preview(hint=_HINT)
        chalk = tuple(
            Chalk(Affine.moved(*scene.sheets[line.piece].at).points(line.points))
            for line in draft.layout.chalk
            if line.piece in scene.sheets
        )
        hint = _PLACE_HINT.format(name=draft.placing) if draft.placing else _DRAG_HINT if self._held else _HINT
        return Preview(chalk=chalk, spots=self._spots(draft, scene), readout=self._readout(draft, scene), hint=hint)

    def _spots(self, draft: Draft, scene: Scene) -> tuple[Spot, ...]:
        marks = [
            Spot(scene.sheets[each.piece].to_table(each.at), SpotKind.LANDMARK)
            for each in draft.landmarks
            if each.piece in scene.sheets
        ]
        rings = [Spot(at, SpotKind.END) for _, at in _handles(draft, scene)]
        pull = _pull_at(draft, scene)
        arrow = [] if pull is None else [Spot(pull[1], SpotKind.HANDLE, unit_vector(pull[0].before, pull[0].after))]
        caught = [Spot(self._over[0], SpotKind.SNAP)] if self._over is not None and draft.placing else []
        return (*marks, *rings, *arrow, *caught)

    def _readout(self, draft: Draft, scene: Scene) -> Readout | None:
        if self._over is not None and (self._held is None or self._held.pull is None):
            return Readout(*self._over)
        pull = _pull_at(draft, scene)
        if draft.layout.trouble or pull is None:
            handles = _handles(draft, scene)
            at = pull[1] if pull else handles[0][1] if handles else None
            return Readout(at, (draft.layout.trouble,), refused=True) if at and draft.layout.trouble else None
        entry = entry_of(draft.step.entry)
        return Readout(pull[1], (format_length(draft.step.amount_mm, scene.unit), entry.amount.meaning))

    # -- mouse and keys

    def hover(self, pointer: Pointer, scene: Scene) -> None:
        """Name what is under the pointer."""
        draft = self._draft
        self._over = None
        if draft is None:
            return
        if draft.placing:
            spot = _spot_on(scene, pointer)
            if spot is not None:
                piece, place, _ = spot
                self._over = (scene.sheets[piece.name].to_table(place), (draft.placing, f"on the {piece.name}"))
            return
        reach = pointer.mm(HANDLE_REACH_PX)
        named: list[tuple[Point, tuple[str, ...]]] = [
            (at, (handle.place.name, f"a place on the {handle.place.piece}, to drag"))
            for handle, at in _handles(draft, scene)
        ]
        named += [
            (scene.sheets[each.piece].to_table(each.at), (each.name,))
            for each in draft.landmarks
            if each.piece in scene.sheets
        ]
        near = [(distance_mm(at, pointer.at), index) for index, (at, _) in enumerate(named)]
        if near and min(near)[0] <= reach:
            self._over = named[min(near)[1]]

    def press(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Take a ring or the arrow, or place a landmark."""
        draft, self._held = self._draft, None
        if draft is None:
            return None
        if draft.placing:
            spot = _spot_on(scene, pointer)
            if spot is not None and self._drafter is not None:
                self._drafter.mark(PlaceLandmark(spot[0].name, draft.placing, spot[2]))
            return Taken()
        reach, pull = pointer.mm(HANDLE_REACH_PX), _pull_at(draft, scene)
        near = [(distance_mm(at, pointer.at), index) for index, (_, at) in enumerate(_handles(draft, scene))]
        nearest = max(min([reach, *(gap for gap, _ in near)]), pointer.mm(_ARROW_FIRST_PX))
        if pull is not None and distance_mm(pull[1], pointer.at) <= nearest:
            self._held = _Held(draft.step, pull=pull[0])
        elif near and min(near)[0] <= reach:
            self._held = _Held(draft.step, handle=_handles(draft, scene)[min(near)[1]][0])
        return None

    def drag(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Move the place, or change the amount."""
        held = self._held
        if held is not None and held.pull is not None:
            self._reshape(held.before.with_amount_mm(_pulled_mm(held.before, held.pull, pointer, scene)))
        elif held is not None and held.handle is not None:
            place = held.handle.place
            anchor, words = _anchor(held.handle, scene.sheets[place.piece].to_piece(pointer.at), pointer)
            self._over = (pointer.at, (place.name, words) if words else (place.name,))
            self._reshape(held.before.with_place(NamedPlace(place.piece, place.name, anchor)))
        return None

    def release(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Keep what was dragged if it can be done."""
        held, self._held = self._held, None
        if held is not None and self._draft is not None and self._draft.layout.trouble:
            self._reshape(held.before)
        self._over = None
        return None

    def key(self, key: Key, scene: Scene) -> Reply | None:
        """Enter settles it, Escape drops what is dragged or leaves."""
        if self._drafter is None or self._draft is None or key.name not in ("enter", "escape"):
            return None
        if key.name == "enter":
            self._drafter.settle()
        elif self._draft.placing:
            self._drafter.mark(None)
        elif self._held is not None:
            self.cancel()
        else:
            self._drafter.give_up()
        return Taken()

    def cancel(self) -> Reply | None:
        """What was dragged goes back."""
        held, self._held = self._held, None
        self._over = None
        if held is not None:
            self._reshape(held.before)
        return None

    def _reshape(self, step: Alteration) -> None:
        if self._drafter is not None and self._draft is not None and step != self._draft.step:
            self._drafter.reshape(step)


def _handles(draft: Draft, scene: Scene) -> list[tuple[Handle, Point]]:
    """Handles with where they lie on the table."""
    return [
        (handle, scene.sheets[handle.place.piece].to_table(handle.at))
        for handle in draft.layout.handles
        if handle.place.piece in scene.sheets
    ]


def _pull_at(draft: Draft, scene: Scene) -> tuple[Shift, Point] | None:
    """The place that moves most, and where it lies on the table when it has moved."""
    pull = draft.pull
    if pull is None or pull.piece not in scene.sheets:
        return None
    return pull, scene.sheets[pull.piece].to_table(pull.after)


def _pulled_mm(step: Alteration, pull: Shift, pointer: Pointer, scene: Scene) -> float:
    """The amount that brings the place to the pointer, as far as it goes evenly with the amount."""
    x, y = scene.sheets[pull.piece].to_piece(pointer.at)
    ux, uy = unit_vector(pull.before, pull.after)
    along = (x - pull.before[0]) * ux + (y - pull.before[1]) * uy
    amount = entry_of(step.entry).amount
    wanted = rounded_mm(step.amount_mm * along / pull.length_mm, pointer, scene.unit)
    return min(max(wanted, amount.least_mm), amount.most_mm)


def _anchor(handle: Handle, shown: Point, pointer: Pointer) -> tuple[Anchor, str]:
    """Where a place is dragged to; one on the outline stays on it.

    It is looked for on the piece as the place was found there, which earlier cuts may have shifted.
    """
    piece, was = handle.piece, handle.place.anchor
    place = (shown[0] + handle.found_at[0] - handle.at[0], shown[1] + handle.found_at[1] - handle.at[1])
    snap = snapped(piece, place, reach_mm=pointer.mm(REACH_PX))
    if was.on not in (On.EDGE, On.NOTCH) or snap.on_outline:
        return snap.anchor, snap.words
    edge, at_mm, _ = piece.nearest_edge(place)
    return on_edge(edge.id, at_mm / edge.length_mm), edge.id


def _spot_on(scene: Scene, pointer: Pointer) -> tuple[Piece, Point, Anchor] | None:
    """The piece under the pointer, the place meant on it and how to point at it."""
    sheet = sheet_at(scene, pointer.at, reach_mm=pointer.mm(REACH_PX))
    if sheet is None:
        return None
    try:
        snap = snapped(sheet.piece, sheet.to_piece(pointer.at), reach_mm=pointer.mm(REACH_PX))
    except PatternError:
        return None
    return sheet.piece, snap.at, snap.anchor
