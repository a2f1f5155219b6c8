"""Walk a seam on the table: one piece is rolled along the other, and what lands where is marked as it is passed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene, Sheet
from editor.tools.base import Chalk, ChalkKind, Preview, Readout, Reply, Spot, SpotKind, Tag, Taken, ToolWithoutAmount
from editor.tools.readings import both_units
from geometry.affine import Points, frozen_points
from geometry.checks.laying import Laid, contact, lay
from geometry.checks.walking import Meeting, Stop, StopKind, Walk, walk
from geometry.curves import polyline
from geometry.model.pattern import Seam
from geometry.units import Unit, format_length

STEP_MM = 5.0
FAR_STEP_MM = 20.0
"""What the arrow keys walk, without and with Shift."""

_NONE_HINT = "Pick a seam in the list at the left, or click one of its edges with the seam tool, and walk it."
_HINT = "Drag along the edge or use the arrows to walk. N and P go from mark to mark, E starts from the other end."


@dataclass(frozen=True, slots=True)
class Stand:
    """How far which seam is walked.

    Attributes:
        seam: Its id, "" for none.
        walked_mm: Sewn length from the end walked from.
        from_end: Whether it is walked from its end.
        swapped: Whether the second side lies still.
    """

    seam: str = ""
    walked_mm: float = 0.0
    from_end: bool = False
    swapped: bool = False


class WalkTool(ToolWithoutAmount):
    """Keeps how far which seam is walked; the panel beside it may change that too. Nothing in it could be lost."""

    name: ClassVar[str] = "walk"

    def __init__(self) -> None:
        self.stand = Stand()

    @property
    def letters(self) -> str:
        """N, P, E and X."""
        return "npex" if self.stand.seam else ""

    def walked(self, scene: Scene) -> Walk | None:
        """The seam walked from end to end, ``None`` where there is none."""
        seam = self._seam(scene)
        return walk(scene.pattern, seam) if seam is not None else None

    def go_to(self, walked_mm: float, scene: Scene) -> None:
        """Walk so far, at most to the end of the longer side."""
        walked = self.walked(scene)
        if walked is not None:
            far_mm = max(walked.first_mm, walked.second_mm)
            self.stand = replace(self.stand, walked_mm=min(max(walked_mm, 0.0), far_mm))

    def preview(self, scene: Scene) -> Preview:
        """The piece laid on, both seam edges, the marks passed with how far they miss each other."""
        walked = self.walked(scene)
        if walked is None:
            return Preview(hint=_NONE_HINT)
        stand = self.stand
        laid = lay(scene.pattern, walked.seam, stand.walked_mm, from_end=stand.from_end, swapped=stand.swapped)
        still = scene.sheets[laid.still.ref.piece]
        spots, tags, lines = self._marks(walked, laid, scene)
        at = still.to_table(laid.still.place)
        words = (f"walked {both_units(stand.walked_mm)}", *lines[-1:])
        return Preview(
            chalk=_chalk(laid, scene, still),
            spots=(*spots, Spot(at, SpotKind.HANDLE, laid.still.ahead)),
            tags=tags,
            readout=Readout(at, words),
            hint=_HINT,
        )

    def hover(self, pointer: Pointer, scene: Scene) -> None:
        """Nothing is caught."""

    def press(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Walk to the place pressed."""
        return self.drag(pointer, scene)

    def drag(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Walk along with the pointer."""
        walked = self.walked(scene)
        if walked is not None:
            self.go_to(self._nearest_mm(walked, pointer, scene), scene)
        return None

    def release(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """It stays where it is."""
        return None

    def key(self, key: Key, scene: Scene) -> Reply | None:
        """Arrows walk, N and P go from mark to mark, E changes ends, X the piece that lies still."""
        by = {"right": 1.0, "up": 1.0, "left": -1.0, "down": -1.0}.get(key.name)
        walked = self.walked(scene)
        if walked is None:
            return None
        if by is not None:
            self.go_to(self.stand.walked_mm + by * (FAR_STEP_MM if key.shift else STEP_MM), scene)
        elif key.name in ("n", "p"):
            self.go_to(self._next_mark_mm(walked, 1 if key.name == "n" else -1), scene)
        elif key.name == "e":
            self.stand = replace(self.stand, from_end=not self.stand.from_end, walked_mm=0.0)
        elif key.name == "x":
            self.stand = replace(self.stand, swapped=not self.stand.swapped)
        else:
            return None
        return Taken()

    def cancel(self) -> Reply | None:
        """Walking changes nothing."""
        return None

    # -- inside

    def _seam(self, scene: Scene) -> Seam | None:
        seam = next((seam for seam in scene.pattern.seams if seam.id == self.stand.seam), None)
        if seam is None or any(ref.piece not in scene.sheets for ref in (*seam.first, *seam.second)):
            return None
        return seam

    def _marks(
        self, walked: Walk, laid: Laid, scene: Scene
    ) -> tuple[tuple[Spot, ...], tuple[Tag, ...], tuple[str, ...]]:
        """The marks passed so far on the side that lies still, and in words how far each pair misses."""
        spots: list[Spot] = []
        tags: list[Tag] = []
        lines: list[tuple[float, str]] = []
        seam = walked.seam
        side = seam.sides[1 if self.stand.swapped else 0]
        for meeting in walked.meetings:
            for stop in (meeting.first, meeting.second):
                if stop is None or distance_walked(stop, self.stand) > self.stand.walked_mm + 0.01:
                    continue
                along_mm = distance_walked(stop, self.stand)
                on = contact(scene.pattern, side, along_mm, from_end=self.stand.from_end)
                sheet = scene.sheets[on.ref.piece]
                spots.append(Spot(sheet.to_table(on.place), SpotKind.VERTEX))
            words = offset_words(meeting, self.stand, scene.unit)
            passed = [distance_walked(stop, self.stand) for stop in (meeting.first, meeting.second) if stop]
            if words and max(passed) <= self.stand.walked_mm + 0.01:
                on = contact(scene.pattern, side, max(passed), from_end=self.stand.from_end)
                sheet = scene.sheets[on.ref.piece]
                (x, y), (ax, ay) = sheet.to_table(on.place), on.ahead
                inwards = (-ay, ax) if on.body_is_left else (ay, -ax)
                tags.append(Tag((x + 22 * inwards[0], y + 22 * inwards[1]), words, is_firm=False))
                lines.append((max(passed), f"{mark_words(meeting.stop)} {words}"))
        return tuple(spots), tuple(tags), tuple(line for _, line in sorted(lines))

    def _nearest_mm(self, walked: Walk, pointer: Pointer, scene: Scene) -> float:
        """How far to walk so that the contact is nearest to the pointer."""
        seam, stand = walked.seam, self.stand
        side = seam.sides[1 if stand.swapped else 0]
        total = walked.second_mm if stand.swapped else walked.first_mm
        best, walked_mm = (float("inf"), 0.0), 0.0
        for ref, is_backward, stretch in side.parts:
            sheet = scene.sheets[ref.piece]
            edge = sheet.piece.edge(ref.edge)
            low_mm, high_mm = stretch.bounds_mm(sheet.piece, ref.edge)
            at_mm, gap_mm = polyline.nearest(edge.points, sheet.to_piece(pointer.at))
            at_mm = min(max(at_mm, low_mm), high_mm)
            sewn = sheet.piece.sewn_station_mm(ref.edge, at_mm) - sheet.piece.sewn_station_mm(ref.edge, low_mm)
            length = stretch.sewn_mm(sheet.piece, ref.edge)
            best = min(best, (gap_mm, walked_mm + (length - sewn if is_backward else sewn)))
            walked_mm += length
        return total - best[1] if stand.from_end else best[1]

    def _next_mark_mm(self, walked: Walk, by: int) -> float:
        """The next mark ahead or behind; the ends where there is none."""
        marks = sorted(
            {
                round(distance_walked(stop, self.stand), 2)
                for meeting in walked.meetings
                for stop in (meeting.first, meeting.second)
                if stop is not None
            }
        )
        now = self.stand.walked_mm
        if by > 0:
            return next((mark for mark in marks if mark > now + 0.05), max(walked.first_mm, walked.second_mm))
        return next((mark for mark in reversed(marks) if mark < now - 0.05), 0.0)


def distance_walked(stop: Stop, stand: Stand) -> float:
    """How far a stop is from the end that is walked from."""
    return stop.from_end_mm if stand.from_end else stop.from_start_mm


def end_words(walked: Walk) -> tuple[str, str]:
    """What tells the ends of a seam apart: what it runs from and to, else the pieces there."""
    if walked.start_at != walked.end_at:
        return walked.start_at, walked.end_at
    first, last = walked.seam.second[0].piece, walked.seam.second[-1].piece
    return (first, last) if first != last else ("its start", "its end")


def offset_mm(meeting: Meeting, stand: Stand) -> float | None:
    """How much further the first side's mark is than the second's, seen from the end walked from."""
    return meeting.offset_from_end_mm if stand.from_end else meeting.offset_from_start_mm


def offset_words(meeting: Meeting, stand: Stand, unit: Unit) -> str:
    """That in words; "" where a mark has no partner."""
    off_mm = offset_mm(meeting, stand)
    if off_mm is None:
        return ""
    if abs(off_mm) < 0.05:
        return "meets"
    return f"{'+' if off_mm > 0 else '−'}{format_length(abs(off_mm), unit).removeprefix('~')}"


def mark_words(stop: Stop) -> str:
    """What a mark is called."""
    if stop.kind is StopKind.JOIN:
        return f"{stop.partner} seam"
    if stop.kind is StopKind.DART:
        return stop.id
    return f"notch {stop.partner or stop.id.removeprefix('notch').strip() or stop.id}"


def _chalk(laid: Laid, scene: Scene, still: Sheet) -> tuple[Chalk, ...]:
    moving = scene.pattern.piece(laid.moving.ref.piece)
    offset = np.array(still.at)

    def laid_on(points: Points) -> Points:
        return frozen_points(laid.motion.points(points) + offset)

    outline = np.vstack([moving.outline, moving.outline[:1]])
    lines = [Chalk(laid_on(frozen_points(outline)), ChalkKind.LAID)]
    for dart in moving.darts:
        start, end = moving.mouth(dart)
        lines.append(Chalk(laid_on(frozen_points([start, dart.tip, end])), ChalkKind.INK))
    lines.append(Chalk(laid_on(moving.edge(laid.moving.ref.edge).points), ChalkKind.TAPE))
    lines.append(Chalk(frozen_points(still.piece.edge(laid.still.ref.edge).points + offset), ChalkKind.GUIDE))
    return tuple(lines)
