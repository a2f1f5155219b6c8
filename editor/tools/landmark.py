"""Body points and levels: seen on every piece, dragged or moved by keys to where they are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene
from editor.tools.base import Adjust, Preview, Readout, Reply, Spot, SpotKind, Taken, ToolWithoutAmount
from editor.tools.snapping import REACH_PX, snapped
from geometry.affine import Point, distance_mm
from geometry.alterations.anchors import Anchor, On, free
from geometry.alterations.handbook.landmarks import Landmark, landmarks_of
from geometry.alterations.mark_steps import PlaceLandmark
from geometry.model.piece import Piece

MARK_REACH_PX = 11.0
NUDGE_MM, FAR_NUDGE_MM = 1.0, 5.0
"""What an arrow key moves a landmark by, without and with Shift."""

_ARROWS = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "up": (0.0, 1.0), "down": (0.0, -1.0)}
_HINT = "Drag a body point or level to where it is, or step through them with N and P."
_PICKED_HINT = "The arrow keys move it by 1 mm, with Shift by 5 mm; N and P go to the next and the last one."
_DRAG_HINT = "Let go to mark it there, Escape leaves it as it was."


@dataclass(frozen=True, slots=True)
class _Held:
    """A landmark under the pressed button, and where it is dragged to by now."""

    mark: Landmark
    at: Point | None = None
    anchor: Anchor | None = None
    words: str = ""


class LandmarkTool(ToolWithoutAmount):
    """One landmark is picked; dragging or the arrow keys mark it elsewhere."""

    name: ClassVar[str] = "landmark"

    def __init__(self) -> None:
        self.picked: tuple[str, str] = ("", "")
        self._held: _Held | None = None
        self._over: Landmark | None = None
        self._known: dict[str, tuple[Piece, tuple[Landmark, ...]]] = {}

    @property
    def is_busy(self) -> bool:
        """Whether a landmark is dragged."""
        return self._held is not None and self._held.at is not None

    @property
    def letters(self) -> str:
        """N and P."""
        return "np"

    def pick(self, piece: str, name: str) -> None:
        """Pick a landmark of a piece."""
        self.picked = (piece, name)

    def marks(self, scene: Scene) -> tuple[Landmark, ...]:
        """Every landmark on the table, piece by piece."""
        for name, sheet in scene.sheets.items():
            if name not in self._known or self._known[name][0] is not sheet.piece:
                self._known[name] = (sheet.piece, landmarks_of(sheet.piece))
        return tuple(mark for piece in scene.pattern.pieces for mark in self._known[piece.name][1])

    # -- what is seen

    def preview(self, scene: Scene) -> Preview:
        """Quiet crosses; the one picked ringed and named, the one dragged where it is now."""
        marks, held = self.marks(scene), self._held
        if held is not None and held.at is not None:
            at = scene.sheets[held.mark.piece].to_table(held.at)
            spots = [_cross(mark, scene) for mark in marks if mark != held.mark]
            words = (held.mark.name, held.words) if held.words else (held.mark.name,)
            return Preview(spots=(*spots, Spot(at, SpotKind.SNAP)), readout=Readout(at, words), hint=_DRAG_HINT)
        picked = next((mark for mark in marks if (mark.piece, mark.name) == self.picked), None)
        named = self._over or picked
        spots = [_cross(mark, scene) for mark in marks]
        if picked is not None:
            spots.append(Spot(spots[marks.index(picked)].at, SpotKind.SNAP))
        readout = None
        if named is not None:
            readout = Readout(scene.sheets[named.piece].to_table(named.at), (named.name, told_by(named)))
        return Preview(spots=tuple(spots), readout=readout, hint=_PICKED_HINT if picked else _HINT)

    # -- mouse and keys

    def hover(self, pointer: Pointer, scene: Scene) -> None:
        """Name what is under the pointer."""
        self._over = self._near(pointer, scene)

    def press(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Take a landmark; beside them, let go of the one picked."""
        mark, self._over = self._near(pointer, scene), None
        self.picked = (mark.piece, mark.name) if mark else ("", "")
        self._held = _Held(mark) if mark else None
        return None

    def drag(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """It follows, caught by edges, notches and darts."""
        if self._held is not None:
            mark = self._held.mark
            sheet = scene.sheets[mark.piece]
            snap = snapped(sheet.piece, sheet.to_piece(pointer.at), reach_mm=pointer.mm(REACH_PX))
            is_itself = snap.anchor.on is On.LANDMARK and snap.anchor.name == mark.name
            self._held = _Held(mark, snap.at, free(snap.at) if is_itself else snap.anchor, snap.words)
        return None

    def release(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Mark it where it is now."""
        held, self._held = self._held, None
        if held is None or held.anchor is None:
            return None
        return Adjust(PlaceLandmark(held.mark.piece, held.mark.name, held.anchor))

    def key(self, key: Key, scene: Scene) -> Reply | None:
        """Arrows move the one picked, N and P pick the next and the last one, Escape lets go of it."""
        marks = self.marks(scene)
        here = next((at for at, mark in enumerate(marks) if (mark.piece, mark.name) == self.picked), None)
        if key.name in ("n", "p") and marks:
            first = 0 if key.name == "n" else -1
            there = first if here is None else (here + (1 if key.name == "n" else -1)) % len(marks)
            self.picked = (marks[there].piece, marks[there].name)
            return Taken()
        if here is None:
            return None
        if key.name == "escape":
            self.picked = ("", "")
            return Taken()
        if key.name in _ARROWS:
            mark, by = marks[here], FAR_NUDGE_MM if key.shift else NUDGE_MM
            dx, dy = _ARROWS[key.name]
            return Adjust(PlaceLandmark(mark.piece, mark.name, free((mark.at[0] + dx * by, mark.at[1] + dy * by))))
        return None

    def cancel(self) -> Reply | None:
        """What was dragged goes back."""
        self._held = self._over = None
        return None

    def _near(self, pointer: Pointer, scene: Scene) -> Landmark | None:
        reach = pointer.mm(MARK_REACH_PX)
        gaps = [
            (distance_mm(scene.sheets[mark.piece].to_table(mark.at), pointer.at), at, mark)
            for at, mark in enumerate(self.marks(scene))
        ]
        nearest = min(gaps, key=lambda row: row[:2], default=None)
        return nearest[2] if nearest is not None and nearest[0] <= reach else None


def told_by(mark: Landmark) -> str:
    """How a landmark is known."""
    if mark.is_marked:
        return "marked"
    holds = {On.TIP: "the tip of", On.AIM: "what is aimed at by", On.NOTCH: "the notch", On.EDGE: "on the edge"}
    words = holds.get(mark.anchor.on)
    return f"found: {words} {mark.anchor.name}" if words else "found from the shape"


def _cross(mark: Landmark, scene: Scene) -> Spot:
    return Spot(scene.sheets[mark.piece].to_table(mark.at), SpotKind.LANDMARK)
