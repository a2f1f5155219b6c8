"""Measure between two places, straight and along the stitching line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from editor.canvas.hits import sheet_at
from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene, Sheet
from editor.tools.base import Chalk, ChalkKind, Preview, Readout, Reply, Spot, SpotKind, Taken, ToolWithoutAmount
from editor.tools.readings import both_units
from editor.tools.snapping import REACH_PX, Snap, SnapKind, snapped, targets
from geometry.affine import Point, Points, distance_mm, frozen_points, midpoint
from geometry.alterations.anchors import free
from geometry.curves import polyline
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class _Place:
    """A snapped place and the piece it is on; ``piece`` is "" on the bare table."""

    piece: str
    snap: Snap
    at: Point


class MeasureTool(ToolWithoutAmount):
    """Two places, by clicking twice or dragging; the tape stays until the next press."""

    name: ClassVar[str] = "measure"

    def __init__(self) -> None:
        self._start: _Place | None = None
        self._end: _Place | None = None
        self._over: _Place | None = None
        self._open = False
        self._target = -1

    @property
    def is_busy(self) -> bool:
        """Whether a tape lies on the table."""
        return self._start is not None

    @property
    def letters(self) -> str:
        """N and P."""
        return "np"

    def preview(self, scene: Scene) -> Preview:
        """The tape, the stretch of edge beside it and both lengths."""
        if self._start is None or self._end is None:
            hint = "Click the first place to measure from; N steps through the named points."
            spot, readout = self._hovered()
            return Preview(spots=spot, readout=readout, hint=hint)
        start, end = self._start, self._end
        chalk = [Chalk(frozen_points([start.at, end.at]), ChalkKind.TAPE)]
        lines = [both_units(distance_mm(start.at, end.at))]
        if start.piece and start.piece == end.piece:
            sheet = scene.sheets[start.piece]
            along = _along_edge(sheet.piece, start.snap, end.snap)
            if along is not None:
                edge_id, chain = along
                lines.append(f"along {edge_id} {both_units(polyline.length_mm(chain))}")
                chalk.append(Chalk(frozen_points(chain + np.array(sheet.at)), ChalkKind.GUIDE))
        if end.snap.words and self._open:
            lines.append(end.snap.words)
        spots = (Spot(start.at, SpotKind.TAPE), Spot(end.at, SpotKind.TAPE))
        hint = "Click the second place. Shift keeps to the grain or square to it."
        return Preview(
            chalk=tuple(chalk), spots=spots, readout=Readout(midpoint(start.at, end.at), tuple(lines)), hint=hint
        )

    def hover(self, pointer: Pointer, scene: Scene) -> None:
        """Show what would be caught; the loose end follows."""
        self._target = -1
        self._over = self._caught(pointer, scene)
        if self._open:
            self._end = self._over

    def press(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """The first place, or the second."""
        self._over = self._caught(pointer, scene)
        self._set(self._over)
        return None

    def drag(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """The loose end follows."""
        self._end = self._caught(pointer, scene)
        return None

    def release(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """After a drag the second place is set."""
        if self._start and self._end and distance_mm(self._start.at, self._end.at) > SAME_POINT_MM:
            self._open = False
        return None

    def key(self, key: Key, scene: Scene) -> Reply | None:
        """N and P step through the named points of the selected piece, Enter takes one."""
        if key.name in ("n", "p") and scene.selected in scene.sheets:
            self._step(1 if key.name == "n" else -1, scene.sheets[scene.selected])
            return Taken()
        if key.name == "enter" and self._target >= 0 and self._over is not None:
            self._set(self._over)
            return Taken()
        return None

    def cancel(self) -> Reply | None:
        """Take the tape away."""
        self._start = self._end = self._over = None
        self._open, self._target = False, -1
        return None

    def _set(self, place: _Place) -> None:
        if self._open:
            self._end, self._open = place, False
        else:
            self._start, self._end, self._open = place, place, True

    def _step(self, by: int, sheet: Sheet) -> None:
        snaps = targets(sheet.piece).snaps
        self._target = (self._target + by) % len(snaps)
        snap = snaps[self._target]
        self._over = _Place(sheet.name, snap, sheet.to_table(snap.at))
        if self._open:
            self._end = self._over

    def _hovered(self) -> tuple[tuple[Spot, ...], Readout | None]:
        if self._over is None or not self._over.piece:
            return (), None
        readout = Readout(self._over.at, (self._over.snap.words,)) if self._over.snap.words else None
        return (Spot(self._over.at, SpotKind.SNAP),), readout

    def _caught(self, pointer: Pointer, scene: Scene) -> _Place:
        reach_mm = pointer.mm(REACH_PX)
        sheet = sheet_at(scene, pointer.at, reach_mm=reach_mm)
        if sheet is None:
            return _Place("", Snap(pointer.at, free(pointer.at), SnapKind.FREE, ""), pointer.at)
        start = None
        if self._open and self._start is not None and self._start.piece == sheet.name:
            start = sheet.to_piece(self._start.at)
        snap = snapped(sheet.piece, sheet.to_piece(pointer.at), reach_mm=reach_mm, start=start, square=pointer.shift)
        return _Place(sheet.name, snap, sheet.to_table(snap.at))


def _along_edge(piece: Piece, first: Snap, second: Snap) -> tuple[str, Points] | None:
    """The edge both places lie on and the stretch of it between them."""
    for edge in piece.edges:
        ends = [polyline.nearest(edge.points, snap.at) for snap in (first, second)]
        if max(gap_mm for _, gap_mm in ends) <= SAME_POINT_MM:
            from_mm, to_mm = sorted(at_mm for at_mm, _ in ends)
            return edge.id, polyline.part_between(edge.points, from_mm, to_mm)
    return None
