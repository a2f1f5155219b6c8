"""Draw a dart: from an edge to its tip, or from tip to tip inside a piece; then its width."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from editor.canvas.hits import sheet_at
from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene, Sheet
from editor.tools.base import Chalk, ChalkKind, Preview, Propose, Readout, Reply, Spot, SpotKind, Taken
from editor.tools.readings import both_units, change_lines
from editor.tools.rounding import rounded_mm
from editor.tools.snapping import REACH_PX, Snap, SnapKind, snapped_to_cut
from geometry.affine import Point, distance_mm, frozen_points, midpoint, unit_vector
from geometry.alterations.dart_steps import MakeDart
from geometry.alterations.double_dart_steps import MakeDoubleDart
from geometry.alterations.step import Outcome
from geometry.errors import PatternError

FIRST_WIDTH_MM = 20.0
"""What a new dart takes in before anything is said; easily pulled or typed over."""

_LEAST_MM = 10.0
"""Shorter than this a line is a slip of the hand and no dart."""

_NUDGE_MM = {False: 1.0, True: 5.0}
_IDLE_HINT = "Press on an edge and draw to the tip of a dart; inside a piece, from tip to tip."
_DRAW_HINT = "Draw to the tip. On a body point the dart stops short of it. Shift keeps to the grain or square to it."
_SHAPE_HINT = "Pull a leg or type how much it takes in. Enter draws the dart, Escape drops it."
_AIM_HINT = "Pull a leg or type how much it takes in. B lets it end on the body point or short of it. Enter, Escape."


@dataclass(frozen=True, slots=True)
class _Line:
    """The middle line of a dart: from a place on an edge, or one tip, to the (other) tip."""

    piece: str
    start: Snap
    end: Snap | None = None


@dataclass(frozen=True, slots=True)
class _Shape:
    """A dart with its width; ``aims`` where the tip given is a body point it stops short of."""

    line: _Line
    width_mm: float
    aims: bool
    held: bool = False

    @property
    def is_double(self) -> bool:
        """Whether it has two tips."""
        return not self.line.start.on_outline

    @property
    def step(self) -> MakeDart | MakeDoubleDart:
        """The step as it would be done."""
        line, end = self.line, self.line.end or self.line.start
        if self.is_double:
            return MakeDoubleDart(line.piece, line.start.anchor, end.anchor, self.width_mm)
        return MakeDart(line.piece, line.start.anchor, end.anchor, self.width_mm, aims=self.aims)


class DartTool:
    """Nothing, a line, a shape."""

    name: ClassVar[str] = "dart"

    def __init__(self) -> None:
        self._state: _Line | _Shape | None = None
        self._over: tuple[str, Snap] | None = None
        self._tried: tuple[object, Outcome | None, str] = (None, None, "")

    @property
    def is_busy(self) -> bool:
        """Whether a dart is begun."""
        return self._state is not None

    @property
    def holds_change(self) -> bool:
        """The same."""
        return self.is_busy

    @property
    def letters(self) -> str:
        """B, for a dart drawn to a body point."""
        return "b" if isinstance(self._state, _Shape) and _is_body_point(self._state.line.end) else ""

    @property
    def amount_mm(self) -> float | None:
        """How much it takes in, once it is drawn."""
        return self._state.width_mm if isinstance(self._state, _Shape) else None

    def set_amount(self, amount_mm: float, scene: Scene) -> None:
        """Take in so much."""
        if isinstance(self._state, _Shape):
            self._state = replace(self._state, width_mm=abs(amount_mm))

    def preview(self, scene: Scene) -> Preview:
        """The line, or the piece as it would be."""
        match self._state:
            case _Line(piece=piece) as line if piece in scene.sheets:
                return _drawing(line, scene.sheets[piece])
            case _Shape() as shape if shape.line.piece in scene.sheets:
                return self._shaping(shape, scene)
        if self._over is None or self._over[0] not in scene.sheets:
            return Preview(hint=_IDLE_HINT)
        at = scene.sheets[self._over[0]].to_table(self._over[1].at)
        words = self._over[1].words
        readout = Readout(at, (words,)) if words else None
        return Preview(spots=(Spot(at, SpotKind.SNAP),), readout=readout, hint=_IDLE_HINT)

    def hover(self, pointer: Pointer, scene: Scene) -> None:
        """Show what would be caught; the tip follows."""
        match self._state:
            case None:
                sheet = sheet_at(scene, pointer.at, reach_mm=pointer.mm(REACH_PX))
                self._over = (sheet.name, _snap(sheet, pointer, None)) if sheet else None
            case _Line() as line:
                self._state = replace(line, end=_snap(scene.sheets[line.piece], pointer, line.start.at))
            case _Shape():
                pass

    def press(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Begin a line, end it, or take a leg."""
        match self._state:
            case None:
                sheet = sheet_at(scene, pointer.at, reach_mm=pointer.mm(REACH_PX))
                if sheet is not None:
                    self._state = _Line(sheet.name, _snap(sheet, pointer, None))
            case _Line():
                self.hover(pointer, scene)
            case _Shape() as shape:
                self._state = replace(shape, held=True)
        return None

    def drag(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Draw on, or pull a leg."""
        match self._state:
            case _Line():
                self.hover(pointer, scene)
            case _Shape() as shape if shape.held:
                place = scene.sheets[shape.line.piece].to_piece(pointer.at)
                off_mm = _off_line(shape.line, place)
                self._state = replace(shape, width_mm=rounded_mm(2 * off_mm, pointer, scene.unit))
        return None

    def release(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """The line is done where it has some length; a held leg is let go."""
        match self._state:
            case _Line(start=start, end=Snap() as end) as line if distance_mm(start.at, end.at) >= _LEAST_MM:
                if not start.on_outline and end.on_outline:
                    line = replace(line, start=end, end=start)
                self._state = _Shape(line, FIRST_WIDTH_MM, _is_body_point(line.end))
            case _Shape() as shape:
                self._state = replace(shape, held=False)
        return None

    def key(self, key: Key, scene: Scene) -> Reply | None:
        """Enter draws it, arrows change its width, B its end."""
        if not isinstance(self._state, _Shape):
            return None
        nudge = {"right": 1.0, "up": 1.0, "left": -1.0, "down": -1.0}.get(key.name)
        if nudge is not None:
            width_mm = max(self._state.width_mm + nudge * _NUDGE_MM[key.shift], 0.0)
            self._state = replace(self._state, width_mm=width_mm)
        elif key.name == "b" and self.letters:
            self._state = replace(self._state, aims=not self._state.aims)
        elif key.name == "enter":
            outcome, _ = self._outcome(self._state, scene)
            return Propose(self._state.step) if outcome is not None and self._state.width_mm > 0 else Taken()
        else:
            return None
        return Taken()

    def cancel(self) -> Reply | None:
        """Nothing is begun."""
        self._state = self._over = None
        return None

    def _outcome(self, shape: _Shape, scene: Scene) -> tuple[Outcome | None, str]:
        key = (scene.pattern, shape.step)
        known = self._tried[0]
        if not isinstance(known, tuple) or known[0] is not key[0] or known[1] != key[1]:
            try:
                self._tried = (key, shape.step.apply(scene.pattern), "")
            except PatternError as error:
                self._tried = (key, None, error.sentence)
        return self._tried[1], self._tried[2]

    def _shaping(self, shape: _Shape, scene: Scene) -> Preview:
        sheet = scene.sheets[shape.line.piece]
        hint = _AIM_HINT if self.letters else _SHAPE_HINT
        start, end = shape.line.start.at, (shape.line.end or shape.line.start).at
        chalk = (Chalk(frozen_points([sheet.to_table(start), sheet.to_table(end)]), ChalkKind.LOOSE),)
        ux, uy = unit_vector(start, end)
        middle = midpoint(start, end) if shape.is_double else start
        half = shape.width_mm / 2
        legs = [(middle[0] + side * half * uy, middle[1] - side * half * ux) for side in (1, -1)]
        spots = tuple(Spot(sheet.to_table(leg), SpotKind.KNOB, (uy, -ux)) for leg in legs)
        at = sheet.to_table(legs[0])
        outcome, refusal = self._outcome(shape, scene)
        if outcome is None:
            return Preview(chalk=chalk, spots=spots, readout=Readout(at, (refusal,), refused=True), hint=hint)
        piece = outcome.pattern.piece(sheet.name)
        words = (f"takes in {both_units(shape.width_mm)}", *change_lines(outcome.changes, sheet.piece, piece))
        return Preview(piece, chalk, spots, Readout(at, words), hint)


def _drawing(line: _Line, sheet: Sheet) -> Preview:
    start = sheet.to_table(line.start.at)
    spots = [Spot(start, SpotKind.VERTEX)]
    if line.end is None:
        return Preview(spots=tuple(spots), hint=_DRAW_HINT)
    end = sheet.to_table(line.end.at)
    spots.append(Spot(end, SpotKind.SNAP))
    words = (line.end.words, both_units(distance_mm(start, end)))
    return Preview(
        chalk=(Chalk(frozen_points([start, end]), ChalkKind.LOOSE),),
        spots=tuple(spots),
        readout=Readout(end, tuple(word for word in words if word)),
        hint=_DRAW_HINT,
    )


def _snap(sheet: Sheet, pointer: Pointer, start: Point | None) -> Snap:
    place = sheet.to_piece(pointer.at)
    return snapped_to_cut(sheet.piece, place, reach_mm=pointer.mm(REACH_PX), start=start, square=pointer.shift)


def _is_body_point(snap: Snap | None) -> bool:
    return snap is not None and snap.kind is SnapKind.LANDMARK


def _off_line(line: _Line, place: Point) -> float:
    """How far a place is beside the middle line of a dart."""
    start, end = line.start.at, (line.end or line.start).at
    ux, uy = unit_vector(start, end)
    dx, dy = np.subtract(place, start)
    return abs(float(ux * dy - uy * dx))
