"""Draw a slash line, choose its hinge, open it or fold it out; what is shown is what the step will do."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import ClassVar

from editor.canvas.hits import distance_to_ring_mm, sheet_at
from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene, Sheet
from editor.tools import slash_picture
from editor.tools.base import ChangeStep, Preview, Propose, Reply, Taken
from editor.tools.rounding import rounding_mm
from editor.tools.slash_states import Drawing, Further, Idle, Opening, line_of, opened, reopened
from editor.tools.snapping import REACH_PX, Snap, snapped_to_cut, targets
from geometry.affine import distance_mm
from geometry.alterations.slash import Hinge, Side, Slash
from geometry.alterations.step import Outcome
from geometry.checks.pairing import seams_of
from geometry.errors import PatternError
from geometry.model.pattern import Pattern, Seam
from geometry.model.piece import Piece

HANDLE_REACH_PX = 12.0
"""How near a press must be to an end or to the handle."""

NUDGE_MM = 1.0
FAR_NUDGE_MM = 5.0
"""What the arrow keys change the opening by, without and with Shift."""

State = Idle | Drawing | Opening
Trial = Callable[[Slash], Outcome]


class SlashTool:
    """Idle, drawing a line, opening it; ``cancel`` goes back to idle from anywhere."""

    name: ClassVar[str] = "slash"

    def __init__(self) -> None:
        self._state: State = Idle()
        self._trial: Trial | None = None
        self._tried: tuple[Pattern, Slash, Outcome | None, str] | None = None
        self._sewn: tuple[Pattern, tuple[Seam, ...]] = (Pattern(()), ())
        self._target = -1
        self._recorded: Slash | None = None

    @property
    def state(self) -> State:
        """What it is in the middle of."""
        return self._state

    @property
    def is_busy(self) -> bool:
        """Whether a line is begun or open."""
        return not isinstance(self._state, Idle)

    @property
    def holds_change(self) -> bool:
        """Whether a line is begun, or a cut of a recorded slash has another amount by now."""
        if isinstance(self._state, Opening) and self._state.record:
            return self._state.step != self._recorded
        return self.is_busy

    @property
    def letters(self) -> str:
        """N and P while drawing and to go through the cuts of a recorded slash; H, S and A for a new one."""
        if isinstance(self._state, Opening) and not self._state.record:
            return "hsa"
        if isinstance(self._state, Opening) and len(self._state.openings) < 2:
            return ""
        return "np"

    @property
    def amount_mm(self) -> float | None:
        """How far the cut is open, once there is one."""
        return self._state.opening_mm if isinstance(self._state, Opening) else None

    def set_amount(self, amount_mm: float, scene: Scene) -> None:
        """Open the cut so far."""
        if isinstance(self._state, Opening):
            self._state = replace(self._state, opening_mm=amount_mm, grip=None)

    def reopen(self, record: str, step: Slash, piece: Piece, trial: Trial) -> None:
        """Take a recorded slash in hand again, by its first cut that has an opening.

        Args:
            record: Id of its record.
            step: What was recorded.
            piece: The piece as the record found it.
            trial: The whole journal with this step changed.
        """
        state = reopened(record, step, piece)
        if state is not None:
            self._trial = trial
            self._recorded = step
            self._state = state

    def outcome(self, scene: Scene) -> tuple[Outcome | None, str]:
        """What the step would do, or why it cannot be done; worked out once per amount."""
        if not isinstance(self._state, Opening):
            return None, ""
        step = self._state.step
        if self._tried is None or self._tried[0] is not scene.pattern or self._tried[1] != step:
            try:
                outcome = self._trial(step) if self._trial else step.apply(scene.pattern)
                self._tried = (scene.pattern, step, outcome, "")
            except PatternError as error:
                self._tried = (scene.pattern, step, None, error.sentence)
        return self._tried[2], self._tried[3]

    def preview(self, scene: Scene) -> Preview:
        """The line, the handle and the piece as it would be."""
        match self._state:
            case Idle():
                return slash_picture.idle(self._state, scene)
            case Drawing():
                return slash_picture.drawing(self._state, scene)
            case Opening():
                return slash_picture.opening(self._state, scene, *self.outcome(scene), self._seams(scene.pattern))

    def hover(self, pointer: Pointer, scene: Scene) -> None:
        """Show what a press would catch; the loose end of a line follows."""
        self._target = -1
        match self._state:
            case Idle():
                sheet = sheet_at(scene, pointer.at, reach_mm=pointer.mm(REACH_PX))
                self._state = Idle(sheet.name, self._snap(sheet, pointer)) if sheet else Idle()
            case Drawing():
                self._draw_to(pointer, scene)
            case Opening():
                pass

    def press(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Set a place of the line, or take hold of an end, the handle or a side."""
        match self._state:
            case Idle():
                self._begin(pointer, scene)
            case Drawing():
                self._draw_to(pointer, scene)
                if pointer.clicks == 2:
                    self._end_inside(scene)
                else:
                    self._set_place(scene)
            case Opening() as state:
                self._take_hold(state, pointer, scene)
        return None

    def drag(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Draw on, or open the cut by the held side."""
        match self._state:
            case Drawing():
                self._draw_to(pointer, scene)
            case Opening() as state:
                to = scene.sheets[state.piece].to_piece(pointer.at)
                self._state = state.dragged(to, round_mm=rounding_mm(pointer, scene.unit))
        return None

    def release(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """After a drag the line's next place is set; a held side is let go."""
        match self._state:
            case Drawing(loose=Snap()):
                self._set_place(scene)
            case Opening() as state:
                if state.grip is not None and not state.grip.moved:
                    self._toggle_end(state, pointer, scene)
                else:
                    self._state = replace(state, grip=None)
        return None

    def key(self, key: Key, scene: Scene) -> Reply | None:
        """Enter, the arrows and the letters of the hint."""
        match self._state:
            case Opening() as state:
                return self._opening_key(state, key, scene)
            case Drawing() as state:
                return self._drawing_key(state, key, scene)
            case Idle() as state:
                if key.name in ("n", "p"):
                    return self._step_target(key, scene)
                if key.name == "enter" and state.over is not None and self._target >= 0:
                    self._state = Drawing(state.piece, (state.over,))
                    return Taken()
        return None

    def cancel(self) -> Reply | None:
        """Back to nothing begun."""
        self._state = Idle()
        self._trial = self._tried = None
        self._target = -1
        return None

    def _seams(self, pattern: Pattern) -> tuple[Seam, ...]:
        """What is sewn to what; found once per pattern, for names do not change while a cut is opened."""
        if self._sewn[0] is not pattern:
            self._sewn = (pattern, seams_of(pattern))
        return self._sewn[1]

    # -- drawing

    def _snap(self, sheet: Sheet, pointer: Pointer) -> Snap:
        start = self._state.last if isinstance(self._state, Drawing) else None
        place = sheet.to_piece(pointer.at)
        return snapped_to_cut(sheet.piece, place, reach_mm=pointer.mm(REACH_PX), start=start, square=pointer.shift)

    def _begin(self, pointer: Pointer, scene: Scene) -> None:
        sheet = sheet_at(scene, pointer.at, reach_mm=pointer.mm(REACH_PX))
        if sheet is not None:
            self._state = Drawing(sheet.name, (self._snap(sheet, pointer),))

    def _draw_to(self, pointer: Pointer, scene: Scene) -> None:
        if isinstance(self._state, Drawing):
            self._state = replace(self._state, loose=self._snap(scene.sheets[self._state.piece], pointer))

    def _set_place(self, scene: Scene) -> None:
        """The loose end becomes a place of the line; on the outline, or on the last place again, the line is done."""
        state = self._state
        if not isinstance(state, Drawing) or state.loose is None:
            return
        points = (*state.points, state.loose)
        if state.last is not None and distance_mm(state.loose.at, state.last) < 1.0:
            self._end_inside(scene)
        elif len(points) > 1 and state.loose.on_outline:
            self._finish(points, state, scene)
        else:
            self._state = replace(state, points=points, loose=None)

    def _end_inside(self, scene: Scene) -> None:
        state = self._state
        if isinstance(state, Drawing) and len(state.points) > 1:
            self._finish(state.points, state, scene)

    def _finish(self, points: tuple[Snap, ...], state: Drawing, scene: Scene) -> None:
        line = line_of(points)
        if state.beside is not None:
            self._state = replace(state.beside, further=(*state.beside.further, Further(line)))
        else:
            self._state = opened(scene.sheets[state.piece].piece, line)
        self._target = -1

    def _drawing_key(self, state: Drawing, key: Key, scene: Scene) -> Reply | None:
        if key.name in ("n", "p"):
            return self._step_target(key, scene)
        if key.name == "enter":
            if self._target >= 0:
                self._set_place(scene)
            else:
                self._end_inside(scene)
            return Taken()
        if key.name == "backspace":
            fewer = replace(state, points=state.points[:-1])
            self._state = fewer if fewer.points else state.beside or Idle()
            return Taken()
        return None

    def _step_target(self, key: Key, scene: Scene) -> Reply | None:
        """The keyboard's pointer: the next or previous named point of the piece."""
        name = self._state.piece if isinstance(self._state, Drawing) else scene.selected
        if name not in scene.sheets:
            return None
        snaps = targets(scene.sheets[name].piece).snaps
        self._target = (self._target + (1 if key.name == "n" else -1)) % len(snaps)
        snap = snaps[self._target]
        match self._state:
            case Drawing() as state:
                self._state = replace(state, loose=snap)
            case Idle():
                self._state = Idle(name, snap)
        return Taken()

    # -- opening

    def _take_hold(self, state: Opening, pointer: Pointer, scene: Scene) -> None:
        sheet = scene.sheets[state.piece]
        place = sheet.to_piece(pointer.at)
        reach_mm = pointer.mm(HANDLE_REACH_PX)
        if distance_mm(place, state.handle) <= reach_mm:
            self._state = state.gripped(place, state.moving)
        elif self._near_piece(sheet, pointer, scene) or _near_line(state, place, reach_mm):
            self._state = state.gripped(place, state.moving if state.record else state.side_of(place))
        elif state.opening_mm == 0 and not state.record:
            self._state = Idle()
            self._begin(pointer, scene)

    def _near_piece(self, sheet: Sheet, pointer: Pointer, scene: Scene) -> bool:
        if sheet_at(scene, pointer.at) is sheet:
            return True
        outcome, _ = self.outcome(scene)
        ring = outcome.pattern.piece(sheet.name).outline if outcome else sheet.ring
        return distance_to_ring_mm(ring, sheet.to_piece(pointer.at)) <= pointer.mm(HANDLE_REACH_PX)

    def _toggle_end(self, state: Opening, pointer: Pointer, scene: Scene) -> None:
        """A click that moved nothing: on an end it makes the hinge, on the hinge it takes it away.

        Of a recorded slash it takes the cut in hand that it falls on.
        """
        place = scene.sheets[state.piece].to_piece(pointer.at)
        if state.record:
            on_handle = distance_mm(place, state.handle) <= pointer.mm(HANDLE_REACH_PX)
            there = state.place if on_handle else state.place_at(place, reach_mm=pointer.mm(REACH_PX))
            self._state = replace(state.with_in_hand(there), grip=None)
            return
        end = _end_near(state, place, pointer.mm(HANDLE_REACH_PX))
        if end is None:
            self._state = replace(state, grip=None)
        else:
            self._state = replace(state, grip=None, hinge=Hinge.NONE if state.hinge is end else end)

    def _opening_key(self, state: Opening, key: Key, scene: Scene) -> Reply | None:
        nudge = {"right": 1.0, "up": 1.0, "left": -1.0, "down": -1.0}.get(key.name)
        if nudge is not None:
            by_mm = nudge * (FAR_NUDGE_MM if key.shift else NUDGE_MM)
            self._state = replace(state, opening_mm=state.opening_mm + by_mm, grip=None)
        elif key.name == "enter":
            return self._commit(state, scene)
        elif state.record:
            return self._step_cut(state, key)
        elif key.name == "h":
            order = list(Hinge)
            self._state = replace(state, hinge=order[(order.index(state.hinge) + 1) % len(order)], grip=None)
        elif key.name == "s":
            self._state = replace(state, moving=Side.RIGHT if state.moving is Side.LEFT else Side.LEFT, grip=None)
        elif key.name == "a":
            self._state = Drawing(state.piece, beside=replace(state, grip=None))
        else:
            return None
        return Taken()

    def _step_cut(self, state: Opening, key: Key) -> Reply | None:
        """The next or previous cut of a recorded slash."""
        if key.name not in self.letters:
            return None
        self._state = state.beside(1 if key.name == "n" else -1)
        return Taken()

    def _commit(self, state: Opening, scene: Scene) -> Reply:
        outcome, _ = self.outcome(scene)
        if outcome is None or (state.opening_mm == 0 and not state.record):
            return Taken()
        return ChangeStep(state.record, state.step) if state.record else Propose(state.step)


def _near_line(state: Opening, place: tuple[float, float], reach_mm: float) -> bool:
    """Whether an end is near, or another cut that can be taken in hand."""
    return _end_near(state, place, reach_mm) is not None or state.place_at(place, reach_mm=reach_mm) != state.place


def _end_near(state: Opening, place: tuple[float, float], reach_mm: float) -> Hinge | None:
    start, end = state.line.ends
    gaps = ((distance_mm(place, start), Hinge.START), (distance_mm(place, end), Hinge.END))
    gap_mm, hinge = min(gaps, key=lambda row: row[0])
    return hinge if gap_mm <= reach_mm else None
